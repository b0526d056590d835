"""A row of factors to a flat list of items: letters split into names, numbers joined with their units."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.failures import ReadError, unknown_name
from derive.notation.grammar import raw
from derive.notation.grouping.amounts import quantity, unit_behind_pi, unit_run
from derive.notation.grouping.items import QUANTITY, Builder, Item, named
from derive.notation.lexemes.letters import Habits, Piece, split
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import READY
from derive.notation.names import Scope, canonical
from derive.notation.tree import Constant, Name, Num, Span, Unit, UnitVector


def items_of(row: tuple[raw.RawFactor | raw.RawJoined, ...], b: Builder) -> list[Item]:
    """The row's items; quantities (a number with its unit) are one item each."""
    items: list[Item] = []
    at = 0
    while at < len(row):
        part = row[at]
        factor: raw.RawFactor
        if isinstance(part, raw.RawJoined):
            close = bool(items) and items[-1].span.end == part.sign_span.start
            items.append(Item("slash" if part.sign == "/" else "times", part.sign_span, close, ident=part.sign))
            if part.negative:
                items.append(Item("minus", part.sign_span))
            factor = part.factor
        else:
            factor = part
        tight = bool(items) and items[-1].span.end == factor.span.start
        used = quantity(row, at, factor, tight, items, b) or unit_behind_pi(row, at, tight, items, b)
        if not used:
            squared = isinstance(factor, raw.RawPower) and _is_squared(factor, items, row[at + 1:])
            items += _factor(factor, tight, items, b, _over_ds(row, at), squared)
            used = 1
        at += used
    return items


def _over_ds(row: tuple[raw.RawFactor | raw.RawJoined, ...], at: int) -> bool:
    """Is the part at `at` one half of `dy/dt` or `d/dt`? Then its d is no name, declared or not."""
    part = row[at]
    if isinstance(part, raw.RawJoined):
        return part.sign == "/" and at > 0 and bool(_d_run(part)) and bool(_d_run(row[at - 1]))
    following = row[at + 1] if at + 1 < len(row) else None
    over = isinstance(following, raw.RawJoined) and following.sign == "/" and len(_d_run(following)) > 1
    return over and len(_d_run(part)) > 1


def _d_run(part: raw.RawFactor | raw.RawJoined) -> str:
    """The run of letters of a part if it begins with a d, else ''."""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    if isinstance(factor, raw.RawPower):
        factor = factor.base
    text = factor.run.text if isinstance(factor, raw.RawLetters) else ""
    return text if text.startswith("d") else ""


def _factor(factor: raw.RawFactor, tight: bool, before: list[Item], b: Builder, over_ds: bool = False,
            squared: bool = False) -> list[Item]:
    """The items of one factor."""
    if isinstance(factor, raw.RawPower):
        items = _factor(factor.base, tight, before, b, over_ds)
        last = items[-1]
        if last.kind == "name" and isinstance(factor.base, raw.RawLetters):
            items = _letters(factor.base, tight, before, b, raised=not squared)
            last = items[-1]
        return [*items[:-1], replace(last, exponent=factor.exponent, span=Span(last.span.start, factor.span.end))]
    if isinstance(factor, raw.RawLetters):
        return _letters(factor, tight, before, b, over_ds=over_ds)
    if isinstance(factor, raw.RawFraction) and _starts_with_d(factor.top) and _starts_with_d(factor.bottom):
        top, bottom = (items_of(_row(part), b) for part in (factor.top, factor.bottom))
        return [*top, Item("slash", factor.span, ident="/"), *bottom]
    if isinstance(factor, raw.RawNumber) and before and before[-1].ident == QUANTITY and not tight:
        raise ReadError(factor.span, "a sign between these two quantities")  # 2 min 30 s
    return [_single(factor, tight, b)]


def _is_squared(
    power: raw.RawPower, before: list[Item], behind: tuple[raw.RawFactor | raw.RawJoined, ...]
) -> bool:
    """`b² = a² (1 - e²)`, `h1 = e² h0`: the square of an eccentricity or a restitution, where `e^(-2)` and `v0/e²` are
    what a motion has come to, and `e^2x` goes on."""
    below = bool(before) and before[-1].kind == "slash"
    goes_on = bool(behind) and isinstance(behind[0], raw.RawLetters) and behind[0].span.start == power.span.end
    even = isinstance(power.exponent, raw.RawNumber) and power.exponent.value.value in (2, 4)
    return even and not below and not goes_on


def _row(group: raw.RawGroup) -> tuple[raw.RawFactor | raw.RawJoined, ...]:
    """The row of factors in a bracket that holds a single term, or ()."""
    term = group.inner.terms[0][1]
    single = len(group.inner.terms) == 1 and not group.inner.terms[0][0] and isinstance(term, raw.RawProduct)
    return term.row if single and isinstance(term, raw.RawProduct) else ()


def _starts_with_d(group: raw.RawGroup) -> bool:
    r"""One half of `\frac{dy}{dt}`."""
    row = _row(group)
    first = row[0] if row else None
    if isinstance(first, raw.RawPower):
        first = first.base
    return isinstance(first, raw.RawLetters) and first.run.text[0] in "d∂"


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


# Units that nobody puts behind a name: the H of `e^(2 k H)` is a height that was not declared.
_RARE_BEHIND_A_NAME = frozenset("HVACFTSKL")


def _letters(factor: raw.RawLetters, tight: bool, before: list[Item], b: Builder, raised: bool = False,
             over_ds: bool = False) -> list[Item]:
    """A run as items, one a piece; another split is offered where people read it in two ways."""
    run, scope = factor.run, b.scope
    if run.kind == "unit":
        return [Item("done", run.span, tight, Unit(run.text, span=run.span))]
    pieces = _split(run, b, raised, over_ds)
    minutes = run.text in READY and any(p.kind == "const" and p.ident == "i" for p in pieces)  # and no √(-1)
    if pieces[0].kind == "unknown" or _unit_after_all(run, before, b) or (minutes and before):
        unit = unit_run(run)
        if unit is not None and before and not (_RARE_BEHIND_A_NAME.issuperset(run.text) and isinstance(
                before[-1].expr, Name)):
            return [Item("done", run.span, tight, unit)]
        skipped = 1 if run.text[0] == "∂" and len(run.text) > 1 else 0
        raise unknown_name(run.text[skipped:], Span(run.places[skipped].start, run.span.end), scope)
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
            return Item("number", span, tight, Num(Fraction(piece.ident), span=span))
        case "func":
            return Item("function", span, tight, ident=piece.ident)
        case "partial":
            return Item("partial", span, tight, ident="∂")
        case _:
            return Item("d", span, tight, ident="d")


def _split(run: Lexeme, b: Builder, raised: bool, over_ds: bool) -> tuple[Piece, ...]:
    """The pieces of a run, asking where `d` may be a name and `asin` a product."""
    scope = b.scope
    plain = split(run.text, scope, Habits(before_caret=raised))
    options = [plain]
    kinds = {piece.kind for piece in plain}
    starts_so = plain[0].kind == "d"
    if "d" in kinds and not over_ds and (scope.knows("d") or (scope.quick and not starts_so)):
        other = split(run.text, scope, Habits(d_is_name=True, before_caret=raised))
        options = [plain, other] if starts_so or b.calculus else [other, plain]
        return b.chooser.choose("differential", run.span, [o for o in options if o[0].kind != "unknown"])
    twofold = [p for p in plain if p.kind == "func" and p.ident.startswith("arc")
               and run.text[p.start] == "a" and not run.text.startswith("arc", p.start)]
    if twofold:
        other = split(run.text, scope, Habits(inverse_apart=True, before_caret=raised))
        if other[0].kind != "unknown":
            named_a = scope.knows("a") or (scope.quick and len(run.text) > twofold[0].end)
            options = [other, plain] if named_a else [plain, other]
    return b.chooser.choose("function", run.span, options)


def _unit_after_all(run: Lexeme, before: list[Item], b: Builder) -> bool:
    """Without declarations, `kg` or `rad` after a factor is a unit rather than two or three names; `2π rad` is
    an angle even where r, a and d are declared."""
    if run.text in ("rad", "deg") and run.spaced and before and before[-1].kind in ("number", "constant"):
        return b.chooser.choose("unit", run.span, [True, False])
    return (b.scope.quick and len(run.text) > 1 and run.text in READY and bool(before)
            and not b.scope.knows(canonical(run.text)) and before[-1].kind not in ("function", "root"))
