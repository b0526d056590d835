"""Roots, powers and magnitudes: products taken apart into factors of known sign.

A root or a logarithm of a product is one of its factors only where these are not negative; the re-checker
has the same rule.
"""

from __future__ import annotations

from fractions import Fraction
from math import lcm
from typing import TYPE_CHECKING

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.factors import factors
from derive.proof.algebra.plan import LARGEST_POWER, Unread
from derive.proof.algebra.polynomials import Poly, add, atom, monomial_items, mul, scale
from derive.proof.algebra.polynomials import power as poly_power
from derive.proof.algebra.quotients import Quotient
from derive.terms.signs import NONNEGATIVE, UNREAL, negated
from derive.terms.term import Term, fun, num, power
from derive.terms.term import mul as times_terms

if TYPE_CHECKING:
    from derive.proof.algebra.reading import Reader

Parts = list[tuple[Term, Fraction]]

def powered_term(r: Reader, t: Term) -> Quotient:
    """A power as typed."""
    base, e = t.args
    if e.op == "num":
        assert isinstance(e.value, Fraction)
        if abs(e.value) > LARGEST_POWER or e.value.denominator > 12:
            raise Unread
        if e.value.denominator == 1:
            return whole_power(r, base, int(e.value))
        return root(r, base, e.value)
    if base.op == "fun" and base.value == "exp" and not r.sign(base.args[0]) & UNREAL:
        return r.of(fun("exp", times_terms(base.args[0], e)))
    return r.of(fun("exp", times_terms(e, fun("ln", base))))


def whole_power(r: Reader, base: Term, n: int) -> Quotient:
    """A term to a whole power."""
    if base.op == "fun" and base.value == "abs" and n % 2 == 0 and not r.sign(base.args[0]) & UNREAL:
        base = base.args[0]
    q = r.of(base)
    if n < 0 and not q.num:
        raise Unread
    return qs.raised(q, n)


def root(r: Reader, base: Term, e: Fraction) -> Quotient:
    """A term to a rational power."""
    out = qs.UNIT
    for part, n in product_parts(r, base):
        out = qs.times(out, part_power(r, part, n * e))
    return out


def product_parts(r: Reader, base: Term) -> Parts:
    """Factors of a term whose powers may be taken one by one (see the re-checker's rule)."""
    known = r.readings.get(("product", base))
    if known is not None:
        return list(zip(known.parts, known.numbers, strict=True))
    parts = parted(r, r.of(base), for_power=True)
    if parts is None or parts == [(base, Fraction(1))]:
        return [(base, Fraction(1))]
    r.note("product", base, (p for p, _ in parts), (n for _, n in parts))
    return parts


def parted(r: Reader, q: Quotient, for_power: bool) -> Parts | None:
    """A quotient as factors, each with its exponent; None where it cannot be taken apart."""
    if not q.num:
        return None
    number, found = factors(q.num)
    parts = _primes(abs(number), 1) + _primes(q.whole, -1)
    negative, unsure = number < 0, dict[int, Poly]()
    for p, e in [*found, *((p, -e) for p, e in q.denominators())]:
        s = r.poly_sign(p)
        if s & UNREAL:
            return None
        if s & ~NONNEGATIVE and not negated(s) & ~NONNEGATIVE:
            negative ^= bool(e % 2)
            parts.append(as_part(r, scale(p, -1), e))
        elif not for_power or not s & ~NONNEGATIVE:
            parts.append(as_part(r, p, e))
        else:
            parts += _even_part(r, p, e, unsure)
    if for_power:
        return with_unsure(r, parts, unsure, negative)
    return [*parts, (num(-1), Fraction(1))] if negative else parts


def _even_part(r: Reader, p: Poly, e: int, unsure: dict[int, Poly]) -> Parts:
    """|p| to an even power, taken out of a factor of unknown sign; what is left over shares the sign of the whole."""
    one = (1 if e > 0 else -1) if e % 2 else 0
    if one:
        unsure[one] = mul(unsure.get(one, {0: 1}), p)
    return [(fun("abs", r.as_term(p)), Fraction(e - one))] if e != one else []


def with_unsure(
    r: Reader, parts: Parts, unsure: dict[int, Poly], negative: bool
) -> Parts | None:
    """The factors of unknown sign as one; where some are above and some below, the whole is left alone."""
    if len(unsure) > 1 or (negative and not unsure):
        return None
    for one, p in unsure.items():
        parts = [*parts, as_part(r, scale(p, -1) if negative else p, one)]
    return parts


def as_part(r: Reader, p: Poly, e: int) -> tuple[Term, Fraction]:
    """A polynomial factor as a term, a root as a power of what is under it."""
    if len(p) == 1:
        ((m, c),) = p.items()
        items = monomial_items(m)
        if c == 1 and len(items) == 1 and items[0][1] == 1:
            a = r.atoms[items[0][0]]
            if a.op == "pow" and isinstance(a.args[1].value, Fraction):
                return a.args[0], a.args[1].value * e
            return a, Fraction(e)
    return r.as_term(p), Fraction(e)


def part_power(r: Reader, f: Term, e: Fraction) -> Quotient:
    """A factor to a rational power: a power of an atom that is its root."""
    if f.op == "fun" and f.value == "exp":
        return r.of(fun("exp", times_terms(num(e), f.args[0])))
    if e.denominator == 1:
        return whole_power(r, f, int(e))
    if e.denominator > 12 or abs(e) > LARGEST_POWER:
        raise Unread
    if e.denominator % 2 == 0 or not r.sign(f) & ~NONNEGATIVE:
        r.found.degrees[f] = lcm(r.plan.degrees.get(f, 1), r.found.degrees.get(f, 1), e.denominator)
    d = r.plan.degrees.get(f, e.denominator)
    as_root = ("root", f) in r.readings
    if d % e.denominator or (f.op == "var" and not as_root):
        d = e.denominator
    if d != e.denominator:
        r.note("root", f, (), (Fraction(d),))
    i = r.atom(power(f, num(Fraction(1, d))))
    if f.op != "var" or not as_root:
        below = r.of(f)
        r.sides.setdefault(i, add(mul(_below(below), atom(i, d)), below.num, -1))
    return qs.raised(Quotient(atom(i)), int(e * d))


def magnitude(r: Reader, a: Term) -> Quotient:
    """|a|, by the signs of its factors."""
    q = r.of(a)
    s = r.sign(a)
    if not s & ~NONNEGATIVE:
        return q
    if not negated(s) & ~NONNEGATIVE:
        return qs.minus(qs.ZERO, q)
    parts = parted(r, q, for_power=False)
    if s & UNREAL or parts is None:
        return r.as_atom(fun("abs", a))
    if len(parts) == 1 and parts[0][1] == 1:
        return magnitude_part(r, *parts[0]) if parts[0][0] is a else split_magnitude(r, a, parts)
    return split_magnitude(r, a, parts)


def split_magnitude(r: Reader, a: Term, parts: Parts) -> Quotient:
    """|a| as the product of the sizes of its parts, noted as such."""
    r.note("product", fun("abs", a), (p for p, _ in parts), (n for _, n in parts))
    out = qs.UNIT
    for part, n in parts:
        out = qs.times(out, magnitude_part(r, part, n))
    return out


def magnitude_part(r: Reader, part: Term, n: Fraction) -> Quotient:
    """|part|ⁿ; where its sign is not known, |part| is an atom whose square is that of the part."""
    if not r.sign(part) & ~NONNEGATIVE:
        return part_power(r, part, n)
    if part.op == "num":
        return qs.UNIT
    a = fun("abs", part)
    i = r.atom(a)
    inner = r.of(part)
    r.sides.setdefault(i, add(atom(i, 2), poly_power(inner.num, 2), -1))
    if n.denominator == 1:
        return qs.raised(inner if n % 2 == 0 else Quotient(atom(i)), int(n))
    return part_power(r, a, n)


def _primes(n: int, sign: int) -> Parts:
    """The prime powers of a whole number; a large one is left whole."""
    out: Parts = []
    p = 2
    while p * p <= n and p < 2000:
        e = 0
        while n % p == 0:
            n, e = n // p, e + 1
        if e:
            out.append((num(p), Fraction(sign * e)))
        p += 1 if p == 2 else 2
    return [*out, (num(n), Fraction(sign))] if n > 1 else out


def _below(q: Quotient) -> Poly:
    out: Poly = {0: q.whole}
    for p, e in q.denominators():
        out = mul(out, poly_power(p, e))
    return out
