"""A number and the unit after it: which letters are a unit, and how far the unit reaches.

`5 m` may be a length or five masses. Both readings are offered; which comes first is told by the
declared names, the spacing and how common the unit is.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from derive.notation.failures import ReadError
from derive.notation.grammar import raw
from derive.notation.grouping.clock_letters import is_time, time_comes_back, time_goes_on
from derive.notation.grouping.items import QUANTITY, UNIT_BRACKET, Builder, Item
from derive.notation.grouping.reckonings import of_the_time, reckoned
from derive.notation.grouping.turns import turns_counted
from derive.notation.grouping.unit_letters import LENGTHS, RARELY_UNITS, declared_all, is_energy_like, rare, unheard_of
from derive.notation.lexemes.letters import split
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import READY, UNITS, compound_named, run_together, unit_named
from derive.notation.tree import Constant, Expr, Neg, Num, Power, Product, Quotient, Span, Unit, walk

Row = tuple[raw.RawFactor | raw.RawJoined, ...]

_UNIT_FIGURE = re.compile(r"([A-Za-zμΩ]+)([23])\Z")


def unit_run(run: Lexeme) -> Expr | None:
    """A whole run as a unit: `kg`, `°`, `s2` for s²."""
    ident = run.text if run.kind == "unit" else unit_named(run.text)
    if ident is not None:
        return Unit(ident, span=run.span)
    two = compound_named(run.text)
    if two is not None:
        return Quotient(Unit(two[0], span=run.span), Unit(two[1], span=run.span), span=run.span)
    several = run_together(run.text)
    if several:
        return Product(tuple(Unit(name, span=run.span) for name in several), span=run.span)
    squared = _UNIT_FIGURE.match(run.text)
    if squared and unit_named(squared.group(1)):
        base = Unit(unit_named(squared.group(1)) or "", span=run.span)
        return Power(base, Num(Fraction(int(squared.group(2))), span=run.span), span=run.span)
    return None


_PER_SECOND = frozenset(("ms", "kgs"))  # with a power below nothing; else milliseconds, and kilograms in the plural


def _unit_factor(factor: raw.RawFactor, b: Builder) -> Expr | None:
    """A factor that can be a unit: a run, a run with a numeric power, a bracket of units."""
    if isinstance(factor, raw.RawLetters):
        tenth = factor.run.text.startswith("d") and factor.run.text not in READY
        return None if tenth and b.integrates else unit_run(factor.run)  # in ∫ 2 dm the dm is no length
    if isinstance(factor, raw.RawPower):
        base = _unit_factor(factor.base, b)
        if base is None or not _numeric(factor.exponent):
            return None
        exponent = b.exponent(factor.exponent)
        typed = factor.base.run.text if isinstance(factor.base, raw.RawLetters) else ""
        if typed in _PER_SECOND and isinstance(exponent, Neg):  # 9.81 ms^-2
            base = Product((Unit(typed[:-1], span=base.span), Unit("s", span=base.span)), span=base.span)
        if isinstance(base, Product):
            last = Power(base.factors[-1], exponent, span=factor.span)
            return Product((*base.factors[:-1], last), span=factor.span)
        return Power(base, exponent, span=factor.span)
    if isinstance(factor, raw.RawGroup):
        return _unit_group(factor, b)
    return None


def _unit_group(group: raw.RawGroup, b: Builder) -> Expr | None:
    terms = group.inner.terms
    if len(terms) != 1 or terms[0][0] or group.primes or not isinstance(terms[0][1], raw.RawProduct):
        return None
    row = terms[0][1].row
    units, used = _unit_chain(row, 0, b)
    return units if used == len(row) else None


def _numeric(exponent: raw.RawExponent) -> bool:
    match exponent:
        case raw.RawNumber():
            return True
        case raw.RawNegative(inner):
            return _numeric(inner)
        case raw.RawGroup(inner=raw.RawSum(terms=((_, raw.RawProduct(row=row)),))):
            return all(isinstance(x.factor if isinstance(x, raw.RawJoined) else x, raw.RawNumber) for x in row)
    return False


_SHARES = (Unit("%"), Unit("‰"))


def _unit_chain(row: Row, at: int, b: Builder) -> tuple[Expr | None, int]:
    """The longest stretch from `at` that reads as units, folded left to right, and its length."""
    units: Expr | None = None
    start = at
    while at < len(row):
        part = row[at]
        joined = isinstance(part, raw.RawJoined)
        factor = part.factor if isinstance(part, raw.RawJoined) else part
        if joined and (units is None or part.negative):  # type: ignore[union-attr]
            break
        if joined and units in _SHARES and part.sign != "/":  # type: ignore[union-attr]
            break  # 20 % of L
        unit = _unit_factor(factor, b)
        if unit is None or _is_rate(row, at):
            break
        units = _fold_unit(units, unit, joined and part.sign == "/")  # type: ignore[union-attr]
        at += 1
    return units, at - start


def _is_rate(row: Row, at: int) -> bool:
    """`dm/dt`, where both could be tenths of something."""
    over, under = row[at], row[at + 1] if at + 1 < len(row) else None
    if not isinstance(under, raw.RawJoined) or under.sign != "/":
        return False
    return all(isinstance(f, raw.RawLetters) and f.run.text[:1] == "d" for f in (over, under.factor))


def _fold_unit(so_far: Expr | None, unit: Expr, divides: bool) -> Expr:
    if so_far is None:
        return unit
    assert so_far.span and unit.span
    span = Span(so_far.span.start, unit.span.end)
    if divides:
        return Quotient(so_far, unit, span=span)
    factors = so_far.factors if isinstance(so_far, Product) else (so_far,)
    return Product((*factors, unit), span=span)


def quantity(row: Row, at: int, factor: raw.RawFactor, tight: bool,
              items: list[Item], b: Builder) -> int:
    """Read a number with the unit after it as one item; how many parts of the row that took, 0 for none.

    A bracketed unit may follow anything: `-4 î + 3 ĵ (m/s)`.
    """
    # Behind `1200(9.8 - 2.5)` a unit may follow.
    if isinstance(factor, raw.RawGroup) and items and not (
            isinstance(row[at], raw.RawJoined) or _only_figures(factor, fewest=1)):
        return _bracketed_unit(factor, tight, items, b)
    if items and not isinstance(row[at], raw.RawJoined) and (
            items[-1].kind == "tuple" or _ends_a_reckoning(row, at, b)):
        return _unit_of_components(row, at, tight, items, b)
    figures = _figures(factor, fewest=1 if items else 2)
    if figures is None or at + 1 >= len(row) or _is_an_argument(factor, row[at + 1], items):
        return 0
    if isinstance(row[at + 1], raw.RawJoined | raw.RawNumber):
        return _per_unit(row, at, figures, tight, items, b)
    row = _up_to_the_unit(row, at, items)
    units, used = _unit_chain(row, at + 1, b)
    if units is None or units.span is None:
        return 0
    lengths = _chain_options(row, at + 1, used, figures, b)
    if lengths[0] == 0 and items and _only_names(row[at + 1], figures, items[-1]):
        lengths = [0]
    length = b.chooser.choose("unit", Span(factor.span.start, units.span.end), lengths)
    if not length:
        return 0
    units, _ = _unit_chain(row[:at + 1 + length], at + 1, b)
    assert units is not None and units.span is not None
    span = Span(factor.span.start, units.span.end)
    units = turns_counted(units, b) or units
    number: Expr = replace(figures.value, span=figures.span)
    if isinstance(factor, raw.RawGroup):
        number = b.exponent(factor)
    if isinstance(factor, raw.RawPower):
        number = Power(number, b.exponent(factor.exponent), span=factor.span)
    if items and items[-1].kind == "slash" and all(i.kind in ("number", "constant") for i in items[:-1]):
        # 3/4 m, π/6 rad: the unit is that of the fraction
        items += [Item("number", factor.span, tight, number), Item("done", span, False, units)]
        return 1 + length
    if items and items[-1].ident == QUANTITY:
        raise ReadError(span, "a sign between these two quantities")  # 2 min 30 s
    items.append(Item("done", span, tight, Product((number, units), span=span), QUANTITY))
    return 1 + length


def _is_an_argument(factor: raw.RawFactor, behind: raw.RawFactor | raw.RawJoined, items: list[Item]) -> bool:
    """The bracket of `9.81 sin(0.520) m/s²`, `√(25) m/s`: the unit is that of the whole; but `sin(30)°`."""
    of_an_angle = isinstance(behind, raw.RawLetters) and behind.run.text in ("°", "deg", "rad", "degrees", "radians")
    return isinstance(factor, raw.RawGroup) and _takes_an_argument(items) and not of_an_angle


def _up_to_the_unit(row: Row, at: int, items: list[Item]) -> Row:
    """Of `3 cos(60)° m` the metres are those of the whole."""
    return row[:at + 2] if isinstance(row[at], raw.RawGroup) and _takes_an_argument(items) else row


def _takes_an_argument(items: list[Item]) -> bool:
    return bool(items) and items[-1].kind in ("function", "root")


def _bracketed_unit(factor: raw.RawGroup, tight: bool, items: list[Item], b: Builder) -> int:
    if tight and factor.bracket == "(":
        return 0
    units = _unit_group(factor, b)
    if units is not None and b.chooser.choose("unit", factor.span, _bracket_options(factor, tight, b)):
        items.append(Item("done", factor.span, tight, units, UNIT_BRACKET))
        return 1
    return 0


def _unit_of_components(row: Row, at: int, tight: bool, items: list[Item], b: Builder) -> int:
    """`(6, 8) N`: units from here to the end of the row are those of the components before them."""
    units, used = _unit_chain(row, at, b)
    if units is None or units.span is None or at + used < len(row):
        return 0
    known = any(map(b.scope.knows, (n.ident for n in walk(units) if isinstance(n, Unit))))  # `(2 + 3 t) m` of a mass m
    if not b.chooser.choose("unit", units.span, [not known, known]):
        return 0
    items.append(Item("done", units.span, tight, units, UNIT_BRACKET))
    return used


def _ends_a_reckoning(row: Row, at: int, b: Builder) -> bool:
    """`200 e^(0.3·4π) N`, `4 ln(2) m/s`: the last letters behind figures."""
    last, rest = row[at], row[at + 1:]
    if not isinstance(last, raw.RawLetters) or not last.run.spaced or declared_all(last, b):
        return False
    alone = all(isinstance(p, raw.RawJoined) and p.sign == "/" for p in rest) or is_energy_like(last)
    return alone and not (rare(last) and not rest) and reckoned(row[:at], b.scope)


def _per_unit(row: Row, at: int, figures: raw.RawNumber, tight: bool, items: list[Item], b: Builder) -> int:
    """`12.6 /s`, `7.36 1/s²`: a number, a space, and a unit below a slash or below a one, at the end of the row."""
    beside = row[at + 1]
    used = 3 if isinstance(beside, raw.RawNumber) else 2
    joined = row[at + used - 1] if at + used == len(row) and not items else None
    if not isinstance(joined, raw.RawJoined) or joined.sign != "/" or joined.negative:
        return 0
    unit, known = _unit_factor(joined.factor, b), declared_all(joined, b)
    if unit is None or beside.span.start <= figures.span.end:
        return 0
    decimal = figures.value.last_digit is not None
    if isinstance(beside, raw.RawNumber):
        options = ([False, True] if known else [True]) if beside.value == Num(Fraction(1)) else [False]
    else:
        apart = known or joined.factor.span.start > joined.span.start + 1
        options = [False] if apart else [decimal, not decimal]
    span = Span(figures.span.start, joined.span.end)
    if not b.chooser.choose("unit", span, options):
        return 0
    number = replace(figures.value, span=figures.span)
    items.append(Item("done", span, tight, Quotient(number, unit, span=span), QUANTITY))
    return used


def unit_behind_pi(row: Row, at: int, tight: bool, items: list[Item], b: Builder) -> int:
    """`T = 2π s`, `ω = 4π rad/s`, where the side ends with it and no letter of the unit is a name: of seconds or
    radians, for `2π m` may be anything."""
    pi = row[at].factor if isinstance(row[at], raw.RawJoined) else row[at]  # type: ignore[union-attr]
    if not isinstance(pi, raw.RawLetters) or pi.run.text not in ("π", "pi") or at + 1 >= len(row):
        return 0
    units, used = (None, 0) if isinstance(row[at + 1], raw.RawJoined) else _unit_chain(row, at + 1, b)
    plain = {u.ident for u in walk(units) if isinstance(u, Unit)} if units is not None else set()
    if units is None or units.span is None or at + 1 + used < len(row) or plain.isdisjoint(("s", "rad", "min")):
        return 0
    if not all(unheard_of(part, b) for part in row[at + 1:]):
        return 0
    span = Span(pi.span.start, units.span.end)
    if not b.chooser.choose("unit", span, [True, False]):
        return 0
    items += [Item("constant", pi.span, tight, Constant("π", span=pi.span)), Item("done", units.span, False, units)]
    return 1 + used


# What a sum in figures counts as where a unit may follow it: a value that was worked out, like one with a point.
_WORKED_OUT = Num(Fraction(1), last_digit=-1)


def _figures(factor: raw.RawFactor, fewest: int = 2) -> raw.RawNumber | None:
    """The number that a unit may follow: `5`, the 10 of `10³`, and also `(5.4/3.6)`."""
    if isinstance(factor, raw.RawGroup) and _only_figures(factor, fewest):
        return raw.RawNumber(_WORKED_OUT, factor.span)
    if isinstance(factor, raw.RawPower) and _numeric(factor.exponent):
        factor = factor.base
    return factor if isinstance(factor, raw.RawNumber) else None


def _only_figures(group: raw.RawGroup, fewest: int = 2) -> bool:
    """Does a round bracket hold nothing but numbers and the signs between them, so many at least?"""
    if group.bracket != "(" or group.primes:
        return False
    rows = [term.row for _, term in group.inner.terms if isinstance(term, raw.RawProduct)]
    parts = [p.factor if isinstance(p, raw.RawJoined) else p for row in rows for p in row]
    return len(rows) == len(group.inner.terms) and len(parts) >= fewest and all(_figures(p) is not None for p in parts)


def _only_names(part: raw.RawFactor | raw.RawJoined, number: raw.RawNumber, before: Item) -> bool:
    """`√2 g`, `k/2m`: one letter after a figure that is taken up already is a name."""
    letter = isinstance(part, raw.RawLetters) and len(part.run.text) == 1
    return letter and (before.kind == "root" or (before.kind == "slash" and part.span.start == number.span.end))


def _bracket_options(group: raw.RawGroup, tight: bool, b: Builder) -> list[bool]:
    """May a bracket of letters be a unit? Certainly where it cannot be read as names."""
    row = group.inner.terms[0][1].row  # type: ignore[union-attr]
    if not all(_as_names(part, b) for part in row):
        return [True]
    if b.scope.quick:
        apart = not tight and (len(row) > 1 or (unheard_of(row[0], b) and not rare(row[0])))  # `F = 6 x² + 4 x (N)`
        return [True, False] if group.bracket == "[" or apart else [False, True]
    return [True, False] if group.bracket == "[" else [False, True]


def _as_names(part: raw.RawFactor | raw.RawJoined, b: Builder) -> bool:
    """Can this part of a chain be read as declared names?"""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    if isinstance(factor, raw.RawPower):
        return _as_names(factor.base, b)
    if isinstance(factor, raw.RawGroup):
        return all(_as_names(p, b) for p in factor.inner.terms[0][1].row)  # type: ignore[union-attr]
    if not isinstance(factor, raw.RawLetters) or factor.run.kind == "unit":
        return False
    return split(factor.run.text, b.scope)[0].kind != "unknown"


def _chain_options(row: Row, at: int, used: int, number: raw.RawNumber,
                   b: Builder) -> list[int]:
    """How many parts after a number may be its unit, the likeliest first; 0 for none."""
    if not _as_names(row[at], b):
        options = [used]
        options += [n for n in range(1, used) if _as_names(row[at + n], b)]
        return options
    goes_on = at + used < len(row) and not isinstance(row[at + used], raw.RawJoined | raw.RawNumber)
    if number.value.value.denominator != 1 and number.value.last_digit is None:
        return [0] if goes_on else [0, used]  # ½ m is half of m
    # `5 m/s t`: the unit ends where a name that is known follows
    short = next((n for n in range(1, used) if declared_all(row[at + n], b)), used)
    lengths = list(dict.fromkeys((short, used)))
    if _looks_like_a_unit(row[at], number) and not goes_on:
        return [*reversed(lengths), 0] if declared_all(row[at], b) else lengths
    if declared_all(row[at], b):
        # `2 m g r`: a unit in the middle of a product of declared names is no reading that anybody means
        several = used > 1 and not _divides_or_is_raised(row[at:at + used]) and not is_energy_like(row[at])
        if goes_on or several:
            return [0]
        # `4 m/s` where m is declared and s is not
        return [used, 0] if any(unheard_of(part, b) for part in row[at + 1:at + used]) else [0, used]
    if goes_on and of_the_time(row[at + used:], b.scope) and all(unheard_of(p, b) for p in row[at:at + used]):
        return [used, 0]  # `x = 0.2 m cos(3 t)`
    # `√(2 g R)` below `g = G M/R²`
    brought_in = rare(row[at]) and not is_time(row[at]) and not unheard_of(row[at], b)
    named = not _unit_is_likely(row, at, short, number, b) if b.scope.quick else brought_in
    time = b.scope.quick and is_time(row[at])
    if named or (time and (
            time_comes_back(b.line) or (not unheard_of(row[at], b) and time_goes_on(row[at], number, b.line)))):
        return [0] if goes_on else [0, *lengths]
    return [*lengths, 0]


def _divides_or_is_raised(parts: Row) -> bool:
    return any(isinstance(p, raw.RawPower) or (isinstance(p, raw.RawJoined) and p.sign == "/") for p in parts)


def _looks_like_a_unit(part: raw.RawFactor | raw.RawJoined, number: raw.RawNumber) -> bool:
    """`72 km/h`, `2 kg` mean units even where k, m and g are declared; `2ms` need not."""
    while isinstance(part, raw.RawPower):
        part = part.base
    if not isinstance(part, raw.RawLetters) or len(part.run.text) < 2:
        return False
    if part.run.text not in READY:
        spelled = len(part.run.text) > 2 and part.run.text not in UNITS and unit_run(part.run) is not None
        return part.run.spaced and spelled
    return part.run.spaced or number.value.last_digit is not None


def _unit_is_likely(row: Row, at: int, used: int, number: raw.RawNumber, b: Builder) -> bool:
    """Without declarations: is `5 m`, `9.81 m/s^2`, `2 g h` a quantity?"""
    parts = row[at:at + used]
    first = parts[0]
    while isinstance(first, raw.RawPower):
        first = first.base
    word = first.run.text if isinstance(first, raw.RawLetters) else "["
    if len(word) > 1 and (word in READY or run_together(word)):
        return True
    ends_row = at + used == len(row) or isinstance(row[at + used], raw.RawJoined)
    divided = any(isinstance(p, raw.RawJoined) and p.sign == "/" for p in parts)
    decimal = number.value.last_digit is not None
    if not ends_row and not divided:
        return False
    if divided and not decimal and all(rare(p) for p in parts):
        return False  # 2h/g is no number of hours per gram
    if divided or isinstance(first, raw.RawGroup):
        return True
    met = word in LENGTHS and not unheard_of(parts[0], b)  # `x = 0.33 L` below `x = L/3`
    if (word in RARELY_UNITS and not decimal) or met or len(word) > 1:
        return False
    spaced = number.span.end < parts[0].span.start
    if is_energy_like(parts[0]) and spaced and used > 1:
        return True
    return ((spaced or decimal) and used == 1) or decimal
