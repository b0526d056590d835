"""Slips with the terms of a line: signs, numbers in front, terms and factors left out or put in twice.

Each function looks at one site and hands back the pieces that could have stood there had the writer not
slipped. They are plain functions of one signature, listed with their names in `edits.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from derive.diagnosis.around import Around, Change
from derive.diagnosis.pieces import (
    ONE,
    PI,
    factors_of,
    figures_of,
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
from derive.diagnosis.sites import Site, size
from derive.notation.tree import (
    Apply,
    Between,
    Component,
    Constant,
    Cross,
    Derivative,
    Differential,
    Dot,
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
    Value,
    Vector,
    names_in,
)

EXPRESSIONS = (Apply, Between, Component, Constant, Cross, Derivative, Differential, Dot, Integral, Name, Neg, Num,
               PlusMinus, Power, Product, Quotient, Sum, Value, Vector)


def is_term(site: Site) -> bool:
    """A term of a sum, a whole side, or a component: what may carry a sign or a number in front."""
    if isinstance(site.node, Relation) or not isinstance(site.node, EXPRESSIONS):
        return False
    return site.is_side or isinstance(site.parent, (Sum, Vector))


def unsigned(node: Expr, after: Expr, extra: float) -> Change:
    """A change of a term that points to the term without its sign, where the sign stays."""
    if isinstance(node, Neg) and isinstance(after, Neg):
        return Change(after, at=node.arg, into=after.arg, extra=extra)
    return Change(after, at=node, extra=extra)


def sign(site: Site, _: Around) -> Iterator[Change]:
    """The other sign of a term, of a whole side, or of what a bracket holds."""
    node = site.node
    if is_term(site):
        if isinstance(node, Sum):
            yield Change(Neg(node), extra=0.4)
        elif node != number(0):
            yield Change(negated(node), at=node)
    elif isinstance(node, Neg):
        yield Change(node.arg, at=node, extra=0.1)
    elif isinstance(node, PlusMinus):
        yield Change(PlusMinus(node.arg, not node.upper), extra=0.3)


# Small numbers that slip in or out, commonest first, with how much rarer each is than a factor 2.
FACTORS = ((Fraction(2), 0.0), (Fraction(1, 2), 0.0), (Fraction(4), 0.3), (Fraction(1, 4), 0.3), (Fraction(3), 0.5),
           (Fraction(1, 3), 0.5), (Fraction(2, 3), 0.8), (Fraction(3, 2), 0.8), (Fraction(8), 0.9),
           (Fraction(1, 8), 0.9))


def takes_a_factor(site: Site) -> bool:
    """Terms, and the insides of roots and functions; an exponent is another matter, and so is a written component."""
    node = site.node
    if isinstance(site.parent, Vector) and isinstance(node, Num):
        return False
    if is_term(site):
        return not isinstance(node, Neg) and not (isinstance(node, Num) and node.value == 0)
    if isinstance(site.parent, Neg) and isinstance(node, EXPRESSIONS):
        return True
    if isinstance(site.parent, Power) and site.path[-1][0] == "base":  # as inside a root: `(B/A)^(1/3)`
        return isinstance(node, EXPRESSIONS) and (plain(site.parent.exponent) or ONE.value).denominator > 1
    return isinstance(site.parent, Apply) and site.parent.function != "abs"


def factor(site: Site, _: Around) -> Iterator[Change]:
    """A number too many or too few in front of a term, of a bracket or inside a root or a function."""
    if not takes_a_factor(site):
        return
    inside = 0.3 if isinstance(site.parent, Apply) else 0.0
    whole = 0.1 if isinstance(site.node, Sum) else 0.0
    pointed = site.node
    # To a single figure one of many numbers fits by chance.
    vague = isinstance(pointed, Num) and pointed.last_digit is not None and figures_of(pointed) < 2
    for value, extra in FACTORS[:2] if vague else FACTORS:
        if isinstance(site.node, Num) and site.node.last_digit is not None:
            extra += 0.4  # a decimal was read off or computed: twice as much is a rarer slip than a power of ten
        yield Change(scaled(site.node, value), at=pointed, extra=extra + inside + whole + _without_a_number(site.node))


def _without_a_number(node: Expr) -> float:
    """A number that is there already is the likelier one to be wrong."""
    pieces = (*factors_of(node), *(factors_of(node.den) if isinstance(node, Quotient) else ()))
    return 0.0 if any(plain(p) is not None for p in pieces) else 0.03


def number_in_front(site: Site, _: Around) -> Iterator[Change]:
    """One of the small whole numbers of a line mistaken for another (`3` for `4` below a fraction line)."""
    node = site.node
    if not isinstance(node, Num) or node.last_digit is not None or not (0 < node.value <= 12) or site.is_side:
        return
    if node.value.numerator == 1 and node.value != 1:
        yield from (Change(number(Fraction(1, n)), extra=0.1 * abs(n - node.value.denominator))
                    for n in (2, 3, 4, 5, 6, 8, 12) if n != node.value.denominator)
        return
    if isinstance(site.parent, Power) and site.path[-1][0] == "exponent":
        return
    for other in (1, 2, 3, 4, 5, 6, 8, 12):
        if other != node.value:
            yield Change(number(other), extra=0.1 * abs(other - float(node.value)))


def circle(site: Site, _: Around) -> Iterator[Change]:
    """π or 2π left out or put in: a period taken for an angular frequency, degrees for a half turn."""
    if not takes_a_factor(site) or isinstance(site.node, Sum):
        return
    node = site.node
    yield Change(scaled(times(node, PI), Fraction(2)))
    yield Change(scaled(over(node, PI), Fraction(1, 2)))
    yield Change(times(node, PI), extra=0.1)
    yield Change(over(node, PI), extra=0.1)


def square_root_of_two(site: Site, _: Around) -> Iterator[Change]:
    """√2 too many or too few, as when a peak is taken for a mean square or a diagonal for a side."""
    if takes_a_factor(site) and not isinstance(site.node, (Sum, Num)):
        root = Apply("sqrt", number(2))
        yield Change(times(site.node, root))
        yield Change(over(site.node, root))


def extra_term(site: Site, _: Around) -> Iterator[Change]:
    """A term of a sum that should not be there."""
    node = site.node
    if isinstance(node, Sum):
        for i, term in enumerate(node.terms):
            rest = total(node.terms[:i] + node.terms[i + 1 :])
            yield Change(rest, at=term.arg if isinstance(term, Neg) else term)


def doubled_term(site: Site, _: Around) -> Iterator[Change]:
    """A term of a sum written where it should stand twice (or once, where two alike stand)."""
    node = site.node
    if isinstance(node, Sum):
        for i, term in enumerate(node.terms):
            if term in node.terms[i + 1 :]:
                yield Change(total(node.terms[:i] + node.terms[i + 1 :]), at=term)


def dropped_term(site: Site, around: Around) -> Iterator[Change]:
    """A term of the lines above that was lost on the way, with either sign, as it stood or divided like the rest."""
    node = site.node
    if not _takes_a_term(site):
        return
    have = {t.arg if isinstance(t, Neg) else t for t in terms_of(node)}
    dens = [t.den for t in have if isinstance(t, Quotient)]
    for rank, term in enumerate(around.terms):
        if term in have:
            continue
        for variant, extra in ((term, 0.0), *((quotient(term, d), 0.2) for d in dens[:1])):
            for signed in (variant, Neg(variant)):
                after = total((*terms_of(node), signed)) if node != number(0) else signed
                yield Change(after, extra=extra + min(0.02 * rank, 0.4) + (0.0 if site.is_side else 0.2))


def missing_term(site: Site, around: Around) -> Iterator[Change]:
    """A term that the piece would need, found among those of the lines above by its value."""
    node = site.node
    under_a_root = isinstance(site.parent, Apply) and site.parent.function == "sqrt"
    if around.stock is None or not (under_a_root or _takes_a_term(site)) or _stands_in_a_chain(site):
        return
    if not names_in(node) and node != number(0):
        return  # what a number lacks is no term of another line
    found = list(around.stock.missing(site))
    if site.is_side and not found and (made := around.stock.made_of_atoms(site)) is not None:
        found.append((made, 0.3))
    for term, far in found:
        after = total((*terms_of(node), term)) if node != number(0) else term
        yield Change(after, extra=far + (0.0 if site.is_side else 0.1))


def unusual_factor(site: Site, around: Around) -> Iterator[Change]:
    """A plain number that the piece is off by, one that is not among the common ones."""
    if around.stock is None or not takes_a_factor(site) or _stands_in_a_chain(site) or not names_in(site.node):
        return
    value = around.stock.factor(site, _number_in(site.node))
    if value is not None and value not in (0, 1) and all(value != f for f, _ in FACTORS):
        yield Change(scaled(site.node, value), extra=0.2 if isinstance(site.parent, Apply) else 0.0)


def _number_in(node: Expr) -> Fraction:
    """The plain number in front of a term, above the fraction line over below."""
    value = Fraction(1)
    for f in factors_of(node):
        value *= plain(f) or 1
    for f in factors_of(node.den) if isinstance(node, Quotient) else ():
        value /= plain(f) or 1
    return value


def _stands_in_a_chain(site: Site) -> bool:
    """In `a = b = c` a middle side has two neighbours, and what it would need is not settled by one of them."""
    relation = next((p for p in site.parents if isinstance(p, Relation)), None)
    return relation is not None and len(relation.sides) > 2 and 0 < site.path[0][1] < len(relation.sides) - 1


def _takes_a_term(site: Site) -> bool:
    node = site.node
    if isinstance(node, Sum):
        return True
    if isinstance(site.parent, Relation) and number(0) in site.parent.sides:
        # `B = 0` lacks no term; `N - m g = 0` may lack one.
        return any(isinstance(side, Sum) for side in site.parent.sides)
    return site.is_side and isinstance(node, EXPRESSIONS) and not isinstance(node, (Vector, Integral))


def forgotten_factor(site: Site, around: Around) -> Iterator[Change]:
    """A quantity missing from one term, or one too many in it: only that term was multiplied or divided."""
    node = site.node
    if isinstance(node, PlusMinus):  # a root of something negative has an i
        yield Change(PlusMinus(product((Constant("i"), node.arg)), node.upper), extra=0.2)
    if not is_term(site) or isinstance(node, (Sum, Num)) or size(node) > 40 or not names_in(node):
        return
    for after, extra in _with_and_without(site, around, over):
        yield unsigned(node, after, extra)


def _with_and_without(site: Site, around: Around, divide: Callable[[Expr, Expr], Expr]) -> Iterator[tuple[Expr, float]]:
    """The piece with one quantity more or less. By value where it is known what the piece would need, which is
    far cheaper; else every quantity in reach is tried, those of the writer's reason and of the piece itself first."""
    node = site.node
    known = None if around.stock is None or _stands_in_a_chain(site) else around.stock.forgotten(site)
    if known is not None and (known or not _moves(site, around)):
        for f, missing, rank in known:
            extra = -0.4 if f in around.said else min(0.03 * rank, 0.5)
            made = (times if missing else divide)(node, f)
            if made != ONE:
                yield made, extra
                yield negated(made), extra
        return
    own = [] if isinstance(node, Sum) else [f for f in factors_of(node) if not isinstance(f, Num)]
    for rank, f in enumerate(dict.fromkeys((*around.said, *own, *around.factors))):
        if around.stock is not None and around.stock.is_zero(f):
            continue
        extra = -0.4 if f in around.said else min(0.03 * rank, 0.5)
        if f != node:
            yield divide(node, f), extra
        yield times(node, f), extra


def _moves(site: Site, around: Around) -> bool:
    """A line about a motion may follow by integration, of which values at single states say nothing."""
    return bool({"t", *around.moving} & set(names_in(site.parents[0])))


def one_side_only(site: Site, around: Around) -> Iterator[Change]:
    """A whole side of several terms that was not multiplied or divided along with the other."""
    if site.is_side and isinstance(site.node, Sum):
        for after, extra in _with_and_without(site, around, Quotient):
            yield Change(after, extra=extra)


def one_term_only(site: Site, _: Around) -> Iterator[Change]:
    """A number that multiplied or divided the other terms of a sum but not this one (`2 a + b` for `2 (a + b)`)."""
    node = site.node
    if not isinstance(node, Sum):
        return
    for i, term in enumerate(node.terms):
        shared = [f for f in factors_of(term) if plain(f) != 1]
        for f in shared[:2]:
            others = [t if j == i else times(t, f) for j, t in enumerate(node.terms)]
            yield Change(total(others), at=node, extra=0.2 * (len(node.terms) - 2))
        below = term.arg if isinstance(term, Neg) else term
        if isinstance(below, Quotient) and below.den != ONE:
            others = [t if j == i else over(t, below.den) for j, t in enumerate(node.terms)]
            yield Change(total(others), at=node, extra=0.2 * (len(node.terms) - 2))


def upside_down(site: Site, _: Around) -> Iterator[Change]:
    """A fraction the wrong way up."""
    node = site.node
    if isinstance(node, Quotient):
        if node.den != ONE:
            yield Change(quotient(node.den, node.num))
            if not isinstance(node.num, Product):
                yield Change(product((node.num, node.den)), at=node, extra=0.25)
        if isinstance(node.num, Product):
            yield from _part_upside_down(node)
    elif isinstance(node, Product):
        for i, f in enumerate(node.factors):
            if isinstance(f, Quotient) or not isinstance(f, (Num, Constant, Name, Apply, Power)):
                continue
            if not isinstance(f, (Num, Constant)):
                yield Change(over(product(node.factors[:i] + node.factors[i + 1 :]), f), at=f, extra=0.4)
            elif f == PI:
                yield Change(Quotient(product(node.factors[:i] + node.factors[i + 1 :]), f), at=f, extra=0.6)
        for i in range(1, len(node.factors) - 1):  # `√(ℓ G M)` for `√(ℓ/(G M))`
            yield Change(Quotient(product(node.factors[:i]), product(node.factors[i:])), extra=0.45)
    elif is_term(site) and isinstance(node, (Name, Power)):
        yield Change(Quotient(ONE, node), extra=0.5)


def _part_upside_down(node: Quotient) -> Iterator[Change]:
    """`2 k/m` for `2 m/k`: a number in front stays where it is; a factor above the line belongs below, or back."""
    above, below = factors_of(node.num), factors_of(node.den)
    numbers = [f for f in above if not names_in(f)]
    if numbers:
        others = [f for f in above if f not in numbers]
        yield Change(Quotient(product((*numbers, node.den)), product(others)), extra=0.1)
        under = [f for f in below if not names_in(f)]
        if under and others:  # `3 W/(2 k)` for `2 W/(3 k)`
            others_below = [f for f in below if f not in under]
            yield Change(quotient(product((*under, *others)), product((*numbers, *others_below))), extra=0.05)
    for f in above:
        for g in below:
            if f not in numbers and not isinstance(g, Num):  # `b u/m` for `m u/b`
                swapped = product([g if p is f else p for p in above]), product([f if p is g else p for p in below])
                yield Change(Quotient(*swapped), extra=0.2)
        if f not in numbers:
            rest = product([g for g in above if g is not f])
            yield Change(Quotient(rest, product((*below, f))), at=f, extra=0.4)
    for f in below:
        rest = product([g for g in below if g is not f])
        yield Change(quotient(product((*above, f)), rest), at=f, extra=0.4)
