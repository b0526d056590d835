"""What a search for a proof may rely on: what is known to be nothing, and what is known not to be."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from derive.proof.algebra.clock import Clock
from derive.proof.algebra.polynomials import (
    Key,
    Poly,
    degree,
    exact_quotient,
    indices,
    initial,
    is_constant,
    key_of,
    power,
    primitive,
    pseudo_divide,
    scale,
)
from derive.proof.algebra.reading import Reader
from derive.proof.records import Source
from derive.terms.signs import is_nonzero

Move = Literal["combine", "substitute", "cancel"]
_SMALL = 6  # terms of a quantity that is worth looking at in this way


@dataclass(frozen=True, slots=True, eq=False)
class Zero:
    """Π factors · poly^power = Σ cofactor · zero. A given one has a source instead.

    age: how far back the oldest premise behind it lies, so that recent ones are preferred.
    """

    poly: Poly
    source: Source | None = None
    factors: tuple[tuple[Poly, int], ...] = ()
    parts: tuple[tuple[Zero, Poly], ...] = ()
    power: int = 1
    move: Move = "combine"
    about: int = -1
    age: int = 0


@dataclass(frozen=True, slots=True)
class NotNil:
    """poly · times = by · (numerator of the known inequality `known`, if not -1) + Σ cofactor · zero."""

    times: Poly
    by: Poly
    known: int = -1
    parts: tuple[tuple[Zero, Poly], ...] = ()


@dataclass(frozen=True, slots=True)
class Field:
    """What the search may rely on: the reader's signs and side relations, and known numerators that are not 0.

    zeros: the premises, by which a quantity may be seen not to vanish.
    ready, moved: premises cleaned and moves made, for each attempt begins with the same ones.
    """

    reader: Reader
    nonzero: tuple[tuple[int, Poly], ...]
    clock: Clock
    zeros: tuple[Zero, ...] = ()
    seen: dict[Key, NotNil | None] = field(default_factory=dict)
    ready: dict[Zero, Zero] = field(default_factory=dict)
    moved: dict[tuple[Zero, Zero, int, frozenset[int]], Zero | None] = field(default_factory=dict)

    def has_sign(self, p: Poly) -> bool:
        return bool(p) and (is_constant(p) or is_nonzero(self.reader.poly_sign(p)))

    def is_nonzero(self, p: Poly) -> bool:
        return self.has_sign(p) or self.shown(p) is not None

    def shown(self, p: Poly) -> NotNil | None:
        """Why a polynomial without a sign of its own is not 0."""
        key = key_of(p)
        if key not in self.seen:
            self.seen[key] = None  # not by itself
            self.seen[key] = self._divides_known(p) or self._by_a_premise(p)
        return self.seen[key]

    def _divides_known(self, p: Poly) -> NotNil | None:
        small = primitive(p)
        number = p[max(p)] // small[max(small)] if p else 1
        for index, k in self.nonzero:
            times = exact_quotient(k, small)
            if times is not None:
                return NotNil(times, {0: number}, index)
        return None

    def _by_a_premise(self, p: Poly) -> NotNil | None:
        """p = … by one premise, and what it equals is seen not to vanish."""
        if not p or len(p) > _SMALL:
            return None
        here = indices(p)
        for z in self.zeros:
            if len(z.poly) > 2 * _SMALL:
                continue
            for i in here:
                if degree(z.poly, i) != 1 or not self.has_sign(initial(z.poly, i)):
                    continue
                e, quotient, rest = pseudo_divide(p, z.poly, i)
                lead = power(initial(z.poly, i), e)
                if not rest:
                    continue
                if self.has_sign(rest):
                    return NotNil(lead, rest, -1, ((z, quotient),))
                for index, k in self.nonzero:
                    by = exact_quotient(rest, primitive(k))
                    if by is not None and self.has_sign(by):
                        scaled = k[max(k)] // primitive(k)[max(k)]
                        return NotNil(scale(lead, scaled), by, index, ((z, scale(quotient, scaled)),))
        return None
