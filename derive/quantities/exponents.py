"""Exact linear algebra over the exponents of dimensions, known and unknown.

A dimension that is not fully known is a sparse sum: base units (keys 0 … 6) and the unknown dimensions of
names (text keys), each with an exponent. "These two are equal" is one linear equation; `Equations` keeps
those learned, solved as far as they go. What an equation comes from is not known here.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from derive.records import Dimension

Key = int | str
Exponents = Mapping[Key, Fraction]

# Names of one file; a working that needs more unknown dimensions than this is not a working.
_MOST_UNKNOWNS = 300

NO_EXPONENTS: Exponents = {}


def of_dimension(dimension: Dimension) -> Exponents:
    return {index: power for index, power in enumerate(dimension.powers) if power}


def as_dimension(exponents: Exponents) -> Dimension | None:
    """The dimension, or None while an unknown takes part."""
    if any(isinstance(key, str) for key in exponents):
        return None
    return Dimension(tuple(Fraction(exponents.get(index, 0)) for index in range(7)))


def plus(a: Exponents, b: Exponents, times: Fraction | int = 1) -> Exponents:
    """The exponents of a · b^times."""
    if not b or times == 0:
        return a
    if times != 1:
        b = {key: -power if times == -1 else power * times for key, power in b.items()}
    if not a:
        return b
    total = dict(a)
    for key, power in b.items():
        new = total[key] + power if key in total else power
        if new:
            total[key] = new
        else:
            del total[key]
    return total


def scaled(a: Exponents, times: Fraction | int) -> Exponents:
    return plus(NO_EXPONENTS, a, times)


def _anonymous_first(key: str) -> tuple[bool, str]:
    """Unknowns without a name (`#3`) are settled first, so that no name ends up written in them."""
    return not key.startswith("#"), key


class Equations:
    """Equations between exponents, each unknown that they settle written in the ones that they do not."""

    def __init__(self, solved: Mapping[str, Exponents] | None = None) -> None:
        self._solved: dict[str, Exponents] = dict(solved or {})

    def copy(self) -> Equations:
        return Equations(self._solved)

    def reduced(self, exponents: Exponents) -> Exponents:
        """The same with every settled unknown replaced."""
        result = exponents
        for key, power in exponents.items():
            if isinstance(key, str) and key in self._solved:
                result = plus(plus(result, {key: power}, -1), self._solved[key], power)
        return result

    def learn_equal(self, a: Exponents, b: Exponents) -> bool:
        """Take a = b into account; False, and nothing changed, where it contradicts what is known."""
        rest = self.reduced(plus(a, b, -1))
        unknown = min((key for key in rest if isinstance(key, str)), default=None, key=_anonymous_first)
        if unknown is None:
            return not rest
        if len(self._solved) < _MOST_UNKNOWNS:
            value = scaled(plus(rest, {unknown: rest[unknown]}, -1), -1 / rest[unknown])
            for name, row in self._solved.items():
                if unknown in row:
                    power = row[unknown]
                    self._solved[name] = plus(plus(row, {unknown: power}, -1), value, power)
            self._solved[unknown] = value
        return True

    def with_name_free(self, name: str) -> Equations:
        """The same where a name stands for another unknown than it did."""
        old = f"{name}'"
        while any(old == key or old in row for key, row in self._solved.items()):
            old += "'"
        return Equations({
            old if key == name else key: {old if k == name else k: power for k, power in row.items()}
            for key, row in self._solved.items()})

    def without_anonymous(self) -> Equations:
        """The same for later lines, which cannot mention an unknown that had no name."""
        return Equations({name: row for name, row in self._solved.items() if not name.startswith("#")})
