"""A row of factors as a flat list of items, with letters split into names and units recognised.

One item is one thing that stands in a product: a number, a name, a function's name, a bracket, a sign.
How the items are grouped is for derive.notation.products.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal, Protocol

from derive.notation import raw
from derive.notation.choices import Chooser
from derive.notation.failures import unknown_name
from derive.notation.letters import Habits, Piece, split
from derive.notation.names import Scope, canonical
from derive.notation.scanning import Lexeme
from derive.notation.tree import (
    Component,
    Constant,
    Derivative,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Span,
    Unit,
    UnitVector,
)
from derive.notation.unit_names import READY, compound_named, unit_named

Kind = Literal["number", "name", "constant", "done", "function", "root", "d", "partial", "differential",
               "group", "tuple", "integral", "minus", "times", "slash"]


class Builder(Protocol):
    """What the product level needs of the level above it."""

    scope: Scope
    chooser: Chooser
    line: str
    calculus: bool

    def sum(self, total: raw.RawSum) -> Expr: ...
    def exponent(self, exponent: raw.RawExponent) -> Expr: ...
    def product(self, items: list[Item]) -> Expr: ...
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
    expr: Expr = Name(ident, span=span)
    if not scope.knows(ident) and axis in ("x", "y", "z", "r", "θ") and scope.is_vector(stem):
        expr = Component(Name(stem, span=span), axis, span=span)
    if not order:
        return expr
    return Derivative(expr, Name(scope.variable_of(ident) or scope.variable_of(stem) or "t", span=span), order, span=span)


def items_of(row: tuple[raw.RawFactor | raw.RawJoined, ...], b: Builder) -> list[Item]:
    """The row's items; quantities (a number with its unit) are one item each."""
    items: list[Item] = []
    at = 0
    while at < len(row):
        part = row[at]
        factor: raw.RawFactor
        if isinstance(part, raw.RawJoined):
            items.append(Item("slash" if part.sign == "/" else "times", part.sign_span, ident=part.sign))
            if part.negative:
                items.append(Item("minus", part.sign_span))
            factor = part.factor
        else:
            factor = part
        tight = bool(items) and items[-1].span.end == factor.span.start
        used = _quantity(row, at, factor, tight, items, b)
        if not used:
            items += _factor(factor, tight, items, b)
            used = 1
        at += used
    return items


def _factor(factor: raw.RawFactor, tight: bool, before: list[Item], b: Builder) -> list[Item]:
    """The items of one factor."""
    if isinstance(factor, raw.RawPower):
        items = _factor(factor.base, tight, before, b)
        last = items[-1]
        if last.kind == "name" and isinstance(factor.base, raw.RawLetters):
            items = _letters(factor.base, tight, before, b, raised=True)
            last = items[-1]
        return [*items[:-1], replace(last, exponent=factor.exponent, span=Span(last.span.start, factor.span.end))]
    if isinstance(factor, raw.RawLetters):
        return _letters(factor, tight, before, b)
    return [_single(factor, tight, b)]


def _single(factor: raw.RawFactor, tight: bool, b: Builder) -> Item:
    span = factor.span
    match factor:
        case raw.RawNumber(value):
            return Item("number", span, tight, replace(value, span=span))
        case raw.RawRoot(function):
            return Item("root", span, tight, ident=function)
        case raw.RawGroup() | raw.RawTuple():
            return Item("tuple" if isinstance(factor, raw.RawTuple) else "group", span, tight, node=factor)
        case raw.RawIntegral():
            return Item("integral", span, tight, node=factor)
        case raw.RawNegativeArgument():
            return Item("minus", span, tight)
        case _:
            return Item("done", span, tight, b.exponent(factor))  # type: ignore[arg-type]


# --- letters --------------------------------------------------------------------------------------------


def _letters(factor: raw.RawLetters, tight: bool, before: list[Item], b: Builder, raised: bool = False) -> list[Item]:
    """A run as items, one a piece; another split is offered where people read it in two ways."""
    run, scope = factor.run, b.scope
    if run.kind == "unit":
        return [Item("done", run.span, tight, Unit(run.text, span=run.span))]
    pieces = _split(run, b, raised)
    if pieces[0].kind == "unknown" or _unit_after_all(run, before, b):
        unit = _unit_run(run)
        if unit is not None and before:
            return [Item("done", run.span, tight, unit)]
        raise unknown_name(run.text, run.span, scope)
    items: list[Item] = []
    for piece in pieces:
        span = Span(run.places[piece.start].start, run.places[piece.end - 1].end)
        items.append(_piece(piece, span, tight if piece is pieces[0] else True, scope))
    return items


def _piece(piece: Piece, span: Span, tight: bool, scope: Scope) -> Item:
    match piece.kind:
        case "name":
            return Item("name", span, tight, named(piece.ident, piece.order, scope, span), piece.ident)
        case "const":
            return Item("constant", span, tight, Constant(piece.ident, span=span), piece.ident)
        case "unitvec":
            return Item("done", span, tight, UnitVector(piece.ident, span=span))
        case "num":
            from fractions import Fraction
            return Item("number", span, tight, Num(Fraction(piece.ident), span=span))
        case "func":
            return Item("function", span, tight, ident=piece.ident)
        case "partial":
            return Item("partial", span, tight, ident="∂")
        case _:
            return Item("d", span, tight, ident="d")


def _split(run: Lexeme, b: Builder, raised: bool) -> tuple[Piece, ...]:
    """The pieces of a run, asking where `d` may be a name and `asin` a product."""
    scope = b.scope
    plain = split(run.text, scope, Habits(before_caret=raised))
    options = [plain]
    kinds = {piece.kind for piece in plain}
    if "d" in kinds and (scope.knows("d") or scope.quick):
        other = split(run.text, scope, Habits(d_is_name=True, before_caret=raised))
        starts_so = plain[0].kind == "d"
        options = [plain, other] if starts_so or b.calculus else [other, plain]
        return _known(b.chooser.choose("differential", run.span, [o for o in options if o[0].kind != "unknown"]))
    twofold = [p for p in plain if p.kind == "func" and run.text[p.start:p.start + 1] == "a" and p.ident.startswith("arc")
               and not run.text.startswith("arc", p.start)]
    if twofold:
        other = split(run.text, scope, Habits(inverse_apart=True, before_caret=raised))
        if other[0].kind != "unknown":
            named_a = scope.knows("a") or (scope.quick and len(run.text) > twofold[0].end)
            options = [other, plain] if named_a else [plain, other]
    return _known(b.chooser.choose("function", run.span, options))


def _known(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    return pieces


def _unit_after_all(run: Lexeme, before: list[Item], b: Builder) -> bool:
    """Without declarations, `kg` or `rad` after a factor is a unit rather than two or three names."""
    return (b.scope.quick and len(run.text) > 1 and run.text in READY and bool(before)
            and not b.scope.knows(canonical(run.text)) and before[-1].kind not in ("function", "root"))


# --- quantities -----------------------------------------------------------------------------------------------

_UNIT_FIGURE = re.compile(r"([A-Za-zμΩ]+)([23])\Z")


def _unit_run(run: Lexeme) -> Expr | None:
    """A whole run as a unit: `kg`, `°`, `s2` for s²."""
    ident = run.text if run.kind == "unit" else unit_named(run.text)
    if ident is not None:
        return Unit(ident, span=run.span)
    two = compound_named(run.text)
    if two is not None:
        return Quotient(Unit(two[0], span=run.span), Unit(two[1], span=run.span), span=run.span)
    squared = _UNIT_FIGURE.match(run.text)
    if squared and unit_named(squared.group(1)):
        from fractions import Fraction
        base = Unit(unit_named(squared.group(1)) or "", span=run.span)
        return Power(base, Num(Fraction(int(squared.group(2))), span=run.span), span=run.span)
    return None


def _unit_factor(factor: raw.RawFactor, b: Builder) -> Expr | None:
    """A factor that can be a unit: a run, a run with a numeric power, a bracket of units."""
    if isinstance(factor, raw.RawLetters):
        return _unit_run(factor.run)
    if isinstance(factor, raw.RawPower):
        base = _unit_factor(factor.base, b)
        if base is None or not _numeric(factor.exponent):
            return None
        return Power(base, b.exponent(factor.exponent), span=factor.span)
    if isinstance(factor, raw.RawGroup):
        return _unit_group(factor, b)
    return None


def _unit_group(group: raw.RawGroup, b: Builder) -> Expr | None:
    terms = group.inner.terms
    if len(terms) != 1 or terms[0][0] or group.primes or not isinstance(terms[0][1], raw.RawProduct):
        return None
    row = terms[0][1].row
    units, used = _unit_chain(row, 0, b)
    return units if used == len(row) else None


def _numeric(exponent: raw.RawExponent) -> bool:
    match exponent:
        case raw.RawNumber():
            return True
        case raw.RawNegative(inner):
            return _numeric(inner)
        case raw.RawGroup(inner=raw.RawSum(terms=((_, raw.RawProduct(row=row)),))):
            return all(isinstance(x.factor if isinstance(x, raw.RawJoined) else x, raw.RawNumber) for x in row)
    return False


def _unit_chain(row: tuple[raw.RawFactor | raw.RawJoined, ...], at: int, b: Builder) -> tuple[Expr | None, int]:
    """The longest stretch from `at` that reads as units, folded left to right, and its length."""
    units: Expr | None = None
    start = at
    while at < len(row):
        part = row[at]
        joined = isinstance(part, raw.RawJoined)
        factor = part.factor if isinstance(part, raw.RawJoined) else part
        if joined and (units is None or part.negative):  # type: ignore[union-attr]
            break
        unit = _unit_factor(factor, b)
        if unit is None:
            break
        units = _fold_unit(units, unit, joined and part.sign == "/")  # type: ignore[union-attr]
        at += 1
    return units, at - start


def _fold_unit(so_far: Expr | None, unit: Expr, divides: bool) -> Expr:
    if so_far is None:
        return unit
    assert so_far.span and unit.span
    span = Span(so_far.span.start, unit.span.end)
    if divides:
        return Quotient(so_far, unit, span=span)
    factors = so_far.factors if isinstance(so_far, Product) else (so_far,)
    return Product((*factors, unit), span=span)


def _quantity(row: tuple[raw.RawFactor | raw.RawJoined, ...], at: int, factor: raw.RawFactor, tight: bool,
              items: list[Item], b: Builder) -> int:
    """Read a number with the unit after it as one item; how many parts of the row that took, 0 for none.

    A bracketed unit may follow anything: `-4 î + 3 ĵ (m/s)`.
    """
    if isinstance(factor, raw.RawGroup) and items and not isinstance(row[at], raw.RawJoined):
        units = _unit_group(factor, b)
        if units is not None and b.chooser.choose("unit", factor.span, _bracket_options(factor, tight, b)):
            items.append(Item("done", factor.span, tight, units))
            return 1
        return 0
    if not isinstance(factor, raw.RawNumber) or at + 1 >= len(row) or isinstance(row[at + 1], raw.RawJoined):
        return 0
    units, used = _unit_chain(row, at + 1, b)
    if units is None or units.span is None:
        return 0
    lengths = _chain_options(row, at + 1, used, factor, b)
    length = b.chooser.choose("unit", Span(factor.span.start, units.span.end), lengths)
    if not length:
        return 0
    units, _ = _unit_chain(row[:at + 1 + length], at + 1, b)
    assert units is not None and units.span is not None
    number = replace(factor.value, span=factor.span)
    span = Span(factor.span.start, units.span.end)
    items.append(Item("done", span, tight, Product((number, units), span=span)))
    return 1 + length


def _bracket_options(group: raw.RawGroup, tight: bool, b: Builder) -> list[bool]:
    """May a bracket of letters be a unit? Certainly where it cannot be read as names."""
    row = group.inner.terms[0][1].row  # type: ignore[union-attr]
    if not all(_as_names(part, b) for part in row):
        return [True]
    if b.scope.quick:
        return [True, False] if group.bracket == "[" or not tight and len(row) > 1 else [False, True]
    return [True, False] if group.bracket == "[" else [False, True]


def _as_names(part: raw.RawFactor | raw.RawJoined, b: Builder) -> bool:
    """Can this part of a chain be read as declared names?"""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    if isinstance(factor, raw.RawPower):
        return _as_names(factor.base, b)
    if isinstance(factor, raw.RawGroup):
        return all(_as_names(p, b) for p in factor.inner.terms[0][1].row)  # type: ignore[union-attr]
    if not isinstance(factor, raw.RawLetters) or factor.run.kind == "unit":
        return False
    return split(factor.run.text, b.scope)[0].kind != "unknown"


def _chain_options(row: tuple[raw.RawFactor | raw.RawJoined, ...], at: int, used: int, number: raw.RawNumber,
                   b: Builder) -> list[int]:
    """How many parts after a number may be its unit, the likeliest first; 0 for none."""
    if not _as_names(row[at], b):
        options = [used]
        options += [n for n in range(1, used) if _as_names(row[at + n], b)]
        return options
    goes_on = at + used < len(row) and not isinstance(row[at + used], raw.RawJoined)
    if _declared_all(row[at], b):
        # `2 m g r`: a unit in the middle of a product of declared names is no reading that anybody means
        return [0] if goes_on else [0, used]
    options = [used, 0] if used == 1 else [used, 0, 1]
    if b.scope.quick and not _unit_is_likely(row, at, used, number):
        return [0, *[n for n in options if n]]
    return options


def _declared_all(part: raw.RawFactor | raw.RawJoined, b: Builder) -> bool:
    """Is every name in it one that somebody declared?"""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    while isinstance(factor, raw.RawPower):
        factor = factor.base
    if not isinstance(factor, raw.RawLetters):
        return False
    pieces = split(factor.run.text, b.scope)
    symbols = [b.scope.symbols.get(p.ident) for p in pieces if p.kind == "name"]
    return bool(symbols) and all(s is not None and s.declared for s in symbols)


# One-letter units that in a mechanics course are far more often names.
_RARELY_UNITS = frozenset(("g", "h", "t", "d", "u", "l", "L", "C", "V", "F", "T", "A", "K", "H", "S"))


def _unit_is_likely(row: tuple[raw.RawFactor | raw.RawJoined, ...], at: int, used: int, number: raw.RawNumber) -> bool:
    """Without declarations: is `5 m`, `9.81 m/s^2`, `2 g h` a quantity?"""
    parts = row[at:at + used]
    first = parts[0]
    while isinstance(first, raw.RawPower):
        first = first.base  # type: ignore[assignment]
    word = first.run.text if isinstance(first, raw.RawLetters) else "["
    if len(word) > 1 and word in READY:
        return True
    ends_row = at + used == len(row)
    divided = any(isinstance(p, raw.RawJoined) and p.sign == "/" for p in parts)
    decimal = number.value.last_digit is not None
    if not ends_row and not divided:
        return False
    if divided or isinstance(first, raw.RawGroup):
        return True
    if word in _RARELY_UNITS and not decimal or len(word) > 1:
        return False
    spaced = number.span.end < parts[0].span.start
    return (spaced or decimal) and used == 1 or decimal
