"""What the pieces of an edited claim come to at some states, worked out anew only above the edit."""

from __future__ import annotations

import math

import numpy as np

from derive.diagnosis.needed import Measure, remembering
from derive.diagnosis.pieces import plain
from derive.notation.tree import Apply, Claim, Expr, Neg, Power, Product, Quotient, Sum, walk
from derive.terms.functions import FUNCTIONS, Array, power_of
from derive.terms.term import num


class Looked:
    """The values of pieces of claims that differ in a piece from `claim`, as typed.

    measure: gives the values of a piece at the states, or None where it has none there.
    """

    def __init__(self, claim: Claim, measure: Measure) -> None:
        self._measure = remembering(measure)
        self._typed = {id(n): n for n in walk(claim)}
        self._known: dict[int, Array | None] = {}

    def typed(self, node: object) -> bool:
        """Was a piece typed so?"""
        return id(node) in self._typed

    def value(self, node: Expr) -> Array | None:
        """The values of a piece, or None where it has none."""
        if id(node) not in self._typed:
            return self._worked_out(node)
        if id(node) not in self._known:
            self._known[id(node)] = self._worked_out(node)
        return self._known[id(node)]

    def _worked_out(self, node: Expr) -> Array | None:
        parts = [self.value(part) for part in _arguments(node)]
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
