"""Sparse polynomials with whole coefficients, for the prover: arithmetic, division, common factors.

A polynomial is a dict from monomial to coefficient. A monomial is one integer in which each atom has a
field of `WIDTH` bits for its exponent, so that multiplying is adding and comparing integers is a
lexicographic order. Nothing here knows what an atom stands for. The re-checker has arithmetic of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from math import gcd as whole_gcd
from math import isqrt

Poly = dict[int, int]
Key = tuple[tuple[int, int], ...]  # what a polynomial is looked up by

WIDTH = 12
_FIELD = (1 << WIDTH) - 1
# One field holds exponents up to 2047 below its guard bit; products are kept far away from that.
_MAX_EXPONENT = 400
_MAX_TERMS = 4000
ONE: Poly = {0: 1}


class TooLarge(Exception):
    """A polynomial outgrew what is worth computing: the search gives that way up."""


def constant(value: int) -> Poly:
    return {0: value} if value else {}


def atom(index: int, exponent: int = 1) -> Poly:
    return {exponent << (WIDTH * index): 1}


def key_of(p: Poly) -> Key:
    return tuple(sorted(p.items()))


def exponent_of(monomial: int, index: int) -> int:
    return (monomial >> (WIDTH * index)) & _FIELD


@lru_cache(maxsize=4096)  # the same few monomials are taken apart all the time
def monomial_items(monomial: int) -> tuple[tuple[int, int], ...]:
    """(atom, exponent) for each atom of a monomial."""
    items, index = [], 0
    while monomial:
        e = monomial & _FIELD
        if e:
            items.append((index, e))
        monomial >>= WIDTH
        index += 1
    return tuple(items)


def union(monomials: Iterable[int]) -> int:
    total = 0
    for m in monomials:
        total |= m
    return total


def indices(p: Poly) -> list[int]:
    """The atoms that occur."""
    return [i for i, _ in monomial_items(union(p))]


def add(p: Poly, q: Poly, factor: int = 1) -> Poly:
    """p + factor·q."""
    out = dict(p)
    for m, c in q.items():
        total = out.get(m, 0) + factor * c
        if total:
            out[m] = total
        else:
            out.pop(m, None)
    return out


def scale(p: Poly, factor: int) -> Poly:
    return {m: c * factor for m, c in p.items()} if factor else {}


def mul(p: Poly, q: Poly) -> Poly:
    if len(p) > len(q):
        p, q = q, p
    if len(p) * len(q) > 60 * _MAX_TERMS:
        raise TooLarge
    if len(p) == 1:
        ((n, d),) = p.items()
        return {m + n: c * d for m, c in q.items()}
    out: Poly = {}
    for n, d in p.items():
        for m, c in q.items():
            k = m + n
            out[k] = out.get(k, 0) + c * d
    out = {m: c for m, c in out.items() if c}
    if len(out) > _MAX_TERMS:
        raise TooLarge
    return out


def power(p: Poly, n: int) -> Poly:
    if n > _MAX_EXPONENT or any(e * n > _MAX_EXPONENT for m in p for _, e in monomial_items(m)):
        raise TooLarge
    out = ONE
    while n:
        if n & 1:
            out = mul(out, p)
        n >>= 1
        if n:
            p = mul(p, p)
    return out


def is_constant(p: Poly) -> bool:
    return not p or (len(p) == 1 and 0 in p)


def degree(p: Poly, index: int) -> int:
    shift = WIDTH * index
    return max([(m >> shift) & _FIELD for m in p], default=0)


def coefficients(p: Poly, index: int) -> dict[int, Poly]:
    """The polynomial by powers of one atom."""
    shift = WIDTH * index
    out: dict[int, Poly] = {}
    for m, c in p.items():
        e = (m >> shift) & _FIELD
        out.setdefault(e, {})[m - (e << shift)] = c
    return out


def content(p: Poly) -> int:
    """The greatest whole number dividing all coefficients, with the sign of the leading one."""
    size = whole_gcd(*p.values())
    return -size if p and p[max(p)] < 0 else size


def primitive(p: Poly) -> Poly:
    c = content(p)
    return p if c in (0, 1) else {m: v // c for m, v in p.items()}


def monomial_content(p: Poly) -> int:
    """The greatest monomial dividing every term."""
    common: int | None = None
    for m in p:
        if common is None:
            common = m
        elif common:
            low = 0
            for i, e in monomial_items(common):
                low |= min(e, exponent_of(m, i)) << (WIDTH * i)
            common = low
        if common == 0:
            return 0
    return common or 0


@lru_cache(maxsize=64)
def _guards(bits: int) -> int:
    return sum(1 << (WIDTH * i + WIDTH - 1) for i in range(bits // WIDTH + 1))


def divides(n: int, m: int) -> bool:
    guards = _guards(max(n.bit_length(), m.bit_length()))
    return ((m | guards) - n) & guards == guards


def exact_quotient(p: Poly, q: Poly) -> Poly | None:
    """p / q if that is a polynomial with whole coefficients, else None."""
    if not q:
        return None
    lead = max(q)
    top = q[lead]
    rest = dict(p)
    out: Poly = {}
    while rest:
        m = max(rest)
        if not divides(lead, m) or rest[m] % top:
            return None
        if len(out) > _MAX_TERMS:
            raise TooLarge
        c, n = rest[m] // top, m - lead
        out[n] = c
        for k, v in q.items():
            total = rest.get(k + n, 0) - c * v
            if total:
                rest[k + n] = total
            else:
                rest.pop(k + n, None)
    return out


def pseudo_divide(p: Poly, q: Poly, index: int) -> tuple[int, Poly, Poly]:
    """(e, quotient, rest) with initial(q)^e · p = quotient · q + rest, and rest of lower degree in the atom."""
    d, initial = leading(q, index)
    quotient: Poly = {}
    steps, rest = 0, p
    while rest:
        high, lead = leading(rest, index)
        if high < d:
            break
        unit = is_constant(initial) and abs(initial[0]) == 1
        if unit:
            lead = scale(lead, initial[0])
            move = mul(lead, atom(index, high - d)) if high > d else lead
            quotient, rest = add(quotient, move), add(rest, mul(move, q), -1)
            continue
        common = exact_quotient(lead, initial)
        if common is not None:
            move = mul(common, atom(index, high - d)) if high > d else common
            quotient, rest = add(quotient, move), add(rest, mul(move, q), -1)
            continue
        move = mul(lead, atom(index, high - d)) if high > d else lead
        quotient = add(mul(quotient, initial), move)
        rest = add(mul(rest, initial), mul(move, q), -1)
        steps += 1
    return steps, quotient, rest


def initial(p: Poly, index: int) -> Poly:
    """The coefficient of the highest power of an atom."""
    return leading(p, index)[1]


def leading(p: Poly, index: int) -> tuple[int, Poly]:
    """The degree in an atom, and what stands with that power of it."""
    shift = WIDTH * index
    high = degree(p, index)
    return high, {m - (high << shift): c for m, c in p.items() if (m >> shift) & _FIELD == high}


def derivative(p: Poly, index: int) -> Poly:
    shift = WIDTH * index
    out: Poly = {}
    for m, c in p.items():
        e = (m >> shift) & _FIELD
        if e:
            out[m - (1 << shift)] = c * e
    return out


# --- common factors -----------------------------------------------------------------------------


def gcd(p: Poly, q: Poly) -> Poly:
    """A greatest common divisor, primitive; by primitive remainder sequences."""
    if not p or not q:
        return primitive(p or q)
    if is_constant(p) or is_constant(q):
        return ONE
    common = _monomial_gcd(monomial_content(p), monomial_content(q))
    p, q = _without_monomial(primitive(p)), _without_monomial(primitive(q))
    found = _gcd_stripped(p, q)
    return {m + common: c for m, c in found.items()}


def _without_monomial(p: Poly) -> Poly:
    low = monomial_content(p)
    return {m - low: c for m, c in p.items()} if low else p


def _monomial_gcd(m: int, n: int) -> int:
    return sum(min(e, exponent_of(n, i)) << (WIDTH * i) for i, e in monomial_items(m))


def _gcd_stripped(p: Poly, q: Poly) -> Poly:
    if len(p) == 1 or len(q) == 1:
        return ONE
    if len(p) > len(q):
        p, q = q, p
    if exact_quotient(q, p) is not None:
        return p
    in_p, in_q = set(indices(p)), set(indices(q))
    # What only one of them has can only be in the coefficients: those must share the divisor.
    for own, poly, other in ((in_p - in_q, p, q), (in_q - in_p, q, p)):
        if own:
            found = other
            for part in coefficients(poly, min(own)).values():
                found = gcd(found, part)
                if is_constant(found):
                    return ONE
            return found
    index = min(in_p, key=lambda i: max(degree(p, i), degree(q, i)))
    return _gcd_in(p, q, index)


def _gcd_in(p: Poly, q: Poly, index: int) -> Poly:
    cp, cq = content_in(p, index), content_in(q, index)
    common = gcd(cp, cq)
    p, q = _quotient(p, cp), _quotient(q, cq)
    if degree(p, index) < degree(q, index):
        p, q = q, p
    while degree(q, index) > 0:
        _, _, rest = pseudo_divide(p, q, index)
        if not rest:
            return primitive(mul(common, primitive(q)))
        if len(rest) > 300:
            raise TooLarge
        p, q = q, _quotient(primitive(rest), content_in(rest, index))
    return common


def content_in(p: Poly, index: int) -> Poly:
    """The common divisor of the coefficients by powers of one atom."""
    found: Poly = {}
    for part in sorted(coefficients(p, index).values(), key=len):
        found = gcd(found, part)
        if is_constant(found):
            return ONE
    return found


def _quotient(p: Poly, q: Poly) -> Poly:
    if is_constant(q):
        return p
    found = exact_quotient(p, q)
    assert found is not None, "a content divides"
    return found


def square_root(p: Poly) -> Poly | None:
    """A polynomial whose square is p, or None."""
    if not p:
        return {}
    lead = max(p)
    top = p[lead]
    if top < 0 or isqrt(top) ** 2 != top or any(e % 2 for _, e in monomial_items(lead)):
        return None
    first = lead >> 1
    root: Poly = {first: isqrt(top)}
    rest = {m: c for m, c in p.items() if m != lead}
    for _ in range(200):
        if not rest:
            return root
        m = max(rest)
        twice = 2 * root[first]
        if not divides(first, m) or rest[m] % twice or m - first >= first:
            return None
        n, c = m - first, rest[m] // twice
        rest = add(rest, mul({n: c}, {k: 2 * v for k, v in root.items()}), -1)
        rest = add(rest, {2 * n: c * c}, -1)
        root = {**root, n: c}
    return None
