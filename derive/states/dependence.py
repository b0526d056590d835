"""Which unknowns of a system are best solved for, so that the others can be held at chosen values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from derive.states.projection import Projector
from derive.terms.functions import Array
from derive.terms.term import Var

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


def _columns(projector: Projector, env: Mapping[Var, Array]) -> dict[Var, Array]:
    """For every unknown how each equation changes with it, at the first state, equations scaled alike."""
    first = {v: np.asarray(a).reshape(-1)[:1] for v, a in env.items()}
    _, slopes = projector.tape.jacobian(first, projector.free)
    rows = np.array([np.broadcast_to(s, (len(projector.free), 1))[:, 0] for s in slopes[: projector.count]])
    rows = rows.reshape(projector.count, len(projector.free))
    with np.errstate(all="ignore"):
        size = np.linalg.norm(rows, axis=1, keepdims=True)
        rows = np.nan_to_num(rows / np.where(size > 0, size, 1))
    return {v: rows[:, k] for k, v in enumerate(projector.free)}
