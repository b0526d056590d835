"""Places in a claim where an edit can be made, and putting another piece there.

A place is known by its path from the root and not by the node itself, since a reader may share one node
between two places. What the pieces mean is no concern of this module.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import Any

from derive.notation.tree import Claim, Expr, Relation, Span, Unit, UnitVector, walk

Step = tuple[str, int]  # field of the parent, and the place in it (-1 where the field is one node)
Path = tuple[Step, ...]

# Long lines are cut off here so that the number of edits stays in proportion to the time for a search.
MOST_SITES = 240


@dataclass(frozen=True, slots=True)
class Site:
    """A node with the way to it: `parents` from the root down, `path` the steps taken."""

    node: Any
    path: Path = ()
    parents: tuple[Any, ...] = ()

    @property
    def parent(self) -> Any:
        return self.parents[-1] if self.parents else None

    @property
    def is_side(self) -> bool:
        return isinstance(self.parent, Relation)


def sites(claim: Claim) -> list[Site]:
    """Every place of a claim that its writer typed, larger pieces before the pieces they are made of."""
    found: list[Site] = []
    pending = [Site(claim)]
    while pending and len(found) < MOST_SITES:
        here = pending.pop(0)
        found.append(here)
        pending.extend(_below(here))
    return found


def _below(site: Site) -> Iterator[Site]:
    node = site.node
    parents = (*site.parents, node)
    for item in fields(node):
        value = getattr(node, item.name)
        if isinstance(value, tuple):
            # The first side of a line that carries on was copied from the line above: nothing to blame here.
            first = 1 if isinstance(node, Relation) and node.carries_on else 0
            for i, v in enumerate(value):
                if i >= first and hasattr(v, "span") and not isinstance(v, (Unit, UnitVector, Span)):
                    yield Site(v, (*site.path, (item.name, i)), parents)
        elif hasattr(value, "span") and not isinstance(value, (Unit, UnitVector)):
            yield Site(value, (*site.path, (item.name, -1)), parents)


def put(root: Any, path: Path, node: Any) -> Any:
    """The same tree with another node at a path."""
    if not path:
        return node
    (name, index), rest = path[0], path[1:]
    value = getattr(root, name)
    if index < 0:
        return replace(root, **{name: put(value, rest, node)})
    parts = list(value)
    parts[index] = put(parts[index], rest, node)
    return replace(root, **{name: tuple(parts)})


def span_of(node: Any) -> Span | None:
    """Where a node was typed; for a piece that the reader put together, the stretch its parts cover."""
    if node.span is not None:
        return node.span
    inner = [s for s in (getattr(n, "span", None) for n in walk(node)) if isinstance(s, Span)]
    if not inner:
        return None
    return Span(min(s.start for s in inner), max(s.end for s in inner))


def size(node: Any) -> int:
    """How many nodes a piece has."""
    return sum(1 for _ in walk(node))


def bare(node: Any) -> Any:
    """A tree without its spans, so that it can be shown or compared as text without a trace of where it was typed."""
    changes: dict[str, Any] = {"span": None}
    for item in fields(node):
        value = getattr(node, item.name)
        if item.name == "span":
            continue
        if isinstance(value, tuple) and any(hasattr(v, "span") for v in value):
            changes[item.name] = tuple(bare(v) if hasattr(v, "span") else v for v in value)
        elif hasattr(value, "span"):
            changes[item.name] = bare(value)
    return replace(node, **changes)


__all__ = ["MOST_SITES", "Claim", "Expr", "Path", "Site", "bare", "put", "sites", "size", "span_of"]
