"""Slips with the form of a line: functions, powers and roots, brackets, and rules used where they do not hold.

`repairs` take a line with the slip and hand back what it should have been; where a slip has a direction
(√(a + b) written as √a + √b) its making is a function of its own, used to slip a right line on purpose.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from derive.diagnosis.around import Around, Change
from derive.diagnosis.kinds_terms import is_term
from derive.diagnosis.pieces import (
    ONE,
    factors_of,
    negated,
    number,
    over,
    plain,
    power,
    product,
    scaled,
    times,
    total,
)
from derive.diagnosis.sites import Site
from derive.notation.tree import (
    Apply,
    Constant,
    Derivative,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Sign,
    Sum,
    Unit,
    rebuilt,
    walk,
)

TRIGONOMETRIC = ("sin", "cos", "tan")
MISTAKEN = {
    "sin": ("cos", "tan"), "cos": ("sin", "tan"), "tan": ("cot", "sin", "cos"), "cot": ("tan",),
    "sec": ("cos", "csc"), "csc": ("sin", "sec"), "arcsin": ("arccos", "arctan"), "arccos": ("arcsin", "arctan"),
    "arctan": ("arcsin", "arccos"), "sinh": ("cosh", "tanh", "sin"), "cosh": ("sinh", "tanh", "cos"),
    "tanh": ("tan", "sinh", "cosh"), "ln": ("log10",), "log10": ("ln",),
}


def function(site: Site, _: Around) -> Iterator[Change]:
    """One function for another: a cosine for a sine."""
    node = site.node
    if isinstance(node, Apply):
        for rank, other in enumerate(MISTAKEN.get(node.function, ())):
            # A tangent for its inverse is a fraction the wrong way up sooner than a side taken for another.
            turned_up = 0.4 if {node.function, other} == {"tan", "cot"} else 0.0
            yield Change(Apply(other, node.arg), at=node, extra=max(0.3 * rank, turned_up))
        if node.function in ("sin", "cos") and isinstance(node.arg, Sum) and len(node.arg.terms) == 2:
            turned = total((node.arg.terms[0], negated(node.arg.terms[1])))  # `cos(a - b)` for `sin(a + b)`
            yield Change(Apply("cos" if node.function == "sin" else "sin", turned), at=node, extra=0.5)
    elif isinstance(node, Relation):
        yield from _functions_changed_about(node)


def _functions_changed_about(node: Relation) -> Iterator[Change]:
    """Every sine for a cosine and every cosine for a sine: the angle was taken from the other direction."""
    change: dict[int, object] = {}
    for part in walk(node):
        if isinstance(part, Apply) and part.function in ("sin", "cos"):
            change[id(part)] = Apply("cos" if part.function == "sin" else "sin", part.arg)
    if len(change) > 1 and not node.carries_on:
        yield Change(rebuilt(node, change), extra=0.4)


def logarithm(site: Site, around: Around) -> Iterator[Change]:
    """`C = T0` for `C = ln T0`, or the reverse, where the lines above speak of logarithms."""
    node = site.node
    if site.is_side and around.logarithms and isinstance(node, Name | Quotient):
        yield Change(Apply("ln", node))
    elif site.is_side and around.logarithms and isinstance(node, Product):
        for i, f in enumerate(node.factors):
            if isinstance(f, Name | Num):
                yield Change(product((*node.factors[:i], Apply("ln", f), *node.factors[i + 1 :])), at=f, extra=0.1)
    elif isinstance(node, Apply) and node.function == "ln" and site.is_side:
        yield Change(node.arg, at=node)


def double_angle(site: Site, _: Around) -> Iterator[Change]:
    """`sin²α` for `sin 2α`, `2 sin α` for it, and the reverse."""
    match site.node:
        case Power(Apply(name, arg), Num(value)) if name in TRIGONOMETRIC and value == 2:
            yield Change(Apply(name, scaled(arg, Fraction(2))))
        case Apply(name, arg) if name in TRIGONOMETRIC and number(2) in factors_of(arg):
            once = Apply(name, scaled(arg, Fraction(1, 2)))
            yield Change(Power(once, number(2)))
            yield Change(product((number(2), once)), extra=0.2)
        case Product(factors) if number(2) in factors:
            rest = [f for f in factors if f != number(2)]
            for i, f in enumerate(rest):
                if isinstance(f, Apply) and f.function in TRIGONOMETRIC:
                    yield Change(product((*rest[:i], Apply(f.function, scaled(f.arg, Fraction(2))), *rest[i + 1 :])))


def powers(site: Site, _: Around) -> Iterator[Change]:
    """An exponent off by one, doubled, halved or left out."""
    node = site.node
    if isinstance(site.parent, Power) and site.path[-1][0] == "base":
        return  # the power above is the place to change
    if isinstance(node, Power):
        yield from _other_exponents(node)
    elif isinstance(node, (Product, Quotient)) and is_measured(node):  # `½ · 3 kg · 2 m/s` without the square
        yield Change(Power(node, number(2)))
    elif isinstance(node, Quotient) and isinstance(site.parent, (Sum, Neg, Product)):  # `1 - c/u` without the square
        yield Change(Power(node, number(2)), extra=0.15)
    elif isinstance(node, Num) and node.last_digit is not None and isinstance(site.parent, (Product, Quotient)):
        if not is_measured(site.parent):
            yield Change(Power(node, number(2)), extra=0.2)
    elif isinstance(node, Sum) and _under_a_root(site):  # `√(a + b)` for `√(a² + b²)`
        yield Change(total([_squared(t) for t in node.terms]), extra=0.2)
    elif isinstance(node, (Name, Derivative, Sum)) or (isinstance(node, Apply) and node.function in TRIGONOMETRIC):
        yield from _powers_left_out(site)


def _other_exponents(node: Power) -> Iterator[Change]:
    value, half = plain(node.exponent), Fraction(1, 2)
    if value is None:
        return
    for other, extra in (
        (value - 1, 0.0), (value + 1, 0.0), (2 * value, 0.2), (value / 2, 0.2), (-value, 0.3),
        (value - half, 0.3), (value + half, 0.3), (1 / value if value else half, 0.3),
    ):  # fmt: skip
        if other != value and other != 0 and abs(other) <= 12 and not (other == half and value == 1):
            yield Change(power(node.base, other), extra=extra)


def _powers_left_out(site: Site) -> Iterator[Change]:
    node = site.node
    if (site.is_side and not isinstance(node, Name)) or isinstance(site.parent, Derivative):
        return
    held = isinstance(site.parent, Apply) and not _under_a_root(site)
    yield Change(Power(node, number(2)), extra=0.5 if held else 0.1)
    if isinstance(node, Name):
        yield Change(Power(node, number(3)), extra=0.7)
        yield Change(Apply("sqrt", node), extra=0.8)


def _under_a_root(site: Site) -> bool:
    return isinstance(site.parent, Apply) and site.parent.function == "sqrt"


def _squared(term: Expr) -> Expr:
    return Neg(Power(term.arg, number(2))) if isinstance(term, Neg) else Power(term, number(2))


def is_measured(node: Expr) -> bool:
    """One number with its unit."""
    parts = [n for n in walk(node) if isinstance(n, (Num, Name, Unit))]
    return isinstance(parts[0], Num) and any(isinstance(p, Unit) for p in parts[1:]) and not any(
        isinstance(p, Name) for p in parts) if parts else False


def root(site: Site, _: Around) -> Iterator[Change]:
    """A root left out, or one too many."""
    node = site.node
    if isinstance(node, Apply) and node.function in ("sqrt", "cbrt"):
        yield Change(node.arg, at=node)
    elif isinstance(node, Num) and isinstance(site.parent, Quotient) and node.value in (2, 3, 5, 6):
        yield Change(Apply("sqrt", node), extra=0.3)  # `c/3` for `c/√3`
    elif _could_stand_under_a_root(site):
        yield Change(Apply("sqrt", node), extra=0.1)
    if isinstance(node, Product) and (site.is_side or is_term(site)):
        plain_ones = [f for f in node.factors if isinstance(f, (Num, Constant))]
        others = [f for f in node.factors if f not in plain_ones]
        if plain_ones and others:
            yield Change(product((*plain_ones, Apply("sqrt", product(others)))), extra=0.05)
    elif isinstance(node, Quotient) and site.is_side:
        numbers = [f for f in factors_of(node.num) if isinstance(f, (Num, Constant))]
        others = [f for f in factors_of(node.num) if f not in numbers]
        if numbers and others:
            yield Change(product((*numbers, Apply("sqrt", Quotient(product(others), node.den)))), extra=0.05)
        for i, f in enumerate(others if len(others) > 1 else ()):  # `A k/m` for `A √(k/m)`
            rest = product(others[:i] + others[i + 1 :])
            yield Change(product((*numbers, f, Apply("sqrt", Quotient(rest, node.den)))), extra=0.15)
            if numbers:  # `2 R E/I` for `R √(2 E/I)`
                yield Change(product((f, Apply("sqrt", Quotient(product((*numbers, rest)), node.den)))), extra=0.2)
    elif isinstance(node, Quotient) and isinstance(site.parent, Apply) and site.parent.function in TRIGONOMETRIC:
        others = [f for f in factors_of(node.num) if f != Name("t")]
        if len(others) < len(factors_of(node.num)) and not isinstance(node.num, Neg):  # `cos(k t/m)`, `cos(√(k/m) t)`
            yield Change(product((Apply("sqrt", Quotient(product(others), node.den)), Name("t"))))


def _could_stand_under_a_root(site: Site) -> bool:
    if site.is_side:
        return not isinstance(site.node, (Relation, Num, Name, Neg))
    return isinstance(site.node, (Quotient, Sum)) and isinstance(site.parent, (Product, Quotient))


def root_reach(site: Site, _: Around) -> Iterator[Change]:
    """A root or a function that ends too early or reaches too far (`√2 g h` for `√(2 g h)`)."""
    node = site.node
    if isinstance(node, Product):
        *before, end = node.factors
        if isinstance(end, Apply) and end.function == "sqrt" and isinstance(before[-1], Num):  # `2√x` for `√(2 x)`
            yield Change(product((*before[:-1], Apply("sqrt", product((before[-1], end.arg))))))
        for i, f in enumerate(node.factors):
            if isinstance(f, Apply) and i + 1 < len(node.factors):
                rest = node.factors[i + 1 :]
                yield Change(product((*node.factors[:i], Apply(f.function, product((f.arg, *rest))))))
                if len(rest) > 1:
                    made = Apply(f.function, product((f.arg, rest[0])))
                    yield Change(product((*node.factors[:i], made, *rest[1:])), extra=0.2)
    elif isinstance(node, Quotient):
        last = factors_of(node.num)[-1]
        if isinstance(last, Apply):
            front = product(factors_of(node.num)[:-1])
            yield Change(product((front, Apply(last.function, Quotient(last.arg, node.den)))))
    elif isinstance(node, Apply):
        yield from _shorter_reach(node)


def _shorter_reach(node: Apply) -> Iterator[Change]:
    arg = node.arg
    if isinstance(arg, Product):
        for i in range(len(arg.factors)):
            inner = product([f for j, f in enumerate(arg.factors) if j != i])
            yield Change(product((Apply(node.function, inner), arg.factors[i])), extra=0.1)
    elif isinstance(arg, Quotient):
        yield Change(Quotient(Apply(node.function, arg.num), arg.den))
        yield Change(product((arg.num, Apply(node.function, Quotient(ONE, arg.den)))), extra=0.4)
    elif isinstance(arg, Sum):
        yield Change(total((Apply(node.function, arg.terms[0]), *arg.terms[1:])), extra=0.1)


def bracket(site: Site, _: Around) -> Iterator[Change]:
    """A bracket that is missing, or closes in the wrong place."""
    node = site.node
    if isinstance(node, Sum):
        yield from _gathered(node)
    elif isinstance(node, Product):
        for i, f in enumerate(node.factors):
            rest = node.factors[:i] + node.factors[i + 1 :]
            if isinstance(f, Sum):  # `k (a + b)` for `k a + b`, or for `a + k b`
                yield Change(total((product((*rest, f.terms[0])), *f.terms[1:])))
                yield Change(total((*f.terms[:-1], product((*rest, f.terms[-1])))), extra=0.1)
            if isinstance(f, Power) and i and isinstance(plain(f.exponent), Fraction):  # `a b²` for `(a b)²`
                yield Change(Power(product((*node.factors[:i], f.base)), f.exponent), extra=0.05)
    elif isinstance(node, Quotient):
        if isinstance(node.num, Sum):  # `(a + b)/c` for `a + b/c`, or for `a/c + b`
            first, *others = node.num.terms
            yield Change(total((*node.num.terms[:-1], over(node.num.terms[-1], node.den))))
            yield Change(total((over(first, node.den), *others)), extra=0.1)
        if isinstance(node.den, Sum):  # `a/(b + c)` for `a/b + c`
            yield Change(total((Quotient(node.num, node.den.terms[0]), *node.den.terms[1:])), extra=0.1)
        if isinstance(node.den, Product):  # `a/(b c)` for `a/b c`
            for i, f in enumerate(node.den.factors):
                below = product(node.den.factors[:i] + node.den.factors[i + 1 :])
                yield Change(times(Quotient(node.num, below), f), at=node, extra=0.3)
    elif isinstance(node, Power) and isinstance(node.base, (Product, Quotient)):
        yield from _power_of_less(node)


def _power_of_less(node: Power) -> Iterator[Change]:
    base = node.base
    if isinstance(base, Product):
        for i, f in enumerate(base.factors):
            yield Change(product((*base.factors[:i], Power(f, node.exponent), *base.factors[i + 1 :])), extra=0.1)
    elif isinstance(base, Quotient):
        yield Change(Quotient(Power(base.num, node.exponent), base.den), extra=0.1)
        yield Change(Quotient(base.num, Power(base.den, node.exponent)), extra=0.2)


def _gathered(node: Sum) -> Iterator[Change]:
    """The ways to put a bracket around the end of a term and what follows it."""
    terms = node.terms
    for i in range(len(terms) - 1):
        before, rest = terms[:i], terms[i + 1 :]
        term = terms[i]
        here, minus = (term.arg, True) if isinstance(term, Neg) else (term, False)
        if isinstance(here, Product):  # `k a + b` for `k (a + b)`
            made: Expr = product((*here.factors[:-1], total((here.factors[-1], *rest))))
            yield Change(total((*before, Neg(made) if minus else made)))
        if isinstance(here, Quotient):  # `k/a + b` for `k/(a + b)`
            made = Quotient(here.num, total((here.den, *rest)))
            yield Change(total((*before, Neg(made) if minus else made)))
        if isinstance(here, Apply):  # `sin a + b` for `sin(a + b)`
            made = Apply(here.function, total((here.arg, *rest)))
            yield Change(total((*before, Neg(made) if minus else made)), extra=0.1)
        inner = [negated(t) if minus else t for t in rest]
        made = product((here, total((ONE, *inner))))  # `A - b` for `A (1 - b)`
        yield Change(total((*before, Neg(made) if minus else made)), extra=0.25)
        if minus:  # `- a + b` for `-(a + b)`, the same as `- a - b`
            yield Change(total((*before, terms[i], *map(negated, rest))), extra=0.2)
    yield from _gathered_between(terms)
    yield from _gathered_at_the_end(terms)


def _gathered_between(terms: tuple[Expr, ...]) -> Iterator[Change]:
    """`k a + b c` for `k (a + b) c`: the bracket opens within one term and closes within the next."""
    for i, (term, after) in enumerate(pairwise(terms)):
        minus = isinstance(term, Neg)
        left, right = factors_of(term), factors_of(after)
        if any(isinstance(t.arg if isinstance(t, Neg) else t, Quotient) for t in (term, after)):
            continue
        for j in range(1, len(left)):
            for k in range(1, len(right)):
                end, start = product(left[j:]), product(right[:k])
                second = negated(start) if isinstance(after, Neg) is not minus else start
                made = product((*left[:j], total((end, second)), *right[k:]))
                yield Change(total((*terms[:i], Neg(made) if minus else made, *terms[i + 2 :])), extra=0.1)


def _gathered_at_the_end(terms: tuple[Expr, ...]) -> Iterator[Change]:
    end = terms[-1]
    last, minus = (end.arg, True) if isinstance(end, Neg) else (end, False)
    if isinstance(last, Quotient):  # `a + b/c` for `(a + b)/c`
        above = negated(last.num) if minus else last.num
        yield Change(Quotient(total((*terms[:-1], above)), last.den))
    if isinstance(last, Product):  # `a + b c` for `(a + b) c`
        above = negated(last.factors[0]) if minus else last.factors[0]
        yield Change(product((total((*terms[:-1], above)), *last.factors[1:])), extra=0.1)
    if isinstance(last, Power):  # `a + b²` for `(a + b)²`
        inner = negated(last.base) if minus else last.base
        yield Change(Power(total((*terms[:-1], inner)), last.exponent), extra=0.2)


def exponent_sign(site: Site, _: Around) -> Iterator[Change]:
    """A decay written as a growth, or the reverse."""
    node = site.node
    if isinstance(node, Power) and names_exponent(node):
        yield Change(Power(node.base, negated(node.exponent)), at=node.exponent, into=negated(node.exponent))
    elif isinstance(node, Apply) and node.function == "exp":
        yield Change(Apply("exp", negated(node.arg)), at=node.arg, into=negated(node.arg))


def names_exponent(node: Power) -> bool:
    """An exponent that is more than a plain number, or a power of ten."""
    return plain(node.exponent) is None or node.base == number(10)


TURNED: dict[Sign, Sign] = {"<": ">", ">": "<", "≤": "≥", "≥": "≤", "≪": "≫", "≫": "≪"}


def direction(site: Site, _: Around) -> Iterator[Change]:
    """An inequality the wrong way round, as after a division by something negative."""
    node = site.node
    if isinstance(node, Relation) and any(s in TURNED for s in node.signs):
        yield Change(Relation(node.sides, tuple(TURNED.get(s, s) for s in node.signs), node.carries_on), at=node)
        equal: Sign = "="
        yield Change(Relation(node.sides, (equal,) * len(node.signs), node.carries_on), at=node, extra=0.1)
