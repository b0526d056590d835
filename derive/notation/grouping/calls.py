"""A name before a bracket: a function taken somewhere (`y(0)`, `U(R + h)`), or a product (`v (M + m)`)."""

from __future__ import annotations

import re

from derive.notation.grammar import raw
from derive.notation.grouping.items import Builder, Item, powered
from derive.notation.lists.vocabulary import JOINING, OPENING
from derive.notation.names import TIME
from derive.notation.tree import Derivative, Expr, Name, Span, Value


def call_or_name(items: list[Item], at: int, b: Builder) -> tuple[Expr, int]:
    """`y(0)`, `v(M + m)`: a function taken somewhere, or a product."""
    item, bracket = items[at], items[at + 1]
    assert item.expr is not None
    options = _call_options(item, bracket, b)
    place = Span(item.span.start, bracket.span.end)
    taken = b.chooser.choose("call", place, options) if options else "product"
    if taken == "product":
        return item.expr, at + 1
    args = tuple(b.sum(p) for p in bracket.node.parts) if isinstance(bracket.node, raw.RawTuple) \
        else (b.bracket(bracket),)
    function = item.expr
    variable = b.scope.variable_of(item.ident) or "t"
    plain = len(args) == 1 and args[0] == Name(variable)
    value: Expr = function if plain else Value(function, args, span=place)
    b.chooser.came_to(place, value)
    return powered(b, value, bracket), at + 2


def _call_options(item: Item, bracket: Item, b: Builder) -> list[str]:
    """What a name before a bracket may be, the likeliest first."""
    scope = b.scope
    function = scope.variable_of(item.ident) is not None
    if bracket.kind == "tuple":  # `L (cos α, sin α)` is a length along a direction, as is `R θ'' (-sin θ, cos θ)`
        along = not bracket.tight or isinstance(item.expr, Derivative)
        return ["call"] if not along and (function or not scope.knows(item.ident)) else []
    if not bracket.tight:
        return ["call", "product"] if function and _short(bracket) else []
    typed = b.line[bracket.span.start:bracket.span.end]
    timely = scope.variable_of(item.ident) == TIME and not (_short(bracket) or _OF_TIME.search(typed))
    if function and scope.quick and (_holds_a_rate(typed) or timely):
        # v(m v' + m g) is no v of anything, nor is v(g h + ½ v²) one of a time
        return ["product", "call"] if not timely else []
    inner = _sole(bracket)
    if function or isinstance(item.expr, Derivative):  # `v'(0) = 0` is no rate times nothing
        nothing = isinstance(inner, raw.RawNumber) and inner.value.value == 0
        return ["call"] if nothing else ["call", "product"]
    if isinstance(inner, raw.RawLetters) and inner.run.text in ("t", "τ") and item.ident not in ("t", "τ"):
        return ["call", "product"]
    if not scope.quick:
        return ["product", "call"]
    if isinstance(inner, raw.RawNumber) and inner.value.value == 0:
        return ["call", "product"]
    if isinstance(inner, raw.RawLetters) and (
        inner.run.text.startswith("t") or item.ident in ("f", "U", "V") or _stands_alone(item, bracket, inner, b)
    ):
        return ["call", "product"]
    return ["product", "call"]


# A prime, a dot or a quotient of differentials: no place that a function is taken at.
_OF_TIME = re.compile(r"[tTτ]|^\(\d")
_RATE = re.compile(r"[^\W\d]['\u2032\u2019]|/\s*d[^\W\d]|[\u0307\u0308]")


def _holds_a_rate(typed: str) -> bool:
    return _RATE.search(typed) is not None


_WORD = re.compile(r"(?<![^\W\d_])([A-Z]?[a-z]+)$")
_SHORT = JOINING | OPENING.keys() | {"is", "are", "the", "by", "of"}
_WORDY = 4  # letters: `largest force F(d) = …`, and no product


def _ends_with_word(before: str) -> bool:
    last = _WORD.search(before)
    return last is not None and (len(last[1]) >= _WORDY or last[1].lower() in _SHORT)


def _stands_alone(item: Item, bracket: Item, inner: raw.RawLetters, b: Builder) -> bool:
    """`F(x) = …`: a name with one letter in a bracket is all of a side that begins its statement."""
    before, after = b.line[:item.span.start].rstrip(), b.line[bracket.span.end:].lstrip()
    begins = not before or before[-1] in ",;:" or _ends_with_word(before)
    return begins and after.startswith("=") and len(inner.run.text) == 1 and bracket.tight


def _sole(bracket: Item) -> raw.RawFactor | None:
    """The only factor in a bracket, or None."""
    node = bracket.node
    if isinstance(node, raw.RawGroup) and len(node.inner.terms) == 1:
        sign, term = node.inner.terms[0]
        if not sign and isinstance(term, raw.RawProduct) and len(term.row) == 1 \
                and not isinstance(term.row[0], raw.RawJoined):
            return term.row[0]
    return None


def _short(bracket: Item) -> bool:
    return _sole(bracket) is not None
