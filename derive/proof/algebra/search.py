"""The search for a proof: eliminating one quantity after another, each move kept as an identity.

Premises and side relations are `Zero`s: polynomials known to be 0, with the identity that shows it. One of them
that contains an atom with a coefficient known not to vanish serves to remove this atom from all the others
and from what is to be shown; harmless factors are dropped on the way. What is to be shown follows when it
becomes 0. Nothing here is trusted: the certificate made of the moves is re-checked elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from derive.proof.algebra.factors import factors
from derive.proof.algebra.known import Field, Zero
from derive.proof.algebra.polynomials import (
    ONE,
    WIDTH,
    Poly,
    TooLarge,
    add,
    atom,
    coefficients,
    degree,
    exact_quotient,
    indices,
    initial,
    is_constant,
    mul,
    power,
    primitive,
    pseudo_divide,
    scale,
    union,
)
from derive.proof.records import Source
from derive.terms.signs import is_nonzero

_MOST_MOVES = 60


# --- harmless factors -----------------------------------------------------------------------------


def cleaned(z: Zero, field: Field) -> Zero:
    """Without the factors that cannot vanish, and without repetition."""
    if len(z.poly) > 60:
        return z
    _, found = factors(z.poly)
    dropped: list[tuple[Poly, int]] = []
    kept: list[tuple[Poly, int]] = []
    for f, e in found:
        (dropped if field.is_nonzero(f) else kept).append((f, e))
    if not kept or (not dropped and all(e == 1 for _, e in kept)):
        return z
    rest = ONE
    for f, _ in kept:
        rest = mul(rest, f)
    high = max(e for _, e in kept)
    # Π dropped · rest^high = z · (what the powers lack), up to a number that the writing settles.
    lacking = ONE
    for f, e in kept:
        lacking = mul(lacking, power(f, high - e))
    return _divided(z, rest, tuple(dropped), high, lacking)


def _divided(z: Zero, rest: Poly, dropped: tuple[tuple[Poly, int], ...], high: int, lacking: Poly) -> Zero:
    left = power(rest, high)
    for f, e in dropped:
        left = mul(left, power(f, e))
    right = mul(z.poly, lacking)
    m = max(left)
    # left · right[m] = right · left[m]; the number goes into the cofactor and the first factor.
    factor = scale(lacking, left[m])
    number = ({0: right[m]}, 1)
    return Zero(rest, None, (number, *dropped), ((z, factor),), high, "cancel", age=z.age)


# --- one move ---------------------------------------------------------------------------------------


def prepared(z: Zero, field: Field) -> Zero:
    """A premise as an attempt begins with it: modulo the side relations, and without harmless factors."""
    if z not in field.ready:
        field.ready[z] = cleaned(reduced(z, field), field)
    return field.ready[z]


def without(z: Zero, pivot: Zero, i: int, field: Field, gone: frozenset[int]) -> Zero | None:
    """z with atom i removed as far as the pivot can; None where nothing is left."""
    key = (z, pivot, i, gone)
    if key not in field.moved:
        field.moved[key] = _without(z, pivot, i, field, gone)
    return field.moved[key]


def _without(z: Zero, pivot: Zero, i: int, field: Field, gone: frozenset[int]) -> Zero | None:
    e, quotient, rest = pseudo_divide(z.poly, pivot.poly, i)
    if not rest:
        return None
    lead = power(initial(pivot.poly, i), e)
    parts = ((z, lead), (pivot, scale(quotient, -1)))
    made = Zero(rest, None, (), parts, 1, "substitute", i, max(z.age, pivot.age))
    return cleaned(reduced(made, field, gone), field)


def reduced(z: Zero, field: Field, gone: frozenset[int] = frozenset()) -> Zero:
    """Modulo the side relations whose atom stands in a higher power than they allow.

    A relation that would bring back an atom already removed (`gone`) is left alone.
    """
    plain = z.source is None and not z.factors and z.power == 1
    poly, parts = z.poly, list(z.parts) if plain else [(z, ONE)]
    moved = False
    for i, side in _sides_in(poly, field, gone):
        if degree(poly, i) < degree(side.poly, i):
            continue
        e, quotient, rest = pseudo_divide(poly, side.poly, i)
        if e or not quotient:
            continue
        poly, moved = rest, True
        parts.append((side, scale(quotient, -1)))
    return Zero(poly, None, (), tuple(parts), 1, z.move, z.about, z.age) if moved else z


def _sides_in(poly: Poly, field: Field, gone: frozenset[int]) -> Iterable[tuple[int, Zero]]:
    present = union(poly)
    for i, side in sorted(field.reader.sides.items(), reverse=True):
        if (present >> (WIDTH * i)) & ((1 << WIDTH) - 1) and not (gone and gone.intersection(indices(side))):
            yield i, Zero(side, Source("side", i))


# --- the goal ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class Reduction:
    """Π factors · before = Σ cofactor · zero + after."""

    before: Poly
    factors: tuple[tuple[Poly, int], ...]
    parts: tuple[tuple[Zero, Poly], ...]
    after: Poly
    about: int


class Goal:
    """What is to be shown 0, with the reductions made so far."""

    def __init__(self, poly: Poly, field: Field) -> None:
        self.poly, self.field = poly, field
        self.trail: list[Reduction] = []
        self.gone: frozenset[int] = frozenset()
        self.by_sides()

    def _to(
        self, after: Poly, factors: tuple[tuple[Poly, int], ...], parts: tuple[tuple[Zero, Poly], ...], about: int
    ) -> None:
        self.trail.append(Reduction(self.poly, factors, parts, after, about))
        self.poly = after

    def by_sides(self) -> None:
        z = reduced(Zero(self.poly, Source("premise", -1)), self.field, self.gone)
        if z.source is None:
            self._to(z.poly, (), tuple((s, scale(c, -1)) for s, c in z.parts[1:]), -1)

    def by(self, pivot: Zero, i: int) -> None:
        low = degree(pivot.poly, i)
        if low == 1:
            self.gone |= {i}
        if degree(self.poly, i) < low:
            return
        e, quotient, rest = pseudo_divide(self.poly, pivot.poly, i)
        lead = initial(pivot.poly, i)
        self._to(rest, ((lead, e),) if e else (), ((pivot, quotient),), i)
        self.by_sides()

    def times(self, multiplier: Poly) -> None:
        """Show the product instead, by a multiplier that is not 0."""
        self._to(mul(self.poly, multiplier), ((multiplier, 1),), (), -1)
        self.by_sides()

    def shown(self) -> Zero:
        """The first poly as a Zero, once the last one is 0."""
        zero: Zero | None = None
        for r in reversed(self.trail):
            parts = r.parts if zero is None else (*r.parts, (zero, ONE))
            zero = Zero(r.before, None, r.factors, parts, 1, "combine" if r.about < 0 else "substitute", r.about)
        assert zero is not None
        return zero


# --- the chain of eliminations ----------------------------------------------------------------------


def eliminate(goal: Goal, given: Sequence[Zero], field: Field, touching: bool = False) -> bool:
    """Remove atom after atom until the goal is 0 (True) or nothing more can be removed."""
    for active in eliminate_by_turns(goal, [prepared(z, field) for z in given], field, touching):
        if not goal.poly or any(_by_multiple(goal, z) for z in active):
            return True
    return False


def eliminate_by_turns(
    goal: Goal, given: Sequence[Zero], field: Field, touching: bool = False, beside: Sequence[Goal] = ()
) -> Iterator[list[Zero]]:
    """What is known to be 0, before each further atom is removed from it and from the goal.

    touching: only moves that change the goal, as where its sign is what counts.
    beside:   further polynomials that go through the same moves.
    """
    active = list(given)
    if goal.poly:
        active += [Zero(side, Source("side", i), age=0) for i, side in field.reader.sides.items()]
    for _ in range(_MOST_MOVES):
        field.clock.check()
        yield active
        chosen = _choose(goal.poly, active, field, touching)
        if chosen is None:
            return
        pivot, i = chosen
        for each in (goal, *beside):
            each.by(pivot, i)
        if goal.poly:
            active = _removed(active, pivot, i, field, goal.gone)


def _by_multiple(goal: Goal, z: Zero) -> bool:
    """Is the goal a multiple of one zero?"""
    if len(goal.poly) < len(z.poly) or not z.poly:
        return False
    p = primitive(z.poly)
    quotient = exact_quotient(goal.poly, p)
    if quotient is None:
        return False
    m = max(p)
    number = z.poly[m] // p[m]
    goal._to({}, (({0: number}, 1),) if number != 1 else (), ((z, quotient),), -1)
    return True


def _removed(active: list[Zero], pivot: Zero, i: int, field: Field, gone: frozenset[int]) -> list[Zero]:
    low = degree(pivot.poly, i)
    out: list[Zero] = []
    lower = False
    for z in active:
        if z is pivot:
            continue
        here = degree(z.poly, i)
        if here >= low:
            field.clock.check()
            made = without(z, pivot, i, field, gone)
            if made is None:
                continue
            z = made
            here = degree(z.poly, i)
        lower = lower or here > 0
        if len(z.poly) <= 400:
            out.append(z)
    if lower:  # what is left of lower degree in this atom will reduce the pivot in its turn
        out.append(pivot)
    return out


def _choose(goal: Poly, active: Sequence[Zero], field: Field, touching: bool = False) -> tuple[Zero, int] | None:
    """The cheapest pivot: of low degree, with a coefficient known not to vanish, recent, touching the goal."""
    wanted = set(indices(goal))
    best: tuple[float, Zero, int] | None = None
    for z in active:
        for i in indices(z.poly):
            d = degree(z.poly, i)
            if d > 4 or (touching and degree(goal, i) < d):
                continue
            cost = 30 * (d - 1) + 2 * len(z.poly) + 3 * z.age - 6 * (i in wanted)
            cost += 12 * (field.reader.atoms[i].op != "var")
            if best is not None and cost >= best[0]:
                continue
            lead = initial(z.poly, i)
            cost += 3 * len(lead) + 12 * (not is_constant(lead))
            if (best is not None and cost >= best[0]) or not field.is_nonzero(lead):
                continue
            if not (d == 1 or _useful(z, i, d, active, goal)):
                continue
            best = (cost, z, i)
    return None if best is None else (best[1], best[2])


def _useful(pivot: Zero, i: int, d: int, active: Sequence[Zero], goal: Poly) -> bool:
    """Would a pivot of higher degree remove anything?"""
    return degree(goal, i) >= d or any(z is not pivot and degree(z.poly, i) >= d for z in active)


def conjugates(goal: Poly, field: Field) -> list[Poly]:
    """Multipliers that clear a root: −B r + A for A + B r, where that cannot vanish."""
    out: list[Poly] = []
    for i in indices(goal):
        parts = coefficients(goal, i)
        if set(parts) <= {0, 1} and parts.get(1) and parts.get(0):
            other = add(parts[0], mul(parts[1], atom(i)), -1)
            if is_nonzero(field.reader.poly_sign(other)):
                out.append(other)
    return out


__all__ = ["Field", "Goal", "TooLarge", "Zero", "cleaned", "conjugates", "eliminate", "reduced"]
