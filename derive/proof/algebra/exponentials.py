"""Exponentials and logarithms: sums in the exponent and products under the logarithm taken apart."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.lattice import combination
from derive.proof.algebra.pieces import in_pieces, whole_term
from derive.proof.algebra.plan import LARGEST_POWER
from derive.proof.algebra.polynomials import Poly, add, coefficients, exponent_of
from derive.proof.algebra.powers import part_power, product_parts
from derive.proof.algebra.quotients import Quotient
from derive.proof.algebra.waves import ratio, wave
from derive.terms.signs import UNREAL
from derive.terms.term import IMAGINARY, ONE, Term, fun

if TYPE_CHECKING:
    from derive.proof.algebra.reading import Reader


def exponential(r: Reader, a: Term) -> Quotient:
    """exp of a term."""
    q = r.of(a)
    i = r.index.get(IMAGINARY)
    if i is not None and any(exponent_of(m, i) for m in q.num):
        return rotating(r, a, q, i)
    vector = in_pieces(r, a)
    logs = {k: c for k, c in vector.items() if is_logarithm(r, k, c)}
    rest = {k: c for k, c in vector.items() if k not in logs}
    r.found.exponents.append(rest)
    base = r.plan.exponent_base
    whole = combination(rest, [v for v, _ in base]) if base else None
    parts: list[tuple[Term, Fraction]] = list(logs.items())
    if whole is not None:
        parts += [(b, Fraction(n)) for (_, b), n in zip(base, whole, strict=True) if n]
    elif rest:
        parts.append((whole_term(rest), Fraction(1)))
    if parts != [(a, Fraction(1))]:
        r.note("exponent", a, (b for b, _ in parts), (n for _, n in parts))
    out = qs.UNIT
    for b, n in parts:
        if b.op == "fun" and b.value == "ln":
            out = qs.times(out, part_power(r, b.args[0], n))
        else:
            out = qs.times(out, qs.raised(r.as_atom(fun("exp", b)), int(n)))
    return out


def is_logarithm(r: Reader, piece: Term, c: Fraction) -> bool:
    """Does a piece of an exponent stand for a power: exp(c ln x) = x^c?"""
    return (piece.op == "fun" and piece.value == "ln" and c.denominator <= 12 and abs(c) <= LARGEST_POWER
            and not r.sign(piece.args[0]) & UNREAL)


def rotating(r: Reader, a: Term, q: Quotient, i: int) -> Quotient:
    """exp(x + i θ) = exp x · (cos θ + i sin θ), where atom i is the imaginary unit."""
    by_power = coefficients(q.num, i)
    if any(exponent_of(m, i) for p, _ in q.denominators() for m in p):
        return r.as_atom(fun("exp", a))
    halves: list[Poly] = [{}, {}]
    for e, p in by_power.items():
        halves[e % 2] = add(halves[e % 2], p, -1 if e % 4 > 1 else 1)
    real, angle = (
        r.quotient_term(qs.lowered(p, q.whole, q.monomial, dict(q.factors))) for p in halves)
    if r.sign(angle) & UNREAL:
        return r.as_atom(fun("exp", a))
    r.note("rotating", a, (real, angle), ())
    c, s = wave(r, angle)
    return qs.times(exponential(r, real), qs.plus(c, qs.times(r.of(IMAGINARY), s)))


def logarithm(r: Reader, a: Term) -> Quotient:
    """ln of a term."""
    total = qs.ZERO
    for part, n in product_parts(r, a):
        times = qs.number(n.numerator, n.denominator)
        if part.op == "fun" and part.value == "exp" and not r.sign(part.args[0]) & UNREAL:
            total = qs.plus(total, qs.times(times, r.of(part.args[0])))
        elif part is not ONE:
            total = qs.plus(total, qs.times(times, r.as_atom(fun("ln", part))))
    return total


OF_EXPONENTIAL: dict[str, Callable[[Quotient, Quotient], Quotient]] = {
    "sinh": lambda e, f: qs.times(qs.number(1, 2), qs.minus(e, f)),
    "cosh": lambda e, f: qs.times(qs.number(1, 2), qs.plus(e, f)),
    "tanh": lambda e, f: ratio(qs.minus(e, f), qs.plus(e, f)),
}
