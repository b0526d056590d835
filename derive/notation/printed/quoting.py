"""Pieces of a typed line as they are quoted back to its writer."""

from __future__ import annotations

from derive.notation.tree import Span


def with_its_brackets(span: Span, typed: str) -> str:
    """The piece as typed; a bracket that only opens or only closes in it is followed to its fellow beside it."""
    start, end = span.start, span.end
    closing, opening = _unmatched(typed[start:end])
    while opening > 0 and end < len(typed) and typed[end] in ")]} ":
        opening -= typed[end] != " "
        end += 1
    while closing > 0 and start > 0 and typed[start - 1] in "([{ ":
        closing -= typed[start - 1] != " "
        start -= 1
    return typed[start:end]


def _unmatched(piece: str) -> tuple[int, int]:
    """How many brackets close in a piece that did not open in it, and how many open that do not close."""
    closing = opening = 0
    for c in piece:
        if c in "([{":
            opening += 1
        elif c in ")]}" and opening:
            opening -= 1
        elif c in ")]}":
            closing += 1
    return closing, opening
