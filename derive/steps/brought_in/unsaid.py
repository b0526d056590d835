"""What the lines above leave unsaid: may a line bring in a relation that none of them supports, as quick pages do?"""

from __future__ import annotations

from derive.notation.tree import Name, Num
from derive.states.context import Premise, given_by_time
from derive.states.elimination import linear
from derive.states.outright import with_names_written_out
from derive.states.setting import Matter
from derive.states.sizes import CONSTANT_SIZES, KIND
from derive.states.states import freedom
from derive.steps.letters.defining import something_moves
from derive.steps.letters.drawing import says_drawn
from derive.terms.isolation import isolated
from derive.terms.kinship import own_law
from derive.terms.term import TWO, ZERO, Term, Var, postorder, variables
from derive.terms.world import TIME

_ORDERS = ("<", ">", "≤", "≥")
# Opening words that name a law: the relation after them is not drawn from the lines above.
LAWS = frozenset((
    "energy", "momentum", "impulse", "newton", "newton's", "law", "forces", "force", "hooke", "hooke's", "friction",
    "geometry", "constraint", "conservation", "equilibrium", "balance", "torque", "torques", "moments", "given",
    "vertical", "vertically", "horizontal", "horizontally", "along", "across", "perpendicular", "kinematics"))


def nothing_above_says(m: Matter, own: set[str]) -> bool:
    """Without givens: the names of the line are not related by what stands above, nor all met in one line."""
    words = set(m.words.lower().replace(",", " ").replace(":", " ").split())
    if says_drawn(m.words) or m.cites or _bounded_above(m, own) or _says_how_they_go(m):
        return False
    loose = _unrelated(m)
    above = [
        p for p in m.context.premises if (not p.implied or _gives_the_same(p, m)) and _mentions_all(p, own, m)]
    if loose and (not above or _moves_another(m)):
        return not _settles_a_size(m)
    if words & LAWS:
        return True
    begun = any(p.implied or p.kind == "line" for p in m.context.premises)
    solved = any(_bare_name(t) for part in m.lowered.parts for t in part)
    return not begun and not solved and own_law(
        m.residuals[0], with_names_written_out([p.term for p in m.context.premises], m.context.world))


def _settles_a_size(m: Matter) -> bool:
    """`a = g (m - M)/(M + m)` below `m g - μ M g = (M + m) a`: it could hold for one value of μ only, and no law
    settles what is given."""
    above = {v for p in m.context.premises if p.kind != KIND for v in variables(m.context.resolved(p.term))}
    sizes = [
        v for v in sorted(above - set(resolved_unknowns(m)), key=str)
        if v.name.partition("_")[0] in CONSTANT_SIZES and v.role == "value" and not v.order and not v.at
        and not m.context.world.is_changing(v)]
    premises, states = m.premises(implied=False), m.setting.states
    return m.pair.sign == "=" and any(
        freedom(m.context, [v], (), states) == 1 and freedom(m.context, [v], premises, states) == 0 for v in sizes)


_MOST = 12  # names of a line that are looked at


def cancelling(m: Matter) -> set[str]:
    """The m of `½ m u² = ½ m ω² A²`, of which the line says nothing."""
    plain = [v for v in m.unknowns[:_MOST] if v.role == "value" and not v.order and not v.at]
    split = {v.name: [linear(r, v) for r in m.residuals] for v in plain} if m.pair.sign == "=" else {}
    return {name for name, parts in split.items() if all(p is not None and p[1] is ZERO for p in parts)}


def _says_how_they_go(m: Matter) -> bool:
    """`x1 + x2 = 2 A cos(φ/2) cos(ω t + φ/2)` below the courses of both: so it is at all times, or not at all."""
    courses = given_by_time(m.context)
    return m.pair.sign == "=" and any(
        side.op != "var" and Var(TIME) in variables(other) and Var(TIME) not in variables(side)
        and {*variables(side)} & courses for part in m.lowered.parts for side, other in (part, part[::-1]))


def _bounded_above(m: Matter, own: set[str]) -> bool:
    """`tan θ ≥ 2 μ` below `f ≤ μ N`: a bound that is to come from one above, and not another one."""
    if m.pair.sign not in _ORDERS or all(isinstance(s, Name | Num) for s in (m.pair.left, m.pair.right)):
        return False
    return any(
        p.sign in _ORDERS and p.kind not in (KIND, "range") and own & {v.name for v in variables(p.term)}
        for p in m.context.premises)


def _moves_another(m: Matter) -> bool:
    """`m x2'' = …` below `m x1'' = …`: an equation of motion of what none above is one of."""
    def accelerated(t: Term) -> set[str]:
        return {v.name for v in variables(t) if v.order == 2 and v.wrt == TIME and not v.at}

    before = {n for p in m.context.premises for n in accelerated(p.term)}
    return bool(set().union(*map(accelerated, m.residuals)) - before)


def _bare_name(t: Term) -> bool:
    """A name by itself, or its square: `Ω² = …`."""
    return t.op == "var" or (t.op == "pow" and t.args[1] is TWO and t.args[0].op == "var")


def _unrelated(m: Matter) -> bool:
    """Can the line's unknowns, apart from those that have a value, all be varied independently, time included?"""
    terms = (m.context.resolved(t) for part in m.lowered.parts for t in part)
    unknowns = [v for v in variables(*terms) if v.role == "value"]
    free = freedom(m.context, unknowns, (), m.setting.states)
    if free == len(unknowns):
        return True
    settled = sum(freedom(m.context, [v], (), m.setting.states) == 0 for v in unknowns)
    return 0 < free == len(unknowns) - settled


def _gives_another(p: Premise, own: set[str]) -> bool:
    """Does a premise only say what a name outside the line is (`x_c = (1/M) ∫ x λ dx` beside `λ = M/L`)?"""
    return any(v.name not in own and not v.order and not v.at for v, _ in isolated(p.term)[:1])


def _met_nowhere_else(p: Premise, m: Matter) -> bool:
    """Is what a premise gives (`E = ½ m v² - G M m/r`) only met there, so that it leaves all else as it was? What an
    integral comes to is no law."""
    given = [v for v, _ in isolated(p.term)[:1]]
    summed = any(t.op == "int" for t in postorder(*m.residuals))
    return not summed and not any(v in variables(q.term) for v in given for q in m.context.premises if q is not p)


def _mentions_all(p: Premise, own: set[str], m: Matter) -> bool:
    here = variables(m.context.resolved(p.term))
    names = {v.name for v in here} | {v.wrt for v in here if v.order}
    if own < names and (_names_a_rate(p) or _moves_them(p, m)):
        return False
    bare = any(t.op == "var" or t is ZERO for part in m.lowered.parts for t in part)
    if _gives_another(p, own) and (bare or _met_nowhere_else(p, m)):
        return False
    # `√(x + 2a) = x, a > 0` bounds a name that the equation leaves free.
    return own == names or (own <= names and (m.pair.sign == "=" or len(own) > 1))


def _gives_the_same(p: Premise, m: Matter) -> bool:
    """`dv/dt = u q/m0` below `dv/dt = u q/(m0 - q t)`: what has been drawn says what this is."""
    subjects = {t.value for part in m.lowered.parts for t in part if t.op == "var"}
    return any(v in subjects for v, _ in isolated(m.context.resolved(p.term)))


def _names_a_rate(p: Premise) -> bool:
    """`v = ds/dt` says nothing of how v goes."""
    return sorted(v.order for v in variables(p.term)) == [0, 1]


def _moves_them(p: Premise, m: Matter) -> bool:
    """An equation of motion is about other things than a link of places is: `y = x - x0`."""
    own = {v for t in m.residuals for v in variables(t)}
    places = {v.name for v in own if v.name in m.context.world.moving}
    return len(places) > 1 and not any(v.order for v in own) and any(v.order > 1 for v in variables(p.term))


def resolved_unknowns(m: Matter) -> list[Var]:
    """What the line is about, with adopted courses put in: `x''` of a course A cos ω t is about A and ω."""
    terms = (m.context.resolved(t) for part in m.lowered.parts for t in part)
    still = not something_moves(m.context)  # then t is a name like any other
    return [v for v in variables(*terms) if v.role == "value" and (still or v.name != TIME)]
