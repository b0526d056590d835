"""What holds a body on an incline, where a working without givens only speaks of the bound that it sets to friction."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.states.context import Premise
from derive.states.setting import Matter
from derive.terms.term import Term, Var, fun, mul, postorder, sub, var, variables

_NORMAL, _GRAVITY = Var("N"), Var("g")


def views(m: Matter) -> Iterator[Matter]:
    """`f ≤ μ N: tan θ ≤ μ (1 + c)/c` below `a = g sin θ/(1 + c)`: nobody has said what N is, and on an incline that is
    m g cos θ (common practice, no source)."""
    context = m.context
    equations = [p.term for p in context.premises if p.sign == "="]
    bounded = any(_NORMAL in variables(p.term) for p in context.premises if p.sign in "<≤>≥")
    if not bounded or any(_NORMAL in variables(t) for t in equations):
        return
    slopes = {angle for t in (*equations, *m.residuals) for angle in _slopes(t)}
    masses = sorted({v for t in equations for v in variables(t) if v.name in ("m", "M")}, key=str)
    if len(slopes) != 1 or len(masses) != 1 or any(context.world.is_changing(v) for v in masses):
        return
    (angle,) = slopes
    held = mul(var(masses[0]), var(_GRAVITY), fun("cos", var(angle)))
    said = f"N being {masses[0].name} g cos {angle.name} on the incline"
    steep = Premise(said, fun("cos", var(angle)), ">", always=False, kind="custom", source=m.number)
    premise = Premise(said, sub(var(_NORMAL), held), "=", kind="custom", source=m.number)
    yield replace(m, setting=m.setting.within(context.adding(steep, premise)))


def _slopes(t: Term) -> Iterator[Var]:
    """The θ of a `g sin θ`."""
    for product in postorder(t):
        factors = product.args if product.op == "mul" else ()
        if var(_GRAVITY) in factors:
            for f in factors:
                angle = f.args[0].value if f.op == "fun" and f.value == "sin" else None
                if isinstance(angle, Var) and not angle.order:
                    yield angle
