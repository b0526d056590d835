"""Does the context say the same as a line, but for the numbers before its terms?

`m2 g = (m1 + m2 + M) a` where ½ M a is what the lines above give is a step with a slip, however many lines it was drawn
from; a law of its own is not made right by other numbers. Asked only to tell the one from the other: whether the line
holds is not said here.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from derive.states.setting import Matter
from derive.terms.kinship import Monomial, monomials
from derive.terms.tape import taped
from derive.terms.term import Term, mul, num, power

# Fewer states than this beside the terms tell nothing.
_SPARE = 4
_VANISHES, _COUNTS = 1e-9, 1e-4


def said_with_other_numbers(m: Matter) -> bool:
    """Is some combination of all the line's terms, none of them left out, nothing at every state?"""
    if len(m.residuals) != 1 or m.pair.sign not in ("=", "≈"):
        return False
    found = monomials(m.context.resolved(m.residuals[0]))
    if found is None or len(found) < 2:
        return False
    terms = [_term(x) for x in sorted(found, key=repr)]
    cloud = m.setting.states.of(m.context, terms)
    if cloud.size < len(terms) + _SPARE:
        return False
    with np.errstate(all="ignore"):
        rows = np.stack([np.broadcast_to(np.asarray(a), cloud.size) for a in taped(*terms).run(cloud.columns)], axis=1)
        rows = rows / np.linalg.norm(rows, axis=1, keepdims=True)
    rows = rows[np.isfinite(rows).all(axis=1)]
    if np.iscomplexobj(rows) or len(rows) < len(terms) + _SPARE:
        return False
    _, sizes, vt = np.linalg.svd(rows)
    idle = vt[(sizes > _VANISHES * sizes[0]).sum():]
    return bool(len(idle) and (np.abs(idle).max(axis=0) > _COUNTS).all())


def _term(x: Monomial) -> Term:
    return mul(*(power(base, num(Fraction(k))) for base, k in sorted(x, key=repr)))
