"""Numbers as they stand in a tree: the value of a small numeric expression, and which have their unit beside them.

Nothing here knows what a unit is worth or what dimension a name has.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from derive.notation import tree


def as_number(node: object, depth: int = 6) -> Fraction | None:
    """The value of a small sum, product or quotient of numbers, such as stands in an exponent."""
    if depth == 0:
        return None
    match node:
        case tree.Num(value):
            return value
        case tree.Neg(arg):
            inner = as_number(arg, depth - 1)
            return None if inner is None else -inner
        case tree.Quotient(num, den):
            above, below = as_number(num, depth - 1), as_number(den, depth - 1)
            return above / below if above is not None and below else None
        case tree.Sum(terms) | tree.Product(terms) if len(terms) <= 8:
            values = [as_number(term, depth - 1) for term in terms]
            known = [value for value in values if value is not None]
            if len(known) < len(values):
                return None
            if isinstance(node, tree.Sum):
                return sum(known, Fraction(0))
            product = Fraction(1)
            for value in known:
                product *= value
            return product
    return None


def starts_with_unit(node: object) -> bool:
    """Whether what is typed next to a number is its unit."""
    for _ in range(20):
        match node:
            case tree.Unit():
                return True
            case tree.Power(base, _):
                node = base
            case tree.Quotient(num, _):
                node = num
            case tree.Product(factors):
                node = factors[0]
            case _:
                return False
    return False


def numbers_with_unit(node: object) -> Iterator[tree.Num]:
    """The numbers directly in this product or quotient that have their unit beside them."""
    following: Iterable[tuple[tree.Expr, tree.Expr]] = ()
    if isinstance(node, tree.Product):
        following = zip(node.factors, node.factors[1:], strict=False)
    elif isinstance(node, tree.Quotient):
        following = ((node.num, node.den),)
    for number, after in following:
        if isinstance(number, tree.Num) and starts_with_unit(after):
            yield number


def halves(node: object) -> Iterator[tree.Num]:
    """The numbers of the half in `½ m v²`, beside two names or more: nobody puts that in for a value."""
    first = node.factors[0] if isinstance(node, tree.Product) else None
    if first is None or len(set(tree.names_in(node))) < 2:
        return
    if isinstance(first, tree.Num) and first.value == Fraction(1, 2):
        yield first
    if isinstance(first, tree.Quotient) and isinstance(first.num, tree.Num) and isinstance(first.den, tree.Num) and (
            first.num.value == 1 and first.den.value == 2):
        yield from (first.num, first.den)
