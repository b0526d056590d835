"""A result with one of its names put to zero, written as a person would: `g (sin θ - μ cos θ)` is `g sin θ`.

Only what becomes of sums, products and the everyday functions at zero is known here; where the value at zero
is not seen at a glance the answer is None, never a guess.
"""

from __future__ import annotations

import math
from fractions import Fraction

from derive.diagnosis.pieces import ONE, factors_of, negated, number, plain, product, quotient, total
from derive.notation.tree import Apply, Expr, Name, Neg, Num, Power, Product, Quotient, Sum, names_in
from derive.terms.functions import AT_ZERO

ZERO = number(0)



def put_zero(node: Expr, name: str) -> Expr | None:
    """The piece with a name put to zero, or None where that has no value or none that is plain to see."""
    if name not in names_in(node):
        return node
    match node:
        case Name():
            return ZERO
        case Neg(arg):
            inner = put_zero(arg, name)
            return inner if inner is None or inner == ZERO else Neg(inner)
        case Sum(terms):
            parts = [put_zero(t, name) for t in terms]
            kept = [p for p in parts if p is not None and p != ZERO]
            return None if None in parts else _sum(kept)
        case Product(factors):
            return _product([put_zero(f, name) for f in factors])
        case Quotient(num, den):
            return _quotient(put_zero(num, name), put_zero(den, name))
        case Power(base, exponent):
            return _power(put_zero(base, name), put_zero(exponent, name))
        case Apply(function, arg):
            inside = put_zero(arg, name)
            if inside == ZERO:
                return number(AT_ZERO[function]) if function in AT_ZERO else None
            return None if inside is None else Apply(function, inside)
    return None


def _product(parts: list[Expr | None]) -> Expr | None:
    known = [p for p in parts if p is not None]
    if len(known) < len(parts):
        return None
    return ZERO if ZERO in known else product(known)


def _quotient(num: Expr | None, den: Expr | None) -> Expr | None:
    if num is None or den is None or den == ZERO:
        return None
    if num == ZERO:
        return ZERO
    above, below = list(factors_of(num)), list(factors_of(den))
    if isinstance(num, Quotient) or isinstance(den, Quotient):
        return ONE if num == den else quotient(num, den)
    for f in factors_of(num):
        if f in below:
            above.remove(f)
            below.remove(f)
    made = quotient(*_in_lowest_terms(above, below))
    return negated(made) if isinstance(num, Neg) is not isinstance(den, Neg) else made


def _in_lowest_terms(above: list[Expr], below: list[Expr]) -> tuple[Expr, Expr]:
    """The factors above and below a fraction line, their plain numbers cancelled."""
    def split(factors: list[Expr]) -> tuple[Fraction, list[Expr]]:
        whole = [f for f in factors if isinstance(f, Num) and f.value.denominator == 1]
        return Fraction(math.prod(f.value for f in whole)), [f for f in factors if f not in whole]

    (top, others), (bottom, rest) = split(above), split(below)
    if not bottom:
        return product(above), product(below)
    ratio = top / bottom
    return product((number(ratio.numerator), *others)), product((number(ratio.denominator), *rest))


def _sum(terms: list[Expr]) -> Expr:
    """The terms that are left, their plain numbers added up."""
    numbers = [n for t in terms if (n := plain(t)) is not None]
    others = [t for t in terms if plain(t) is None]
    added = sum(numbers, Fraction(0))
    if len(numbers) < 2 or (not added and not others):
        return total(terms)
    told = number(added) if added >= 0 else Neg(number(-added))
    return total([told, *others] if added else others)


def _power(base: Expr | None, exponent: Expr | None) -> Expr | None:
    if base is None or exponent is None:
        return None
    if exponent == ZERO:
        return None if base == ZERO else ONE
    if base == ZERO:
        return ZERO if isinstance(exponent, Num) and exponent.value > Fraction(0) else None
    return Power(base, exponent)
