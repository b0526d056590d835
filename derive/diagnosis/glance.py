"""A glance at what an edited claim comes to at the states that the line was judged in: it rules out nearly every edit,
at a small part of what a trial costs, since only what is above the edit has to be worked out anew.

What a glance cannot see is not ruled out: it is for the trial to say.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np

from derive.diagnosis.around import relations
from derive.diagnosis.nearness import FAR_OFF
from derive.diagnosis.needed import Measure, remembering
from derive.diagnosis.pieces import plain
from derive.notation.tree import (
    Apply,
    Claim,
    Expr,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Sum,
    children,
    names_in,
    walk,
)
from derive.terms.functions import FUNCTIONS, Array, power_of
from derive.terms.numbers import with_decimals_named
from derive.terms.term import num

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
        self._measure = remembering(measure)
        self._integrated = integrated
        self._typed = {id(n): n for n in walk(claim)}
        self._known: dict[int, Array | None] = {}
        self._rounded = any(with_decimals_named(r) is not None for r in relations(claim))

    def rules_out(self, claim: Claim) -> bool:
        """Do some sides of a claim come out so far apart that it cannot be what the line should have been?"""
        with np.errstate(all="ignore"):
            return any(
                self._apart(left, sign, right)
                for r in relations(claim) for left, sign, right in zip(r.sides, r.signs, r.sides[1:], strict=False))

    def _apart(self, left: Expr, sign: str, right: Expr) -> bool:
        one, other = self._value(left), self._value(right)
        if one is None or other is None or (sign != "=" and sign not in UPWARDS):
            return False
        gap, size = one - other, np.maximum(np.abs(one), np.abs(other))
        fails = np.isfinite(size) & (np.abs(gap) > APART * size)
        if sign in UPWARDS:
            return not np.iscomplexobj(gap) and bool(np.any(fails & (gap * UPWARDS[sign] < 0)))
        if fails.size - fails.sum() >= max(4, fails.size // 5):
            return False  # it may hold but for a case that it loses
        if self._may_be_rounded(left, right) and not np.any(fails & (np.abs(gap) > FAR_OFF * size)):
            return False
        return self._integrated is None or not self._integrated(left, right)

    def _may_be_rounded(self, *sides: Expr) -> bool:
        return self._rounded or any(
            id(side) not in self._typed and (not names_in(side) or any(map(_may_be_a_value, self._put_in(side))))
            for side in sides)

    def _put_in(self, node: object) -> Iterator[object]:
        """The nodes of a piece that were not typed so."""
        if id(node) not in self._typed:
            yield node
            for child in children(node):
                yield from self._put_in(child)

    def _value(self, node: Expr) -> Array | None:
        if id(node) not in self._typed:
            return self._worked_out(node)
        if id(node) not in self._known:
            self._known[id(node)] = self._worked_out(node)
        return self._known[id(node)]

    def _worked_out(self, node: Expr) -> Array | None:
        parts = [self._value(part) for part in _arguments(node)]
        if not parts or any(p is None for p in parts):
            return self._real(node)
        first, *rest = (p for p in parts if p is not None)
        match node:
            case Sum():
                return sum(rest, first)
            case Product():
                return math.prod(rest, start=first)
            case Neg():
                return -first
            case Quotient():
                return first / rest[0]
            case Power(_, exponent):
                written = plain(exponent)
                return np.power(first, rest[0]) if written is None else power_of(num(written), first, rest[0])
            case Apply(function, _):
                return FUNCTIONS[function][0](first)
        raise AssertionError(f"{type(node).__name__} has no arguments")

    def _real(self, node: Expr) -> Array | None:
        values = self._measure(node)
        return values if values is None or np.any(values.imag) else values.real


def _arguments(node: Expr) -> tuple[Expr, ...]:
    """What a piece is worked out from, where its parts tell."""
    match node:
        case Sum(parts) | Product(parts):
            return parts
        case Neg(arg) | Apply(_, arg):
            return (arg,)
        case Quotient(above, below):
            return (above, below)
        case Power(base, exponent):
            return (base, exponent)
    return ()


def _may_be_a_value(node: object) -> bool:
    return isinstance(node, Num) and (node.last_digit is not None or abs(node.value) >= LARGE)
