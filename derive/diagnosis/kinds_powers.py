"""Slips with what a power reaches: a square put to one factor where it belongs to several, or to none of them.

Plain functions of the same signature as in the other rooms of kinds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from derive.diagnosis.around import Around, Change
from derive.diagnosis.pieces import factors_of, number, over, plain, product, quotient, scaled, times
from derive.diagnosis.sites import Site
from derive.notation.tree import Apply, Expr, Name, Neg, Num, Power, Product, Quotient, Sum

MOST_REACHED = 5  # factors a square could have belonged to; beyond that it is a line of its own kind


def power_reach(site: Site, _: Around) -> Iterator[Change]:
    """`a b²/c` where `(a b/c)²` was meant, `4 a b` where `(2 a b)²` was."""
    node = site.node
    if not isinstance(node, (Product, Quotient)) or isinstance(site.parent, Quotient):
        return
    above = factors_of(node)
    below = factors_of(node.den) if isinstance(node, Quotient) else ()
    exponents = {e for f in (*above, *below) if isinstance(f, Power) and (e := plain(f.exponent)) in (2, 3)}
    reached = [f for f in (*above, *below) if isinstance(f, (Name, Sum, Apply))]
    if len(reached) > MOST_REACHED or (isinstance(node, Quotient) and isinstance(node.num, Neg)):
        return
    for exponent in exponents:
        assert exponent is not None
        for count in range(2, len(reached) + 1):
            for chosen in combinations(reached, count):
                yield Change(_raised(above, below, chosen, exponent), extra=0.1 * count)
    if not exponents and len(reached) > 1 and isinstance(site.parent, (Sum, Neg)):
        yield Change(_raised(above, below, reached, Fraction(2)), extra=0.3)


def _raised(above: Sequence[Expr], below: Sequence[Expr], chosen: Sequence[Expr], exponent: Fraction) -> Expr:
    def all_of(factors: Sequence[Expr]) -> Expr:
        return product([Power(f, number(exponent)) if any(f is c for c in chosen) else f for f in factors])

    return quotient(all_of(above), all_of(below))


def power_rule(site: Site, around: Around) -> Iterator[Change]:
    """`½ λ L²` where `⅓ λ L³` was meant: another power was integrated, or it was differentiated instead."""
    node = site.node
    if not around.calculus or isinstance(node, Num) or not (site.is_side or isinstance(site.parent, (Sum, Neg))):
        return
    for f in factors_of(node) if isinstance(node, (Product, Quotient, Power, Name)) else ():
        base, held = (f.base, plain(f.exponent)) if isinstance(f, Power) else (f, Fraction(1))
        if not isinstance(base, Name) or held is None or held.denominator != 1 or held < 1:
            continue
        n = held.numerator
        up = times(node, base)
        yield Change(scaled(up, Fraction(n, n + 1)))
        yield Change(scaled(times(up, base), Fraction(1, (n + 1) * (n + 2))), extra=0.1)
        if n > 1:
            down = over(node, base)
            yield Change(scaled(down, Fraction(n, n - 1)))
            yield Change(scaled(over(down, base), Fraction(n * (n - 1))), extra=0.1)
