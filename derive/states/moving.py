"""Which names move: a name declared without `(t)` is a constant unless that would bring everything to rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from derive.notation.tree import Derivative, Name, names_in, walk
from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.states.sizes import CONSERVED, CONSTANT_SIZES, CONSTANTS, KEPT
from derive.states.states import States
from derive.terms.claims import Pair, lower_pair
from derive.terms.term import ONE, Term, Var, mul, sub, substitute, var, variables
from derive.terms.tidying import multiplied_out
from derive.terms.world import DT, TIME, World


def settled(context: Context, states: States) -> Context:
    """A context in which names that must move are known to: `F` in `F = -k y`.

    A name declared without `(t)` is a constant of the motion unless that would bring everything to rest.
    """
    context = _with_company(with_wholes_moving(_with_parts_moving(context)))
    context = _with_company_of_changes(_with_company_along(context))
    for _ in range(4):
        stuck = _stuck(context, states)
        if not stuck:
            return context
        promoted = _promoted(context, stuck, states)
        if promoted is None:
            return context
        context = promoted
    return context


def _with_parts_moving(context: Context) -> Context:
    """`dp/dt` below `p = m v`: what changes is made of something that does, and that is no mass."""
    world = context.world
    moving = set(world.moving)
    for name in world.moving & world.definitions.keys():
        parts = variables(world.seen_through(world.definitions[name]))
        undeclared = {v.name for v in parts if not world.is_declared(v.name) and v.role == "value" and not v.at}
        if not any(world.is_changing(v) for v in parts):
            made_of = {n for n in undeclared if n.partition("_")[0] not in CONSTANT_SIZES}
            moving |= made_of & _PLACES or made_of if name in _PLACES else made_of  # x alone of `s = x - a`
    return context if moving == world.moving else context.knowing(replace(world, moving=frozenset(moving)))


def with_rates_of(context: Context, new: frozenset[str]) -> Context:
    """`dE = g h dm` above `dm/dt = ρ Q`: now that m is seen to move in time, dm is what it does in dt."""
    change = {var(Var(n, role="differential")): mul(var(Var(n, 1, TIME)), var(DT)) for n in new}
    world = replace(context.world, moving=context.world.moving | new)

    def seen(p: Premise) -> Premise:
        again = _rate_anew(p, new, world)
        if again is not None:
            return replace(p, term=sub(*again), sides=again)
        return replace(p, term=substitute(p.term, change), sides=None) if {*change} & {
            var(v) for v in variables(p.term)} else p

    return replace(context, premises=tuple(map(seen, context.premises))) if new else context


def _rate_anew(p: Premise, new: frozenset[str], world: World) -> tuple[Term, Term] | None:
    """`F = d(m v)/dt`, once m is seen to change as well."""
    rates = [n for n in walk(p.sloping.relation()) if isinstance(n, Derivative)] if isinstance(p.sloping, Pair) else []
    if not isinstance(p.sloping, Pair) or not any(n.wrt == Name(TIME) and new & {*names_in(n.body)} for n in rates):
        return None
    parts = lower_pair(p.sloping, world).parts
    return parts[0] if len(parts) == 1 else None


def _gone_along(parts: Sequence[Var], world: World) -> set[str]:
    """The places that a name goes along with, by what it is made of."""
    return {v.name for v in parts if v.name in world.fields.values()} or {
        world.fields[v.name] for v in parts if v.name in world.fields}


def _is_shift(name: str, rest: Term, world: World) -> bool:
    """The s of `x = a + s`, where U goes along x: measured as x is, from elsewhere, and no function of it."""
    places = [v for v in variables(rest) if v.name in world.fields.values() and not v.order]
    split = linear(rest, places[0]) if len(places) == 1 else None
    return split is not None and split[0] is ONE and name not in world.fields


# What is made up of an energy of the motion and one of the place.
_MADE_OF_SHARES = ("E", "H", "L")
# What an equation of motion is solved for only by accident.
_UNCHANGING = frozenset(("m", "M", "g", "G", "k", "ρ", "μ"))


def with_wholes_moving(context: Context) -> Context:
    """`KE = ½ m v²` changes once v is seen to, `F = -k x` along with dx; an energy or a constant may stay as it is."""
    world = context.world
    world = replace(world, moving=world.moving | _varied_in_time(context))
    for name, rest in world.definitions.items():
        part = _is_part_of_a_whole(name, world) or _goes_by_the_time(rest, world)
        share = _is_share(name, world) or part
        if world.is_changing(Var(name)) or (name.partition("_")[0] in KEPT and not share):
            continue
        if world.is_declared(name) and not part:
            world = _with_field_of_fields(world, name, rest)
            continue
        if name in world.fields.values():
            continue  # x below `2x + y = L` is where y is, and no function of itself
        parts = [v for v in variables(world.seen_through(rest)) if v.role == "value" and not v.at]
        if name in _UNCHANGING and any(v.order for v in parts):
            continue  # `v dv/dy = -g` says how v goes, and not what g is
        # Beside a course, `a = 6 t` is one too; beside what moves, the `u t` of `r = (u t, 0)`.
        timely = Var(TIME) in parts and bool(world.functions or (world.moving and world.is_component(name)))
        if timely or any(v.name in world.moving or (v.order and v.wrt == TIME) for v in parts):
            world = replace(world, moving=world.moving | {name})
        elif any(v.name in world.varying and v.name not in world.fields for v in parts):
            world = replace(world, varying=world.varying | {name})
        elif Var(TIME) not in parts and not _is_shift(name, rest, world) and (along := _gone_along(parts, world)):
            world = replace(world, fields={**world.fields, name: min(along)})
    if world == context.world:
        return context
    return with_rates_of(context, world.moving - context.world.moving).knowing(world)


def _is_share(name: str, world: World) -> bool:
    """The K of `E = K + U`, by its letter a constant: beside what moves it is no energy that stays."""
    return name.partition("_")[0] in CONSTANTS and any(
        whole.partition("_")[0] in _MADE_OF_SHARES and Var(name) in (parts := variables(rest))
        and any(v.name in world.moving and v.name != name for v in parts)
        for whole, rest in world.definitions.items())


def _goes_by_the_time(rest: Term, world: World) -> bool:
    """`½ m v²` of a v that has a course: no sum, whose terms may make up for each other."""
    return rest.op == "mul" and Var(TIME) in variables(world.seen_through(rest))


def _is_part_of_a_whole(name: str, world: World) -> bool:
    """The K and the U of `E = K + U`, declared without `(t)`, that what moves gives both: neither stays."""
    def moves(part: str) -> bool:
        rest = world.definitions.get(part)
        return rest is not None and world.changes(rest)

    wholes = (rest.args for whole, rest in world.definitions.items()
              if whole.partition("_")[0] in _MADE_OF_SHARES and rest.op == "add" and len(rest.args) == 2)
    return any(
        var(Var(name)) in parts and all(p.op == "var" and moves(p.value.name) for p in parts) for parts in wholes)


def _varied_in_time(context: Context) -> set[str]:
    """Names given by the time (`m = m0 - μ t`) of which a line above has a differential (`m dv = -u dm`), and those
    given by them (`v = u ln(m0/m)`). What others are functions of is where one looks."""
    world = context.world
    varied = {v.name for p in context.premises for v in variables(p.term) if v.role == "differential"} & (
        world.definitions.keys() - world.fields.values())
    timed = {n for n in varied if Var(TIME) in variables(world.definitions[n])}
    return timed | {n for n in varied if timed & {v.name for v in variables(world.definitions[n])}}


def _with_field_of_fields(world: World, name: str, rest: Term) -> World:
    """`ρ = ρ0 p/p0` below dp/dz, `F = F0 e^(-x/L)` beside dv/dx: what is declared without its place is a function of
    it, made of one."""
    parts = [v for v in variables(world.seen_through(rest)) if v.role == "value" and not v.at]
    along = {v.name for v in parts if v.name in world.fields.values()} or {
        world.fields[v.name] for v in parts if v.name in world.fields}
    apart = name in world.fields.values() or any(v.name in world.moving or v.name == TIME or v.order for v in parts)
    return world if apart or len(along) != 1 else replace(world, fields={**world.fields, name: min(along)})


_PLACES = frozenset("xyzsrθφ")
# What goes along with something that moves, the likelier first: a place, a speed, an acceleration, a force.
_GO_ALONG = ("x", "y", "z", "s", "θ", "v", "ω", "a", "α", "F", "T", "N", "f")


def _with_company(context: Context) -> Context:
    """`m a = F - b v` once v is seen to move: with all else constant it could not, so that a does too. The α of `ω = α
    t` stays: how a thing goes by the time is told by constants."""
    world = context.world
    steady = {v.name for p in context.premises if p.sides is not None and p.sides[0].op == "var"
              and Var(TIME) in variables(p.sides[1]) for v in variables(p.sides[1])}
    for p in context.premises:
        here = [v for v in variables(p.term) if v.role == "value"]
        if p.sign != "=" or p.implied or not p.always or any(v.order or v.at or v.name == TIME for v in here):
            continue
        if len({v.name for v in here if world.is_changing(v)} & world.moving) != 1 or any(
                world.is_changing(v) and v.name not in world.moving for v in here):
            continue
        left = {v.name for v in here if not world.is_declared(v.name)} - world.moving - steady
        beside = next((n for n in _GO_ALONG if n in left), "")
        if beside:
            world = replace(world, moving=world.moving | {beside})
    return context if world == context.world else context.knowing(world)


def _with_company_along(context: Context) -> Context:
    """`P = F v` where v is seen to go along x: with all else constant it could not, so that F does too."""
    world = context.world
    for p in context.premises:
        here = variables(p.term)
        if p.sign != "=" or p.implied or not p.always or any(v.order or v.at or v.role != "value" for v in here):
            continue
        names = {v.name for v in here}
        going = names & world.fields.keys()
        if len(going) != 1 or any(world.is_changing(v) and v.name not in going for v in here):
            continue
        along = world.fields[min(going)]
        beside = next((n for n in _GO_ALONG if n in names - going and not world.is_declared(n)), "")
        if beside and along not in names:
            world = replace(world, fields={**world.fields, beside: along})
    return context if world == context.world else context.knowing(world)


def _with_company_of_changes(context: Context) -> Context:
    """`m a = -k x` below `v dv = a dx`: where x is varied and nothing beside it, it could not be, so that a is too;
    and beside sizes alone `m g = k x` says where one looks, and not that x stays."""
    world, premises = context.world, list(context.premises)
    for k, p in enumerate(premises):
        here = variables(p.term)
        if p.sign != "=" or p.implied or not p.always or any(v.order or v.at or v.role != "value" for v in here):
            continue
        names = {v.name for v in here}
        if len(names & world.varying) != 1 or names & {TIME, *world.moving, *world.fields}:
            continue
        beside = next((n for n in _GO_ALONG if n in names - world.varying and not world.is_declared(n)), "")
        if beside:
            world = replace(world, varying=world.varying | {beside})
        elif names & world.varying <= _PLACES and all(
                n.partition("_")[0] in CONSTANT_SIZES for n in names - world.varying):
            premises[k] = replace(p, always=False)
    if world == context.world and tuple(premises) == context.premises:
        return context
    return replace(context.knowing(world), premises=tuple(premises))


# Where nothing can move, a state may be met by chance all the same.
_SOME = 4


def _stuck(context: Context, states: States) -> set[str]:
    """Moving names whose every state is at rest, or all moving names if there is no state at all. What is often
    conserved may be at rest while all else moves."""
    moving = {v.name for p in context.premises for v in variables(p.term) if v.order}
    if not moving or all(p.implied for p in context.premises):
        return set()
    cloud = states.of(context)
    if cloud.size < _SOME:  # values at instants, as they are tied by integrals, say nothing more of what moves
        cloud = states.of(replace(context, premises=tuple(p for p in context.premises if p.kind != "link")))
    if cloud.size < _SOME:
        return moving
    at_rest = set()
    for v, a in cloud.columns.items():
        if v.order == 1 and v.wrt == TIME and not v.at and bool((np.abs(a) < 1e-7).all()):
            at_rest.add(v.name)
    # A vector moves where one of its components does.
    at_rest -= {n for n in at_rest if context.world.is_component(n) and any(
        n[:-1] == other[:-1] for other in moving - at_rest)}
    conserved = {n for n in at_rest if n.partition("_")[0] in CONSERVED}
    return at_rest if at_rest != conserved or moving <= conserved else set()


def _promoted(context: Context, stuck: set[str], states: States) -> Context | None:
    """The context with one more name (or, failing that, all that stand beside a stuck one) moving."""
    world = context.world
    beside: dict[str, int] = {}
    somewhere = states.of(context).size >= _SOME
    for p in context.premises:
        names = {v.name for v in variables(p.term) if v.role == "value" and not v.at}
        if p.sign == "=" and p.always and names & (stuck | world.moving):
            # Where it would bring all to rest, `b` of `x = b` stays; where there is no state at all, N must move, in
            # whatever bracket it stands (`m x'' = N - m g` beside a given course).
            terms = p.term.args if p.term.op == "add" else ()
            products = {} if somewhere else multiplied_out(p.term)
            for v in variables(p.term):
                alone = var(v) in terms or (len(products) > 1 and frozenset({(var(v), Fraction(1))}) in products)
                if v.name not in world.moving and v.name != TIME and v.role == "value" and not v.at:
                    beside[v.name] = beside.get(v.name, 0) + (2 if alone else 0) + 1
    ranked = sorted(beside, key=lambda n: (n in KEPT, -beside[n]))
    isolated_names = [n for n in ranked if beside[n] >= 3]
    options = [[n] for n in isolated_names] + ([isolated_names] if len(isolated_names) > 1 else [])
    best: Context | None = None
    for option in options[:6]:
        trial = context.knowing(replace(world, moving=world.moving | frozenset(option)))
        left = _stuck(trial, states)
        if not left:
            return trial
        if left < stuck and best is None:
            best = trial
    return best
