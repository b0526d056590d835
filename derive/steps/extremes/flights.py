"""What words say of a throw: the greatest height, the range, the time of flight, below courses of x and y by t.

Where the flight begins at y = 0 nobody means anything else, and a wrong one is refuted; else the words may speak of a
height above something, and are believed only where the line holds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from derive.states.context import Premise
from derive.states.setting import Matter
from derive.steps.extremes.greatest import courses_of
from derive.steps.letters.defining import defined_by
from derive.steps.letters.valued import without_a_value
from derive.terms.calculus import derivative
from derive.terms.term import MINUS_ONE, ONE, ZERO, Term, Var, add, mul, power, sub, substitute, var, variables
from derive.terms.world import TIME

_GREATEST = frozenset(("max", "max.", "maximum", "maximal", "greatest", "highest", "peak"))
# What letters stand for below the courses of a throw where nothing else is said (common practice, no source).
_BARE = {"H": "highest", "R": "range"}
_ELSEWHERE = frozenset(("above", "along", "slope", "incline", "plane", "hill"))
_THERE = Var("t_flight")


@dataclass(frozen=True, slots=True)
class Meant:
    """The matter with what a name means among its premises, the name, and whether nothing else can be meant."""

    inside: Matter
    name: Var
    surely: bool


def with_meaning(m: Matter) -> Meant | None:
    """`max height H = …`, `range R = …`, `time of flight T = …`, each of a name that has no value yet."""
    said = set(m.words.lower().replace(",", " ").replace(":", " ").split())
    upwards = next((c for name in "yz" if (c := _by_time(name, m)) is not None), None)
    found = defined_by(m, without_a_value(m)) if upwards is not None and not said & _ELSEWHERE else None
    if upwards is None or found is None:
        return None
    bare = not said and found[0].name in _BARE and not m.setting.cases
    terms = tuple(_meaning(found[0], said | {_BARE[found[0].name]} if bare else said, upwards, m))
    if not terms or any(v.name in m.fresh for v in variables(found[1])):
        return None
    label = f"meaning of {found[0].name}"
    premises = [Premise(label, t, "=", False, False, m.number, "meaning") for t in terms]
    later = Premise(label, var(_THERE), ">", False, False, m.number, "meaning")
    inside = m.setting.within(m.context.adding(*premises, later))
    if not inside.states.any(inside.context).size:
        return None
    fresh = tuple(n for n in m.fresh if n != found[0].name)
    surely = _at_start(upwards) is ZERO and (not bare or {*variables(found[1])} == _given(upwards, m))
    return Meant(replace(m, setting=inside, fresh=fresh), found[0], surely)


def _given(upwards: Term, m: Matter) -> set[Var]:
    """What the courses hang on, but for the time."""
    return {v for c in (upwards, _by_time("x", m)) if c is not None for v in variables(c)} - {Var(TIME)}


def _meaning(name: Var, said: set[str], upwards: Term, m: Matter) -> Iterator[Term]:
    stem, _, index = name.name.partition("_")
    onwards = _by_time("x", m)
    if stem in ("h", "H") and (index in _GREATEST or said & _GREATEST):
        yield sub(var(name), _then(upwards))
        yield _then(derivative(upwards, lambda v: ONE if v == Var(TIME) else ZERO))
    elif stem in ("R", "d", "D") and "range" in said and onwards is not None:
        yield sub(var(name), _then(onwards))
        yield _down_again(upwards)
    elif stem in ("T", "t") and "flight" in said:
        yield sub(var(name), var(_THERE))
        yield _down_again(upwards)


def _by_time(name: str, m: Matter) -> Term | None:
    return next((c for c in courses_of(name, m) if Var(TIME) in variables(c)), None)


def _then(course: Term) -> Term:
    return substitute(course, {var(Var(TIME)): var(_THERE)})


def _at_start(course: Term) -> Term:
    return substitute(course, {var(Var(TIME)): ZERO})


def _down_again(course: Term) -> Term:
    """What is nothing at y = 0, apart from the start."""
    if _at_start(course) is not ZERO or course.op != "add":
        return _then(course)
    return add(*(mul(_then(part), power(var(_THERE), MINUS_ONE)) for part in course.args))
