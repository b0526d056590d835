"""`uphill at α = 5°: F = k v² + m g sin α`: a law with a name that is new, whose value the line tells as well."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name, Relation, Statement, names_in
from derive.readings import gives_a_value
from derive.records import Standing
from derive.states.context import tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.yielding import is_value
from derive.terms.term import variables
from derive.verdicts.cases.giving_way import without
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.claims.suppositions import case_of


def brought_in_with_its_value(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The claim as one that brings in a name, and its value put beside it: that makes it no step from above. None where
    it would be none without the value either."""
    claim, where = statement.claim, statement.where
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not setting.strict or where == claim:
        return None
    head = isinstance(where, Relation) and gives_a_value(where)
    if where is not None and not head:
        return None
    here = [p for p in setting.context.premises if p.source == source.number and is_value(p)]
    bare = setting.within(without(setting.context, here)) if here else setting
    told = {v.name for p in here for v in variables(p.term)}
    if isinstance(where, Relation) and isinstance(where.sides[0], Name):
        told |= {where.sides[0].ident}
    if not told & {*names_in(claim)} - tied_names(bare.context):
        return None
    found, after = decide_claim(claim, bare, source, statement.word)
    if not found or any(v.standing is not Standing.TAKEN or v.code != "taken.start" for v in found):
        return None
    after = after.within(after.context.adding(*here))
    return found, after.opening(replace(case_of(where, after, source), line=source.number)) if where else after
