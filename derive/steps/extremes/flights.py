"""What words say of a throw: the greatest height, the range, the time of flight, below courses of x and y by t, or
below the y of its path by x.

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
    said = set(m.words.lower().replace(",", " ").replace(":", " ").split()) - {"under"}
    throw = _thrown(m)
    found = defined_by(m, without_a_value(m)) if throw is not None and not said & _ELSEWHERE else None
    if throw is None or found is None:
        return None
    start = _at_start(throw)
    level = {p.term for c in m.setting.cases for p in c.premises if p.sign == "="}  # `h = 0: R = …`
    bare = not said and found[0].name in _BARE and (not m.setting.cases or level == {start})
    terms = tuple(_meaning(found[0], said | {_BARE[found[0].name]} if bare else said, throw))
    if not terms or any(v.name in m.fresh for v in variables(found[1])):
        return None
    label = f"meaning of {found[0].name}"
    premises = [Premise(label, t, "=", False, False, m.number, "meaning") for t in terms]
    later = Premise(label, var(_THERE), ">", False, False, m.number, "meaning")
    inside = m.setting.within(m.context.adding(*premises, later))
    if not inside.states.any(inside.context).size:
        return None
    fresh = tuple(n for n in m.fresh if n != found[0].name)
    surely = start in (ZERO, *level) and (not bare or {*variables(found[1])} == _given(throw) - {*variables(*level)})
    return Meant(replace(m, setting=inside, fresh=fresh), found[0], surely)


@dataclass(frozen=True, slots=True)
class _Throw:
    """How high and how far it is, along the time or the x of its path."""

    along: Var
    upwards: Term
    onwards: Term | None


def _thrown(m: Matter) -> _Throw | None:
    time, x = Var(TIME), Var("x")
    for along in (time, x):
        upwards = next((c for name in "yz" if (c := _course(name, along, m)) is not None), None)
        if upwards is not None and (along == time or time not in variables(upwards)):
            return _Throw(along, upwards, _course("x", time, m) if along == time else var(x))
    return None


def _course(name: str, along: Var, m: Matter) -> Term | None:
    return next((c for c in courses_of(name, m) if along in variables(c)), None)


def _given(throw: _Throw) -> set[Var]:
    """What the courses hang on, but for the time or the place."""
    courses = (throw.upwards, throw.onwards)
    return {v for c in courses if c is not None for v in variables(c)} - {throw.along}


def _meaning(name: Var, said: set[str], throw: _Throw) -> Iterator[Term]:
    stem, _, index = name.name.partition("_")
    timely = throw.along == Var(TIME)
    if stem in ("h", "H") and (index in _GREATEST or said & _GREATEST):
        yield sub(var(name), _then(throw.upwards, throw))
        yield _then(derivative(throw.upwards, lambda v: ONE if v == throw.along else ZERO), throw)
    elif stem in ("R", "d", "D") and "range" in said and throw.onwards is not None:
        yield sub(var(name), _then(throw.onwards, throw))
        yield _down_again(throw)
    elif stem in ("T", "t") and "flight" in said and timely:
        yield sub(var(name), var(_THERE))
        yield _down_again(throw)


def _then(course: Term, throw: _Throw) -> Term:
    return substitute(course, {var(throw.along): var(_THERE)})


def _at_start(throw: _Throw) -> Term:
    return substitute(throw.upwards, {var(throw.along): ZERO})


def _down_again(throw: _Throw) -> Term:
    """What is nothing at y = 0, apart from the start."""
    course = throw.upwards
    if _at_start(throw) is not ZERO or course.op != "add":
        return _then(course, throw)
    return add(*(mul(_then(part, throw), power(var(_THERE), MINUS_ONE)) for part in course.args))
