"""Antiderivatives of what a first mechanics course integrates: sums, powers, and functions by substitution.

An answer is a guess until its derivative has been compared with the integrand, which the re-checker does.
Nothing is known here of limits.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.polynomials import monomial_items
from derive.proof.algebra.quotients import Quotient
from derive.terms.calculus import partial
from derive.terms.signs import NONNEGATIVE, POSITIVE, negated
from derive.terms.term import (
    MINUS_ONE,
    ONE,
    TWO,
    Term,
    Var,
    add,
    div,
    fun,
    mul,
    neg,
    num,
    postorder,
    power,
    sub,
    substitute,
    var,
)

if TYPE_CHECKING:
    from derive.proof.algebra.reading import Reader

_MOST_PARTS = 4  # integrations by parts one after another: x⁴ eˣ


def antiderivative(body: Term, bound: Var, reader: Reader) -> Term | None:
    """A term whose derivative by the bound variable is the body, or None."""
    free = Var("∙" + bound.name)  # a bound variable has no derivative of its own
    reader.declared[free] = reader.declared[bound]
    found = _of_sum(substitute(body, {var(bound): var(free)}), free, reader, _MOST_PARTS)
    return None if found is None else substitute(found, {var(free): var(bound)})


def _of_sum(body: Term, bound: Var, reader: Reader, parts: int) -> Term | None:
    out: list[Term] = []
    for factor, piece in _pieces(body, bound, reader):
        found = _of_piece(piece, bound, reader, parts)
        if found is None:
            return None
        out.append(mul(factor, found))
    return add(*out)


def _depends(t: Term, bound: Var) -> bool:
    return any(s.value == bound for s in postorder(t) if s.op == "var")


def _pieces(body: Term, bound: Var, reader: Reader) -> Iterator[tuple[Term, Term]]:
    """(factor free of the variable, rest) for each term of the integrand multiplied out."""
    q = reader.read(body)
    below = [(p, e) for p, e in q.denominators()]
    for m, c in sorted(q.num.items(), reverse=True):
        outer: list[Term] = [num(Fraction(c, q.whole))]
        inner: list[Term] = []
        for i, e in monomial_items(m):
            a = reader.as_term({1 << (12 * i): 1})
            (inner if _depends(a, bound) else outer).append(_power(a, e))
        for p, e in below:
            t = reader.as_term(p)
            (inner if _depends(t, bound) else outer).append(_power(t, -e))
        yield mul(*outer), mul(*inner)


def _power(a: Term, e: int) -> Term:
    """A power of an exponential is one exponential: that is how it is integrated."""
    if a.op == "fun" and a.value == "exp":
        return fun("exp", mul(num(e), a.args[0]))
    return power(a, num(e))


def _of_piece(piece: Term, bound: Var, reader: Reader, parts: int) -> Term | None:
    x = var(bound)
    if not _depends(piece, bound):
        return mul(piece, x)
    for way in (_by_substitution, _of_square, _by_quadratic):
        found = way(piece, bound, reader)
        if found is not None:
            return found
    return _by_parts(piece, bound, reader, parts) if parts else None


# --- by substitution ------------------------------------------------------------------------------------

_OF: dict[str, Callable[[Term], Term]] = {
    "sin": lambda u: neg(fun("cos", u)),
    "cos": lambda u: fun("sin", u),
    "exp": lambda u: fun("exp", u),
}


def _by_substitution(piece: Term, bound: Var, reader: Reader) -> Term | None:
    """c·h(u)·du/dx with h a power, sine, cosine or exponential."""
    for u in _inner(piece, bound):
        slope = partial(u, bound)
        if not reader.read(slope).num:
            continue
        for outer, integral in _outer_forms(piece, u, reader):
            ratio = _constant_ratio(piece, mul(outer, slope), bound, reader)
            if ratio is not None:
                return mul(ratio, integral)
    return None


def _inner(piece: Term, bound: Var) -> Iterator[Term]:
    seen: dict[Term, None] = {var(bound): None}
    for s in postorder(piece):
        if s.op in ("pow", "fun") and s.args and _depends(s.args[0], bound):
            seen[s.args[0]] = None
        if s.op == "fun" and _depends(s, bound):
            seen[s] = None
    yield from seen


def _outer_forms(piece: Term, u: Term, reader: Reader) -> Iterator[tuple[Term, Term]]:
    """(h(u), its integral by u) for the functions of u that the integrand can be made of."""
    powers = {Fraction(1), Fraction(0)}
    for s in postorder(piece):
        if s.op == "pow" and isinstance(s.args[1].value, Fraction):
            powers.add(s.args[1].value)
    for n in sorted(powers):
        if n == -1:
            yield power(u, MINUS_ONE), fun("ln", _positive_side(u, reader))
        else:
            yield power(u, num(n)), div(power(u, num(n + 1)), num(n + 1))
    for s in postorder(piece):
        if s.op == "fun" and s.args and s.args[0] is u and s.value in _OF:
            yield s, _OF[str(s.value)](u)
    yield power(fun("cos", u), num(-2)), fun("tan", u)


def _positive_side(u: Term, reader: Reader) -> Term:
    s = reader.sign(u)
    return neg(u) if s & ~NONNEGATIVE and not negated(s) & ~NONNEGATIVE else u


def _constant_ratio(a: Term, b: Term, bound: Var, reader: Reader) -> Term | None:
    below = reader.read(b)
    if not below.num:
        return None
    q = qs.times(reader.read(a), qs.inverse(below))
    return _free(q, bound, reader)


def _free(q: Quotient, bound: Var, reader: Reader) -> Term | None:
    t = reader.quotient_term(q)
    return None if _depends(t, bound) else t


# --- squares of sines, quadratics below ------------------------------------------------------------------


def _of_square(piece: Term, bound: Var, reader: Reader) -> Term | None:
    """sin² u and cos² u of a linear u."""
    for s in postorder(piece):
        if s.op == "fun" and s.value in ("sin", "cos") and _depends(s, bound):
            u = s.args[0]
            slope = partial(u, bound)
            if _depends(slope, bound):
                continue
            ratio = _constant_ratio(piece, power(s, TWO), bound, reader)
            if ratio is not None:
                wave = div(mul(fun("sin", u), fun("cos", u)), mul(TWO, slope))
                return mul(ratio, (add if s.value == "cos" else sub)(div(var(bound), TWO), wave))
    return None


def _by_quadratic(piece: Term, bound: Var, reader: Reader) -> Term | None:
    """1/(p + q x²) with p and q positive."""
    x = var(bound)
    for s in postorder(piece):
        if s.op != "pow" or s.args[1] is not MINUS_ONE:
            continue
        ratio = _constant_ratio(piece, s, bound, reader)
        curve = div(partial(partial(s.args[0], bound), bound), TWO)
        rest = sub(s.args[0], mul(curve, power(x, TWO)))
        flat = _free(reader.read(rest), bound, reader)
        if ratio is None or flat is None or _depends(curve, bound):
            continue
        if reader.sign(curve) == POSITIVE and reader.sign(flat) == POSITIVE:
            root = power(mul(curve, flat), num(Fraction(1, 2)))
            return mul(ratio, div(fun("arctan", div(mul(curve, x), root)), root))
    return None


# --- by parts -----------------------------------------------------------------------------------------------


def _by_parts(piece: Term, bound: Var, reader: Reader, parts: int) -> Term | None:
    """xⁿ·h(x), the power differentiated; or ln x with 1 integrated."""
    x = var(bound)
    factors = list(piece.args) if piece.op == "mul" else [piece]
    for f in factors:
        base, e = f.args if f.op == "pow" else (f, ONE)
        if base is x and isinstance(e.value, Fraction) and e.value.denominator == 1 and e.value > 0:
            rest = mul(*(g for g in factors if g is not f))
            inner = _of_piece(rest, bound, reader, 0) if _depends(rest, bound) else None
            if inner is None:
                continue
            after = _of_sum(mul(partial(f, bound), inner), bound, reader, parts - 1)
            return None if after is None else sub(mul(f, inner), after)
    return None
