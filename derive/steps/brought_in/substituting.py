"""Numbers put in for names that nobody has given a value: `v = a t = 4·5`, `W = F d cos θ = 50·4·cos 60°`.

In a working without givens the numbers of the task are often first seen where they are put in. Laid beside each other,
the two sides of such a step tell which number stands for which name. Names that have a value already keep it, so that a
wrong number is seen. Nothing is said here of whether a line holds: a view has the values that were put in, no more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice, permutations
from math import isclose

from derive.notation.printed.printing import as_text
from derive.notation.tree import (
    Apply,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Sum,
    Unit,
    names_in,
    rebuilt,
    walk,
)
from derive.quantities.typed_numbers import starts_with_unit
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.setting import Decision, Matter
from derive.states.states import freedom
from derive.steps.brought_in.quick import where_possible
from derive.terms.declared import plain_value
from derive.terms.lowering import Meaningless, lower
from derive.terms.term import ZERO, Term, Var, mul, num, sub, substitute, var, variables
from derive.terms.world import TIME

# What stands in whose place: an expression with names, and the one without that was written for it.
Match = tuple[tuple[Expr, Expr], ...]

# Numbers may be put in in another order than the names (`m a = 2·60` for a = 2, m = 60): so many are tried.
_ORDERS = 24
_WHOLE = Var("#whole")


@dataclass(frozen=True, slots=True)
class View:
    """The matter with values put in, and which."""

    inside: Matter
    put: Match


def with_values_put_in(m: Matter, holds: Callable[[Matter], bool]) -> View | None:
    """The matter with the values that the step puts in, where it holds with them beside the lines above.

    Where the numbers fit the names in more than one way, or only say a ratio, no more is put in than is sure: what all
    the ways share, and the value of the whole.
    """
    whole = ((m.pair.left, m.pair.right),)  # which holds as soon as it can be
    found = list(islice((v for v in _views(m) if v.put == whole or holds(v.inside)), 2))
    if not found:
        return None
    if len(found) == 1 and not _says_a_ratio(m, found[0]):
        return found[0]
    shared = tuple(p for p in found[0].put if all(p in v.put for v in found)) if len(found) > 1 else ()
    return _with_values(m, (*shared, (m.pair.left, m.pair.right)))


def _views(m: Matter) -> Iterator[View]:
    """A view for every way of laying the sides beside each other that some state fits."""
    if m.setting.strict or m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1 or m.lowered.primitives:
        return
    formula, numbers = m.pair.left, m.pair.right
    if names_in(numbers) or not isinstance(formula, Sum | Neg | Product | Quotient | Power | Apply):
        return
    if m.lowered.parts[0][1] is ZERO or {*names_in(formula)} == {TIME}:
        return  # `k x - F = 0` is a law and no value, `t² - 3 t + 2 = 1` an equation
    beside = () if _is_a_balance(m) else islice(_matches(formula, numbers), _ORDERS)
    matches = list(beside) or [((formula, numbers),)]
    for match in matches:
        view = _with_values(m, match)
        if view is not None:
            yield view


def _is_a_balance(m: Matter) -> bool:
    """`A + B = 3 kN + 2 kN`: two forces that bear two loads, and neither of them one load by itself."""
    formula, numbers = m.pair.left, m.pair.right
    sums = isinstance(formula, Sum) and isinstance(numbers, Sum)
    return m.pair.head is None and sums and all(map(_is_number, numbers.terms))  # type: ignore[union-attr]


def _says_a_ratio(m: Matter, view: View) -> bool:
    """Is it one number over another, and nothing known of what they stand for (`v₂/v₁ = 1/2`)?"""
    numbers = m.pair.right
    if not isinstance(numbers, Quotient) or not _is_number(numbers.num) or not _is_number(numbers.den):
        return False
    return {n for e, _ in view.put for n in names_in(e)} >= set(names_in(m.pair.left))


def said(view: View) -> Decision:
    """The line taken, with the values that it brings in."""
    values = ", ".join(f"{as_text(e)} = {as_text(n)}" for e, n in view.put)
    verdict = Verdict(Standing.TAKEN, code="taken.put_in", facts=(("values", values),))
    return Decision(verdict, view.inside.setting)


def _with_values(m: Matter, match: Match) -> View | None:
    """A view with a value for every matched expression that is still open; None where none is, or no state fits."""
    context = m.context
    put: list[tuple[Expr, Expr]] = []
    premises: list[Premise] = []
    written: list[Premise] = []
    results = _results(m)
    for e, n in match:
        try:
            name, value, meant = lower(e, context.world), lower(n, context.world), _with_results(n, results, context)
        except Meaningless:
            return None
        if isinstance(name, Term) and isinstance(value, Term) and _is_open(m, name, premises):
            premises.append(_value(m, name, meant or value))
            put.append((e, n))
            written += [_value(m, name, value)] if meant is not None else []
    possible = where_possible(m, premises) if put else None
    if possible is None:
        return None
    setting = m.setting.within(possible.adding(*premises))
    return View(replace(m, setting=replace(setting, rounded=(*setting.rounded, *written))), tuple(put))


def _value(m: Matter, name: Term, value: Term) -> Premise:
    return Premise(m.label, sub(name, value), "=", False, False, m.number, "value", (name, value))


# Fewer figures are met by chance.
_FIGURES = 100


def _results(m: Matter) -> dict[Fraction, Term]:
    """What the lines above have rounded to a number of three figures or more."""
    found: dict[Fraction, Term] = {}
    for p in m.setting.rounded:
        numbers = [t.value for t in p.term.args if isinstance(t.value, Fraction)] if p.term.op == "add" else []
        if p.sign == "=" and len(numbers) == 1 and _has_figures(abs(numbers[0])) and not any(
                v.order or v.at for v in variables(p.term)):
            sign = -1 if numbers[0] < 0 else 1
            found[abs(numbers[0])] = mul(num(-sign), sub(p.term, num(numbers[0])))
    return found


def _has_figures(number: Fraction) -> bool:
    places = next((k for k in range(12) if (number * 10**k).denominator == 1), 0)
    return number * 10**places >= _FIGURES


def _with_results(n: Expr, results: dict[Fraction, Term], context: Context) -> Term | None:
    """`N·1.5` of `196·1.5` below `N = m g = 196 N`: the calculator has more figures of it, and may go on with these.
    None where nothing of it is such a result."""
    met = [x for x in walk(n) if isinstance(x, Num) and x.value in results]
    if not met or any(isinstance(u, Unit) for u in walk(n)):
        return None
    names = {id(x): Name(f"#result{k}") for k, x in enumerate(met)}
    value = lower(rebuilt(n, dict(names)), context.world)  # type: ignore[arg-type]
    if not isinstance(value, Term):
        return None
    return substitute(value, {var(Var(names[id(x)].ident)): results[x.value] for x in met})


def _is_open(m: Matter, t: Term, beside: Sequence[Premise]) -> bool:
    """Can a term still have any value?"""
    if not variables(t) or any(v.role != "value" or v.order for v in variables(t)):
        return False
    whole = Premise("", sub(var(_WHOLE), t), "=", False)
    return freedom(m.context, [_WHOLE], (*beside, whole), m.setting.states) == 1


# --- side by side ---------------------------------------------------------------------------------------------


def _matches(e: Expr, n: Expr) -> Iterator[Match]:
    """The ways in which a tree without names can be one with names after numbers were put in."""
    if not names_in(e):
        if _same(e, n):
            yield ()
        return
    match e, n:
        case Neg(arg), Neg(other):
            yield from _matches(arg, other)
        case _, _ if _is_number(n):
            yield ((e, n),)
        case Apply(function, arg), Apply(also, other) if function == also:
            yield from _matches(arg, other)
        case Power(base, exponent), Power(other, same) if exponent == same:
            yield from _matches(base, other)
        case Sum(terms), Sum(others) if len(terms) == len(others):
            yield from _in_turn(terms, others)
        case (Product() | Quotient(), Product() | Quotient()):
            yield from _factor_by_factor(e, n)


def _in_turn(parts: Sequence[Expr], others: Sequence[Expr]) -> Iterator[Match]:
    if not parts:
        yield ()
        return
    for first in _matches(parts[0], others[0]):
        for rest in _in_turn(parts[1:], others[1:]):
            yield (*first, *rest)


def _factor_by_factor(e: Expr, n: Expr) -> Iterator[Match]:
    """What stands above and below the bars, in the order written first, then in others."""
    (above, below), (top, bottom) = _factors(e), _factors(n)
    named, under = [f for f in above if names_in(f)], [f for f in below if names_in(f)]
    numeric = [f for f in above if not names_in(f)], [f for f in below if not names_in(f)]
    for upper, lower_ in _without_coefficient(numeric, top, bottom):
        if len(upper) == len(named) and len(lower_) == len(under):
            for over in permutations(upper):
                for beneath in permutations(lower_):
                    yield from _in_turn((*named, *under), (*over, *beneath))


def _without_coefficient(
    numeric: tuple[list[Expr], list[Expr]], top: list[Expr], bottom: list[Expr]
) -> Iterator[tuple[list[Expr], list[Expr]]]:
    """The factors put in once those of the formula's own numbers are off: `½ m v²` as `1/2·3·16` or as `0.5·3·16`."""
    upper, lower_ = _less(top, numeric[0]), _less(bottom, numeric[1])
    if upper is not None and lower_ is not None:
        yield upper, lower_
    values = [[plain_value(f) for f in side] for side in numeric]
    if not numeric[1] or None in values[0] or None in values[1]:
        return
    whole = 1.0
    for value in values[0]:
        whole *= value or 0.0
    for value in values[1]:
        whole /= value or 1.0
    for k, f in enumerate(top):
        if isclose(plain_value(f) or 0.0, whole, rel_tol=1e-12):
            yield top[:k] + top[k + 1 :], bottom


def _less(factors: list[Expr], numbers: list[Expr]) -> list[Expr] | None:
    """The factors without some numbers; None where one is not among them (a one need not be)."""
    left = list(factors)
    for number in numbers:
        found = next((f for f in left if _same(f, number)), None)
        if found is None and plain_value(number) != 1.0:
            return None
        if found is not None:
            left.remove(found)
    return left


def _factors(e: Expr) -> tuple[list[Expr], list[Expr]]:
    """What stands above and below the bars of a product; a quantity with its unit is one factor."""
    if not _is_number(e) and isinstance(e, Product):
        parts = [_factors(f) for f in e.factors]
        return [f for above, _ in parts for f in above], [f for _, below in parts for f in below]
    if not _is_number(e) and isinstance(e, Quotient):
        (above, below), (under, over) = _factors(e.num), _factors(e.den)
        return above + over, below + under
    return [e], []


def _is_number(e: Expr) -> bool:
    """A number as it is read off: with its sign and its unit, but with nothing worked out."""
    if isinstance(e, Neg):
        return _is_number(e.arg)
    if isinstance(e, Product | Quotient):
        parts = e.factors if isinstance(e, Product) else (e.num, e.den)
        return _is_number(parts[0]) and all(_is_unit(p) for p in parts[1:])
    return isinstance(e, Num)


def _is_unit(e: Expr) -> bool:
    return starts_with_unit(e) and not any(isinstance(p, Product | Quotient) and _is_number(p) for p in walk(e))


def _same(e: Expr, n: Expr) -> bool:
    if names_in(n):
        return False
    a, b = plain_value(e), plain_value(n)
    return a is not None and b is not None and isclose(a, b, rel_tol=1e-12)
