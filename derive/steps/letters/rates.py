"""What letters say of a motion in a working without givens: v and a are rates, and what is given outright stays.

Customs like those of `customary`, which asks for these views of a line.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from derive.states.context import Premise, given_by_time, tied_names
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.outright import course_by_time
from derive.states.setting import Decision, Matter
from derive.states.states import freedom
from derive.steps.changing.misfits import changes_otherwise
from derive.steps.letters import polar, speeds, vector_rates
from derive.terms.isolation import isolated
from derive.terms.placing import instant_key
from derive.terms.tape import taped
from derive.terms.term import ZERO, Term, Var, add, neg, postorder, sub, var, variables
from derive.terms.world import TIME
from derive.terms.writing import is_negative

# How often the coordinate is differentiated, and what is said of it.
_RATES = {"v": (1, "v being the velocity"), "a": (2, "a being the acceleration")}
_TURNS = {"ω": (1, "ω being the angular velocity"), "α": (2, "α being the angular acceleration")}
_RATES_SAID = frozenset((*speeds.SAID, *(said for _, said in (*_RATES.values(), *_TURNS.values()))))
_PLACES = frozenset("xyzs")
_ALONG = _PLACES | {"r"}
_ANGLES = frozenset("θφ")
_SAME = " staying the same"
# A quantity less than this in every state is nothing.
_NOTHING = 1e-9
# To how many a ratio is the same in every state.
_DECIMALS = 9


def views(m: Matter) -> Iterator[Matter]:
    """The matter with what its letters mean, and with what stays the same."""
    yield from _rates(m)
    yield from _along_an_axis(m)
    yield from vector_rates.views(m)
    yield from (x for still in polar.steady(m) for x in vector_rates.views(still))
    yield from vector_rates.by_force(m)
    yield from polar.views(m)
    yield from _turning(m)
    yield from _sum_of_a_course(m)
    yield from _unchanging(m)


def of_motion(inside: Matter) -> bool:
    """Is the latest custom of a matter one of these?"""
    return vector_rates.of_vectors(inside) or polar.by_angle(inside) or (
        inside.context.premises[-1].label in _RATES_SAID or says_same(inside))


def says_same(inside: Matter) -> bool:
    return inside.context.premises[-1].label.endswith(_SAME)


def gives_course(m: Matter, inside: Matter) -> bool:
    """Does a custom hold a line to how what it gives changes, whatever its constants?"""
    return says_same(inside) or inside.fresh != m.fresh


def grows_otherwise(m: Matter) -> Decision | None:
    """The break of `v = v0 + μ g t` below `a = -μ g`. Only a multiple of a is held against a line, or its opposite
    where a is signed: nobody has said that this v is the speed of what has this a."""
    left, right = m.lowered.parts[0]
    speed, acceleration, world = Var("v"), Var("a"), m.context.world
    if m.setting.strict or m.pair.sign != "=" or world.moving or "v" not in m.fresh or left.value != speed:
        return None
    by_time = linear(right, Var(TIME))
    given = next((rest for p in reversed(m.context.premises) if p.sign == "="
                  for u, rest in isolated(p.term) if u == acceleration and variables(rest)), None)
    if by_time is None or given is None or any(
            v.name == TIME or v.name in _PLACES or world.is_changing(v) for v in variables(by_time[0], given)):
        return None
    times = _multiple(by_time[0], given, m)
    if times in (None, 0, 1) or (times == -1 and not is_negative(given)):
        return None
    return changes_otherwise(speeds.seen_with_its_rate(m))


def _multiple(t: Term, of: Term, m: Matter) -> float | None:
    """How many times another term one is, where that is the same number in every state."""
    cloud = m.setting.states.of(m.context, (t, of))
    if not cloud.size:
        return None
    with np.errstate(all="ignore"):
        times = np.unique(np.round(np.divide(*taped(t, of).run(dict(cloud.columns))), _DECIMALS))
    return float(times[0]) if len(times) == 1 and np.isrealobj(times) and np.isfinite(times[0]) else None


def binding(m: Matter, inside: Matter) -> bool:
    """Is a line that does not hold under the custom wrong? `v = A ω sin ωt` is said of the course x = A cos ωt."""
    if says_same(inside):
        return False
    if vector_rates.of_vectors(inside):
        return vector_rates.binding(m, inside)
    if polar.by_angle(inside):
        return polar.binding(m, inside)
    if any(isinstance(a.value, Var) and a.value.name in _PLACES and not a.value.order for a, _ in m.lowered.parts):
        return False  # a course of the place itself, tried or found
    if speeds.gives_course(m) or ((_rate_of_its_place(m) or _is_of_its_course(m, inside)) and not m.words):
        return True
    if _goes_along(m) and not m.words:
        return True
    turning = (t for t in postorder(*m.residuals) if t.op == "fun" and t.value in ("sin", "cos"))
    waves = any(not any(v.name in _PLACES for v in variables(t)) for t in turning)  # no `U0 cos(x/a)`
    return waves or _settled_by_the_custom(m, inside) or (
        inside.context.premises[-1].label == _TURNS["α"][1] and settled_by_its_place(m, inside))


def _goes_along(m: Matter) -> bool:
    """`v dv/dy = -g + k v²/m` next below `m v' = -m g - k v²`: how the same speed goes along its way, v'/y' as it is
    read. Of the way back another equation may be said."""
    along = [v for v in m.unknowns if v.order and not v.at]
    said = {v: p.source for p in m.context.premises if p.sign == "=" for v in variables(p.term)}
    places = [v for v in along if v.name in _PLACES and v.order == 1]
    return len(places) == 1 and {*along} == {places[0], Var("v", 1, TIME)} and (
        said.get(Var("v", 1, TIME)) == m.number - 1 and places[0] not in said)


def _rate_of_its_place(m: Matter) -> bool:
    """`dx/dt = 2 u e^(-b t/m)` below `v = u e^(-b t/m)`: what v is by the time, with other numbers."""
    left, right = m.lowered.parts[0]
    course = m.context.world.functions.get("v")
    rate = isinstance(left.value, Var) and left.value.name in _PLACES and left.value.order == 1
    return rate and course is not None and Var(TIME) in variables(right) and {*variables(right)} == {*variables(course)}


def _is_of_its_course(m: Matter, inside: Matter) -> bool:
    """`v = u + 2 a t` below `x = u t + ½ a t²`: by the time and what the course is made of, and the rate neither this
    way nor that (`v = g t` of what falls is a speed below `y = h - ½ g t²`)."""
    left, right = m.lowered.parts[0]
    meant = {v.name for p in inside.context.premises if p.label in _RATES_SAID for v in variables(p.term) if v.order}
    along = _axis_named(left.value.name)[1] if left.op == "var" else ""
    timely = along or (left.op == "var" and left.value.name in _RATES and Var(TIME) in variables(right))
    if not timely or (len(meant) != 1 and along not in meant):
        return False
    course = course_by_time(along or meant.pop(), m.context)
    if course is None or not {*variables(right)} <= {*variables(course)}:
        return False
    cloud = m.setting.states.of(inside.context, (left, right))
    return bool(cloud.size) and not weigh(neg(left), right, "=", cloud).all_hold


def _seen(m: Matter, moving: frozenset[str] | set[str], premises: list[Premise]) -> Matter:
    world = m.context.world
    context = m.context.knowing(replace(world, moving=world.moving | moving))
    return replace(m, setting=m.setting.within(context.adding(*premises)))


def _meaning(name: str, place: str, m: Matter) -> Premise:
    order, said = (_RATES | _TURNS)[name]
    return Premise(said, sub(var(Var(name)), var(Var(place, order, TIME))), "=", True, False, m.number, "custom")


def _rates(m: Matter) -> Iterator[Matter]:
    """`v = -A ω sin ωt` below `x = A cos ωt`, `m a + k x = 0` below `m v dv/dt + k x dx/dt = 0`: with one coordinate, v
    and a are its rates, where nothing else has been said of them."""
    world = m.context.world
    told = {
        v.name for p in m.context.premises if p.sign == "=" and p.sides is not None and p.sides[0].op == "var"
        for v in variables(p.sides[0]) if v.name in _PLACES and not v.order and Var(TIME) in variables(p.sides[1])}
    places = told | (world.moving & _PLACES)
    spoken = {v.name for v in m.unknowns}
    if len(places) != 1 or not (told or _PLACES & world.moving) or not spoken & (_RATES.keys() | places):
        return
    (place,) = places
    if not told and spoken <= {place, *_RATES}:
        return  # `v = dx/dt`, `a = v dv/dx` say it themselves
    timely = any(v == Var(TIME) or v.at for v in m.unknowns) or bool(spoken & places)
    named = [n for n in m.fresh if n in _RATES] if timely or not told else []
    moving = world.moving | {n for n, by in world.fields.items() if by == place}
    known = [n for n in _RATES if n in moving and n not in m.fresh and _says_nothing_else(n, place, m)]
    if not named and not (known and spoken & moving):
        return
    yield _seen(m, {place, *named}, [_meaning(n, place, m) for n in _RATES if n in named or n in known])


def _along_an_axis(m: Matter) -> Iterator[Matter]:
    """`v_x = u cos θ`, `v_r = ω r0 sinh ω t` below x and r by the time: new names, and those of their rates."""
    name = m.lowered.parts[0][0].value
    letter, place = _axis_named(name.name) if isinstance(name, Var) else ("", "")
    tied = tied_names(m.context)
    if not place or name.name in tied or len(m.lowered.parts) != 1 or (place == "r" and tied & _ANGLES):
        return  # what turns as well is for the polar coordinates
    order, said = _RATES[letter]
    if m.pair.sign != "=" or course_by_time(place, m.context) is None:
        return
    meaning = Premise(said, sub(var(name), var(Var(place, order, TIME))), "=", True, False, m.number, "custom")
    world, given = m.context.world, variables(m.lowered.parts[0][1])
    goes = {name.name} if any(v.name == TIME or world.is_changing(v) for v in given) else set()  # not `v_x = u cos θ`
    yield replace(_seen(m, {place} | goes, [meaning]), fresh=tuple(n for n in m.fresh if n != name.name))


def _axis_named(name: str) -> tuple[str, str]:
    """The v and x of `v_x`, `vx`; nothing of a name of another kind."""
    letter, place = name[:1], name[1:].removeprefix("_")
    return (letter, place) if letter in _RATES and place in _ALONG else ("", "")


def _says_nothing_else(name: str, place: str, m: Matter) -> bool:
    """May a name that moves be anything beside its coordinate's rates, as far as the page goes? (At rest little is
    said of it: `m v dv/dx = -c v²`.)"""
    rates = [Var(name), *(Var(place, order, TIME) for order in range(1, _RATES[name][0] + 1))]
    moving = Premise("", var(Var("v")), "≠", False)
    return freedom(m.context, rates, (moving,), m.setting.states) == len(rates)


def _settled_by_the_custom(m: Matter, inside: Matter) -> bool:
    """`v (m a - k x) = 0`: an acceleration that is settled by the rest of the line once it is known to be one. That of
    another body is not, nor is an amplitude, `v² = ω² (a² - x²)`; nor what a line of its own begins with."""
    if not _PLACES & {v.name for p in m.context.premises for v in variables(p.term)}:
        return False
    named = [Var(n) for n in m.fresh if n in _RATES]
    others = [v for v in m.unknowns if v.role == "value" and v not in named]
    if len(named) != 1 or len(m.residuals) != 1 or Var(TIME) in others or any(v.at for v in others):
        return False
    split = linear(m.residuals[0], named[0])
    if split is None or not any(m.context.world.is_changing(v) for v in others):
        return False
    context, states = inside.context, m.setting.states
    return freedom(context, others, (), states) == freedom(context, [*others, *named], (), states)


def _turning(m: Matter) -> Iterator[Matter]:
    """`2 ω dω/dt = (3 g/l) cos θ ω`, `α = 3 g cos θ/(2 l)` below `ω² = 3 g sin θ/l`: with one angle, ω that changes is
    its rate, where nothing says that it is another's."""
    world = m.context.world
    here = {v.name for t in (*m.residuals, *(p.term for p in m.context.premises)) for v in variables(t)}
    angles, rates = here & _ANGLES, {v for p in m.context.premises for v in variables(p.term) if v.order}
    spoken = {v.name for v in m.unknowns}
    if len(angles) != 1 or "ω" not in here or not spoken & _TURNS.keys() or rates & {
            Var(n, k, TIME) for n in angles for k in (1, 2)}:
        return
    (angle,) = angles
    swings = "ω" in world.moving or any(Var(angle) in variables(t) for t in (world.definitions.get("ω", ZERO), *(
        p.term for p in m.context.premises if Var("ω") in variables(p.term))))
    if not swings or any(Var(TIME) in variables(p.term) for p in m.context.premises):
        return
    named = [n for n in _TURNS if n == "ω" or (n in spoken and (n in m.fresh or n in world.moving))]
    yield _seen(m, {angle, *named}, [_meaning(n, angle, m) for n in named])


def along_a_place(m: Matter) -> Matter | None:
    """`a = g sin β - k s/m` below `v² = 2 g s sin β - k s²/m`: a new a beside a speed that goes with the one place
    there is, told what they are of it. On the page nothing moves for that."""
    here = {v for t in (*m.residuals, *(p.term for p in m.context.premises)) for v in variables(t)}
    places = {v.name for v in here} & _PLACES
    if "a" not in m.fresh or len(places) != 1 or m.context.world.moving or Var(TIME) in here or any(
            v.order or v.at for v in here):
        return None
    (place,) = places
    if not any({Var("v"), Var(place)} <= set(variables(p.term)) for p in m.context.premises if p.sign == "="):
        return None
    goes = Premise(_RATES["v"][1], var(Var("v")), "≠", False, False, m.number, "custom")
    return _seen(m, {place, "v", "a"}, [goes, *(_meaning(n, place, m) for n in ("v", "a"))])


def settled_by_its_place(m: Matter, inside: Matter) -> bool:
    """`a = g sin β - 2 k s/m` there, `α = 4 M g/((m + 2 M) R)` below `ω² = 4 M g φ/((m + 2 M) R)`: a new acceleration
    that is settled by just what the line gives it by. One that only points the other way is none of these, nor one
    along a place that words may say is of another stage."""
    name = next((n for n in m.fresh if n in ("a", "α")), "")
    if not name or len(m.lowered.parts) != 1 or m.lowered.parts[0][0] != var(Var(name)):
        return False
    given, context, states = variables(m.lowered.parts[0][1]), inside.context, m.setting.states
    if any(v.role != "value" or v.order or v.at or v.name == name for v in given):
        return False
    if name == "a" and m.words and _PLACES.isdisjoint(v.name for v in given):
        return False
    if not 0 < freedom(context, given, (), states) == freedom(context, [*given, Var(name)], (), states):
        return False
    opposite = add(*map(context.resolved, m.lowered.parts[0]))
    cloud = states.of(context, (opposite,))
    return bool(cloud.size) and not weigh(opposite, ZERO, "=", cloud).all_hold


# What is summed up over the time, and its rate.
_SUMMED = ((_PLACES, "v"), (_ANGLES, "ω"), (frozenset("v"), "a"), (frozenset("ω"), "α"))


def _sum_of_a_course(m: Matter) -> Iterator[Matter]:
    """`x = u t + ½ a t² + C` below `v = u + a t`, `v = ½ k t²` below `a = k t`: a new place, or speed, by all that
    gives its rate is where that leads, from wherever the line has it start."""
    world = m.context.world
    for sums, rate in _SUMMED:
        places = [n for n in m.fresh if n in sums]
        others = [n for n in m.fresh if n not in places]  # no more than the C of `… + C`
        alone = len(places) == 1 and len(others) < 2 and all(_is_added(n, m) for n in others)
        place = places[0] if alone else ""
        course = world.functions.get(rate, world.definitions.get(rate)) or course_by_time(rate, m.context)
        if not place or course is None or world.moving & sums or len(m.residuals) != 1:
            continue
        # A constant that a line above has fixed may be left out.
        left_out = [v for v in variables(course) if v not in m.unknowns]
        if Var(TIME) not in m.unknowns or Var(TIME) not in variables(course) or (
                left_out and freedom(m.context, left_out, (), m.setting.states) != 0):
            continue
        key = instant_key(Var(TIME), ZERO)
        moving = m.context.knowing(replace(world, moving=world.moving | {place, rate})).at_instant(key, ZERO)
        start = Premise("its start", moving.placed(m.residuals[0], key), "=", False, False, m.number, "instant")
        meant = Premise(
            (_RATES | _TURNS)[rate][1], sub(var(Var(rate)), var(Var(place, 1, TIME))), "=", True, False, m.number,
            "custom")
        seen = _seen(replace(m, setting=m.setting.within(moving)), set(), [start, meant])
        yield replace(seen, fresh=())


def _is_added(name: str, m: Matter) -> bool:
    """Is a name a constant of integration of the line, by itself among its terms?"""
    split = linear(m.residuals[0], Var(name)) if len(m.residuals) == 1 else None
    return split is not None and split[0].op == "num"


def _unchanging(m: Matter) -> Iterator[Matter]:
    """`v = F t/m + C` below `m dv/dt = F`, `½ v² = a x + C` below `v dv = a dx`: that the line above gives F by what
    moves does not say that it changes, and one in which t stands, or what was integrated over, says that it stays."""
    world = m.context.world
    premises = [p for p in m.context.premises if not p.implied]
    here = {v for t in (*m.residuals, *(p.term for p in premises)) for v in variables(t)}
    summed = {v.name for v in here if v.role == "differential"}
    differentiated = summed | {v.name for p in m.context.premises for v in variables(p.term) if v.order} | {
        v.name for v in m.unknowns if v.order}
    if not {v.name for v in m.unknowns} & {TIME, *summed} or any(v.at for v in m.unknowns):
        return
    told = {v.name for v in given_by_time(m.context)}  # below `v = a t`, v does not stay the same
    names = sorted({
        v.name for v in m.unknowns
        if v.name in world.moving | world.varying and not world.is_declared(v.name)
        and v.name not in differentiated | told | world.functions.keys() | _PLACES
        and [linear(p.term, v) is not None for p in premises if v in variables(p.term)] == [True]})
    if not names:
        return
    definitions = {n: t for n, t in world.definitions.items() if n not in names}
    context = m.context.knowing(replace(
        world, moving=world.moving - {*names}, varying=world.varying - {*names}, definitions=definitions))
    there = [*(Var(n) for n in names), *(v for v in m.unknowns if v.role == "differential")]
    cloud = m.setting.states.of(context, [var(v) for v in there])
    if any(not np.abs(cloud.columns[v]).max(initial=0) > _NOTHING for v in there):
        return  # `N = 2 m ω r'`, where r = a cosh ωt: it could stay only as nothing; and F = k x, where x is varied
    said = Premise(f"{' and '.join(names)}{_SAME}", ZERO, "=", False, False, m.number, "custom")
    yield replace(m, setting=m.setting.within(context.adding(said)))
