"""How many derivatives deep a system of premises goes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from derive.terms.isolation import isolated
from derive.terms.term import Term, variables

_MAX_ORDER = 4


def highest(terms: Iterable[Term], depths: Mapping[str, int]) -> int:
    """The highest derivative (by time or along a field) among some terms, those with names of their own counted."""
    return min(max((v.order + depths.get(v.name, 0) for v in variables(*terms)), default=0), _MAX_ORDER)


def depths_of(terms: Iterable[Term]) -> dict[str, int]:
    """How many derivatives deep a name stands where a premise gives it as a rate: with `v = r'`, `a = v'`, a is 2."""
    links = []
    for t in terms:
        sides = [v for v, _ in isolated(t)] if t.op == "add" and len(t.args) == 2 else []
        if len(sides) == 2 and sides[0].order != sides[1].order and not sides[0].at and not sides[1].at:
            rate, other = sorted(sides, key=lambda v: v.order)
            links.append((rate.name, other.name, other.order - rate.order))
    depths: dict[str, int] = {}
    for _ in range(_MAX_ORDER):
        for name, base, more in links:
            depths[name] = min(max(depths.get(name, 0), depths.get(base, 0) + more), _MAX_ORDER)
    return depths
