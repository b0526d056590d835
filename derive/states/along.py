"""What goes along where a quantity is differentiated by another: `dT/ds` below `I = m s²` and `T = 2π √(I/(m g s))`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from derive.notation.tree import Claim, Name, Value, names_in, walk
from derive.states.context import Context, tied_names
from derive.terms.term import Term, Var, sub, variables
from derive.terms.world import TIME, World


def with_what_goes_along(world: World, context: Context) -> World:
    """The world in which more names depend on a variable: those that lines above give by it, and that stand in what has
    just been seen to be differentiated by it. (`V = x² h` beside `A = x² + 4 x h` says what is held.)"""
    if all(by == TIME for by in world.fields.values()):
        return world
    given = _given(context)
    new = [(n, by) for n, by in world.fields.items() if n not in context.world.fields and by != TIME]
    return _gone_along(world, given, [*new, *_slopes(given, world)])


def with_what_goes_along_as_declared(context: Context) -> World:
    """The same for what is declared to depend on a variable: of S(b), where `S = k b h²` and `h² = D² - b²`."""
    world = context.world
    declared = [
        (n, by) for n, by in world.fields.items() if by != TIME and n in world.symbols and world.symbols[n].declared]
    return _gone_along(world, _given(context), declared) if declared else world


def _gone_along(world: World, given: Mapping[str, tuple[Term, ...]], pending: list[tuple[str, str]]) -> World:
    fields = {**world.fields, **dict(pending)}
    while pending:
        name, by = pending.pop()
        for v in variables(*given.get(name, ())):
            plain = v.role == "value" and not v.order and not v.at and v.name != by
            if plain and v.name not in fields and not world.is_changing(v) and any(
                Var(by) in variables(t) and Var(name) not in variables(t) for t in given.get(v.name, ())
            ):
                fields[v.name] = by
                pending.append((v.name, by))
    return replace(world, fields=fields) if fields != world.fields else world


# How places and angles are called, which other things are functions of (common practice, no source).
_COORDINATES = frozenset("xyzrsqθφ")


def with_what_is_called(world: World, claim: Claim, context: Context) -> World:
    """`U(x0) = …` below `U = A/x² - B/x`, `F(2R)/F(R)` below `F = G M m/r²`: whoever asks for U somewhere takes it for
    a function of x; and who brings a V in as `V(x)` says so."""
    called = ((n.function.ident, n.args) for n in walk(claim) if isinstance(n, Value) and isinstance(n.function, Name))
    asked = [(f, args[0]) for f, args in called if len(args) == 1 and f not in world.fields
             and not world.is_changing(Var(f))]
    given, tied = (_given(context), tied_names(context)) if asked else ({}, set())
    fields = dict(world.fields)
    for name, place in asked:
        own = {v.name for v in variables(*given.get(name, ())) if v.role == "value" and not world.is_changing(v)}
        put_in = set(names_in(place))
        letters = {n.partition("_")[0].lower() for n in put_in}
        along = (own & put_in or {n for n in own if n.lower() in letters} or _COORDINATES & own) - {TIME}
        along = along - {"q"} or along  # the stiffness of `F = k x + q x³`, beside a place
        if isinstance(place, Name) and place.ident in _COORDINATES and name not in tied:
            along = {place.ident}
        if len(along) == 1:
            fields[name] = next(iter(along))
    return replace(world, fields=fields) if fields != world.fields else world


def _slopes(given: Mapping[str, tuple[Term, ...]], world: World) -> Iterator[tuple[str, str]]:
    """What is given by slopes of what goes along: F by `F = -dU/dx`."""
    for name, sides in given.items():
        by = {v.wrt for v in variables(*sides) if v.order and not v.at and world.fields.get(v.name) == v.wrt} - {TIME}
        if len(by) == 1 and name not in world.fields and not world.is_changing(Var(name)):
            yield name, by.pop()


def _given(context: Context) -> dict[str, tuple[Term, ...]]:
    """What lines above give names by, where such a name stands alone on the left, or a power of it does."""
    found: dict[str, tuple[Term, ...]] = {}
    for p in context.premises:
        if p.sign != "=" or (p.sides is None and p.term.op != "add"):
            continue
        # What a chain comes to (`RA = P - RB = P (L - a)/L`) has its sides in its difference alone.
        side, given = p.sides or (p.term.args[0], sub(p.term.args[0], p.term))
        left = side.args[0] if side.op == "pow" else side
        if isinstance(left.value, Var) and not left.value.order:
            found[left.value.name] = (*found.get(left.value.name, ()), given)
    return found
