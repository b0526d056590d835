"""Terms made shorter without another form: equal factors gathered, what cancels cancelled, e^0 as 1.

For terms that are to be read, such as a rate that came of differentiating by rule (their sums are left as they are),
and for equations in which one name has been put for another.
"""

from __future__ import annotations

from fractions import Fraction
from operator import is_

from derive.terms.functions import AT_ZERO
from derive.terms.term import MINUS_ONE, ONE, ZERO, Term, add, build, mul, neg, num, postorder, power


def tidied(root: Term) -> Term:
    """The same with every product in its shortest form."""
    done: dict[int, Term] = {}
    for t in postorder(root):
        args = [done[id(a)] for a in t.args]
        if t.op == "mul":
            done[id(t)] = _product(args)
        elif t.op == "pow":
            done[id(t)] = _raised(args[0], args[1])
        elif t.op == "fun" and args and args[0] is ZERO and t.value in AT_ZERO:
            done[id(t)] = num(AT_ZERO[t.value])
        else:
            done[id(t)] = build(t.op, t.value, args) if args else t
    return done[id(root)]


def _product(factors: list[Term]) -> Term:
    """One power of each factor: the number first, then plain names and powers of such, then the rest."""
    number = Fraction(1)
    powers: dict[Term, Fraction] = {}
    others: list[Term] = []
    for f in (g for part in factors for g in (part.args if part.op == "mul" else (part,))):
        base, exponent = f.args if f.op == "pow" else (f, None)
        if f.op == "num":
            number *= Fraction(f.value)
        elif exponent is not None and exponent.op != "num":
            others.append(f)
        else:
            powers[base] = powers.get(base, Fraction(0)) + (Fraction(exponent.value) if exponent is not None else 1)
    made = [power(base, num(e)) for base, e in powers.items() if e]
    made.sort(key=lambda f: (f.args[0] if f.op == "pow" else f).op != "var")
    return mul(num(number), *made, *others)


def _raised(base: Term, exponent: Term) -> Term:
    """A whole power taken into a product and into a power; a root is left where it is."""
    whole = exponent.op == "num" and Fraction(exponent.value).denominator == 1
    if whole and base.op == "mul":
        return _product([_raised(f, exponent) for f in base.args])
    if whole and base.op == "pow" and base.args[1].op == "num":
        return power(base.args[0], num(Fraction(base.args[1].value) * Fraction(exponent.value)))
    return power(base, exponent)


def without_cancelled(root: Term) -> Term:
    """A term whose sums, however deep, are without what cancels: `A (ω² - ω ω)` is nothing."""
    done: dict[Term, Term] = {}
    for t in postorder(root):
        args = [done[a] for a in t.args]
        if t.op == "add":
            done[t] = add(*_left_of(args))
        else:
            done[t] = t if all(map(is_, args, t.args)) else build(t.op, t.value, args)
    return done[root]


def multiplied_out(t: Term, most: int = 32) -> dict[frozenset[tuple[Term, Fraction]], Fraction]:
    """The number of each product of a sum, brackets multiplied out (none where that would be more than `most`)."""
    sums: list[list[Term]] = []
    for product in t.args if t.op == "add" else (t,):
        ways: list[list[Term]] = [[]]
        for f in product.args if product.op == "mul" else (product,):
            ways = [[*way, part] for way in ways for part in (f.args if f.op == "add" else (f,))][:most + 1]
        sums.extend(ways)
    if len(sums) > most:
        return {}
    out: dict[frozenset[tuple[Term, Fraction]], Fraction] = {}
    for factors in sums:
        product = mul(*factors)
        out[_kind(product)] = out.get(_kind(product), Fraction(0)) + _number(product)
    return {kind: number for kind, number in out.items() if number}


def _left_of(parts: list[Term]) -> list[Term]:
    """The terms of a sum but for those that come to nothing together."""
    alike: dict[frozenset[tuple[Term, Fraction]], list[Term]] = {}
    for part in parts:
        alike.setdefault(_kind(part), []).append(part)
    kept = (same for same in alike.values() if len(same) == 1 or sum(map(_number, same)) != 0)
    return [part for same in kept for part in same]


def _kind(product: Term) -> frozenset[tuple[Term, Fraction]]:
    """What a product is but for its number: its factors, each with its power."""
    powers: dict[Term, Fraction] = {}
    for f in product.args if product.op == "mul" else (product,):
        base, exponent = f.args if f.op == "pow" and f.args[1].op == "num" else (f, ONE)
        if f.op != "num":
            powers[base] = powers.get(base, Fraction(0)) + Fraction(exponent.value)
    return frozenset(powers.items())


def _number(product: Term) -> Fraction:
    factors = product.args if product.op == "mul" else (product,)
    out = Fraction(1)
    for f in factors:
        out *= Fraction(f.value) if f.op == "num" else 1
    return out


def reciprocal(t: Term) -> Term:
    """One over a term, each factor's own power turned: `k - m ω²` of `F/(k - m ω²)` vanishes by itself."""
    factors = t.args if t.op == "mul" else (t,)
    turned = (power(f.args[0], neg(f.args[1])) if f.op == "pow" else power(f, MINUS_ONE) for f in factors)
    return mul(*turned)
