"""Lines of an opened approximation, right to its order.

Every small quantity is scaled by one parameter and terms are expanded in it (Taylor's theorem). A line inside
an approximation is right when it follows from the expanded premises, or when its own expansion does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from derive.notation.tree import (
    Derivative,
    Expr,
    Name,
    Sum,
    walk,
)
from derive.proof.support import proof_of_vanishing, with_proof
from derive.records import Standing, State, Verdict
from derive.states.context import Context, Premise
from derive.states.setting import Decision, Matter, Setting
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.states.yielding import is_value
from derive.steps.customs.customary import with_sizes
from derive.steps.small.orders import degree, shrinking, small_with, terms_written
from derive.steps.small.regimes import with_small
from derive.terms.expansion import expanded, without_zeros
from derive.terms.lowering import lower
from derive.terms.numbers import bare_number
from derive.terms.term import (
    ONE,
    ZERO,
    Term,
    Var,
    add,
    num,
    power,
    var,
    variables,
)
from derive.terms.writing import written


def right_to_its_order(m: Matter) -> Decision | None:
    """The two sides come together, as what is small shrinks, faster than what the line has written out."""
    if m.pair.sign not in ("=", "≈") or m.lowered.primitives:
        return None
    if m.setting.regime is not None:
        small = [v.name for v in m.setting.regime.small]
        return _vanishing(m, small) or to_order(m, small)
    if m.pair.sign == "≈":
        for name in _implied_small(m):
            decision = to_order(m, [name], inferred=name)
            if decision is not None and decision.verdict.standing is Standing.APPROXIMATES:
                return _kept_small(decision, m, name)
    return None


def _vanishing(m: Matter, named: list[str]) -> Decision | None:
    """`v2 = 0` for `M ≫ m`, where v2 is 2 m u/(m + M): a name that goes to nothing with what is small. What it comes to
    before is left to the lines below, which take it for more than nothing."""
    left, right = m.lowered.parts[0]
    if len(m.lowered.parts) != 1 or right is not ZERO or left.op != "var" or m.fresh or left.value.name in named:
        return None
    beside = replace(m, lowered=replace(m.lowered, parts=((add(ONE, left), ONE),)))
    found = _dropped_in(beside, (with_sizes(m) or m).context, small_with(named, m.context), 0)
    if found is None or found[0] < 1 or found[1]:
        return None
    facts = (("dropped", written(_dropped(named, found[0]))),)
    verdict = Verdict(Standing.APPROXIMATES, support="tested", points=24, code="approximates.order", facts=facts)
    return Decision(verdict, m.setting)


def _kept_small(decision: Decision, m: Matter, name: str) -> Decision:
    """`sin θ ≈ θ` on a line by itself says that θ is small from here on; so does the equation `θ'' ≈ -(g/l) θ`."""
    head = m.pair.head if m.pair.head is not None else m.pair.left
    swings = any(isinstance(n, Derivative) and n.order == 2 and n.body == Name(name) for n in walk(head))
    if {v.name for v in m.unknowns} != {name} and not swings:
        return decision
    after = with_small(decision.after, (name,), degree(m.pair.right, (name,)))
    if after.regime is None or not swings:
        return replace(decision, after=after)
    known = after.regime.context.adding(*m.premises(implied=True))  # what the lines below are drawn from
    return replace(decision, after=replace(after, regime=replace(after.regime, context=known)))


def right_if_small(m: Matter) -> Decision | None:
    """`m s'' = -(3 L²/(m r0⁴)) s` below `r = r0 + s`, where nobody has said that s is small, but it is meant."""
    if m.setting.regime is not None or m.setting.strict or m.pair.sign != "=" or m.setting.hopeful:
        return None
    swinging = [v.name for v in m.unknowns if v.order == 2 and not v.at]
    if len(swinging) != 1 or not _is_deviation(swinging[0], m):
        return None
    meant = replace(m, pair=replace(m.pair, sign="≈"))
    found = to_order(meant, swinging, inferred=swinging[0])
    if found is None or found.verdict.standing is not Standing.APPROXIMATES:
        return None
    words = f"{swinging[0]} is small"
    verdict = replace(found.verdict, standing=Standing.FOLLOWS_IF, code="follows.if", condition=words,
                      facts=(("condition", words),), certificate=None, support="tested")
    return _kept_small(replace(found, verdict=verdict), meant, swinging[0])


def _is_deviation(name: str, m: Matter) -> bool:
    """Does a line say that it is how far something is from a place?"""
    for p in m.context.premises:
        own = variables(p.term)
        if p.kind == "definition" and Var(name) in own and p.term.op == "add" and len(p.term.args) in (2, 3):
            beside = [v for v in own if v.name != name]
            if any(map(m.context.world.is_changing, beside)) and not any(v.order or v.at for v in own) and all(
                    a.op in ("var", "mul", "num", "add") for a in p.term.args):
                return True
    return False


def _implied_small(m: Matter) -> list[str]:
    """Without a declared regime `sin θ ≈ θ` can only mean that one of its names is small."""
    return [v.name for v in m.unknowns if v.role == "value" and not v.order]


def to_order(m: Matter, named: list[str], inferred: str = "") -> Decision | None:
    """Approximates, mixes orders, or None: not right even to leading order."""
    small = small_with(named, m.context)
    kept = degree(m.pair.right, small)
    c = (with_sizes(m) or m).context  # a length that shrinks through nothing would take its root along
    looked = (_dropped_in(m, context, small, kept) for context in _stages(c, m, named))
    found = next((found for found in looked if found is not None), None)
    if found is None or found[0] < 0:
        found = _seen_through(m, small, kept)
    if found is None or found[0] < 0:
        return None
    dropped, mixed = found
    if mixed:
        code = "fails.order_term" if dropped in _written_orders(m.pair.right, small) else "fails.order"
        verdict = Verdict(Standing.FAILS, strength="unsupported", code=code, state=_state_of(m, named),
                          facts=(("dropped", written(_dropped(named, dropped))),))
        own = (*m.setting.broken, *m.premises(implied=False))
        return Decision(verdict, replace(m.setting, broken=own))
    verdict = Verdict(
        Standing.APPROXIMATES, support="tested", points=24, code="approximates.order", premises=m.cites,
        facts=(("dropped", written(_dropped(named, max(dropped, 1)))), *((("small", inferred),) if inferred else ())))
    if m.setting.proofs:
        verdict = with_proof(verdict, _proof(m, small, max(dropped, 1)), m.cites)
    return Decision(verdict, _adopting(m, m.setting))


def _stages(c: Context, m: Matter, named: Sequence[str]) -> Iterator[Context]:
    """Where states of a line are followed, until they are not lost on the way: rates grow without end where v comes
    from nothing, and `v² ≈ 2 F0 x/m` is right by relations without them; `1 - e^(-x/L) ≈ x/L` whatever is said."""
    alone, own = replace(c, premises=(), instants=()), {v.name for v in m.unknowns}
    if own <= set(named):
        yield alone
        return
    yield c
    plain = tuple(p for p in c.premises if not any(
        v.order or v.at or v.role == "differential" for v in variables(p.term)))
    if 0 < len(plain) < len(c.premises):
        yield replace(c, premises=plain, instants=())
    if own & set(named):
        yield alone


def _seen_through(m: Matter, small: Sequence[str], kept: int) -> tuple[int, bool] | None:
    """The same of what the line's names stand for, whatever else is said: A_max, below what it comes to; or of what
    some line gives its left side by, where the givens say nothing once θ is nothing (`T sin θ = m ω² l sin θ`)."""
    world = m.context.world
    # What is said to be small is followed by itself, and not along a course by the time that is known of it.
    courses = {n: t for n, t in world.functions.items() if n not in small}
    alone = replace(m.context, premises=(), instants=()).knowing(replace(world, functions=courses))
    parts = tuple((world.seen_through(a), world.seen_through(b)) for a, b in m.lowered.parts)
    found = None
    if parts != m.lowered.parts:
        found = _dropped_in(replace(m, lowered=replace(m.lowered, parts=parts)), alone, small, kept)
    if found is not None and found[0] >= 0:
        return found
    for course in _given_outright(m):
        seen = replace(m, lowered=replace(m.lowered, parts=((course, m.lowered.parts[0][1]),)))
        given = _dropped_in(seen, alone, small, kept)
        if given is not None and given[0] >= 0:
            return given
    return found


def _given_outright(m: Matter) -> Iterator[Term]:
    """What lines give the left side by, the latest first, where small and large stand in it and nothing ties them."""
    if len(m.lowered.parts) != 1:
        return
    left = m.lowered.parts[0][0]
    for p in reversed(m.context.premises):
        if p.sign == "=" and p.sides is not None and p.sides[0] is left and variables(left):
            own = [v for v in variables(p.sides[1]) if v not in variables(left)]
            if freedom(m.context, own, (), m.setting.states) == len(own):
                yield p.sides[1]


def _dropped_in(m: Matter, c: Context, small: Sequence[str], kept: int) -> tuple[int, bool] | None:
    """The order that a pair leaves out in a context (-1 where it is not right even to leading order), and whether it
    leaves out what it should not; None where states are lost on the way."""
    dropped, mixed = kept + 1, False
    terms = _unseen_terms(m, c)
    for left, right in m.lowered.parts:
        found = shrinking(c.resolved(left), c.resolved(right), small, c, m.setting.states, terms)
        if found is None:
            return None
        if not found.exact and found.power < 0.65:
            return -1, False
        if found.exact:
            continue
        leading = round(found.leading) if np.isfinite(found.leading) else 0
        beyond = max(kept - max(leading, 0), found.spread, 0)
        mixed = mixed or found.power < beyond + 0.65
        dropped = leading + round(found.power) if np.isfinite(found.power) else dropped
    return dropped, mixed


def _unseen_terms(m: Matter, c: Context) -> list[Term]:
    """The terms of `a (1 + g t²/L)` where λ is small, and λ² is g/L: which of them is of a higher order only the states
    show."""
    lowered = [lower(e, c.world) for e in terms_written(m.pair.right)] if len(m.lowered.parts) == 1 else []
    return [c.resolved(t) for t in lowered if isinstance(t, Term)]


def _written_orders(side: Expr, small: Sequence[str]) -> set[int]:
    """The orders of which a side writes out some term: one of these is wrong there and not left out."""
    return {degree(t, small) for n in walk(side) if isinstance(n, Sum) for t in n.terms}


def _proof(m: Matter, small: Sequence[str], order: int) -> tuple[object, ...] | None:
    terms = [t for part in m.lowered.parts for t in part]
    premises = [p.term for p in m.context.premises]
    shrink = [v for v in variables(*terms, *premises) if v.name in small and v.role == "value" and not v.at]
    return proof_of_vanishing(m.context, m.lowered.parts, [(v, 1) for v in shrink], order)


def _state_of(m: Matter, small: Sequence[str]) -> State | None:
    return shown_state(m.setting, *m.lowered.parts[0], "=", small)


def _dropped(small: Sequence[str], order: int) -> Term:
    return power(var(Var(small[0])), num(order))


def _adopting(m: Matter, setting: Setting) -> Setting:
    """The line as an equality for the lines after it, inside the approximation only."""
    if setting.regime is None:
        return setting
    regime = setting.regime
    # `sin θ ≈ θ` says nothing more to this order: taken as it stands, θ would have to be nothing.
    names = [v.name for v in regime.small]
    said = [q for p in m.premises(implied=True) if (q := _to_the_order(p, names, regime.order)) is not None]
    context = regime.context.adding(*said)
    if said and not setting.states.any(context).size:
        return setting  # `a ≈ g (1 - M/(2m))` where the exact a is known as well: the two differ
    return replace(setting, regime=replace(regime, context=context))


def _to_the_order(p: Premise, small: Sequence[str], order: int) -> Premise | None:
    """An approximation kept to the order it is right to; None where that leaves nothing of it (`cos θ ≈ 1`)."""
    kept = expanded(p.term, small, order)
    if kept is None:
        return p
    kept = without_zeros(kept)
    return None if kept is ZERO else replace(p, term=kept)


def at_nothing(m: Matter) -> Matter | None:
    """`v = 19.8 m/s` below `for small u: v ≈ √(2 g h)`: a number is told for what is small being nothing, as long as no
    line gives that a value."""
    regime, (left, *_) = m.setting.regime, m.lowered.parts[0]
    told = bare_number(m.pair.right) is not None and isinstance(left.value, Var)
    if regime is None or not told or len(m.lowered.parts) != 1 or m.pair.sign not in ("=", "≈"):
        return None
    small, world = {v.name for v in regime.small}, m.context.world
    spoken_of = any(small & {v.name for v in variables(p.term)} for p in m.context.premises if is_value(p))
    if spoken_of or small & {v.name for v in m.unknowns} or any(map(world.is_changing, regime.small)):
        return None
    gone = (Premise("", var(v), "=", always=False, source=m.number) for v in regime.small)
    inner = replace(m, setting=replace(m.setting, context=regime.context.adding(*gone), regime=None))
    return with_sizes(inner) or inner


def in_regime(m: Matter, judge: Callable[[Matter], Decision]) -> Decision | None:
    """Judge a pair in the context of the opened approximation, where it is then right to its order."""
    regime = m.setting.regime
    if regime is None:
        return None
    inner = replace(m, setting=replace(m.setting, context=regime.context, regime=None, goal=m.setting.goal))
    decision = judge(inner)
    if decision.verdict.standing in (Standing.FAILS, Standing.UNDECIDED) and inner.pair.sign in ("=", "≈"):
        found = None if inner.lowered.primitives else to_order(inner, [s.name for s in regime.small])
        if found is not None and found.verdict.standing is Standing.APPROXIMATES:
            decision = found
    v = decision.verdict
    if v.code == "unknown.name":
        return Decision(v, m.setting)  # of which the exact lines know no more, and which nothing refutes
    if dict(v.facts).get("small", regime.words) not in {*(s.name for s in regime.small), regime.words}:
        return None  # right only where something else is small, which nobody has said
    after = replace(m.setting, regime=replace(regime, context=decision.after.context), rounded=decision.after.rounded,
                    broken=decision.after.broken)
    if v.standing is Standing.TAKEN:  # what is brought in is brought in for the exact lines too
        new = [p for p in decision.after.context.premises if p not in regime.context.premises]
        after = after.within(m.context.adding(*new))
    if v.standing is Standing.FOLLOWS:
        dropped = written(_dropped([s.name for s in regime.small], regime.order + 1))
        facts = (("dropped", dropped), *(f for f in v.facts if f[0] != "dropped"))
        v = replace(v, standing=Standing.APPROXIMATES, code="approximates.order", facts=facts)
        return Decision(v, after)
    if v.standing in (Standing.FOLLOWS_IF, Standing.APPROXIMATES, Standing.TAKEN, Standing.CARRIED):
        return Decision(v, after)
    if v.standing is Standing.FAILS and m.fresh:
        return Decision(v, after)  # a new period: the exact lines say nothing of it, and would be refuted by anything
    return None
