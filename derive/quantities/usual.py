"""What letters usually stand for, for as long as a working without declarations bears it out.

`v_max = μ g r` after `m v²/r = μ m g` fits no speed, though some dimensions of v would make it fit. Letters that have
been met in lines that fit are believed, and none any more once a line does not. Of a letter that has not been met, all
that it may stand for is tried: `F = m v` fits nothing that people call F, m and v.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import islice, product

from derive.notation.tree import Apply, Claim, Expr, Name, Num, Power, Quotient, Relation, Sum, Unit, names_in, walk
from derive.quantities.dimensions import Dimensions, Mismatch, is_a_value_with_unit, shifts_a_time
from derive.quantities.unit_table import dimension
from derive.records import Dimension, Symbol

_PLAIN, _MASS, _LENGTH, _TIME = dimension(), dimension(kg=1), dimension(m=1), dimension(s=1)
_SPEED, _ACCELERATION, _RATE = dimension(m=1, s=-1), dimension(m=1, s=-2), dimension(s=-1)
_FORCE, _ENERGY, _POWER = dimension(kg=1, m=1, s=-2), dimension(kg=1, m=2, s=-2), dimension(kg=1, m=2, s=-3)
_MOMENTUM, _PRESSURE = dimension(kg=1, m=1, s=-1), dimension(kg=1, m=-1, s=-2)
_SPIN, _INERTIA, _FLOW = dimension(kg=1, m=2, s=-1), dimension(kg=1, m=2), dimension(kg=1, s=-1)

# The first is what a letter is believed to be; the others are what it may be as well.
_KINDS: tuple[tuple[str, tuple[Dimension, ...]], ...] = (
    ("m", (_MASS,)),
    ("M", (_MASS, _ENERGY)),
    ("x y z s d", (_LENGTH,)),
    ("h", (_LENGTH, dimension(m=2, s=-1))),  # and what an orbit keeps
    ("l", (_LENGTH, _SPIN)),
    ("r", (_LENGTH, _FLOW)),
    ("R", (_LENGTH, _FORCE, _FLOW)),
    ("t", (_TIME,)),
    ("v", (_SPEED,)),
    ("u", (_SPEED, _LENGTH)),
    ("a", (_ACCELERATION, _LENGTH)),
    ("g", (_ACCELERATION,)),
    ("ω", (_RATE,)),
    ("F", (_FORCE,)),
    ("N", (_FORCE, _PLAIN)),
    ("θ φ", (_PLAIN,)),
    ("μ", (_PLAIN, _MASS, _FLOW, dimension(kg=1, m=-1), dimension(kg=1, m=-1, s=-1))),
)
# What is not believed of these before a working says so.
_OPEN_KINDS: tuple[tuple[str, tuple[Dimension, ...]], ...] = (
    ("T", (_FORCE, _TIME, _ENERGY)),
    ("E", (_ENERGY, _PRESSURE)),
    ("L", (_LENGTH, _SPIN, _ENERGY)),
    ("p", (_MOMENTUM, _PRESSURE, _LENGTH)),
    ("P", (_POWER, _FORCE, _PRESSURE, _MOMENTUM)),
    ("W", (_ENERGY, _FORCE)),
    ("I", (_INERTIA, _MOMENTUM)),
)
_POSSIBLE = {n: kinds for names, kinds in (*_KINDS, *_OPEN_KINDS) for n in names.split()}
# A formula with none of these may have its units chosen so that a constant is one: `y = x²`, `x'' = -x`.
_PHYSICAL = frozenset("mMgFE")
_MOST_WAYS = 96
# Typed for α and β; nobody means the sine of a length by `sin x` beside a mass.
_LETTERS_OF_ANGLES = frozenset("abAB")
# A larger number in a line may hide a unit.
_FORMULA_NUMBER = 12


def could_be(name: str, kind: Dimension) -> bool:
    """May a name stand for this kind of quantity, as its letter is used? Of letters used for anything: yes."""
    kinds = _POSSIBLE.get(name.partition("_")[0].rstrip("'"))
    return kinds is None or kind in kinds


def is_usual(name: str, kind: Dimension) -> bool:
    """Does the letter of a name usually stand for this kind of quantity?"""
    return kind in _POSSIBLE.get(name.partition("_")[0].rstrip("'"), ())


def impossible_unit(claim: Claim | None, known: Dimensions) -> Mismatch | None:
    """`a = 2.45 m/s³`, worked out from plain numbers: a unit of nothing that the letter stands for."""
    if not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name) or claim.signs[-1] not in ("=", "≈"):
        return None
    if known.of(claim.sides[0]) not in (None, _PLAIN):
        return None  # `t = V/A = 3 mm` of how thick something is
    value, kinds = claim.sides[-1], _POSSIBLE.get(claim.sides[0].ident.partition("_")[0])
    found = Dimensions(declared=False).of(value) if kinds and is_a_value_with_unit(value) else None
    return Mismatch(value, "term", found, kinds[0]) if kinds and found is not None and found not in kinds else None


def holds_values(claim: Claim) -> bool:
    """`F = 3 a`, `P = 500 v`: no plain number makes the one of the other, so that it is the value of something."""
    stems = sorted(_stems(claim))
    if not isinstance(claim, Relation) or claim.signs != ("=",) or len(stems) != 2 or not _POSSIBLE.keys() >= {*stems}:
        return False
    if not any(isinstance(n, Num) and n.value != 1 for n in walk(claim)) or any(
            isinstance(n, Unit | Sum) for n in walk(claim)):
        return False
    return not any(
        Dimensions([Symbol(n, dimension=d) for n, d in zip(stems, kinds, strict=True)], declared=False)
        .examine_strictly(claim) is None for kinds in product(*(_POSSIBLE[n] for n in stems)))


class UsualDimensions:
    """What is believed of the letters of one working. Only `adopt` changes it."""

    def __init__(self) -> None:
        self._dimensions = Dimensions(
            [Symbol(n, dimension=kinds[0]) for names, kinds in _KINDS for n in names.split()], declared=False)
        self._met: frozenset[str] = frozenset()
        self._claims: tuple[Claim, ...] = ()
        self._believed = True

    def copy(self) -> UsualDimensions:
        other = UsualDimensions()
        other._dimensions, other._met, other._believed = self._dimensions.copy(), self._met, self._believed
        other._claims = self._claims
        return other

    def renew(self, name: str) -> None:
        """From here on a name stands for something else."""
        self._dimensions.renew(name)

    def adopt(self, claim: Claim) -> None:
        """Take an accepted line into account: it bears out what its letters stand for, or ends all belief in it."""
        self._believed = self._believed and is_formula(claim) and (
            self._dimensions.examine_strictly(claim) is None or self._means_another(claim))
        if self._believed:
            self._dimensions.adopt(claim)
            self._met |= _stems(claim)
            self._claims = (*self._claims, claim)

    def _means_another(self, claim: Claim) -> bool:
        """Does a claim fit once one letter not met before stands for another thing that it may be: μ for the mass that
        a second takes, in `dm/dt = -μ`? Then that is believed of it."""
        for stem in sorted(_stems(claim) - self._met):
            for kind in _POSSIBLE.get(stem, ())[1:]:
                other = self._dimensions.copy()
                other.declare(Symbol(stem, dimension=kind))
                if other.examine_strictly(claim) is None:
                    self._dimensions = other
                    return True
        return False

    def misfit(self, claim: Claim) -> Mismatch | None:
        """What does not fit in a formula, as far as its letters can only mean what they usually do."""
        if not (self._believed and is_formula(claim)) or self._scales(claim) or _by_numbers(claim) or any(
                map(shifts_a_time, walk(claim))):
            return None
        stems = _stems(claim)
        if stems <= self._met:
            found = self._dimensions.examine_strictly(claim)
            return None if found is not None and self._fits_otherwise(claim) else found
        if not (stems <= _POSSIBLE.keys() and stems & _PHYSICAL and _tells(claim)):
            return None
        found = None
        for way in islice(self._ways(stems, _angles(claim)), _MOST_WAYS):
            mismatch = way.examine_strictly(claim)
            if mismatch is None:
                return None
            found = found or mismatch
        return None if self._fits_otherwise(claim) else found

    def _fits_otherwise(self, claim: Claim) -> bool:
        """Does all that has been said fit, and this, where letters stand for other things that they may be: a for how
        far along a beam, M for a moment, where nothing yet has told? Then that is believed of them."""
        claims = (*self._claims, claim)
        names = sorted(n for n in frozenset().union(*map(_stems, claims)) if len(_POSSIBLE.get(n, ())) > 1)
        for choice in islice(product(*(_POSSIBLE[n] for n in names)), _MOST_WAYS):
            way = UsualDimensions()._dimensions
            for n, d in zip(names, choice, strict=True):
                way.declare(Symbol(n, dimension=d))
            if all(self._fits_in(way, c) for c in claims):
                self._dimensions = way
                return True
        return False

    @staticmethod
    def _fits_in(way: Dimensions, claim: Claim) -> bool:
        fits = way.examine_strictly(claim) is None
        if fits:
            way.adopt(claim)
        return fits

    def _ways(self, stems: frozenset[str], angles: frozenset[str]) -> Iterator[Dimensions]:
        """All that letters may stand for together, where those that have been met stand for what they do."""
        names = sorted(stems)
        kinds = [(_PLAIN,) if n in angles - self._met else self._kinds(n) for n in names]
        for choice in product(*kinds):
            yield Dimensions([Symbol(n, dimension=d) for n, d in zip(names, choice, strict=True)], declared=False)

    def _kinds(self, stem: str) -> tuple[Dimension, ...]:
        found = self._dimensions.of(Name(stem)) if stem in self._met else None
        return _POSSIBLE[stem] if found is None else (found,)

    def _scales(self, claim: Claim) -> bool:
        """`y_1 = y/h`: a name for a quantity in some unit of its own, which is a plain number."""
        if not isinstance(claim, Relation) or len(claim.sides) != 2 or not isinstance(claim.sides[0], Name):
            return False
        stem = claim.sides[0].ident.partition("_")[0]
        return stem in names_in(claim.sides[1]) and self._dimensions.of(claim.sides[1]) == _PLAIN


def _stems(claim: Claim) -> frozenset[str]:
    return frozenset(n.partition("_")[0] for n in names_in(claim))


def _angles(claim: Claim) -> frozenset[str]:
    """Letters that can only be angles, whatever else they mostly are: a in `N = m g cos a`."""
    found = [n.arg for n in walk(claim) if isinstance(n, Apply) and n.function in ("sin", "cos", "tan")]
    return frozenset(a.ident for a in found if isinstance(a, Name) and a.ident in _LETTERS_OF_ANGLES)


def is_formula(claim: Claim) -> bool:
    """Are the numbers of a claim only those that formulas have, none of them a value without its unit?"""
    sides = claim.sides if isinstance(claim, Relation) else ()
    if any(not names_in(side) and _is_bare_value(side) for side in sides):
        return False
    numbers = [n for n in walk(claim) if isinstance(n, Num)]
    return all(n.last_digit is None and abs(n.value) <= _FORMULA_NUMBER for n in numbers)


def _is_bare_value(side: Expr) -> bool:
    nodes = list(walk(side))
    return any(isinstance(n, Num) and n.value for n in nodes) and not any(isinstance(n, Unit) for n in nodes)


def _by_numbers(claim: Claim) -> bool:
    """`v = 3 t² + 2 t`: a side of numbers and one quantity, where the numbers have the units that are wanted."""
    sides = claim.sides if isinstance(claim, Relation) else ()
    return any(len(set(names_in(s))) == 1 and not _tells(s) for s in sides)


def _tells(claim: Claim | Expr) -> bool:
    """Can no number of a claim be a quantity without its unit? Powers are none, nor is a half."""
    plain = {id(n.exponent) for n in walk(claim) if isinstance(n, Power)}
    for n in walk(claim):
        if isinstance(n, Quotient) and (n.num, n.den) == (Num(Fraction(1)), Num(Fraction(2))):
            plain |= {id(n.num), id(n.den)}
    return all(id(n) in plain or n.value == Fraction(1, 2) for n in walk(claim) if isinstance(n, Num))
