"""Lines with numbers: right to the figures written, right from the writer's own rounded values, or off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from derive.notation.printed.printing import RAISED, as_text
from derive.notation.tree import Num, Quotient, Relation, Unit, names_in, walk
from derive.proof.support import proof_of_closeness, with_proof
from derive.records import Standing, Verdict
from derive.states.consistency import comes_to_nothing, consistent
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import Evidence, weigh
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.yielding import is_value
from derive.steps.changing.motion import with_integrals_seen
from derive.terms.calculus import derivative
from derive.terms.claims import lower_pair, pairs
from derive.terms.declared import plain_value
from derive.terms.lowering import lower
from derive.terms.numbers import (
    Rounded,
    bare_number,
    familiar_factor,
    last_digit_of_result,
    spread,
    with_decimals_named,
)
from derive.terms.tape import taped
from derive.terms.term import ZERO, Term, Var, sub, variables

# A last digit may be rounded either way when the value sits between two: allow a twentieth beyond half.
_LENIENCE = 1.05
# A last figure that is a smaller share of its number may have been cut off where it rounds up.
_SMALL_FIGURE = 0.01
# A fraction of larger numbers is worked out, and no more handy than a decimal.
_SIMPLE = 12
# Nobody leaves out figures on the way that make more of a number than this.
_LEFT_OUT = 0.02
# A quantity less than this in every state is nothing.
_NOTHING = 1e-9


def with_allowance(m: Matter, context: Context) -> tuple[Evidence, Cloud, NDArray[np.float64]] | None:
    """Evidence with the allowance of the pair's decimals; None where it has no inexact number."""
    if m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1:
        return None
    found = _with_decimals_open(m, context)
    if found is None:
        return None
    (left, right), rounded = found
    if m.at:
        left, right = context.placed(left, m.at), context.placed(right, m.at)
    cloud = m.setting.states.of(context, [context.resolved(t) for t in m.lowered.parts[0]])
    if not cloud.size:
        return None
    written: dict[Var, NDArray[np.float64]] = {v: np.full(cloud.size, x) for v, x in rounded.values.items()}
    if not cloud.columns.keys() | written.keys() >= set(variables(left, right)):
        return None  # said of an instant: the trees speak of the general one
    halves = _of_what_was_rounded(m, left, rounded)
    slack = _slack(left, right, cloud, written, halves, turned=_only_turns(m))
    return weigh(left, right, "=", cloud, slack, written), cloud, slack


def _of_what_was_rounded(m: Matter, left: Term, rounded: Rounded) -> dict[Var, float]:
    """Half a unit of the last digits; none of what a formula is reckoned with, `v = ω √(A² - x²) = 20·0.04`, but for
    results that lines above have rounded: of 20·0.04 is 0.8 made, and no 0.9."""
    head = m.pair.head
    if head is None or not names_in(head) or names_in(m.pair.left) or bare_number(m.pair.left) is not None:
        return rounded.halves
    results = {abs(float(t.value)) for p in m.setting.rounded for t in p.term.args if t.op == "num"}
    own = set(variables(left))
    return {v: half if v not in own or abs(rounded.values[v]) in results else 0.0
            for v, half in rounded.halves.items()}


def _only_turns(m: Matter) -> bool:
    """`5 cm = 0.05 m`: one number in two units, which is rounded once."""
    return all(bare_number(side) is not None for side in (m.pair.left, m.pair.right))


def _with_decimals_open(m: Matter, context: Context) -> tuple[tuple[Term, Term], Rounded] | None:
    """The sides of the pair with an unknown for each of its inexact numbers."""
    rounded = with_decimals_named(m.pair.relation(), _given_values(m))
    if rounded is None or not isinstance(rounded.claim, Relation):
        return None
    pair = next(pairs(rounded.claim))
    left, right = lower(pair.left, context.world), lower(pair.right, context.world)
    if not isinstance(left, Term) or not isinstance(right, Term):
        return None
    return (context.resolved(left), context.resolved(right)), rounded


def _given_values(m: Matter) -> set[float]:
    """The values that names have been given outright, but for those that a result was rounded to as well."""
    def values(premises: Iterable[Premise]) -> set[float]:
        sides = [p.sides for p in premises if p.sides is not None and p.sign == "=" and not p.implied]
        return {float(b.value) for a, b in sides if a.op == "var" and b.op == "num"}

    return values(m.context.premises) - values(m.setting.rounded)


def _slack(
    left: Term, right: Term, cloud: Cloud, written: dict[Var, NDArray[np.float64]], halves: dict[Var, float],
    turned: bool = False,
) -> NDArray[np.float64]:
    by = list(written)
    _, slopes = taped(left, right).jacobian({**cloud.columns, **written}, by)
    gap = np.abs(slopes[0] - slopes[1])
    half = np.array([halves[v] for v in by])
    shares = np.broadcast_to(gap, (len(by), cloud.size)) * half[:, None]
    total: NDArray[np.float64] = np.max(shares, axis=0) if turned and len(by) else np.sum(shares, axis=0)
    return _LENIENCE * total


def right_to_its_figures(m: Matter) -> Decision | None:
    """`T = 0.42 s` where the context gives 0.4189 s."""
    decision = _right_in(m, m.context)
    return None if decision is None else _with_proof(decision, m, m.context)


def near_a_fraction(m: Matter) -> Decision | None:
    """`0.165 ≈ 1/6`, where the sign says that it is not just so."""
    right = m.pair.right
    simple = isinstance(right, Quotient) and all(
        isinstance(n, Num) and n.value.denominator == 1 and 0 < n.value <= _SIMPLE for n in (right.num, right.den))
    if m.pair.sign != "≈" or not simple or m.fresh or len(m.lowered.parts) != 1 or not _is_near(m):
        return None
    cloud = m.setting.states.of(m.context, m.lowered.parts[0])
    verdict = Verdict(Standing.APPROXIMATES, points=cloud.size, support="tested", code="approximates.number")
    return Decision(verdict, replace(m.setting, rounded=(*m.setting.rounded, *_as_written(m))))


def right_for_its_head(m: Matter) -> Decision | None:
    """`f = 0.2·127 = 25.5 N` of an f of 25.487 N that 127 was rounded for: the calculator had more figures, and the
    number is right for what the chain is about."""
    head = m.pair.head
    reckoned = bare_number(m.pair.left) is None and not names_in(m.pair.left)
    if head is None or not names_in(head) or not reckoned or bare_number(m.pair.right) is None or m.fresh:
        return None
    whole = replace(m, pair=replace(m.pair, left=head, head=None), lowered=lower_pair(
        replace(m.pair, left=head), m.context.world))
    return right_to_its_figures(whole) if _is_near(m) else None


def _is_near(m: Matter) -> bool:
    """Do two sides differ by no more than figures that were left out on the way?"""
    left, right = m.lowered.parts[0]
    cloud = m.setting.states.of(m.context, (left, right))
    found = weigh(left, right, "=", cloud, _LEFT_OUT * np.abs(weigh(left, right, "=", cloud).left))
    return bool(cloud.size) and found.all_hold


def grows_to_its_figures(m: Matter) -> Decision | None:
    """`s = 1.5 t² - 0.0833 t³` below `s = ∫ v dt`, `v = 3 t - 0.25 t²`: its rate is right to the figures written, and
    the constant of an integral without limits is anyone's."""
    world = m.context.world
    if m.fresh or m.at or m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1:
        return None
    whole = [with_integrals_seen(m.context.resolved(r), world) for r in m.residuals]
    if not any(v in world.primitives for v in variables(*whole)):
        return None
    found = _with_decimals_open(m, m.context)
    if found is None:
        return None
    (left, right), rounded = found
    rates = [m.context.resolved(world.seen_through(derivative(world.seen_through(t), world.along_time)))
             for t in (left, right)]
    cloud = m.setting.states.of(m.context, rates)
    written = {v: np.full(cloud.size, x) for v, x in rounded.values.items()}
    if not cloud.size or not cloud.columns.keys() | written.keys() >= set(variables(*rates)):
        return None
    slack = _slack(rates[0], rates[1], cloud, written, rounded.halves)
    if not weigh(rates[0], rates[1], "=", cloud, slack, written).all_hold:
        return None
    verdict = Verdict(
        Standing.APPROXIMATES, points=cloud.size, support="tested", code="approximates.number", premises=m.cites)
    return Decision(verdict, replace(m.setting, rounded=(*m.setting.rounded, *_as_written(m))))


def _with_proof(decision: Decision, m: Matter, context: Context) -> Decision:
    """With a proof that the sides come within their allowance of each other, where one is found."""
    found = with_allowance(m, context) if m.setting.proofs else None
    if found is None:
        return decision
    certificates = proof_of_closeness(context, m.lowered.parts, float(np.min(found[2])))
    return replace(decision, verdict=with_proof(decision.verdict, certificates, m.cites))


def _right_in(m: Matter, context: Context) -> Decision | None:
    if m.fresh or _is_meant_exactly(m, context):
        return None
    found = with_allowance(m, context)
    if found is None or not found[0].all_hold:
        return None
    evidence, cloud, slack = found
    exact = _exact_value(m, evidence)
    verdict = Verdict(
        Standing.APPROXIMATES, points=cloud.size, support="tested", code="approximates.number",
        facts=(("exact", exact),) if exact else (), premises=m.cites)
    written = _as_written(m)
    if _is_off(written, m, float(np.max(slack))):
        return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *written)))
    return Decision(verdict, replace(m.setting, rounded=(*m.setting.rounded, *written)))


def _is_meant_exactly(m: Matter, context: Context) -> bool:
    """`1 = l²/(12 a²)`: a whole number beside letters, on a page on which no value has been told."""
    sides = (m.pair.left, m.pair.right)
    numbers = [side for side in sides if isinstance(side, Num) and side.last_digit is None and side.value]
    whole = any(n.value.denominator == 1 for n in numbers)
    return whole and any(map(names_in, sides)) and not any(
        is_value(p) or _tells_a_number(p) for p in context.premises)


def _tells_a_number(p: Premise) -> bool:
    """`μ = 0.3` at the head of a line."""
    return p.sign == "=" and p.term.op == "add" and len(variables(p.term)) == 1 and any(
        a.op == "var" for a in p.term.args)


def _is_off(written: tuple[Premise, ...], m: Matter, slack: float) -> bool:
    """Does a number that is right for the side beside it speak of a chain's head, and is it wrong for that?"""
    if m.pair.head is None or len(written) != 1:
        return False
    # `t = (9.64 + √…)/9.8 = 2.32 s` opens the case of that moment with its first sign.
    opens = any(c.premises and c.line in (0, m.number) for c in m.setting.cases)
    inside = m.setting.in_open_case(m.number) if opens else m.setting
    if inside is None:
        return False
    context = inside.context
    term = context.resolved(written[0].term)
    return not weigh(term, ZERO, "=", m.setting.states.of(context, (term,)), slack).all_hold


def _as_written(m: Matter) -> tuple[Premise, ...]:
    """The pair as premises with the numbers as written. In a chain `E = ½ · 90 N/m · (0.65 m)² = 19.0 J` the last
    number is one for E: two plain numbers beside each other would say nothing of it."""
    head = m.pair.head
    if head is None or names_in(m.pair.left) or not names_in(head):
        return m.premises(implied=False)
    first, last = lower(head, m.context.world), m.lowered.parts[0][1]
    if not isinstance(first, Term):
        return m.premises(implied=False)
    return (Premise(m.label, sub(first, last), "=", True, False, m.number),)


def _exact_value(m: Matter, evidence: Evidence) -> str:
    """The value of the side that is not a written number, if the context fixes it."""
    value = evidence.left if bare_number(m.pair.right) is not None else evidence.right
    if np.iscomplexobj(value) or spread(value) > 1e-9:
        return ""
    number = bare_number(m.pair.right) or bare_number(m.pair.left)
    return in_unit_of(m, float(np.nanmedian(value))) if number is not None else ""


def in_unit_of(m: Matter, value: float) -> str:
    """A value as the writer would state it: in the unit beside the written number."""
    side = m.pair.right if bare_number(m.pair.right) is not None else m.pair.left
    number = bare_number(side)
    whole = plain_value(side)
    if number is None or whole is None or not number.value:
        return in_figures(value)
    scale = whole / float(number.value)
    units = " ".join(as_text(n) for n in walk(side) if isinstance(n, Unit))
    text = in_figures(value / abs(scale) if scale else value)
    tail = as_text(side).split(" ", 1)[1] if units and " " in as_text(side) else ""
    return f"{text} {tail}".strip()


def in_figures(value: float) -> str:
    """Five figures, with powers of ten as people write them (`2.4×10⁵`)."""
    mantissa, _, exponent = f"{value:.5g}".partition("e")
    return f"{mantissa}×10{str(int(exponent)).translate(RAISED)}" if exponent else mantissa


def from_rounded_values(m: Matter) -> Decision | None:
    """Right when the writer's own rounded values of earlier lines are used instead of the exact ones."""
    if not m.setting.rounded or not tied_names(m.context).issuperset(m.fresh):
        return None  # of a name that nothing speaks of no value is right
    if any(v.role == "differential" for v in m.unknowns):
        return None  # of values that are fixed all small changes are nothing, whatever their factors
    own = tuple(p for p in reversed(m.setting.rounded) if _leaves_something(p, m))
    if not own:
        return None
    for must in ((own[0],), own) if len(own) > 1 else (own,):
        decision = _right_in(m, consistent(m.context, must, m.setting)) or _exact_in(m, consistent(
            m.context, must, m.setting))
        if decision is not None:
            return decision
    return None


def _leaves_something(rounded: Premise, m: Matter) -> bool:
    """`(m g/b)(1 - 1/e) = 0.632 m g/b` gives nothing a value: to the letter it holds only where m or g is nothing."""
    cloud = m.setting.states.any(m.context, (rounded,))
    own = [np.abs(cloud.columns[v]) for v in variables(rounded.term) if v in cloud.columns]
    return not cloud.size or not own or not bool((np.min(own, axis=0) < _NOTHING).all())


def _exact_in(m: Matter, context: Context) -> Decision | None:
    parts = [(context.resolved(a), context.resolved(b)) for a, b in m.lowered.parts]
    cloud = m.setting.states.of(context, [t for part in parts for t in part])
    if not cloud.size or not all(weigh(a, b, m.pair.sign, cloud).all_hold for a, b in parts):
        return None
    verdict = Verdict(Standing.APPROXIMATES, points=cloud.size, support="tested", code="approximates.rounded")
    return Decision(verdict, replace(m.setting, rounded=(*m.setting.rounded, *_as_written(m))))


def carried_number(m: Matter) -> Decision | None:
    """Right to its figures with the writer's own number of a line that does not hold."""
    own = m.setting.broken
    if not own or m.pair.sign not in ("=", "≈"):
        return None
    latest = tuple(p for p in reversed(own) if p.source == own[-1].source)
    every, rounded = tuple(reversed(own)), tuple(reversed(m.setting.rounded))
    musts = dict.fromkeys((latest, every, (*latest, *rounded), (*every, *rounded)))
    for must, oldest in ((must, oldest) for must in musts for oldest in (False, True)):
        view = consistent(m.context, must, m.setting, oldest)
        if (_right_in(m, view) or _exact_in(m, view)) and not comes_to_nothing(
                view, [t for part in m.lowered.parts for t in part], (*own, *m.premises(implied=False)), m.setting):
            source = own[-1].source
            verdict = Verdict(
                Standing.CARRIED, code="carried.from", facts=(("line", str(source)),), carried_from=source)
            return Decision(verdict, replace(m.setting, broken=(*own, *_as_written(m))))
    return None


def wrong_number(m: Matter) -> Decision | None:
    """A written number that the context fixes to another value: both are named, and a familiar factor. One whose
    last figure was cut off where it rounds up (69.5 for 69.555) is right but for that."""
    side = next((s for s in (m.pair.right, m.pair.left) if bare_number(s) is not None), None)
    if side is None or m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1:
        return None
    left, right = (m.context.resolved(t) for t in m.lowered.parts[0])
    cloud = m.setting.states.of(m.context, (left, right))
    found = weigh(left, right, "=", cloud)
    if not found.all_fail:
        return None
    exact, written = (found.left, found.right) if side is m.pair.right else (found.right, found.left)
    if np.iscomplexobj(exact) or spread(exact) > 1e-9 or spread(written) > 1e-9:
        return None
    from derive.notation.printed.printing import as_text

    e, w = float(np.median(exact)), float(np.median(written))
    number = bare_number(side)
    # What the last written digit leaves open is no part of the factor.
    half = 0.5 * 10.0 ** last_digit_of_result(number) * abs(w / float(number.value)) if number and number.value else 0.0
    if abs(w) < abs(e) < (abs(w) + 2 * half) * (1 - 1e-12) and w * e > 0 and 2 * half < _SMALL_FIGURE * abs(w):
        verdict = Verdict(Standing.APPROXIMATES, points=cloud.size, support="tested", code="approximates.cut_off",
                          facts=(("exact", in_unit_of(m, e)),), premises=m.cites)
        return Decision(verdict, replace(m.setting, rounded=(*m.setting.rounded, *_as_written(m))))
    factor = familiar_factor(w, e, half)
    facts = [("written", as_text(side)), ("exact", in_unit_of(m, e))]
    if factor:
        facts.append(("factor", factor))
    state = shown_state(m.setting, *m.lowered.parts[0], m.pair.sign)
    verdict = Verdict(
        Standing.FAILS, strength="contradicts", code="fails.number", facts=tuple(facts), state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *_as_written(m))))
