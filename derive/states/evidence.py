"""What the states say of an equation or inequality: where it holds, where it fails, where neither is sure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.states.projection import MET, Cloud
from derive.terms.functions import Array
from derive.terms.tape import Tape, taped
from derive.terms.term import Term, Var

# Relative to the size of the parts. States are met to 1e-10 and better; a wrong line is off by 1e-4 and
# more at nearly every random state. Between the two nothing is claimed.
HOLDS = 1e-8
FAILS = 1e-5
# A strict bound that is met (not crossed) fails if it is at this share of the states. At fewer the sides may
# only be too close for floating point: 1 - tanh x is under 1e-8 at one in twenty of the usual draws.
_MEET = 0.2
_VANISHED = 1e-250
_ORDERS = ("<", "≤", ">", "≥", "≪", "≫")


@dataclass(frozen=True, slots=True)
class Evidence:
    """One boolean a state: `holds`, `fails`; a state in neither could not be evaluated or is doubtful."""

    holds: NDArray[np.bool_]
    fails: NDArray[np.bool_]
    left: NDArray[Any]
    right: NDArray[Any]

    @property
    def all_hold(self) -> bool:
        """Enough states, all that can be evaluated hold, and most can."""
        return bool(self.holds.sum() >= max(4, self.holds.size // 4) and not self.fails.any())

    @property
    def all_fail(self) -> bool:
        return bool(self.fails.any() and not self.holds.any())

    @property
    def mixed(self) -> bool:
        return bool(self.fails.any() and self.holds.any())

    @property
    def silent(self) -> bool:
        return not (self.holds.any() or self.fails.any())


def _ordered(
    gap: NDArray[Any], size: NDArray[Any], sign: str, close: NDArray[np.bool_]
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Where an order of two sides holds and where it fails."""
    more_than, less_than = gap > FAILS * size, gap < -FAILS * size
    right, wrong = (less_than, more_than) if sign in "<≤≪" else (more_than, less_than)
    if sign in "≤≥":
        return right | close, wrong
    if sign in "≪≫":
        return right, wrong
    met = close & (size < _VANISHED)  # nothing on either side: no rounding can have made it so
    if close.sum() >= _MEET * max(int((right | close).sum()), 1):
        met = close
    return right, wrong | met


def _lost_in_noise(left: NDArray[Any], right: NDArray[Any], close: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Where one side has been met as nothing and the other is less than states are met to, of a line that holds
    elsewhere: the energy of a motion that has all but come to rest."""
    nothing = (left == 0) | (right == 0)
    noise: NDArray[np.bool_] = nothing & (np.abs(left - right) < MET) & bool(close.any())
    return noise


_NEXT_TO_NOTHING = 1e-6
_FEW = 0.2


def _shaken(tape: Tape, env: Mapping[Var, Any], gap: NDArray[Any], bad: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Where the sides differ by less than is left open by what is next to nothing there, as it is only met to within
    so much: v'/v² of a motion that has all but come to rest."""
    shaken = np.zeros(len(bad), dtype=bool)
    for v, a in env.items():
        small = bad & (np.abs(a) < _NEXT_TO_NOTHING) if np.shape(a) == bad.shape and np.isrealobj(a) else shaken
        if small.any():
            left, right = tape.run({**env, v: np.where(small, a + MET, a)})
            shaken |= small & (np.abs((left - right) - gap) >= np.abs(gap))
    return shaken


def weigh(
    left: Term, right: Term, sign: str, cloud: Cloud, slack: NDArray[np.float64] | float = 0.0,
    more: Mapping[Var, Array] | None = None,
) -> Evidence:
    """Evaluate both sides at every state. `slack` is an absolute tolerance, per state or one for all."""
    env = {**cloud.columns, **(more or {})}
    n = cloud.size
    tape = taped(left, right)
    lv, rv = (np.broadcast_to(np.asarray(a), n) for a in tape.run(env))
    ls, rs = (np.broadcast_to(np.asarray(a), n) for a in tape.magnitudes(env))
    with np.errstate(all="ignore"):
        gap = lv - rv
        size = np.maximum(ls + rs, 1e-300)
        off = np.abs(gap) - slack
        close, far = off <= HOLDS * size, off > FAILS * size
        fine = np.isfinite(lv) & np.isfinite(rv) & np.isfinite(ls) & np.isfinite(rs)
        if sign in ("=", "≈"):
            holds, fails = close, far & ~_lost_in_noise(lv, rv, close)
            if 0 < fails.sum() < _FEW * close.sum():
                fails = fails & ~_shaken(tape, env, gap, fails)
        elif sign == "≠":
            holds, fails = far, close
        elif sign not in _ORDERS or (np.imag(gap) != 0).any():
            holds = fails = np.zeros(n, dtype=bool)
        else:
            holds, fails = _ordered(np.real(gap), size, sign, close)
    return Evidence(holds & fine, fails & fine, lv, rv)
