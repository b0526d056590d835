"""Differentials, derivatives written as quotients, and integrals within a row of items.

`dy/dt`, `d²y/dt²`, `d/dt(m v)`, `∂L/∂q'` become one item each; a `dx` that is left stands for itself or
ends an integral.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.failures import ReadError, unknown_name
from derive.notation.grammar import raw
from derive.notation.grouping.items import Builder, Item, powered
from derive.notation.tree import (
    Derivative,
    Differential,
    Expr,
    Integral,
    Name,
    Num,
    Span,
    Value,
    names_in,
    rebuilt,
    walk,
)


def differentials_settled(items: list[Item], b: Builder) -> list[Item]:
    """The row with every d and ∂ made into a derivative or a differential."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        if _is_d(items, at, b):
            item, at = _differential(items, at, b)
            out.append(item)
        else:
            out.append(items[at])
            at += 1
    return out


def _is_d(items: list[Item], at: int, b: Builder) -> bool:
    """Does the item start a derivative or a differential? A lone `d` does where only that makes sense."""
    item = items[at]
    following = items[at + 1] if at + 1 < len(items) else None
    if item.kind == "partial":
        return True
    if item.kind == "d":
        lone = following is None or not (following.tight or following.kind == "slash" or _over_d(items, at + 2))
        if lone:
            raise unknown_name("d", item.span, b.scope)
        return True
    if item.kind != "name" or item.ident != "d" or following is None:
        return False
    if following.kind == "slash":
        return at + 2 < len(items) and items[at + 2].kind == "d"
    if item.exponent is not None:
        return following.kind in ("name", "group") and _over_d(items, at + 2)
    if following.kind == "name" and _over_d(items, at + 2):   # d θ/dt
        return not b.scope.knows("d")
    if following.kind != "group" or not following.tight:
        return False
    if _over_d(items, at + 2) or not (b.scope.knows("d") or b.scope.quick):
        return True
    if b.calculus and not b.scope.knows("d"):
        return True
    options = [True, False] if b.calculus else [False, True]
    return b.chooser.choose("differential", Span(item.span.start, following.span.end), options)


def _over_d(items: list[Item], at: int) -> bool:
    return at + 1 < len(items) and items[at].kind == "slash" and items[at + 1].kind == "d"


def _differential(items: list[Item], at: int, b: Builder) -> tuple[Item, int]:
    """The derivative or differential that starts with the d at `at`, and the place after it."""
    d = items[at]
    partial = d.kind == "partial"
    order = _order(d, b)
    if at + 1 < len(items) and items[at + 1].kind == "slash":
        return _operator(items, at, order, partial, b)
    if at + 1 >= len(items) or items[at + 1].kind not in ("name", "group", "done"):
        raise ReadError(d.span, f"a name after this {'∂' if partial else 'd'}")
    body_item = items[at + 1]
    body = _value(body_item, b)
    below = _below(items, at + 2, order, partial, b)
    if below is None:
        if partial:
            raise ReadError(d.span, "what it is differentiated by, as in ∂L/∂q")
        return _alone(items, at, order, body, b), at + 2
    variables, end = below
    if body_item.exponent is not None:
        if order != 1 or sum(n for _, n in variables) != 1:
            return _alone(items, at, order, body, b), at + 2
        body = powered(b, body, body_item)
    if sum(n for _, n in variables) != order:
        return _alone(items, at, order, body, b), at + 2
    span = Span(d.span.start, items[end - 1].span.end)
    derivative = body
    for variable, times in reversed(variables):
        derivative = Derivative(derivative, variable, times, partial, span=span)
    return Item("done", span, d.tight, derivative), end


def _order(d: Item, b: Builder) -> int:
    if d.exponent is None:
        return 1
    exponent = b.exponent(d.exponent)
    if isinstance(exponent, Num) and exponent.value.denominator == 1 and 0 < exponent.value < 20:
        return int(exponent.value)
    raise ReadError(d.span, "a whole number as the order of this derivative")


def _value(item: Item, b: Builder) -> Expr:
    """What is differentiated, without an exponent."""
    if item.kind == "group":
        assert isinstance(item.node, raw.RawGroup)
        return b.sum(item.node.inner)
    assert item.expr is not None
    return item.expr


Variables = list[tuple[Expr, int]]


def _below(items: list[Item], at: int, order: int, partial: bool, b: Builder) -> tuple[Variables, int] | None:
    """The variables under the bar with their orders, and the place after them; None where there is no bar."""
    kind = "partial" if partial else "d"
    if at + 1 >= len(items) or items[at].kind != "slash" or items[at + 1].kind != kind:
        return None
    variables: Variables = []
    at += 1
    while at + 1 < len(items) and items[at].kind == kind and sum(n for _, n in variables) < order:
        under = items[at + 1]
        if under.kind not in ("name", "group"):
            raise ReadError(items[at].span, "a name after this d")
        times = _order(replace(under, expr=None), b) if under.exponent is not None else 1
        variables.append((_value(under, b), times))
        at += 2
    return (variables, at) if variables else None


def _alone(items: list[Item], at: int, order: int, body: Expr, b: Builder) -> Item:
    """`dv` as a factor of its own."""
    d, body_item = items[at], items[at + 1]
    span = Span(d.span.start, body_item.span.end)
    differential: Expr = body
    for _ in range(order):
        differential = Differential(differential, span=span)
    return Item("differential", span, d.tight, powered(b, differential, body_item))


def _operator(items: list[Item], at: int, order: int, partial: bool, b: Builder) -> tuple[Item, int]:
    """`d/dt (m v)`, `d²/dt² y`: the bracket after it, or all that follows in the row, is differentiated."""
    below = _below(items, at + 1, order, partial, b)
    if below is None or sum(n for _, n in below[0]) != order:
        raise ReadError(items[at].span, "the variable it is differentiated by, as in d/dt")
    variables, start = below
    if start >= len(items) or items[start].kind in ("slash", "times"):
        raise ReadError(items[start - 1].span, "something to differentiate after this")
    if items[start].kind == "group":
        end, body = start + 1, _value(items[start], b)
    else:
        end = len(items)
        body = b.product(items[start:])
    span = Span(items[at].span.start, items[end - 1].span.end)
    derivative = body
    for variable, times in reversed(variables):
        derivative = Derivative(derivative, variable, times, partial, span=span)
    if items[start].kind == "group":
        derivative = powered(b, derivative, items[start])
    return Item("done", span, items[at].tight, derivative), end


# --- integrals ----------------------------------------------------------------------------------------------------


def integrals_settled(items: list[Item], b: Builder) -> list[Item]:
    """The row with every integral sign, its body and its differential made into one item; inner ones first."""
    for at in range(len(items) - 1, -1, -1):
        if items[at].kind == "integral":
            items = _one_integral(items, at, b)
    return items


def _one_integral(items: list[Item], at: int, b: Builder) -> list[Item]:
    sign = items[at]
    close = next((i for i in range(at + 1, len(items)) if items[i].kind == "differential"), None)
    if close is None:
        raise ReadError(sign.span, "a differential such as dx, to say what the integral is over")
    body, end = _body(items, at, close)
    differential = items[close].expr
    if not isinstance(differential, Differential):
        raise ReadError(items[close].span, "a plain differential such as dx")
    assert isinstance(sign.node, raw.RawIntegral)
    lower, upper, variable = b.limits(sign.node)
    inside = b.product(body) if body else Num(Fraction(1), span=items[close].span)
    wrt = differential.body
    if variable is not None and variable != wrt:
        # Limits given for another variable: ∫ dm over 0 ≤ x ≤ L is ∫ (dm/dx) dx.
        inner = Derivative(wrt, variable, span=items[close].span)
        inside = inner if not body else b.product([*body, Item("done", items[close].span, expr=inner)])
        wrt = variable
    plain = _without_its_letter(inside, wrt)
    if upper is not None and _is_told_apart(wrt, plain, upper):
        inside, wrt = plain, upper
    span = Span(sign.span.start, items[end - 1].span.end)
    done = Item("done", span, sign.tight, Integral(inside, wrt, lower, upper, span=span))
    return [*items[:at], done, *items[end:]]


# The letters that run where a limit has the usual one.
_RUNNING = {"t": "τ", "x": "ξ"}


def _without_its_letter(inside: Expr, wrt: Expr) -> Expr:
    """v for the `v(τ)` of `∫_0^t v(τ) dτ`."""
    found = {id(n): n.function for n in walk(inside) if isinstance(n, Value) and n.args == (wrt,)}
    return rebuilt(inside, dict(found)) if found else inside  # type: ignore[return-value]


def _is_told_apart(wrt: Expr, inside: Expr, upper: Expr) -> bool:
    """Is what an integral runs over the letter of its end, marked so that it is not taken for that, but not marked in
    what is integrated: `∫_0^t v dτ`, `∫_0^x F dx'`?"""
    if not isinstance(upper, Name) or upper.ident in names_in(inside) or wrt in walk(inside):
        return False
    if isinstance(wrt, Derivative):  # as x' is read
        return wrt.body == upper and wrt.order == 1
    return isinstance(wrt, Name) and wrt.ident in (f"{upper.ident}'", _RUNNING.get(upper.ident))


def _body(items: list[Item], at: int, close: int) -> tuple[list[Item], int]:
    """What is integrated: between the sign and the differential, with a divisor after the differential."""
    body = items[at + 1:close]
    end = close + 1
    if body and body[-1].kind == "times":
        body = body[:-1]
    if body and body[-1].kind == "slash":
        raise ReadError(body[-1].span, "something after the slash to divide by")
    one = Item("number", items[close].span, expr=Num(Fraction(1), span=items[close].span))
    while end + 1 < len(items) and items[end].kind == "slash":
        stop = _divisor_end(items, end + 1)
        body = [*(body or [one]), *items[end:stop]]
        end = stop
    if not body and end < len(items) and items[end].kind not in ("slash", "times", "integral"):
        stop = next((i for i in range(end, len(items)) if items[i].kind == "integral"), len(items))
        body, end = items[end:stop], stop
    return body, end


def _divisor_end(items: list[Item], at: int) -> int:
    """The place after a divisor that starts at `at`: one item, with what a root or a function is taken of."""
    if items[at].kind == "root" and at + 1 < len(items):
        return _divisor_end(items, at + 1)
    if items[at].kind == "function" and at + 1 < len(items):
        if items[at + 1].kind in ("group", "tuple", "root", "function"):
            return _divisor_end(items, at + 1)
        stops = (i for i in range(at + 1, len(items)) if items[i].kind in ("slash", "times", "integral"))
        return next(stops, len(items))
    return at + 1


def needs_more(items: list[Item]) -> bool:
    """Is there an integral sign with no differential after it in the row?"""
    last = max((i for i, item in enumerate(items) if item.kind == "integral"), default=None)
    if last is None:
        return False
    return not ends_integral(items[last + 1:])


def ends_integral(items: list[Item]) -> bool:
    """Does the row hold a differential that is not part of a derivative?"""
    return any(item.kind == "d" and not (i and items[i - 1].kind == "slash") and not _over_d(items, i + 2)
               for i, item in enumerate(items))
