"""What is supposed of the moment that the lines just above speak of: `N ≥ 0: v0² ≥ 5 g R` below `at the top θ = π:
N = m v0²/R - 5 m g`, of an N that is another at every θ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Statement
from derive.records import Standing, Verdict
from derive.states.context import Premise
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Case, Setting
from derive.steps.brought_in import moments
from derive.terms.claims import alternatives, pairs
from derive.verdicts.pairs.at_states import holds_at_states
from derive.verdicts.pairs.customs import by_custom
from derive.verdicts.pairs.said_there import at_instant

_NEXT = 2  # lines below the one that speaks of the moment: an empty one may stand between


def still_then(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """What is said of all moments and is not so, said of the one that is spoken of; None where it is not so then
    either."""
    unsupported = any(v.standing is Standing.FAILS or v.code == "taken.case" for v in verdicts)
    of = (statement, setting, source, verdicts)
    return (_supposed_then(*of) or _bounded_then(*of) or _drawn_then(*of)) if unsupported else None


def _supposed_then(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """A claim under a condition."""
    case, where, claim = _moment(setting, source), statement.where, statement.claim
    if case is None or where is None or claim is None or statement.role not in ("suppose", "at") or (
            all(v.standing is not Standing.FAILS for v in verdicts)):
        return None
    told = _said_then(where, case, setting, source)
    found = _follow_then(claim, told, case, setting, source)
    then = Case(as_text(where), premises=told, line=source.number, where=where)
    return (found, setting.opening(then)) if found else None


def _drawn_then(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """A claim that its line draws from what it has supposed: `N = 0 gives v0 = √(5 g R)`."""
    *before, supposed = setting.cases or (Case(""),)
    outer, claim = replace(setting, cases=tuple(before)), statement.claim
    case = _moment(outer, source)
    if case is None or claim is None or not supposed.premises or supposed.premises[-1].source != source.number or (
            all(v.standing is not Standing.FAILS for v in verdicts)):
        return None
    context = setting.context
    told = tuple(replace(p, term=context.placed(context.resolved(p.term), case.key), sides=None)
                 for p in supposed.premises)
    found = _follow_then(claim, told, case, outer, source)
    return (found, outer.opening(replace(supposed, premises=told))) if found else None


def _follow_then(
    claim: Claim, told: tuple[Premise, ...], case: Case, setting: Setting, source: Source
) -> tuple[Verdict, ...]:
    """The verdicts on a claim about a moment of which more is told; nothing where it does not follow."""
    context = setting.context.adding(*told)
    if not told or not setting.states.any(context).size:
        return ()
    inside, found = replace(setting.within(context), cases=()), []
    for pair in pairs(alternatives(claim)[0]):
        there = at_instant(matter(pair, inside, source, "under"), case.key)
        decision = holds_at_states(there) or by_custom(there)
        if decision is None or decision.verdict.standing is not Standing.FOLLOWS:
            return ()
        facts = (("case", case.words),)
        found.append(replace(decision.verdict, code="follows.in_case", facts=facts, span=pair.span))
    return tuple(found)


def _bounded_then(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """`N ≥ 0` next below `at the top θ = π: N = …`: what has to be then, and the lines below go on with it."""
    case, claim = _moment(setting, source), statement.claim
    if case is None or claim is None or statement.role != "claim" or len(verdicts) != 1 or not (
            verdicts[0].standing is Standing.FAILS or verdicts[0].code == "taken.case"):
        return None
    (pair,) = pairs(alternatives(claim)[0])
    told = _said_then(claim, case, setting, source)
    if not moments.bounds_a_force(matter(pair, setting, source)) or not setting.states.any(setting.context, told).size:
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.case", span=pair.span)
    return (verdict,), setting.opening(Case(as_text(claim), premises=told))


def _moment(setting: Setting, source: Source) -> Case | None:
    case = setting.cases[-1] if setting.cases else None
    near = case is not None and bool(case.key) and not case.left and 0 < source.number - case.opened <= _NEXT
    return case if near and setting.regime is None else None


def _said_then(where: Claim, case: Case, setting: Setting, source: Source) -> tuple[Premise, ...]:
    matters = (matter(pair, setting, source) for pair in pairs(alternatives(where)[0]))
    return tuple(p for m in matters for p in at_instant(m, case.key).premises(implied=False, always=False))

