"""`T ∝ √L`: the ratio of the two sides does not change with anything that stands in the right one."""

from __future__ import annotations

from derive.proof.calculus import partial
from derive.proof.evidence import weigh
from derive.proof.setting import Decision, Matter
from derive.proof.term import ZERO, div, variables
from derive.records import Standing, Verdict


def proportional(m: Matter) -> Decision | None:
    if m.pair.sign != "∝":
        return None
    world = m.context.world
    for left, right in m.lowered.parts:
        whole = m.context.resolved(world.seen_through(left))
        ratio = div(whole, m.context.resolved(right))
        slopes = [partial(ratio, v) for v in variables(right)]
        if whole is left and left.op == "var":
            return Decision(Verdict(Standing.UNDECIDED, code="undecided.proportion"), m.setting)
        cloud = m.setting.states.of(m.context, (ratio, *slopes))
        found = [weigh(s, ZERO, "=", cloud) for s in slopes]
        if not cloud.size or any(e.silent for e in found):
            return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), m.setting)
        if any(e.fails.any() for e in found):
            return Decision(Verdict(Standing.FAILS, strength="unsupported", code="fails.proportion"), m.setting)
    return Decision(Verdict(Standing.FOLLOWS, support="tested", code="follows.plain", premises=m.cites), m.setting)
