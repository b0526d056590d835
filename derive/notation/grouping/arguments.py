"""Where the argument of a function typed without brackets ends: `sin ω t`, `sin θ t²`, `sin θ/2`.

On paper the eye decides. Here: a bracket is the whole argument; figures go with the letters after them;
an angle is an argument by itself, other letters take their neighbours along; and every other end is an
option.
"""

from __future__ import annotations

from derive.notation.failures import ReadError
from derive.notation.grouping.extents import OPERANDS, argument_end, operand_end
from derive.notation.grouping.items import Builder, Item
from derive.notation.names import Scope
from derive.notation.tree import Expr, Name, Neg, Span

_ANGLES = frozenset("θφαβψδεϑΘΦ")
_FUNCTIONS_OF_PRODUCTS = frozenset(("sin", "cos", "tan", "cot", "sec", "csc", "exp", "sinh", "cosh", "tanh"))
_MOST_OPTIONS = 5


def argument(items: list[Item], at: int, b: Builder) -> tuple[Expr, int, Item | None]:
    """The argument of the function or root at `at`, where it ends, and the bracket whose exponent belongs to
    the whole (`sin(θ)²`), or None."""
    function = items[at]
    first = at + 1
    negative = first < len(items) and items[first].kind == "minus"
    if negative:
        first += 1
    if first >= len(items) or items[first].kind in ("slash", "times", "differential", "integral", "minus"):
        sign = "√" if function.kind == "root" else function.ident
        raise ReadError(function.span, f"an argument after this {sign}")
    if items[first].kind in ("function", "root"):
        inner, end = _root_and_more(items, at, first, b)
        return _signed(inner, negative, items[at + 1]), end, None
    if items[first].kind in ("group", "tuple"):
        bracket = items[first]
        return _signed(b.bracket(bracket), negative, items[at + 1]), first + 1, bracket
    ends = _ends(items, at, first, b)
    place = Span(function.span.start, items[max(ends) - 1].span.end)
    end = b.chooser.choose("argument", place, ends)
    inner = b.grouped(items[first:end])
    b.chooser.came_to(place, inner)
    return _signed(inner, negative, items[at + 1]), end, None


def _root_and_more(items: list[Item], at: int, first: int, b: Builder) -> tuple[Expr, int]:
    """`cos √(k/m) t`, `cos √3 ω t`: behind the bracket or the figure of a root the argument mostly goes on."""
    inner, end = b.operand(items, first)
    last = end
    while last < len(items) and items[last].kind == "name":
        last += 1
    if _is_root(items[at]) or not _is_root(items[first]) or last == end or items[end - 1].kind not in (
            "group", "number"):
        return inner, end
    place = Span(items[at].span.start, items[last - 1].span.end)
    taken = b.chooser.choose("argument", place, [last, end])
    if taken == last:
        inner = b.grouped(items[first:last])
    b.chooser.came_to(place, inner)
    return inner, taken


def _is_root(item: Item) -> bool:
    return item.kind == "root" or item.ident == "sqrt"


def _signed(inner: Expr, negative: bool, minus: Item) -> Expr:
    if not negative:
        return inner
    assert inner.span is not None
    return Neg(inner, span=Span(minus.span.start, inner.span.end))


def _ends(items: list[Item], at: int, first: int, b: Builder) -> list[int]:
    """Where the argument may end, the likeliest first."""
    last = max(argument_end(items, at), first + 1)
    usual = _usual_end(items, at, first, last, b.scope)
    # What is typed without a space, `sin ωt`, is not cut in two.
    others = [e for e in range(first + 1, last + 1)
              if e != usual and not (e < len(items) and items[e].tight and items[e].kind not in ("slash", "times"))]
    ends = [usual, *sorted(others, key=lambda e: (e not in (first + 1, last), e))][:_MOST_OPTIONS - 1]
    divided = _after_slash(items, usual)
    if divided:
        only_figures = all(i.kind in ("number", "constant") for i in items[first:usual])
        of_a_figure = items[at].ident == "ln" and items[usual + 1].kind not in ("number", "constant")  # t = ln 2/k
        ends.insert(0 if only_figures and items[at].kind == "function" and not of_a_figure else 1, divided)
    return ends


def _usual_end(items: list[Item], at: int, first: int, last: int, scope: Scope) -> int:
    end = first + 1
    while end < last and items[end - 1].kind in ("number", "constant") and _coefficient(items, at, end):
        end += 1
    if items[at].kind == "root" and items[first].kind == "number":
        return end
    while end < last and items[end].tight:
        end += 1
    if items[at].ident in _FUNCTIONS_OF_PRODUCTS and not any(_is_angle(i, scope) for i in items[first:end]):
        while end < last and items[end].kind != "number":
            end += 1
    return end


def _coefficient(items: list[Item], at: int, end: int) -> bool:
    """`sin 2θ`: the figure goes with what follows. After a root it stands alone: √2 v."""
    return items[at].kind != "root" and items[end].kind in ("name", "constant", "done")


def _is_angle(item: Item, scope: Scope) -> bool:
    if item.kind != "name" or not isinstance(item.expr, Name):
        return False
    symbol = scope.symbols.get(item.ident)
    if symbol is not None and symbol.dimension is not None:
        return not any(symbol.dimension.powers)
    return item.ident[:1] in _ANGLES


def _after_slash(items: list[Item], end: int) -> int:
    """Where the argument ends if the slash at `end` belongs to it, 0 if there is none."""
    if end + 1 < len(items) and items[end].kind == "slash" and items[end + 1].kind in OPERANDS \
            and items[end - 1].exponent is None:
        return operand_end(items, end + 1, items[end])
    return 0
