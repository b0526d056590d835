"""A value with its uncertainty, `m = 250 g ± 1 g`, `L = 1.000 ± 0.002 m`: one value, and no two alternatives."""

from __future__ import annotations

from fractions import Fraction

from derive.notation.tree import (
    Claim,
    Expr,
    Name,
    Num,
    PlusMinus,
    Product,
    Relation,
    Sum,
    Unit,
    names_in,
    rebuilt,
    walk,
)

# What is known less well than to a fifth is rather one of two roots.
_LARGEST_SHARE = Fraction(1, 5)


def measured(claim: Claim) -> Claim | None:
    """The claim with the value alone; None for any other claim."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(claim.sides[0], Name):
        return None
    right = claim.sides[1]
    sums = [n for n in walk(right) if isinstance(n, Sum) and len(n.terms) == 2 and isinstance(n.terms[1], PlusMinus)]
    with_unit = any(isinstance(n, Unit) for n in walk(right))
    if len(sums) != 1 or not with_unit or names_in(claim) != names_in(Relation((claim.sides[0],), ())):
        return None
    value, error = sums[0].terms
    assert isinstance(error, PlusMinus)
    alone = _with_unit_of(error.arg, value) if _share(value, error.arg) <= _LARGEST_SHARE else None
    return rebuilt(claim, {id(sums[0]): alone}) if alone is not None else None  # type: ignore[return-value]


def _share(value: Expr, error: Expr) -> Fraction:
    """How large the uncertainty is beside the value, where both are in one unit or it is a percentage."""
    (a, units), (b, others) = _amount(value), _amount(error)
    if a is None or b is None or not a:
        return Fraction(1)
    if others == (Unit("%"),):
        return b / 100
    return abs(b / a) if not units or units == others else Fraction(1)


def _with_unit_of(error: Expr, value: Expr) -> Expr:
    """`1.000` with the unit that stands behind both in `1.000 ± 0.002 m`."""
    units = _amount(error)[1]
    return Product((value, *units), span=value.span) if isinstance(value, Num) and units != (Unit("%"),) else value


def _amount(e: Expr) -> tuple[Fraction | None, tuple[Expr, ...]]:
    """A number and what stands behind it."""
    if isinstance(e, Num):
        return e.value, ()
    if isinstance(e, Product) and isinstance(e.factors[0], Num):
        return e.factors[0].value, e.factors[1:]
    return None, ()
