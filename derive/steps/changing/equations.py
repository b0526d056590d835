"""The equations of motion of one name: those the page says, with what stands for its rates put in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.terms.calculus import derivative
from derive.terms.isolation import isolated
from derive.terms.term import ZERO, Term, Var, div, sub, substitute, var, variables
from derive.terms.world import TIME, World


def equations_of(name: str, context: Context) -> tuple[tuple[Premise, ...], tuple[Premise, ...], int]:
    """The equations of motion of a name, the premises that they were drawn from, and their order (0: there are none).

    Only what the page says outright counts; failing that the latest line drawn from it that is about the name alone.
    """
    equations = tuple(
        p for p in context.premises
        if p.sign == "=" and p.always and not p.implied and _about(name, p.term, context)
        and not _names_another(p, name, context)
    )
    aside = equations
    order = _order(equations, name)
    if not order:  # `u = x - F/k` and an equation for x: that for u was drawn from them
        equations = _drawn(name, context)
        aside = _going_along(name, context)
        order = _order(equations, name)
    return equations, aside, order


def _going_along(name: str, context: Context) -> tuple[Premise, ...]:
    """The premises that tell of a name and of all that goes along with it, from one to the next; those of the other
    component of a vector do not."""
    world = context.world
    about = {p: {v.name for v in variables(p.term) if v.name != TIME and world.is_changing(v)}
             for p in context.premises if world.changes(p.term)}
    known, grown = {name}, True
    while grown:
        more = known.union(*(names for names in about.values() if names & known))
        grown, known = more != known, more
    return tuple(p for p, names in about.items() if not names or names & known)


def past_open_constants(equations: tuple[Premise, ...], course: Term, context: Context) -> tuple[Premise, ...]:
    """The equations without an integral of them whose constant nothing else tells and the course does without: of
    `-ln(F - b v)/b = t/m + C` below `m v' = F - b v` is left what C is there."""
    constants = context.world.constants - {v.name for v in variables(course)}
    met = [v.name for q in context.premises if q.sign == "=" for v in variables(q.term) if v.name in constants]
    left = tuple(q for q in equations if not any(met.count(v.name) == 1 for v in variables(q.term)))
    return left if any(v.order for q in left for v in variables(q.term)) else equations


def with_rates_written_out(
    name: str, context: Context
) -> tuple[tuple[Premise, ...], tuple[Premise, ...], int] | None:
    """`a = -ω² x` below `v = dx/dt, a = dv/dt` is `x'' = -ω² x`: the equations of a name alone, and the premises that
    they are. What only says that another name is a rate, or a multiple of one, is put in."""
    world = context.world
    known: dict[str, Term] = {}
    used: list[Premise] = []
    open_ones = [p for p in context.premises if p.sign == "=" and p.always and not p.implied]
    for p in open_ones * 2:  # what a rate is may be said below what it is a rate of
        for u, rest in isolated(p.term) if p not in used else ():
            rest = _put_in(rest, known, world)
            changing = [v for v in variables(rest) if world.is_changing(v)]
            plain = not u.order and not u.at and u.name not in (name, TIME) and u.name not in known
            if plain and len(changing) == 1 and changing[0].name == name and _is_multiple(rest, changing[0]):
                known[u.name] = rest
                used.append(p)
                break
    left = [p for p in open_ones if p not in used and not any(v.at for v in variables(p.term))]
    written = [(replace(p, term=t, sides=None), p) for p in left if (t := _put_in(p.term, known, world)) is not ZERO]
    own = [
        (q, p) for q, p in written
        if {v.name for v in variables(q.term) if world.is_changing(v)} <= {name, world.variable_of(name)}
        and any(v.name == name for v in variables(q.term))]
    if not known or not own:
        return None
    equations = tuple(q for q, _ in own)
    return equations, tuple(p for _, p in own), _order(equations, name)


def _is_multiple(t: Term, v: Var) -> bool:
    split = linear(t, v)
    return split is not None and split[1] is ZERO


def _put_in(t: Term, known: Mapping[str, Term], world: World) -> Term:
    change: dict[Term, Term] = {}
    for v in variables(t):
        if v.name in known and not v.at and v.wrt in ("", TIME):
            rest = known[v.name]
            for _ in range(v.order):
                rest = derivative(rest, world.along_time)
            change[var(v)] = rest
    return substitute(t, change) if change else t


def _order(equations: Sequence[Premise], name: str) -> int:
    return max((v.order for p in equations for v in variables(p.term) if v.name == name), default=0)


def _drawn(name: str, context: Context) -> tuple[Premise, ...]:
    """The latest line that holds and is an equation of motion of a name alone."""
    for p in reversed(context.premises):
        here = variables(p.term)
        alone = all(
            v.name in (name, context.world.variable_of(name)) for v in here if context.world.is_changing(v) or v.order)
        if p.sign == "=" and p.always and p.implied and alone and any(v.order and v.name == name for v in here) and (
            not any(v.at for v in here)
        ):
            return (p,)
    return _carried_over(name, context)


def _carried_over(name: str, context: Context) -> tuple[Premise, ...]:
    """The equations of motion of x as those of y where `y = x - e` says what y is."""
    world = context.world
    rest = world.definitions.get(name)
    moving = [v for v in variables(rest) if world.is_changing(v)] if rest is not None else []
    split = linear(rest, moving[0]) if rest is not None and len(moving) == 1 and not moving[0].order else None
    if split is None or any(world.changes(t) for t in split):
        return ()
    of = moving[0]
    back = div(sub(var(Var(name)), split[1]), split[0])
    out = []
    for p in context.premises:
        here = [v for v in variables(p.term) if v.name == of.name]
        alone = all(v in here or not world.is_changing(v) for v in variables(p.term))
        if p.sign == "=" and p.always and alone and any(v.order for v in here) and not any(v.at for v in here):
            change = {
                var(v): div(var(v._replace(name=name)), split[0]) if v.order else back for v in here}
            out.append(replace(p, term=substitute(p.term, change), sides=None))
    return tuple(out)


def _about(name: str, t: Term, context: Context) -> bool:
    """Does an equation hold a name's derivative, or the name as its only changing quantity beside its variable?"""
    here = [v for v in variables(t) if v.name == name and not v.at]
    changing = {v.name for v in variables(t) if context.world.is_changing(v)}
    return any(v.order for v in here) or (bool(here) and changing <= {name, context.world.variable_of(name)})


def _names_another(p: Premise, name: str, context: Context) -> bool:
    """Does a premise only say what another name is that nothing else speaks of (`L = ½ m r'² + …`), or only to say that
    it stays (`dE/dt = 0`)?"""
    others = [{v.name for v in variables(q.term)} for q in context.premises if q is not p and not q.implied]
    spoken_of = {n for names in others if len(names) > 1 for n in names} | context.world.functions.keys()
    return any(
        v.name not in spoken_of and v.name != name and not v.order and not v.at and context.world.is_changing(v)
        for v, _ in isolated(p.term))
