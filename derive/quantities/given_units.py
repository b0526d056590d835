"""Bare numbers that go on in the unit their value was given in: `P = 7.63·0.8 = 6.1 kW` below `F = 7.63 kN`.

Which lines stand above, and whether a claim holds so, is for others to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Expr, Num, Power, Product, Quotient, Relation, Unit, names_in, rebuilt, walk
from derive.quantities.units import unit
from derive.records import Choice

# From a millionth to a million: what a prefix, or its square, makes of a unit.
_PREFIXES = {Fraction(10) ** k: k for k in range(-6, 7) if k}


def in_given_units(claim: Claim | None, above: Iterable[Claim]) -> tuple[Claim, tuple[Choice, ...]] | None:
    """The claim with the bare numbers of its sides without a unit taken in the units of `above`, and what each was
    taken for; None where no number of it was given so, or where no other side has a unit to compare."""
    if not isinstance(claim, Relation) or not any(isinstance(n, Unit) for n in walk(claim)):
        return None
    numbers = [n for s in claim.sides if _is_bare(s) for n in walk(s) if isinstance(n, Num)]
    if not numbers:
        return None
    above = list(above)
    given = {n.value: (power, whole) for c in above for n, power, whole in (*_given_anew(c, claim), *_given(c))}
    taken = [(n, *given[n.value]) for n in numbers if n.value in given]
    if not taken:
        return None
    change: dict[int, object] = {id(n): _times_ten_to(n, power) for n, power, _ in taken}
    choices = tuple(Choice("given unit", as_text(n), as_text(whole), n.span) for n, _, whole in taken)
    return rebuilt(claim, change), choices  # type: ignore[return-value]


def _is_bare(side: Expr) -> bool:
    return not names_in(side) and not isinstance(side, Num) and not any(isinstance(n, Unit) for n in walk(side))


def _given(claim: Claim, unprefixed: bool = False) -> Iterator[tuple[Num, int, Expr]]:
    """The numbers that end a chain in a unit with a prefix (or in any), the power of ten that it stands for, and both
    together."""
    for relation in walk(claim):
        last = relation.sides[-1] if isinstance(relation, Relation) else None
        number = last.factors[0] if isinstance(last, Product) else None
        if isinstance(last, Product) and isinstance(number, Num):
            worth = _worth(last.factors[1:])
            power = 0 if unprefixed and worth == 1 else _PREFIXES.get(worth)
            if power is not None:
                yield number, power, last


def _given_anew(above: Claim, claim: Claim) -> Iterator[tuple[Num, int, Expr]]:
    """The 2.8 of `2.8·60 = 168 kJ` where 2800 W stand above: the same in the prefix that the line has elsewhere."""
    powers = {power for _, power, _ in _given(claim)}
    for number, power, whole in _given(above, unprefixed=True):
        for wanted in powers if not power else ():
            yield _times_ten_to(number, -wanted), wanted, whole


def _worth(units: Iterable[Expr]) -> Fraction:
    """The SI value of a product of units; 0 where it is not one of plain units."""
    worth = Fraction(1)
    for u in units:
        base, power = (u.base, u.exponent) if isinstance(u, Power) else (u, Num(Fraction(1)))
        if isinstance(u, Quotient):
            below = _worth((u.den,))
            worth *= _worth((u.num,)) / below if below else 0
        elif isinstance(u, Product):
            worth *= _worth(u.factors)
        elif isinstance(base, Unit) and isinstance(power, Num) and abs(power.value) <= 4 and power.value == int(
                power.value):
            info = unit(base.ident)
            worth *= info.exact ** int(power.value) if info is not None and not info.pi else 0
        else:
            return Fraction(0)
    return worth


def _times_ten_to(number: Num, power: int) -> Num:
    last = number.last_digit + power if number.last_digit is not None else None
    return replace(number, value=number.value * Fraction(10) ** power, last_digit=last)
