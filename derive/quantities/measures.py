"""What is known of the dimension of one node of a tree, and the place at which a claim cannot be homogeneous."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from derive.notation import tree
from derive.quantities.exponents import NO_EXPONENTS, Exponents
from derive.records import Dimension

Place = Literal["term", "argument", "exponent", "limit", "component", "logarithm"]

_fresh_numbers = itertools.count(1)


class Misfit(Exception):
    """A place that cannot be homogeneous: the node, what it has, what was expected there."""

    def __init__(self, node: object, place: Place, found: Dimension | None, expected: Dimension | None) -> None:
        super().__init__(place)
        self.node, self.place, self.found, self.expected = cast(tree.Expr, node), place, found, expected


@dataclass(frozen=True, slots=True)
class LooseLog:
    """A logarithm of something with a dimension: right as part of a difference of logarithms.

    `times` is its coefficient where that is a number, else None."""

    argument: tree.Expr
    exponents: Exponents
    times: Fraction | None


@dataclass(frozen=True, slots=True)
class Measure:
    """What is known of one node. `plain`: made of numbers alone, without a unit or a name."""

    exponents: Exponents
    plain: bool = False
    logs: tuple[LooseLog, ...] = ()


PURE = Measure(NO_EXPONENTS)


def any_dimension() -> Exponents:
    """A dimension of its own that fits anywhere: of 0, of ∞, of a function nothing is known of."""
    return {f"#{next(_fresh_numbers)}": Fraction(1)}
