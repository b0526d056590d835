"""A sum of sine and cosine written as one wave: `x = R cos(ω t - φ)` where `x = A cos ω t + B sin ω t` stands above.

Such a phase there always is, and with it such an amplitude; an amplitude that is named has to be the right one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from derive.records import Standing, Verdict
from derive.states.context import tied_names
from derive.states.evidence import Evidence, weigh
from derive.states.phases import wave_of
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.steps.changing.phases_named import stands_in_waves
from derive.terms.parts import angle
from derive.terms.term import (
    HALF,
    MINUS_ONE,
    ONE,
    PI,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    mul,
    postorder,
    power,
    sub,
    substitute,
    var,
    variables,
)
from derive.terms.world import TIME

_MOST_NEW = 2  # an amplitude and a phase


@dataclass(frozen=True, slots=True)
class _Match:
    """cos φ and sin φ as the course above wants them, what stands beside the waves, and the relations for φ."""

    cosine: Term
    sine: Term
    rest: Term
    ties: tuple[Term, Term]

    def squares(self) -> Term:
        return add(power(self.cosine, TWO), power(self.sine, TWO))


def written_as_one(m: Matter) -> Decision | None:
    """A course known by its waves, written with a new phase."""
    if len(m.lowered.parts) != 1 or m.pair.sign != "=":
        return None
    left, right = m.lowered.parts[0]
    known = m.context.resolved(left)
    if known is left and left.op == "var" and not (left.value.order or left.value.at):
        known = m.context.world.definitions.get(left.value.name, left)
    tied = tied_names(m.context)
    new = tuple(dict.fromkeys(v.name for v in variables(right) if v.name not in tied and v.name != TIME))
    if Var(TIME) not in variables(known) or not 0 < len(new) <= _MOST_NEW or {*new} & {
            v.name for v in variables(known)}:
        return None
    for name in new:
        match = _matched(known, right, Var(name))
        if match is None:
            continue
        others = tuple(n for n in new if n != name)
        return _with_amplitude(m, match, others) if others else _decided(m, match, right, Var(name))
    return None


def _matched(known: Term, right: Term, phase: Var) -> _Match | None:
    if phase in variables(known) or not stands_in_waves(right, phase):
        return None
    wave = wave_of(sub(known, right), Var(TIME))
    if wave is None or phase in variables(wave.rest):
        return None

    def at(t: Term, value: Term) -> Term:
        return substitute(t, {var(phase): value})

    # cl - cr(φ) at φ = 0, π and π/2 tells cl, and what cr makes of cos φ and of sin φ.
    def parts(t: Term) -> tuple[Term, Term, Term]:
        known_part = mul(HALF, add(at(t, ZERO), at(t, PI)))
        return known_part, mul(HALF, sub(at(t, PI), at(t, ZERO))), sub(known_part, at(t, mul(HALF, PI)))

    (c, c0, c1), (s, s0, s1) = parts(wave.c), parts(wave.s)
    inverse = power(sub(mul(c0, s1), mul(c1, s0)), MINUS_ONE)
    cosine = mul(sub(mul(c, s1), mul(s, c1)), inverse)
    sine = mul(sub(mul(s, c0), mul(c, s0)), inverse)
    return _Match(cosine, sine, wave.rest, (wave.c, wave.s))


def _weighed(m: Matter, pairs: Sequence[tuple[Term, Term]]) -> list[Evidence]:
    cloud = m.setting.states.of(m.context, [t for pair in pairs for t in pair])
    return [weigh(a, b, "=", cloud) for a, b in pairs] if cloud.size else []


def _with_amplitude(m: Matter, match: _Match, others: tuple[str, ...]) -> Decision | None:
    """`R cos(ω t - φ)` with a new R as well, which its square is a factor of and which nothing else holds."""
    (name,) = others
    told = _weighed(m, [(match.rest, ZERO)])
    holding = [t for t in postorder(match.squares()) if t is var(Var(name))]
    scaled = substitute(match.squares(), {var(Var(name)): mul(TWO, var(Var(name)))})
    grown = _weighed(m, [(mul(TWO, TWO, scaled), match.squares())])
    if not told or not holding or not told[0].all_hold or not grown or not grown[0].all_hold:
        return None
    return _adopted(m, match)


def _decided(m: Matter, match: _Match, right: Term, phase: Var) -> Decision | None:
    found = _weighed(m, [(match.squares(), ONE), (match.rest, ZERO)])
    if not found or not all(np.isrealobj(e.left) for e in found):
        return None
    if all(e.all_hold for e in found):
        return _adopted(m, match)
    if not any(e.all_fail for e in found):
        return None
    best = substitute(right, {var(phase): angle((match.cosine, match.sine))})
    state = shown_state(m.setting, m.lowered.parts[0][0], best, "=")
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.state", state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _adopted(m: Matter, match: _Match) -> Decision:
    (premise, *_) = m.premises(implied=True)
    ties = tuple(replace(premise, term=t, sides=None, pair=None, implied=False) for t in match.ties)
    verdict = Verdict(Standing.FOLLOWS, support="tested", code="follows.plain", premises=m.cites, introduces=m.fresh,
                      points=40)
    return Decision(verdict, m.setting.within(m.context.adding(*ties, premise)))
