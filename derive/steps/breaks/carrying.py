"""After a break: what follows from the writer's own line together with what is consistent with it.

The broken line is taken as the writer's own. Premises are put back, the most recent first, as long as some
state satisfies them all; a line that follows in what results is carried, whatever the true context says. How
else the writer may have looked at the page (a wrong identity, a sign that no state can have) is in `viewing`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.consistency import comes_to_nothing
from derive.states.context import Premise
from derive.states.setting import Decision, Matter, Rule
from derive.steps.breaks.viewing import views
from derive.terms.term import sub

# A condition is believed only where little besides the broken line is assumed: two lines that do not fit each
# other leave odd corners in which anything may hold "if".
_BEST = (Standing.FOLLOWS, Standing.APPROXIMATES)
_GOOD = (*_BEST, Standing.FOLLOWS_IF)


def carried(m: Matter, rules: Sequence[Rule]) -> Decision | None:
    """The pair follows, by one of the rules, from a line of the writer's own that does not hold."""
    own = m.setting.broken
    if not own:
        return None
    inside = replace(m, setting=replace(m.setting, broken=(), goal=(), proofs=False))
    for view in views(m.setting):
        seen = view.seen(inside)
        decision = _decided_in(seen, rules, _GOOD if view.narrow else _BEST)
        sides = [t for part in seen.lowered.parts for t in part]
        if decision is not None and not comes_to_nothing(
                seen.context, sides, (*own, *m.premises(implied=False)), m.setting):
            source = own[-1].source
            verdict = Verdict(
                Standing.CARRIED, points=decision.verdict.points, code="carried.from",
                facts=(("line", str(source)),), carried_from=source)
            return Decision(verdict, replace(m.setting, broken=(*own, *m.premises(implied=False))))
    return None


def writers_own(m: Matter) -> tuple[Premise, ...]:
    """What the writer of a line that fails goes on with: the line, and last what its chain began with as equal to its
    end (`v² = … = 2 (g h + F s/m)`, over several lines or on one)."""
    own = m.premises(implied=False)
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return own
    left, right = m.lowered.parts[0]
    head = left
    for p in reversed(m.context.premises):
        if p.sides is not None and p.sign == "=" and p.sides[1] is head and head.op not in ("var", "num"):
            head = p.sides[0]
    if head is left or head is right:
        return own
    return (*own, replace(own[0], term=sub(head, right), sides=(head, right), pair=None))


def _decided_in(inside: Matter, rules: Sequence[Rule], enough: Sequence[Standing]) -> Decision | None:
    if not inside.setting.states.any(inside.context).size:
        return None
    for rule in rules:
        decision = rule(inside)
        if decision is not None and decision.verdict.standing in enough:
            return decision
    return None
