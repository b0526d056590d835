"""The derivative of a typed piece by one of its names, or along the motion, as a person would write it down.

For edits that may be shown: whether a line follows is for the proof room, which differentiates terms.
"""

from __future__ import annotations

from dataclasses import dataclass

from derive.diagnosis.pieces import ONE, as_power, negated, number, over, plain, power, product, times, total
from derive.notation.tree import (
    Apply,
    Constant,
    Derivative,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Sum,
    names_in,
)

ZERO = number(0)


@dataclass(frozen=True, slots=True)
class Along:
    """What is differentiated by, and the names that go along with it."""

    name: str
    moving: frozenset[str] = frozenset()

    def changes(self, e: Expr) -> bool:
        return any(n == self.name or n in self.moving for n in names_in(e))

    def slope(self, e: Expr) -> Expr | None:
        """The derivative of a piece; None for one of another than an everyday kind."""
        if not self.changes(e):
            return ZERO
        match e:
            case Name(ident):
                return ONE if ident == self.name else Derivative(e, Name(self.name))
            case Neg(arg):
                inner = self.slope(arg)
                return None if inner is None else negated(inner)
            case Sum(terms):
                parts = [self.slope(t) for t in terms]
                return None if None in parts else total([p for p in parts if p is not None and p != ZERO])
            case Product(factors):
                return self._of_product(factors)
            case Quotient(above, below):
                inner = self.slope(above)
                return self.of_quotient(e) if self.changes(below) else None if inner is None else over(inner, below)
            case Power() | Apply():
                outer, arg = _outer(e)
                inner = self.slope(arg) if self.changes(arg) else None
                return None if outer is None or inner is None else times(outer, inner)
        return None

    def of_quotient(self, e: Quotient) -> Expr | None:
        first, second = self.slope(e.num), self.slope(e.den)
        if first is None or second is None:
            return None
        terms = [t for t in (_beside(first, e.den), negated(_beside(second, e.num))) if t not in (ZERO, Neg(ZERO))]
        return Quotient(total(terms), squared(e.den))

    def _of_product(self, factors: tuple[Expr, ...]) -> Expr | None:
        parts = []
        for i, f in enumerate(factors):
            rate = self.slope(f)
            if rate is None:
                return None
            if rate != ZERO:
                parts.append(_number_first(product((*factors[:i], rate, *factors[i + 1 :]))))
        return total(parts)


def squared(e: Expr) -> Expr:
    base, exponent = as_power(e) or (e, 1)
    return power(base, 2 * exponent)


def _outer(e: Power | Apply) -> tuple[Expr | None, Expr]:
    """The derivative of what is outermost, and what it is taken of."""
    if isinstance(e, Power):
        n = plain(e.exponent)
        if n is not None:
            return times(number(n), power(e.base, n - 1)), e.base
        return (e if e.base == Constant("e") else None), e.exponent
    known: dict[str, Expr] = {
        "sin": Apply("cos", e.arg), "cos": Neg(Apply("sin", e.arg)), "exp": e, "ln": Quotient(ONE, e.arg),
        "sqrt": Quotient(ONE, product((number(2), e)))}
    return known.get(e.function), e.arg


def _beside(rate: Expr, piece: Expr) -> Expr:
    return ZERO if rate == ZERO else piece if rate == ONE else _number_first(product((rate, piece)))


def _number_first(e: Expr) -> Expr:
    if isinstance(e, Neg):
        return Neg(_number_first(e.arg))
    return Product(tuple(sorted(e.factors, key=lambda f: not isinstance(f, Num)))) if isinstance(e, Product) else e
