"""Slips with the direction of calculus: differentiated where it should be integrated, or the reverse.

Plain functions of the same signature as in the other rooms of kinds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from derive.diagnosis.around import Around, Change
from derive.diagnosis.differentiating import Along, squared
from derive.diagnosis.needed import same_values
from derive.diagnosis.pieces import (
    factors_of,
    negated,
    number,
    over,
    plain,
    product,
    quotient,
    scaled,
    terms_of,
    times,
    total,
)
from derive.diagnosis.sites import Site
from derive.notation.tree import Between, Derivative, Expr, Name, Power, Product, Quotient, Sum, names_in, walk


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


def quotient_rule(site: Site, around: Around) -> Iterator[Change]:
    """A fraction differentiated above and below by themselves, or with a slip in the rule: told by what that gives."""
    for whole, along in _differentiated(site, around):
        if not isinstance(whole, Quotient) or not (along.changes(whole.num) and along.changes(whole.den)):
            continue
        above, below, right = along.slope(whole.num), along.slope(whole.den), along.of_quotient(whole)
        if above is None or below is None or right is None:
            continue
        first, second = times(above, whole.den), times(whole.num, below)
        wrong = (quotient(above, below), over(total((first, second)), squared(whole.den)),
                 over(total((first, negated(second))), whole.den))
        yield from _instead_of(wrong, right, site, around)


def product_rule(site: Site, around: Around) -> Iterator[Change]:
    """A product differentiated in all of its factors at once."""
    for whole, along in _differentiated(site, around):
        right = along.slope(whole)
        if not isinstance(whole, Product) or right is None:
            continue
        rates = [along.slope(f) if along.changes(f) else f for f in whole.factors]
        if sum(map(along.changes, whole.factors)) > 1 and None not in rates:
            yield from _instead_of([product([r for r in rates if r is not None])], right, site, around)


def _instead_of(wrong: Iterable[Expr], right: Expr, site: Site, around: Around) -> Iterator[Change]:
    if around.stock is not None and any(same_values(site.node, w, around.stock.measure) for w in wrong):
        yield Change(right, at=site.node)


def _differentiated(site: Site, around: Around) -> Iterator[tuple[Expr, Along]]:
    """What a side is said to be the derivative of, and by what: outright (`dv/dt = …`), or by a name that the lines
    above have for it."""
    if not site.is_side or isinstance(site.node, Derivative):
        return
    for other in site.parent.sides:
        for rate in (other, *(around.ways.get(other.ident, ()) if isinstance(other, Name) else ())):
            if isinstance(rate, Derivative) and rate.order == 1 and isinstance(rate.wrt, Name):
                wholes = around.ways.get(rate.body.ident, ()) if isinstance(rate.body, Name) else (rate.body,)
                moving = around.moving if rate.wrt == Name("t") else frozenset()
                yield from ((whole, Along(rate.wrt.ident, moving)) for whole in wholes)
