"""A glance at what an edited claim comes to at the states that the line was judged in: it rules out nearly every edit,
at a small part of what a trial costs, since only what is above the edit has to be worked out anew.

What a glance cannot see is not ruled out: it is for the trial to say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

from derive.diagnosis.looked import Looked
from derive.diagnosis.nearness import FAR_OFF
from derive.diagnosis.needed import Measure
from derive.notation.tree import Claim, Expr, Num, Sum, children, is_zero, names_in, relations
from derive.terms.numbers import with_decimals_named

# Sides this much apart, for their own size, differ however much may have cancelled in them.
APART = 1e-4
UPWARDS = {"<": -1, "≤": -1, ">": 1, "≥": 1}
# A number this large may be a rounded one, if a unit stands beside it.
LARGE = 100


class Glance:
    """Looks at claims that differ in a piece from `claim`, as typed.

    measure:    gives the values of a piece at the states, or None where it has none there.
    integrated: may two sides that differ be equal all the same, but for a constant?
    """

    def __init__(self, claim: Claim, measure: Measure, integrated: Callable[[Expr, Expr], bool] | None = None) -> None:
        self._looked = Looked(claim, measure)
        self._integrated = integrated
        self._rounded = any(with_decimals_named(r) is not None for r in relations(claim))

    def rules_out(self, claim: Claim) -> bool:
        """Do some sides of a claim come out so far apart that it cannot be what the line should have been?"""
        with np.errstate(all="ignore"):
            return any(
                self._apart(left, sign, right)
                for r in relations(claim) for left, sign, right in zip(r.sides, r.signs, r.sides[1:], strict=False))

    def _apart(self, left: Expr, sign: str, right: Expr) -> bool:
        one, other = self._looked.value(left), self._looked.value(right)
        if one is None or other is None or (sign != "=" and sign not in UPWARDS):
            return False
        gap, size = one - other, np.maximum(np.abs(one), np.abs(other))
        for side in (left, right) if is_zero(left) or is_zero(right) else ():
            size = np.maximum(size, self._terms_of(side))  # what is left of terms that cancel is nothing beside them
        fails = np.isfinite(size) & (np.abs(gap) > APART * size)
        if sign in UPWARDS:
            return not np.iscomplexobj(gap) and bool(np.any(fails & (gap * UPWARDS[sign] < 0)))
        if fails.size - fails.sum() >= max(4, fails.size // 5):
            return False  # it may hold but for a case that it loses
        if self._may_be_rounded(left, right) and not np.any(fails & (np.abs(gap) > FAR_OFF * size)):
            return False
        return self._integrated is None or not self._integrated(left, right)

    def _terms_of(self, side: Expr) -> NDArray[np.float64]:
        """How large the terms of a sum are together."""
        values = [self._looked.value(t) for t in side.terms] if isinstance(side, Sum) else []
        return np.sum([np.abs(v) for v in values if v is not None], axis=0) if values else np.zeros(1)

    def _may_be_rounded(self, *sides: Expr) -> bool:
        return self._rounded or any(
            not self._looked.typed(side) and (not names_in(side) or any(map(_may_be_a_value, self._put_in(side))))
            for side in sides)

    def _put_in(self, node: object) -> Iterator[object]:
        """The nodes of a piece that were not typed so."""
        if not self._looked.typed(node):
            yield node
            for child in children(node):
                yield from self._put_in(child)


def _may_be_a_value(node: object) -> bool:
    return isinstance(node, Num) and (node.last_digit is not None or abs(node.value) >= LARGE)
