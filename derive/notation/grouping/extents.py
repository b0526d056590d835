"""How far an operand or an argument reaches in a row of items, without building it."""

from __future__ import annotations

from derive.notation.failures import ReadError
from derive.notation.grouping.items import Item
from derive.notation.tree import Num, Product, Unit, UnitVector

OPERANDS = frozenset(("number", "name", "constant", "done", "group", "tuple", "function", "root"))
_BRACKETS = frozenset(("group", "tuple"))
_OF_ANGLES = frozenset(("°", "rad"))
_PLAIN = OPERANDS - {"function", "root"}


def operand_end(items: list[Item], at: int, sign: Item) -> int:
    """Where the single operand that starts at `at` ends, without building it."""
    while at < len(items) and items[at].kind == "minus":
        at += 1
    if at >= len(items) or items[at].kind in ("slash", "times"):
        raise ReadError(sign.span, "something after this sign")
    item = items[at]
    if item.kind in ("function", "root"):
        return argument_end(items, at)
    bracket = items[at + 1] if at + 1 < len(items) else None
    if item.kind == "name" and item.exponent is None and bracket and bracket.tight and bracket.kind in _BRACKETS:
        return at + 2
    return at + 1


def argument_end(items: list[Item], at: int) -> int:
    """Where a function's argument ends at the latest: at the next sign, function or unit vector."""
    end = at + 1
    while end < len(items) and items[end].kind == "minus":
        end += 1
    if end < len(items) and items[end].kind in ("function", "root"):
        return argument_end(items, end)
    first = end
    while end < len(items) and items[end].kind in _PLAIN:
        if end > first and items[end].kind in _BRACKETS and not items[end].tight:
            break
        if end > first and isinstance(items[end].expr, UnitVector):
            break
        end += 1
        if items[end - 1].kind in _BRACKETS or _is_an_angle(items[end - 1]):
            break
    return end


def _is_an_angle(item: Item) -> bool:
    """`T sin 30° L`: an angle in degrees is the whole of what the sine is taken of."""
    parts = item.expr.factors if isinstance(item.expr, Product) else ()
    return len(parts) == 2 and isinstance(parts[0], Num) and isinstance(parts[1], Unit) and parts[1].ident in _OF_ANGLES
