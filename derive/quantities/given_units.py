"""Bare numbers that go on in the unit their value was given in: `P = 7.63·0.8 = 6.1 kW` below `F = 7.63 kN`.

Which lines stand above, and whether a claim holds so, is for others to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import prod

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Expr, Num, Power, Product, Quotient, Relation, Unit, names_in, rebuilt, walk
from derive.quantities.typed_numbers import as_number
from derive.quantities.units import unit
from derive.records import Choice

# How what falls freely near the ground speeds up, in m/s².
_FALLING = Fraction(981, 100)
_TURNING = ((Unit("rpm"),), (Unit("rev"),), (Unit("turn"),))  # whose worths have a π in them
# From a millionth to a million: what a prefix, or its square, makes of a unit.
_PREFIXES = {Fraction(10) ** k: k for k in range(-6, 7) if k}


def in_given_units(claim: Claim | None, above: Iterable[Claim]) -> tuple[Claim, tuple[Choice, ...]] | None:
    """The claim with the bare numbers of its sides without a unit taken in the units of `above`, and what each was
    taken for; None where no number of it was given so, or where no other side has a unit to compare."""
    if not isinstance(claim, Relation) or not any(isinstance(n, Unit) for n in walk(claim)):
        return None
    numbers = [n for s in claim.sides if _is_without_unit(s) for n in walk(s) if isinstance(n, Num)]
    if not numbers:
        return None
    above = list(above)
    given: dict[Fraction, tuple[int | None, Expr]] = {
        n.value: (None, whole) for c in above for n, whole in _everyday(c)}
    given |= {n.value: (power, whole) for c in above for n, power, whole in (*_given_anew(c, claim), *_given(c))}
    taken = [(n, *given[n.value]) for n in numbers if n.value in given]
    if not taken:
        return None
    change: dict[int, object] = {
        id(n): replace(whole, span=n.span) if power is None else _times_ten_to(n, power) for n, power, whole in taken}
    choices = tuple(Choice("given unit", as_text(n), as_text(whole), n.span) for n, _, whole in taken)
    return rebuilt(claim, change), choices  # type: ignore[return-value]


def in_unit_of_the_end(claim: Claim | None) -> tuple[Claim, tuple[Choice, ...]] | None:
    """`v = 29.7·3.6 = 107 km/h`: what is reckoned without units comes out in the unit that the chain goes on with; so
    does `v = 29.7 m/s · 3.6 = 107 km/h`, with the factor between the two units. None where nothing is."""
    if not isinstance(claim, Relation) or not set(claim.signs) <= {"=", "≈"}:
        return None
    change: dict[int, object] = {}
    choices: list[Choice] = []
    units: tuple[Expr, ...] = ()
    for side in reversed(claim.sides):
        if isinstance(side, Product) and isinstance(side.factors[0], Num) and (
                worth_of(side.factors[1:]) or side.factors[1:] in _TURNING):
            units = side.factors[1:]
            continue
        number = _reckoned(side, units) if units else None
        if number is not None:
            taken = Product((number, *units), span=side.span)
            change[id(side)] = taken
            choices.append(Choice("given unit", as_text(side), as_text(taken), side.span))
    return (rebuilt(claim, change), tuple(choices)) if change else None  # type: ignore[return-value]


def in_gravities(claim: Claim | None) -> tuple[Claim, tuple[Choice, ...]] | None:
    """`a = 29.4 m/s² = 3.0 g`, `a/g = 3.0`: so many times what falls freely, and no grams."""
    if not isinstance(claim, Relation) or not set(claim.signs) <= {"=", "≈"}:
        return None
    last = claim.sides[-1]
    number = last.factors[0] if isinstance(last, Product) and last.factors[1:] == (_GRAM,) else None
    change: dict[int, object] = {
        id(n): replace(n, den=_times_g(Num(Fraction(1)))) for n in walk(claim)
        if isinstance(n, Quotient) and n.den == _GRAM}
    if isinstance(number, Num):
        once = _times_g(Num(Fraction(1)))
        change |= {id(s): Product((s, once), span=s.span) for s in claim.sides[:-1] if _is_bare(s)}
        digit = number.last_digit if number.last_digit is not None else 0
        change[id(last)] = replace(_times_g(replace(number, last_digit=digit)), span=last.span)
    if not change:
        return None
    taken = rebuilt(claim, change)
    return taken, (Choice("given unit", as_text(claim), as_text(taken), claim.span),)  # type: ignore[return-value]


_GRAM = Unit("g")


def _times_g(number: Num) -> Product:
    """So many times what falls freely, with the figures of the number."""
    last = number.last_digit + 1 if number.last_digit is not None else None
    fall = Quotient(Unit("m"), Power(Unit("s"), Num(Fraction(2))))
    return Product((replace(number, value=number.value * _FALLING, last_digit=last), fall))


def _reckoned(side: Expr, units: tuple[Expr, ...]) -> Expr | None:
    """The number of a side that comes out in certain units: of `29.7·3.6` in any but one of the SI itself, of
    `29.7 m/s · 3.6` in one that 3.6 leads to."""
    worth = worth_of(units)
    if _is_bare(side):
        return side if worth != 1 else None
    number, own = _number_and_worth(side) if not names_in(side) else (None, Fraction(0))
    factor = own / worth if worth else 0
    if number is None or factor in (0, 1):
        return None
    times = number.factors if isinstance(number, Product) else ()
    below = number.den if isinstance(number, Quotient) else None
    turned = any(isinstance(n, Num) and n.value == factor for n in times)
    return number if turned or (isinstance(below, Num) and below.value * factor == 1) else None


def _number_and_worth(e: Expr) -> tuple[Expr | None, Fraction]:
    """A product of numbers and units without its units, and what these are worth in the SI; 0 for anything else."""
    match e:
        case Num():
            return e, Fraction(1)
        case Quotient(num, den):
            (above, own), (below, other) = _number_and_worth(num), _number_and_worth(den)
            number = above if below is None else Quotient(above or Num(Fraction(1)), below)
            return number, own / other if other else other
        case Product(factors):
            parts = [_number_and_worth(f) for f in factors]
            numbers = tuple(n for n, _ in parts if n is not None)
            whole = numbers[0] if len(numbers) == 1 else Product(numbers) if numbers else None
            return whole, prod((w for _, w in parts), start=Fraction(1))
    return None, worth_of((e,))


def _is_bare(side: Expr) -> bool:
    return not names_in(side) and not isinstance(side, Num) and not any(isinstance(n, Unit) for n in walk(side))


def _is_without_unit(side: Expr) -> bool:
    """`72·0.5`, and the `v·0.5` of a v in km/h."""
    reckoned = isinstance(side, Product | Quotient) or _is_bare(side)
    return reckoned and not isinstance(side, Num) and not any(isinstance(n, Unit) for n in walk(side))


def _everyday(claim: Claim) -> Iterator[tuple[Num, Expr]]:
    """The numbers that end a chain in hours, minutes, km/h, litres: in what no power of ten makes of the SI."""
    for relation in walk(claim):
        last = relation.sides[-1] if isinstance(relation, Relation) else None
        number = last.factors[0] if isinstance(last, Product) else None
        if isinstance(last, Product) and isinstance(number, Num) and number.value > 0:
            worth = worth_of(last.factors[1:])
            if worth not in (0, 1) and worth not in _PREFIXES:
                yield number, last


def _given(claim: Claim, unprefixed: bool = False) -> Iterator[tuple[Num, int, Expr]]:
    """The numbers that end a chain in a unit with a prefix (or in any), the power of ten that it stands for, and both
    together."""
    for relation in walk(claim):
        last = relation.sides[-1] if isinstance(relation, Relation) else None
        number = last.factors[0] if isinstance(last, Product) else None
        if isinstance(last, Product) and isinstance(number, Num):
            worth = worth_of(last.factors[1:])
            power = 0 if unprefixed and worth == 1 else _PREFIXES.get(worth)
            if power is not None:
                yield number, power, last


def _given_anew(above: Claim, claim: Claim) -> Iterator[tuple[Num, int, Expr]]:
    """The 2.8 of `2.8·60 = 168 kJ` where 2800 W stand above: the same in the prefix that the line has elsewhere."""
    powers = {power for _, power, _ in _given(claim)}
    for number, power, whole in _given(above, unprefixed=True):
        for wanted in powers if not power else ():
            yield _times_ten_to(number, -wanted), wanted, whole


def worth_of(units: Iterable[Expr]) -> Fraction:
    """The SI value of a product of units; 0 where it is not one of plain units."""
    worth = Fraction(1)
    for u in units:
        base, raised = (u.base, as_number(u.exponent)) if isinstance(u, Power) else (u, Fraction(1))
        if isinstance(u, Quotient):
            below = worth_of((u.den,))
            worth *= worth_of((u.num,)) / below if below else 0
        elif isinstance(u, Product):
            worth *= worth_of(u.factors)
        elif u == Num(Fraction(1)):
            continue  # `1500 1/min`
        elif isinstance(base, Unit) and raised is not None and abs(raised) <= 4 and raised.denominator == 1:
            info = unit(base.ident)
            worth *= info.exact ** int(raised) if info is not None and not info.pi else 0
        else:
            return Fraction(0)
    return worth


def _times_ten_to(number: Num, power: int) -> Num:
    last = number.last_digit + power if number.last_digit is not None else None
    return replace(number, value=number.value * Fraction(10) ** power, last_digit=last)
