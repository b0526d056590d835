"""Polynomials as products: what a relation says once harmless factors are divided out.

Most relations of mechanics are linear in some quantity, and then common divisors of coefficients are all
there is to find; quadratics go by their discriminant. The rest is left whole unless it is small enough
to be handed to sympy.
"""

from __future__ import annotations

from functools import lru_cache

from derive.proof.algebra.polynomials import (
    ONE,
    Key,
    Poly,
    TooLarge,
    add,
    atom,
    coefficients,
    content,
    content_in,
    degree,
    derivative,
    exact_quotient,
    gcd,
    indices,
    is_constant,
    key_of,
    monomial_content,
    monomial_items,
    mul,
    primitive,
    scale,
    square_root,
)

Factored = tuple[tuple[Poly, int], ...]

_SMALL_ENOUGH = 40  # terms handed to the general method; above it costs more than a proof is worth


def factors(p: Poly) -> tuple[int, Factored]:
    """(whole number, (factor, exponent) …) with p their product; factors primitive, not constant."""
    return (p.get(0, 0), ()) if is_constant(p) else _factors(key_of(p))


@lru_cache(maxsize=1024)  # two of three are asked for again: attempts at a proof go over the same ground
def _factors(key: Key) -> tuple[int, Factored]:
    p = dict(key)
    number = content(p)
    p = primitive(p)
    low = monomial_content(p)
    found = [(atom(i), e) for i, e in monomial_items(low)]
    p = {m - low: c for m, c in p.items()} if low else p
    if not is_constant(p):
        try:
            pieces = _split(p)
        except TooLarge:
            pieces = [p]
        found += _collected(pieces)
    sign = 1
    for f, e in found:
        if content(f) < 0 and e % 2:
            sign = -sign
    return number * sign, tuple((primitive(f), e) for f, e in found)


def _collected(pieces: list[Poly]) -> list[tuple[Poly, int]]:
    counts: dict[Key, tuple[Poly, int]] = {}
    for piece in pieces:
        f = primitive(piece)
        key = key_of(f)
        counts[key] = (f, counts.get(key, (f, 0))[1] + 1)
    return list(counts.values())


def _split(p: Poly) -> list[Poly]:
    """Factors of a primitive polynomial without a monomial factor, repeated ones repeated."""
    if is_constant(p):
        return []
    if len(p) == 1:
        return [atom(i) for i, e in monomial_items(max(p)) for _ in range(e)]
    by_degree = sorted((degree(p, i), i) for i in indices(p))
    for _, i in by_degree:
        common = content_in(p, i)
        if not is_constant(common):
            rest = exact_quotient(p, common)
            assert rest is not None
            return _split(primitive(common)) + _split(primitive(rest))
    lowest, i = by_degree[0]
    if lowest == 1:
        return [p]
    repeated = gcd(p, derivative(p, i))
    if not is_constant(repeated):
        rest = exact_quotient(p, repeated)
        assert rest is not None
        return _split(primitive(repeated)) + _split(primitive(rest))
    if lowest == 2:
        return _split_quadratic(p, i)
    pair = _split_even(p, i)
    return pair if pair is not None else _split_generally(p)


def _split_quadratic(p: Poly, i: int) -> list[Poly]:
    parts = coefficients(p, i)
    return _by_discriminant(p, parts.get(2, {}), parts.get(1, {}), parts.get(0, {}), atom(i)) or [p]


def _split_even(p: Poly, i: int) -> list[Poly] | None:
    """A biquadratic as a quadratic in the square."""
    parts = coefficients(p, i)
    if not set(parts) <= {0, 2, 4}:
        return None
    pair = _by_discriminant(p, parts.get(4, {}), parts.get(2, {}), parts.get(0, {}), atom(i, 2))
    return [g for f in pair for g in _split(f)] if pair else None


def _by_discriminant(p: Poly, a: Poly, b: Poly, c: Poly, x: Poly) -> list[Poly] | None:
    root = square_root(add(mul(b, b), scale(mul(a, c), 4), -1))
    if root is None:
        return None
    for sign in (1, -1):
        one = add(scale(mul(a, x), 2), add(b, root, sign))  # 2ax + b ± √D
        divided = gcd(p, one)
        rest = exact_quotient(p, divided)
        if not is_constant(divided) and rest is not None and not is_constant(rest):
            return [divided, primitive(rest)]
    return None


def _split_generally(p: Poly) -> list[Poly]:
    if len(p) > _SMALL_ENOUGH or max(degree(p, i) for i in indices(p)) > 8:
        return [p]
    from sympy.polys.domains import ZZ
    from sympy.polys.rings import ring

    names = indices(p)
    r, *_ = ring([f"a{i}" for i in names], ZZ)
    place = {i: k for k, i in enumerate(names)}
    element = r.zero
    for m, c in p.items():
        exponents = [0] * len(names)
        for i, e in monomial_items(m):
            exponents[place[i]] = e
        element[tuple(exponents)] = ZZ(c)
    out: list[Poly] = []
    for f, e in element.factor_list()[1]:
        back = ONE if not f else _from_ring(f, names)
        out += [back] * e
    return out


def _from_ring(element: object, names: list[int]) -> Poly:
    out: Poly = {}
    for exponents, c in element.terms():  # type: ignore[attr-defined]
        m = 0
        for i, e in zip(names, exponents, strict=True):
            m |= int(e) << (12 * i)
        out[m] = int(c)
    return out
