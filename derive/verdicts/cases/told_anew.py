"""A value told once more, of what comes next: `then brakes: a = -6 m/s²` below `a = 4 m/s²`."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Relation, Statement
from derive.readings import gives_a_value
from derive.records import Standing
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.yielding import is_value, without_values_of
from derive.terms.term import Var, var
from derive.terms.world import TIME
from derive.verdicts.claims.claiming import decide_claim

# What tells a stretch of time, or a piece of the way, from the one before (common practice, no source).
_NEXT = frozenset(("then", "now", "next", "later", "afterwards", "second", "secondly"))


def told_anew(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The claim as a value of the next situation, where the name had one that was told, and none that was reckoned."""
    claim, said = statement.claim, {*f"{statement.word} {source.words}".lower().replace(":", " ").split()}
    if setting.strict or not gives_a_value(claim) or not said & _NEXT or not said - _NEXT:
        return None  # `then v = 30 m/s` is drawn from what stands above
    assert isinstance(claim, Relation)
    name = claim.sides[0].ident  # type: ignore[union-attr]
    old = [p for p in setting.context.premises if is_value(p) and p.sides is not None and p.sides[0] is var(Var(name))]
    if not old or any(p.implied or p.kind == "reckoned" for p in old):
        return None
    anew = setting.within(without_values_of(setting.context, {name, TIME}))  # its time is counted anew as well
    verdicts, after = decide_claim(
        claim, replace(anew, cases=(), rounded=(), limits=(), ends=(), situation=source.number), source)
    return (verdicts, after) if all(v.standing is Standing.TAKEN for v in verdicts) else None
