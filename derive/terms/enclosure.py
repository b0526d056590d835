"""Numbers made of roots, waves, exponentials and π, enclosed between two others by interval arithmetic.

Both the prover and the re-checker ask here for the sign of a number; what can not be told apart from 0 has any sign.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Any

import mpmath

from derive.terms.term import PI, Term, postorder, variables

_DIGITS = 40
# An exponential or a power beyond this is no number that anybody writes down.
_LONGEST = 1000

Weighed = tuple[Fraction | int, Sequence[tuple[Term, int]]]  # a coefficient and powers of terms


class _Unknown(Exception):
    """Not a real number, or not one that can be enclosed."""


def is_number(t: Term) -> bool:
    """Is there nothing in a term that could vary?"""
    return not variables(t)


def above_or_below(terms: Iterable[Weighed]) -> int:
    """1 or -1 where a sum of products of numbers is surely positive or negative, else 0."""
    was = mpmath.iv.dps
    mpmath.iv.dps = _DIGITS
    try:
        total = mpmath.iv.mpf(0)
        for coefficient, powers in terms:
            one = _fraction(Fraction(coefficient))
            for t, e in powers:
                one *= _enclosed(t) ** e
            total += one
        return 1 if total.a > 0 else -1 if total.b < 0 else 0
    except (_Unknown, ArithmeticError, ValueError, TypeError, mpmath.libmp.ComplexResult):
        return 0
    finally:
        mpmath.iv.dps = was


def _enclosed(root: Term) -> Any:
    done: dict[Term, Any] = {}
    for t in postorder(root):
        args = [done[a] for a in t.args]
        if t.op == "num":
            assert isinstance(t.value, Fraction)
            done[t] = _fraction(t.value)
        elif t.op == "add":
            done[t] = sum(args, mpmath.iv.mpf(0))
        elif t.op == "mul":
            done[t] = _product(args)
        elif t.op == "pow" and t.args[1].op == "num":
            done[t] = _power(args[0], t.args[1].value)
        elif t.op == "fun":
            done[t] = _function(t, args)
        else:
            raise _Unknown
    return done[root]


def _fraction(q: Fraction) -> Any:
    return mpmath.iv.mpf(q.numerator) / q.denominator


def _product(args: Sequence[Any]) -> Any:
    out = mpmath.iv.mpf(1)
    for a in args:
        out *= a
    return out


def _power(base: Any, e: Any) -> Any:
    if not isinstance(e, Fraction) or abs(e) > _LONGEST:
        raise _Unknown
    if e < 0 and base.a <= 0 <= base.b:
        raise _Unknown
    if e.denominator == 1:
        return base ** int(e)
    if base.a <= 0:
        raise _Unknown
    return mpmath.iv.exp(_fraction(e) * mpmath.iv.log(base))


def _function(t: Term, args: Sequence[Any]) -> Any:
    if t is PI:
        return +mpmath.iv.pi
    (x,) = args
    if t.value in ("sin", "cos"):
        return (mpmath.iv.sin if t.value == "sin" else mpmath.iv.cos)(x)
    if t.value == "tan":
        below = mpmath.iv.cos(x)
        if below.a <= 0 <= below.b:
            raise _Unknown
        return mpmath.iv.sin(x) / below
    if t.value == "exp" and abs(x.a) < _LONGEST and abs(x.b) < _LONGEST:
        return mpmath.iv.exp(x)
    if t.value == "ln" and x.a > 0:
        return mpmath.iv.log(x)
    if t.value == "sqrt" and x.a >= 0:
        return mpmath.iv.sqrt(x)
    raise _Unknown


__all__ = ["Weighed", "above_or_below", "is_number"]
