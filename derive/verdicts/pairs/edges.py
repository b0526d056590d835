"""Where a bound of the page is just met: `θ ≤ 75.5°` below `cos θ ≥ 1/4`, `F_max = μ m g` below `f ≤ μ m g`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from derive.notation.tree import Name
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter, Setting
from derive.states.sizes import ANGLES
from derive.states.states import freedom
from derive.steps.customs import customary
from derive.steps.letters.defining import defining
from derive.steps.numbers import numeric
from derive.terms.numbers import spread
from derive.terms.term import PI, Var, sub, var, variables
from derive.verdicts.pairs.refuting import fails
from derive.verdicts.pairs.weighing import evidence

_ORDERS = ("<", "≤", ">", "≥")
_NEAR = 4  # lines above a bound that it is worked out from
_GREATEST = {"max": "≤", "min": "≥"}
_MOST_BOUNDS = 3  # tried, each of which takes searches for states
# What is only said of sizes and signs is no bound that anything comes to.
_OF_SIGNS = ("range", "custom")


def bound_worked_out(m: Matter) -> Decision | None:
    """`θ ≤ 75.5°` where the lines just above leave 75.52°: right to its figures; with another number it is off, though
    nobody says that it follows."""
    named = _bounded_name(m)
    for p in _bounds(m.context) if named is not None else ():
        v, turned = named  # type: ignore[misc]
        if p.source < m.number - _NEAR or v not in variables(p.term) or _is_direct(p, v):
            continue
        edge, inside = _at_the_edge(m.context, p, v), m.context.adding(*_usual(v))
        sign = {"<": ">", "≤": "≥", ">": "<", "≥": "≤"}[m.pair.sign] if turned else m.pair.sign
        if not _bounds_from(edge, inside, v, sign, m):
            continue
        there = replace(m, pair=replace(m.pair, sign="="), lowered=replace(m.lowered, sign="="))
        rounded = numeric.with_allowance(there, edge)
        if rounded is not None and rounded[0].all_hold:
            verdict = Verdict(
                Standing.APPROXIMATES, support="tested", points=rounded[1].size, code="approximates.number",
                premises=m.cites)
            return Decision(verdict, replace(m.setting, rounded=(*m.setting.rounded, *m.premises(implied=False))))
        return fails(m)
    return None


def extreme_of_a_bound(m: Matter) -> Decision | None:
    """`F_max = μ m g` is F where a bound that the page knows, of all or of the case spoken of, is just met."""
    name = next((n for n in m.fresh if n.rpartition("_")[2] in _GREATEST), "") if m.pair.sign == "=" else ""
    stem, left = name.rpartition("_")[0], m.lowered.parts[0][0]
    if not stem or left != var(Var(name)) or len(m.lowered.parts) != 1 or set(m.fresh) != {name}:
        return None
    if Var(stem) in variables(m.lowered.parts[0][1]) or not _is_tied(Var(stem), m.context):
        return None
    found = [d for p in _bounds_spoken_of(m.setting) if (d := _extreme_where_met(p, name, m)) is not None]
    return next((d for d in found if d.verdict.standing is not Standing.FAILS), found[0] if found else None)


def _bounds_spoken_of(setting: Setting) -> Iterator[Premise]:
    """Bounds that are drawn from no others, of the cases first, and the latest first."""
    supposed = (p for case in reversed(setting.cases) for p in case.premises if p.sign in _ORDERS)
    told = (p for p in _bounds(setting.context) if not p.implied)
    return islice({p.term: p for p in (*supposed, *told)}.values(), _MOST_BOUNDS)


def _extreme_where_met(p: Premise, name: str, m: Matter) -> Decision | None:
    """What a bound leaves of a name as the greatest or least of it; None where it does not bound it."""
    stem, _, extreme = name.rpartition("_")
    right = m.lowered.parts[0][1]
    edge = _at_the_edge(m.context, p, Var(stem))
    there = replace(
        m, setting=m.setting.within(edge), fresh=(), pair=replace(m.pair, left=Name(stem, span=m.pair.left.span)),
        lowered=replace(m.lowered, parts=((var(Var(stem)), right),)))
    there = customary.with_sizes(there) or there
    edge, own = there.context, [v for v in variables(right) if v.role == "value"]
    states = m.setting.states
    known = [*own, Var(stem)]
    if freedom(edge, known, (), states) != freedom(edge, own, (), states):
        return None
    if freedom(m.context, known, (), states) == freedom(m.context, own, (), states):
        return None  # it is that anyway, whatever the bound
    found, cloud = evidence(there)
    rounded = numeric.right_to_its_figures(there)
    if not all(e.all_hold for e in found) and rounded is None:
        broken = fails(there) if any(e.all_fail for e in found) else None
        return broken and replace(
            broken, after=replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
    within = replace(edge, premises=tuple(
        replace(p, implied=False) if q.term == p.term else q for q in edge.premises))
    everywhere, sign = states.of(within, (var(Var(stem)), right)), _GREATEST[extreme]
    if rounded is None and not weigh(var(Var(stem)), right, sign, everywhere).all_hold:
        return None
    verdict = rounded.verdict if rounded is not None else Verdict(
        Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.bound_met", premises=m.cites,
        facts=(("bound", p.label),) if p.label else ())
    verdict = replace(verdict, introduces=(name,))
    return Decision(verdict, m.setting.within(defining(m, Var(name), m.context)))


def _bounds(context: Context) -> Iterator[Premise]:
    """The bounds that the lines of the page have said, the latest first."""
    return (p for p in reversed(context.premises) if p.sign in _ORDERS and p.source and p.kind not in _OF_SIGNS)


def _is_direct(p: Premise, v: Var) -> bool:
    """`θ ≤ 75.5°`: a number for the name itself, and no more than a bound beside others."""
    return p.sides is not None and var(v) in p.sides and not any(variables(s) for s in p.sides if s != var(v))


def _is_tied(v: Var, context: Context) -> bool:
    return any(v in variables(p.term) for p in context.premises)


def _bounded_name(m: Matter) -> tuple[Var, bool] | None:
    """The name that a line bounds by a number, and whether the number stands first."""
    if m.pair.sign not in _ORDERS or len(m.lowered.parts) != 1:
        return None
    left, right = m.lowered.parts[0]
    for side, other, turned in ((left, right, False), (right, left, True)):
        if side.op == "var" and isinstance(side.value, Var) and side.value.role == "value" and not variables(other):
            return side.value, turned
    return None


def _at_the_edge(context: Context, p: Premise, v: Var) -> Context:
    """The context with a bound just met, and no other bound drawn from it; of a size that is more than nothing."""
    kept = tuple(q for q in context.premises if q.sign == "=" or q.kind in _OF_SIGNS or (q != p and not q.implied))
    met = replace(p, sign="=", implied=False, always=False, sides=None)
    return replace(context, premises=(*kept, met, *_usual(v)))


def _usual(v: Var) -> tuple[Premise, ...]:
    """What goes without saying of a size that is bounded: more than nothing, and an angle less than two right ones."""
    positive = Premise("", var(v), ">", False, kind="custom")
    turned = Premise("", sub(var(v), PI), "<", False, kind="custom")
    return (positive, turned) if v.name[:1] in ANGLES else (positive,)


def _bounds_from(edge: Context, inside: Context, v: Var, sign: str, m: Matter) -> bool:
    """Does the edge leave one value, and is all that the bound allows on that side of it that the line speaks of?"""
    there = m.setting.states.of(edge, (var(v),))
    if not there.size or spread(there.columns[v]) > 1e-9:
        return False
    cloud = m.setting.states.of(inside, (var(v),))
    edges = there.columns[v].real[0]
    values = cloud.columns[v].real if cloud.size else there.columns[v][:0].real
    return bool(cloud.size) and bool(
        (values <= edges * (1 + 1e-9)).all() if sign in "<≤" else (values >= edges * (1 - 1e-9)).all())
