"""How many derivatives deep a system of premises goes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from derive.terms.isolation import isolated
from derive.terms.term import Term, variables

_MAX_ORDER = 4


def highest(terms: Iterable[Term], depths: Mapping[str, int]) -> int:
    """The highest derivative (by time or along a field) among some terms, those with names of their own counted."""
    return min(max((v.order + depths.get(v.name, 0) for v in variables(*terms)), default=0), _MAX_ORDER)


def depths_of(terms: Iterable[Term]) -> dict[str, int]:
    """How many derivatives deep a name stands that a premise gives: with `v = r'`, `a = v'`, a is 2; with
    `E = ½ m y'² + ½ k y²` E is 1, so that E'' asks for the third derivative of y.

    A name is not given by what it gives itself: with `F = m x''` above, `x = -F/k` takes x no deeper.
    """
    given: dict[str, dict[str, int]] = {}
    for t in terms:
        for name, base, more in _links(t):
            if not _leads(base, name, given):
                given.setdefault(name, {})[base] = max(more, given.get(name, {}).get(base, 0))
    depths: dict[str, int] = {}
    for _ in range(_MAX_ORDER):
        for name, bases in given.items():
            deepest = max(depths.get(base, 0) + more for base, more in bases.items())
            if deepest > depths.get(name, 0):
                depths[name] = min(deepest, _MAX_ORDER)
    return depths


@lru_cache(maxsize=4096)  # asked again of every premise at every line
def _links(t: Term) -> tuple[tuple[str, str, int], ...]:
    """(name, base, more): the name at some order is given by the base at an order higher by so many."""
    if t.op != "add":
        return ()
    alone = [v for v, _ in isolated(t) if not v.at and v.role == "value"]
    links = [
        (v.name, u.name, u.order) for v in alone if not v.order
        for u in variables(t) if u != v and not u.at and u.role == "value"]
    if len(alone) == len(t.args) == 2 and alone[0].order != alone[1].order:  # also a rate of a rate
        rate, other = sorted(alone, key=lambda v: v.order)
        links.append((rate.name, other.name, other.order - rate.order))
    return tuple(links)


def _leads(start: str, end: str, given: Mapping[str, Mapping[str, int]]) -> bool:
    """Is one name the other, or given by it, by whatever stands between?"""
    seen, pending = {start}, [start]
    while pending:
        name = pending.pop()
        if name == end:
            return True
        new = [n for n in given.get(name, ()) if n not in seen]
        seen.update(new)
        pending.extend(new)
    return False
