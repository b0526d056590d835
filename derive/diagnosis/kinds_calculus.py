"""Slips with the direction of calculus: differentiated where it should be integrated, or the reverse.

Plain functions of the same signature as in the other rooms of kinds.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from derive.diagnosis.around import Around, Change
from derive.diagnosis.pieces import factors_of, number, over, plain, scaled, terms_of, times, total
from derive.diagnosis.sites import Site
from derive.notation.tree import Between, Expr, Name, Power, Sum, names_in, walk


def reversed_calculus(site: Site, around: Around) -> Iterator[Change]:
    """`[k + 3 c x²]_0^d` for `[½ k x² + ¼ c x⁴]_0^d`: powers of a name, each two steps from where it should be."""
    node = site.node
    inside = isinstance(site.parent, Between) and site.path[-1][0] == "body"
    if not around.calculus or not (inside or (site.is_side and isinstance(node, Sum))):
        return
    for name in names_in(node):
        for steps in (_integrated_twice, _differentiated_twice):
            made = [steps(t, name) for t in terms_of(node)]
            kept = [t for t in made if t is not None and t != number(0)]
            if kept and None not in made:
                yield Change(total(kept))


def _integrated_twice(term: Expr, name: str) -> Expr | None:
    n = _exponent(term, name)
    if n is None:
        return None
    return scaled(times(times(term, Name(name)), Name(name)), Fraction(1, (n + 1) * (n + 2)))


def _differentiated_twice(term: Expr, name: str) -> Expr | None:
    n = _exponent(term, name)
    if n is None:
        return None
    if n < 2:
        return number(0)
    return scaled(over(over(term, Name(name)), Name(name)), Fraction(n * (n - 1)))


def _exponent(term: Expr, name: str) -> int | None:
    """The whole power of a name in a term in which it stands as one factor, 0 without it; None for anything else."""
    if name not in names_in(term):
        return 0
    holding = [f for f in factors_of(term) if name in names_in(f)]
    first = holding[0] if len(holding) == 1 else None
    base, held = (first.base, plain(first.exponent)) if isinstance(first, Power) else (first, Fraction(1))
    alone = base == Name(name) and sum(n == Name(name) for n in walk(term)) == 1
    return int(held) if alone and held is not None and held.denominator == 1 and held > 0 else None
