"""Making neat pieces: a term with another sign, another number in front, one factor more or less.

Every function hands back a new tree that a person would have written (`m g` and not `1 · m · g`), because
an edit may be shown. Nothing is simplified beyond that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from derive.notation.tree import Apply, Constant, Expr, Neg, Num, Power, Product, Quotient, Sum, rebuilt, walk
from derive.terms.numbers import bare_number, last_digit_of_result

ONE = Num(Fraction(1))
PI = Constant("π")


def number(value: Fraction | int) -> Num:
    return Num(Fraction(value))


def negated(node: Expr) -> Expr:
    """The other sign; a product that carries its sign on a factor loses it there."""
    if isinstance(node, Neg):
        return node.arg
    if isinstance(node, Num) and node.value < 0:
        return Num(-node.value, node.last_digit)
    if isinstance(node, Product) and isinstance(node.factors[0], Neg):
        return product((node.factors[0].arg, *node.factors[1:]))
    if isinstance(node, Quotient) and isinstance(node.num, Neg):
        return Quotient(node.num.arg, node.den)
    return Neg(node)


def product(factors: Sequence[Expr]) -> Expr:
    """A product of the factors, flat, without factors 1; a sign in front is taken out."""
    flat: list[Expr] = []
    minus = False
    for f in factors:
        if isinstance(f, Neg):
            minus, f = not minus, f.arg
        flat.extend(f.factors if isinstance(f, Product) else (f,))
    flat = [f for f in flat if f != ONE]
    made: Expr = ONE if not flat else flat[0] if len(flat) == 1 else Product(tuple(flat))
    return Neg(made) if minus else made


def total(terms: Sequence[Expr]) -> Expr:
    """A sum of the terms, flat; of none, zero."""
    flat: list[Expr] = []
    for t in terms:
        flat.extend(t.terms if isinstance(t, Sum) else (t,))
    return number(0) if not flat else flat[0] if len(flat) == 1 else Sum(tuple(flat))


def quotient(num: Expr, den: Expr) -> Expr:
    return num if den == ONE else Quotient(num, den)


def factors_of(node: Expr) -> tuple[Expr, ...]:
    """The factors of a piece without its sign; of a quotient, those above the line."""
    if isinstance(node, Neg):
        return factors_of(node.arg)
    if isinstance(node, Quotient):
        return factors_of(node.num)
    return node.factors if isinstance(node, Product) else (node,)


def terms_of(node: Expr) -> tuple[Expr, ...]:
    return node.terms if isinstance(node, Sum) else (node,)


def scaled(node: Expr, by: Fraction) -> Expr:
    """A number times the piece, merged with a number that stands in front of it already."""
    if isinstance(node, Num):
        return rewritten(node, by)
    if isinstance(node, Neg):
        return Neg(scaled(node.arg, by))
    if isinstance(node, Product):
        worked_out = bare_number(node)
        for i, f in enumerate(node.factors):
            if isinstance(f, Num) and f is worked_out:
                return product((*node.factors[:i], result(f, f.value * by), *node.factors[i + 1 :]))
            if isinstance(f, Num) or (isinstance(f, Quotient) and isinstance(f.num, Num) and isinstance(f.den, Num)):
                return product((*node.factors[:i], scaled(f, by), *node.factors[i + 1 :]))
    if isinstance(node, Quotient):
        return _scaled_quotient(node, by)
    if by.numerator == 1 and by.denominator > 1:
        return Quotient(node, number(by.denominator))
    return product((number(by), node))


FEWEST_FIGURES = 3


def rewritten(node: Num, by: Fraction) -> Num:
    """A written number times another, to no fewer figures: a looser one would fit by chance."""
    if node.last_digit is None or not by:
        return number(node.value * by)
    return result(node, node.value * by)


def figures_of(node: Num) -> int:
    """How many figures a number that was worked out shows."""
    return math.floor(math.log10(abs(node.value))) - last_digit_of_result(node) + 1 if node.value else 0


def result(node: Num, value: Fraction) -> Num:
    """Another value for a number that was worked out, to as many figures as the written one shows, and to three at
    least: with few figures one of many changes fits by chance."""
    if not value or not node.value:
        return number(value)
    return Num(value, math.floor(math.log10(abs(value))) - max(figures_of(node), FEWEST_FIGURES) + 1)


def rounded(piece: Any) -> Any:
    """A piece to be shown: numbers that were worked out have the figures they claim and no more."""
    change: dict[int, object] = {
        id(n): Num(round(n.value / Fraction(10) ** n.last_digit) * Fraction(10) ** n.last_digit, min(n.last_digit, 0))
        for n in walk(piece) if isinstance(n, Num) and n.last_digit is not None}
    return rebuilt(piece, change)


def _scaled_quotient(node: Quotient, by: Fraction) -> Expr:
    if isinstance(node.num, Num) and isinstance(node.den, Num) and node.den.value:
        return number(node.num.value / node.den.value * by)
    if isinstance(node.num, Num) or any(isinstance(f, Num) for f in factors_of(node.num)):
        return Quotient(scaled(node.num, by), node.den)
    below = [f for f in factors_of(node.den) if isinstance(f, Num)]
    if by and (below or by.numerator == 1):
        return quotient(node.num, scaled(node.den, 1 / by))
    return Quotient(scaled(node.num, by), node.den)


def times(node: Expr, factor: Expr) -> Expr:
    """The piece with one factor more; the same factor below the line goes instead."""
    if isinstance(node, Neg):
        return negated(times(node.arg, factor))
    if isinstance(node, Quotient):
        if (left := _without(node.den, factor)) is not None:
            return quotient(node.num, left)
        return Quotient(times(node.num, factor), node.den)
    return product((node, factor))


def over(node: Expr, factor: Expr) -> Expr:
    """The piece divided by a factor; the same factor above the line goes instead."""
    if isinstance(node, Neg):
        return negated(over(node.arg, factor))
    if (left := _without(node, factor)) is not None:
        return left
    if isinstance(node, Quotient):
        return Quotient(node.num, product((node.den, factor)))
    return Quotient(node, factor)


def _without(node: Expr, factor: Expr) -> Expr | None:
    """The piece less one factor, or None where it has no such factor."""
    if node == factor:
        return ONE
    if isinstance(node, Product) and factor in node.factors:
        i = node.factors.index(factor)
        return product(node.factors[:i] + node.factors[i + 1 :])
    if isinstance(node, Product):
        for i, f in enumerate(node.factors):
            if isinstance(f, Power) and f.base == factor and isinstance(f.exponent, Num) and f.exponent.value > 1:
                return product((*node.factors[:i], power(factor, f.exponent.value - 1), *node.factors[i + 1 :]))
    if isinstance(node, Quotient) and (left := _without(node.num, factor)) is not None:
        return Quotient(left, node.den)
    return None


def power(base: Expr, exponent: Fraction | int) -> Expr:
    """A power with a number for exponent: ½ as a root, -1 as a fraction."""
    e = Fraction(exponent)
    if e == 1:
        return base
    if e == Fraction(1, 2):
        return Apply("sqrt", base)
    if e < 0:
        return Quotient(ONE, power(base, -e))
    return Power(base, number(e))


def as_power(node: Expr) -> tuple[Expr, Fraction] | None:
    """Base and exponent where the exponent is a plain number (`x`, `x²`, `√x`, `x^(3/2)`)."""
    if isinstance(node, Power):
        value = plain(node.exponent)
        return None if value is None else (node.base, value)
    if isinstance(node, Apply) and node.function == "sqrt":
        return node.arg, Fraction(1, 2)
    return node, Fraction(1)


def plain(node: Expr) -> Fraction | None:
    """The value of a plain number, its sign and a fraction bar included."""
    if isinstance(node, Num):
        return node.value
    if isinstance(node, Neg):
        inner = plain(node.arg)
        return None if inner is None else -inner
    if isinstance(node, Quotient):
        a, b = plain(node.num), plain(node.den)
        return a / b if a is not None and b else None
    return None
