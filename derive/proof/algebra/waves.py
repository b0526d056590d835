"""Sines and cosines: every angle in terms of a few basic ones, and the multiples of 30° and 45° by value."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.lattice import Vector, combination
from derive.proof.algebra.pieces import in_pieces, whole_term
from derive.proof.algebra.plan import Unread
from derive.proof.algebra.polynomials import add, atom
from derive.proof.algebra.quotients import Quotient
from derive.terms.term import ONE, PI, TWO, Term, fun, num, power
from derive.terms.term import add as plus_terms
from derive.terms.term import mul as times_terms

if TYPE_CHECKING:
    from derive.proof.algebra.reading import Reader

_HALF = Fraction(1, 2)
_LARGEST_MULTIPLE = 24
Pair = tuple[Quotient, Quotient]


def wave(r: Reader, a: Term) -> Pair:
    """(cosine, sine) of an angle."""
    vector, turn = angle_vector(r, a)
    r.found.angles.append(vector)
    base = r.plan.angle_base
    whole = combination(vector, [v for v, _ in base]) if base else None
    parts: list[tuple[Term, int]] = [(whole_term(vector), 1)] if vector else []
    if whole is not None:
        parts = [(b, n) for (_, b), n in zip(base, whole, strict=True) if n]
    if turn.denominator not in (1, 2, 3, 4, 6):
        parts.append((times_terms(num(Fraction(1, turn.denominator)), PI), turn.numerator))
        turn = Fraction(0)
    if parts != [(a, 1)] or turn:
        numbers = [*(Fraction(n) for _, n in parts), turn]
        r.note("angle", a, (b for b, _ in parts), numbers)
    c, s = turned(r, turn)
    for b, n in parts:
        if abs(n) > _LARGEST_MULTIPLE:
            raise Unread
        cb, sb = base_wave(r, b)
        sb = qs.minus(qs.ZERO, sb) if n < 0 else sb
        for _ in range(abs(n)):
            c, s = turn_by(c, s, cb, sb)
    return c, s


def angle_vector(r: Reader, a: Term) -> tuple[Vector, Fraction]:
    """An angle in pieces, and the multiple of π in it."""
    vector = in_pieces(r, a)
    turn = vector.pop(PI, Fraction(0))
    return vector, turn


def base_wave(r: Reader, b: Term) -> Pair:
    """(cosine, sine) of a basic angle: two atoms, or known of an arctangent and its like."""
    if b.op == "fun" and b.value in ("arctan", "arcsin", "arccos"):
        inner = b.args[0]
        x = r.of(inner)
        if b.value == "arctan":
            c = r.of(power(plus_terms(ONE, power(inner, TWO)), num(-_HALF)))
            return c, qs.times(c, x)
        rest = r.of(power(plus_terms(ONE, times_terms(num(-1), power(inner, TWO))), num(_HALF)))
        return (rest, x) if b.value == "arcsin" else (x, rest)
    i, j = r.atom(fun("cos", b)), r.atom(fun("sin", b))
    r.sides[j] = add(add(atom(i, 2), atom(j, 2)), {0: 1}, -1)
    return Quotient(atom(i)), Quotient(atom(j))


def turned(r: Reader, q: Fraction) -> tuple[Quotient, Quotient]:
    """(cosine, sine) of q π, for a twelfth or an eighth of a full turn and their multiples."""
    q = q % 2
    c, s = qs.UNIT, qs.ZERO
    for _ in range(int(q / _HALF)):
        c, s = qs.minus(qs.ZERO, s), c
    rest = q % _HALF
    if rest == 0:
        return c, s
    half = qs.number(1, 2)
    if rest == Fraction(1, 4):
        root = qs.times(half, r.of(power(TWO, num(_HALF))))
        return turn_by(c, s, root, root)
    third = qs.times(half, r.of(power(num(3), num(_HALF))))
    return turn_by(c, s, *((third, half) if rest == Fraction(1, 6) else (half, third)))


def turn_by(c: Quotient, s: Quotient, cb: Quotient, sb: Quotient) -> tuple[Quotient, Quotient]:
    """(cosine, sine) of a sum of two angles, of which those are given."""
    return qs.minus(qs.times(c, cb), qs.times(s, sb)), qs.plus(qs.times(s, cb), qs.times(c, sb))


OF_WAVES: dict[str, Callable[[Quotient, Quotient], Quotient]] = {
    "cos": lambda c, s: c, "sin": lambda c, s: s, "tan": lambda c, s: ratio(s, c), "cot": lambda c, s: ratio(c, s),
    "sec": lambda c, s: ratio(qs.UNIT, c), "csc": lambda c, s: ratio(qs.UNIT, s),
}


def ratio(a: Quotient, b: Quotient) -> Quotient:
    if not b.num:
        raise Unread
    return qs.times(a, qs.inverse(b))
