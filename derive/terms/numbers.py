"""Written decimals: how far a rounded number may be off, and by which familiar factor a wrong one is.

A decimal in a line of working stands for any value that rounds to it. The allowance of an equation is the
sum over its decimals of half a unit in the last written digit times how strongly the equation depends on it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import pi

import numpy as np
from numpy.typing import NDArray

from derive.notation.tree import (
    Claim,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Sum,
    Unit,
    names_in,
    rebuilt,
    walk,
)
from derive.quantities.typed_numbers import numbers_with_unit
from derive.terms.term import Var

_MARK = "#"
# A whole number of three figures with its unit (`918 N`) is a value put in, mostly a rounded one; a smaller one is
# as likely exact, and half a unit of its last figure would excuse too much.
_FIGURES_OF_A_VALUE = 100
# Nobody rounds a half to a whole one: how far a whole number in one figure may be off, by its own size.
_SHARE_OF_A_WHOLE = 0.25
_HALF = 0.5


@dataclass(frozen=True, slots=True)
class Rounded:
    """A claim with its decimals as unknowns: their values, and half a unit of their last digits."""

    claim: Claim
    values: dict[Var, float]
    halves: dict[Var, float]


def with_decimals_named(claim: Relation, given: Collection[float] = ()) -> Rounded | None:
    """The claim with every inexact number as an unknown of its own; None where all numbers are exact.

    A half and the plain numbers `given` are put in as they are: `0.5·0.2·3²` is no tenth more or less.
    """
    change: dict[int, object] = {}
    values: dict[Var, float] = {}
    halves: dict[Var, float] = {}
    results = {id(n) for side in claim.sides for n in [bare_number(side)] if n is not None}
    put_in = {id(n) for node in walk(claim) for n in (*numbers_with_unit(node), *_reckoned_with(node))} - results
    shares = {id(n) for node in walk(claim) for n in _shares(node)} - results
    exact = {_HALF, *given}
    for node in walk(claim):
        if not isinstance(node, Num):
            continue
        digit = node.last_digit if id(node) not in results else last_digit_of_result(node)
        if digit is None and (
                id(node) in shares or (id(node) in put_in and abs(node.value) >= _FIGURES_OF_A_VALUE)):
            digit = 0
        if digit is None or (float(node.value) in exact and id(node) not in results | put_in):
            continue
        v = Var(f"{_MARK}{len(values)}")
        values[v], halves[v] = float(node.value), 0.5 * 10.0**digit
        if node.last_digit is None:
            halves[v] = min(halves[v], _SHARE_OF_A_WHOLE * abs(values[v]))
        change[id(node)] = Name(v.name, span=node.span)
    if not values:
        return None
    return Rounded(rebuilt(claim, change), values, halves)  # type: ignore[arg-type]


def _reckoned_with(node: object) -> Iterator[Num]:
    """The 268 and 221 of `T = m g sin θ + f = 268 + 221`, values that were put in without their units. Of numbers alone
    (`268 + 221 = 490`) the sum has to be right."""
    sides = node.sides if isinstance(node, Relation) else ()
    for side in sides if any(map(names_in, sides)) else ():
        terms = side.terms if isinstance(side, Sum) and not names_in(side) else ()
        values = (term.arg if isinstance(term, Neg) else term for term in terms)
        yield from (n for n in values if isinstance(n, Num))


def _shares(node: object) -> Iterator[Num]:
    """The number of `33 % of L`: nobody writes more of a third."""
    for n in numbers_with_unit(node):
        if isinstance(node, Product) and node.factors[1:2] and node.factors[1] in _PER:
            yield n


_PER = (Unit("%"), Unit("‰"))


def bare_number(e: Expr) -> Num | None:
    """The number of a side that is a plain number with or without a unit (`0.42 s`, `-3 m/s`)."""
    if names_in(e):
        return None
    if isinstance(e, Neg):
        return bare_number(e.arg)
    numbers = [n for n in walk(e) if isinstance(n, Num)]
    if isinstance(e, Num):
        return e
    if isinstance(e, Product) and e.factors[1:] == (Num(Fraction(1)),):
        return bare_number(e.factors[0])  # 200 turns, which count
    if not any(isinstance(n, Unit) for n in walk(e)):
        return None
    lead: Expr = e
    while isinstance(lead, Product | Quotient):
        lead = lead.factors[0] if isinstance(lead, Product) else lead.num
    if not isinstance(lead, Num):
        return None
    # Other numbers may only be exponents of units: `9.8 m s^-2`.
    raised = {id(n) for p in walk(e) if isinstance(p, Power) for n in walk(p.exponent)}
    return lead if all(n is lead or id(n) in raised for n in numbers) else None


def last_digit_of_result(n: Num) -> int:
    """The place a written result is rounded to: the last written digit; for whole numbers the last one that
    is not a trailing zero, but never coarser than two figures."""
    if n.last_digit is not None:
        return n.last_digit
    value = abs(n.value)
    if value.denominator != 1 or value == 0:
        return -12
    digits = str(value.numerator)
    zeros = len(digits) - len(digits.rstrip("0"))
    return max(0, min(zeros, len(digits) - 2))


# Factors by which a number is wrong when a unit or a constant was mistaken (SI Brochure, prefixes).
FAMILIAR: tuple[tuple[str, float], ...] = (
    *((f"{10**k}", 10.0**k) for k in (1, 2, 3)), *((f"1/{10**k}", 10.0**-k) for k in (1, 2, 3)),
    *((f"10^{k}", 10.0**k) for k in (4, 6, 9, -4, -6, -9)),
    ("3.6 (km/h and m/s)", 3.6), ("3.6 (km/h and m/s)", 1 / 3.6), ("60 (minutes and seconds)", 60.0),
    ("60 (minutes and seconds)", 1 / 60), ("3600 (hours and seconds)", 3600.0), ("3600 (hours and seconds)", 1 / 3600),
    ("180/π (degrees and radians)", 180 / pi), ("180/π (degrees and radians)", pi / 180), ("2π", 2 * pi),
    ("2π", 1 / (2 * pi)), ("2", 2.0), ("2", 0.5), ("−1 (the sign)", -1.0),
    ("3.6² (km/h and m/s)", 3.6**2), ("3.6² (km/h and m/s)", 3.6**-2),
    ("√1000 (a prefix under a root)", 1e3**0.5), ("√1000 (a prefix under a root)", 1e-3**0.5),
    ("60/1000 (minutes and seconds, and a prefix)", 0.06), ("60/1000 (minutes and seconds, and a prefix)", 1 / 0.06),
)


# Odd enough that one figure, which much fits by chance, does not tell.
_RARE = frozenset((2 * pi, 1 / (2 * pi), 3.6**2, 3.6**-2, 1e3**0.5, 1e-3**0.5, 0.06, 1 / 0.06))
_RARE_ALLOWANCE = 5e-3


def familiar_factor(written: float, exact: float, allowance: float) -> str:
    """The name of the factor by which a written number differs from the exact one, or ''. Of several that one figure
    leaves open the nearest is meant."""
    if not exact or not np.isfinite(written / exact):
        return ""
    size = abs(written)

    def allowed(factor: float) -> float:
        return max(min(allowance, _RARE_ALLOWANCE * size) if factor in _RARE else allowance, 1e-3 * size)

    gaps = [(abs(written - exact * factor), allowed(factor), name) for name, factor in FAMILIAR]
    return min(((gap, name) for gap, most, name in gaps if gap <= most), default=(0.0, ""))[1]


def spread(values: NDArray[np.float64]) -> float:
    """Relative spread of a quantity over the states: zero when the context fixes it."""
    finite = values[np.isfinite(values)]
    if not finite.size:
        return np.inf
    middle = float(np.median(np.abs(finite)))
    return float(np.ptp(finite)) / middle if middle else float(np.ptp(finite))
