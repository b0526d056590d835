"""What the states say of an equation or inequality: where it holds, where it fails, where neither is sure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from derive.proof.points import Cloud
from derive.proof.tape import Array, Tape
from derive.proof.term import Term, Var

# Relative to the size of the parts. States are met to 1e-10 and better; a wrong line is off by 1e-4 and
# more at nearly every random state. Between the two nothing is claimed.
HOLDS = 1e-8
FAILS = 1e-5


@dataclass(frozen=True, slots=True)
class Evidence:
    """One boolean a state: `holds`, `fails`; a state in neither could not be evaluated or is doubtful."""

    holds: NDArray[np.bool_]
    fails: NDArray[np.bool_]
    left: Array
    right: Array

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


def weigh(
    left: Term, right: Term, sign: str, cloud: Cloud, slack: NDArray[np.float64] | float = 0.0,
    more: Mapping[Var, Array] | None = None,
) -> Evidence:
    """Evaluate both sides at every state. `slack` is an absolute tolerance, per state or one for all."""
    env = {**cloud.columns, **(more or {})}
    n = cloud.size
    tape = Tape([left, right])
    lv, rv = (np.broadcast_to(np.asarray(a), n) for a in tape.run(env))
    ls, rs = (np.broadcast_to(np.asarray(a), n) for a in tape.magnitudes(env))
    with np.errstate(all="ignore"):
        gap = lv - rv
        size = np.maximum(ls + rs, 1e-300)
        off = np.abs(gap) - slack
        close, far = off <= HOLDS * size, off > FAILS * size
        fine = np.isfinite(lv) & np.isfinite(rv)
        if sign in ("=", "≈"):
            holds, fails = close, far
        elif sign == "≠":
            holds, fails = far, close
        elif np.iscomplexobj(gap):
            holds = fails = np.zeros(n, dtype=bool)
        else:
            more_than = gap > FAILS * size
            less_than = gap < -FAILS * size
            strict_ok = {"<": less_than, "≤": less_than | close, ">": more_than, "≥": more_than | close,
                         "≪": less_than, "≫": more_than}[sign]
            strict_bad = {"<": more_than | close, "≤": more_than, ">": less_than | close, "≥": less_than,
                          "≪": more_than, "≫": less_than}[sign]
            holds, fails = strict_ok, strict_bad
    return Evidence(holds & fine, fails & fine, lv, rv)
