"""What holds in the case that is being spoken of, or at the instant: `suppose v = 0`, `at t = 0`, `dV/dr = 0 → …`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from derive.notation.tree import Derivative, Name, Relation, names_in, walk
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Case, Decision, Matter, Setting
from derive.states.sizes import ANGLES, KIND
from derive.steps.brought_in.moments import known_ever_after
from derive.steps.cases import conditions
from derive.steps.customs import customary
from derive.steps.letters.drawing import CLAIMING
from derive.steps.numbers import numeric
from derive.terms.placing import instant_key
from derive.terms.term import ZERO, Var, substitute, var, variables
from derive.terms.world import TIME
from derive.verdicts.pairs.said_there import at_instant, by_known_course, later
from derive.verdicts.pairs.still_rounded import still_rounded
from derive.verdicts.pairs.weighing import evidence

_FEW = 8  # states, where they are hard to come to
# `so v = …`, `in that case v = …`.
_GOING_ON = frozenset((*CLAIMING, "case"))

_START = instant_key(Var(TIME), ZERO)


def holds_in_open_case(m: Matter) -> Decision | None:
    """The pair holds in the case or at the instant that is being spoken of (the latest first)."""
    goes_on = not _GOING_ON.isdisjoint(m.words.lower().replace(",", " ").split())
    latest = m.setting.cases[-1].premises if m.setting.cases else ()
    opens = bool(latest) and latest[-1].source == m.number  # a case of its own, which no other is
    for back, case in enumerate((*reversed(m.setting.cases), *_with_outer(m))):
        if case.key and case.left:
            continue  # a moment past, which `back_at_the_moment` may come back to
        below = not _leaves(m, case) and ((goes_on and back == 0) or (next_below(m, case) and not (back and opens)))
        opened = not case.line and not (_moves_on(m, case) or _comes_to_what_is_nothing(m, case))
        if not (opened or below or case.line == m.number):
            continue
        decision = _taken_up_again(m, case) or in_case(m, case) or _in_case_by_custom(m, case)
        if decision is not None:
            return decision
    return None


def _taken_up_again(m: Matter, case: Case) -> Decision | None:
    """`m = 2 kg, μ = 0` below `μ = 0: x = …`: said once more, a case is gone on with."""
    told = {p.term for p in case.premises}
    if not told or not case.line or case.line == m.number or not told <= set(m.residuals):
        return None
    again = m.setting.opening(replace(case, line=m.number, left=False))
    return Decision(Verdict(Standing.TAKEN, code="taken.case"), again)


def _in_case_by_custom(m: Matter, case: Case) -> Decision | None:
    """`h = u²/(2 g)` where v = 0, if nobody has said that g is positive. A place is reached after the start."""
    by_time = bool(case.key) and any(Var(TIME) in variables(p.term) for p in m.context.premises)
    inside = customary.with_sizes(m) if case.premises or by_time else None
    if inside is not None and by_time and not case.key.startswith(f"{TIME}="):
        inside = later(inside, case.key)
    decision = in_case(inside, case) if inside is not None else None
    return customary.said(decision, inside) if decision is not None and inside is not None else None


def _with_outer(m: Matter) -> Iterator[Case]:
    """The latest case together with one that is being worked out where it is opened (`at the top θ = π: N = …`, then
    `if N ≥ 0`; `at the bottom θ = 0: T = …`, then `with u² = 5 g L: T = 6 m g`), or that the same line opens (`at the
    top: θ = π, T = 0`); the latest such first."""
    if not m.setting.cases or not m.setting.cases[-1].premises:
        return
    *before, inner = m.setting.cases
    for outer in reversed([c for c in before if c.premises and not set(c.premises) <= set(inner.premises)]):
        if not {p.term for p in outer.premises}.isdisjoint(m.residuals):
            continue  # what one of them says by itself is drawn from neither
        if tell_times(outer, inner) or _speaks_of_it_in_general(m, outer):
            continue
        together = outer.premises[-1].source == inner.premises[-1].source and outer.line == inner.line
        if together or (outer.line and not outer.left and inner.line in (0, m.number)):
            yield inner.inside(outer)


def tell_times(*cases: Case) -> bool:
    """Is each of them a moment by its time? It is one, or another, and never both."""
    return all(isinstance(c.where, Relation) and c.where.sides[0] == Name(TIME) for c in cases)


def in_both_cases(m: Matter) -> Decision | None:
    """The pair holds in the case that its line opens and one that is being worked out, as one; the lines below go on
    with both (`slack when T = 0: cos θ = …`, `for u² = 3 g L: cos θ = -1/3`, then `θ = 109°`)."""
    for both in _with_outer(m):
        found = in_case(m, both) or _in_case_by_custom(m, both)
        if found is not None:
            return replace(found, after=replace(found.after, cases=(*found.after.cases[:-1], both)))
    return None


def next_below(m: Matter, case: Case) -> bool:
    """Does a line stand next below one that was said of a case (`at the top θ = π: N = …`, then `N ≥ 0`)? Nobody leaves
    a case without a word before it is worked out."""
    return bool(case.premises) and not case.left and case.line < m.number and not _leaves(m, case)


def _leaves(m: Matter, case: Case) -> bool:
    """Does a line speak of both sizes that a case sets equal (`E1/E2 = k1/k2` below `k1 = k2 ⇒ k = k1/2`)? In the case
    they would have one name, so the line is meant of all."""
    if _speaks_of_it_in_general(m, case):
        return True
    if len(case.premises) != 1 or case.premises[0].sign != "=" or _moves_on(m, case):
        return _moves_on(m, case)
    gap = case.premises[0].term
    equal = all(isinstance(side, Name) for side in case.where.sides) if isinstance(case.where, Relation) else (
        gap.op != "fun")  # `cos ω t = 0` sets nothing equal
    names = set(variables(gap))
    return equal and len(names) > 1 and names <= set(m.unknowns)


def _speaks_of_it_in_general(m: Matter, case: Case) -> bool:
    """Does a formula speak of the very name that is nothing, or some angle, in a case (`T = 3 m1 m2 g/(m1 + m2)` below
    `m2 = 0 → T = 0`)? There it would not be written."""
    single = [(p.term, variables(p.term)[0]) for p in case.premises if p.sign == "=" and len(variables(p.term)) == 1]
    special = {v for t, v in single if t is var(v) or v.name in ANGLES}
    numeric = any(not variables(t) for part in m.lowered.parts for t in part)
    return not numeric and not special.isdisjoint(m.unknowns)


def _comes_to_what_is_nothing(m: Matter, case: Case) -> bool:
    """Does a formula come to the very name that is nothing in a case that was opened above (`F = k d + q d³` below
    `if q = 0, d = …`)? `g sin θ - μ g cos θ = g sin θ` comes to what is left."""
    nothing = {v.name for p in case.premises if p.sign == "=" and p.source != m.number
               and isinstance(v := p.term.value, Var) and not (v.order or v.at)}
    return bool(nothing & {*names_in(m.pair.right)} - {*names_in(m.pair.left)})


def _moves_on(m: Matter, case: Case) -> bool:
    """Does a line speak of the rate that is nothing in a case (`dv/dt = (c/m) (u - v)` below `terminal: dv/dt = 0`)?
    One whose chain begins with such a rate of what is made of it does (`m z'' = … = -k z` below `at rest l'' = 0`)."""
    nothing = [v for p in case.premises if p.sign == "=" and isinstance(v := p.term.value, Var) and v.order]
    head = m.pair.head if m.pair.head is not None else m.pair.left
    spoken = {n.order for n in walk(head) if isinstance(n, Derivative) and n.wrt == Name(TIME)}
    return any(v in m.unknowns or (v.wrt == TIME and v.order in spoken) for v in nothing)


def follows_in_open_case_if(m: Matter) -> Decision | None:
    """`if h = 0, R = v² sin 2α/g`: what holds of the case spoken of under a further condition. What brings in a name of
    its own holds of none."""
    if m.fresh:
        return None
    for case in (_spoken_of(m, beside=True), *_with_outer(m)):
        inside = _inside(m, case) if case is not None else None
        found = conditions.follows_if(inside) if inside is not None else None
        if found is not None and case is not None and inside is not None:
            granted = granted_there(m, inside, case)
            if granted is not None:
                return granted
            verdict = replace(found.verdict, facts=(*found.verdict.facts, ("case", case.words)))
            return replace(found, verdict=verdict, after=knowing(m, case))
    return _follows_at_open_instant_if(m)


def _follows_at_open_instant_if(m: Matter) -> Decision | None:
    """`x = a/b` below `max speed: F = 0`, where F is a x - b x²: at one of the places where that is so."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not case.key or case.line not in (0, m.number) or m.fresh:
        return None
    there = at_instant(m, case.key)
    found = conditions.follows_if(there) if there.lowered.parts != m.lowered.parts else None
    if found is None:
        return None
    verdict = replace(found.verdict, facts=(*found.verdict.facts, ("case", case.words)))
    return replace(found, verdict=verdict, after=m.setting)


def granted_there(m: Matter, inside: Matter, case: Case) -> Decision | None:
    """What holds in a case as everybody takes it: `μ = 0: v = A √(k/m)`, and A is no less than nothing."""
    for view in (*customary.views(inside), *compared_apart(inside, case)):
        found, cloud = evidence(view)
        if cloud.size and all(e.all_hold for e in found):
            verdict = Verdict(Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.in_case",
                              facts=(("case", case.words),))
            return customary.said(Decision(verdict, m.setting), view)
    return None


def compared_apart(inside: Matter, case: Case) -> Iterator[Matter]:
    """What a case compares is there: `to reach v = 2 u` is not said of no u at all."""
    compared = {
        v for p in case.premises if p.sign == "=" and len(variables(p.term)) == 2
        and substitute(p.term, dict.fromkeys(map(var, variables(p.term)), ZERO)) is ZERO for v in variables(p.term)}
    apart = [Premise(f"{v.name} not being 0", var(v), "≠", always=False, kind=KIND)
             for v in sorted(compared, key=str) if v.role == "value" and not v.order and not v.at]
    if apart:
        yield replace(inside, setting=inside.setting.within(inside.context.adding(*apart)))


def is_solved(m: Matter) -> bool:
    """Does the case spoken of say how things go there at all times?"""
    case = _spoken_of(m, beside=True)
    return case is not None and any(p.always for p in case.premises)


def inside_open_case(m: Matter, beside: bool = False) -> Matter | None:
    """The pair in the latest supposition that is open, where anything is left there.

    beside: also in one that a line just above was said for.
    """
    case = _spoken_of(m, beside)
    return _inside(m, case) if case is not None else None


def _inside(m: Matter, case: Case) -> Matter | None:
    context = case.loosening(m.context).adding(*case.premises)
    if not m.setting.states.any(context).size:
        context = without_what_is_apart(context, m)
        if not m.setting.states.any(context).size:
            return None
    return replace(m, setting=replace(m.setting.within(context), cases=(), rounded=still_rounded(m.setting, context)))


def without_what_is_apart(context: Context, m: Matter) -> Context:
    """Without what only says what other constants are: two relations for a λ, whose roots meet in the case, are hard to
    satisfy, and a course without λ needs none of them."""
    world = context.world
    if not any(v.name in world.moving for v in m.unknowns):
        return context
    own = {v.name for v in m.unknowns} | {
        v.name for p in context.premises if any(map(world.is_changing, variables(p.term))) for v in variables(p.term)}
    return replace(context, premises=tuple(
        p for p in context.premises if own.issuperset(v.name for v in variables(p.term))))


def _spoken_of(m: Matter, beside: bool) -> Case | None:
    return next((
        c for c in reversed(m.setting.cases)
        if c.premises and (c.line in (0, m.number) or (beside and next_below(m, c)))
        and not (c.line == 0 and _comes_to_what_is_nothing(m, c))
        and (c.line == m.number or not _moves_on(m, c))), None)


def in_open_case_by(m: Matter, rule: Callable[[Matter], Decision | None], adopted: bool = False) -> Decision | None:
    """The pair holds in the case spoken of by a rule that takes something for granted there.

    adopted: what was taken is so for the lines that go on with the case (`ω t = π/4`, the first of many).
    """
    inside = (inside_open_case(m, beside=True) or _past_other_constants(m)) if m.setting.cases else None
    case = _spoken_of(m, beside=True)
    if inside is None or case is None:
        return None
    decision = next((d for v in (inside, *compared_apart(inside, case)) if (d := rule(v)) is not None), None)
    if decision is None or decision.verdict.standing not in (Standing.FOLLOWS, Standing.APPROXIMATES):
        return None
    verdict = replace(decision.verdict, facts=(*decision.verdict.facts, ("case", case.words)))
    if verdict.standing is Standing.FOLLOWS:
        verdict = replace(verdict, code="follows.in_case", facts=(("case", case.words),))
    solved = decision.verdict.code == "follows.general_solution"
    after = knowing(m, case, solved) if adopted and verdict.standing is Standing.FOLLOWS else m.setting
    return replace(decision, verdict=verdict, after=after)


def _past_other_constants(m: Matter) -> Matter | None:
    """The pair in the case spoken of without what lines say of constants that are in neither: where the two roots λ of
    `λ² + 2γ λ + ω0² = 0` meet, states are hard to find, and `x = (A + B t) e^(-γ t)` does not speak of λ."""
    case = _spoken_of(m, beside=True)
    own = {*m.unknowns, *(v for p in case.premises for v in variables(p.term))} if case is not None else set()
    world = m.context.world
    apart = {
        p for p in m.context.premises if p.kind == "line" and not own.issuperset(variables(p.term))
        and not any(v.order or v.at or world.is_changing(v) for v in variables(p.term))}
    kept = tuple(p for p in m.context.premises if p not in apart)
    there = replace(m, setting=m.setting.within(replace(m.context, premises=kept)))
    return inside_open_case(there, beside=True) if apart else None


def knowing(m: Matter, case: Case, always: bool = False) -> Setting:
    """The setting with the pair as a part of the case: how things go there at all times, or what is so at one."""
    further = replace(case, premises=(*case.premises, *m.premises(implied=False, always=always)))
    return replace(m.setting, cases=tuple(further if c is case else c for c in m.setting.cases))


def with_more_known(m: Matter, premises: tuple[Premise, ...]) -> Setting:
    """The setting with more that is so in the case spoken of."""
    case = _spoken_of(m, beside=True)
    cases = tuple(replace(c, premises=(*c.premises, *premises)) if c is case else c for c in m.setting.cases)
    return replace(m.setting, cases=cases)


def in_case(m: Matter, case: Case) -> Decision | None:
    """The pair decided to hold in a case that was opened, or at its instant; None where it does not."""
    if case.premises:
        context = case.loosening(m.context)
        found, cloud = evidence(m, context, case.premises)
        if not cloud.size or not all(e.all_hold for e in found):
            return None
        verdict = with_proof(
            Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.in_case", facts=(("case", case.words),)),
            proof_of(context, m.lowered.parts, m.pair.sign, case.premises, cloud=cloud) if m.setting.proofs else None,
            (case.words,))
        return Decision(verdict, m.setting.within(m.context.adding(*known_ever_after(m, case))))
    if any(v.role == "value" and not v.order and case.key.startswith(f"{v.name}=") for v in m.unknowns):
        return None  # a line with t in it is not only about the instant t = 0
    if case.line != m.number and not m.at and _ties_what_moves(m, case.key):
        return None
    moved = at_instant(m, case.key)
    if moved.lowered.parts == m.lowered.parts:
        return None  # nothing in it depends on where it is said
    found, cloud = evidence(moved)
    shown = moved
    if not all(e.all_hold for e in found):
        shown = by_known_course(m, case.key) or moved
        found, cloud = evidence(shown)
    if not cloud.size or not all(e.all_hold for e in found):
        return _as_a_line_says(m, case) if cloud.size < _FEW else None
    verdict = with_proof(
        Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.at", facts=(("case", case.words),)),
        proof_of(shown.context, shown.lowered.parts, m.pair.sign, cloud=cloud) if m.setting.proofs else None,
        (case.words,))
    # Found by what is known of the course; nothing else may tell the states of it.
    after = moved.context.adding(*(replace(p, always=False) for p in moved.premises(implied=False)))
    return Decision(verdict, m.setting.within(after))


def _as_a_line_says(m: Matter, case: Case) -> Decision | None:
    """`v = 0 at r = …` below `v² = v0² - 2 G M (1/R - 1/r)`: the place put into a line that gives a quantity along it.
    States at which a square is nothing are hard to come to."""
    name, along = m.lowered.parts[0][0], Var(case.key.partition("=")[0])
    place, value = dict(m.context.instants).get(case.key), m.lowered.parts[0][1]
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or place is None or not isinstance(name.value, Var) or any(
            m.context.world.is_changing(v) for v in variables(place, value)):
        return None
    for p in reversed(m.context.premises):
        here = variables(p.term)
        if p.sign != "=" or not p.always or not {name.value, along} <= set(here) or any(v.order or v.at for v in here):
            continue
        there, changes = substitute(p.term, {name: value, var(along): place}), m.context.world.is_changing
        still = tuple(q for q in m.context.premises if not any(v.at or changes(v) for v in variables(q.term)))
        cloud = m.setting.states.of(replace(m.context, premises=still, instants=()), [there])
        if cloud.size and weigh(there, ZERO, "=", cloud).all_hold:
            verdict = Verdict(Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.at",
                              facts=(("case", case.words),))
            apart = tuple(i for i in m.context.instants if i[0] != case.key)
            return Decision(verdict, m.setting.within(replace(m.context, instants=apart)))
        return None
    return None


def _ties_what_moves(m: Matter, key: str) -> bool:
    """`θ'² = (2 g/l)(cos θ - cos α)` next below `at t = 0: C = -g cos α`: what moves on both sides, said of any moment.
    At the start it may hold with any factor. (`tan φ = -v/(ω x)` says what a constant comes to there.)"""
    world = m.context.world
    return key == _START and all(world.changes(t) for part in m.lowered.parts for t in part)


def number_at_open_instant(m: Matter) -> Decision | None:
    """`P = T v = 16.5 kW` below `at t = 4 s: v = 2 m/s`: right to its figures there, or off."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not case.key or case.line not in (0, m.number) or m.fresh:
        return None
    there = at_instant(m, case.key)
    if there.lowered.parts == m.lowered.parts:
        return None
    found = numeric.right_to_its_figures(there) or numeric.right_to_its_figures(later(there, case.key))
    if found is None and m.pair.head is not None and not m.words and len(m.context.instants) == 1:
        found = numeric.wrong_number(there)  # no other moment has been spoken of
    if found is None:
        return None
    verdict = replace(found.verdict, facts=(*found.verdict.facts, ("case", case.words)))
    return replace(found, verdict=verdict, after=m.setting)
