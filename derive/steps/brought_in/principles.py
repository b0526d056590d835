"""Laws that need no support from above because they are the start of a method: Lagrange's equation.

Only the form of a typed one is looked at, and it must be exactly that of the law, for one function and one coordinate:
with a slip in it the line is a claim like any other. Where it is not typed, it is made of the function that a page
gives by rates and calls so, or differentiates by a rate.
"""

from __future__ import annotations

from collections import Counter

from derive.notation.tree import Derivative, Expr, Name, Neg, Relation, Sum, is_zero, walk
from derive.quantities.unit_table import dimension
from derive.states.context import Context
from derive.terms.calculus import derivative
from derive.terms.claims import Pair
from derive.terms.slopes import in_coordinates, partial_by
from derive.terms.term import ZERO, Term, Var, sub, variables
from derive.terms.world import TIME

_ENERGY = dimension(kg=1, m=2, s=-2)
# Where L is a length.
_CALLED_SO = ("L", "Lag", "ℒ")
# A kinetic energy or a whole one is differentiated by a rate as well.
_ENERGIES = frozenset(("T", "K", "KE", "E", "H", "W"))


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


def lagrangians(context: Context) -> list[str]:
    """The names that a Lagrangian goes by: those usual for one, and what is differentiated by a rate (`∂F/∂q'`)."""
    named = list(_CALLED_SO)
    for p in context.premises:
        trees = (p.pair.left, p.pair.right) if isinstance(p.pair, Pair) else ()
        slopes = (n for tree in trees for n in walk(tree) if isinstance(n, Derivative) and n.partial)
        named += [n.body.ident for n in slopes if isinstance(n.wrt, Derivative) and isinstance(n.body, Name)]
    named = [n for n in named if n in context.world.definitions]
    return [n for n in dict.fromkeys(named) if n.partition("_")[0] not in _ENERGIES and _may_be_energy(n, context)]


def _may_be_energy(name: str, context: Context) -> bool:
    symbol = context.world.symbols.get(name)
    return symbol is None or symbol.dimension in (None, _ENERGY)


def laws_of(name: str, context: Context) -> dict[str, Term]:
    """d/dt ∂L/∂q' - ∂L/∂q of each coordinate; of an angular momentum `L = m r² θ'`, with no rate in its slope by one,
    none at all."""
    whole = in_coordinates(context.world, context.world.definitions[name], Var(name))
    rates = [v for v in variables(whole) if v.order == 1 and v.wrt == TIME]
    momenta = {v: partial_by(context.world, whole, v) for v in rates}
    if not all(v in variables(momentum) for v, momentum in momenta.items()):
        return {}
    return {v.name: _law(whole, v.name, momentum, context) for v, momentum in momenta.items()}


def _law(whole: Term, coordinate: str, momentum: Term, context: Context) -> Term:
    rate = ZERO if momentum is ZERO else derivative(momentum, context.world.along_time)
    return sub(rate, partial_by(context.world, whole, Var(coordinate)))
