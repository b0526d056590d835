"""What is said of a line that loses a case: under which condition it holds, and a state of the case that is lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from derive.proof.support import proof_of, with_proof
from derive.records import Standing, State, Verdict
from derive.states.context import Context, Premise
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.terms.term import Term, Var, neg, variables
from derive.terms.tidying import tidied
from derive.terms.world import TIME
from derive.terms.writing import is_negative, written


@dataclass(frozen=True, slots=True)
class Condition:
    """`term sign 0`."""

    term: Term
    sign: str


def assumed(condition: Condition) -> Premise:
    """A condition as a premise for what follows."""
    term = condition.term if condition.sign != "<" else neg(condition.term)
    return Premise("condition", term, "≠" if condition.sign == "≠" else ">", always=False)


_TURNED = {"≠": "≠", ">": "<", "<": ">"}


def _said(condition: Condition) -> str:
    """`m_1 ≠ m_2` rather than `m_1 - m_2 ≠ 0`, and nothing said of the opposite of a sum."""
    term, sign = tidied(condition.term), condition.sign
    if term.op == "mul" and term.args[0].op == "num" and term.args[0].value < 0:
        term, sign = neg(term), _TURNED[sign]
    if term.op == "add" and len(term.args) == 2:
        taken = [is_negative(t) for t in term.args]
        if taken.count(True) == 1:
            left, right = term.args if taken[1] else term.args[::-1]
            return f"{written(left)} {sign} {written(neg(right))}"
    return f"{written(term)} {sign} 0"


_CONTRARY = {"≠": "=", ">": "<", "<": ">"}


def _lost(m: Matter, condition: Condition, context: Context) -> State | None:
    """A state of the case that is lost: sought where the contrary of the condition holds, which chance seldom meets
    at round values."""
    contrary = Premise("condition", condition.term, _CONTRARY[condition.sign], always=False)
    left, right = m.lowered.parts[0]
    there = (
        shown_state(m.setting.within(c), left, right, m.pair.sign, about=(condition.term,))
        for c in (context.adding(contrary), context))
    return next((state for state in there if state is not None), None)


def _passes(condition: Condition, m: Matter) -> bool:
    """`ω² = k/m` but for the times at which cos ω t = 0: of what stays the same it is so at any time, if at others."""
    t, world = condition.term, m.context.world
    # A sine is nothing for good where its rate is; on a page without givens nobody thinks of that.
    waves = ("cos",) if m.setting.strict else ("cos", "sin")
    wave = condition.sign == "≠" and t.op == "fun" and t.value in waves and Var(TIME) in variables(t)
    others = [*variables(t), *m.unknowns]
    return wave and not any(
        v.order or v.at or v.role != "value" or world.is_changing(v) for v in others if v != Var(TIME)) and (
        Var(TIME) not in m.unknowns)


def decided(
    m: Matter, condition: Condition, cloud: Cloud, more: Sequence[Condition] = (), at: Context | None = None
) -> Decision:
    """The pair under conditions; `at` is a context whose states show what is lost where the usual ones do not."""
    if not more and at is None and _passes(condition, m):
        verdict = with_proof(Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.plain"), None, m.cites)
        return Decision(verdict, m.setting.within(m.context.adding(*m.premises(implied=False))))
    conditions = (condition, *more)
    text = " and ".join(map(_said, conditions))
    lost = _lost(m, condition, at or m.context) if m.setting.losses else None
    verdict = Verdict(
        Standing.FOLLOWS_IF, points=cloud.size, condition=text, state=lost, code="follows.if",
        facts=(("condition", text),))
    within = m.context.adding(*map(assumed, conditions))
    certificates = proof_of(within, m.lowered.parts, m.pair.sign, cloud=cloud) if m.setting.proofs else None
    verdict = with_proof(verdict, certificates, m.cites)
    after = within.adding(*m.premises(implied=False))
    return Decision(verdict, m.setting.within(after))
