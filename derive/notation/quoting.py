"""Pieces of a typed line as they are quoted back to its writer."""

from __future__ import annotations

from derive.notation.tree import Span


def with_its_brackets(span: Span, typed: str) -> str:
    """The piece as typed; a bracket that only opens or only closes in it is followed to its fellow beside it."""
    start, end = span.start, span.end
    missing = sum(typed[start:end].count(c) for c in "([{") - sum(typed[start:end].count(c) for c in ")]}")
    while missing > 0 and end < len(typed) and typed[end] in ")]} ":
        missing -= typed[end] != " "
        end += 1
    while missing < 0 and start > 0 and typed[start - 1] in "([{ ":
        missing += typed[start - 1] != " "
        start -= 1
    return typed[start:end]
