"""Do two claims say the same by their form alone? Numbers are put in for every name and the sides compared.

Only used to count edits that come to the same thing once and to notice claims that say nothing (`x = x`).
It knows no context and decides no line: whether a line follows is for the proof room.
"""

from __future__ import annotations

from collections.abc import Callable
from hashlib import blake2b

import numpy as np
from numpy.typing import NDArray

from derive.diagnosis.sites import bare, size
from derive.notation.tree import (
    Apply,
    Between,
    Both,
    Claim,
    Component,
    Constant,
    Cross,
    Derivative,
    Differential,
    Dot,
    Either,
    Expr,
    Integral,
    Name,
    Neg,
    Num,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Relation,
    Sum,
    Unit,
    UnitVector,
    Value,
    Vector,
    children,
    names_in,
    rebuilt,
    relations,
    walk,
)
from derive.terms.functions import FUNCTIONS

Numbers = NDArray[np.complex128]

# Six draws: two different forms of everyday size agree in all of them to nine figures about never.
DRAWS = 6
SAME = 1e-9
# With this many nodes on either side, two forms of one thing are an identity worth stating (`cos 2a = …`).
AN_IDENTITY = 4


def drawn(key: str) -> Numbers:
    """Numbers between ¼ and 1.45 (angles below a right one) that belong to a key, the same on every machine."""
    raw = blake2b(key.encode(), digest_size=4 * DRAWS).digest()
    units = np.frombuffer(raw, dtype="<u4") / 2**32
    return (0.25 + 1.2 * units).astype(complex)


# The drawn numbers are complex, of which these three have values otherwise or none.
_FUNCTIONS: dict[str, Callable[[Numbers], Numbers]] = {name: value for name, (value, _) in FUNCTIONS.items()} | {
    "cbrt": lambda x: x ** (1 / 3), "abs": lambda x: np.abs(x) + 0j, "sign": lambda x: np.sign(x.real) + 0j,
}
_CONSTANTS: dict[str, complex] = {"π": np.pi, "e": np.e, "i": 1j}


def number_of(node: Expr) -> Numbers:
    """The value of a piece with drawn numbers for its names; NaN where it has none."""
    with np.errstate(all="ignore"):
        return _value(node)


def _value(node: object) -> Numbers:
    match node:
        case Num(value):
            return np.full(DRAWS, _float(value.numerator) / _float(value.denominator), complex)
        case Sum(terms):
            return np.sum([_value(t) for t in terms], axis=0)
        case Product(factors):
            return np.prod([_value(f) for f in factors], axis=0)
        case Neg(arg):
            return -_value(arg)
        case PlusMinus(arg, upper):
            return _value(arg) * drawn("Name±") * (1 if upper else -1)
        case Quotient(num, den):
            return _value(num) / _value(den)
        case Power(base, exponent):
            return _value(base) ** _value(exponent)
        case Apply(function, arg):
            return np.asarray(_FUNCTIONS[function](_value(arg)), complex)
    return _atom(node)


def _float(value: int) -> float:
    return float(value) if value.bit_length() < 1000 else float("nan")


def _atom(node: object) -> Numbers:
    """Names, constants, and pieces without arithmetic of their own here: alike when made of like parts."""
    match node:
        case Name(ident) | Unit(ident):
            return drawn(type(node).__name__ + ident)
        case Constant(ident):
            return np.full(DRAWS, _CONSTANTS.get(ident, 1e6), complex)
        case Integral(body, wrt, lower, upper):
            reach = _value(upper) - _value(lower) if lower is not None and upper is not None else 1
            return _value(body) * drawn("∫" + repr(bare(wrt))) * reach
        case Between(body, lower, upper):
            return _value(body) * drawn("|") * (_value(upper) - _value(lower))
        case Derivative(body, wrt, order):
            key = f"d{order}" + repr(bare(wrt))
            return drawn(key + repr(bare(body))) if isinstance(body, Name) else _value(body) * drawn(key)
        case Differential(body):
            return drawn("d" + repr(bare(body))) if isinstance(body, Name) else _value(body) * drawn("d")
    return _compound(node)


def _compound(node: object) -> Numbers:
    match node:
        case Dot(left, right):
            return _value(left) * _value(right) * drawn("·")
        case Vector() | Cross() | Value() | Component() | UnitVector():
            parts = [_value(c) * drawn(f"{type(node).__name__}{i}") for i, c in enumerate(children(node))]
            kept = drawn(type(node).__name__ + getattr(node, "axis", ""))
            return kept + np.sum(parts, axis=0) if parts else kept
    raise AssertionError(f"no numbers for {type(node).__name__}")


def same(a: Numbers, b: Numbers) -> bool:
    scale = np.maximum(np.abs(a), np.abs(b))
    return bool(np.all(np.isfinite(scale)) and np.all(np.abs(a - b) <= SAME * scale))


def empty(claim: Claim) -> bool:
    """A claim that says nothing: two sides that are one, or something positive above something negative."""
    return any(
        left == right or (not _only_numbers(left, right) and _says_nothing(left, sign, right))
        for r in relations(claim) for left, sign, right in zip(r.sides, r.signs, r.sides[1:], strict=False)
    )


def _says_nothing(one: Expr, sign: str, other: Expr) -> bool:
    left, right = number_of(one), number_of(other)
    if sign in ("≥", ">", "≤", "<"):
        above, below = (left, right) if sign in ("≥", ">") else (right, left)
        return bool(np.all(above.real > 0) and np.all(below.real < 0))
    return min(size(one), size(other)) < AN_IDENTITY and same(left, right)


def _only_numbers(left: Expr, right: Expr) -> bool:
    """`½ · 2.5 · 8² = 80` says something, for all that it is settled."""
    return not names_in(left) and not names_in(right)


def alike(a: Claim, b: Claim) -> bool:
    """Two claims that come to the same: equal, or one is the other rearranged or raised to a power."""
    if a == b:
        return True
    match a, b:
        case Relation(), Relation():
            if len(a.sides) == len(b.sides) == 2 and a.signs[0] in _UPWARDS and b.signs[0] in _UPWARDS:
                return _alike_bounds(a, b)
            if any(isinstance(n, PlusMinus) for n in walk(b)) and alike(a, _turned_over(b)):
                return True
            if a.signs != b.signs or len(a.sides) != len(b.sides):
                return False
            pairs = zip(zip(a.sides, a.sides[1:], strict=False), zip(b.sides, b.sides[1:], strict=False), strict=True)
            return all(_alike_sides(p, q, a.signs[i] in ("=", "≈")) for i, (p, q) in enumerate(pairs))
        case (Both(parts), Both(others)) | (Either(parts), Either(others)):
            return len(parts) == len(others) and all(map(alike, parts, others))
    return False


# For each sign of a bound: is the left side the larger one, and is it strict?
_UPWARDS = {">": (True, True), "≥": (True, False), "<": (False, True), "≤": (False, False)}


def _alike_bounds(a: Relation, b: Relation) -> bool:
    """`x > y` and `y < x`, `-x < -y`, `2 x > 2 y`: what is left over is the same but for something positive."""
    (up, strict), (other_up, other_strict) = _UPWARDS[a.signs[0]], _UPWARDS[b.signs[0]]
    with np.errstate(all="ignore"):
        one, two = (_value(r.sides[0]) - _value(r.sides[1]) for r in (a, b))
        one, two = (one if up else -one), (two if other_up else -two)
        ratio = one / two
        left, right = (_value(r.sides[0]) / _value(r.sides[1]) for r in (a, b))
        return strict == other_strict and bool(np.all(ratio.real > 0)) and (
            same(ratio, np.full(DRAWS, ratio[0])) or same(left, right) or same(left * right, np.ones(DRAWS, complex)))


def _turned_over(r: Relation) -> Claim:
    """The same alternatives in the other order: every ± as ∓, written out so that it is not turned again."""
    change: dict[int, object] = {
        id(n): Neg(Product((Name("±"), n.arg))) if n.upper else Product((Name("±"), n.arg))
        for n in walk(r) if isinstance(n, PlusMinus)
    }
    return rebuilt(r, change)  # type: ignore[return-value]


def _alike_sides(p: tuple[Expr, Expr], q: tuple[Expr, Expr], equation: bool) -> bool:
    with np.errstate(all="ignore"):
        left, right = _value(p[0]), _value(p[1])
        left2, right2 = _value(q[0]), _value(q[1])
        if same(left, left2) and same(right, right2):
            return True
        if not equation:
            return same(left * right2, left2 * right) and bool(np.all((left / left2).real > 0))
        if same(left * right2, left2 * right) or _proportional(left - right, left2 - right2):
            return True
        return (
            same(left * left2, right * right2)
            or _squared(left, right, left2, right2) or _squared(left2, right2, left, right)
            or _one_a_power_of_the_other(left / right, left2 / right2)
        )


def _proportional(a: Numbers, b: Numbers) -> bool:
    """The residuals differ by a number only, or by a common factor that both sides were multiplied with."""
    return same(a * b[0], b * a[0])


def _squared(left: Numbers, right: Numbers, left2: Numbers, right2: Numbers) -> bool:
    """The second equation is the first with both sides squared."""
    return same(left * left, left2) and same(right * right, right2)


def _one_a_power_of_the_other(a: Numbers, b: Numbers) -> bool:
    both = np.concatenate([a, b])
    if not (np.all(np.isfinite(both)) and np.all(both.real > 0) and np.all(np.abs(both.imag) < SAME)):
        return False
    x, y = np.log(a.real), np.log(b.real)
    return bool(np.abs(x).min() > SAME) and same((y / x).astype(complex), np.full(DRAWS, y[0] / x[0], complex))
