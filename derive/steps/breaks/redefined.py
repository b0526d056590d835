"""After a break in what a name stands for: lines that are right for the writer's own expression of it.

`∂L/∂x` is read through the true L; after a wrong `L = …` the writer means their own. So is `U'(r0)` through the true
U; after a wrong `U' = …` it is the writer's own slope there. The line and the premises in which such a name is
differentiated or taken at a place are read again with that, and where the line then holds it is carried.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.consistency import comes_to_nothing, consistent
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.terms.claims import Pair, lower_pair
from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, sub
from derive.terms.world import World


def carried_by_definition(m: Matter) -> Decision | None:
    """The pair holds when a name in it stands for what the writer said on a line that does not hold."""
    own = {v.name: rest for v, rest in _own_word(m).items() if not v.order and v.name in m.context.world.definitions}
    world = replace(m.context.world, definitions={**m.context.world.definitions, **own})
    return _holding(m, _again(m.context, world)) if own else None


def carried_by_slope(m: Matter) -> Decision | None:
    """The pair holds when a name that is known as a function has the slope that the writer gave it on a line that does
    not hold: its course is then not known any more."""
    own = {v.name for v in _own_word(m) if v.order and v.name in m.context.world.functions}
    if not own:
        return None
    world = m.context.world
    functions = {n: t for n, t in world.functions.items() if n not in own}
    there = _again(m.context, replace(world, functions=functions))
    if there.premises == m.context.premises:
        return None
    return _holding(m, there) or _holding(m, _signless(there))


def _signless(context: Context) -> Context:
    """Signs and ranges left open: a length may come out negative."""
    return replace(context, world=replace(context.world, formal=True),
                   premises=tuple(p for p in context.premises if p.kind != "range"))


def _holding(m: Matter, there: Context) -> Decision | None:
    """Carried, if the pair, read as in another context, holds in that with the writer's own lines."""
    lowered = lower_pair(m.pair, there.world)
    if lowered.primitives or (lowered.parts == m.lowered.parts and there.premises == m.context.premises):
        return None
    must = tuple(_read_again(p, there.world)[0] for p in reversed(m.setting.broken))
    view = consistent(_with_instants(there, lowered.instants), must, m.setting)
    parts = [(view.resolved(a), view.resolved(b)) for a, b in lowered.parts]
    sides = [t for part in parts for t in part]
    cloud = m.setting.states.of(view, sides)
    if not cloud.size or not all(weigh(a, b, m.pair.sign, cloud).all_hold for a, b in parts):
        return None
    if comes_to_nothing(view, sides, (*m.setting.broken, *m.premises(implied=False)), m.setting):
        return None
    source = m.setting.broken[-1].source
    verdict = Verdict(
        Standing.CARRIED, points=cloud.size, code="carried.from", facts=(("line", str(source)),), carried_from=source)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _again(context: Context, world: World) -> Context:
    """A context with what is differentiated or taken at a place in it read in another world."""
    premises, out = [], replace(context, world=world)
    for p in context.premises:
        again, instants = _read_again(p, world)
        premises.append(again)
        out = _with_instants(out, instants)
    return replace(out, premises=tuple(premises))


Instants = tuple[tuple[str, Term], ...]


def _with_instants(context: Context, instants: Instants) -> Context:
    for key, at in instants:
        context = context.at_instant(key, at)
    return context


def _read_again(p: Premise, world: World) -> tuple[Premise, Instants]:
    """A premise with its partial derivatives and its values at places taken of the writer's own expressions."""
    if not isinstance(p.pair, Pair):
        return p, ()
    lowered = lower_pair(p.pair, world)
    return replace(p, term=sub(*lowered.parts[0])), lowered.instants


def _own_word(m: Matter) -> Mapping[Var, Term]:
    """What the broken lines say names and their rates are, the latest word on each."""
    return {v: rest for p in m.setting.broken if p.sign == "=" for v, rest in isolated(p.term)[:1]
            if not v.at and v.role == "value"}
