"""A condition that is reckoned out: `A = B when a = L/2 = 2.0 m`, where the number is a claim and no condition."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Relation, Statement, names_in
from derive.records import Standing
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.verdicts.claims.claiming import decide_claim


def with_its_number_apart(statement: Statement, setting: Setting, source: Source) -> Statement | Outcome:
    """The statement said of `a = L/2` alone, where what the page says of L/2 gives the number, or of `v = 90 km/h`,
    which is 25 m/s; the break of the number, where it does not. One that nothing gives is a part of the condition."""
    where = statement.where
    if statement.role not in ("at", "suppose") or not isinstance(where, Relation) or set(where.signs) != {"="} or (
            statement.claim is None or statement.claim is where):
        return statement
    condition, number = (replace(where, sides=where.sides[:2], signs=where.signs[:1]),
                         replace(where, sides=where.sides[1:], signs=where.signs[1:]))
    if len(where.sides) < 3 or names_in(replace(where, sides=where.sides[-1:], signs=())):
        return statement
    asked, _ = decide_claim(number, replace(setting.asking(), cases=()), source)
    if all(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in asked):
        return replace(statement, where=condition)
    told = decide_claim(number, setting, source) if not setting.hopeful else ((), setting)
    return told if any(v.standing is Standing.FAILS for v in told[0]) else statement
