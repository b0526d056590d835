"""Systems of equations from typed text, for the tests of states (see `typed` for the syntax)."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from derive.states.points import sample
from derive.states.projection import Cloud, System
from derive.terms.prior import Prior
from derive.terms.tape import Tape
from derive.terms.term import Term, Var
from tests.typed import term

REAL, POSITIVE = Prior(), Prior(lower=0.0)
ANGLE = Prior(0.0, np.pi / 2)


def system(*equations: str, positive: tuple[str, ...] = ()) -> System:
    return System(tuple(map(term, equations)), tuple(map(term, positive)))


def priors(positive: str = "", angles: str = "") -> Callable[[Var], Prior]:
    """`m g`: these are positive, those between 0 and a right angle, all others real."""
    def prior(v: Var) -> Prior:
        if v.order:
            return REAL
        return POSITIVE if v.name in positive.split() else ANGLE if v.name in angles.split() else REAL

    return prior


def states(s: System, prior: Callable[[Var], Prior], seed: int = 1, wanted: int = 40) -> Cloud:
    return sample(s, prior, np.random.default_rng(seed), wanted)


def off(cloud: Cloud, t: Term) -> float:
    """By how much, beside the size of its parts, a term that should be 0 is not at the worst state."""
    tape = Tape([t])
    value, size = tape.run(cloud.columns)[0], tape.magnitudes(cloud.columns)[0]
    return float(np.max(np.abs(value) / np.maximum(size, 1e-300)))
