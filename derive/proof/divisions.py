"""Divisions by something that can vanish: a line that divides by `k - m Ω²` says nothing of k = m Ω².

Random states never meet the case itself; a denominator that is positive at some and negative at others is
taken to vanish in between. Denominators that stood in an earlier line have been answered for there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from derive.proof.context import Context
from derive.proof.points import Cloud
from derive.proof.tape import Tape
from derive.proof.term import Term, postorder


def can_vanish(parts: Sequence[tuple[Term, Term]], context: Context, cloud: Cloud) -> Term | None:
    """A denominator that the parts bring in and that the context lets vanish, or None."""
    new = dict.fromkeys(d for part in parts for t in part for d in denominators(t))
    if not new or not cloud.size:
        return None
    known = {d for p in context.premises for d in denominators(p.term)}
    fresh = [d for d in new if d not in known]
    for d, value in zip(fresh, Tape(fresh).run(cloud.columns), strict=True) if fresh else ():
        if np.isrealobj(value) and bool((value > 0).any() and (value < 0).any()):
            return d
    return None


def denominators(t: Term) -> Iterator[Term]:
    """The sums that a term divides by."""
    for s in postorder(t):
        if s.op == "pow" and s.args[1].op == "num" and s.args[1].value < 0 and s.args[0].op == "add":
            yield s.args[0]
