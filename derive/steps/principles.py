"""Laws that need no support from above because they are the start of a method: Lagrange's equation.

Only the form is looked at, and it must be exactly that of the law, for one function and one coordinate: with a slip
in it the line is a claim like any other.
"""

from __future__ import annotations

from collections import Counter

from derive.notation.tree import Derivative, Expr, Name, Neg, Relation, Sum, is_zero
from derive.terms.world import TIME


def is_lagranges_equation(relation: Relation) -> bool:
    """`d/dt(∂L/∂q') = ∂L/∂q`, in any arrangement of the two terms."""
    if relation.signs != ("=",):
        return False
    terms = [*_signed(relation.sides[0], 1), *_signed(relation.sides[1], -1)]
    if len(terms) != 2 or terms[0][0] == terms[1][0]:
        return False
    rates = [t for _, t in terms if _function_and_coordinate(t) is not None]
    if len(rates) != 1:
        return False
    function, coordinate = _function_and_coordinate(rates[0]) or (rates[0], rates[0])
    force = Derivative(function, coordinate, partial=True)
    return Counter(t for _, t in terms) == Counter((rates[0], force))


def _signed(side: Expr, sign: int) -> list[tuple[int, Expr]]:
    """The terms of a side with their signs, zeros left out."""
    if isinstance(side, Sum):
        return [x for t in side.terms for x in _signed(t, sign)]
    if isinstance(side, Neg):
        return _signed(side.arg, -sign)
    if is_zero(side):
        return []
    return [(sign, side)]


def _function_and_coordinate(t: Expr) -> tuple[Expr, Expr] | None:
    """L and q of `d/dt(∂L/∂q')`."""
    if not isinstance(t, Derivative) or t.partial or t.wrt != Name(TIME) or t.order != 1:
        return None
    inner = t.body
    if not isinstance(inner, Derivative) or not inner.partial or inner.order != 1:
        return None
    speed = inner.wrt
    if not isinstance(speed, Derivative) or speed.partial or speed.wrt != Name(TIME) or speed.order != 1:
        return None
    return inner.body, speed.body
