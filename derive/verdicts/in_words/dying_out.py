"""Motions that die out and never quite end: `stops at x = m u/b` of a v = u e^(-b t/m) is so in the long run."""

from __future__ import annotations

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Constant, Name, Relation
from derive.states.setting import Setting
from derive.terms.term import ZERO, Term, Var, postorder, substitute, variables
from derive.terms.tidying import tidied
from derive.terms.world import TIME

_ENDS = words("stops stop stopped stopping halts rest total altogether far")
IN_THE_LONG_RUN = Relation((Name(TIME), Constant("∞")), ("→",))


def settles(course: Term) -> bool:
    """Does t stand in nothing but what dies out: e^(-k t), tanh(k t)? `v → 0` is said of a moment of `v = u - g t`."""
    dying = _dying(course)
    return bool(dying) and Var(TIME) not in variables(substitute(course, dying))


def dies_out(name: str, setting: Setting) -> bool:
    """Has a name a course that is nothing in the long run, and only then?"""
    course = setting.context.world.functions.get(name)
    return course is not None and settles(course) and tidied(substitute(course, _dying(course))) is ZERO and (
        course.op in ("mul", "fun"))


def dies_in_part(course: Term) -> bool:
    """Does something of a course die out, beside what goes on: `A e^(-γ t) cos(ω1 t) + D cos(Ω t - δ)`?"""
    return any(Var(TIME) in variables(s) for s in _dying(course))


def in_the_long_run(heard: str, claim: Claim | None, setting: Setting) -> Relation | None:
    """t → ∞ for `stops at x = m u/b`, `total distance x = m u/b`, where x settles and its speed is never nothing."""
    said = heard.lower().replace(",", " ").replace(":", " ").split()
    first = claim.sides[0] if isinstance(claim, Relation) and set(claim.signs) == {"="} else None
    course = setting.context.world.functions.get(first.ident) if isinstance(first, Name) else None
    return IN_THE_LONG_RUN if course is not None and settles(course) and not _ENDS.isdisjoint(said) else None


def _dying(course: Term) -> dict[Term, Term]:
    return {s: ZERO for s in postorder(course) if s.op == "fun" and s.value in ("exp", "tanh")}
