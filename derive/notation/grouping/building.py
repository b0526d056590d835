"""Raw nodes to trees: sums, sides and relations. One `Build` is one way of reading a line."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from derive.notation.failures import ReadError
from derive.notation.grammar import raw
from derive.notation.grouping.calculus import ends_integral, needs_more
from derive.notation.grouping.choices import Chooser
from derive.notation.grouping.items import UNIT_BRACKET, Item
from derive.notation.grouping.products import group_value, grouped, operand, product_of
from derive.notation.grouping.rows import items_of
from derive.notation.names import Scope
from derive.notation.tree import (
    Apply,
    Between,
    Claim,
    Derivative,
    Either,
    Expr,
    Name,
    Neg,
    Num,
    PlusMinus,
    Product,
    Quotient,
    Relation,
    Span,
    Sum,
    Unit,
    Value,
    names_in,
    walk,
)

# No inverse function of an angle gives more than π.
_MOST_RADIANS = Fraction(32, 10)

Limits = tuple[Expr | None, Expr | None, Expr | None]


@dataclass(slots=True)
class Build:
    """scope and chooser for one reading; `waiting` are limits given in words for the next bare integral."""

    scope: Scope
    chooser: Chooser
    line: str
    calculus: bool = False
    integrates: bool = False
    waiting: Limits | None = None
    unit_of_sum: Expr | None = None

    # --- relations ---

    def relation(self, node: raw.RawRelation) -> Relation:
        sides = self._inverses_in_degrees(tuple(self.sum(side) for side in node.sides))
        if not node.continues:
            return Relation(sides, node.signs, span=node.span)
        if self.scope.previous is None:
            raise ReadError(Span(node.span.start, node.span.start + 1), "something before the relation sign; "
                             "there is no relation above that this line could continue")
        return Relation((self.scope.previous, *sides), node.signs, True, span=node.span)

    def _inverses_in_degrees(self, sides: tuple[Expr, ...]) -> tuple[Expr, ...]:
        """`θ = arctan(0.32) = 17.7`: a figure no angle in radians can have here is one in degrees."""
        out = list(sides)
        for at, (before, side) in enumerate(pairwise(sides), start=1):
            inverse = isinstance(before, Apply) and before.function in ("arcsin", "arccos", "arctan")
            if not inverse or not isinstance(side, Num) or side.value <= _MOST_RADIANS or side.span is None:
                continue
            if self.chooser.choose("degrees", side.span, [True, False]):
                out[at] = Product((side, Unit("°", span=side.span)), span=side.span)
                self.chooser.came_to(side.span, out[at])
        return tuple(out)

    def range(self, node: raw.RawRange) -> Relation:
        lower, side, upper = self.sum(node.lower.inner), self.sum(node.side), self.sum(node.upper.inner)
        return Relation((lower, side, upper), ("≤", "≤"), span=node.span)

    def claim(self, node: raw.RawStatement) -> Claim:
        """The alternatives of a statement; a bare one takes the left side of the one before (`x = 2 or -2`)."""
        parts: list[Claim] = []
        for alternative in node.alternatives:
            if isinstance(alternative, raw.RawRelation):
                parts.append(self.relation(alternative))
            elif isinstance(alternative, raw.RawRange):
                parts.append(self.range(alternative))
            elif parts and isinstance(parts[-1], Relation):
                before = parts[-1]
                right = self.sum(alternative)
                parts.append(Relation((before.sides[0], right), before.signs[-1:], span=alternative.span))
            else:
                raise ReadError(_end_of(alternative.span), "a relation sign such as = and something after it")
        return parts[0] if len(parts) == 1 else Either(tuple(parts), span=node.span)

    # --- sums ---

    def sum(self, total: raw.RawSum) -> Expr:
        terms: list[Expr] = []
        at = 0
        while at < len(total.terms):
            sign, term = total.terms[at]
            expr, at = self._term(total, at)
            terms.append(_signed(sign, expr, total, term))
        units, self.unit_of_sum = self.unit_of_sum, None
        result = terms[0] if len(terms) == 1 else Sum(tuple(terms), span=total.span)
        if units is not None and self.scope.quick and names_in(result) and _of_the_si(units):
            return result  # `x = 3t² - t³ (m)`: what x is measured in, and no factor
        return Product((result, units), span=total.span) if units is not None else result

    def _term(self, total: raw.RawSum, at: int) -> tuple[Expr, int]:
        """The term at `at`; an integral over a sum without brackets takes the terms up to its differential."""
        term = total.terms[at][1]
        if isinstance(term, raw.RawEvaluated):
            return self._evaluated(term), at + 1
        items = self._items(term)
        last = at + 1 == len(total.terms) and len(items) > 1
        units = items.pop().expr if last and items[-1].ident == UNIT_BRACKET and (
            at or (self.scope.quick and any(i.kind in ("name", "group") for i in items))) else None
        if not needs_more(items):
            result = self.product(items)
            self.unit_of_sum = units  # -4 î + 3 ĵ (m/s)
            if self.waiting is not None:
                raise ReadError(term.span, "an integral without limits before ‘from’ or ‘over’")
            return result, at + 1
        for end in range(at + 1, len(total.terms)):
            following = total.terms[end][1]
            if isinstance(following, raw.RawEvaluated):
                break
            more = self._items(following)
            if ends_integral(more):
                return self._integral_over_sum(total, at, end, items, more), end + 1
        return self.product(items), at + 1

    def _items(self, term: raw.RawProduct | raw.RawRanged) -> list[Item]:
        """The items of a term; limits that it gives in words wait for its integral sign."""
        if isinstance(term, raw.RawProduct):
            return items_of(term.row, self)
        if isinstance(term.limits, raw.RawNamedLimit):
            relation = self.relation(term.limits.relation)
            if len(relation.sides) != 3:
                raise ReadError(term.limits.span, "a range after ‘over’, such as 0 ≤ x ≤ L")
            lower, variable, upper = relation.sides
            self.waiting = (lower, upper, variable)
        else:
            self.waiting = (self.sum(term.limits[0].inner), self.sum(term.limits[1].inner), None)
        return items_of(term.body.row, self)

    def _integral_over_sum(self, total: raw.RawSum, at: int, end: int, first: list[Item], last: list[Item]) -> Expr:
        """`∫ a + b t dt`: the body is the sum of what stands between the sign and the differential."""
        opened = max(i for i, item in enumerate(first) if item.kind == "integral")
        closed = next(i for i, item in enumerate(last) if item.kind == "d")
        # `∫ -k x dx`: what is integrated may begin with a sign.
        body: list[Expr] = [self.product(first[opened + 1:])] if first[opened + 1:] else []
        for sign, term in total.terms[at + 1:end]:
            assert not isinstance(term, raw.RawEvaluated)
            body.append(_signed(sign, self.product(self._items(term)), total, term))
        sign, term = total.terms[end]
        if not last[:closed]:
            raise ReadError(last[closed].span, "brackets around what is integrated")
        body.append(_signed(sign, self.product(last[:closed]), total, term))
        start = body[0].span or first[opened].span
        span = Span(start.start, last[closed].span.start)
        inner = Item("done", span, expr=Sum(tuple(body), span=span) if len(body) > 1 else body[0])
        return self.product([*first[:opened + 1], inner, *last[closed:]])

    def product(self, items: list[Item]) -> Expr:
        return product_of(items, self)

    def grouped(self, items: list[Item]) -> Expr:
        return grouped(items, self)

    def operand(self, items: list[Item], at: int) -> tuple[Expr, int]:
        return operand(items, at, self)

    def bracket(self, item: Item) -> Expr:
        return group_value(item, self)

    # --- exponents, brackets, limits ---

    def exponent(self, node: raw.RawExponent | raw.RawFactor) -> Expr:
        """A factor or an exponent by itself."""
        match node:
            case raw.RawNegative(inner):
                return Neg(self.exponent(inner), span=node.span)
            case raw.RawBars(inner):
                return Apply("abs", self.sum(inner), span=node.span)
            case raw.RawFraction(top, bottom):
                return Quotient(self.sum(top.inner), self.sum(bottom.inner), span=node.span)
            case raw.RawEvaluatedGroup():
                return self._between(self.sum(node.body.inner), node.lower, node.upper, node.span)
            case raw.RawNamedLimit():
                raise ReadError(node.span, "no relation sign inside these brackets")
            case raw.RawPower() | raw.RawNumber() | raw.RawLetters() | raw.RawGroup() | raw.RawTuple():
                return self.product(items_of((node,), self))
            case _:
                raise ReadError(node.span, "a number or a name here")

    def limits(self, integral: raw.RawIntegral) -> Limits:
        if integral.lower is None or integral.upper is None:
            waiting, self.waiting = self.waiting, None
            return waiting or (None, None, None)
        lower, variable = self._limit(integral.lower)
        upper, _ = self._limit(integral.upper)
        return lower, upper, variable

    def _limit(self, node: raw.RawExponent) -> tuple[Expr, Expr | None]:
        """A limit, and its variable where it names one (`x=0`)."""
        if isinstance(node, raw.RawNamedLimit):
            relation = self.relation(node.relation)
            if len(relation.sides) == 2 and relation.signs == ("=",):
                return relation.sides[1], relation.sides[0]
            raise ReadError(node.span, "a limit such as x=0")
        return self.exponent(node), None

    def _between(self, body: Expr, lower: raw.RawExponent, upper: raw.RawExponent, span: Span) -> Between:
        low, variable = self._limit(lower)
        high, _ = self._limit(upper)
        return Between(body, low, high, variable, span=span)

    def _evaluated(self, term: raw.RawEvaluated) -> Expr:
        items = items_of(term.body.row, self)
        body = self.product(items)
        if term.upper is not None:
            return self._between(body, term.lower, term.upper, term.span)
        place, _ = self._limit(term.lower)
        if not isinstance(body, Name | Derivative):
            raise ReadError(term.span, "an upper limit as well, such as |_0^d")
        return Value(body, (place,), span=term.span)


def _signed(sign: str, expr: Expr, total: raw.RawSum, term: raw.RawTerm) -> Expr:
    """A term with its sign; the sign's place is taken into the span."""
    if sign in ("", "+"):
        return expr
    end = expr.span.end if expr.span else term.span.end
    start = term.span.start
    if total.terms[0][1] is term:
        start = total.span.start
    span = Span(start, end)
    return Neg(expr, span=span) if sign == "-" else PlusMinus(expr, sign == "±", span=span)


def _end_of(span: Span) -> Span:
    return Span(max(span.start, span.end - 1), span.end)


_SI = frozenset(("m", "s", "kg", "N", "J", "W", "Pa", "rad", "Hz"))


def _of_the_si(units: Expr) -> bool:
    return all(u.ident in _SI for u in walk(units) if isinstance(u, Unit))
