"""Numbers as they stand in a tree: the value of a small numeric expression, and which have their unit beside them.

Nothing here knows what a unit is worth or what dimension a name has.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
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


def halves(node: object, told: Collection[Fraction] = ()) -> Iterator[tree.Num]:
    """The numbers of the half in `½ m v²` and `p²/(2 m)`, beside two names or more: nobody puts that in for a value,
    but for a 2 that has been told."""
    found: tuple[tree.Num, ...] = ()
    first = node.factors[0] if isinstance(node, tree.Product) else None
    if isinstance(node, tree.Quotient) and Fraction(2) not in told:
        found = tuple(_two_below_a_square(node))
    elif isinstance(first, tree.Num) and first.value == Fraction(1, 2):
        found = (first,)
    elif isinstance(first, tree.Quotient) and isinstance(first.num, tree.Num) and isinstance(first.den, tree.Num) and (
            first.num.value == 1 and first.den.value == 2):
        found = (first.num, first.den)
    if found and len(set(tree.names_in(node))) > 1:
        yield from found


def _two_below_a_square(node: tree.Quotient) -> Iterator[tree.Num]:
    """The 2 of `m v²/2` and `p²/(2 m)`."""
    above = node.num.factors if isinstance(node.num, tree.Product) else (node.num,)
    two = node.den.factors[0] if isinstance(node.den, tree.Product) else node.den
    squared = any(isinstance(f, tree.Power) and isinstance(f.base, tree.Name) and as_number(f.exponent) == 2
                  for f in above)
    if squared and isinstance(two, tree.Num) and two.value == 2 and two.last_digit is None:
        yield two


def only_of_a_formula(side: tree.Expr, told: Collection[Fraction]) -> bool:
    """`2 a s`, `½ m v²`, `m1 u/(m1 + m2)`: two names or more, and before them no number but such as a formula has, and
    that nobody has told for a value."""
    powers = {id(k) for n in tree.walk(side) if isinstance(n, tree.Power) for k in tree.walk(n.exponent)}
    numbers = [n for n in tree.walk(side) if isinstance(n, tree.Num) and id(n) not in powers]
    return len(set(tree.names_in(side))) > 1 and not any(isinstance(n, tree.Unit) for n in tree.walk(side)) and all(
        n.last_digit is None and n.value in _FORMULA and (n.value == 1 or n.value not in told) for n in numbers)


_FORMULA = (Fraction(1, 2), 1, 2)
