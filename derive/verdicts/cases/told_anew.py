"""A value told once more, of what comes next (`then brakes: a = -6 m/s²` below `a = 4 m/s²`) or of another situation
(`wet road: μ = 0.35` below `μ = 0.7`)."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lists.vocabulary import JOINING
from derive.notation.tree import Relation, Statement
from derive.readings import gives_a_value
from derive.records import Standing
from derive.states.context import tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Setting
from derive.states.states import freedom
from derive.states.yielding import is_value, without_values_of
from derive.terms.claims import pairs
from derive.terms.term import Var, var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.found_before import found_constants, otherwise
from derive.verdicts.cases.which_case import spoken, telling_which
from derive.verdicts.claims.claiming import decide_claim

# What tells a stretch of time, or a piece of the way, from the one before (common practice, no source).
_NEXT = frozenset(("then", "now", "next", "later", "afterwards", "second", "secondly"))

_ELSE = frozenset(("now", "instead", "alternatively", "otherwise"))


def told_anew(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The claim as a value of the next situation, where the name had one that was told, and none that was reckoned."""
    claim, said = statement.claim, f"{statement.word} {source.words}"
    if setting.strict or setting.regime is not None or not gives_a_value(claim):
        return None
    assert isinstance(claim, Relation)
    name = claim.sides[0].ident  # type: ignore[union-attr]
    old = [p for p in setting.context.premises if is_value(p) and p.sides is not None and p.sides[0] is var(Var(name))]
    if not old or any(p.implied or p.kind == "reckoned" for p in old):
        return None
    before = " ".join(source.headed.get(p.source, "") for p in old)
    if not _is_next({*spoken(said)}) and not (_is_another(said, before) and _is_open(name, setting)):
        return None
    anew = setting.within(without_values_of(setting.context, {name, TIME}))  # its time is counted anew as well
    anew = _with_the_old_given_way(name, claim, anew, setting, source)
    verdicts, after = decide_claim(
        claim, replace(anew, cases=(), rounded=(), limits=(), ends=(), situation=source.number), source)
    return (verdicts, after) if all(v.standing is Standing.TAKEN for v in verdicts) else None


def _with_the_old_given_way(
    name: str, claim: Relation, anew: Setting, setting: Setting, source: Source
) -> Setting:
    """The setting without what was told beside the old value (`F = 20 N, x = 0.1 m`), where that and what has been
    found (k = 200 N/m) leave no room for the new one."""
    told = matter(next(pairs(claim)), anew, source).premises(implied=False)
    found = [p for p in found_constants(setting) if Var(name) not in variables(p.term)]
    if not found or anew.states.any(anew.context, (*told, *found)).size:
        return anew
    return next((s for s in otherwise({name}, setting) if s.states.any(s.context, told).size), anew)


def _is_open(name: str, setting: Setting) -> bool:
    """Is it for the page to tell what a quantity is: do its relations leave it open, whatever g may be?"""
    context = without_values_of(setting.context, {name})
    given = [Var("g")] if "g" in tied_names(context) - {name} else []
    own = freedom(context, [*given, Var(name)], (), setting.states)
    return own == 1 + (freedom(context, given, (), setting.states) if given else 0)


def _is_next(said: set[str]) -> bool:
    """`then brakes: …`; but `then v = 30 m/s` is drawn from what stands above."""
    return bool(said & _NEXT and said - _NEXT)


def _is_another(said: str, before: str) -> bool:
    """Do words tell of another situation than those beside the value above?"""
    said = " ".join(w for w in spoken(said) if w not in JOINING or w in _ELSE)
    return bool(_ELSE & {*spoken(said)} or telling_which(said) - telling_which(before))
