"""A bound on how deep a tree may be, so that no later room runs out of stack on a hostile line."""

from __future__ import annotations

from derive.notation.failures import ReadError
from derive.notation.tree import Span, children

DEEPEST = 150


def too_deep(tree: object, place: Span) -> None:
    """Raise ReadError where a tree has more than DEEPEST levels."""
    level = [tree]
    for _ in range(DEEPEST):
        level = [below for node in level for below in children(node)]
        if not level:
            return
    raise ReadError(place, f"a simpler line: at most {DEEPEST} operations inside each other")
