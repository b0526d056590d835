"""An index behind a bracket, `(x')_max`, `|v|max`, is one of the name within."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tree import Span

_EXTREMES = frozenset(("max", "min"))
_OPENS = {"open": "close", "bar": "bar"}


def with_indices(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`(x')_max`, `|x''|_max`, `(dx/dt)_max`: x'_max, and an index of no bracket."""
    out = _with_signs(lexemes)
    for at in range(len(out) - 2, 2, -1):
        if at + 2 > len(out):
            continue
        close, sign, index = out[at - 1:at + 2]
        if sign.kind != "lower" or index.text not in _EXTREMES or close.spaced or sign.spaced or index.spaced:
            continue
        sizes = (size for size in (1, 3) if at - 2 - size >= 0 and _OPENS.get(out[at - 2 - size].kind) == close.kind)
        size = next(sizes, 0)
        named = _rate_in(out[at - 1 - size:at - 1]) if size else None
        if named is not None:
            text = f"{named.text}_{index.text}"
            places = (*named.places, sign.span, *index.places)
            span = Span(out[at - 2 - size].span.start, index.span.end)
            out[at - 2 - size:at + 2] = [Lexeme("run", text, span, out[at - 2 - size].spaced, None, places)]
    return out


def _with_signs(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`|v|max` as `|v|_max`."""
    out = list(lexemes)
    for at in range(len(out) - 1, 2, -1):
        opening, _, close, index = out[at - 3:at + 1]
        if index.text in _EXTREMES and not index.spaced and _OPENS.get(opening.kind) == close.kind and _rate_in(
                out[at - 2:at - 1]) is not None:
            out.insert(at, Lexeme("lower", "_", Span(index.span.start, index.span.start)))
    return out


def _rate_in(inside: Sequence[Lexeme]) -> Lexeme | None:
    """The `x'` that stands in a bracket, or dx/dt there as x'."""
    if len(inside) == 1:
        return inside[0] if inside[0].kind == "run" else None
    over, slash, under = inside
    if slash.kind != "slash" or under.text != "dt" or over.kind != "run" or over.text[:1] != "d" or len(over.text) < 2:
        return None
    return replace(over, text=f"{over.text[1:]}'", places=(*over.places[1:], under.places[-1]))
