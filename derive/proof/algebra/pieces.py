"""Angles and exponents as sums of simple pieces with numbers before them.

The pieces are what `lattice` finds the basic angles and exponents in; a piece is a term.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.lattice import Vector
from derive.proof.algebra.polynomials import Key, Poly, add, divides, mul, power
from derive.proof.algebra.quotients import Quotient
from derive.terms.term import Term, num
from derive.terms.term import add as plus_terms
from derive.terms.term import mul as times_terms

if TYPE_CHECKING:
    from derive.proof.algebra.reading import Reader


def in_pieces(r: Reader, t: Term) -> Vector:
    """A term as a combination of the monomials of its summands."""
    out: Vector = {}
    for part in t.args if t.op == "add" else (t,):
        for piece, c in _quotient_in_pieces(r, r.of(part)).items():
            out[piece] = out.get(piece, Fraction(0)) + c
    return {piece: c for piece, c in out.items() if c}


def _quotient_in_pieces(r: Reader, q: Quotient) -> Vector:
    out: Vector = {}
    whole, rest = _divided(q)
    parts: list[tuple[Poly, tuple[tuple[Key, int], ...]]] = [(whole, ()), (rest, q.factors)]
    for part, factors_below in parts:
        for m, c in sorted(part.items(), reverse=True):
            piece = r.quotient_term(qs.lowered({m: 1}, 1, q.monomial, dict(factors_below)))
            out[piece] = out.get(piece, Fraction(0)) + Fraction(c, q.whole)
    return out


def whole_term(v: Vector) -> Term:
    """A combination as one term again."""
    return plus_terms(*(times_terms(num(c), k) for k, c in v.items()))


def _divided(q: Quotient) -> tuple[Poly, Poly]:
    """(whole, rest) with num = whole · factors + rest, so that a + a/(1 + x) has the piece a in it."""
    if not q.factors:
        return q.num, {}
    below: Poly = {0: 1}
    for key, e in q.factors:
        below = mul(below, power(dict(key), e))
    lead = max(below)
    whole: Poly = {}
    rest: Poly = {}
    left = q.num
    while left:
        m = max(left)
        if divides(lead, m) and left[m] % below[lead] == 0:
            term = {m - lead: left[m] // below[lead]}
            whole, left = add(whole, term), add(left, mul(term, below), -1)
        else:
            rest[m] = left[m]
            left = {n: c for n, c in left.items() if n != m}
    return whole, rest
