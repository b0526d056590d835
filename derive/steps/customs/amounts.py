"""What nobody asks whether it is there at all: forces and loads, drag and flow, what is resolved into components."""

from __future__ import annotations

from dataclasses import replace

from derive.states.setting import Matter
from derive.states.sizes import positive
from derive.steps.customs.customary import BOUNDS, acute_angles, spoken_of, tells_its_names, with_sizes
from derive.terms.term import Var, postorder, variables

# Forces and loads, drag and flow: of what a page calls so nobody asks whether it is there at all.
_AMOUNTS = frozenset(["F", "W", "P", "N", "S", "f", "b", "c", "η", "σ", "q", "Q", "h", "H", "D"])


# What has a direction besides (common practice, no source).
_RESOLVED = frozenset(["u", "v", "w", "c", "V", "F", "T", "P", "N", "W"])


def with_amounts(m: Matter, acute: bool = False) -> Matter | None:
    """`v = √(F/b)`, `dt = -m dv/(F + b v²)`: no force is nothing, nor is what drags, where the line divides by it. In a
    bound (`tan θ ≥ 1/(2 μ)`) the angles are acute as well, and elsewhere where that is asked for."""
    if tells_its_names(m) or m.lowered.primitives:
        return None
    inside = with_sizes(m) or m
    world, spoken = inside.context.world, spoken_of(m)
    bounded = {t.value for part in m.lowered.parts for t in part} if m.pair.sign in BOUNDS else set()
    here = variables(*map(m.context.resolved, m.residuals), *(m.context.resolved(p.term) for p in m.context.premises))
    amounts = {
        v.name for v in here if v.name.partition("_")[0] in _AMOUNTS and v.role == "value" and not v.order and not v.at
        and v not in spoken and v not in bounded and v.name not in world.symbols and not world.is_changing(v)}
    amounts |= {v.name for v in _resolved_by_angles(m) if v not in spoken and v not in bounded and v in here}
    context = positive(inside.context, amounts) if amounts else inside.context
    if context is None or not m.setting.states.any(context).size:
        return None
    inside = replace(inside, setting=inside.setting.within(context))
    return next(acute_angles(inside), inside) if acute or m.pair.sign in BOUNDS else inside


def _resolved_by_angles(m: Matter) -> set[Var]:
    """The u of `u cos θ`: what is resolved into components is a size, and its direction is the angle's."""
    world = m.context.world
    return {
        f.value for p in m.context.premises if p.sign == "=" for t in postorder(p.term) if t.op == "mul"
        and any(g.op == "fun" and g.value in ("sin", "cos") for g in t.args) for f in t.args
        if isinstance(f.value, Var) and f.value.role == "value" and not f.value.order and not f.value.at
        and f.value.name.partition("_")[0] in _RESOLVED and f.value.name not in world.symbols
        and not world.is_changing(f.value)}
