"""The greatest and the least: what `z_max` says below `z = u t - ½ g t²`.

The name says that z is meant where it changes no more with something that the line does not speak of: the time, or the
one quantity that has dropped out. Where z depends on other things that are tied to that one, nothing is said. Below
`v² ≤ μ g r` it says that v is meant where both sides are equal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.records import Symbol
from derive.states.context import Premise
from derive.states.evidence import weigh
from derive.states.setting import Matter
from derive.states.states import freedom
from derive.steps.fresh import defined_by
from derive.terms.calculus import partial
from derive.terms.isolation import isolated
from derive.terms.term import TWO, ZERO, Term, Var, sub, substitute, var, variables
from derive.terms.world import TIME

_EXTREMES = ("max", "min")


def with_meaning(m: Matter) -> Matter | None:
    """The matter with the meaning of a new `…_max` among its premises; None where there is none or it has no state."""
    found = defined_by(m, set(m.fresh))
    stem, _, extreme = found[0].name.partition("_") if found is not None else ("", "", "")
    if found is not None and extreme in _EXTREMES and (bound := _bound(stem, extreme, m)) is not None:
        at_the_end = substitute(bound, {var(Var(stem)): var(found[0])})
        symbols = {**m.context.world.symbols, found[0].name: Symbol(found[0].name, sign="positive", declared=False)}
        magnitude = m.context.knowing(replace(m.context.world, symbols=symbols))  # of v_max² the root that is a size
        return _meaning(found[0], (at_the_end,), replace(m, setting=m.setting.within(magnitude))) or _meaning(
            found[0], (at_the_end,), m)
    course = _course(stem, m) if extreme in _EXTREMES else None
    if found is None or course is None:
        return None
    name, given_by = found
    own, left = set(variables(course)), set(variables(given_by))
    dropped = own - left
    along = Var(TIME) if Var(TIME) in dropped else next(iter(dropped), None) if len(dropped) == 1 else None
    if along is None or not left <= own:
        return None
    free = freedom(m.context, sorted(own, key=str), (), m.setting.states) == len(own)
    if not free and not _at_rest_already(partial(course, along), m):
        return None
    return _meaning(name, (sub(var(name), course), partial(course, along)), m)


def _meaning(name: Var, terms: Sequence[Term], m: Matter) -> Matter | None:
    label = f"meaning of {name.name}"
    premises = (Premise(label, t, "=", False, False, m.number, "meaning") for t in terms)
    inside = m.setting.within(m.context.adding(*premises))
    if not inside.states.any(inside.context).size:
        return None
    return replace(m, setting=inside, fresh=tuple(n for n in m.fresh if n != name.name))


def _bound(name: str, extreme: str, m: Matter) -> Term | None:
    """What is nothing where a quantity is as large (or as small) as the lines above let it be: `v² ≤ μ g r`."""
    falling = {"max": ("<", "≤"), "min": (">", "≥")}[extreme]
    for p in reversed(m.context.premises):
        if p.sides is None or Var(name) not in variables(p.term) or p.sign not in "<≤>≥":
            continue
        left, right = p.sides if p.sign in falling else p.sides[::-1]
        alone = left.args[0] if left.op == "pow" and left.args[1] is TWO else left
        if alone is var(Var(name)) and Var(name) not in variables(right) and variables(right):
            return sub(left, right)
    return None


def _at_rest_already(slope: Term, m: Matter) -> bool:
    """Do the lines above speak of nothing but the place where it changes no more (`dR/dθ = 0`, `so θ = 45°`)?"""
    cloud = m.setting.states.of(m.context, (slope,))
    return bool(cloud.size) and weigh(slope, ZERO, "=", cloud).all_hold


def _course(name: str, m: Matter) -> Term | None:
    """What some line gives a quantity by, in names alone."""
    for p in reversed(m.context.premises):
        for v, rest in isolated(p.term) if p.sign == "=" else ():
            plain = all(u.role == "value" and not u.order and not u.at for u in variables(rest))
            if v == Var(name) and plain and len(variables(rest)) > 1:
                return rest
    return None
