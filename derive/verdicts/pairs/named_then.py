"""What a new name is for at a moment: the v1 of `at t = t1: v1 = …` is what v is then."""

from __future__ import annotations

from dataclasses import replace

from derive.states.context import Premise
from derive.states.setting import Case, Decision, Matter, Setting
from derive.states.states import freedom
from derive.steps.letters import valued
from derive.terms.term import Var, sub, var
from derive.verdicts.pairs.customs import by_value_in_open_case
from derive.verdicts.pairs.refuting import fails
from derive.verdicts.pairs.said_there import at_instant


def value_then(m: Matter, case: Case, setting: Setting) -> Decision | None:
    """`at t = t1: v1 = …` says what v is then, where the lines above tell."""
    there = replace(m, setting=setting.opening(case))
    told = by_value_in_open_case(there)
    if told is not None:
        return replace(told, after=replace(told.after, cases=setting.cases))
    meant = valued.as_value_there(there)
    stem, _, index = meant[1].name.partition("_") if meant is not None else ("", "", "")
    placed_by = setting.context.world.fields.get(case.key.partition("=")[0]) == stem
    if meant is None or setting.hopeful or index in ("max", "min") or (index == "0" and not placed_by):
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
