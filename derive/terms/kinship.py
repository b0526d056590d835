"""Is an equation made of the same terms as one above it, as a step of algebra leaves them?

In a working without givens a second law (energy beside momentum) and a wrong step look alike: both tie names that
are tied already. A step keeps most terms in proportion, slip or no slip; a law of its own does not. This looks at
the form of terms only and decides nothing about truth.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

from derive.terms.term import Term

# Powers of its atoms; numbers and signs apart, since slips are made in them.
Monomial = frozenset[tuple[Term, Fraction]]

# Expanded no further than a line of working goes.
_MOST = 40
# Terms squared, taken the root of, or turned upside down, all alike.
_POWERS = (Fraction(1), Fraction(2), Fraction(1, 2), Fraction(-1))
# With fewer terms, nothing tells a law from a step with a slip in one of them.
_LEAST = 3


def own_law(equation: Term, others: list[Term]) -> bool:
    """Does an equation of several terms keep no proportion to the terms of any other?"""
    here = monomials(equation)
    if here is None or len(here) < _LEAST:
        return False
    return not any(_akin(here, monomials(t)) for t in others)


def piece_of(equation: Term, others: list[Term]) -> bool:
    """Do all terms of an equation stand in one proportion to terms of another, with some left out?"""
    here = monomials(equation)
    if here is None:
        return True
    for there in map(monomials, others):
        ratios = Counter(_times(m, n, Fraction(-1)) for m in here for n in there or ())
        if there is None or max(ratios.values(), default=0) == len(here):
            return True
    return False


def monomials(t: Term) -> frozenset[Monomial] | None:
    """The terms of an expression multiplied out, by their powers alone; None where there are too many."""
    found = numbered(t)
    return None if found is None else frozenset(found)


def numbered(t: Term) -> dict[Monomial, float] | None:
    """The same, each with the number before it."""
    try:
        return _expanded(t)
    except OverflowError:
        return None


def _expanded(t: Term) -> dict[Monomial, float]:
    if t.op == "num":
        return {frozenset(): float(t.value)}
    if t.op == "add":
        return _bounded((m, n) for a in t.args for m, n in _expanded(a).items())
    if t.op == "mul":
        out: dict[Monomial, float] = {frozenset(): 1.0}
        for a in t.args:
            out = _multiplied(out, _expanded(a))
        return out
    if t.op == "pow" and t.args[1].op == "num":
        return _raised(t.args[0], t.args[1].value)
    return {frozenset({(t, Fraction(1))}): 1.0} if t.op == "var" or t.args else {frozenset(): 1.0}


def _multiplied(one: dict[Monomial, float], other: dict[Monomial, float]) -> dict[Monomial, float]:
    return _bounded((_times(m, n), a * b) for m, a in one.items() for n, b in other.items())


def _raised(base: Term, exponent: Fraction) -> dict[Monomial, float]:
    inner = _expanded(base)
    if len(inner) == 1:
        ((m, number),) = inner.items()
        size = abs(number) ** float(exponent) if number else 0.0
        odd = number < 0 and exponent.denominator == 1 and exponent % 2 == 1
        return {frozenset((a, k * exponent) for a, k in m): -size if odd else size}
    if exponent.denominator == 1 and 1 < exponent <= 4:
        out = inner
        for _ in range(int(exponent) - 1):
            out = _multiplied(out, inner)
        return out
    return {frozenset({(base, exponent)}): 1.0}


def _bounded(parts: Iterable[tuple[Monomial, float]]) -> dict[Monomial, float]:
    """Like terms added up; one that cancels is kept, since it was written."""
    found: dict[Monomial, float] = {}
    for m, number in parts:
        found[m] = found.get(m, 0.0) + number
        if len(found) > _MOST:
            raise OverflowError
    return found


def _times(m: Monomial, n: Monomial, power: Fraction = Fraction(1)) -> Monomial:
    total: dict[Term, Fraction] = dict(m)
    for a, k in n:
        total[a] = total.get(a, Fraction(0)) + k * power
    return frozenset((a, k) for a, k in total.items() if k)


def _akin(here: frozenset[Monomial], there: frozenset[Monomial] | None) -> bool:
    """Do terms of one stand in one proportion to terms of the other (or to a power of them)?"""
    if there is None:
        return True
    for power in _POWERS:
        ratios = Counter(_times(m, n, -power) for m in here for n in there)
        most = max(ratios.values(), default=0)
        if most >= (2 if power == 1 else len(here)):
            return True
    return False
