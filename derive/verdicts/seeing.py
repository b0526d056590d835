"""What a statement shows of what moves, before it is decided: by its derivatives, differentials and moments."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import replace

from derive.notation.tree import Claim, Derivative, Name, Relation, Statement, Value, is_zero, names_in, walk
from derive.states import moving
from derive.states.along import with_what_goes_along, with_what_is_called
from derive.states.context import Context, given_by_time, tied_names
from derive.states.integrands import with_integrands_along
from derive.states.renewed import with_constant_renewed
from derive.states.restless import with_restless
from derive.states.said import everywhere
from derive.states.setting import Setting
from derive.states.whose_speed import with_its_start, with_place_by_time
from derive.steps.letters.speeds import with_its_rate
from derive.steps.letters.vector_rates import with_coordinates
from derive.terms.placing import instant_key
from derive.terms.term import ZERO, Term, Var, substitute, var, variables
from derive.terms.world import TIME, World, with_components
from derive.verdicts.complex_names import with_new_complex_names, with_parted
from derive.verdicts.new_names import with_new_vectors


def seeing(statement: Statement, setting: Setting, number: int = 0) -> Setting:
    """Learn from the statement's derivatives and differentials which names move."""
    def learn(context: Context) -> Context:
        context = _seen_by_itself(statement, context, setting, number)
        world = context.world
        for part in (statement.claim, statement.where):
            if part is not None:
                tied = tied_names(context)
                world = with_new_vectors(world.seeing(part), part, tied).seeing(part)  # now with its components
                world = with_new_complex_names(world, part, tied)
                world = world if setting.strict else _with_courses(world, part, context)
                world = with_what_is_called(world, part, context)
        if not setting.strict and _is_a_moment(statement.where, tied_names(context)) and statement.claim is not None:
            world = _moving_too(world, context, statement.claim)
        world = with_what_goes_along(world, context)
        world = _with_speed_along(world, context, statement) if setting.strict else world
        if world == context.world:
            return context
        known = moving.with_rates_of(context, world.moving - context.world.moving).knowing(world)
        known = _with_values_here(known, world.varying - context.world.varying)
        known = known if setting.strict else _from_its_value(
            known, statement.claim, world.moving - context.world.moving)
        grown = world.moving > context.world.moving and not setting.strict
        if grown or world.fields.keys() > context.world.fields.keys():
            known = with_restless(known, setting.states)  # `F = -k x` above, and x moves after all
        if not setting.strict:
            known = with_its_rate(known, context.world, statement, number)
        return moving.settled(known, setting.states)

    return everywhere(setting, learn)


def _seen_by_itself(statement: Statement, context: Context, setting: Setting, number: int) -> Context:
    """What the form of a statement shows, before its derivatives and moments do."""
    context = with_constant_renewed(context, statement.claim)
    if statement.claim is not None and not setting.strict:
        context = with_integrands_along(context, statement.claim, setting.states)
    if setting.strict and statement.role == "claim" and statement.claim is not None:
        context = with_its_start(with_place_by_time(context, statement.claim), statement.claim, setting.states)
    for part in (statement.claim, statement.where):
        context = with_parted(context, part, tied_names(context)) if part is not None else context
    if not setting.strict:
        context = with_coordinates(context, (statement.claim, statement.where), setting.states, number)
    return context


_AT_FIRST = instant_key(Var(TIME), ZERO)


def _with_values_here(context: Context, varied: frozenset[str]) -> Context:
    """`F = 250 N` above `dv/v = ½ dF/F`: where F is, now that it is varied, and not what it always is."""
    told = {p for p in context.premises if p.sign == "=" and _is_a_number(p.term, varied)}
    if not told:
        return context
    world = context.world
    definitions = {n: t for n, t in world.definitions.items() if n not in varied or variables(t)}
    premises = tuple(replace(p, always=False) if p in told else p for p in context.premises)
    return replace(context, world=replace(world, definitions=definitions), premises=premises)


def _from_its_value(context: Context, claim: Claim | None, new: frozenset[str]) -> Context:
    """`v = 20 m/s` above `m dv/dt = -k v`: what it is at the start; above `dv/dt = 2 m/s²`, or beside another rate, it
    is that of the moment spoken of."""
    rates = {n.body for n in walk(claim) if isinstance(n, Derivative) and n.wrt == Name(TIME)} if claim else set()
    seen = new.intersection(r.ident for r in rates if isinstance(r, Name))
    told = [p for p in context.premises if p.sign == "=" and p.always and _is_a_number(p.term, seen)]
    if not told or not isinstance(claim, Relation):
        return context
    if len(rates) > 1 or (isinstance(claim.sides[0], Derivative) and not names_in(claim.sides[-1])):
        return _with_values_here(context, seen)
    first = {var(Var(n)): var(Var(n, at=_AT_FIRST)) for n in seen}
    begun = tuple(replace(p, term=substitute(p.term, first), always=False, kind="instant", sides=None) for p in told)
    world = replace(context.world, definitions={n: t for n, t in context.world.definitions.items() if n not in seen})
    kept = tuple(p for p in context.premises if p not in told)
    return replace(context, world=world, premises=(*kept, *begun)).at_instant(_AT_FIRST, ZERO)


def _is_a_number(t: Term, names: frozenset[str]) -> bool:
    own = variables(t)
    return len(own) == 1 and own[0].name in names and own[0].role == "value" and not (own[0].order or own[0].at)


def _with_courses(world: World, claim: Claim, context: Context) -> World:
    """`x(0) = …` below `x = A cos ωt`, `v(0) = 0` as the first said of v: whoever asks for x at an instant calls
    it a function of time; and whoever asks for dy/dx where both are given by t asks how they go along together."""
    given = {v.name for v in given_by_time(context)}
    asked, along = _asked_for(claim)
    both = {pair for pair in along if given.issuperset(pair)}
    begun = {n for n in _begun(claim) if n not in world.definitions and n not in world.varying}
    begun |= set(with_components(begun, world.symbols))
    new = ((asked & given) | begun) - world.fields.keys() | {n for pair in both for n in pair}
    fields = {n: by for n, by in world.fields.items() if (n, by) not in both}
    return world if new <= world.moving else replace(world, moving=world.moving | new, fields=fields)


# What has a value at the start because it goes on to others.
_COURSES = frozenset(("x", "y", "z", "s", "r", "h", "θ", "φ", "v", "u", "ω", "a"))


def _begun(claim: Claim) -> set[str]:
    """The v of `v(0) = 0`."""
    return {n.function.ident for n in walk(claim)
            if isinstance(n, Value) and isinstance(n.function, Name) and len(n.args) == 1 and is_zero(n.args[0])
            and n.function.ident.partition("_")[0] in _COURSES}


def _is_a_moment(where: Claim | None, tied: Set[str]) -> bool:
    """`t = 4`, `t = 2 u sin θ/g` of what is about."""
    return isinstance(where, Relation) and where.signs == ("=",) and where.sides[0] == Name(TIME) and tied >= {
        *names_in(where.sides[1])}


# What goes along a way, whoever has not said so: no energy has one v for all x.
_SPEEDS = frozenset(("v", "V", "ω"))


def _with_speed_along(world: World, context: Context, statement: Statement) -> World:
    """`½ m v² + U = ½ m u²` of a U(x), as the first that is said of v: that goes along x as well."""
    claim = statement.claim if statement.role == "claim" else None
    here, tied = {*(names_in(claim) if claim is not None else ())}, tied_names(context)
    ways = {by for n, by in world.fields.items() if by in here or n in here} - {TIME}
    new = {n for n in here & _SPEEDS if n not in tied and not world.is_changing(Var(n)) and n not in world.definitions}
    if len(ways) != 1 or len(new) != 1 or not isinstance(claim, Relation) or claim.signs != ("=",) or any(
            isinstance(side, Name) for side in claim.sides):
        return world
    return replace(world, fields={**world.fields, min(new): min(ways)})


def _moving_too(world: World, context: Context, claim: Claim) -> World:
    """`at t = 4: v = 11` below `v = u + a t`: what is said of one moment changes in time."""
    given = {p.sides[0].value.name for p in context.premises
             if p.sides is not None and p.sides[0].op == "var" and Var(TIME) in variables(p.sides[1])}
    return replace(world, moving=world.moving | given) if given.intersection(names_in(claim)) else world


def _asked_for(claim: Claim) -> tuple[set[str], set[tuple[str, str]]]:
    """The names whose values at an instant a claim asks for, and the pairs of those it differentiates by another."""
    values, slopes = set(), set()
    for n in walk(claim):
        if isinstance(n, Value) and isinstance(n.function, Name):
            values.add(n.function.ident)
        elif isinstance(n, Derivative) and isinstance(n.body, Name) and isinstance(n.wrt, Name) and not n.partial:
            slopes.add((n.body.ident, n.wrt.ident))
    return values, slopes
