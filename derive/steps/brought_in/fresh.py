"""Names met for the first time: definitions made in passing, and relations that start from nothing above.

Nothing above a line can support a name that it brings in. A line that gives such a name a value is taken as its
definition; whether any other line may bring in a relation of its own depends on whether the working has givens.
"""

from __future__ import annotations

from dataclasses import replace
from difflib import get_close_matches

import numpy as np

from derive.notation.printed.printing import as_text
from derive.notation.tree import Derivative, Name, UnitVector, Value, walk
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.poles import without_bound
from derive.states.restless import with_restless
from derive.states.setting import Decision, Matter
from derive.states.sizes import CONSTANTS, KEPT, all_positive
from derive.states.states import freedom
from derive.steps.brought_in.outset import of_what_moves
from derive.steps.brought_in.principles import is_lagranges_equation
from derive.steps.brought_in.unsaid import cancelling, nothing_above_says, resolved_unknowns
from derive.steps.changing.misfits import (
    COORDINATES,
    balanced,
    changes_otherwise,
    fails_there,
    given_by_motion,
    integrates_otherwise,
    no_constants_fit,
    no_solution,
)
from derive.steps.letters.defining import angle_of, defined_by, defining, with_definition, works_out
from derive.steps.letters.deviations import deviation
from derive.steps.letters.meanings import density_along, meaning_of_a_course
from derive.terms.isolation import isolated
from derive.terms.tape import taped
from derive.terms.term import TWO, ZERO, Term, Var, postorder, var, variables
from derive.terms.world import TIME, World

_START = 1e-3  # a double root is met to half its figures only


def new_name(m: Matter) -> Decision | None:
    """`E = ½ m v²` with E not met before, or only with a bound (`bound: E < 0`): taken as its definition."""
    candidates = set(m.fresh) | _only_bounded(m)
    found = (defined_by(m, candidates) or angle_of(m, candidates) or deviation(m)) if candidates else None
    if found is not None and _said_constant(m, found):
        return _kept_constant(m, found[1])
    if found is not None and (steady := _said_steady(m, found)) is not None:
        return steady
    if found is None or {v.name for v in variables(found[1])} & candidates - {found[0].name, _everyones(m)}:
        return None
    if has_no_value(m, found[1]):
        return Decision(Verdict(Standing.UNDECIDED, code="undecided.no_value"), m.setting)
    if _tells_a_rate(m, found[0]):
        return None
    code, name = "taken.shorthand" if m.setting.strict else "taken.definition", found[0].name
    verdict = Verdict(Standing.TAKEN, code=code, facts=(("name", name),), introduces=(name,))
    return Decision(verdict, m.setting.within(defining(m, found[0], m.context)))


# What rates are called where the name says no more than that.
_RATES = frozenset("vuVωwaαp")


def _tells_a_rate(m: Matter, name: Var) -> bool:
    """`θ' = Ω` with an Ω that nobody has met, in a working without givens: the rate is Ω and stays so, where it can."""
    left, right = m.pair.left, m.pair.right
    told = isinstance(left, Derivative) and not left.partial and right == Name(name.name)
    return told and not m.setting.strict and name.name.partition("_")[0] not in _RATES and bool(
        m.setting.states.any(m.context, m.premises(implied=False)).size)


# Where what a new name is given by stays the same.
_OF_CIRCLES = frozenset(("circle", "circular", "circles"))
_STEADY = frozenset(("uniform", "steady"))


def _said_steady(m: Matter, found: tuple[Var, Term]) -> Decision | None:
    """`circle: r = R`, `uniform: θ' = ω`, by a new name: what is given so stays the same."""
    name, rest = found
    v, said = rest.value, {*m.words.lower().replace(":", " ").split()}
    if m.setting.strict or rest is not m.lowered.parts[0][0] or not isinstance(v, Var) or v.at:
        return None
    if v.name not in m.context.world.moving or not (said & _STEADY or (v == Var("r") and said & _OF_CIRCLES)):
        return None
    still = Premise(m.label, var(Var(v.name, v.order + 1, TIME)), "=", True, False, m.number, "start")
    premises = (*m.premises(implied=False, kind="start"), still)
    if not m.setting.states.any(m.context, premises).size:
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", name.name),), introduces=(name.name,))
    return Decision(verdict, m.setting.within(m.context.adding(*premises)))


def _everyones(m: Matter) -> str:
    """The time t need not be declared to stand in what a new name is short for."""
    return TIME if m.setting.strict else ""


def _only_bounded(m: Matter) -> set[str]:
    """The name on the left of which nothing is known but a bound, in a working without givens."""
    left = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    said = [p for p in m.context.premises if left in {v.name for v in variables(p.term)}]
    bounded = bool(said) and all(p.sign in ("<", ">", "≤", "≥") for p in said)
    fits = bounded and not m.setting.strict and m.setting.states.any(m.context, m.premises(implied=False)).size
    return {left} if fits else set()


def has_no_value(m: Matter, t: Term) -> bool:
    """Is there no state at which a term is a number (`1/0`, `ln(-m)`, `9^9^9^9`)? Taken for the meaning of a name, it
    would leave the lines that follow without any state."""
    if m.lowered.primitives or m.pair.sign != "=":
        return False
    t = m.context.resolved(t)
    cloud = m.setting.states.of(m.context, [t])
    if not cloud.size:
        return False
    tape, env = taped(t), dict(cloud.columns)
    return not bool((np.isfinite(tape.run(env)[0]) & np.isfinite(tape.magnitudes(env)[0])).any())


def _said_constant(m: Matter, found: tuple[Var, Term]) -> bool:
    """Is the new name said to be what a changing expression always comes to (`½ m v² + m g y = C`), or to differ from
    it by (`U = ½ k x² + C`), rather than short for it?"""
    v, rest = found
    left = m.lowered.parts[0][0]
    return left is not var(v) and v.name.split("_")[0] in CONSTANTS and m.context.world.changes(rest)


def _kept_constant(m: Matter, moving: Term) -> Decision | None:
    """`ω = const` of what moves and need not: it stays the same from here on."""
    v, world = moving.value, m.context.world
    if m.setting.strict or moving.op != "var" or not isinstance(v, Var) or v.at or v.order:
        return None
    rate = Var(v.name, 1, world.variable_of(v.name))
    said = {u for p in m.context.premises for u in variables(p.term) if u.role == "value"}
    beside = sorted((u for u in said if not (u.order or u.at)), key=str)
    states = m.setting.states
    if not rate.wrt or freedom(m.context, [*beside, rate], (), states) == freedom(m.context, beside, (), states):
        return None
    premises = m.premises(implied=False, kind="start")
    if not m.setting.states.any(m.context, premises).size:
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.start", facts=(("name", v.name),))
    return Decision(verdict, m.setting.within(m.context.adding(*premises)))


def starting_relation(m: Matter) -> Decision | None:
    """A relation about something that nothing above says anything of: taken as a start, and shown so."""
    if m.pair.sign not in ("=", ">", "<", "≥", "≤", "≠") or _turns_an_axis(m):
        return None
    tied = tied_names(m.context)
    moments = _moments_asked_for(m)
    own = {v.name for v in resolved_unknowns(m)} | moments
    loose = {n for n in own if n not in tied} - cancelling(m)
    unknown = loose & set(m.fresh)
    if _is_a_whole(m):
        facts = (("name", as_text(m.pair.left)),)
        return Decision(Verdict(Standing.TAKEN, code="taken.start", facts=facts), m.setting)
    meant = meaning_of_a_course(m, unknown)
    if meant is not None and m.context.world.changes(m.lowered.parts[0][1]) and no_constants_fit(m, loose):
        return changes_otherwise(m)  # `v = u ln m` below `m v' = -u m'` is no more its meaning than its course
    meant = meant or density_along(m)
    if meant is not None:
        return meant
    m = _seen_to_go(m, loose)
    unfit = changes_otherwise(m) if no_constants_fit(m, loose) else None
    if unfit is not None and not loose:
        unfit = fails_there(m) or unfit  # without a constant to choose, the sides themselves show it
    each = [replace(m, lowered=replace(m.lowered, parts=(part,))) for part in m.lowered.parts  # of a vector
            if len(m.lowered.parts) == 1 or part[1] is not ZERO]
    wrong = next((off for one in each if (off := no_solution(one, loose)) is not None), None) or (
        unfit or integrates_otherwise(m) or (_goes_otherwise(each, m) if len(each) > 1 and not loose else None))
    if wrong is not None:
        return wrong
    if unknown - moments and (m.setting.strict or any(s.declared for s in m.context.world.symbols.values())):
        return _unknown_name(m, unknown)
    lagrange = is_lagranges_equation(m.pair.relation())
    if not lagrange and not _may_start(m, own, loose):
        return None
    said_too = m.premises(implied=False)
    # What is declared or new may change though nothing says so; `x = 3 t² + C` is held to the v that is about.
    free = any(s.declared for s in m.context.world.symbols.values()) or _is_free_to_go(m, tied)
    ways = (m.context, _with_motion_of(m, m.context)) if free else (m.context,)
    if not any(m.setting.states.any(c, said_too).size for c in ways) or (
            _at_no_moment(m, moments & set(m.fresh))):
        return None
    verdict = Verdict(
        Standing.TAKEN, code="taken.start", facts=(("name", ", ".join(sorted(loose))),),
        introduces=tuple(sorted(loose)))
    if any(map(without_bound, (t for part in m.lowered.parts for t in part))):
        return Decision(verdict, m.setting)  # its numbers near the end of the integral are none to go on with
    said = [of_what_moves(p, m.context) for p in m.premises(implied=False, kind="start")]
    context = with_definition(_with_open_integrals(m).adding(*said), m)
    context = with_restless(context, m.setting.states) if lagrange else _with_motion_of(m, context)
    return Decision(verdict, m.setting.within(context))


# Energies, powers, momenta and forces: as good as any function of time, though declared without its variable.
_GOING, _DRIVING = frozenset("EKUWPpLFNa"), frozenset("FP")


def _seen_to_go(m: Matter, loose: set[str]) -> Matter:
    """`E = ½ m x'² + ½ k x²` of what is damped, `m v a = F v` of what speeds up: the first that is said of E and of F,
    which change as well."""
    world, name = m.context.world, next(iter(loose), "")
    others = [t for part in m.lowered.parts for t in part if t is not var(Var(name))]
    if len(loose) != 1 or name not in (_GOING if m.pair.left == Name(name) else _DRIVING) or m.pair.sign != "=" or (
            world.is_changing(Var(name)) or not any(map(world.changes, others)) or not no_constants_fit(m, loose)):
        return m
    return replace(m, setting=m.setting.within(m.context.knowing(replace(world, moving=world.moving | {name}))))


def _is_free_to_go(m: Matter, tied: set[str]) -> bool:
    """Is it a new name that is given, and no place beside a speed?"""
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    beside = name in COORDINATES and any(n.partition("_")[0] in _SPEEDS for n in tied)
    return name in m.fresh and not beside


_SPEEDS = frozenset("vu")


def _is_a_whole(m: Matter) -> bool:
    """`A = π a b` below `dA/dt = L/(2 m)`: the whole of what grows, and no A at all times. So is `π a b = L T/(2 m)` of
    a chain that begins with A, where L is thought to change."""
    named, world = m.pair.head if m.pair.head is not None else m.pair.left, m.context.world
    if not isinstance(named, Name) or m.setting.strict or named.ident in COORDINATES or (
            named.ident not in world.moving or named.ident in world.functions):
        return False
    grows = any(p.sides is not None and p.sign == "=" and p.sides[0].value == Var(named.ident, 1, TIME)
                for p in m.context.premises)
    own = variables(m.lowered.parts[0][1])
    changes = any(map(world.is_changing, own)) != (m.pair.head is None)
    return grows and len(own) > 1 and changes and any(u.name in m.fresh for u in own)


def _goes_otherwise(components: list[Matter], m: Matter) -> Decision | None:
    """The break of `v = (1 + 1.5 t, 4 t)` where the components of v have courses, and one of them is another."""
    courses = m.context.world.functions
    for one in components:
        left, right = one.lowered.parts[0]
        if not isinstance(left.value, Var) or left.value.name not in courses or left.value.order or left.value.at:
            continue
        sides = (m.context.resolved(left), m.context.resolved(right))
        cloud = m.setting.states.of(m.context, sides)
        if cloud.size and weigh(*sides, "=", cloud).all_fail:
            return changes_otherwise(one)
    return None


def _turns_an_axis(m: Matter) -> bool:
    """`de_r/dt = θ' e_θ`: how axes turn along is no start, and right or wrong by itself."""
    return any(isinstance(n, Derivative) and isinstance(n.body, UnitVector) for n in walk(m.pair.relation()))


def _moments_asked_for(m: Matter) -> set[str]:
    """t_1 in `v(t_1) = 0`, T in `at t = T: x = u T`: a name of the writer's own for a moment."""
    asked = {m.at, *(v.at for v in m.unknowns if v.at)}
    return {v.name for key, time in m.context.instants if key in asked and time is not None for v in variables(time)}


def _at_no_moment(m: Matter, moments: set[str]) -> bool:
    """`at t = T: v = u - 2 g T` below `v = u - g t` picks out no moment: it is so at the start alone. Nor does what is
    so at the same number of seconds for all sizes there are."""
    wanted = [v for v in m.unknowns if v.role == "value" and not v.order and not v.at]
    time = next((v for v in wanted if v.name in moments), None)
    if time is None:
        return False
    others, states, said = [v for v in wanted if v != time], m.setting.states, m.premises(implied=False)
    if freedom(m.context, others, said, states) < freedom(m.context, others, (), states):
        return True  # it ties what is there already
    sized = all_positive(m.context, others) or m.context
    cloud = states.of(sized, [var(v) for v in wanted], said)
    if not cloud.size or time not in cloud.columns:
        return not cloud.size
    later = cloud.columns[time][np.abs(cloud.columns[time]) > _START]
    varied = any(np.ptp(cloud.columns[v]) for v in others if v in cloud.columns)
    return not later.size or (varied and bool(np.allclose(later, later[0])))


def _with_open_integrals(m: Matter) -> Context:
    """`U = -∫ F dx` of what changes with x: the integral changes along, by what is integrated. (`I = ∫ r² dm` does not:
    that is the whole of a body.)"""
    world = m.context.world
    if not m.lowered.primitives or not any(map(world.is_changing, m.unknowns)):
        return m.context
    return m.context.knowing(replace(world, primitives={**world.primitives, **dict(m.lowered.primitives)}))


def _may_start(m: Matter, own: set[str], loose: set[str]) -> bool:
    if not loose and works_out(m):
        return False
    if loose and m.pair.sign == "=":
        return not m.setting.goal or _fits_goal(m)
    return not loose and not m.setting.strict and nothing_above_says(m, own)


def _with_motion_of(m: Matter, context: Context) -> Context:
    """A new name that a line gives by what moves (`L = ½ m x'² - ½ k x²`) moves too."""
    names = given_by_motion(m) | balanced(m)
    spoken = {v.name for v in m.unknowns}
    if names and spoken & context.world.varying and not spoken & (context.world.moving | {TIME}):
        return context.knowing(replace(context.world, varying=context.world.varying | names))
    if names:
        return context.knowing(replace(context.world, moving=_moving_with(names, context.world)))
    world = context.world
    changes = any(world.is_changing(v) and v.name != TIME for t in m.residuals for v in variables(t))
    beside = (COORDINATES & set(m.fresh)) - set(context.world.fields.values()) if changes else frozenset()
    if any(v.order > 1 for v in m.unknowns) or not (world.moving or any(v.order for v in m.unknowns)):
        beside -= {"a"}  # beside θ'', or in U(x), a length
    if Var(TIME) in m.unknowns:
        beside -= {"a"}  # `v = u + a t`, by the time itself
    if any(map(_is_of_an_ellipse, (f for part in m.lowered.parts for t in part for f in postorder(t)))):
        beside -= {"a"}
    if beside and context.world.moving:
        return context.knowing(replace(context.world, moving=context.world.moving | beside))
    if beside:
        return context.knowing(replace(context.world, varying=context.world.varying | beside))
    name, along = _given_by_slope(m)
    return context.knowing(replace(context.world, fields={**context.world.fields, name: along})) if name else context


def _is_of_an_ellipse(t: Term) -> bool:
    """`π a b`, a²: an axis or a side, and no acceleration."""
    a, b = var(Var("a")), var(Var("b"))
    return (t.op == "mul" and {a, b} <= {*t.args}) or (t.op == "pow" and t.args[0] is a and t.args[1] is TWO)


def _moving_with(names: frozenset[str], world: World) -> frozenset[str]:
    """What moves where some names do: `L = T - V` above says that L moves with V."""
    moving = world.moving | names
    for _ in world.definitions:
        more = {
            n for n, t in world.definitions.items()
            if n.split("_")[0] not in KEPT and moving & {v.name for v in variables(t)}}
        if more <= moving:
            break
        moving |= more
    return moving


def _given_by_slope(m: Matter) -> tuple[str, str]:
    """The new name on the left of `F = -dU/dx`, and x: what the slope of a field gives changes along with it."""
    left = m.pair.left.function if isinstance(m.pair.left, Value) else m.pair.left
    name = left.ident if isinstance(left, Name) else ""
    if name not in m.fresh or len(m.lowered.parts) != 1 or m.context.world.moving:
        return "", ""
    here = [v for v in variables(m.lowered.parts[0][1]) if not v.at]  # of ω = √(U''(a)/m) it is the one at a place
    along = {v.wrt for v in here if v.order and v.wrt in m.context.world.fields.values()}
    return (name, along.pop()) if len(along) == 1 else ("", "")


def _unknown_name(m: Matter, unknown: set[str]) -> Decision:
    given = {m.pair.left.ident} if isinstance(m.pair.left, Name) else set()  # the line would say what that is
    name = sorted(unknown - given or unknown)[0]
    declared = [n for n, s in m.context.world.symbols.items() if s.declared]
    near = LOOKALIKE.get(name, "")
    nearest = near if near in declared else next(iter(get_close_matches(name, declared, 1, 0.5)), "")
    facts = (("name", name), ("nearest", nearest)) if nearest else (("name", name),)
    return Decision(Verdict(Standing.UNDECIDED, code="unknown.name", facts=facts), m.setting)


# Latin letters that are typed for Greek ones, and the reverse.
LOOKALIKE = {"w": "ω", "u": "μ", "p": "ρ", "v": "ν", "a": "α", "b": "β", "n": "η", "k": "κ", "o": "σ", "y": "γ",
             "ω": "w", "μ": "u", "ρ": "p", "ν": "v", "α": "a", "θ": "φ", "φ": "θ"}


def _fits_goal(m: Matter) -> bool:
    """Can the line stand beside what is to be shown without tying the goal's own quantities together?"""
    if len(m.setting.goal) != 1 or m.setting.goal[0].sign != "=":
        return True
    ways = isolated(m.setting.goal[0].term)
    if not ways:
        return True
    aim = ways[0][0]
    given = [v for v in variables(ways[0][1]) if v.role == "value" and not v.order and not v.at]
    if not variables(ways[0][1]) and _comes_near(m, aim, ways[0][1]):
        return True
    before = freedom(m.context, given, (), m.setting.states)
    after = freedom(m.context, given, (*m.premises(implied=False), *m.setting.goal), m.setting.states)
    return after >= before or before < 0 or aim in given


# Nobody rounds a result by more than this.
_ROUNDED = 0.02


def _comes_near(m: Matter, aim: Var, number: Term) -> bool:
    """Is what the line makes of a name the number that is to be shown, but for its rounding?"""
    cloud = m.setting.states.of(m.context, (var(aim), number), m.premises(implied=False))
    if not cloud.size:
        return False
    found, wanted = taped(var(aim), number).run(cloud.columns)
    return not np.iscomplexobj(found) and bool((np.abs(found - wanted) < _ROUNDED * np.abs(wanted)).all())
