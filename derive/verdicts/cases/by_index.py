"""`t_b = (m0 - m1)/q`, then `v_b = …`: what v is at the time of the same index, where the lines tell it by t."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name, Relation, Statement, names_in
from derive.records import Standing, Verdict
from derive.states.context import given_by_time, tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.terms.world import TIME
from derive.verdicts.cases.where import said_at_instant

_HOLDING = (Standing.FOLLOWS, Standing.APPROXIMATES)


def at_its_own_time(
    statement: Statement, setting: Setting, source: Source, verdicts: tuple[Verdict, ...]
) -> Outcome | None:
    """The claim as said of that time, where it holds there, or where nothing else can be meant."""
    claim = statement.claim
    if setting.regime is not None or not isinstance(claim, Relation) or claim.signs[0] != "=" or not any(
            v.code in ("taken.definition", "taken.start") for v in verdicts[:1]):
        return None
    named = claim.sides[0]
    stem, _, index = named.ident.partition("_") if isinstance(named, Name) else ("", "", "")
    time, tied = f"{TIME}_{index}", tied_names(setting.context)
    if not index or not isinstance(named, Name) or named.ident in tied or time not in tied:
        return None
    if stem not in {v.name for v in given_by_time(setting.context)} | setting.context.world.functions.keys():
        return None
    where = Relation((Name(TIME), Name(time)), ("=",), span=claim.span)
    found, after = said_at_instant(replace(statement, role="at", where=where), setting, source)
    # Of a body there would be more that has its letter; numbers are given to bodies and moments alike.
    alone = [n for n in tied if n.partition("_")[2] == index] == [time]
    settled = index.isalpha() and alone and TIME not in names_in(claim)
    if all(v.standing in _HOLDING for v in found) or (settled and found[0].standing is Standing.FAILS):
        return found, replace(after, cases=setting.cases)
    return None
