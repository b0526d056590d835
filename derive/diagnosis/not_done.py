"""Was the operation that a reason names plainly not what turned one equation into another?

Said only where the second equation is the first worked on in another way. Other lines may have been used, and a factor
cancelled on the way without a word: where that could be, nothing is said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

import numpy as np

from derive.diagnosis.alike import Numbers, number_of, same
from derive.diagnosis.pieces import number, product
from derive.notation.tree import Derivative, Expr, Integral, Name, Relation, names_in, rebuilt, walk

P = TypeVar("P")
Sides = tuple[Numbers, Numbers, Numbers, Numbers]


def was_not_done(operation: str, by: Expr | None, source: Relation, claim: Relation) -> bool:
    """Is it plain that `operation`, by the piece `by` where it has one, did not make the claim of the source?"""
    if len(source.sides) != 2 or len(claim.sides) != 2 or set(claim.signs) != {"="}:
        return False
    with np.errstate(all="ignore"):
        return _values(source, claim) is not None and _CONTRADICTED[operation](source, claim, by)


def _values(source: Relation, claim: Relation) -> Sides | None:
    """The values of the four sides, the claim's turned about where that makes it a multiple of the source."""
    a, b, c, d = map(number_of, (*source.sides, *claim.sides))
    if not all(np.all(np.isfinite(x)) for x in (a, b, c, d)):
        return None
    return (a, b, d, c) if same(a * c, b * d) and not same(a * d, b * c) else (a, b, c, d)


# --- factors ----------------------------------------------------------------------------------------------


def _divided_otherwise(source: Relation, claim: Relation, by: Expr | None) -> bool:
    """The same equation up to a factor, and that one does not go with what is named."""
    return _goes_otherwise(source, claim, by, 1)


def _multiplied_otherwise(source: Relation, claim: Relation, by: Expr | None) -> bool:
    return _goes_otherwise(source, claim, by, -1)


def _goes_otherwise(source: Relation, claim: Relation, by: Expr | None, power: int) -> bool:
    ratio = _ratio(source, claim)
    if by is None or ratio is None:
        return False
    own = number_of(by) ** power
    if not names_in(by):
        return _is_number(ratio) and not same(np.abs(ratio), np.abs(own))
    for name in names_in(by):
        # With a name doubled, the factor between the equations must change as the piece named does.
        doubled = [_doubled(x, name) for x in (source, claim)]
        again, by_again = _ratio(*doubled), number_of(_doubled(by, name)) ** power
        if again is None or not same(again * own, ratio * by_again):
            return True
    return False


def _ratio(source: Relation, claim: Relation) -> Numbers | None:
    """What the source is of the claim, where the two are the same equation up to a factor."""
    values = _values(source, claim)
    if values is None:
        return None
    a, b, c, d = values
    if np.any(a == b) or np.any(c == d):
        return None
    ratio = (a - b) / (c - d)
    return ratio if same(a * d, b * c) or _is_number(ratio) else None


def _doubled(piece: P, name: str) -> P:
    change: dict[int, object] = {id(n): product((number(2), n)) for n in walk(piece) if n == Name(name)}
    return rebuilt(piece, change)  # type: ignore[return-value]


def _is_number(values: Numbers) -> bool:
    return same(values, np.full(values.shape, values[0], complex))


# --- terms, powers, rates ------------------------------------------------------------------------------------


def _added_otherwise(source: Relation, claim: Relation, by: Expr | None) -> bool:
    """The same difference of sides, but what went to each side is not what was named."""
    return by is not None and _shifted_otherwise(source, claim, number_of(by))


def _subtracted_otherwise(source: Relation, claim: Relation, by: Expr | None) -> bool:
    return by is not None and _shifted_otherwise(source, claim, -number_of(by))


def _shifted_otherwise(source: Relation, claim: Relation, by: Numbers) -> bool:
    a, b, c, d = map(number_of, (*source.sides, *claim.sides))
    if not (same(a - b, c - d) or same(a - b, d - c)):
        return False
    return not any(same(shift, by) for shift in (c - a, d - a, c - b, d - b))


def _squared_otherwise(source: Relation, claim: Relation, _: Expr | None) -> bool:
    return _only_rearranged(source, claim) or _is_squared(claim, source)


def _rooted_otherwise(source: Relation, claim: Relation, _: Expr | None) -> bool:
    return _only_rearranged(source, claim) or _is_squared(source, claim)


def _only_rearranged(source: Relation, claim: Relation) -> bool:
    """The equation only multiplied by a factor: neither squared nor rooted, neither differentiated nor integrated."""
    a, b, c, d = map(number_of, (*source.sides, *claim.sides))
    return (same(a * d, b * c) or same(a * c, b * d)) and not same(a, b)


def _is_squared(source: Relation, claim: Relation) -> bool:
    """The sides squared, up to a factor that both may have been divided by."""
    a, b, c, d = map(number_of, (*source.sides, *claim.sides))
    return (same(a * a * d, b * b * c) or same(a * a * c, b * b * d)) and not same(a, b)


def _differentiated_otherwise(source: Relation, claim: Relation, _: Expr | None) -> bool:
    return (_only_rearranged(source, claim) and not _has_rates(claim)) or _is_rate_of(source, claim)


def _integrated_otherwise(source: Relation, claim: Relation, _: Expr | None) -> bool:
    return _is_rate_of(claim, source) and not any(isinstance(n, Integral) for n in walk(claim))


def _has_rates(claim: Relation) -> bool:
    return any(isinstance(n, Derivative) for n in walk(claim))


def _is_rate_of(claim: Relation, source: Relation) -> bool:
    """`v' = …` beside `v = …`: a side that is the rate of change of a whole side of the other."""
    rates = {n.body for n in claim.sides if isinstance(n, Derivative) and isinstance(n.body, Name)}
    return any(isinstance(side, Name) and Name(side.ident) in rates for side in source.sides)


_CONTRADICTED: Mapping[str, Callable[[Relation, Relation, Expr | None], bool]] = {
    "divide": _divided_otherwise, "multiply": _multiplied_otherwise, "add": _added_otherwise,
    "subtract": _subtracted_otherwise, "square": _squared_otherwise, "root": _rooted_otherwise,
    "differentiate": _differentiated_otherwise, "integrate": _integrated_otherwise,
}
