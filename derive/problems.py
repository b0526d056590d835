"""A Problem made from its code, with its sentence from the registry."""

from __future__ import annotations

from derive.messages import sentence
from derive.notation.tree import Span
from derive.records import Problem


def problem(code: str, line: int = 0, span: Span | None = None, /, **facts: str) -> Problem:
    """The problem of this code at a line of the file (0: the file as a whole)."""
    return Problem(code, sentence(code, facts), line, span)
