"""Which unknowns of a system are best solved for, so that the others can be held at chosen values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from derive.states.elimination import linear
from derive.states.points import root_of
from derive.states.projection import Projector, System
from derive.terms.functions import Array
from derive.terms.isolation import powers
from derive.terms.prior import PriorOf
from derive.terms.tape import taped
from derive.terms.term import Term, Var, variables

# A direction counts as new when at least this much of a column is left after what is already spanned.
_NEW = 1e-6
HELD = 1e-12


def weights(projector: Projector, env: Mapping[Var, Array], preferred: Sequence[Var]) -> dict[Var, float]:
    """Weights for `Projector.project` under which only dependent unknowns move.

    Unknowns are taken in the order of `preferred` (then the rest) as long as each adds to what can be solved
    for, at the first state of `env`; the remaining ones are held.
    """
    order = [v for v in (*preferred, *projector.free) if v in projector.free]
    order = list(dict.fromkeys(order))
    columns = _columns(projector, env)
    basis: list[Array] = []
    chosen: set[Var] = set()
    for v in order:
        column = columns[v]
        size = float(np.linalg.norm(column))
        if not size or not np.isfinite(size):
            continue
        rest = column / size
        for b in basis:
            rest = rest - (b.conj() @ rest) * b
        left = float(np.linalg.norm(rest))
        if left > _NEW:
            basis.append(rest / left)
            chosen.add(v)
    return {v: 1.0 if v in chosen else HELD for v in projector.free}


def solved_in_turn(
    system: System, env: Mapping[Var, Array], held: Mapping[Var, float], prior_of: PriorOf
) -> dict[Var, Array]:
    """The same states with every dependent unknown given that some equation gives at sight once the others in it are
    known, as one puts values into formulas one after another. What is left to solve for is left as it was."""
    env = dict(env)
    waiting = {v for v, weight in held.items() if weight != HELD}
    left = [(e, waiting.intersection(variables(e))) for e in system.equations]
    while True:
        ready = next(((e, vs) for e, vs in left if len(vs & waiting) == 1), None)
        if ready is None:
            return env
        left.remove(ready)
        (unknown,) = ready[1] & waiting
        value = _at_sight(ready[0], unknown, env)
        if value is not None:
            prior = prior_of(unknown)
            admissible = np.isfinite(value) & (value > prior.lower) & (value < prior.upper)
            env[unknown] = np.where(admissible, value, env[unknown])
            waiting.discard(unknown)


def _at_sight(equation: Term, unknown: Var, env: Mapping[Var, Array]) -> Array | None:
    """The value of an unknown that an equation holds to the first power, or in one term as a factor."""
    split = linear(equation, unknown)
    value: Array | None = None
    with np.errstate(all="ignore"):
        if split is not None:
            factor, rest = taped(*split).run(dict(env))
            value = -rest / factor
        else:
            power = next((p for p in powers(equation) if p.unknown == unknown), None)
            value = root_of(power, env) if power is not None else None
    return None if value is None or np.iscomplexobj(value) else np.broadcast_to(value, env[unknown].shape)


def _columns(projector: Projector, env: Mapping[Var, Array]) -> dict[Var, Array]:
    """For every unknown how each equation changes with it, at the first state, equations scaled alike."""
    first = {v: np.asarray(a).reshape(-1)[:1] for v, a in env.items()}
    _, slopes = projector.tape.jacobian(first, projector.free)
    rows = np.array([np.broadcast_to(s, (len(projector.free), 1))[:, 0] for s in slopes[: projector.count]])
    rows = rows.reshape(projector.count, len(projector.free))
    with np.errstate(all="ignore"):
        size = np.linalg.norm(rows, axis=1, keepdims=True)
        rows = np.nan_to_num(rows / np.where(size > 0, size, 1), posinf=0.0, neginf=0.0)
    return {v: rows[:, k] for k, v in enumerate(projector.free)}
