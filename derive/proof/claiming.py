"""Claims: taken apart into pairs, each judged in the setting left by the one before it."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Relation
from derive.proof import limits, stationary, trials
from derive.proof.branching import either
from derive.proof.claims import Pair, alternatives, pairs, without_bare_integrals
from derive.proof.context import Premise
from derive.proof.judge import judge
from derive.proof.lowering import lower
from derive.proof.said import Outcome, Source, matter, moved_on
from derive.proof.setting import Decision, Setting
from derive.proof.term import Term, sub
from derive.records import Standing


def decide_claim(claim: Claim, setting: Setting, source: Source, word: str = "") -> Outcome:
    claim = without_bare_integrals(claim, setting.context.world)
    options = alternatives(claim)
    if len(options) > 1:
        decision = either(claim, options, setting, source, word)
        return (replace(decision.verdict, span=claim.span),), decision.after
    verdicts = []
    for pair in pairs(options[0]):
        if isinstance(options[0], Relation):
            pair = stationary.of_chain(pair, options[0], setting.context.world)
        if pair.sign == "→":
            decision = limits.tends(pair, None, setting, source)
        else:
            decision = _judged_anew(pair, setting, source, word) or judge(matter(pair, setting, source, word))
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = moved_on(setting, decision.after)
    if len(verdicts) > 1 and all(v.standing is Standing.FOLLOWS for v in verdicts):
        setting = _ends_joined(options[0], setting, source)
    return tuple(verdicts), setting


def _judged_anew(pair: Pair, setting: Setting, source: Source, word: str) -> Decision | None:
    """A course given to a name that has so far only been given one as a trial, if it is right without that."""
    freed = trials.left_behind(pair, setting)
    decision = judge(matter(pair, freed, source, word)) if freed is not None else None
    return decision if decision is not None and decision.verdict.standing is Standing.FOLLOWS else None


def _ends_joined(claim: Claim, setting: Setting, source: Source) -> Setting:
    """Of `x = ∫ … = …` that holds throughout, also that the first side is the last: later lines look for it."""
    if not isinstance(claim, Relation) or set(claim.signs) != {"="}:
        return setting
    first, last = (lower(e, setting.context.world) for e in (claim.sides[0], claim.sides[-1]))
    if not isinstance(first, Term) or not isinstance(last, Term):
        return setting
    joined = Premise(source.label, sub(first, last), "=", True, True, source.number)
    return setting.within(setting.context.adding(joined))
