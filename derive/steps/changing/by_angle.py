"""What stands for something that moves, and is told by the place instead: u = 1/r by φ, below `d²u/dφ² + u = G M/h²`.

Its equation along the angle is all that its course has to satisfy, and the time is out of it: what was kept while
the equation was drawn from the motion (`m r² φ' = h`) is a constant there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Derivative, Name, names_in, walk
from derive.states.context import Premise
from derive.states.setting import Matter
from derive.terms.claims import Pair, lower_pair
from derive.terms.term import Var, sub, var, variables
from derive.terms.world import TIME, World

# Letters of what is kept on the way, angular momenta above all (common practice, no source).
_KEPT = frozenset("lLhHJCcKk")


def by_its_angle(m: Matter) -> Matter | None:
    """The pair `u = …` or `du/dφ = …` beside the equations of u along its variable alone, where u is a shorthand."""
    world, slope = m.context.world, isinstance(m.pair.left, Derivative)
    name = m.pair.left.body if isinstance(m.pair.left, Derivative) else m.pair.left
    if m.pair.sign != "=" or not isinstance(name, Name) or not _is_shorthand(name.ident, world):
        return None
    told = [(q, by) for q in m.context.premises if (by := _along(q, name, world))]
    along = next((by for _, by in told), "")
    meant = variables(world.seen_through(var(Var(name.ident))))
    if not along or len({by for _, by in told}) > 1 or Var(along) in meant:
        return None
    still = {n for q, _ in told for n in _names(q)} | {*names_in(m.pair.right)}
    inner = replace(
        world, moving=world.moving - still - {name.ident}, fields={name.ident: along}, functions={},
        constants=world.constants - {n for q, _ in told for n in _names(q)},
        definitions={n: t for n, t in world.definitions.items() if n not in still and not world.changes(t)})
    equations = [p for q, _ in told for p in _lowered(q, inner)]
    beside = [q for q in m.context.premises if not any(inner.is_changing(v) or v.at for v in variables(q.term))]
    if slope:
        beside += [q for q in m.context.premises if _is_course(q, name.ident, along, world)]
    there = [q for q in m.context.premises if any(v.at.startswith(f"{along}=") for v in variables(q.term))
             and all(v.name == name.ident or not inner.is_changing(Var(v.name)) for v in variables(q.term))]
    instants = tuple(one for one in m.context.instants if one[0].startswith(f"{along}="))
    context = replace(m.context, premises=(*beside, *equations, *there), instants=instants).knowing(inner)
    return replace(m, setting=m.setting.within(context), lowered=lower_pair(m.pair, inner))


def _is_shorthand(name: str, world: World) -> bool:
    """1/r is; a speed, which is the rate of a place, is not."""
    meant = world.definitions.get(name)
    return meant is not None and not any(v.order for v in variables(meant))


def _along(q: Premise, name: Name, world: World) -> str:
    """Along what a premise follows the name, where it speaks of nothing else that changes."""
    if not isinstance(q.sloping, Pair):
        return ""
    slopes = [n for n in walk(q.sloping.relation()) if isinstance(n, Derivative)]
    if not any(n.order > 1 for n in slopes):
        return ""
    by = {n.wrt.ident for n in slopes if n.body == name and isinstance(n.wrt, Name) and n.wrt.ident != TIME}
    others = _names(q) - {name.ident, *by}
    moving = {n for n in others if world.is_changing(Var(n)) and n.partition("_")[0] not in _KEPT}
    return by.pop() if len(by) == 1 and not moving and all(n.body == name for n in slopes) else ""


def _is_course(q: Premise, name: str, along: str, world: World) -> bool:
    here = variables(q.term)
    return {name, along} <= {v.name for v in here} and not any(
        v.order or v.at or (world.is_changing(v) and v.name not in (name, along) and v.name[0] not in _KEPT)
        for v in here)


def _names(q: Premise) -> set[str]:
    return {*names_in(q.sloping.relation())} if isinstance(q.sloping, Pair) else set()


def _lowered(q: Premise, world: World) -> Iterator[Premise]:
    assert isinstance(q.sloping, Pair)
    for part in lower_pair(q.sloping, world).parts:
        yield replace(q, term=sub(*part), sides=part, always=True, implied=False)
