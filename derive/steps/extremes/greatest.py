"""The greatest and the least: what `z_max` says below `z = u t - ½ g t²`.

The name says that z is meant where it changes no more with something that the line does not speak of: the time, or the
one quantity that has dropped out. Where z depends on other things that are tied to that one, nothing is said. Below
`v² ≤ μ g r` it says that v is meant where both sides are equal.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from derive.records import Symbol
from derive.states.context import Premise
from derive.states.evidence import weigh
from derive.states.setting import Matter, Setting
from derive.states.sizes import all_positive
from derive.states.states import freedom
from derive.steps.letters.defining import defined_by
from derive.terms.calculus import derivative, partial
from derive.terms.isolation import isolated
from derive.terms.term import MINUS_ONE, ONE, TWO, ZERO, Term, Var, mul, neg, power, sub, substitute, var, variables
from derive.terms.world import TIME

_EXTREMES = ("max", "min")


def with_meaning(m: Matter) -> Matter | None:
    """The matter with the meaning of a new `…_max` among its premises; None where there is none or it has no state."""
    equal = m if m.pair.sign != "≈" else replace(m, pair=replace(m.pair, sign="="))
    found = defined_by(equal, set(m.fresh)) or _told_within(equal)
    stem, _, extreme = found[0].name.partition("_") if found is not None else ("", "", "")
    if found is not None and extreme in _EXTREMES and (bound := _bound(stem, extreme, m)) is not None:
        at_the_end = substitute(bound, {var(Var(stem)): var(found[0])})
        symbols = {**m.context.world.symbols, found[0].name: Symbol(found[0].name, sign="positive", declared=False)}
        magnitude = m.context.knowing(replace(m.context.world, symbols=symbols))  # of v_max² the root that is a size
        return _at_the_end(found[0], (at_the_end,), replace(m, setting=m.setting.within(magnitude))) or _at_the_end(
            found[0], (at_the_end,), m)
    if found is None or extreme not in _EXTREMES:
        return None
    courses = list(dict.fromkeys(c for c in (*courses_of(stem, m), _rate(stem, m)) if c is not None))
    there = (_where_still(*found, course, extreme, m) for course in courses)
    inside = next((inside for inside in there if inside is not None), None) or _along_a_place(
        *found, extreme, m) or next((held for course in courses if (held := _held_by_another(
            *found, course, extreme, m)) is not None), None)
    end = _far_out(stem, m) if inside is None else None
    return inside if end is None else _at_the_end(found[0], (sub(var(found[0]), end),), m)


def _told_within(m: Matter) -> tuple[Var, Term] | None:
    """v_max of `½ m v_max² = a³/(6 b²)`, and what stands beside it."""
    names = [n for n in m.fresh if n.partition("_")[2] in _EXTREMES]
    if len(names) != 1 or len(m.residuals) != 1 or m.pair.sign != "=":
        return None
    (name,) = map(Var, names)
    (residual,) = m.residuals
    beside = substitute(residual, {var(name): ZERO})
    return (name, beside) if name in variables(residual) and variables(beside) else None


# What energies are followed along (common practice, no source).
_PLACES = frozenset("xyzsrhθφψ")


def _along_a_place(name: Var, given_by: Term, extreme: str, m: Matter) -> Matter | None:
    """`v_max = A √(k/m)` below `½ m v² + ½ k x² = ½ k A²`, where v changes no more with the one place that has dropped
    out: of F(v, x) = 0 where ∂F/∂x = 0, and there d²v/dx² is -∂²F/∂x² ÷ ∂F/∂v."""
    own = quantity(name.name.partition("_")[0])
    for p in reversed(m.context.premises):
        here = variables(p.term)
        if p.sign != "=" or not p.always or own not in here or any(v.at or v.role != "value" for v in here):
            continue
        places = [v for v in here if v not in variables(given_by) and v.name in _PLACES and not v.order]
        if len(places) != 1 or any(v.order and v != own for v in here) or not set(variables(given_by)) <= set(here):
            continue
        slope = partial(p.term, places[0])
        bend = mul(partial(slope, places[0]), power(partial(p.term, own), MINUS_ONE))
        change = {var(own): var(name)}
        signs = (bend if extreme == "max" else neg(bend), var(name))
        premises = (
            *(Premise(f"meaning of {name.name}", substitute(t, change), "=", False, False, m.number, "meaning")
              for t in (p.term, slope)),
            *(Premise(f"meaning of {name.name}", substitute(t, change), "≥", False, False, m.number, "meaning")
              for t in signs))
        constants = [v for v in here if v not in (own, places[0])]
        context = (all_positive(m.context, constants) or m.context).adding(*premises)
        if m.setting.states.any(context).size:
            fresh = tuple(n for n in m.fresh if n != name.name)
            return replace(m, setting=m.setting.within(context), fresh=fresh)
    return None


def quantity(stem: str) -> Var:
    """What a name without its index stands for: v, or the x' of `x'_max`."""
    place, times = stem.rstrip("'"), stem.count("'")
    return Var(place, times, TIME) if times else Var(place)


def _far_out(stem: str, m: Matter) -> Term | None:
    """What a quantity was last said to go to: `x_max` below `as t → ∞: x → m u/b` is that."""
    said = (x.value for x in reversed(m.setting.limits) if x.quantity is var(Var(stem)))
    return next((value for value in said if variables(value)), None)


def _where_still(name: Var, given_by: Term, course: Term, extreme: str, m: Matter) -> Matter | None:
    """The matter with z_max being z, as a course gives it, where that changes no more with what has dropped out."""
    own, left = set(variables(course)), set(variables(given_by))
    dropped = own - left
    along = Var(TIME) if Var(TIME) in dropped else next(iter(dropped), None) if len(dropped) == 1 else None
    slope = partial(course, along) if along is not None else ZERO
    # Over time whatever stays may stand for the constants of the course (m for k/ω²).
    told = left <= own or (along == Var(TIME) and not any(m.context.world.is_changing(v) for v in left))
    if along is None or not told or slope is ZERO or not (_is_free(along, own, m) or _stands_still(slope, m)):
        return None
    label = f"meaning of {name.name}"
    bend = partial(slope, along) if extreme == "max" else neg(partial(slope, along))
    premises = (
        *(Premise(label, t, "=", False, False, m.number, "meaning") for t in (sub(var(name), course), slope)),
        Premise(label, bend, "≤", False, False, m.number, "meaning"))
    for context in (m.context, all_positive(m.context, own - {along})):
        inside = m.setting.within(context.adding(*premises)) if context is not None else m.setting
        if inside.states.any(inside.context).size and (context is not m.context or not _open_in_sign(m, inside)):
            return replace(m, setting=inside, fresh=tuple(n for n in m.fresh if n != name.name))
    return None


def _is_free(along: Var, own: set[Var], m: Matter) -> bool:
    """May a course be followed along a variable, whatever ties its constants among each other (`ω² = k/m`)?"""
    others = sorted(own - {along}, key=str)
    before, with_it = (freedom(m.context, names, (), m.setting.states) for names in (others, [*others, along]))
    return 0 <= before < with_it


def _stands_still(slope: Term, m: Matter) -> bool:
    """Has the page gone to where the slope is nothing (`tan α = μ`)?"""
    cloud = m.setting.states.of(m.context, (slope,))
    return bool(cloud.size) and weigh(slope, ZERO, "=", cloud).all_hold


def _open_in_sign(m: Matter, inside: Setting) -> bool:
    """Does the line hold in some states only, as `x_max = A` does where nobody has said that A is positive?"""
    parts = [tuple(map(inside.context.resolved, part)) for part in m.lowered.parts]
    cloud = inside.states.of(inside.context, [t for part in parts for t in part])
    return any(weigh(a, b, m.pair.sign, cloud).mixed for a, b in parts)


def _at_the_end(name: Var, terms: Sequence[Term], m: Matter) -> Matter | None:
    premises = (Premise(f"meaning of {name.name}", t, "=", False, False, m.number, "meaning") for t in terms)
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
    bounds = (p for case in reversed(m.setting.cases) for p in case.premises if p.sign in "<≤>≥")
    return next((p.term for p in bounds if _holds_it(p, Var(name), falling, m)), None)


def _held_by_another(name: Var, given_by: Term, course: Term, extreme: str, m: Matter) -> Matter | None:
    """`T_min = 6 m g` below `u² ≥ 5 g r`, `T = m g + m u²/r`: what it hangs on is as small as it may be."""
    for p in reversed(m.context.premises):
        if p.sides is None or p.sign not in ("≤", "≥"):
            continue
        left = p.sides[0]
        held = left.args[0] if left.op == "pow" else left
        dropped = set(variables(course)) - set(variables(given_by))
        if held.op != "var" or dropped != {held.value} or held.value in variables(p.sides[1]):
            continue
        slope, grows = partial(course, held.value), (p.sign == "≥") == (extreme == "min")
        sized = all_positive(m.context, {*variables(course)} | {*variables(p.term)}) or m.context
        cloud = m.setting.states.of(sized, (slope,))
        if cloud.size and weigh(slope, ZERO, ">" if grows else "<", cloud).all_hold:
            inside = replace(m, setting=m.setting.within(sized))
            return _at_the_end(name, (sub(var(name), course), sub(*p.sides)), inside)
    return None


def _holds_it(bound: Premise, v: Var, falling: Sequence[str], m: Matter) -> bool:
    """Does a bound of the case spoken of (`no slip: m ω² A ≤ μ m g`) keep a quantity from above, or from below?"""
    slope = partial(bound.term, v) if v in variables(bound.term) else ZERO
    if slope is ZERO or v in variables(slope):
        return False
    cloud = m.setting.states.of(m.context, (slope,))
    sign = ">" if bound.sign in falling else "<"
    return bool(cloud.size) and weigh(slope, ZERO, sign, cloud).all_hold


def course_of(name: str, m: Matter) -> Term | None:
    """What some line gives a quantity by, in names alone."""
    return next(courses_of(name, m), None)


def courses_of(name: str, m: Matter) -> Iterator[Term]:
    """All that lines give a quantity (x, x') by, in names alone or in figures of the time: with constants of
    integration, then with what these are."""
    wanted = quantity(name)
    if wanted.order:
        courses = courses_of(wanted.name, m)
        yield from (_differentiated(course, wanted.order) for course in courses if Var(TIME) in variables(course))
    known = m.context.world.functions.get(name)
    if known is not None:
        yield known
    meant = m.context.world.definitions.get(name)
    if meant is not None and isinstance(meant.value, Var) and meant.value.order and meant.value.wrt == TIME:
        yield from (_differentiated(whole, meant.value.order) for whole in courses_of(meant.value.name, m))
    for p in reversed(m.context.premises):
        for v, rest in isolated(p.term) if p.sign == "=" else ():
            plain = all(u.role == "value" and not u.order and not u.at for u in variables(rest))
            if v == wanted and plain and (len(variables(rest)) > 1 or Var(TIME) in variables(rest)):
                yield rest
    if meant is not None and not wanted.order:  # `P = F u` below `F = ρ A v (v - u)`
        yield m.context.world.seen_through(meant)


# How often its coordinate is differentiated for what these letters mean.
_RATES = {"v": 1, "a": 2}


def _rate(stem: str, m: Matter) -> Term | None:
    """`v_max = ω A` below `x = A cos ωt`: with one course on the page, v and a are its rates, unless they are given
    otherwise; and with several that only count from different places (`y = x - x0`)."""
    if stem not in _RATES:
        return None
    courses = [c for name in "xyzs" if (c := course_of(name, m)) is not None and Var(TIME) in variables(c)]
    rates = [_differentiated(course, _RATES[stem]) for course in courses]
    meant = m.context.world.definitions.get(stem)
    others = [*rates[1:], *([meant] if meant is not None else [])]
    return rates[0] if rates and all(_come_to_the_same(rates[0], other, m) for other in others) else None


def _come_to_the_same(a: Term, b: Term, m: Matter) -> bool:
    a, b = m.context.resolved(a), m.context.resolved(b)
    cloud = m.setting.states.of(m.context, (a, b))
    return bool(cloud.size) and weigh(a, b, "=", cloud).all_hold


def _differentiated(course: Term, times: int) -> Term:
    for _ in range(times):
        course = derivative(course, lambda u: ONE if u == Var(TIME) else ZERO)
    return course
