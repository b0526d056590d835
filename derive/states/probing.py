"""Looking for a counterexample to an inequality that holds at every state met by chance.

Random states keep away from bounds and extremes, which is where an inequality fails if it does. Two places are
looked at on purpose: states at which a bound that is given is met exactly, and states pushed over the line's own
bound as far as the context lets them. What holds there too is called tested.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.projection import Cloud
from derive.states.states import States
from derive.terms.term import Term, sub

SIGNS = ("<", "≤", ">", "≥", "≠")
_OVER = {"<": ">", "≤": ">", ">": "<", "≥": "<", "≠": "="}
_LENIENT = {"<": "≤", ">": "≥"}
_COUNT = 24
# Beyond this ratio to one, sides meet by rounding alone (m1/m2 = 1e9 makes a = g in floating point).
_EXTREME = 1e5
_TIGHT = 6  # given bounds looked at; more than this no page has


def counterexample(
    parts: Sequence[tuple[Term, Term]], sign: str, context: Context, states: States, extra: Sequence[Premise] = ()
) -> Context | None:
    """A context whose states satisfy the given one and not the line, or None where none was found."""
    wanted = [(context.resolved(a), context.resolved(b)) for a, b in parts]
    terms = [t for part in wanted for t in part]
    for narrowed in at_given_bounds(context):
        cloud = _ordinary(states.of(narrowed, terms, extra, count=_COUNT, rounds=2))
        # Where a strict bound is only just missed, most states on the given one must miss it.
        if any(weigh(a, b, sign, cloud).fails.sum() > cloud.size / 2 for a, b in wanted):
            return narrowed.adding(*extra)
    for a, b in wanted:
        pushed = context.adding(*extra, Premise("the contrary", sub(a, b), _OVER[sign], False))
        cloud = _ordinary(states.of(pushed, terms, count=_COUNT, rounds=2))
        if weigh(a, b, _LENIENT.get(sign, sign), cloud).fails.sum() >= 2:
            return pushed
    return None


def at_given_bounds(context: Context) -> Iterator[Context]:
    """The context with one of its bounds met exactly, each in turn."""
    bounds = [k for k, p in enumerate(context.premises) if p.sign in ("≤", "≥") and not p.implied]
    for k in bounds[-_TIGHT:]:
        premises = list(context.premises)
        premises[k] = replace(premises[k], sign="=", always=False)
        yield replace(context, premises=tuple(premises))


def _ordinary(cloud: Cloud) -> Cloud:
    """States without extreme values."""
    fine = np.ones(cloud.size, dtype=bool)
    for a in cloud.columns.values():
        size = np.abs(a)
        fine &= (size < _EXTREME) & ((size > 1 / _EXTREME) | (size == 0))
    return cloud.keep(fine)
