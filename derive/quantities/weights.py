"""`30 g - T = 30 a`, `T - 3g = 3a`: thirty kilograms' weight, and no grams; and the numbers are masses."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from derive.notation.tree import (
    Apply,
    Expr,
    Name,
    Neg,
    Num,
    Product,
    Quotient,
    Relation,
    Span,
    Sum,
    Unit,
    names_in,
    walk,
)

_SO_MANY_G = re.compile(r"\d+(?:\.\d+)?\s*g")


# What pulls or presses by its letter (common practice, no source).
_FORCES = frozenset("TNFRWSP")
_LEAST_G, _MOST_G = 9, 10  # what is put in for g, where the letter is then a gram


def weighs_in_numbers(node: object) -> bool:
    """`5g - T = 5a`, `T = 3a + 3g`: a force beside so many g, which are so many kilograms' weights."""
    if not isinstance(node, Relation):
        return False
    terms = [t for side in node.sides for t in _terms(side)]
    pulls = any(isinstance(t, Name) and t.ident.partition("_")[0] in _FORCES for t in terms)
    return pulls and any(isinstance(t, Product | Quotient) and _is_of_numbers(t) and "g" in names_in(t) for t in terms)


def is_so_many_g(typed: str, span: Span | None, nodes: Iterable[object]) -> bool:
    """Is a number with its g a term, or plain numbers of times one, of what has a force by its letter and neither
    values nor units, `T - 10 g = 10 a`, `F × 4 = 30 g × 2 + 50 g × 1`? With 9.8 put in it was grams."""
    return _SO_MANY_G.fullmatch(typed) is not None and any(
        _of_forces(n) and any(_is_within(t, span) and _is_of_numbers(t) for side in n.sides for t in _terms(side))
        for n in nodes if isinstance(n, Relation))


def _of_forces(relation: Relation) -> bool:
    pulls = any(name.partition("_")[0] in _FORCES for name in names_in(relation))
    return pulls and not any(
        (isinstance(n, Unit) and n.ident not in ("g", "N")) or (isinstance(n, Num) and _LEAST_G < n.value <= _MOST_G)
        for n in walk(relation))


def _terms(side: Expr) -> Iterator[Expr]:
    match side:
        case Sum(terms):
            for term in terms:
                yield from _terms(term)
        case Neg(arg):
            yield from _terms(arg)
        case _:
            yield side


def _is_of_numbers(term: Expr) -> bool:
    return set(names_in(term)) <= {"g"} and not any(isinstance(n, Apply) for n in walk(term))


def _is_within(term: Expr, span: Span | None) -> bool:
    own = term.span
    return span is not None and own is not None and own.start <= span.start and span.end <= own.end
