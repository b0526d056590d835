"""`as m → ∞: a → g`: a limit followed numerically along states in which the variable runs to its end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from derive.notation.printing import as_text
from derive.notation.tree import Claim, Relation
from derive.proof.claims import Pair, lower_pair, pairs
from derive.proof.context import Context, Premise
from derive.proof.dependence import weights
from derive.proof.evidence import weigh
from derive.proof.lowering import INFINITY, lower
from derive.proof.points import Cloud, Projector, isolated
from derive.proof.setting import Decision, Setting
from derive.proof.tape import Tape
from derive.proof.term import Term, Var, add, num, postorder, sub, substitute, var, variables
from derive.proof.world import TIME
from derive.records import Standing, Verdict

_STEPS = (1e2, 1e4, 1e6)
Run = tuple[Var, Term | None, int]


def with_given_limit(claim: Claim, where: Claim | None, setting: Setting) -> Setting:
    """`as t → ∞: v → u`, given: what the quantity goes to, kept for lines about that limit."""
    said = []
    for pair in pairs(claim):
        for quantity, value in lower_pair(pair, setting.context.world).parts:
            said.append((_words(where), quantity, value))
    return replace(setting, limits=(*setting.limits, *said))


def _words(where: Claim | None) -> str:
    return as_text(where) if where is not None else ""


def tends(pair: Pair, where: Claim | None, setting: Setting, label: str) -> Decision:
    """Decide `left → right` (or `left = right` said of a limit) as the variable of `where` runs."""
    run = _run(where, setting.context)
    if run is None:
        return Decision(Verdict(Standing.TAKEN, code="taken.case"), setting)
    lowered = lower_pair(pair, setting.context.world)
    decision = Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)
    for context in [setting.context] + ([setting.regime.context] if setting.regime else []):
        decision = _followed(_as_limit(lowered.parts[0], where, setting), run, context, setting)
        if decision.verdict.standing is Standing.FOLLOWS:
            break
    return _adopting(decision, lowered.parts[0], run, label)


def _as_limit(part: tuple[Term, Term], where: Claim | None, setting: Setting) -> tuple[Term, Term]:
    """A name known to be a limit stands for what goes to it: `u = W/c` says v → W/c."""
    change = {value: quantity for words, quantity, value in setting.limits if words == _words(where)}
    left, right = part
    return (substitute(left, change), right) if substitute(left, change) is not left else (
        substitute(right, change), left) if substitute(right, change) is not right else part


def _adopting(decision: Decision, part: tuple[Term, Term], run: Run, label: str) -> Decision:
    """A limit between constants is a relation like any other for the lines after it."""
    context = decision.after.context
    if decision.verdict.standing is not Standing.FOLLOWS or any(
        context.world.is_changing(v) or v == run[0] for t in part for v in variables(t)
    ):
        return decision
    premise = Premise(label, sub(*part), "=", True)
    return replace(decision, after=decision.after.within(context.adding(premise)))


def _followed(part: tuple[Term, Term], run: Run, context: Context, setting: Setting) -> Decision:
    """The gap between the sides along states in which the variable is farther and farther out."""
    left, right = (_written_out(context.resolved(t), run, context) for t in part)
    gaps = []
    for cloud in _running(left, right, run, context, setting):
        if not cloud.size:
            return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)
        gaps.append(_gap(left, right, cloud))
    if gaps[-1] < 1e-3 and gaps[-1] <= 0.2 * gaps[0] + 1e-9:
        return Decision(Verdict(Standing.FOLLOWS, support="tested", points=24, code="follows.limit"), setting)
    if gaps[-1] > 1e-2 and weigh(left, right, "=", cloud).fails.any():
        verdict = Verdict(
            Standing.FAILS, strength="unsupported", code="fails.limit", facts=(("gap", f"{gaps[-1]:.2g}"),))
        return Decision(verdict, setting)
    return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)


def _written_out(t: Term, run: Run, context: Context) -> Term:
    """A quantity by the variable that runs and constants, where some line above gives it so."""
    world = context.world
    change = {}
    for v in variables(t):
        if not world.is_changing(v) or v == run[0]:
            continue
        for p in reversed(context.premises):
            course = next((rest for u, rest in isolated(p.term) if u == v), None) if p.sign == "=" else None
            if course is None or any(s.op == "int" for s in postorder(course)):
                continue
            if not any(world.is_changing(u) and u != run[0] for u in variables(course)):
                change[var(v)] = course
                break
    return substitute(t, change) if change else t


def _running(left: Term, right: Term, run: Run, context: Context, setting: Setting) -> Iterator[Cloud]:
    """Clouds with the variable farther and farther out, everything independent of it held where it was."""
    cloud = setting.states.of(context, (left, right), count=24)
    system = context.system((left, right))
    projector = Projector(system, context.prior, fixed=(run[0],))
    env = dict(cloud.columns)
    n = cloud.size
    reached = 1.0
    by_hand = not any(context.world.is_changing(v) and v != run[0] for v in variables(left, right)) and (
        run[0].name == TIME)
    for step in _STEPS:
        while n and reached < step:  # by moderate steps, so that each projection starts close
            reached *= 10
            env[run[0]] = np.full(n, Tape([_place(run, reached)]).run(env)[0])
            if projector.free and system.equations and not by_hand:
                held = weights(projector, env, _solved_for(left, right, projector.free))
                env, _ = projector.project(env, held)
        bad = projector.residuals(env) if n and system.equations and not by_hand else np.zeros(n)
        yield Cloud({v: np.broadcast_to(a, n) for v, a in env.items()}, n).keep(bad < 1e-8)


def _solved_for(left: Term, right: Term, free: Sequence[Var]) -> list[Var]:
    """The quantity of the left side first, derivatives and values at instants next, the right side's names last."""
    own = variables(left)
    last = set(variables(right))
    rest = [v for v in free if v not in last and v not in own]
    return [*own, *(v for v in rest if v.order or v.at), *(v for v in rest if not v.order and not v.at)]


def _run(where: Claim | None, context: Context) -> Run | None:
    """The variable that runs, the end it runs to (None: infinity), and the side it comes from."""
    if not isinstance(where, Relation) or where.signs[0] not in ("→", "=", "≪", "≫"):
        return None
    pair = next(pairs(where))
    variable, end = lower(pair.left, context.world), lower(pair.right, context.world)
    if not isinstance(variable, Term) or not isinstance(end, Term) or variable.op != "var":
        return None
    v = variable.value
    assert isinstance(v, Var)
    if end is INFINITY or pair.sign == "≫":
        return v, None, 1
    negative = end.op == "mul" and INFINITY in end.args
    if negative:
        return v, None, -1
    prior = context.prior(v)
    value = float(np.real(Tape([end]).run({})[0])) if end.op == "num" else None
    side = -1 if value is not None and np.isfinite(prior.upper) and value >= prior.upper else 1
    return v, end, side


def _place(run: Run, step: float) -> Term:
    _, end, side = run
    if end is None:
        return num(int(side * step))
    return add(end, num(Fraction(side, int(step))))


def _gap(left: Term, right: Term, cloud: Cloud) -> float:
    lv, rv = Tape([left, right]).run(cloud.columns)
    with np.errstate(all="ignore"):
        if right is INFINITY:
            gap = 1 / np.abs(np.broadcast_to(lv, cloud.size))
        else:
            size = np.maximum(np.abs(rv), np.where(np.abs(rv) == 0, 1.0, 0.0))
            gap = np.abs(lv - rv) / size
    return float(np.nanmedian(gap))
