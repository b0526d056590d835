"""Slips of differentiating and integrating, and with names.

Plain functions of the same signature as in the other rooms of kinds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.diagnosis.around import Around, Change, alike_to_the_eye, inner_derivative
from derive.diagnosis.kinds_terms import is_term, unsigned
from derive.diagnosis.pieces import (
    factors_of,
    negated,
    number,
    over,
    product,
    terms_of,
    times,
    total,
)
from derive.diagnosis.sites import Site
from derive.notation.printed.printing import as_text
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
    Power,
    Sum,
    Value,
    names_in,
    rebuilt,
    walk,
)


def inner_factor(site: Site, around: Around) -> Iterator[Change]:
    """A derivative without the factor that the inside brings (`cos ωt` for `ω cos ωt`), or an integral with it."""
    node = site.node
    if isinstance(node, Sum):
        yield from _inner_factor_of_all(site, around)
        return
    if not is_term(site):
        return
    for part in walk(node):
        arg = _inside(part)
        if arg is None:
            continue
        for inner in inner_derivative(arg, around):
            yield unsigned(node, times(node, inner), 0.0)
            yield unsigned(node, over(node, inner), 0.1)
            yield unsigned(node, times(times(node, inner), inner), 0.4)
            # Of `-γ` the minus is often there already, where the γ is not.
            yield unsigned(node, negated(times(node, inner)), 0.05 if isinstance(inner, Neg) else 0.5)
    for f in factors_of(node):
        base = f.base if isinstance(f, Power) else f
        if isinstance(base, Name) and base.ident in around.moving:
            yield unsigned(node, times(node, Derivative(base, Name("t"))), 0.2)
        elif isinstance(base, Derivative) and base.wrt == Name("t"):  # `m x'` for `m x' x''` from `½ m x'²`
            yield unsigned(node, times(node, replace(base, order=base.order + 1)), 0.2)


def _inner_factor_of_all(site: Site, around: Around) -> Iterator[Change]:
    """`-A sin ωt + B cos ωt` without the ω that every term brings."""
    inners = [
        {i for part in walk(t) if (arg := _inside(part)) is not None for i in inner_derivative(arg, around)}
        for t in terms_of(site.node)]
    if site.is_side and inners:
        for inner in sorted(set.intersection(*inners), key=as_text):
            yield Change(times(site.node, inner), at=site.node)
            yield Change(over(site.node, inner), at=site.node, extra=0.1)


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
    rates = [i for i, f in enumerate(parts) if isinstance(f, Derivative) and f.order == 1 and isinstance(f.body, Name)]
    if len(rates) == 2:  # `x' y'` for `x' y + x y'`
        kept = [product([f.body if k == i and isinstance(f, Derivative) else f for k, f in enumerate(parts)])
                for i in rates]
        yield Change(Neg(total(kept)) if isinstance(node, Neg) else total(kept), at=node)
    for i, f in enumerate(parts):
        if not (isinstance(f, Derivative) and isinstance(f.body, Name)):
            continue
        lowered = f.body if f.order == 1 else Derivative(f.body, f.wrt, f.order - 1)
        for j, g in enumerate(parts):
            if j != i and isinstance(g, Name) and g.ident in around.moving:
                others = [p for k, p in enumerate(parts) if k not in (i, j)]
                whole = product((*others, Derivative(g, f.wrt), lowered))
                added = total((*terms_of(node), Neg(whole) if isinstance(node, Neg) else whole))
                yield Change(added, at=node)


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
        backwards = 0.0 if node.upper == zero else 0.6
        yield Change(Integral(node.body, node.wrt, node.upper, node.lower), at=node, extra=backwards)
        if node.lower != zero:
            yield Change(Integral(node.body, node.wrt, zero, node.upper), at=node.lower, into=zero, extra=0.9)
    elif isinstance(node, Between):
        backwards = 0.0 if node.upper == zero else 0.6
        yield Change(Between(node.body, node.upper, node.lower, node.wrt), at=node, extra=backwards)


def exchanged(site: Site, around: Around) -> Iterator[Change]:
    """Two names of one kind in each other's place: `m_1 x_2 + m_2 x_1`."""
    node = site.node
    if not (site.is_side or isinstance(node, Sum)) or isinstance(node, Name):
        return
    here = names_in(node)
    for first, second in ((a, b) for i, a in enumerate(here) for b in here[i + 1 :] if b in around.near(a)):
        swap = {first: Name(second), second: Name(first)}
        change: dict[int, object] = {
            id(n): swap[n.ident] for n in walk(node) if isinstance(n, Name) and n.ident in swap}
        far = 0.0 if alike_to_the_eye(first, second) else 0.3
        yield Change(rebuilt(node, change), extra=far + (0.0 if isinstance(node, Sum) else 0.05))


def neighbour(site: Site, around: Around) -> Iterator[Change]:
    """One name for another of the same kind: the other mass, the final speed for the first."""
    node = site.node
    if not isinstance(node, Name) or isinstance(site.parent, (Component, Value)):
        return
    if isinstance(site.parent, (Derivative, Integral)) and site.path[-1][0] == "wrt":
        return
    for rank, other in enumerate(around.near(node.ident)):
        yield Change(Name(other), extra=0.1 * rank + (0.0 if alike_to_the_eye(node.ident, other) else 0.45))
