"""How a motion starts, said where its course is known but for its constants: `x(0) = 1, x'(0) = 0`.

Where nothing above says how the motion starts, what ties nothing but constants of integration is taken as that, and
fixes them. With givens the line has to speak of what moves: `at t = 0: C = ln u` is there to be shown.
"""

from __future__ import annotations

import re
from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Value, names_in, walk
from derive.records import Standing, Verdict
from derive.states.context import Context
from derive.states.setting import Decision, Matter
from derive.states.sizes import sized
from derive.states.states import freedom
from derive.terms.term import Var, variables
from derive.terms.world import TIME

_SOME = 4


def start_of_motion(m: Matter) -> Decision | None:
    """A value at an instant that only fixes constants of a course."""
    if m.pair.sign != "=" or not (m.at or _speaks_of_an_instant(m)) or (
            m.setting.strict and not any(m.context.world.is_changing(Var(n)) for n in names_in(m.pair.relation()))):
        return None
    context, states = m.context, m.setting.states
    own = variables(*(context.resolved(r) for r in m.residuals))
    constants = _of_courses(context)
    if not constants & {v.name for v in own} or works_out_a_start(m) or any(
            context.world.is_changing(v) or v.order or v.at for v in own):
        return None
    start = m.premises(implied=False, always=False, kind="instant")
    beside = sorted(
        {v for p in (*context.premises, *start) for v in variables(context.resolved(p.term))
         if v.role == "value" and not v.order and not v.at and not context.world.is_changing(v)
         and v.name not in constants}, key=lambda v: v.name)
    fixed = [*beside, *(v for v in own if v.name in constants)]  # `B = γ A` fixes B once γ and A are what they are
    # Among masses and stiffnesses of any sign hardly a state is found at which `ω D` is nothing and ω is not.
    sizes = [v for v in variables(*(p.term for p in context.premises)) if v.name not in constants]
    ground = sized(context, sizes) or context
    if not states.any(ground, start).size or not 0 <= freedom(ground, fixed, start, states) < freedom(
            ground, fixed, (), states) or freedom(ground, beside, start, states) < freedom(ground, beside, (), states):
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.initial", facts=(("case", as_text(m.pair.relation())),))
    kept = context if states.any(context, start).size >= _SOME else ground
    return Decision(verdict, m.setting.within(kept.adding(*start)))


def works_out_a_start(m: Matter) -> bool:
    """`x(0) = A + B`: what speaks of the constants themselves says what the course is there, and may be wrong."""
    spoken = m.at or _speaks_of_an_instant(m)
    return bool(spoken) and not _of_courses(m.context).isdisjoint(names_in(m.pair.relation()))


def _speaks_of_an_instant(m: Matter) -> bool:
    return any(isinstance(n, Value) for n in walk(m.pair.relation()))


def _of_courses(context: Context) -> set[str]:
    """The constants in the courses of what moves that no given speaks of and no shorthand stands for."""
    world = context.world
    here = {v.name for course in world.functions.values() for v in variables(course)}
    here -= {v.name for p in context.premises if p.kind == "given" for v in variables(p.term)}
    return here - {TIME} - (world.definitions.keys() - world.constants) - {n for n in here if world.is_changing(Var(n))}


_FROM_REST = re.compile(r"\b(from rest|initially at rest|starts? at rest|at rest (at first|initially|to start))\b")
# A condition that says no more: a speed, or a rate, that is nothing when the motion starts.
_NO_SPEED = re.compile(r"(?:[vωu](?:_\w+)?|[^\W\d_](?:_\w+)?') = 0 at t = 0")


def starts_from_rest(words: str) -> bool:
    """`the barge starts from rest`"""
    return _FROM_REST.search(words.lower()) is not None


def granted_from_rest(decision: Decision, m: Matter) -> Decision:
    """A line that holds where the motion starts from rest, below a sentence that says it does."""
    verdict = decision.verdict
    asked = m.setting.from_rest and verdict.standing is Standing.FOLLOWS_IF
    if not asked or not _NO_SPEED.fullmatch(verdict.condition):
        return decision
    granted = replace(
        verdict, standing=Standing.FOLLOWS, code="follows.plain", condition="", facts=(), state=None,
        premises=(*verdict.premises, "the start from rest"))
    return replace(decision, verdict=granted)
