"""What kind of quantity a name is that a working without declarations brings in: a vector or not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from derive.notation.tree import (
    Claim,
    Cross,
    Derivative,
    Expr,
    Name,
    Neg,
    Product,
    Quotient,
    Sum,
    walk,
)
from derive.records import Symbol
from derive.terms.claims import Pair, alternatives, pairs
from derive.terms.lowering import Meaningless, lower
from derive.terms.term import Term
from derive.terms.world import World

# Which factor of `m a`, `q E`, `I α` has a direction, where the whole has one (common practice, no source).
_DIRECTED = frozenset("rpvuaFgLωατMBEdsn")


def with_new_vectors(world: World, claim: Claim, tied: set[str]) -> World:
    """`let n = r/l`: a name that is first met equal to a vector is one; so are the p of `r × p`, and the a of
    `F = m a` where F is one."""
    def is_new(name: str) -> bool:
        return name not in world.symbols and name not in tied

    crossed = [side.ident for n in walk(claim) if isinstance(n, Cross) for side in (n.left, n.right)
               if isinstance(side, Name) and is_new(side.ident)]
    world = _with_vectors(world, crossed)
    for pair in pairs(alternatives(claim)[0]):
        if pair.sign == "=":
            world = _with_vectors(world, _directed_in(pair, world, is_new))
    return world


def _with_vectors(world: World, names: list[str]) -> World:
    new = {n: Symbol(n, vector=True, declared=False) for n in names}
    return replace(world, symbols={**world.symbols, **new}) if new else world


def _directed_in(pair: Pair, world: World, is_new: Callable[[str], bool]) -> list[str]:
    """The new names of a pair that have to be vectors because the other side is one, or another term."""
    terms = [t for side in (pair.left, pair.right) for t in (side.terms if isinstance(side, Sum) else (side,))]
    directed = [_is_vector(t, world) for t in terms]
    if None in directed or not any(directed):
        return []
    return [n for t, known in zip(terms, directed, strict=True) if not known for n in _bearers(t, is_new)]


def _is_vector(side: Expr, world: World) -> bool | None:
    """None where a side means nothing yet."""
    try:
        return not isinstance(lower(side, world), Term)
    except Meaningless:
        return None


def _bearers(side: Expr, is_new: Callable[[str], bool]) -> Iterator[str]:
    """The new names that give a side its direction: one in every term."""
    match side:
        case Name(ident):
            if is_new(ident):
                yield ident
        case Neg(arg) | Quotient(arg, _):
            yield from _bearers(arg, is_new)
        case Derivative(body, _):
            yield from _bearers(body, is_new)
        case Sum(terms):
            for term in terms:
                yield from _bearers(term, is_new)
        case Product(factors):
            new = [f.ident for f in factors if isinstance(f, Name) and is_new(f.ident)]
            directed = [n for n in new if n.split("_")[0] in _DIRECTED]
            if len(directed) == 1 or len(new) == 1:
                yield (directed or new)[0]
