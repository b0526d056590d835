"""What a new name is for at a moment: the v1 of `at t = t1: v1 = …` is what v is then."""

from __future__ import annotations

from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Premise
from derive.states.setting import Case, Decision, Matter, Setting
from derive.states.states import freedom
from derive.steps.changing.oscillation import with_meaning
from derive.steps.letters import valued
from derive.terms.term import Var, sub, var
from derive.terms.world import TIME
from derive.verdicts.pairs.customs import by_value_in_open_case
from derive.verdicts.pairs.refuting import fails
from derive.verdicts.pairs.said_there import at_instant, later
from derive.verdicts.pairs.weighing import evidence


def value_then(m: Matter, case: Case, setting: Setting) -> Decision | None:
    """`at t = t1: v1 = …` says what v is then, where the lines above tell."""
    there = replace(m, setting=setting.opening(case))
    told = by_value_in_open_case(there)
    if told is not None:
        return replace(told, after=replace(told.after, cases=setting.cases))
    spoken = _spoken_of_within(there, case)
    if spoken is not None:
        return spoken
    meant = valued.as_value_there(there)
    stem, _, index = meant[1].name.partition("_") if meant is not None else ("", "", "")
    placed_by = setting.context.world.fields.get(case.key.partition("=")[0]) == stem
    if meant is None or setting.hopeful or index in ("max", "min") or (index == "0" and not placed_by) or (
            meant[1].name == "T" and with_meaning(there) is not None):
        return None  # the first and the extreme are of other moments; x0 may be where F, which goes along x, is nothing
    placed = at_instant(replace(meant[0], setting=setting), case.key)
    own = [v for v in placed.unknowns if v.role == "value"]
    given = [v for v in own if not v.at]
    free = freedom(setting.context, given, (), setting.states)
    settled = own == given or 0 <= free == freedom(setting.context, own, (), setting.states)
    found = fails(placed) if settled else None
    if found is None:
        return None
    # The lines below go on with the name for what it names.
    c, name = found.after.context, meant[1]
    value = c.placed(c.resolved(var(Var(name.name.partition("_")[0]))), case.key)
    known = Premise(m.label, sub(var(name), value), always=False, source=m.number, kind="definition")
    return replace(found, after=found.after.within(c.adding(known)))


def _spoken_of_within(there: Matter, case: Case) -> Decision | None:
    """`at y = 0: 0 = h + u t1 - ½ g t1²` says what it comes to then, with the new t1 for the time of it."""
    meant = valued.as_value_within(there)
    if meant is None or meant.name.name.partition("_")[0] != TIME or case.key.startswith(f"{TIME}="):
        return None
    inside, told, _ = meant
    placed = later(at_instant(inside, case.key), case.key)
    (found,), cloud = evidence(placed)
    if not cloud.size:
        return None
    known = [Premise("", sub(var(told), var(Var(TIME, at=case.key))), always=False, source=there.number)]
    after = there.setting.within(there.context.adding(*known))
    after = replace(after, cases=after.cases[:-1])
    if found.all_hold:
        verdict = Verdict(Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.at",
                          facts=(("case", case.words),))
        return Decision(verdict, after)
    own = [v for v in placed.unknowns if v.role == "value"]
    c, states = placed.context, placed.setting.states
    if not 0 <= freedom(c, own, (), states) < len(own) or not found.all_fail:
        return None
    broken = fails(placed)
    return replace(broken, after=replace(after, broken=broken.after.broken)) if broken is not None else None
