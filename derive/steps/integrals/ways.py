"""The whole of a way: `W = ½ k d²` below `W = ∫ F dx` and `F = k x` is the integral without limits from 0 to d.

Where a way begins and ends nobody has said; it does at nothing, at a length or a time that is about, at half or twice
of it, or never. A side in which nothing varies that is the integral for one of these is right; one that is that but
for a number is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import islice

import numpy as np

from derive.notation.tree import Integral, Name
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import tied_names
from derive.states.evidence import weigh
from derive.states.outright import shorthand_out
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.sizes import all_positive
from derive.steps.letters.defining import with_definition
from derive.steps.numbers.numeric import in_figures
from derive.terms.claims import without_limits
from derive.terms.lowering import INFINITY
from derive.terms.tape import taped
from derive.terms.term import HALF, ZERO, Term, Var, integral, mul, num, substitute, var, variables
from derive.terms.writing import written

_MOST_WAYS = 40
_PLAIN = 12
_EVEN = 1e-9  # by how much a ratio may vary that is one number at all states


def over_a_way(m: Matter) -> Decision | None:
    """What the integral without limits on the left, or under the name there, comes to over a whole way."""
    meant = _meant(m)
    if meant is None:
        return None
    right = shorthand_out(m.context.resolved(m.lowered.parts[0][1]), m.context.world, courses=True)
    body, along = shorthand_out(m.context.resolved(meant[0]), m.context.world, courses=True), meant[1]
    if along in variables(right) or any(
            v != along and (v.role != "value" or m.context.world.is_changing(v)) for v in variables(body, right)):
        return None
    context = all_positive(m.context, variables(body, right)) or m.context
    cloud = m.setting.states.of(context, [right, *map(var, variables(body)), body])
    wholes = list(islice(_wholes(body, along, right), _MOST_WAYS)) if cloud.size else []
    for whole, end in wholes:
        if weigh(whole, right, "=", cloud).all_hold:
            proof = proof_of(context, [(whole, right)], "=", cloud=cloud) if m.setting.proofs else None
            return _follows(m, along, end, cloud.size, proof)
    for whole, end in wholes:
        times = _times(whole, right, cloud)
        if times is not None:
            return _fails(m, (whole, right), (("along", along.name), ("end", end), ("factor", times)))
    return None


def named_by_integral(m: Matter) -> Decision | None:
    """`W = ∫ F dx` of a declared W that does not vary and is not known yet: what F comes to over a whole way."""
    named, world = m.pair.left, m.context.world
    if not isinstance(named, Name) or not isinstance(m.pair.right, Integral) or not without_limits(m.pair.right):
        return None
    met = named.ident not in world.symbols or named.ident in tied_names(m.context)
    varies = any(world.is_changing(v) for _, (body, _) in m.lowered.primitives for v in variables(body))
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or met or not varies or world.is_changing(Var(named.ident)):
        return None
    known = m.context.knowing(replace(world, primitives={**world.primitives, **dict(m.lowered.primitives)}))
    verdict = Verdict(Standing.TAKEN, code="taken.shorthand", facts=(("name", named.ident),))
    return Decision(verdict, m.setting.within(with_definition(known, m)))


def _meant(m: Matter) -> tuple[Term, Var] | None:
    """What is integrated, and along what."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or without_limits(m.pair.right):
        return None
    left, world = m.lowered.parts[0][0], m.context.world
    if isinstance(m.pair.left, Integral) and without_limits(m.pair.left):
        return _only_integral(left, dict(m.lowered.primitives))
    told = world.definitions.get(m.pair.left.ident) if isinstance(m.pair.left, Name) else None
    return _only_integral(told, world.primitives) if told is not None else None


def _only_integral(t: Term, known: dict[Var, tuple[Term, Var]]) -> tuple[Term, Var] | None:
    return known.get(t.value) if t.op == "var" and isinstance(t.value, Var) else None


def _wholes(body: Term, along: Var, right: Term) -> Iterator[tuple[Term, str]]:
    """The integral over each way there may be, and what it ends at."""
    dummy = Var(along.name, role="dummy")
    inner = substitute(body, {var(along): var(dummy)})
    names = [var(v) for v in variables(right, body) if v != along and not v.order]
    for share in (num(1), HALF, num(2)):
        for end in names:
            yield integral(inner, dummy, ZERO, mul(share, end)), written(mul(share, end))
    yield integral(inner, dummy, ZERO, INFINITY), "∞"
    for start in names:
        for end in names:
            if start is not end:
                yield integral(inner, dummy, start, end), written(end)


def _times(whole: Term, right: Term, cloud: Cloud) -> str | None:
    """How many times as much as the other a term is, where that is one number at all states."""
    with np.errstate(all="ignore"):
        a, b = taped(whole, right).run(dict(cloud.columns))
        ratio = np.broadcast_to(np.asarray(a / b), cloud.size)
    if not np.isfinite(ratio).all() or not ratio[0] or np.ptp(ratio) > _EVEN * abs(ratio[0]):
        return None
    plain = Fraction(float(ratio[0])).limit_denominator(_PLAIN)
    return str(plain) if abs(float(plain) - ratio[0]) < _EVEN * abs(ratio[0]) else in_figures(float(ratio[0]))


def _follows(m: Matter, along: Var, end: str, points: int, proof: tuple[object, ...] | None) -> Decision:
    """The name is from here on what its integral comes to."""
    facts = (("along", along.name), ("end", end))
    verdict = with_proof(Verdict(Standing.FOLLOWS, points=points, code="follows.way", facts=facts), proof, m.cites)
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    world = m.context.world
    kept = tuple(p for p in m.context.premises if not (
        p.sides is not None and p.sides[0] is var(Var(name)) and any(v in world.primitives for v in variables(p.term))))
    still = replace(world, moving=world.moving - {name}, varying=world.varying - {name})
    known = replace(m.context, premises=kept).knowing(still)
    after = with_definition(known.adding(*m.premises(implied=False, kind="definition")), m) if name else m.context
    return Decision(verdict, m.setting.within(after))


def _fails(m: Matter, sides: tuple[Term, Term], facts: tuple[tuple[str, str], ...]) -> Decision | None:
    state = shown_state(m.setting, *sides, "=")
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.way", facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
