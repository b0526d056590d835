"""The items of a row of factors, and what building them needs of the level above.

One item is one thing that stands in a product: a number, a name, a function's name, a bracket, a sign.
How the items are grouped is for derive.notation.grouping.products.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import Literal, Protocol

from derive.notation.grammar import raw
from derive.notation.grouping.choices import Chooser
from derive.notation.names import TIME, Scope
from derive.notation.tree import Component, Derivative, Expr, Name, Power, Span, UnitVector

Kind = Literal["number", "name", "constant", "done", "function", "root", "d", "partial", "differential",
               "group", "tuple", "integral", "minus", "times", "slash"]


# Marks the item of a unit in brackets: after the last term it belongs to the whole sum.
UNIT_BRACKET = "unit bracket"
# Marks the item of a number with its unit.
QUANTITY = "quantity"


class Builder(Protocol):
    """What the product level needs of the level above it."""

    scope: Scope
    chooser: Chooser
    line: str
    calculus: bool
    integrates: bool

    def sum(self, total: raw.RawSum) -> Expr: ...
    def exponent(self, exponent: raw.RawExponent) -> Expr: ...
    def product(self, items: list[Item]) -> Expr: ...
    def grouped(self, items: list[Item]) -> Expr: ...
    def operand(self, items: list[Item], at: int) -> tuple[Expr, int]: ...
    def bracket(self, item: Item) -> Expr: ...
    def limits(self, integral: raw.RawIntegral) -> tuple[Expr | None, Expr | None, Expr | None]: ...


@dataclass(frozen=True, slots=True)
class Item:
    """One thing in a row.

    expr:     what it means, without its exponent ('' kinds of signs have none).
    exponent: what was raised after it, not yet applied.
    tight:    no white space before it.
    node:     the raw node of a group, a tuple or an integral.
    """

    kind: Kind
    span: Span
    tight: bool = False
    expr: Expr | None = None
    ident: str = ""
    exponent: raw.RawExponent | None = None
    node: raw.RawGroup | raw.RawTuple | raw.RawIntegral | None = None


def powered(b: Builder, expr: Expr, item: Item) -> Expr:
    """The expression with the item's exponent applied."""
    if item.exponent is None:
        return expr
    exponent = b.exponent(item.exponent)
    start = expr.span.start if expr.span else item.span.start
    return Power(expr, exponent, span=Span(start, item.exponent.span.end))


def named(ident: str, order: int, scope: Scope, span: Span) -> Expr:
    """A name, the component of a vector, or a derivative written with primes or dots."""
    stem, _, axis = ident.partition("_")
    if len(axis) > 1 and scope.is_vector(ident[:-1]):  # `v_1x`, a component of v_1
        stem, axis = ident[:-1], axis[-1]
    expr: Expr = Name(ident, span=span)
    hatted = unicodedata.normalize("NFD", ident)
    if order and hatted[1:] == "\u0302" and hatted[0] in "xyzrθ" and not scope.knows(ident):  # r̂' = θ' θ̂
        expr = UnitVector(hatted[0], span=span)
    if not scope.knows(ident) and axis in ("x", "y", "z", "r", "θ") and scope.is_vector(stem):
        expr = Component(Name(stem, span=span), axis, span=span)
    if not order:
        return expr
    variable = scope.variable_of(ident) or scope.variable_of(stem) or TIME
    return Derivative(expr, Name(variable, span=span), order, span=span)
