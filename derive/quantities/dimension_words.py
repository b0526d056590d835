"""A dimension in words that a student knows: `a force (N)`, and the unit a value is shown in.

For showing only; nothing is decided here.
"""

from __future__ import annotations

from derive.notation.printed.printing import RAISED
from derive.quantities.unit_table import dimension
from derive.records import Dimension

_BASE = ("kg", "m", "s", "A", "K", "mol", "cd")

# What the dimension is of, and the unit it is usually given in where that is not the base units'.
_KNOWN: dict[Dimension, tuple[str, str]] = {
    dimension(): ("a plain number", ""),
    dimension(m=1): ("a length", "m"),
    dimension(m=2): ("an area", "m²"),
    dimension(m=3): ("a volume", "m³"),
    dimension(m=-1): ("one over a length", "1/m"),
    dimension(s=1): ("a time", "s"),
    dimension(s=2): ("a time squared", "s²"),
    dimension(s=-1): ("a frequency or an angular velocity", "1/s"),
    dimension(s=-2): ("an angular acceleration or a frequency squared", "1/s²"),
    dimension(m=1, s=-1): ("a speed", "m/s"),
    dimension(m=2, s=-2): ("a speed squared", "m²/s²"),
    dimension(m=1, s=-2): ("an acceleration", "m/s²"),
    dimension(m=3, s=-1): ("a flow of volume", "m³/s"),
    dimension(kg=1): ("a mass", "kg"),
    dimension(kg=1, m=-1): ("a mass per length", "kg/m"),
    dimension(kg=1, m=-2): ("a mass per area", "kg/m²"),
    dimension(kg=1, m=-3): ("a density", "kg/m³"),
    dimension(kg=1, s=-1): ("a mass per time or a damping", "kg/s"),
    dimension(kg=1, s=-2): ("a stiffness", "N/m"),
    dimension(kg=1, m=1): ("a mass times a length", "kg m"),
    dimension(kg=1, m=2): ("a moment of inertia", "kg m²"),
    dimension(kg=1, m=1, s=-1): ("a momentum", "kg m/s"),
    dimension(kg=1, m=2, s=-1): ("an angular momentum", "kg m²/s"),
    dimension(kg=1, m=1, s=-2): ("a force", "N"),
    dimension(kg=1, m=2, s=-2): ("an energy or a moment of force", "J"),
    dimension(kg=1, m=2, s=-3): ("a power", "W"),
    dimension(kg=1, m=-1, s=-2): ("a pressure", "Pa"),
    dimension(kg=1, m=-1, s=-1): ("a viscosity", "Pa s"),
    dimension(kg=-1, m=3, s=-2): ("like the constant of gravitation", "N m²/kg²"),
    dimension(k=1): ("a temperature", "K"),
    dimension(s=1, a=1): ("an electric charge", "C"),
    dimension(a=1): ("an electric current", "A"),
    dimension(1, 2, -3, a=-1): ("an electric voltage", "V"),
    dimension(mol=1): ("an amount of substance", "mol"),
}


def base_units(found: Dimension) -> str:
    """`kg m s⁻²`; '' for a plain number."""
    return " ".join(
        name if power == 1 else name + str(power).translate(RAISED) if power.denominator == 1 else f"{name}^({power})"
        for name, power in zip(_BASE, found.powers, strict=True)
        if power
    )


def in_words(found: Dimension) -> str:
    """`a force (N)`, `a plain number`, and the base units alone where there is no common word."""
    words, usual = _KNOWN.get(found, ("", ""))
    return f"{words} ({usual})" if usual else words or base_units(found)


def has_a_word(found: Dimension) -> bool:
    """Is it the dimension of something that mechanics has a word for?"""
    return found in _KNOWN


def usual_unit(found: Dimension) -> str:
    """The SI unit that a value of this dimension is shown in: `N`, `m/s²`; '' for a plain number."""
    return _KNOWN[found][1] if found in _KNOWN else base_units(found)
