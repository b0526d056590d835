"""What would a piece of an equation have to be? Found by undoing, from the other side inwards, what stands around it.

With the values a piece would need at some states in hand, what is missing from it can be looked for among the
terms of the lines above by comparing numbers, far more cheaply than by trying every term in turn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from derive.diagnosis.pieces import over, plain, power, product, quotient, scaled, times
from derive.diagnosis.sites import Site
from derive.notation.tree import Apply, Expr, Neg, Power, Product, Quotient, Relation, Sum

Values = NDArray[np.complex128]
Measure = Callable[[Expr], Values | None]

# States agree to ten figures; what a slip leaves out is a term with a small number in front.
AGREE = 1e-7
SMALL = tuple(Fraction(n, d) for n, d in ((1, 1), (2, 1), (1, 2), (3, 1), (1, 3), (4, 1), (1, 4), (3, 2), (2, 3)))
MOST_STATES = 16


@dataclass(frozen=True, slots=True)
class Stock:
    """Terms and factors in reach with their values at the states, for looking up what is missing; `atoms` are what
    a term can be a product of."""

    measure: Measure
    terms: tuple[tuple[Expr, Values], ...] = ()
    factors: tuple[tuple[Expr, Values], ...] = ()
    atoms: tuple[tuple[Expr, Values], ...] = ()

    def missing(self, site: Site) -> Iterator[tuple[Expr, float]]:
        """What, added to the piece at a site, would make the equation hold, with how far-fetched it is."""
        should, is_now = needed(site, self.measure), self.measure(site.node)
        if should is None or is_now is None or not self.terms:
            return
        with np.errstate(all="ignore"):
            gap = should - is_now
            for rank, (term, values) in enumerate(self.terms):
                if _constant(values / should) or _constant(values / is_now):
                    continue  # a number too many or too few, and no term of its own
                far = min(0.02 * rank, 0.3)
                if (number := _small_ratio(gap, values)) is not None:
                    yield _with_number(term, number), far + (0.0 if abs(number) == 1 else 0.2)
                for f, by in self.factors:
                    if (number := _small_ratio(gap, values / by)) is not None:
                        yield _with_number(over(term, f), number), far + (0.2 if abs(number) == 1 else 0.8)
                    if (number := _small_ratio(gap, values * by)) is not None:
                        yield _with_number(times(term, f), number), far + (0.3 if abs(number) == 1 else 0.8)

    def made_of_atoms(self, site: Site) -> Expr | None:
        """A product of quantities in reach, each to a small power, that the piece at a site lacks: found from the
        logarithms of its values, which are those of the quantities times their powers."""
        should, is_now = needed(site, self.measure), self.measure(site.node)
        if should is None or is_now is None or not self.atoms:
            return None
        with np.errstate(all="ignore"):
            gap = should - is_now
            if _constant(gap / should) is not None or _constant(gap / is_now) is not None:
                return None
            powers = _powers([values for _, values in self.atoms], gap)
            if powers is None:
                return None
            found = [(f, values, p) for (f, values), p in zip(self.atoms, powers, strict=True) if p]
            number = _small_ratio(gap, np.prod([values**p for _, values, p in found], axis=0))
        above = product([power(f, p) for f, _, p in found if p > 0])
        below = product([power(f, -p) for f, _, p in found if p < 0])
        return None if number is None else _with_number(quotient(above, below), number)

    def forgotten(self, site: Site) -> list[tuple[Expr, bool, int]] | None:
        """Factors by which the piece at a site is off: the factor, whether it is missing (or too much), its rank.

        None where what the piece would need is not known.
        """
        should, is_now = needed(site, self.measure), self.measure(site.node)
        if should is None or is_now is None:
            return None
        with np.errstate(all="ignore"):
            ratio = should / is_now
            missing = [abs(_constant(ratio / by) or 0) for _, by in self.factors]
            too_much = [abs(_constant(ratio * by) or 0) for _, by in self.factors]
        return [
            (f, given is missing, rank)
            for given in (missing, too_much) for rank, (f, _) in enumerate(self.factors) if _is_one(given[rank])
        ]

    def is_zero(self, piece: Expr) -> bool:
        """Is a piece nothing in every state, so that nothing can be said with it?"""
        values = self.measure(piece)
        return values is not None and not np.any(values)

    def factor(self, site: Site, has: Fraction) -> Fraction | None:
        """The plain number by which the piece at a site, which `has` a number in front, is off; where that number, or
        the one it should have in its place, is one that people write."""
        should, is_now = needed(site, self.measure), self.measure(site.node)
        if should is None or is_now is None:
            return None
        with np.errstate(all="ignore"):
            ratio = _constant(should / is_now)
        if ratio is None:
            return None
        for near in (_everyday(ratio), _everyday(ratio * float(has))):
            if near is not None:
                return near if abs(float(near) - ratio) <= AGREE * abs(ratio) else near / has
        return None


def remembering(measure: Measure) -> Measure:
    """The same measure, asked once for each piece; the same few pieces stand around every site of a line."""
    known: dict[Expr, Values | None] = {}

    def measured(piece: Expr) -> Values | None:
        if piece not in known:
            known[piece] = measure(piece)
        return known[piece]

    return measured


def same_values(one: Expr, other: Expr, measure: Measure) -> bool:
    """Do two pieces come to the same in every state?"""
    values = measure(one), measure(other)
    if values[0] is None or values[1] is None:
        return False
    with np.errstate(all="ignore"):
        return _is_one(_constant(values[0] / values[1]) or 0)


def _is_one(value: float) -> bool:
    return abs(value - 1) <= AGREE


def _constant(ratios: Values) -> float | None:
    """The one real value that all the ratios have, or None. Nothing over nothing may be anything."""
    known = ratios[~np.isnan(ratios)][:MOST_STATES]
    if known.size < 4 or not np.all(np.isfinite(known)):
        return None
    middle = complex(known[0])
    if abs(middle.imag) > AGREE * abs(middle) or np.any(np.abs(known - middle) > AGREE * abs(middle)):
        return None
    return middle.real


def _small_ratio(gap: Values, values: Values) -> Fraction | None:
    ratio = _constant(gap / values)
    if ratio is None or ratio == 0:
        return None
    return next((n if ratio > 0 else -n for n in SMALL if abs(abs(ratio) - float(n)) <= AGREE * float(n)), None)


HIGHEST_POWER, MOST_ATOMS_TOLD = 3, 5


def _powers(atoms: Sequence[Values], gap: Values) -> list[int] | None:
    """The whole powers of the atoms whose product goes with the gap; None where there are none, or several."""
    if gap.size < len(atoms) + 3:
        return None
    rows = np.log(np.abs(np.array([*atoms, gap])))
    if not np.all(np.isfinite(rows)):
        return None
    free = [np.ones(gap.size)]
    kept: list[int] = []
    for place, row in enumerate(rows[:-1]):  # what goes with the others before it is no atom of its own
        if np.linalg.matrix_rank(np.array([*free, row]), tol=1e-6) > len(free):
            free.append(row)
            kept.append(place)
    found = np.linalg.lstsq(np.array(free).T, rows[-1], rcond=None)[0][1:]
    rest = np.array(free[1:]).T @ found - rows[-1]
    if np.any(np.abs(found - np.round(found)) > 1e-6) or np.ptp(rest) > 1e-6:
        return None
    powers = [0] * len(atoms)
    for place, p in zip(kept, found, strict=True):
        powers[place] = round(p)
    told = [p for p in powers if p]
    return powers if 0 < len(told) <= MOST_ATOMS_TOLD and max(map(abs, told)) <= HIGHEST_POWER else None


def _everyday(value: float) -> Fraction | None:
    near = Fraction(value).limit_denominator(24)
    return near if near and abs(float(near) - value) <= AGREE * abs(value) and abs(near.numerator) <= 24 else None


def _with_number(term: Expr, number: Fraction) -> Expr:
    made = term if abs(number) == 1 else scaled(term, abs(number))
    return Neg(made) if number < 0 else made


def needed(site: Site, measure: Measure) -> Values | None:
    """The values the piece at a site would need for its equation to hold, all else staying as it is."""
    depth = next((i for i, p in enumerate(site.parents) if isinstance(p, Relation)), None)
    if depth is None or depth + 1 > len(site.path):
        return None
    relation, place = site.parents[depth], site.path[depth][1]
    other = place - 1 if place else 1
    if set(relation.signs) != {"="} or other >= len(relation.sides):
        return None
    target = measure(relation.sides[other])
    chain = (*site.parents[depth + 1 :], site.node)
    for parent, child, step in zip(chain, chain[1:], site.path[depth + 1 :], strict=False):
        if target is None:
            return None
        with np.errstate(all="ignore"):
            target = _undone(parent, child, step, target, measure)
    return target


def _undone(parent: Expr, child: Expr, step: tuple[str, int], target: Values, measure: Measure) -> Values | None:
    """The value one part of a piece needs for the whole piece to have the target value."""
    match parent:
        case Neg():
            return -target
        case Sum(parts) | Product(parts):
            return _less_the_others(parent, parts, step[1], target, measure)
        case Quotient(num, den):
            beside = measure(den if step[0] == "num" else num)
            if beside is None:
                return None
            return target * beside if step[0] == "num" else beside / target
        case Apply("sqrt", _):
            return target * target
        case Power(_, exponent) if step[0] == "base" and (e := plain(exponent)):
            root, now = target ** (1 / float(e)), measure(child)
            # Of two roots the one with the sign that the base has.
            return root if now is None else np.where(now.real < 0, -root, root)
    return None


def _less_the_others(
    parent: Expr, parts: tuple[Expr, ...], place: int, target: Values, measure: Measure,
) -> Values | None:
    for i, other in enumerate(parts):
        if i == place:
            continue
        value = measure(other)
        if value is None:
            return None
        target = target - value if isinstance(parent, Sum) else target / value
    return target
