"""Relations that bring in constants of their own, and that no values of these make right for the motion above."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import product

from derive.notation.tree import Name
from derive.records import Standing, Verdict
from derive.states.context import Premise, tied_names
from derive.states.evidence import weigh
from derive.states.restless import forbids_motions
from derive.states.setting import Decision, Matter, Setting
from derive.states.showing import shown_state
from derive.states.sizes import CONSERVED, CONSTANT_SIZES, FORCES, KEPT
from derive.states.states import freedom
from derive.steps.changing import courses, proposals
from derive.terms.calculus import derivative
from derive.terms.isolation import isolated
from derive.terms.term import ZERO, Term, Var, postorder, sub, variables
from derive.terms.world import TIME, World
from derive.terms.writing import written

# What goes its own way along with whatever changes beside it, and is no constant to choose.
COORDINATES = frozenset(("v", "x", "y", "z", "s", "θ", "a"))


def given_by_motion(m: Matter) -> frozenset[str]:
    """The names on the left of a line (the components of one) that it gives by what moves, where they are new or have
    only stood in what gives others (`V = m g y` below `L = T - V`), unless by custom they stay all the same."""
    if not isinstance(m.pair.left, Name) or m.pair.left.ident.split("_")[0] in CONSERVED:
        return frozenset()
    world = m.context.world

    def is_open(name: str) -> bool:
        known = name in world.definitions or world.is_changing(Var(name)) or (
            m.setting.strict and name in tied_names(m.context))  # `n : 1` of the turns made so far
        return name in m.fresh or (
            not known and freedom(m.context, [Var(name)], (), m.setting.states) == 1)

    def moves(right: Term) -> bool:  # beside what moves, t is no duration
        own = variables(right)
        return any(v.name in world.moving | world.varying or v.wrt == TIME for v in own) or (
            bool(world.moving) and world.changes(right))

    def stays(name: str, right: Term) -> bool:  # a power with a force beside it that is as new
        beside = {v.name for v in variables(right)}.intersection(m.fresh) - CONSTANT_SIZES
        return name.split("_")[0] in KEPT and bool(beside - world.moving)

    parts = [(a.value.name, b) for a, b in m.lowered.parts if isinstance(a.value, Var) and not a.value.order]
    return frozenset(name for name, right in parts if moves(right) and is_open(name) and not stays(name, right))


def no_constants_fit(m: Matter, loose: set[str]) -> bool:
    """Does the line hold constants or t, and can no values of them make it hold along the motion?"""
    world = m.context.world
    if m.pair.sign != "=" or any(world.is_changing(Var(n)) or n in COORDINATES for n in loose):
        return False
    if any(map(partial(_goes_its_own_way, world), m.unknowns)):
        return False
    if not loose and (m.setting.strict or not _tells_a_course(m)):
        return False
    if given_by_motion(m) or balanced(m):
        return False
    if not any(world.changes(t) for t in m.residuals):
        return False
    return forbids_motions(m.context, m.premises(implied=False), sorted(loose), m.setting.states)


def balanced(m: Matter) -> frozenset[str]:
    """The force that a balance brings in beside what moves, and that is what it has to be at each moment: R in
    `R - m g = m ω² l/2` of what turns."""
    return frozenset(v.name for r in m.residuals for v, rest in isolated(r)
                     if v.name in m.fresh and v == Var(v.name) and v.name in FORCES and m.context.world.changes(rest))


def _goes_its_own_way(world: World, v: Var) -> bool:
    """Is it a component of a vector that no line gives (the p of `r × p`)?"""
    whole = v.name.rpartition("_")[0]
    return world.is_component(v.name) and not world.symbols[whole].declared and v.name not in world.definitions


def _tells_a_course(m: Matter) -> bool:
    """Does the line tie what moves to t, or say how fast it does, at all times and not at named ones?"""
    own = m.unknowns
    moving = [v for v in own if v.name != TIME and m.context.world.is_changing(v)]
    return not any(v.at for v in own) and (
        any((v.order and v.wrt == TIME) or v.role == "differential" for v in (*moving, *own))
        or (Var(TIME) in own and bool(moving)))


def fails_there(m: Matter) -> Decision | None:
    """The break of a line without constants to choose: a state in which its two sides differ."""
    state = shown_state(m.setting, *m.lowered.parts[0], m.pair.sign)
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", code="fails.state", state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def changes_otherwise(m: Matter) -> Decision | None:
    """The break, shown by how the two sides change: their slopes differ in some state."""
    world = m.context.world
    sides = [m.context.resolved(t) for t in m.lowered.parts[0]]
    for along in (world.along_time, world.along(world.running(sub(*sides))), world.total):
        slopes = [derivative(t, along) for t in sides]
        if slopes != [ZERO, ZERO]:
            break
    return _shown_by_slopes(m, slopes)


def integrates_otherwise(m: Matter) -> Decision | None:
    """The break of `∫ a dt = 6 t² + C` for a = 6 t: no constant makes its slope what is integrated."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return None
    world = replace(m.context.world, primitives={**m.context.world.primitives, **dict(m.lowered.primitives)})
    whole = [world.seen_through(m.context.resolved(t)) for t in m.lowered.parts[0]]
    over = {world.primitives[v][1] for v in variables(*whole) if v in world.primitives}
    if len(over) != 1:
        return None
    (along,) = over
    slopes = [m.context.resolved(world.seen_through(derivative(t, world.along(along.name)))) for t in whole]
    cloud = m.setting.states.of(m.context, slopes)
    wrong = bool(cloud.size) and weigh(slopes[0], slopes[1], "=", cloud).all_fail
    return _shown_by_slopes(m, slopes) if wrong else None


def _shown_by_slopes(m: Matter, slopes: list[Term]) -> Decision | None:
    state = shown_state(m.setting, slopes[0], slopes[1], "=")
    if state is None:
        return None
    facts = (("left", written(slopes[0])), ("right", written(slopes[1])))
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.derivative", facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def no_solution(m: Matter, loose: set[str]) -> Decision | None:
    """The break of a proposed course with constants of its own: an equation of motion whose two sides differ once it
    is put in, whatever the constants are."""
    p = proposals.proposal(m, written_out=not m.setting.strict) if loose or not m.setting.strict else None
    if p is None or not courses.constrained(p, m):
        return None
    world = m.context.world.taking(p.v.name, p.course)
    solves = _is_solution(p, m, world)
    if not solves and _is_solution(p, m, _complex(world, p, m)):
        return None  # `y = e^(λ t)`, meant with a complex λ
    if _each_by_itself(p, m):
        return None
    kept = tuple(q for q in m.context.premises if q not in p.aside)
    # A course that starts otherwise may start so only at rest, and rest solves the equation: then it is seen without.
    unstarted = tuple(q for q in kept if not any(v.name == p.v.name and v.at for v in variables(q.term)))
    for q, premises in product(p.equations, (kept, *(() if solves or unstarted == kept else (unstarted,)))):
        within = m.setting.within(replace(m.context, world=world, premises=premises))
        broken = put_into(q, p.v.name, within, m)
        if broken is not None:
            return broken
    return None


def put_into(equation: Premise, name: str, within: Setting, m: Matter) -> Decision | None:
    """The break of a course, shown by the sides of an equation of motion in a setting that has the course."""
    sides = equation.sides or (equation.term, ZERO)
    state = shown_state(within, sides[0], sides[1], "=")
    if state is None:
        return None
    left, right = (replace(q, name=written(t)) for q, t in zip((state.left, state.right), sides, strict=True))
    state = replace(state, left=left, right=right)
    facts = (("name", name), ("equation", equation.label))
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.not_a_solution", facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _is_solution(p: proposals.Proposal, m: Matter, world: World) -> bool:
    """Do some values of the constants make a course other than rest a solution?"""
    context = m.context.knowing(world)
    cloud = m.setting.states.any(context)
    return bool(cloud.size) and not courses.vanishes(p, context, cloud)


def _each_by_itself(p: proposals.Proposal, m: Matter) -> bool:
    """Is every term of `A e^(p t) + B e^(q t)` a solution? Then so is their sum, hard as its states may be to find."""
    if p.course.op != "add" or not all(
            any(s.op == "fun" and s.value == "exp" for s in postorder(t)) for t in p.course.args):
        return False
    worlds = (
        (replace(p, course=t), replace(m.context.world, functions={**m.context.world.functions, p.v.name: t}))
        for t in p.course.args)
    return all(
        any(t in variables(q.course) for t in q.free) and _is_solution(q, m, world) for q, world in worlds
    ) and courses.rest_would_do(p, m)


def _complex(world: World, p: proposals.Proposal, m: Matter) -> World:
    return replace(world, free_complex=world.free_complex | {v.name for v in p.free if v.name in m.fresh})
