"""Values of everyday size for the quantities of a working, and the units a reader knows them in.

For showing a state only: which values to propose, which of several states is the easiest to take in, and in
what unit a side is told. Whether a state satisfies anything is not asked here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from derive.notation.tree import Unit, walk
from derive.quantities.dimension_words import usual_unit
from derive.quantities.unit_table import dimension
from derive.records import Dimension, Symbol
from derive.terms.functions import Array
from derive.terms.prior import Prior
from derive.terms.term import Term, Var, postorder, variables
from derive.terms.world import TIME, World

TRIES = 24
_ROUND = (2.0, 3.0, 5.0, 4.0, 1.5, 6.0, 2.5, 8.0, 1.0)
# Factors by which a value strays from the usual one in later tries; the first few leave it as it is.
_AROUND = (1.0, 1.0, 1.0, 1.5, 0.5, 2.0, 0.8, 1.2)
_TURNS = (30.0, 40.0, 20.0, 60.0, 10.0, 50.0, 70.0, 15.0)
_SHARES = (0.3, 0.2, 0.4, 0.5, 0.25, 0.6, 0.7, 0.15)
_DEGREES = ("°", "deg", "degree", "degrees")
_RADIANS = ("rad", *_DEGREES)
_TURNING = "N m"
_OF_ANGLES = ("sin", "cos", "tan")
_SMALL = 0.5  # the largest value proposed for what is said to be small
_GRAVITY, _ATTRACTION = 9.81, 6.67e-11
# What a reader expects of letters that nobody has declared: round, and not far from what it is.
_BY_LETTER = {"g": 10.0, "μ": 0.5}
_CLOSE = 0.04
# A number in a formula (½, 2, 12) may stand in a term whose unit is told; any other may hide a unit of its own.
_FORMULA_NUMBER = 12

PLAIN = dimension()
# A reader would stumble over another value of these, however round.
_OF_NATURE: dict[tuple[str, Dimension | None], float] = {
    ("g", dimension(m=1, s=-2)): _GRAVITY,
    ("G", dimension(kg=-1, m=3, s=-2)): _ATTRACTION,
}
_NAMES_OF_NATURE = frozenset(name for name, _ in _OF_NATURE)
_FORCE = dimension(kg=1, m=1, s=-2)


@dataclass(frozen=True, slots=True)
class Measure:
    """A unit as it is told, and the SI value of one of it."""

    unit: str = ""
    scale: float = 1.0


# --- units ------------------------------------------------------------------------------------------------


def measure_of(v: Var, world: World) -> Measure:
    """The unit that an unknown is told in: its own as declared, for a derivative the usual one."""
    symbol = world.symbols.get(v.name) or world.symbols.get(v.name.rpartition("_")[0])
    if symbol is None and v.name == TIME and any(s.dimension is not None for s in world.symbols.values()):
        return Measure("s")
    if symbol is None or v.role != "value":
        return Measure()
    if not v.order:
        if _in_degrees(symbol):
            return Measure("°", math.pi / 180)
        return Measure(symbol.unit, float(symbol.scale) or 1.0)
    found = _dimension_of_var(v, world)
    if found is None:
        return Measure()
    unit = _TURNING if usual_unit(found) == "J" else usual_unit(found)  # what changes at such a rate is no energy
    return Measure(unit.replace("1/", "rad/") if symbol.unit.strip() in _RADIANS else unit)


def measure_of_sides(left: Term, right: Term, world: World) -> Measure:
    """The unit for both sides: that of a side which is one quantity, else the usual one of their dimension.

    None is told where the sides do not agree, or where numbers stand in them that may hide units.
    """
    for side in (left, right):
        if side.op == "var" and isinstance(side.value, Var):
            return measure_of(side.value, world)
    found = [d for d in (dimension_of(left, world), dimension_of(right, world)) if d is not None]
    if not found or any(d != found[0] for d in found):
        return Measure()
    unit = usual_unit(found[0])
    return Measure(_TURNING if unit == "J" and _of_moments(left, right, world) else unit)


def _of_moments(left: Term, right: Term, world: World) -> bool:
    """Is it moments that are compared, and not energies: forces at arms, where nothing is said to be an energy?"""
    symbols = [s for v in variables(left, right) if v.role == "value" and (s := world.symbols.get(v.name)) is not None]
    turning = any(s.unit.strip().replace("·", " ") == _TURNING for s in symbols)
    forces = any(s.dimension == _FORCE for s in symbols)
    return turning or (forces and not any("J" in s.unit for s in world.symbols.values()))


def dimension_of(root: Term, world: World) -> Dimension | None:
    """The dimension of a term as far as declarations and the form of the term tell."""
    done: dict[int, Dimension | None] = {}
    for t in postorder(root):
        done[id(t)] = _dimension_of_node(t, [done[id(a)] for a in t.args], world)
    return done[id(root)]


def _dimension_of_node(t: Term, parts: list[Dimension | None], world: World) -> Dimension | None:
    if t.op == "num":
        value = t.value
        assert isinstance(value, Fraction)
        return PLAIN if max(abs(value.numerator), value.denominator) <= _FORMULA_NUMBER and value else None
    if t.op == "var":
        assert isinstance(t.value, Var)
        return _dimension_of_var(t.value, world)
    if t.op == "add":
        known = {d for d in parts if d is not None}
        return known.pop() if len(known) == 1 else None
    if t.op == "mul":
        return _product(parts)
    if t.op == "pow":
        exponent = t.args[1]
        return _raised(parts[0], exponent.value) if exponent.op == "num" else PLAIN
    if t.op == "int":
        assert isinstance(t.value, Var)
        return _product([parts[0], _dimension_of_var(t.value, world)])
    return parts[0] if t.value == "abs" else PLAIN


def _dimension_of_var(v: Var, world: World) -> Dimension | None:
    symbol = world.symbols.get(v.name) or world.symbols.get(v.name.rpartition("_")[0])  # `w_y` of a vector w
    if symbol is None or symbol.dimension is None:
        return dimension(s=1) if v.name == TIME else None
    if not v.order:
        return symbol.dimension
    by = world.symbols.get(v.wrt)
    below = dimension(s=1) if v.wrt == TIME else by.dimension if by is not None else None
    return _product([symbol.dimension, _raised(below, Fraction(-v.order))])


def _product(parts: list[Dimension | None]) -> Dimension | None:
    known = [d for d in parts if d is not None]
    if len(known) < len(parts):
        return None
    return Dimension(tuple(sum(powers, Fraction(0)) for powers in zip(*(d.powers for d in known), strict=True)))


def _raised(part: Dimension | None, exponent: Fraction) -> Dimension | None:
    return None if part is None else Dimension(tuple(p * exponent for p in part.powers))


def _in_degrees(symbol: Symbol) -> bool:
    """Was the angle given in degrees: by its unit, a bound or a value that is whole in them?"""
    unit = symbol.unit.strip()
    if unit != "rad":
        return unit in _DEGREES
    if any(isinstance(n, Unit) and n.ident in _DEGREES for bound in symbol.bounds for n in walk(bound)):
        return True
    if symbol.typical is None:
        return False
    in_degrees, in_radians = _figures(np.array([math.degrees(symbol.typical), symbol.typical]))
    return bool(in_degrees < 4 <= in_radians)


# --- values ---------------------------------------------------------------------------------------------


def is_of_nature(v: Var) -> bool:
    """The pull of the earth and the constant of gravitation are never what a state is solved for, if it can be."""
    return v.name in _NAMES_OF_NATURE and not v.order


def usual_value(v: Var, world: World) -> float | None:
    """The value that a quantity has in its scenario, in SI units, where the exercise or common sense gives one."""
    symbol = world.symbols.get(v.name)
    if v.order or v.at or v.role != "value":
        return None
    if symbol is None or not symbol.declared:
        stem = v.name.partition("_")[0]
        return None if world.is_changing(v) or any(s.declared for s in world.symbols.values()) else _BY_LETTER.get(stem)
    if symbol.typical is None:
        return _OF_NATURE.get((symbol.name, symbol.dimension))
    return symbol.typical


def _usual_scale(v: Var, world: World) -> float:
    """What the values of a quantity are told in, or somewhat less than what another of its kind usually is: a
    stretch x beside an amplitude of about 0.1 m."""
    symbol = world.symbols.get(v.name)
    if symbol is not None and not v.order and symbol.dimension not in (None, PLAIN):
        for other in world.symbols.values():
            if other.dimension == symbol.dimension and other.typical:
                return float(10.0 ** (math.floor(math.log10(abs(other.typical))) - 1))
    return measure_of(v, world).scale


def turned(*terms: Term) -> frozenset[Var]:
    """The unknowns whose sine, cosine or tangent is taken, or that of a multiple: angles, declared or not."""
    of = [t.args[0] for root in terms for t in postorder(root) if t.op == "fun" and t.value in _OF_ANGLES]
    whole = [t.args[1] if t.op == "mul" and len(t.args) == 2 and t.args[0].op == "num" else t for t in of]
    return frozenset(t.value for t in whole if t.op == "var" and isinstance(t.value, Var))


def proposals(
    v: Var, place: int, prior: Prior, world: World, small: bool = False, angle: bool = False
) -> Array:
    """Values to try for an unknown, round and of everyday size; unlike those of the unknowns beside it."""
    any_size = not prior.complex and prior.lower in (0.0, -math.inf) and prior.upper == math.inf
    if (small or angle) and any_size and usual_value(v, world) is None:
        prior = Prior(0.0, _SMALL if small else math.pi / 2)
    tries = np.arange(TRIES)
    scale = measure_of(v, world).scale
    usual = usual_value(v, world)
    if prior.complex:
        picks = np.array(_ROUND)[(place + tries) % len(_ROUND)]
        return picks + 1j * np.array(_ROUND)[(place + 2 * tries + 1) % len(_ROUND)]
    if usual is not None and v.name in _NAMES_OF_NATURE:
        return np.full(TRIES, usual)
    if usual is not None and prior.lower < usual < prior.upper:
        strayed = usual * np.array(_AROUND)[(tries * (1 + place % 3)) % len(_AROUND)]
        return np.where((strayed > prior.lower) & (strayed < prior.upper), strayed, usual)
    if np.isfinite(prior.lower) and np.isfinite(prior.upper):
        return _between(prior, scale, [(k + place) % len(_SHARES) for k in range(TRIES)])
    picks = _usual_scale(v, world) * np.array(_ROUND)[(place + tries * (1 + place % 3)) % len(_ROUND)]
    if np.isfinite(prior.lower):
        return prior.lower + picks
    return prior.upper - picks if np.isfinite(prior.upper) else picks


def _between(prior: Prior, scale: float, which: list[int]) -> Array:
    turns: Array = np.radians(np.array(_TURNS))[which]
    if scale != 1.0 and np.all((turns > prior.lower) & (turns < prior.upper)):
        return turns
    values = prior.lower + (prior.upper - prior.lower) * np.array(_SHARES)[which]
    short = np.array([float(f"{x:.1g}") for x in values])
    inside: Array = np.where((short > prior.lower) & (short < prior.upper), short, values)
    return inside


def rounded(values: Array, v: Var, world: World) -> Array:
    """Values to two figures in the unit that they are told in; the usual value where they are close to it."""
    usual = usual_value(v, world)
    scale = measure_of(v, world).scale
    if np.iscomplexobj(values):
        return values
    short = scale * np.array([float(f"{x:.1e}") if np.isfinite(x) else x for x in np.real(values) / scale])
    return short if usual is None else np.where(np.abs(values - usual) < _CLOSE * abs(usual), usual, short)


def awkwardness(values: Mapping[Var, Array], own: tuple[Var, ...], world: World, count: int) -> Array:
    """How hard each of some states is to take in: long numbers, values far from the usual ones, quantities that vanish.

    What the line itself speaks of weighs the most.
    """
    score = np.zeros(count)
    with np.errstate(all="ignore"):
        for v, a in values.items():
            score += (1.0 if v in own else 0.25) * _awkward(np.broadcast_to(a, count), v, world)
    return np.where(np.isnan(score), math.inf, score)


def _awkward(a: Array, v: Var, world: World) -> Array:
    scale, wonted = measure_of(v, world).scale, usual_value(v, world)
    common = _usual_scale(v, world)
    usual = abs(wonted or 2.0 * common)
    size = np.abs(a)
    away = np.abs(np.log10(size / usual))
    # Of a quantity without a usual value nobody knows the size; it only should not be far-fetched.
    far = 3.0 * away if wonted is not None else 0.5 * np.maximum(0.0, away - 1.0)
    # Negative values puzzle: a mass may be meant of which nobody has said that it is positive.
    score = np.minimum(_figures(size / scale), 4) - 1 + np.where(np.real(a) < 0, 3.0, 0.0) + far
    as_usual = np.abs(a - (wonted or 2.0 * common)) <= 1e-9 * usual
    found = np.where(size < 1e-9 * usual, 3.0, np.where(as_usual, 0.0, score))
    return np.where(np.isfinite(size), found, math.inf)


def _figures(values: Array) -> Array:
    """How many figures it takes to write each value: 1 for 40, 2 for 0.25, many for a third."""
    size = np.where(np.isfinite(values) & (values > 0), values, 1.0)
    digits = size / 10.0 ** np.floor(np.log10(size))
    found = np.full(np.shape(size), 7)
    for n in range(6, 0, -1):
        short = np.round(digits, n - 1)
        found = np.where(np.abs(short - digits) <= 1e-6 * digits, n, found)
    return found
