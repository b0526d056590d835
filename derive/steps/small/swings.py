"""Small swings about a place where a potential is least: `m s'' = -8 U0 s/a²` below `U = …` along x and `x = a + s`.

That the force is the slope of the potential, downwards, nobody has to write; nor that what moves beside the place is
small. Held to the first order in what is beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Context
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.steps.small.smallness import to_order
from derive.terms.calculus import partial
from derive.terms.term import MINUS_ONE, ONE, ZERO, Term, Var, div, mul, neg, sub, substitute, var, variables
from derive.terms.writing import written

_POTENTIALS = ("U", "V", "PE", "E_p")
_MASSES = ("m", "M", "μ")


def about_a_place(m: Matter) -> Decision | None:
    """An equation of motion of the first order, where nothing above says how it moves but a potential."""
    if m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1:
        return None
    residual = sub(*m.lowered.parts[0])
    second = [v for v in variables(residual) if v.order == 2 and not v.at]
    split = linear(residual, second[0]) if len(second) == 1 else None
    if split is None or split[0] is ZERO:
        return None
    y = Var(second[0].name)
    if set(m.fresh) - {y.name, *_MASSES} or any(v.order or v.at or v.name == "t" for v in variables(split[1])):
        return None
    for x, place in _places(y, m.context):
        slope = _slope(x, m.context)
        alone = x == y and (m.setting.regime is None or y not in m.setting.regime.small)
        if slope is None or alone or _is_told(x, y, m.context):
            continue
        return _decided(m, split, y, neg(substitute(slope, {var(x): place})))
    return None


def _decided(m: Matter, split: tuple[Term, Term], y: Var, force: Term) -> Decision | None:
    mass = _mass(*split)
    if mass is None:
        return None
    given = mul(MINUS_ONE, div(mul(mass, split[1]), split[0]))
    near = replace(
        m, lowered=replace(m.lowered, parts=((given, force),)), setting=replace(m.setting, regime=None, broken=()))
    cloud = m.setting.states.of(near.context, (given, force))
    exact = bool(cloud.size) and weigh(given, force, "=", cloud).all_hold
    found = to_order(near, [y.name]) if not exact else None
    after = m.setting.within(m.context.knowing(
        replace(m.context.world, moving=m.context.world.moving | {y.name})).adding(*m.premises(implied=False)))
    if found is not None and found.verdict.standing is Standing.APPROXIMATES:
        return Decision(found.verdict, after)
    if exact:
        return Decision(Verdict(Standing.FOLLOWS, support="tested", code="follows.plain", points=cloud.size), after)
    state = shown_state(near.setting, given, force, "=", [y.name])
    if state is None:
        return None
    named = written(mul(mass, var(y._replace(order=2, wrt="t"))))
    state = replace(state, left=replace(state.left, name=named), right=replace(state.right, name=written(force)))
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.state", state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _places(y: Var, context: Context) -> Iterator[tuple[Var, Term]]:
    """The x of `x = x0 + y`, and what it is; and y itself."""
    for p in context.premises:
        of_y = linear(p.term, y) if p.sign == "=" and not p.implied else None
        if of_y is None or of_y[0] is ZERO:
            continue
        for x in variables(p.term):
            of_x = linear(p.term, x) if x != y and not (x.order or x.at) else None
            if of_x is not None and of_x[0] in (ONE, MINUS_ONE) and of_y[0] is neg(of_x[0]):
                yield x, mul(neg(of_x[0]), of_x[1])
    yield y, var(y)


def _slope(x: Var, context: Context) -> Term | None:
    """How the one potential along x goes with it."""
    world = context.world
    known = {n: world.definitions[n] for n in world.definitions
             if n in _POTENTIALS or n.partition("_")[0] in ("U", "V")}
    # `x = x0 + y` may stand as what x is: the slope is taken along x all the same.
    world = replace(world, definitions={n: t for n, t in world.definitions.items() if n != x.name})
    whole = [world.seen_through(t) for t in known.values()]
    along = [t for t in whole if x in variables(t) and not any(v.order for v in variables(t))]
    return partial(along[0], x) if len(along) == 1 else None


def _is_told(x: Var, y: Var, context: Context) -> bool:
    """Does a line say already how it moves?"""
    return any(
        v.name in (x.name, y.name) and v.order > 1 and v.wrt == "t" for p in context.premises
        for v in variables(p.term)) or bool({x.name, y.name} & context.world.functions.keys())


def _mass(times: Term, rest: Term) -> Term | None:
    """What the acceleration is taken times of; of a bare one, the mass that the other side is divided by."""
    own = variables(times)
    if own and all(v.name.partition("_")[0] in _MASSES for v in own):
        return times
    masses = [v for v in variables(rest) if v.name in _MASSES]
    return var(masses[0]) if not own and len(masses) == 1 else None
