"""A speed and its acceleration by their letters, in a working without givens: a is the rate of the v that it hangs on,
and α that of ω, where no place is about of which both could be rates."""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import dataclass, replace

from derive.notation.tree import Integral, Name, names_in, walk
from derive.states.context import Context, Premise, given_by_time
from derive.states.elimination import linear
from derive.states.setting import Matter
from derive.terms.term import Var, mul, sub, var, variables
from derive.terms.world import TIME, World


@dataclass(frozen=True, slots=True)
class _Speed:
    """A speed, its acceleration, the places that they could be the rates of, and what is said of them.

    inertias: what an acceleration is taken times of; anything else would make it a radius, as in `v = ω a`.
    """

    name: str
    rate: str
    places: frozenset[str]
    said: str
    inertias: frozenset[str]

    def is_rate(self, number: int) -> Premise:
        """dv/dt by its letter."""
        slope = sub(var(Var(self.rate)), var(Var(self.name, 1, TIME)))
        return Premise(self.said, slope, "=", True, False, number, "custom")

    def is_rate_along(self, place: str, number: int) -> Premise:
        """v dv/dx by its letter."""
        climb = mul(var(Var(self.name)), var(Var(self.name, 1, place)))
        return Premise(self.said, sub(var(Var(self.rate)), climb), "=", True, False, number, "custom")

    def is_work(self, place: str, number: int) -> Premise:
        """`a dx = v dv`"""
        work, change = (
            mul(var(Var(one)), var(Var(other, role="differential")))
            for one, other in ((self.rate, place), (self.name, self.name)))
        return Premise(self.said, sub(work, change), "=", True, False, number, "custom")

    def hangs_on(self, along: Set[str], context: Context) -> bool:
        """`m a = -b v` above: an acceleration that hangs on how fast it is, or where."""
        for p in context.premises:
            names = {v.name for v in variables(p.term)}
            split = linear(p.term, Var(self.rate)) if p.sign == "=" and self.rate in names and along & names else None
            if split is not None and TIME not in names and all(
                    v.name.partition("_")[0] in self.inertias for v in variables(split[0])):
                return True
        return False


_V = _Speed("v", "a", frozenset("xyzs"), "a being the acceleration", frozenset("mMIRrLl"))
_OMEGA = _Speed("ω", "α", frozenset("θφ"), "α being the angular acceleration", frozenset("mMIJRrLl"))
_SPEEDS = (_V, _OMEGA)
SAID = frozenset(s.said for s in _SPEEDS)


def views(m: Matter) -> Iterator[Matter]:
    """`v = 3 + 2 t` below `v(0) = 3`, `a = 2`: where no place is about, a is the rate of the v that has begun; of the v
    that it goes with, in a line that says how that goes in time; and, as a new name, of one whose course is known."""
    if m.setting.strict:
        return
    context = m.context
    for s in _SPEEDS:
        here = {v for t in (*m.residuals, *(p.term for p in context.premises)) for v in variables(t)}
        if not {s.name, s.rate} & {v.name for v in m.unknowns} or s.places & {v.name for v in here}:
            continue
        begun = any(v.name == s.name and v.at for v in here) and Var(s.name) in m.unknowns
        timely = Var(TIME) in m.unknowns and not any(v.at for v in m.unknowns)
        if timely and s.rate in m.fresh and Var(s.name) in (given := given_by_time(context)):
            inside = _seen(m, s, {s.rate, *(v.name for v in given)})
            yield replace(inside, fresh=tuple(n for n in m.fresh if n != s.rate))
        elif timely and s.name in m.fresh and not any(v.order or v.role == "differential" for v in here) and Var(
                s.rate) in (given := given_by_time(context)) and m.lowered.parts[0][0] is var(Var(s.name)):
            # `v = 6 t - t² + C` below `a = 6 - 2 t`
            inside = _seen(m, s, {s.name, *(v.name for v in given)})
            yield replace(inside, fresh=tuple(n for n in m.fresh if n != s.name))
        elif {v for v in here if v.order} == {Var(s.name, 1, TIME)} and s.rate not in {v.name for v in m.unknowns} and (
                any(v.name == s.rate for v in here)):
            yield _seen(m, s, {s.name, s.rate})  # `m v dv/dt = P` below `P = m a v`
        elif any(v.order for v in here):
            continue
        elif begun and s.name in context.world.moving and s.rate in context.world.definitions:
            yield _seen(m, s, {s.name})
        elif timely and Var(s.name) in m.unknowns and s.hangs_on({s.name}, context):
            yield _seen(m, s, {s.name, s.rate})


def seen_with_its_rate(m: Matter) -> Matter:
    """The matter with a for the rate of v."""
    return _seen(m, _V, {_V.name})


def _seen(m: Matter, s: _Speed, moving: set[str]) -> Matter:
    world = m.context.world
    context = m.context.knowing(replace(world, moving=world.moving | moving))
    # By their courses is known how all of these change: dv and dm beside those would be others.
    plain = tuple(p for p in context.premises if not any(
        v.role == "differential" and v.name in moving for v in variables(p.term)))
    return replace(m, setting=m.setting.within(replace(context, premises=plain).adding(s.is_rate(m.number))))


def gives_course(m: Matter) -> bool:
    """`v = u e^(-2 b t/m)` below `m a = -b v`, `a = 2 u q/(m0 - q t)` below a v by t."""
    left, right = m.lowered.parts[0]
    return Var(TIME) in variables(right) and any(
        (left.value == Var(s.name) and s.hangs_on({s.name}, m.context)) or (
            left.value == Var(s.rate) and s.rate in m.fresh and Var(s.name) in given_by_time(m.context))
        for s in _SPEEDS)


def with_its_rate(context: Context, before: World, said: object, number: int) -> Context:
    """The context of what is said of dv/dt, of dv beside dt, or of sums over both, below `m a = -b v`, where no place
    is about: a is dv/dt, but where that is said itself. Of what is said of dv/dx, or of dv beside dx, it is v dv/dx.

    before: the world before the line, which has shown what moves.
    """
    for s in _SPEEDS:
        if s.rate not in names_in(said):
            context = _with_rate(s, context, before, said, number)
    return context


def _with_rate(s: _Speed, context: Context, before: World, said: object, number: int) -> Context:
    world = context.world
    summed = {n.wrt.ident for n in walk(said) if isinstance(n, Integral) and isinstance(n.wrt, Name)}
    timely = s.name in world.moving - before.moving or {s.name, TIME} <= summed
    here = {v for p in context.premises for v in variables(p.term)}
    placeless = not any(v.order or v.name in s.places for v in here)
    if timely and placeless and s.hangs_on({s.name}, context):
        moving = world.moving | {s.name, s.rate}
        return context.knowing(replace(world, moving=moving)).adding(s.is_rate(number))
    place = world.fields.get(s.name, "")
    if place in s.places and s.name not in before.fields and s.hangs_on({s.name, place}, context):
        return context.adding(s.is_rate_along(place, number))
    varied = sorted(world.varying & s.places) if s.name in world.varying - before.varying else []
    place = next((x for x in varied if s.hangs_on({s.name, x}, context)), "")
    return context.adding(s.is_work(place, number)) if place else context
