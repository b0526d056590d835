"""Quotients of polynomials, their denominators kept in factors: what a term is read into by the prover."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import gcd as whole_gcd

from derive.proof.algebra.factors import factors
from derive.proof.algebra.polynomials import (
    ONE,
    WIDTH,
    Key,
    Poly,
    TooLarge,
    add,
    content,
    exact_quotient,
    exponent_of,
    key_of,
    monomial_content,
    monomial_items,
    mul,
    power,
    primitive,
    scale,
)

_MAX_BITS = 20_000  # of a coefficient raised to a power


@dataclass(frozen=True, slots=True)
class Quotient:
    """num / (whole · monomial · Π factor^exponent); whole positive, monomial without common atoms with num."""

    num: Poly
    whole: int = 1
    monomial: int = 0
    factors: tuple[tuple[Key, int], ...] = ()

    def denominators(self) -> list[tuple[Poly, int]]:
        """The atoms and polynomials below, each once."""
        below: list[tuple[Poly, int]] = [({1 << (WIDTH * i): 1}, e) for i, e in monomial_items(self.monomial)]
        return below + [(dict(k), e) for k, e in self.factors]

    @property
    def key(self) -> tuple[Key, int, int, tuple[tuple[Key, int], ...]]:
        return key_of(self.num), self.whole, self.monomial, self.factors


ZERO = Quotient({})
UNIT = Quotient(ONE)


def lowered(num: Poly, whole: int, monomial: int, factors: dict[Key, int]) -> Quotient:
    """A quotient with common numbers, atoms and evident factors cancelled."""
    if not num:
        return ZERO
    common = whole_gcd(abs(content(num)), whole)
    if common > 1:
        num, whole = {m: c // common for m, c in num.items()}, whole // common
    if monomial:
        shared = 0
        low = monomial_content(num)
        for i, e in monomial_items(monomial):
            shared |= min(e, exponent_of(low, i)) << (WIDTH * i)
        if shared:
            num, monomial = {m - shared: c for m, c in num.items()}, monomial - shared
    left: dict[Key, int] = {}
    for key, e in factors.items():
        while e and len(num) >= len(key):
            rest = exact_quotient(num, dict(key))
            if rest is None:
                break
            num, e = rest, e - 1
        if e:
            left[key] = e
    return Quotient(num, whole, monomial, tuple(sorted(left.items())))


def number(top: int, bottom: int = 1) -> Quotient:
    return lowered({0: top} if top else {}, bottom, 0, {})


def times(a: Quotient, b: Quotient) -> Quotient:
    factors = dict(a.factors)
    for key, e in b.factors:
        factors[key] = factors.get(key, 0) + e
    return lowered(mul(a.num, b.num), a.whole * b.whole, a.monomial + b.monomial, factors)


def plus(a: Quotient, b: Quotient) -> Quotient:
    if not a.num:
        return b
    if not b.num:
        return a
    whole = a.whole * b.whole // whole_gcd(a.whole, b.whole)
    monomial = 0
    for i, e in {**dict(monomial_items(a.monomial)), **dict(monomial_items(b.monomial))}.items():
        monomial |= max(e, exponent_of(a.monomial, i), exponent_of(b.monomial, i)) << (WIDTH * i)
    in_a, in_b = dict(a.factors), dict(b.factors)
    factors = {k: max(in_a.get(k, 0), in_b.get(k, 0)) for k in {**in_a, **in_b}}
    top = add(_over(a, whole, monomial, factors), _over(b, whole, monomial, factors))
    return lowered(top, whole, monomial, factors)


def _over(q: Quotient, whole: int, monomial: int, factors: dict[Key, int]) -> Poly:
    """The numerator over a larger denominator."""
    own = dict(q.factors)
    top = mul(q.num, {monomial - q.monomial: whole // q.whole})
    for key, e in factors.items():
        missing = e - own.get(key, 0)
        if missing:
            top = mul(top, power(dict(key), missing))
    return top


def minus(a: Quotient, b: Quotient) -> Quotient:
    return plus(a, Quotient(scale(b.num, -1), b.whole, b.monomial, b.factors))


def inverse(q: Quotient) -> Quotient:
    """1/q; the caller has seen that q is not 0."""
    top = mul({q.monomial: q.whole}, ONE)
    for key, e in q.factors:
        top = mul(top, power(dict(key), e))
    c = content(q.num)
    if c < 0:
        top, c = scale(top, -1), -c
    if len(q.num) == 1:
        return lowered(top, c, max(q.num), {})
    low = monomial_content(q.num)
    below = primitive({m - low: v for m, v in q.num.items()})
    return lowered(top, c, low, dict(_factored(key_of(below))))


@lru_cache(maxsize=512)
def _factored(key: Key) -> tuple[tuple[Key, int], ...]:
    """A denominator that is a power of something, as such: 1/(x² + 2x + 1) is 1/(x + 1)²."""
    found = factors(dict(key))[1]
    return ((key_of(found[0][0]), found[0][1]),) if len(found) == 1 else ((key, 1),)


def raised(q: Quotient, n: int) -> Quotient:
    if n < 0:
        return raised(inverse(q), -n)
    if n == 0:
        return UNIT
    if n > 1:
        if n * max(c.bit_length() for c in (q.whole, *q.num.values(), 1)) > _MAX_BITS:
            raise TooLarge
        power({q.monomial: 1}, n)  # refuses exponents that would outgrow their field
    return Quotient(power(q.num, n), q.whole**n, q.monomial * n, tuple((k, e * n) for k, e in q.factors))
