"""How a row of items is grouped into one expression: slashes, signs, arguments, calls.

The plain reading goes left to right, as on the printed page; each other way people read it is an option
of the chooser.
"""

from __future__ import annotations

from fractions import Fraction

from derive.notation.failures import ReadError
from derive.notation.grammar import raw
from derive.notation.grouping.arguments import argument
from derive.notation.grouping.calculus import differentials_settled, integrals_settled
from derive.notation.grouping.calls import call_or_name
from derive.notation.grouping.extents import OPERANDS, operand_end
from derive.notation.grouping.items import Builder, Item, powered
from derive.notation.names import Scope
from derive.notation.tree import (
    Apply,
    Cross,
    Derivative,
    Dot,
    Expr,
    Name,
    Neg,
    Num,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Span,
    Sum,
    Unit,
    UnitVector,
    Value,
    Vector,
)

_INVERSE = {"sin": "arcsin", "cos": "arccos", "tan": "arctan", "sinh": "arcsinh", "cosh": "arccosh", "tanh": "arctanh"}


def product_of(items: list[Item], b: Builder) -> Expr:
    """One expression for the whole row."""
    items = differentials_settled(items, b)
    items = integrals_settled(items, b)
    return grouped(items, b)


def grouped(items: list[Item], b: Builder) -> Expr:
    """Fold a row that holds no open differentials or integrals, left to right."""
    factors: list[Expr] = []
    at = 0
    chosen: list[Span] = []
    while at < len(items):
        item = items[at]
        if item.kind == "slash":
            if not factors:
                raise ReadError(item.span, "something before the slash")
            bottom, at = _denominator(items, at, b, chosen)
            top = multiplied(factors)
            factors = [Quotient(top, bottom, span=_from_to(top, bottom))]
        elif item.kind == "times":
            right, at = operand(items, at + 1, b)
            if factors and item.ident in "·×" and is_vector(factors[-1], b.scope):
                right, at = _up_to_its_vector(right, items, at, b)
            _times(factors, item.ident, right, b.scope)
        else:
            right, at = operand(items, at, b)
            factors.append(right)
    for place in chosen:
        within = [f for f in factors if f.span is not None and f.span.end <= place.end]
        b.chooser.came_to(place, multiplied(within or factors))
    return multiplied(factors)


def multiplied(factors: list[Expr]) -> Expr:
    """Factors as one product, over all that they were typed over."""
    if len(factors) == 1:
        return factors[0]
    return Product(tuple(factors), span=_from_to(factors[0], factors[-1]))


def _from_to(first: Expr, last: Expr) -> Span:
    assert first.span is not None and last.span is not None
    return Span(first.span.start, last.span.end)


def _up_to_its_vector(first: Expr, items: list[Item], at: int, b: Builder) -> tuple[Expr, int]:
    """The `m v` of `r × m v`: the numbers that stand before the other vector go with it."""
    end = next((k for k in range(at, len(items)) if items[k].kind in ("times", "slash", "minus")), len(items))
    if is_vector(first, b.scope) or not any(x.expr is not None and is_vector(x.expr, b.scope) for x in items[at:end]):
        return first, at
    factors = [first]
    while not is_vector(factors[-1], b.scope):
        factor, at = operand(items, at, b)
        factors.append(factor)
    return multiplied(factors), at


def _times(factors: list[Expr], sign: str, right: Expr, scope: Scope) -> None:
    """A dot or a cross between two vectors is their product of that name; otherwise plain multiplication."""
    left = factors[-1] if factors else None
    if left is not None and sign in "·×" and is_vector(left, scope) and is_vector(right, scope):
        span = _from_to(left, right)
        factors[-1] = Dot(left, right, span=span) if sign == "·" else Cross(left, right, span=span)
    elif left is not None and sign == "×" and _may_be_crossed(left, right, scope):
        factors[-1] = Cross(left, right, span=_from_to(left, right))
    else:
        factors.append(right)


# What is met first beside a vector and a cross: `r × p`, and not `m × v`, which is m times v (common practice).
_USUALLY_CROSSED = frozenset("rpvaFLωατMBE")


def _may_be_crossed(left: Expr, right: Expr, scope: Scope) -> bool:
    """Is one of two factors a vector, and the other a new name that is usually one?"""
    return any(
        is_vector(one, scope) and isinstance(other, Name) and scope.is_new(other.ident)
        and other.ident.split("_")[0] in _USUALLY_CROSSED
        for one, other in ((left, right), (right, left)))


def is_vector(expr: Expr, scope: Scope) -> bool:
    """Does the expression stand for a vector, as far as declarations tell?"""
    match expr:
        case Name(ident):
            return scope.is_vector(ident)
        case Vector() | UnitVector() | Cross():
            return True
        case Neg(arg) | PlusMinus(arg):
            return is_vector(arg, scope)
        case Sum(terms):
            return any(is_vector(t, scope) for t in terms)
        case Product(factors):
            return sum(is_vector(f, scope) for f in factors) == 1
        case Quotient(num, _):
            return is_vector(num, scope)
        case Derivative(body, _) | Value(body, _):
            return is_vector(body, scope)
    if type(expr).__name__ == "Differential":
        return is_vector(expr.body, scope)  # type: ignore[union-attr]
    return False


# --- denominators ------------------------------------------------------------------------------------------------


def _denominator(items: list[Item], at: int, b: Builder, chosen: list[Span]) -> tuple[Expr, int]:
    """What the slash at `at` divides by: the next factor, or also those beside it (`k/2m`); the place where that was
    a choice is added to those `chosen`."""
    slash = items[at]
    if at + 1 < len(items) and items[at + 1].kind in ("function", "root"):
        return operand(items, at + 1, b)
    end = operand_end(items, at + 1, slash)
    ends = [end]
    first = items[at + 1]
    if first.kind not in ("group", "tuple"):
        tight = whole = end
        while tight < len(items) and _goes_on(items[tight]) and items[tight].tight:
            tight += 1
        while whole < len(items) and _goes_on(items[whole]):
            whole += 1
        ends += [e for e in dict.fromkeys((tight, whole)) if e > end]
        if first.kind == "name" and end == at + 3:  # `k/m(r - l)`: m alone may be below, if it is no function
            ends.append(at + 2)
    place = Span(items[0].span.start, items[max(ends) - 1].span.end)
    chosen.append(place)
    end = b.chooser.choose("slash", place, ends)
    bottom = grouped(items[at + 1:end], b) if items[at + 1].kind != "minus" else _negative(items, at + 1, end, b)
    return bottom, end


def _negative(items: list[Item], at: int, end: int, b: Builder) -> Expr:
    inner = grouped(items[at + 1:end], b)
    assert inner.span is not None
    return Neg(inner, span=Span(items[at].span.start, inner.span.end))


def _goes_on(item: Item) -> bool:
    """May this item belong to the denominator before it?"""
    return item.kind in OPERANDS


# --- operands ----------------------------------------------------------------------------------------------------


def operand(items: list[Item], at: int, b: Builder) -> tuple[Expr, int]:
    """The operand that starts at `at`, with its exponent, and the place after it."""
    if at >= len(items):
        raise ReadError(items[-1].span, "something after this sign")
    item = items[at]
    match item.kind:
        case "minus":
            inner, end = operand(items, at + 1, b)
            assert inner.span is not None
            return Neg(inner, span=Span(item.span.start, inner.span.end)), end
        case "function" | "root":
            return _function(items, at, b)
        case "name" if item.exponent is None and at + 1 < len(items) and items[at + 1].kind in ("group", "tuple"):
            return call_or_name(items, at, b)
        case "group" | "tuple":
            return powered(b, group_value(item, b), item), at + 1
        case "d":
            raise ReadError(item.span, "a name after this d")
        case "slash" | "times":
            raise ReadError(item.span, "a factor before this sign")
    assert item.expr is not None
    return _natural_power(items, at, b)


def _natural_power(items: list[Item], at: int, b: Builder) -> tuple[Expr, int]:
    """A factor with its exponent; `e^-kt` typed without spaces may reach over the letters that follow."""
    item = items[at]
    assert item.expr is not None
    if item.exponent is None or isinstance(item.exponent, raw.RawGroup):
        return powered(b, item.expr, item), at + 1
    tight = at + 1
    while tight < len(items) and items[tight].tight and items[tight].kind in ("number", "name", "constant", "done"):
        tight += 1
    divided = tight
    while divided + 1 < len(items) and items[divided].kind == "slash" and items[divided].tight \
            and items[divided + 1].tight and items[divided + 1].kind != "minus":
        divided = operand_end(items, divided + 1, items[divided])
    ends = list(dict.fromkeys((at + 1, tight, divided)))
    if item.kind == "constant" and item.ident == "e":
        ends = list(dict.fromkeys((tight, divided, at + 1)))
    elif tight == at + 1 or not isinstance(item.exponent, raw.RawLetters | raw.RawNegative):
        ends = [at + 1]
    place = Span(item.span.start, items[max(ends) - 1].span.end)
    end = b.chooser.choose("exponent", place, ends)
    if end == at + 1:
        return powered(b, item.expr, item), end
    exponent = _long_exponent(item.exponent, items[at + 1:end], b)
    power = Power(item.expr, exponent, span=Span(item.span.start, items[end - 1].span.end))
    b.chooser.came_to(place, power)
    return power, end


def _long_exponent(first: raw.RawExponent, rest: list[Item], b: Builder) -> Expr:
    """The exponent and the items that belong to it, under one sign."""
    negative = isinstance(first, raw.RawNegative)
    inner = first.inner if isinstance(first, raw.RawNegative) else first
    head = Item("done", inner.span, expr=b.exponent(inner))
    whole = grouped([head, *rest], b)
    if isinstance(whole, Product) and isinstance(whole.factors[0], Product):
        whole = Product((*whole.factors[0].factors, *whole.factors[1:]), span=whole.span)
    return Neg(whole, span=Span(first.span.start, rest[-1].span.end)) if negative else whole


def group_value(item: Item, b: Builder) -> Expr:
    """What stands in a bracket; a tuple is a vector."""
    if isinstance(item.node, raw.RawTuple):
        return Vector(tuple(b.sum(part) for part in item.node.parts), span=item.node.span)
    assert isinstance(item.node, raw.RawGroup)
    inner = b.sum(item.node.inner)
    if item.node.primes:
        return Derivative(inner, Name("t", span=item.span), item.node.primes, span=item.span)
    return inner


# Beyond a full turn a plain figure is an angle in degrees far more often than one in radians.
_FULL_TURN, _SURELY_DEGREES = Fraction(628, 100), 10
_OF_ANGLES = frozenset(("sin", "cos", "tan", "cot", "sec", "csc"))


def _in_degrees(name: str, inner: Expr, function: Item, b: Builder) -> Expr:
    """`sin 30`, `cos(45)`: the degree sign is often left out."""
    if name not in _OF_ANGLES or not isinstance(inner, Num) or inner.value <= _FULL_TURN or inner.span is None:
        return inner
    place = Span(function.span.start, inner.span.end)
    bracketed = b.line[function.span.end:inner.span.start].strip() != ""
    likely = inner.value >= _SURELY_DEGREES and (b.scope.quick or not bracketed)
    options = [True, False] if likely else [False, True]
    if not b.chooser.choose("degrees", place, options):
        return inner
    turned = Product((inner, Unit("°", span=inner.span)), span=inner.span)
    b.chooser.came_to(place, turned)
    return turned


def _function(items: list[Item], at: int, b: Builder) -> tuple[Expr, int]:
    """`sin² 2θ`, `√(k/m)`: a function or a root with its argument."""
    item = items[at]
    name = item.ident
    if name == "log":
        name = b.chooser.choose("function", item.span, ["ln", "log10"])
    inner, end, after = argument(items, at, b)
    inner = _in_degrees(name, inner, item, b)
    exponent = b.exponent(item.exponent) if item.exponent is not None else None
    if exponent == Neg(Num(Fraction(1))) and name in _INVERSE:
        name, exponent = _INVERSE[name], None
    last = items[end - 1].span.end
    applied: Expr = Apply(name, inner, span=Span(item.span.start, last))
    if exponent is not None:
        applied = Power(applied, exponent, span=Span(item.span.start, last))
    if after is not None:
        applied = powered(b, applied, after)
    return applied, end
