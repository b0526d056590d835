"""What a logarithm that has been written says besides: what it is taken of is positive.

`ln(1 - b v/(m g)) = -b t/m` says that v stays below m g/b; the lines below may rest on that.
"""

from __future__ import annotations

from derive.records import Standing
from derive.states.context import Premise
from derive.states.setting import Decision, Matter
from derive.terms.term import Term, is_run_over, postorder, variables

_HOLDS = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.TAKEN)


def with_their_domain(decision: Decision, m: Matter) -> Decision:
    """The decision with what stands in the line's logarithms positive from there on, where that can be."""
    inside = _taken_of(m) if decision.verdict.standing in _HOLDS else []
    context = decision.after.context
    known = {p.term for p in context.premises if p.sign == ">"}
    new = [t for t in inside if t not in known and variables(t)]
    said = tuple(Premise(m.label, t, ">", False, False, m.number, "range") for t in new)
    if not said or not m.setting.states.any(context, said).size:
        return decision
    return Decision(decision.verdict, decision.after.within(context.adding(*said)))


def _taken_of(m: Matter) -> list[Term]:
    """Sums in the logarithms of both sides: a lone name has its sign from elsewhere, and what runs under an integral is
    known there alone."""
    return [
        t.args[0] for part in m.lowered.parts for side in part for t in postorder(side)
        if t.op == "fun" and t.value == "ln" and t.args and any(s.op == "add" for s in postorder(t.args[0]))
        and not is_run_over(t)]
