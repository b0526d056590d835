"""A search that succeeded, written down as the steps of a certificate."""

from __future__ import annotations

from fractions import Fraction

from derive.proof.algebra.known import Field, Zero
from derive.proof.algebra.polynomials import ONE, Poly, monomial_items, mul, power, scale
from derive.proof.algebra.quotients import Quotient
from derive.proof.algebra.search import Goal
from derive.proof.records import Factor, Source, Step, Written
from derive.proof.records import Quotient as WrittenQuotient


def written(p: Poly) -> Written:
    return tuple((Fraction(c), tuple(monomial_items(m))) for m, c in sorted(p.items(), reverse=True))


def written_quotient(q: Quotient) -> WrittenQuotient:
    den = [(written(p), e) for p, e in q.denominators()]
    if q.whole != 1:
        den.append((written({0: q.whole}), 1))
    return WrittenQuotient(written(q.num), tuple(den))


class Writer:
    """Numbers the steps in the order they are needed."""

    def __init__(self, field: Field) -> None:
        self.field = field
        self.steps: list[Step] = []
        self.premises: set[int] = set()
        self._place: dict[int, int] = {}

    def source(self, z: Zero) -> Source:
        if z.source is not None:
            if z.source.kind == "premise":
                self.premises.add(z.source.index)
            return z.source
        if id(z) not in self._place:
            step = self.step(z)
            self._place[id(z)] = len(self.steps)
            self.steps.append(step)
        return Source("step", self._place[id(z)])

    def step(self, z: Zero) -> Step:
        parts = tuple((self.source(part), written(c)) for part, c in z.parts if c)
        factors = tuple(self._factor(f, e) for f, e in z.factors if e and f != ONE)
        return Step(written(z.poly), factors, parts, (), z.power, z.move, z.about)

    def _factor(self, f: Poly, e: int) -> Factor:
        why = None if self.field.has_sign(f) else self.field.shown(f)
        if why is None:  # by its sign; where it had none, the re-checker would refuse
            return Factor(written(f), e)
        parts = tuple((self.source(z), written(c)) for z, c in why.parts if c)
        return Factor(written(f), e, "shown", why.known, written(why.times), written(why.by), parts)

    def compared(self, goal: Goal, start: Poly, beside: tuple[Poly, Goal] | None = None) -> Poly:
        """One last step for an inequality: what is shown, times the multipliers, is the rest.

        With (ratio, known) `beside`, the rest is a multiple of the known inequality's own numerator, and that
        multiple is returned.
        """
        _, parts = _gathered(goal)
        rest, weight = goal.poly, {0: 1}
        if beside is not None:
            ratio, other = beside
            others, own = _gathered(other)
            parts += [(z, scale(mul(c, ratio), -1)) for z, c in own]
            weight = mul(ratio, others)
            rest = mul(weight, other.trail[0].before if other.trail else other.poly)
        factors = [(f, e) for r in goal.trail for f, e in r.factors]
        made = tuple((self.source(z), written(c)) for z, c in parts if c)
        self.steps.append(Step(written(start), tuple(self._factor(f, e) for f, e in factors), made, written(rest)))
        return weight


def _gathered(goal: Goal) -> tuple[Poly, list[tuple[Zero, Poly]]]:
    """(M, parts) with M · (the first polynomial) = Σ parts + (the last one)."""
    total: Poly = {0: 1}
    parts: list[tuple[Zero, Poly]] = []
    for r in goal.trail:
        multiplier: Poly = {0: 1}
        for f, e in r.factors:
            multiplier = mul(multiplier, power(f, e))
        parts = [(z, mul(c, multiplier)) for z, c in parts] + list(r.parts)
        total = mul(total, multiplier)
    return total, parts


__all__ = ["Writer", "written", "written_quotient"]
