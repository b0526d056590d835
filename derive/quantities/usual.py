"""What letters usually stand for, for as long as a working without declarations bears it out.

`v_max = μ g r` after `m v²/r = μ m g` fits no speed, though some dimensions of v would make it fit. Only letters that
have been met in lines that fit are believed, and none any more once a line does not.
"""

from __future__ import annotations

from derive.notation.tree import Claim, Num, names_in, walk
from derive.quantities.dimensions import Dimensions, Mismatch
from derive.quantities.unit_table import dimension
from derive.records import Dimension, Symbol

_KINDS: tuple[tuple[str, Dimension], ...] = (
    ("m M", dimension(kg=1)),
    ("x y s h r R d l", dimension(m=1)),
    ("t", dimension(s=1)),
    ("v u", dimension(m=1, s=-1)),
    ("a g", dimension(m=1, s=-2)),
    ("ω", dimension(s=-1)),
    ("F N", dimension(kg=1, m=1, s=-2)),
    ("θ φ μ", dimension()),
)
# A larger number in a line may hide a unit.
_FORMULA_NUMBER = 12


class UsualDimensions:
    """What is believed of the letters of one working. Only `adopt` changes it."""

    def __init__(self) -> None:
        symbols = (Symbol(n, dimension=d) for names, d in _KINDS for n in names.split())
        self._dimensions = Dimensions(symbols, declared=False)
        self._met: frozenset[str] = frozenset()
        self._believed = True

    def copy(self) -> UsualDimensions:
        other = UsualDimensions()
        other._dimensions, other._met, other._believed = self._dimensions.copy(), self._met, self._believed
        return other

    def adopt(self, claim: Claim) -> None:
        """Take an accepted line into account: it bears out what its letters stand for, or ends all belief in it."""
        self._believed = self._believed and _formula(claim) and self._dimensions.examine_strictly(claim) is None
        if self._believed:
            self._dimensions.adopt(claim)
            self._met |= _stems(claim)

    def misfit(self, claim: Claim) -> Mismatch | None:
        """What does not fit in a formula between letters that earlier lines have borne out."""
        if not (self._believed and _formula(claim) and _stems(claim) <= self._met):
            return None
        return self._dimensions.examine_strictly(claim)


def _stems(claim: Claim) -> frozenset[str]:
    return frozenset(n.partition("_")[0] for n in names_in(claim))


def _formula(claim: Claim) -> bool:
    """Are the numbers of a claim only those that formulas have?"""
    numbers = [n for n in walk(claim) if isinstance(n, Num)]
    return all(n.last_digit is None and abs(n.value) <= _FORMULA_NUMBER for n in numbers)
