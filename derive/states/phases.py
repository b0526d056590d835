"""Relations between sines and cosines of one phase that hold at all times: what stands before each is nothing.

`(k - m ω²) A cos(ω t - δ) = F cos ω t` at every t is two relations without t, which are far easier met than the same
relation at half a dozen instants.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from derive.states.elimination import linear, without_shared_exponential
from derive.terms.term import ONE, ZERO, Term, Var, add, fun, mul, neg, variables
from derive.terms.writing import is_negative


class Wave(NamedTuple):
    """rest + c cos(rate·t) + s sin(rate·t)"""

    rate: Term
    c: Term
    s: Term
    rest: Term

    def parts(self) -> tuple[Term, ...]:
        """What has to vanish for the whole to vanish at all times."""
        return tuple(t for t in (self.c, self.s, self.rest) if t is not ZERO)


@lru_cache(maxsize=4096)  # asked again of every premise at every line
def wave_of(equation: Term, time: Var) -> Wave | None:
    """The equation as one wave, where it reads so. Its rate is something: were it nothing, what stands before the sine
    would be free, and nobody calls that a wave."""
    wave = _wave(without_shared_exponential(equation), time)
    return wave if wave is not None and wave.rate is not ZERO else None


def _wave(t: Term, time: Var) -> Wave | None:
    if time not in variables(t):
        return Wave(ZERO, ZERO, ZERO, t)
    if t.op == "fun" and t.value in ("sin", "cos"):
        return _of_function(t, time)
    if t.op == "add":
        return _sum([_wave(a, time) for a in t.args])
    if t.op != "mul":
        return None
    holding = [a for a in t.args if time in variables(a)]
    inner = _wave(holding[0], time) if len(holding) == 1 else None
    if inner is None:
        return None
    others = mul(*(a for a in t.args if a is not holding[0]))
    return Wave(inner.rate, mul(others, inner.c), mul(others, inner.s), mul(others, inner.rest))


def _sum(parts: list[Wave | None]) -> Wave | None:
    known = [p for p in parts if p is not None]
    rates = {p.rate for p in known} - {ZERO}
    if len(known) < len(parts) or len(rates) > 1:
        return None
    return Wave(next(iter(rates), ZERO), *(add(*column) for column in list(zip(*known, strict=True))[1:]))


def _of_function(t: Term, time: Var) -> Wave | None:
    """cos(ω t + φ) = cos φ cos ω t - sin φ sin ω t, and likewise the sine."""
    split = linear(t.args[0], time)
    if split is None or split[0] is ZERO:
        return None
    rate, at_first = split
    if at_first is ZERO:
        cosine, sine = ONE, ZERO
    elif is_negative(at_first):
        cosine, sine = fun("cos", neg(at_first)), neg(fun("sin", neg(at_first)))
    else:
        cosine, sine = fun("cos", at_first), fun("sin", at_first)
    return Wave(rate, cosine, neg(sine), ZERO) if t.value == "cos" else Wave(rate, sine, cosine, ZERO)
