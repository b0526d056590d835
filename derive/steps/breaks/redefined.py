"""After a break in what a name stands for: lines that are right for the writer's own expression of it.

`∂L/∂x` is read through the true L; after a wrong `L = …` the writer means their own. The line and the premises
with partial derivatives are read again with that, and where the line then holds it is carried.
"""

from __future__ import annotations

from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.consistency import consistent
from derive.states.context import Premise
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.terms.claims import Pair, lower_pair
from derive.terms.isolation import isolated
from derive.terms.term import Term, sub
from derive.terms.world import World


def carried_by_definition(m: Matter) -> Decision | None:
    """The pair holds when a name in it stands for what the writer said on a line that does not hold."""
    own = _own_definitions(m)
    if not own:
        return None
    world = replace(m.context.world, definitions={**m.context.world.definitions, **own})
    lowered = lower_pair(m.pair, world)
    premises = tuple(_read_again(p, world) for p in m.context.premises)
    if lowered.primitives or (lowered.parts == m.lowered.parts and premises == m.context.premises):
        return None
    must = tuple(_read_again(p, world) for p in reversed(m.setting.broken))
    view = consistent(replace(m.context, world=world, premises=premises), must, m.setting)
    parts = [(view.resolved(a), view.resolved(b)) for a, b in lowered.parts]
    cloud = m.setting.states.of(view, [t for part in parts for t in part])
    if not cloud.size or not all(weigh(a, b, m.pair.sign, cloud).all_hold for a, b in parts):
        return None
    source = m.setting.broken[-1].source
    verdict = Verdict(
        Standing.CARRIED, points=cloud.size, code="carried.from", facts=(("line", str(source)),), carried_from=source)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _read_again(p: Premise, world: World) -> Premise:
    """A premise with its partial derivatives taken of the writer's own expressions."""
    if not isinstance(p.pair, Pair):
        return p
    left, right = lower_pair(p.pair, world).parts[0]
    return replace(p, term=sub(left, right))


def _own_definitions(m: Matter) -> dict[str, Term]:
    """What the broken lines say defined names are, the latest word on each."""
    out: dict[str, Term] = {}
    for p in m.setting.broken:
        for v, rest in isolated(p.term)[:1] if p.sign == "=" else ():
            if v.name in m.context.world.definitions and not v.order and not v.at and v.role == "value":
                out[v.name] = rest
    return out
