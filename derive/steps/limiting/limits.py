"""`as m → ∞: a → g`: what decides a limit, from known ones or by following the sides along the states.

What is held while it runs is chosen as a reader would: the quantity spoken of is worked out, then what the
working defines, and what the right side names stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from derive.notation.tree import Claim
from derive.proof.support import proof_of_vanishing, with_proof, without_integrals
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.precise import Chart
from derive.states.projection import System
from derive.states.said import Source
from derive.states.setting import Decision, Limit, Matter, Setting, claimed
from derive.states.sizes import KIND, all_positive, sized
from derive.states.states import freedom
from derive.steps.limiting.closing_in import POINTS, come_together, is_infinite
from derive.steps.limiting.holding import charts, swept
from derive.steps.limiting.running import Run, as_root, by_its_function, run_of, written_out
from derive.terms.calculus import derivative
from derive.terms.claims import Pair, lower_pair, pairs
from derive.terms.isolation import isolated
from derive.terms.lowering import INFINITY
from derive.terms.term import ZERO, Term, Var, div, neg, sub, substitute, var, variables
from derive.terms.world import TIME
from derive.terms.writing import is_negative

Part = tuple[Term, Term]


def with_given_limit(claim: Claim, where: Claim | None, setting: Setting) -> Setting:
    """`as t → ∞: v → u`, given: what the quantity goes to, kept for lines about that limit."""
    said = []
    for pair in pairs(claim):
        for quantity, value in lower_pair(pair, setting.context.world).parts:
            said.append(Limit(where, quantity, value))
    return replace(setting, limits=(*setting.limits, *said))


def of_known_limit(m: Matter) -> Decision | None:
    """`s = m v_0/b` below `as t → ∞: x → s`: a line about what a quantity goes to, where that is not said again."""
    if m.pair.sign == "→" or m.lowered.primitives:
        return None
    names = {v.name for v in m.unknowns}
    for limit in reversed(m.setting.limits):
        lone = limit.value.op == "var" and isinstance(limit.value.value, Var)
        known = tied_names(m.context) & {v.name for v in variables(limit.quantity)}
        changes = any(m.context.world.changes(r) for r in m.residuals)
        if lone and known and limit.value.value.name in names and not changes:
            return tends(m.pair, limit.where, m.setting, Source(m.label, m.number))
    return None


def tends(pair: Pair, where: Claim | None, setting: Setting, source: Source) -> Decision:
    """Decide `left → right` (or `left = right` said of a limit) as the variable of `where` runs."""
    run = run_of(where, setting.context)
    if run is None:
        return Decision(Verdict(Standing.TAKEN, code="taken.case"), setting)
    lowered = lower_pair(pair, setting.context.world)
    decision = Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)
    for context in _contexts(setting, run):
        for part in lowered.parts:
            decision = _of_part(part, pair.sign, where, run, context, setting)
            if decision.verdict.standing is not Standing.FOLLOWS:
                break
        if decision.verdict.standing is Standing.FOLLOWS:
            supposed = [x for x in _supposed(context) if x not in _supposed(setting.context)]
            labels = tuple(dict.fromkeys((*decision.verdict.premises, *supposed)))
            decision = replace(decision, verdict=replace(decision.verdict, premises=labels))
            break
    if decision.verdict.standing in (Standing.FAILS, Standing.UNDECIDED):
        decision = _on_its_positive_side(pair, lowered.parts, where, run, setting) or decision
    return _adopting(decision, lowered.parts, where, source)


def _on_its_positive_side(
    pair: Pair, parts: Sequence[Part], where: Claim | None, run: Run, setting: Setting
) -> Decision | None:
    """`for large y: v → u` where lines give v² alone: right for a v that is more than nothing."""
    v, world = parts[0][0].value, setting.context.world
    symbol = world.symbols.get(v.name) if isinstance(v, Var) and not (v.order or v.at) else None
    if len(parts) != 1 or symbol is None or not symbol.declared or symbol.sign != "real" or symbol.bounds:
        return None
    positive = replace(world, symbols={**world.symbols, symbol.name: replace(symbol, sign="positive")})
    found = _of_part(parts[0], pair.sign, where, run, setting.context.knowing(positive), setting)
    if found.verdict.standing is not Standing.FOLLOWS:
        return None
    words = f"{symbol.name} > 0"
    verdict = replace(found.verdict, standing=Standing.FOLLOWS_IF, code="follows.if", condition=words,
                      facts=(("condition", words),), certificate=None)
    return replace(found, verdict=verdict)


def _contexts(setting: Setting, run: Run) -> Iterator[Context]:
    """Where a limit is looked for: as the page stands, in an opened approximation, and (with no givens) with the sizes
    among its letters, then all its constants, positive, for where `e^(-k t)` goes hangs on k."""
    yield setting.context
    if setting.regime:
        yield setting.regime.context
    if setting.strict:
        return
    unknowns = {v: None for p in setting.context.premises for v in variables(setting.context.resolved(p.term))}
    unknowns.pop(run.variable, None)
    for supposing in (sized, all_positive):
        context = supposing(setting.context, unknowns)
        if context is not None:
            yield context


def _of_part(
    part: Part, sign: str, where: Claim | None, run: Run, context: Context, setting: Setting
) -> Decision:
    known = _as_limit(part, where, setting)
    decision = _followed(known, sign, run, context, setting)
    if decision is None:
        decision = _from_known_limits(part, sign, where, context, setting)
    if decision is None:
        verdict = Verdict(Standing.UNDECIDED, code="undecided.budget")
        if run.variable.name == TIME and run.end is None and _is_settling(part):
            # Nothing above gives the motion: that it settles is then an assumption of its own.
            verdict = Verdict(Standing.TAKEN, code="taken.case")
        decision = Decision(verdict, setting)
    return decision


def _is_settling(part: Part) -> bool:
    """`v' → 0`: a rate that dies out."""
    left, right = part
    return left.op == "var" and isinstance(left.value, Var) and left.value.order > 0 and right.op == "num" and (
        right.value == 0)


def _as_limit(part: Part, where: Claim | None, setting: Setting) -> Part:
    """A name known to be a limit stands for what goes to it: `u = W/c` says v → W/c."""
    change = {x.value: x.quantity for x in setting.limits if x.under(where)}
    left, right = part
    return (substitute(left, change), right) if substitute(left, change) is not left else (
        substitute(right, change), left) if substitute(right, change) is not right else part


def _from_known_limits(
    part: Part, sign: str, where: Claim | None, context: Context, setting: Setting
) -> Decision | None:
    """What the context says of a state in which the quantities known to have limits have reached them."""
    reached = []
    for x in setting.limits:
        if x.under(where) and x.value is not INFINITY:
            words = claimed(x.where)
            reached.append(Premise(words, sub(x.quantity, x.value), "=", False))
            rate = derivative(x.quantity, context.world.along_time)  # what has settled no longer changes
            if rate is not ZERO and not context.world.changes(x.value):
                reached.append(Premise(words, rate, "=", False))
    if not reached:
        return None
    left, right = (context.resolved(t) for t in part)
    cloud = setting.states.of(context, (left, right), reached)
    found = weigh(left, right, "=" if sign == "→" else sign, cloud)
    if found.all_hold:
        return Decision(
            Verdict(Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.limit"), setting)
    if found.all_fail:
        return Decision(Verdict(Standing.FAILS, strength="unsupported", code="fails.limit"), setting)
    return None


def _adopting(decision: Decision, parts: Sequence[Part], where: Claim | None, source: Source) -> Decision:
    """What goes where is kept for lines about the same limit; between constants it is a relation like any other,
    the writer's own where it fails."""
    setting = decision.after
    named = {x.value for x in setting.limits if x.under(where)}
    world = setting.context.world
    if decision.verdict.standing is Standing.FAILS:  # one that is open may be right in the end
        own = [
            Premise(source.label, sub(left, right), "=", False, source=source.number, sides=(left, right))
            for left, right in parts if not world.changes(sub(left, right))]
        return replace(decision, after=replace(setting, broken=(*setting.broken, *own)))
    if decision.verdict.standing not in (Standing.FOLLOWS, Standing.TAKEN):
        return decision
    new, ends = [], []
    for left, right in parts:
        if (left in named or right in named) and not world.changes(sub(left, right)):
            premise = Premise(source.label, sub(left, right), "=", True)
            setting = setting.within(setting.context.adding(premise))
        elif world.changes(left):
            new.append(Limit(where, left, right, source.number))
        else:
            ends.append(Limit(where, left, right, source.number))
    return replace(decision, after=replace(setting, limits=(*setting.limits, *new), ends=(*setting.ends, *ends)))


# --- following ------------------------------------------------------------------------------------------------


def _followed(part: Part, sign: str, run: Run, context: Context, setting: Setting) -> Decision | None:
    """The gap between the sides along states in which the variable is farther and farther out."""
    plain = context.resolved(part[0])
    left, right = written_out(plain, run, context), written_out(context.resolved(part[1]), run, context)
    if _come_together_anyway(left, right, sign, run, context, setting):
        verdict = Verdict(Standing.FOLLOWS, points=POINTS, code="follows.limit")
        return Decision(with_proof(verdict, _proof(part, run, context, setting), ()), setting)
    root = by_its_function(left if is_negative(right) else as_root(left, run, context), run, context)
    rooted = _by_free_names(root, right, run, context, setting) if root is not plain else None
    outright = rooted or _by_what_is_free(root, right, run, context, setting)
    if outright is not None:
        left, right = outright
        ways = iter([(Chart(()), System(), setting.states.of(context, outright, count=24))])
    else:
        left, ways = root, charts(root, right, run, context, setting)
    answers = []
    for chart, system, cloud in ways:
        if run.variable.name == TIME and _still_open(left, right, run, chart, context):
            return None
        answer = come_together(left, right, sign, run, (chart, system, cloud), context)
        if answer is True:
            verdict = Verdict(Standing.FOLLOWS, points=POINTS, code="follows.limit")
            return Decision(with_proof(verdict, _proof(part, run, context, setting), ()), setting)
        answers.append(answer)
    if answers and all(a is False for a in answers):
        return Decision(Verdict(Standing.FAILS, strength="unsupported", code="fails.limit"), setting)
    return None


def _come_together_anyway(left: Term, right: Term, sign: str, run: Run, context: Context, setting: Setting) -> bool:
    """`v → D cos(Ω t - δ)` of a course that is still tried: whatever its constants, with the signs they have."""
    own = variables(left, right)
    if run.variable.name != TIME or run.variable not in variables(left) or sign in "<>≤≥" or any(
            _is_moved(v, run, context) or v.at or v.order or v.role != "value" for v in own):
        return False
    open_ones = replace(context, premises=tuple(p for p in context.premises if p.sign != "="))
    states = setting.states.of(open_ones, (left, right), count=24)
    return come_together(left, right, sign, run, (Chart(()), System(), states), open_ones) is True


def _supposed(context: Context) -> tuple[str, ...]:
    return tuple(dict.fromkeys(p.label for p in context.premises if p.kind == KIND))


def _proof(part: Part, run: Run, context: Context, setting: Setting) -> tuple[object, ...] | None:
    """That the gap vanishes as what runs goes to nothing or beyond all bounds, what the right side names held."""
    weight = 1 if run.end is ZERO else -1 if run.end is None and run.side > 0 else 0
    if not setting.proofs or not weight or run.whole is not None or is_infinite(part[1]):
        return None
    held = frozenset(variables(part[1]))
    return proof_of_vanishing(context, [part], [(run.variable, weight)], 1, held)


def _by_what_is_free(left: Term, right: Term, run: Run, context: Context, setting: Setting) -> Part | None:
    """A quantity by the running variable and what may be held beside it, where a line gives it so outright, and what
    it is said to go to by such names."""
    v = left.value
    if left.op != "var" or not isinstance(v, Var) or v == run.variable or context.world.is_changing(v):
        return None
    for p in reversed(context.premises):
        for u, rest in isolated(p.term) if p.sign == "=" else ():
            if u == v:
                rest = _worked_out(rest, run, context, setting)
                free = _by_free_names(rest, right, run, context, setting)
                if free is not None and v not in variables(*free):
                    return free
    return None


def _by_free_names(left: Term, right: Term, run: Run, context: Context, setting: Setting) -> Part | None:
    """Two sides by names that may each be held while the variable runs: with k written out as m ω0² where a line says
    that it is."""
    for _ in context.premises:
        own = variables(left, right)
        if run.variable not in own or swept(left) or any(
                w.at or w.order or w.role != "value" or _is_moved(w, run, context) for w in own):
            return None
        if freedom(context, own, (), setting.states) == len(own):
            return left, right
        among = {*own} - {run.variable}
        said = next(((v, split) for p in context.premises if p.sign == "=" and among.issuperset(variables(p.term))
                     for v in variables(p.term) if (split := linear(p.term, v)) is not None), None)
        if said is None:
            return None
        change = {var(said[0]): neg(div(said[1][1], said[1][0]))}
        left, right = substitute(left, change), substitute(right, change)
    return None


def _worked_out(t: Term, run: Run, context: Context, setting: Setting) -> Term:
    """A term with its integrals worked out: far out, what runs beyond all bounds is positive, and so is a size."""
    beyond = [run.variable] if run.end is None and run.side > 0 else []
    sizes = sized(context, variables(t)) if not setting.strict else None
    return without_integrals(sizes or context, t, beyond)


def _is_moved(v: Var, run: Run, context: Context) -> bool:
    return v != run.variable and context.world.is_changing(v)


def _still_open(left: Term, right: Term, run: Run, chart: Chart, context: Context) -> bool:
    """Does it hang on a moving quantity of which nothing says where it goes?"""
    pending = list(variables(left, right))
    given = dict(chart.closed)
    seen: set[Var] = set()
    while pending:
        v = pending.pop()
        if v in seen or v == run.variable:
            continue
        seen.add(v)
        if v in given:
            pending.extend(variables(given[v]))
        elif v in chart.solved:
            pending.extend(variables(*chart.core))
        elif context.world.is_changing(v):
            return True
    return False
