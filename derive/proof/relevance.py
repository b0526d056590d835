"""Which premises a proof can be expected to need, read off a few states before any algebra is done.

Where a relation follows from some equations, its slopes at a typical state are a combination of theirs. The equations
in that combination are tried first and alone: a search among two is quicker than one among fourteen. A combination
of slopes proves nothing, and at a singular state it may be missing although the relation follows; so what the search
finds is what counts, and where it finds nothing there it is asked again with every premise.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from derive.proof.records import Premise
from derive.states.projection import Cloud
from derive.states.states import typical
from derive.terms.tape import taped
from derive.terms.term import Term, variables

_STATES = 2
_MET = 1e-9  # what is left of a slope of length one that is a combination of others
_OWN = 1e-6  # what a slope must have of its own to count as independent, and a coefficient to count as used


def expected(target: Term, premises: Sequence[Premise], cloud: Cloud) -> tuple[int, ...] | None:
    """Places of the premises whose slopes make up the target's, recent ones (they come first) preferred; None where
    the states do not tell."""
    known = cloud.columns.keys()
    usable = [i for i, p in enumerate(premises) if known >= set(variables(p.term))]
    by = variables(target, *(premises[i].term for i in usable))
    if not usable or not cloud.size or not known >= set(variables(target)):
        return None
    slopes = _slopes([target, *(premises[i].term for i in usable)], by, cloud)
    found: set[int] = set()
    for at_one_state in slopes:
        used = _combination(at_one_state[0], at_one_state[1:])
        if used is None:
            return None
        found.update(used)
    return tuple(sorted({usable[k] for k in found}.union(_nothings(target, premises, [usable[k] for k in found]))))


def _nothings(target: Term, premises: Sequence[Premise], found: Sequence[int]) -> Iterator[int]:
    """Premises that say of something met that it is 0: where it stands in a square or beside another such, no slope
    shows that they are needed."""
    met = set(variables(target, *(premises[i].term for i in found)))
    return (i for i, p in enumerate(premises) if p.term.op == "var" and p.term.value in met)


def _slopes(terms: Sequence[Term], by: Sequence[object], cloud: Cloud) -> NDArray[np.complex128]:
    """(states, terms, unknowns): each slope by shares of the unknowns, brought to length one."""
    pick = typical(cloud, by, _STATES)  # type: ignore[arg-type]
    env = {v: a[pick] for v, a in cloud.columns.items()}
    _, rows = taped(*terms).jacobian(env, by)  # type: ignore[arg-type]
    sizes = np.array([np.maximum(np.abs(env[v]), 1e-3) for v in by])  # type: ignore[index]
    slopes = np.array([np.broadcast_to(r, sizes.shape) * sizes for r in rows]).transpose(2, 0, 1)
    lengths = np.linalg.norm(slopes, axis=2, keepdims=True)
    with np.errstate(all="ignore"):
        return np.asarray(slopes / lengths)


def _combination(target: NDArray[np.complex128], rows: NDArray[np.complex128]) -> set[int] | None:
    """Which rows the target is a combination of: one alone where one is enough, else the first that are."""
    sane = np.isfinite(rows).all(axis=1)
    if not np.isfinite(target).all():
        return None
    alone = np.abs(np.where(sane, np.nan_to_num(rows) @ target.conj(), 0))
    if alone.max() > 1 - _MET:
        return {int(np.argmax(alone > 1 - _MET))}
    left, basis, chosen = target, np.zeros((0, len(target)), target.dtype), []
    for k in np.flatnonzero(sane):
        own = _apart(rows[k], basis)
        length = np.linalg.norm(own)
        if length < _OWN:
            continue
        basis = np.vstack([basis, own / length])
        chosen.append(int(k))
        left = _apart(target, basis)
        if np.linalg.norm(left) < _MET:
            shares = np.linalg.lstsq(rows[chosen].T, target, rcond=None)[0]
            return {k for k, c in zip(chosen, shares, strict=True) if abs(c) > _OWN}
    return None


def _apart(row: NDArray[np.complex128], basis: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """What of a row lies outside what a basis spans; taken twice, for the rounding of the first time."""
    for _ in range(2):
        row = row - (basis.conj() @ row) @ basis
    return row
