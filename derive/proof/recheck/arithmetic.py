"""Polynomials and quotients multiplied out, for the re-checker: schoolbook arithmetic on exact fractions.

A polynomial is a dict from ((atom, exponent), …) to its coefficient; a quotient keeps its denominators in
factors. There is no division here and nothing is simplified.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from derive.proof.records import Written
from derive.terms.term import Term, Var, postorder

Monomial = tuple[tuple[int, int], ...]
Poly = dict[Monomial, Fraction]
Quot = tuple[Poly, tuple[tuple[Poly, int], ...]]

_MAX_TERMS = 20_000


class Refused(Exception):
    """The certificate does not show what it says."""


def require(condition: object) -> None:
    if not condition:
        raise Refused


# --- polynomials --------------------------------------------------------------------------------


def from_written(w: Written) -> Poly:
    out: Poly = {}
    for coefficient, monomial in w:
        require(type(coefficient) is Fraction and coefficient != 0)
        require(list(monomial) == sorted(dict(monomial).items()) and all(i >= 0 and e > 0 for i, e in monomial))
        require(monomial not in out)
        out[tuple(monomial)] = coefficient
    return out


def plus(p: Poly, q: Poly, factor: int = 1) -> Poly:
    out = dict(p)
    for m, c in q.items():
        total = out[m] + factor * c if m in out else factor * c
        if total:
            out[m] = total
        else:
            out.pop(m, None)
    return out


def multiply(p: Poly, q: Poly) -> Poly:
    if p == UNIT:
        return q
    if q == UNIT:
        return p
    out: dict[Monomial, Fraction] = {}
    for m, c in p.items():
        for n, d in q.items():
            k = _merged(m, n)
            out[k] = out[k] + c * d if k in out else c * d
        require(len(out) <= _MAX_TERMS)
    return {m: c for m, c in out.items() if c}


def _merged(m: Monomial, n: Monomial) -> Monomial:
    if not m:
        return n
    if not n:
        return m
    exponents = dict(m)
    for i, e in n:
        exponents[i] = exponents.get(i, 0) + e
    return tuple(sorted(exponents.items()))


def to_power(p: Poly, n: int) -> Poly:
    require(0 <= n <= 200)
    out: Poly = {(): Fraction(1)}
    for _ in range(n):
        out = multiply(out, p)
    return out


def same_but_scale(p: Poly, q: Poly) -> bool:
    if not p or not q or p.keys() != q.keys():
        return False
    m = next(iter(p))
    ratio = q[m] / p[m]
    return all(q[n] == ratio * c for n, c in p.items())


def free_of(t: Term, role: str) -> bool:
    return not any(x.op == "var" and isinstance(x.value, Var) and x.value.role == role for x in postorder(t))


# --- quotients ----------------------------------------------------------------------------------

UNIT: Poly = {(): Fraction(1)}


def denominators(parts: Iterable[tuple[Poly, int]]) -> tuple[tuple[Poly, int], ...]:
    """Denominators by factor: a monomial by its atoms, equal factors together, numbers left out."""
    counts: dict[frozenset[tuple[Monomial, Fraction]], tuple[Poly, int]] = {}
    for p, e in parts:
        key = frozenset(p.items())
        counts[key] = (p, counts.get(key, (p, 0))[1] + e)
    return tuple(counts.values())


def inverse(q: Quot) -> Quot:
    top, den = q
    require(top)
    lead = top[max(top)]
    below = {m: c / lead for m, c in top.items()}
    over: Poly = {(): 1 / lead}
    for p, e in den:
        over = multiply(over, to_power(p, e))
    if len(below) == 1:
        ((m, _),) = below.items()
        return over, denominators(({((i, 1),): Fraction(1)}, e) for i, e in m)
    return over, ((below, 1),)


def times(a: Quot, b: Quot) -> Quot:
    return multiply(a[0], b[0]), denominators((*a[1], *b[1]))


def sum_of(a: Quot, b: Quot) -> Quot:
    if not a[0]:
        return b
    if not b[0]:
        return a
    in_a = {frozenset(p.items()): (p, e) for p, e in a[1]}
    in_b = {frozenset(p.items()): (p, e) for p, e in b[1]}
    common: list[tuple[Poly, int]] = []
    left, right = a[0], b[0]
    for key in in_a | in_b:
        p = (in_a.get(key) or in_b[key])[0]
        ea, eb = in_a.get(key, (p, 0))[1], in_b.get(key, (p, 0))[1]
        high = max(ea, eb)
        left, right = multiply(left, to_power(p, high - ea)), multiply(right, to_power(p, high - eb))
        common.append((p, high))
    return plus(left, right), tuple(common)


def raised(q: Quot, n: int) -> Quot:
    if n < 0:
        return raised(inverse(q), -n)
    require(n <= 200)
    return to_power(q[0], n), tuple((p, e * n) for p, e in q[1]) if n else ()


def number(value: Fraction | int) -> Quot:
    return ({(): Fraction(value)} if value else {}), ()
