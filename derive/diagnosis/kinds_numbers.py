"""Slips with written numbers: decimal points, units, degrees, digits, a square or a root of a result.

Plain functions of the same signature as in the other rooms of kinds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from derive.diagnosis.around import Around, Change
from derive.diagnosis.kinds_forms import is_measured
from derive.diagnosis.pieces import PI, factors_of, figures_of, number, product, result, rewritten
from derive.diagnosis.sites import Site
from derive.notation.tree import Apply, Expr, Name, Num, Product, Quotient, Relation, Unit, walk
from derive.quantities.unit_table import dimension
from derive.quantities.units import unit
from derive.terms.declared import plain_value
from derive.terms.numbers import bare_number, last_digit_of_result

TENS = ((3, 0.0), (-3, 0.0), (2, 0.1), (-2, 0.1), (1, 0.2), (-1, 0.2), (6, 0.3), (-6, 0.3), (4, 0.5), (-4, 0.5))


def power_of_ten(site: Site, around: Around) -> Iterator[Change]:
    """A decimal point in the wrong place, or a prefix forgotten."""
    node = site.node
    if not isinstance(node, Num) or node.value == 0 or _is_exponent(site):
        return
    if isinstance(site.parent, (Product, Quotient)) and not _measured(site) and node.last_digit is None:
        return  # the 2 of `2 g h` carries no decimal point to lose
    likely = 0.0 if not _measured(site) or _is_given(site, around) else -0.4
    for exponent, extra in TENS:
        if _is_a_result(site) and figures_of(node) > 1:  # the same figures, at another place
            moved = Num(node.value * Fraction(10) ** exponent, last_digit_of_result(node) + exponent)
        else:
            moved = _another(site, Fraction(10) ** exponent)
        yield Change(moved, at=node, extra=extra + likely)


def _is_given(site: Site, around: Around) -> bool:
    """The `3000 N` where the lines above say that F = 3.0 kN: that is not what is off."""
    value = plain_value(site.parent)
    given = (plain_value(way) for ways in around.ways.values() for way in ways)
    return value is not None and any(g is not None and math.isclose(g, value, rel_tol=1e-3) for g in given)


def _is_exponent(site: Site) -> bool:
    return bool(site.path) and site.path[-1][0] == "exponent"


def _measured(site: Site) -> bool:
    """The number of a quantity: of the `0.65` and the `½` in `½ · (0.65 m)` only the first."""
    return isinstance(site.parent, (Product, Quotient)) and is_measured(site.parent) and next(
        n for n in walk(site.parent) if isinstance(n, Num)) is site.node


def _is_a_result(site: Site) -> bool:
    """A number that is a whole side, with or without a unit: what something was worked out to be."""
    place = next((i for i, p in enumerate(site.parents) if isinstance(p, Relation)), None)
    if place is None or not isinstance(site.node, Num):
        return False
    side = site.parents[place + 1] if place + 1 < len(site.parents) else site.node
    return bare_number(side) is site.node


def _another(site: Site, by: Fraction) -> Num:
    """The number at a site multiplied: that of a result to its figures, one put in exactly."""
    return result(site.node, site.node.value * by) if _is_a_result(site) else rewritten(site.node, by)


_TIME = next(i for i, power in enumerate(dimension(s=1).powers) if power)
# Units that stand for one another on the page: what the number would have to be multiplied by.
EXCHANGE = (Fraction(36, 10), Fraction(60), Fraction(3600), Fraction(24), Fraction(36, 10) ** 2)
# The same written out as a factor, beside thousands: multiplied where it should divide, or the reverse.
BETWEEN_UNITS = tuple(number(n) for n in (*EXCHANGE[:4], 1000, 100))


def unit_exchange(site: Site, around: Around) -> Iterator[Change]:
    """A number left in km/h, minutes or hours where the unit says otherwise."""
    node = site.node
    if isinstance(node, (Product, Quotient)):
        yield from _exchanged_the_wrong_way(node)
    if not isinstance(node, Num) or node.value == 0 or _is_exponent(site):
        return
    if node.last_digit is None and not site.is_side and not _measured(site):
        return
    if _measured(site) and not _is_a_result(site) and (not _holds_time(site.parent) or _is_given(site, around)):
        return  # of `1000 kg/m³ · … /(2 s)` it is the 2 s that should have been minutes
    unlikely = 0.0 if _measured(site) else 0.5
    for rank, value in enumerate(EXCHANGE):
        yield Change(_another(site, 1 / value), at=node, extra=0.1 * rank + unlikely)
        yield Change(_another(site, value), at=node, extra=0.1 * rank + 0.05 + unlikely)


def _holds_time(quantity: object) -> bool:
    found = [unit(n.ident) for n in walk(quantity) if isinstance(n, Unit)]
    return any(u is not None and u.dimension.powers[_TIME] for u in found)


def _exchanged_the_wrong_way(node: Product | Quotient) -> Iterator[Change]:
    """`18 · 3.6` for `18/3.6`."""
    below = node.den if isinstance(node, Quotient) else None
    if isinstance(below, Num) and number(below.value) in BETWEEN_UNITS:
        assert isinstance(node, Quotient)
        yield Change(product((node.num, below)), at=node, extra=0.2)
    elif isinstance(node, Product):
        for i, f in enumerate(node.factors):
            if isinstance(f, Num) and number(f.value) in BETWEEN_UNITS:
                rest = node.factors[:i] + node.factors[i + 1 :]
                yield Change(product((Quotient(rest[0], f), *rest[1:])), at=node, extra=0.2)


TURNING = ("sin", "cos", "tan", "cot", "sec", "csc")
HALF_TURN = number(180)


def degrees(site: Site, _: Around) -> Iterator[Change]:
    """An angle taken in degrees where radians were meant, or the reverse."""
    node = site.node
    if isinstance(node, Apply) and node.function in TURNING and not _names(node):
        if any(isinstance(n, Unit) for n in walk(node.arg)):
            without = _without_degrees(node.arg)
            yield Change(Apply(node.function, without), at=node.arg, into=without)
        else:
            within = product((node.arg, Unit("°")))
            yield Change(Apply(node.function, within), at=node.arg, into=within)
    elif isinstance(node, Num) and node.value and _is_a_result(site):
        for factor, by in ((Quotient(PI, HALF_TURN), math.pi / 180), (Quotient(HALF_TURN, PI), 180 / math.pi)):
            yield Change(product((node, factor)), at=node, into=result(node, node.value * Fraction(by)), extra=0.05)


def _without_degrees(arg: Expr) -> Expr:
    return product([f for f in factors_of(arg) if not isinstance(f, Unit)])


def _names(node: Expr) -> bool:
    return any(isinstance(n, Name) for n in walk(node))


def power_of_result(site: Site, _: Around) -> Iterator[Change]:
    """A result whose square, root or inverse is the right one: the last step was left out, or made once too often."""
    node = site.node
    if not isinstance(node, Num) or node.value <= 0 or node.value == 1 or not _is_a_result(site):
        return
    yield Change(result(node, Fraction(math.sqrt(node.value))), at=node)
    yield Change(result(node, node.value**2), at=node, extra=0.1)
    yield Change(result(node, 1 / node.value), at=node, extra=0.1)
    yield Change(result(node, 1 / node.value**2), at=node, extra=0.2)  # 0.25 where it should be 4.0


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
            unlikely = 0.0 if _measured(site) else 0.5
            yield Change(Num(int(changed) * Fraction(10) ** node.last_digit, node.last_digit), at=node, extra=unlikely)
