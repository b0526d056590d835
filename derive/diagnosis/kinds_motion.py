"""Slips of differentiating and integrating, and with names, numbers and units.

Plain functions of the same signature as in the other rooms of kinds.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from derive.diagnosis.around import Around, Change, alike_to_the_eye, inner_derivative
from derive.diagnosis.kinds_forms import is_measured
from derive.diagnosis.kinds_terms import is_term
from derive.diagnosis.pieces import (
    factors_of,
    negated,
    number,
    over,
    product,
    rewritten,
    terms_of,
    times,
    total,
)
from derive.diagnosis.sites import Site
from derive.notation.tree import (
    Apply,
    Between,
    Component,
    Constant,
    Derivative,
    Expr,
    Integral,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Sum,
    Unit,
    Value,
    walk,
)


def inner_factor(site: Site, around: Around) -> Iterator[Change]:
    """A derivative without the factor that the inside brings (`cos ωt` for `ω cos ωt`), or an integral with it."""
    node = site.node
    if not is_term(site) or isinstance(node, Sum):
        return
    pointed = node.arg if isinstance(node, Neg) else node
    for part in walk(node):
        arg = _inside(part)
        if arg is None:
            continue
        for inner in inner_derivative(arg, around):
            yield Change(times(node, inner), at=pointed)
            yield Change(over(node, inner), at=pointed, extra=0.1)
            yield Change(times(times(node, inner), inner), at=pointed, extra=0.4)
            yield Change(negated(times(node, inner)), at=pointed, extra=0.5)
    for f in factors_of(node):
        base = f.base if isinstance(f, Power) else f
        if isinstance(base, Name) and base.ident in around.moving:
            yield Change(times(node, Derivative(base, Name("t"))), at=pointed, extra=0.2)


def _inside(part: object) -> Expr | None:
    if isinstance(part, Apply) and part.function not in ("abs", "sqrt"):
        return part.arg
    if isinstance(part, Power) and part.base == Constant("e"):
        return part.exponent
    return None


def product_part(site: Site, around: Around) -> Iterator[Change]:
    """A product differentiated in one factor only: `m' v` forgotten beside `m v'`."""
    node = site.node
    if not is_term(site) or isinstance(node, Sum):
        return
    parts = factors_of(node)
    whole: Expr
    for i, f in enumerate(parts):
        if not (isinstance(f, Derivative) and isinstance(f.body, Name)):
            continue
        lowered = f.body if f.order == 1 else Derivative(f.body, f.wrt, f.order - 1)
        for j, g in enumerate(parts):
            if j != i and isinstance(g, Name) and g.ident in around.moving:
                others = [p for k, p in enumerate(parts) if k not in (i, j)]
                whole = product((*others, Derivative(g, f.wrt), lowered))
                added = total((*terms_of(node), Neg(whole) if isinstance(node, Neg) else whole))
                yield Change(added, at=node, into=added)


def derivative_order(site: Site, around: Around) -> Iterator[Change]:
    """A speed for an acceleration, a place for a speed."""
    node = site.node
    if isinstance(node, Derivative) and isinstance(node.body, Name):
        yield Change(Derivative(node.body, node.wrt, node.order + 1, node.partial), at=node)
        lower = node.body if node.order == 1 else Derivative(node.body, node.wrt, node.order - 1, node.partial)
        yield Change(lower, at=node)
    elif isinstance(node, Name) and node.ident in around.moving and not isinstance(site.parent, Derivative):
        yield Change(Derivative(node, Name("t")), extra=0.1)
        yield Change(Derivative(node, Name("t"), 2), extra=0.3)


def limits(site: Site, _: Around) -> Iterator[Change]:
    """The limits of an integral the wrong way round, or one of them another name's."""
    node = site.node
    zero = number(0)
    if isinstance(node, Integral) and node.lower is not None:
        # Another sign in front says the same; limits that run down to zero are the likelier slip of the two.
        backwards = -0.6 if node.upper == zero else 0.0
        yield Change(Integral(node.body, node.wrt, node.upper, node.lower), at=node, extra=backwards)
        if node.lower != zero:
            yield Change(Integral(node.body, node.wrt, zero, node.upper), at=node.lower, into=zero, extra=0.3)
    elif isinstance(node, Between):
        backwards = -0.6 if node.upper == zero else 0.0
        yield Change(Between(node.body, node.upper, node.lower, node.wrt), at=node, extra=backwards)


def neighbour(site: Site, around: Around) -> Iterator[Change]:
    """One name for another of the same kind: the other mass, the final speed for the first."""
    node = site.node
    if not isinstance(node, Name) or isinstance(site.parent, (Component, Value)):
        return
    if isinstance(site.parent, (Derivative, Integral)) and site.path[-1][0] == "wrt":
        return
    for rank, other in enumerate(around.near(node.ident)):
        yield Change(Name(other), extra=0.1 * rank + (0.0 if alike_to_the_eye(node.ident, other) else 0.45))


TENS = ((3, 0.0), (-3, 0.0), (2, 0.1), (-2, 0.1), (1, 0.2), (-1, 0.2), (6, 0.3), (-6, 0.3), (4, 0.5), (-4, 0.5))


def power_of_ten(site: Site, _: Around) -> Iterator[Change]:
    """A decimal point in the wrong place, or a prefix forgotten."""
    node = site.node
    if not isinstance(node, Num) or node.value == 0 or _is_exponent(site):
        return
    if isinstance(site.parent, (Product, Quotient)) and not _measured(site) and node.last_digit is None:
        return  # the 2 of `2 g h` carries no decimal point to lose
    likely = -0.4 if _measured(site) else 0.0
    for exponent, extra in TENS:
        yield Change(rewritten(node, Fraction(10) ** exponent), at=node, extra=extra + likely)


def _is_exponent(site: Site) -> bool:
    return bool(site.path) and site.path[-1][0] == "exponent"


def _measured(site: Site) -> bool:
    """The number of a quantity: of the `0.65` and the `½` in `½ · (0.65 m)` only the first."""
    return isinstance(site.parent, (Product, Quotient)) and is_measured(site.parent) and next(
        n for n in walk(site.parent) if isinstance(n, Num)) is site.node


# Units that stand for one another on the page: what the number would have to be multiplied by.
EXCHANGE = (Fraction(36, 10), Fraction(60), Fraction(3600), Fraction(24))
# The same written out as a factor, beside thousands: multiplied where it should divide, or the reverse.
BETWEEN_UNITS = tuple(number(n) for n in (*EXCHANGE, 1000, 100))


def unit_exchange(site: Site, _: Around) -> Iterator[Change]:
    """A number left in km/h, minutes or hours where the unit says otherwise."""
    node = site.node
    if isinstance(node, (Product, Quotient)):
        yield from _exchanged_the_wrong_way(node)
    if not isinstance(node, Num) or node.value == 0 or _is_exponent(site):
        return
    if node.last_digit is None and not site.is_side and not _measured(site):
        return
    likely = -0.5 if _measured(site) else 0.0
    for rank, value in enumerate(EXCHANGE):
        yield Change(rewritten(node, 1 / value), at=node, extra=0.1 * rank + likely)
        yield Change(rewritten(node, value), at=node, extra=0.1 * rank + 0.05 + likely)


def _exchanged_the_wrong_way(node: Product | Quotient) -> Iterator[Change]:
    """`18 · 3.6` for `18/3.6`."""
    below = node.den if isinstance(node, Quotient) else None
    if isinstance(below, Num) and number(below.value) in BETWEEN_UNITS:
        assert isinstance(node, Quotient)
        yield Change(product((node.num, below)), at=node, extra=-0.3)
    elif isinstance(node, Product):
        for i, f in enumerate(node.factors):
            if isinstance(f, Num) and number(f.value) in BETWEEN_UNITS:
                rest = node.factors[:i] + node.factors[i + 1 :]
                yield Change(product((Quotient(rest[0], f), *rest[1:])), at=node, extra=-0.3)


TURNING = ("sin", "cos", "tan", "cot", "sec", "csc")


def degrees(site: Site, _: Around) -> Iterator[Change]:
    """An angle taken in degrees where radians were meant, or the reverse."""
    node = site.node
    if isinstance(node, Apply) and node.function in TURNING and not _names(node):
        if any(isinstance(n, Unit) for n in walk(node.arg)):
            yield Change(Apply(node.function, _without_degrees(node.arg)), at=node.arg)
        else:
            yield Change(Apply(node.function, product((node.arg, Unit("°")))), at=node.arg)
    elif isinstance(node, Num) and site.is_side and node.value:
        in_radians = product((node, Quotient(Constant("π"), number(180))))
        yield Change(in_radians, at=node, extra=0.3)
        yield Change(product((node, Quotient(number(180), Constant("π")))), at=node, extra=0.3)


def _without_degrees(arg: Expr) -> Expr:
    return product([f for f in factors_of(arg) if not isinstance(f, Unit)])


def _names(node: Expr) -> bool:
    return any(isinstance(n, Name) for n in walk(node))


def digits(site: Site, _: Around) -> Iterator[Change]:
    """Two neighbouring digits of a number changed about in copying."""
    node = site.node
    if not isinstance(node, Num) or node.last_digit is None or not -9 <= node.last_digit <= 0:
        return
    written = node.value * Fraction(10) ** -node.last_digit
    text = str(written.numerator)
    for i in range(len(text) - 1):
        if text[i] != text[i + 1]:
            changed = text[:i] + text[i + 1] + text[i] + text[i + 2 :]
            likely = -0.5 if _measured(site) else 0.0
            yield Change(Num(int(changed) * Fraction(10) ** node.last_digit, node.last_digit), at=node, extra=likely)
