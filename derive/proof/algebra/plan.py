"""What one pass over the terms of a proof finds for the next: shared roots, basic angles and exponents."""

from __future__ import annotations

from dataclasses import dataclass, field

from derive.proof.algebra.lattice import Vector
from derive.terms.term import Term

LARGEST_POWER = 64  # written exponents beyond this are not multiplied out


class Unread(Exception):
    """A term that has no reading as a quotient of polynomials (an infinity, an enormous power)."""


@dataclass(slots=True)
class Plan:
    """What a pass over all the terms finds for the next one."""

    degrees: dict[Term, int] = field(default_factory=dict)
    angles: list[Vector] = field(default_factory=list)
    exponents: list[Vector] = field(default_factory=list)
    angle_base: list[tuple[Vector, Term]] = field(default_factory=list)
    exponent_base: list[tuple[Vector, Term]] = field(default_factory=list)
