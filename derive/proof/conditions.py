"""Lost and extra cases: a line that holds at some states and fails at others, and the condition that tells.

"Follows if" is said only where one simple quantity separates the states exactly: it vanishes at all failing
states and at none of the others, or it has one sign there and the other here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from derive.proof.evidence import Evidence, weigh
from derive.proof.points import Cloud
from derive.proof.setting import Decision, Matter
from derive.proof.showing import shown_state, written
from derive.proof.support import with_proof
from derive.proof.tape import Tape
from derive.proof.term import Term, Var, add, neg, postorder, sub, var, variables
from derive.records import Standing, Verdict

_ZERO, _NONZERO = 1e-7, 1e-4
_MANY = 160


@dataclass(frozen=True, slots=True)
class Condition:
    """`term sign 0`."""

    term: Term
    sign: str


def follows_if(m: Matter) -> Decision | None:
    """The pair holds except where some quantity vanishes or has the other sign."""
    if m.lowered.primitives:
        return None
    c = m.context
    parts = [(c.resolved(a), c.resolved(b)) for a, b in m.lowered.parts]
    terms = [t for part in parts for t in part]
    first = m.setting.states.of(c, terms)
    if not _mixed([weigh(a, b, m.pair.sign, first) for a, b in parts]):
        return None
    cloud = m.setting.states.of(c, terms, count=_MANY)  # branches must both be well represented
    found = [weigh(a, b, m.pair.sign, cloud) for a, b in parts]
    holds = np.logical_and.reduce([e.holds for e in found])
    bad = np.logical_or.reduce([e.fails for e in found])
    if holds.sum() < 4 or bad.sum() < 2:
        return None
    condition = separating(cloud, holds, bad, terms, m)
    if condition is None:
        return None
    return decided(m, condition, cloud)


def _mixed(found: list[Evidence]) -> bool:
    holds = np.logical_and.reduce([e.holds for e in found])
    return bool(holds.any() and any(e.fails.any() for e in found))


def separating(
    cloud: Cloud, holds: NDArray[np.bool_], bad: NDArray[np.bool_], terms: list[Term], m: Matter
) -> Condition | None:
    """The simplest quantity that tells the states where the line holds from those where it fails."""
    told = cloud.columns.keys()  # nothing is known there of what no equation ties to the line
    candidates = [c for c in dict.fromkeys(_candidates(terms, m)) if told >= set(variables(c))][:400]
    values = Tape(candidates).run(cloud.columns)
    signed: Condition | None = None
    for term, value in zip(candidates, values, strict=True):
        value = np.broadcast_to(np.asarray(value), cloud.size)
        if np.iscomplexobj(value) or not np.isfinite(value[holds | bad]).all():
            continue
        good, off = value[holds], value[bad]
        if (np.abs(off) < _ZERO).all() and (np.abs(good) > _NONZERO).all():
            return Condition(term, "≠")
        if signed is None and holds.sum() >= 8 and bad.sum() >= 8:
            if (good > _ZERO).all() and (off < -_ZERO).all():
                signed = Condition(term, ">")
            elif (good < -_ZERO).all() and (off > _ZERO).all():
                signed = Condition(term, "<")
    return signed


def _candidates(terms: list[Term], m: Matter) -> Iterator[Term]:
    """Unknowns, then functions of the line, then differences and sums of two unknowns of the context."""
    own = variables(*terms)
    premises = [m.context.resolved(p.term) for p in m.context.premises]
    near = tuple(v for v in dict.fromkeys((*own, *variables(*premises))) if v.role == "value")[:18]
    yield from (var(v) for v in near)
    for t in postorder(*terms):
        if t.op == "fun" and t.args:
            yield t
            yield from t.args
        elif t.op == "add":
            yield t
    for i, a in enumerate(near):
        for b in near[i + 1 :]:
            if a.order == b.order:
                yield sub(var(a), var(b))
                yield add(var(a), var(b))


def decided(m: Matter, condition: Condition, cloud: Cloud) -> Decision:
    from derive.proof.context import Premise

    left, right = m.lowered.parts[0]
    term = condition.term if condition.sign != "<" else neg(condition.term)
    sign = "≠" if condition.sign == "≠" else ">"
    assumed = Premise("condition", term, sign, always=False)
    text = f"{written(condition.term)} {condition.sign} 0"
    lost = shown_state(m.setting, left, right, m.pair.sign)
    verdict = Verdict(
        Standing.FOLLOWS_IF, points=cloud.size, condition=text, state=lost, code="follows.if",
        facts=(("condition", text),))
    from derive.proof.support import proof_of

    within = m.context.adding(assumed)
    certificates = proof_of(within, m.lowered.parts, m.pair.sign) if m.setting.proofs else None
    verdict = with_proof(verdict, certificates, m.cites)
    after = within.adding(*m.premises(implied=False))
    return Decision(verdict, m.setting.within(after))


__all__ = ["Condition", "Var", "follows_if", "replace", "separating"]
