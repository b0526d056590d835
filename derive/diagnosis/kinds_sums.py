"""Slips with sums: rules that hold for products used on sums, and sums worked on in one part only.

`repairs` take a line with the slip and hand back what it should have been; where a slip has a direction
(√(a + b) written as √a + √b) its making is a function of its own, used to slip a right line on purpose.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from derive.diagnosis.around import Around, Change
from derive.diagnosis.pieces import (
    ONE,
    as_power,
    factors_of,
    negated,
    number,
    over,
    power,
    product,
    quotient,
    terms_of,
    times,
    total,
)
from derive.diagnosis.sites import Site
from derive.notation.tree import Apply, Expr, Name, Neg, Num, Power, Product, Quotient, Sum


def power_of_sum(site: Site, _: Around) -> Iterator[Change]:
    """`a² + b²` where `(a + b)²` was meant."""
    node = site.node
    if not isinstance(node, Sum) or not 2 <= len(node.terms) <= 4:
        return
    for exponent in (Fraction(2), Fraction(3), Fraction(-1)):
        bases = [b for b in (_base_under(t, exponent) for t in node.terms) if b is not None]
        if len(bases) == len(node.terms):
            yield Change(power(total(bases), exponent), extra=0.0 if exponent == 2 else 0.2)
            if exponent == 2 and len(bases) == 2 and not isinstance(node.terms[1], Neg):
                yield Change(power(total((bases[0], negated(bases[1]))), exponent), extra=0.2)


def _base_under(term: Expr, exponent: Fraction) -> Expr | None:
    """What, to this power, gives the term: b of b², also 3 of 9 and 1/b of …; its sign goes with it."""
    if isinstance(term, Neg):
        inner = _base_under(term.arg, exponent)
        return None if inner is None else Neg(inner)
    if exponent == -1:
        return term.den if isinstance(term, Quotient) and term.num == ONE else None
    if isinstance(term, Num):
        if term.value <= 0 or term.value.denominator != 1:
            return None
        near = round(float(term.value) ** (1 / float(exponent)))
        return number(near) if Fraction(near) ** int(exponent) == term.value else None
    if isinstance(term, Product):
        bases = [_base_under(f, exponent) for f in term.factors]
        return product([b for b in bases if b is not None]) if all(b is not None for b in bases) else None
    if isinstance(term, Quotient):
        above, below = _base_under(term.num, exponent), _base_under(term.den, exponent)
        return quotient(above, below) if above is not None and below is not None else None
    held = as_power(term)
    return held[0] if held is not None and held[1] == exponent else None


def sum_of_powers(site: Site, _: Around) -> Iterator[Change]:
    """`(a + b)²` where `a² + b²` was meant; made on purpose, the classic slip."""
    node = site.node
    if isinstance(node, Power) and isinstance(node.base, Sum):
        yield Change(total([
            negated(Power(t.arg, node.exponent)) if isinstance(t, Neg) else Power(t, node.exponent)
            for t in node.base.terms
        ]))


LINEAR_TO_A_BEGINNER = ("sqrt", "sin", "cos", "tan", "ln", "exp", "abs", "log10", "cbrt")


def function_of_sum(site: Site, _: Around) -> Iterator[Change]:
    """`√a + √b` where `√(a + b)` was meant, also with a sine or a logarithm; and `a + b` for `√(a² + b²)`."""
    node = site.node
    if not isinstance(node, Sum):
        return
    inner = [t.arg if isinstance(t, Neg) else t for t in node.terms]
    first = inner[0]
    if isinstance(first, Apply) and all(isinstance(t, Apply) and t.function == first.function for t in inner):
        args = [t.arg for t in inner if isinstance(t, Apply)]
        signed = [Neg(a) if isinstance(t, Neg) else a for a, t in zip(args, node.terms, strict=True)]
        yield Change(Apply(first.function, total(signed)))
    if len(inner) <= 3 and not isinstance(site.parent, (Power, Apply)):
        squares = [Power(t, number(2)) for t in inner]
        yield Change(Apply("sqrt", total(squares)), extra=0.4)
        kept = [negated(q) if isinstance(t, Neg) else q for q, t in zip(squares, node.terms, strict=True)]
        yield Change(Apply("sqrt", total(kept)), extra=0.45)


def sum_of_functions(site: Site, _: Around) -> Iterator[Change]:
    """`√(a + b)` where `√a + √b` was meant; made on purpose, the classic slip."""
    node = site.node
    if isinstance(node, Apply) and node.function in LINEAR_TO_A_BEGINNER and isinstance(node.arg, Sum):
        yield Change(total([
            Neg(Apply(node.function, t.arg)) if isinstance(t, Neg) else Apply(node.function, t)
            for t in node.arg.terms
        ]))


def fraction_of_sum(site: Site, _: Around) -> Iterator[Change]:
    """`c/a + c/b` where `c/(a + b)` was meant, and `1/k = …` of two in a row: sums taken the wrong way up."""
    node = site.node
    if not isinstance(node, Sum):
        return
    inner = [t.arg if isinstance(t, Neg) else t for t in node.terms]
    first = inner[0]
    if isinstance(first, Quotient) and all(isinstance(t, Quotient) and t.num == first.num for t in inner):
        dens = [Neg(t.den) if isinstance(s, Neg) else t.den
                for t, s in zip(inner, node.terms, strict=True) if isinstance(t, Quotient)]
        yield Change(Quotient(first.num, total(dens)))
    if site.is_side and not any(isinstance(t, Neg) for t in node.terms):
        flipped = total([power(t, -1) for t in node.terms])
        yield Change(Quotient(ONE, flipped), extra=0.3)


def sum_of_fractions(site: Site, _: Around) -> Iterator[Change]:
    """`c/(a + b)` where `c/a + c/b` was meant; made on purpose, the classic slip."""
    node = site.node
    if isinstance(node, Quotient) and isinstance(node.den, Sum):
        yield Change(total([
            Neg(Quotient(node.num, t.arg)) if isinstance(t, Neg) else Quotient(node.num, t) for t in node.den.terms
        ]))
    if isinstance(node, Quotient) and isinstance(node.num, Sum) and isinstance(node.den, Product):
        first, *others = terms_of(node.num)
        yield Change(total((over(first, node.den), *others)), extra=0.2)


def product_of_sums(site: Site, _: Around) -> Iterator[Change]:
    """`a c + b d` where `(a + b) (c + d)` was meant: only like parts were multiplied."""
    node = site.node
    if not isinstance(node, Sum) or len(node.terms) != 2:
        return
    first, second = node.terms
    a, b = factors_of(first), factors_of(second)
    if isinstance(first, (Neg, Quotient)) or isinstance(second, Quotient) or not (len(a) > 1 and len(b) > 1):
        return
    minus = isinstance(second, Neg)
    for i, p in enumerate(a):
        for j, q in enumerate(b):
            left, right = product(a[:i] + a[i + 1 :]), product(b[:j] + b[j + 1 :])
            if minus:  # `(a + b) (c - d)`, and the sign the other way
                yield Change(product((total((p, q)), total((left, Neg(right))))))
                yield Change(product((total((p, Neg(q))), total((left, right)))), extra=0.1)
            else:
                yield Change(product((total((p, q)), total((left, right)))))


def like_parts_multiplied(site: Site, _: Around) -> Iterator[Change]:
    """`a c + b d` for `(a + b) (c + d)`; made on purpose."""
    node = site.node
    if isinstance(node, Product) and len(node.factors) == 2:
        left, right = node.factors
        if isinstance(left, Sum) and isinstance(right, Sum) and len(left.terms) == len(right.terms) == 2:
            yield Change(total([product(pair) for pair in zip(left.terms, right.terms, strict=True)]))


def common_denominator(site: Site, _: Around) -> Iterator[Change]:
    """`(a + c)/(b d)`, or `(a + c)/(b + d)`, where `a/b + c/d` was meant: fractions added above and below."""
    node = site.node
    if not isinstance(node, Quotient) or not isinstance(node.num, Sum) or len(node.num.terms) != 2:
        return
    below = terms_of(node.den) if isinstance(node.den, Sum) else factors_of(node.den)
    if len(below) != 2 or any(isinstance(b, Neg) for b in below):
        return
    (a, c), (b, d) = node.num.terms, below
    yield Change(total((over(a, b), over(c, d))))
    yield Change(total((over(a, d), over(c, b))), extra=0.1)


def added_above_and_below(site: Site, _: Around) -> Iterator[Change]:
    """`(a + c)/(b + d)` for `a/b + c/d`; made on purpose."""
    node = site.node
    if isinstance(node, Sum) and len(node.terms) == 2 and all(isinstance(t, Quotient) for t in node.terms):
        fractions = [t for t in node.terms if isinstance(t, Quotient)]
        yield Change(Quotient(total([f.num for f in fractions]), total([f.den for f in fractions])))


def cancelled(site: Site, around: Around) -> Iterator[Change]:
    """`(u + M U)/(1 + M)` where `(m u + M U)/(m + M)` was meant: cancelled from one part of a sum above and below."""
    node = site.node
    if not isinstance(node, Quotient) or not (isinstance(node.num, Sum) and isinstance(node.den, Sum)):
        return
    for rank, f in enumerate(around.factors):
        for i, above in enumerate(node.num.terms):
            for j, below in enumerate(node.den.terms):
                num = total((*node.num.terms[:i], times(above, f), *node.num.terms[i + 1 :]))
                den = total((*node.den.terms[:j], times(below, f), *node.den.terms[j + 1 :]))
                yield Change(Quotient(num, den), extra=0.03 * rank)


def cancelled_in_part(site: Site, _: Around) -> Iterator[Change]:
    """`(u + M U)/(1 + M)` for `(m u + M U)/(m + M)`; made on purpose."""
    node = site.node
    if not isinstance(node, Quotient) or not (isinstance(node.num, Sum) and isinstance(node.den, Sum)):
        return
    for i, above in enumerate(node.num.terms):
        for j, below in enumerate(node.den.terms):
            for f in factors_of(above):
                if f in factors_of(below) and not isinstance(f, Num):
                    num = total((*node.num.terms[:i], over(above, f), *node.num.terms[i + 1 :]))
                    den = total((*node.den.terms[:j], over(below, f), *node.den.terms[j + 1 :]))
                    yield Change(Quotient(num, den))


def added(site: Site, _: Around) -> Iterator[Change]:
    """`a + b` where `a b` was meant."""
    node = site.node
    if isinstance(node, Sum) and len(node.terms) == 2 and not any(isinstance(t, Num) for t in node.terms):
        first, second = node.terms
        whole = product((first, second.arg if isinstance(second, Neg) else second))
        yield Change(whole)
        if isinstance(second, Neg):  # `m_0 - e^x` for `m_0 e^(-x)` is two slips, and one of them a sign
            yield Change(quotient(first, second.arg), extra=0.2)


def multiplied(site: Site, _: Around) -> Iterator[Change]:
    """`a b` where `a + b` was meant, or `a - b`; the last of the factors taken for a term."""
    node = site.node
    if isinstance(node, Product) and isinstance(node.factors[-1], (Name, Apply, Power)):
        first, last = product(node.factors[:-1]), node.factors[-1]
        yield Change(total((first, last)))
        yield Change(total((first, Neg(last))), extra=0.1)
