"""Angles and exponents that are whole combinations of a few: 2θ and θ of θ; ωt + φ and φ of ωt and φ.

A vector is a sum of pieces with rational coefficients, as a dict.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import lcm

from derive.terms.term import Term

Vector = dict[Term, Fraction]

_LARGEST = 16  # multiples beyond this are left alone: expanding cos 40θ helps nobody


def basis(vectors: Iterable[Vector]) -> list[Vector]:
    """A list of vectors of which all the given ones are whole combinations, as few as there can be."""
    given = [v for v in vectors if v]
    columns = list(dict.fromkeys(k for v in given for k in v))
    whole = lcm(*(c.denominator for v in given for c in v.values())) if given else 1
    rows = [[int(v.get(k, 0) * whole) for k in columns] for v in given]
    done = 0
    for j in range(len(columns)):
        done = _cleared(rows, j, done)
    return [
        {k: Fraction(c, whole) for k, c in zip(columns, row, strict=True) if c} for row in rows[:done]
    ]


def _cleared(rows: list[list[int]], j: int, done: int) -> int:
    """Euclid on one column below the rows already done."""
    while True:
        live = [r for r in range(done, len(rows)) if rows[r][j]]
        if not live:
            return done
        best = min(live, key=lambda r: abs(rows[r][j]))
        rows[done], rows[best] = rows[best], rows[done]
        top = rows[done]
        if top[j] < 0:
            rows[done] = top = [-c for c in top]
        for r in range(done + 1, len(rows)):
            q = rows[r][j] // top[j]
            if q:
                rows[r] = [a - q * b for a, b in zip(rows[r], top, strict=True)]
        if not any(rows[r][j] for r in range(done + 1, len(rows))):
            for r in range(done):  # keep what stands above small as well
                q = rows[r][j] // top[j]
                if q:
                    rows[r] = [a - q * b for a, b in zip(rows[r], top, strict=True)]
            return done + 1


def combination(v: Vector, base: list[Vector]) -> list[int] | None:
    """Whole numbers n with v = Σ n·base, or None where there are none that are small."""
    rest = dict(v)
    out: list[int] = []
    for b in base:
        pivot = next(iter(b))
        n = rest.get(pivot, Fraction(0)) / b[pivot]
        if n.denominator != 1 or abs(n) > _LARGEST:
            return None
        out.append(int(n))
        for k, c in b.items():
            left = rest.get(k, Fraction(0)) - n * c
            if left:
                rest[k] = left
            else:
                rest.pop(k, None)
    return out if not rest else None
