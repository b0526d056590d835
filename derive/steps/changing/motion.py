"""Lines that hold because of how things change: integrated relations, separated variables, constants.

A relation r(t) = 0 holds at all times exactly when its derivative along the motion does and it holds at one
instant. The same serves along any variable, with total differentials in place of time derivatives.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.tree import Name
from derive.proof.support import proof_of
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, given_by_time
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.sizes import CONSERVED, CONSTANTS
from derive.steps.changing.given_courses import as_function
from derive.steps.changing.keeping import goes_on
from derive.steps.changing.left_open import (
    free_constants,
    has_constant,
    of_highest_order,
    running,
    runs_along,
    untied,
)
from derive.terms.calculus import derivative
from derive.terms.placing import instant_key
from derive.terms.term import ZERO, Term, Var, build, postorder, sub, substitute, var, variables
from derive.terms.world import TIME, World
from derive.terms.writing import written

_DEEPEST = 3


# --- integrated relations -----------------------------------------------------------------------------------


def integrated(m: Matter) -> Decision | None:
    """The pair's derivative holds, and either it holds at an instant or a constant takes up the difference. Of a name
    that is short for something (`p = const` below `let p = m r² θ'`), what it is short for may show that."""
    if m.pair.sign not in ("=", "≈"):
        return None
    found = _integrated(m)
    if found is not None or not (isinstance(m.pair.right, Name) and m.pair.right.ident.startswith("const_")):
        return found
    world = m.context.world
    seen = tuple((world.seen_through(a), world.seen_through(b)) for a, b in m.lowered.parts)
    return _integrated(replace(m, lowered=replace(m.lowered, parts=seen))) if seen != m.lowered.parts else None


def _integrated(m: Matter) -> Decision | None:
    world = replace(m.context.world, primitives={**m.context.world.primitives, **dict(m.lowered.primitives)})
    context = m.context.knowing(world)
    residuals = [with_integrals_seen(context.resolved(r), world) for r in m.residuals]
    separated = _between_instants(m, context, residuals)
    if separated is not None:
        return separated
    if not any(context.timely(r) or _holds_primitive(r, world) for r in (*m.residuals, *residuals)):
        return None
    if any(v.role == "differential" for r in residuals for v in variables(r)):
        return None  # an equation between differentials is no integral: it has no constant to miss
    slopes = [slope(r, world) for r in residuals]
    if any(s.op == "num" and r.op != "num" for s, r in zip(slopes, residuals, strict=True)):
        return None  # nothing in it varies after all
    ever = _of_all_times(context)
    changing = not all(zero_everywhere(s, m, ever) for s in slopes)
    if changing and not goes_on(m, context, residuals, slopes):
        return None
    if any(_holds_primitive(r, world) for r in residuals):
        return _held(m, context, "follows.plain", slopes, as_premise=True)
    for key, _ in context.instants:
        if all(zero_everywhere(context.placed(r, key), m, context, deeper=False) or _told_so(r, key, m, context)
               for r in residuals):
            return _held(m, context, "follows.plain", slopes, key=key)
    return None if _gives_an_integral(m) else _integral(m, context, residuals, slopes, by_itself=changing)


def _told_so(residual: Term, key: str, m: Matter, context: Context) -> bool:
    """Does a residual vanish at an instant by the values told of it alone? Where `v(0) = 0`, a constant power P = F v
    has no state."""
    told: dict[Term, Term] = {}
    for p in context.premises:
        v = p.sides[0].value if p.sides is not None and p.sign == "=" else None
        if isinstance(v, Var) and v.at == key and p.sides is not None:
            told[p.sides[0]] = p.sides[1]
    there = substitute(context.placed(residual, key), told)
    free = not any(v.at for v in variables(there))
    return bool(told) and free and zero_everywhere(there, m, replace(context, instants=()), deeper=False)


def _of_all_times(context: Context) -> Context:
    """Without what is so at one moment (the case `v = 0`): a rate that vanishes there need not vanish for good."""
    kept = tuple(p for p in context.premises if p.always or p.sign != "=" or not any(
        not v.at and (v.name == TIME or context.world.is_changing(v)) for v in variables(p.term)))
    return context if len(kept) == len(context.premises) else replace(context, premises=kept)


def _integral(
    m: Matter, context: Context, residuals: Sequence[Term], slopes: Sequence[Term], by_itself: bool
) -> Decision | None:
    """Is there a constant in the pair that takes up what its derivative leaves open, or may the motion start so?"""
    constants = free_constants(residuals, context)
    named = next((v.name for v in constants if var(v) is m.lowered.parts[0][0]), "")
    whole = (context.world.seen_through(context.resolved(r)) for r in residuals)
    if named in m.fresh and (named.partition("_")[0] not in CONSERVED or not any(map(context.world.changes, whole))):
        return None  # `y_c = M/F` says what y_c is, and `E = ½ m v² + U` that it stays
    if constants and _is_given_outright(m, constants):
        return None
    if constants:
        decision = _held(m, context, "follows.constant", slopes)
        names = ", ".join(v.name for v in constants)
        verdict = replace(decision.verdict, facts=(("name", names),), introduces=tuple(v.name for v in constants))
        after = decision.after.within(with_constants(decision.after.context, constants))
        return Decision(verdict, after)
    if untied(residuals, context):
        return None  # `p² = m k r0³ (r0 - l)` says what r0 is
    if by_itself:  # any start would do, and one that is known has been asked
        return None if m.setting.strict or context.instants else _from_its_start(m, context, slopes)
    return _constant_missing(m, context, residuals)


def _is_given_outright(m: Matter, constants: Sequence[Var]) -> bool:
    """`F = ρ A (v - w)²` below `F = ρ A v²`: it speaks of another F, and w is no constant of integration."""
    left = m.lowered.parts[0][0]
    given = any(p.sides is not None and p.sides[0] is left and not p.implied for p in m.context.premises)
    return given and left.op == "var" and all(v.name.partition("_")[0] not in CONSTANTS for v in constants)


def _gives_an_integral(m: Matter) -> bool:
    """`U = -∫_a^x F dx` says what U is, and no constant of integration."""
    left, right = m.lowered.parts[0]
    return isinstance(m.pair.left, Name) and left.op == "var" and m.pair.left.ident in m.fresh and any(
        t.op == "int" for t in postorder(right))


def with_constants(context: Context, constants: Sequence[Var]) -> Context:
    world = context.world
    return context.knowing(replace(world, constants=world.constants | {v.name for v in constants}))


def slope(r: Term, world: World) -> Term:
    """dr along the motion: by time where time is in it, by the place where fields of it are all that changes, else the
    total differential."""
    timed = Var(TIME) in variables(r) and bool(world.moving)  # `1/v - 1/u = k t` below v by x, where x moves
    running = TIME if timed else world.running(r)
    along = derivative(r, world.along(running)) if running != TIME else ZERO
    if along is not ZERO:
        return along
    by_time = derivative(r, world.along_time)
    return by_time if by_time is not ZERO else derivative(r, world.total)


def _holds_primitive(r: Term, world: World) -> bool:
    return any(v in world.primitives for v in variables(r))


def with_integrals_seen(r: Term, world: World) -> Term:
    """`s = 1.5 t²` below `s = ∫ v dt`: a name that is short for an integral without limits, written out."""
    told = (world.definitions.get(v.name) for v in variables(r) if v.role == "value" and not v.at)
    return world.seen_through(r) if any(t is not None and _holds_primitive(t, world) for t in told) else r


def zero_everywhere(t: Term, m: Matter, context: Context, deeper: bool = True, depth: int = 0) -> bool:
    """Does a term vanish on the context, by its states or (for a term that moves) by its own derivative?"""
    t = context.resolved(t)
    if t.op == "num":
        return bool(t.value == 0)
    if not any(v in context.world.primitives for v in variables(t)):
        cloud = m.setting.states.of(context, (t,))
        if cloud.size and weigh(t, ZERO, "=", cloud).all_hold:
            return True
    if not deeper or depth >= _DEEPEST or not context.instants or not context.world.changes(t):
        return False
    # Where it vanishes at no moment, its derivative, which is dearer by far, need not be asked.
    if not any(zero_everywhere(context.placed(t, key), m, context, False) for key, _ in context.instants):
        return False
    return zero_everywhere(slope(t, context.world), m, context, True, depth + 1)


def _held(
    m: Matter, context: Context, code: str, slopes: Sequence[Term], key: str = "", as_premise: bool = False
) -> Decision:
    certificates = None
    if m.setting.proofs:
        certificates = proof_of(context, [(s, ZERO) for s in slopes], "=")
        if certificates is not None and key:
            starts = proof_of(context, [(context.placed(context.resolved(r), key), ZERO) for r in m.residuals], "=")
            certificates = None if starts is None else (*certificates, *starts)
    verdict = Verdict(
        Standing.FOLLOWS, support="proved" if certificates is not None else "tested", code=code,
        premises=m.cites, certificate=certificates, points=40)
    after = context
    if as_premise:  # an equation between integrals without limits says what its differential says
        after = after.adding(*(Premise(m.label, s, "=", True, True, m.number) for s in slopes))
    else:
        after = after.adding(*m.premises(implied=False))
        after = as_function(m, after)
    return Decision(verdict, m.setting.within(after))


# --- separated variables ---------------------------------------------------------------------------------------

Ends = dict[Var, Term]


def _between_instants(m: Matter, context: Context, residuals: Sequence[Term]) -> Decision | None:
    """`∫_P^Q dF/F = ∫_0^β μ dφ`: with running upper limits the pair's differential holds, and the lower limits
    belong to one state of the motion and the upper ones to another.

    Known states must match the limits; where the context names no such state, the limits say that there is one.
    """
    if len(residuals) != 1 or m.lowered.primitives:
        return None
    found = _limits_of(residuals[0])
    if found is None:
        return None
    lower, upper, running = found
    if not all(context.world.is_changing(v) for v in lower):
        return None
    if any(context.world.changes(t) and t is not var(v) for ends in (lower, upper) for v, t in ends.items()):
        return None  # limits of another variable
    if not zero_everywhere(slope(running, context.world), m, context):
        return None
    if not zero_everywhere(substitute(running, {var(v): t for v, t in lower.items()}), m, context, deeper=False):
        return None
    moving_end = {v: t for v, t in upper.items() if t is not var(v)}
    missing = [ends for ends in (lower, moving_end) if ends and not _is_state(ends, m, context)]
    if any(_excluded(ends, m, context) for ends in missing):
        return None
    decision = _held(m, context, "follows.plain", [slope(running, context.world)])
    if not missing:
        return decision
    words = " and ".join(_as_words(ends) for ends in missing)
    verdict = replace(decision.verdict, standing=Standing.FOLLOWS_IF, code="follows.if", condition=words,
                      facts=(("condition", words),))
    return replace(decision, verdict=verdict)


def _limits_of(residual: Term) -> tuple[Ends, Ends, Term] | None:
    """Lower and upper limits by variable, and the residual with every upper limit running."""
    lower: Ends = {}
    upper: Ends = {}
    change: dict[Term, Term] = {}
    for t in postorder(residual):
        if t.op == "int" and isinstance(t.value, Var):
            v = Var(t.value.name, t.value.order)
            if lower.setdefault(v, t.args[1]) is not t.args[1] or upper.setdefault(v, t.args[2]) is not t.args[2]:
                return None
            change[t] = build("int", t.value, (t.args[0], t.args[1], var(v)))
    return (lower, upper, substitute(residual, change)) if len(lower) >= 2 else None


def _as_words(ends: Ends) -> str:
    (first, value), *rest = ends.items()
    head = f"{written(var(first))} = {written(value)}"
    return head + "".join(f" when {written(var(v))} = {written(t)}" for v, t in rest)


def _is_state(ends: Ends, m: Matter, context: Context) -> bool:
    """Does the context name an instant at which every variable has its limit?"""
    return any(
        all(zero_everywhere(context.placed(sub(var(v), t), key), m, context, deeper=False) for v, t in ends.items())
        for key, _ in context.instants)


def _excluded(ends: Ends, m: Matter, context: Context) -> bool:
    """Does the context say that where one variable has its limit another has not?"""
    for key, _ in context.instants:
        gaps = [context.resolved(context.placed(sub(var(v), t), key)) for v, t in ends.items()]
        cloud = m.setting.states.of(context, gaps)
        found = [weigh(g, ZERO, "=", cloud) for g in gaps]
        if any(e.all_hold for e in found) and any(e.all_fail for e in found) and _told(ends, key, context):
            return True
    return False


def _told(ends: Ends, key: str, context: Context) -> bool:
    """Is each of the variables spoken of at the instant by some premise?"""
    told = [p for p in context.premises if p.kind in ("given", "instant")]
    said = {v.name for p in told for v in variables(p.term) if v.at == key}
    return all(v.name in said or key.startswith(f"{v.name}=") for v in ends)


def _constant_missing(m: Matter, context: Context, residuals: Sequence[Term]) -> Decision | None:
    """The derivative is right and nothing fixes the constant: said so, with a state where it is not zero."""
    if any(s.op == "int" for r in residuals for s in postorder(r)) or of_highest_order(residuals, context):
        return None
    if not all(variables(t) for part in m.lowered.parts for t in part):
        return None  # `P = 1000·0.5·9.81` is no integral of anything
    if not m.setting.strict and not context.instants and all(has_constant(r, context) for r in residuals):
        return None
    left, right = m.lowered.parts[0]
    state = shown_state(m.setting, left, right, m.pair.sign)
    if state is None:
        return None
    if not m.setting.strict and (m.setting.from_rest or _starts_from_nothing(m, context)):
        return _from_its_start(m, context, [slope(r, context.world) for r in residuals])
    started = None if m.setting.strict else _counted_from(m, context) or _named_for_its_start(m, context)
    if started is not None:
        return _if_so(m, context, [slope(r, context.world) for r in residuals], started)
    verdict = Verdict(Standing.FAILS, strength="unsupported", state=state, code="fails.constant_missing")
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _from_its_start(m: Matter, context: Context, slopes: Sequence[Term]) -> Decision:
    """Right where the motion starts as the pair says: `v = 0 at x = 0`."""
    place = runs_along(m, context)
    sides = [context.resolved(substitute(t, {var(Var(place)): ZERO})) for t in m.lowered.parts[0]]
    apart = sub(*sides)
    moving = [v for v in variables(apart) if context.world.is_changing(v)]
    if len(moving) == 1 and zero_everywhere(substitute(apart, {var(moving[0]): ZERO}), m, context, deeper=False):
        sides = [var(moving[0]), ZERO]
    return _if_so(m, context, slopes, f"{written(sides[0])} = {written(sides[1])} at {place} = 0")


def _counted_from(m: Matter, context: Context) -> str | None:
    """The place at an instant (`x(0)`) that nobody has told, where the pair only says that it is counted from there:
    `v = u - b x/m` below `v(0) = u`, or below `v = u e^(-b t/m)`."""
    given = {v.name for v in given_by_time(context)} if not context.instants else set()
    if given:
        context = context.at_instant(instant_key(Var(TIME), ZERO), ZERO)
    told = {v for p in context.premises for v in variables(p.term)}
    for key, _ in context.instants:
        for residual in m.residuals:
            open_there = [
                v for v in variables(context.placed(residual, key))
                if v.at == key and v not in told and v.name not in given]
            there = substitute(context.placed(residual, key), {var(v): ZERO for v in open_there})
            if len(open_there) == 1 and zero_everywhere(there, m, context, deeper=False):
                return f"{written(var(open_there[0]))} = 0"
    return None


def _named_for_its_start(m: Matter, context: Context) -> str | None:
    """`1/v = 1/v0 + c t/m` where v0 is known from elsewhere: its name says that v begins with it."""
    place = running(m)
    if any(key.startswith(f"{place}=") for key, _ in context.instants):
        return None
    for residual in m.residuals:
        there = substitute(residual, {var(Var(place)): ZERO})
        for v in (v for v in variables(there) if context.world.is_changing(v)):
            start = Var(f"{v.name}_0")
            if start in variables(there) and zero_everywhere(
                    substitute(there, {var(v): var(start)}), m, context, deeper=False):
                return f"{written(var(v))} = {written(var(start))} at {place} = 0"
    return None


def _if_so(m: Matter, context: Context, slopes: Sequence[Term], words: str) -> Decision:
    """Right if the motion starts as the words say."""
    decision = _held(m, context, "follows.if", slopes)
    state = shown_state(m.setting, *m.lowered.parts[0], m.pair.sign)
    verdict = replace(decision.verdict, standing=Standing.FOLLOWS_IF, condition=words, state=state,
                      facts=(("condition", words),))
    return replace(decision, verdict=verdict)


def _starts_from_nothing(m: Matter, context: Context) -> bool:
    """`s = u t + ½ a t²` where nobody has said how s starts: it is counted from where it is at t = 0. So is v of
    `ln(1 - b v/F) = -b t/m`, which nobody writes but of what starts from rest."""
    left, right = m.lowered.parts[0]
    place = var(Var(runs_along(m, context)))
    if place not in postorder(right) or place in postorder(left):
        return False
    if place is var(Var(TIME)) and left.op != "var":
        moving = [v for v in variables(left) if context.world.is_changing(v)]
        if len(moving) != 1 or moving[0].order or not zero_everywhere(
                substitute(left, {var(moving[0]): ZERO}), m, context, deeper=False):
            return False
    at_start = context.resolved(substitute(right, {place: ZERO}))
    if at_start is ZERO:
        return True
    cloud = m.setting.states.of(context, (at_start,))
    return bool(cloud.size) and weigh(at_start, ZERO, "=", cloud).all_hold
