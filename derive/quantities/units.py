"""Units by name, and unit expressions as declarations hold them (`kg/m^3`, `N m`, `m/s²`).

Not for mathematics: which letters of a line are units is the reader's and the engine's question; here
a piece of text is known to be a unit, or is not one.
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from derive.quantities.unit_table import PREFIXES, UNITS, USUAL_PREFIXES, UnitInfo
from derive.records import Dimension

# A table of SI value and dimension needs no more than this to be right for every unit of the table; a
# higher power of a unit than this is a slip of typing.
_HIGHEST_POWER = 12
_LONGEST_TEXT = 80
# The micro sign and the Greek letter look alike and are both typed; so are the ohm sign and omega.
_SAME_LETTER = str.maketrans({"µ": "μ", "Ω": "Ω", "Å": "Å"})


@dataclass(frozen=True, slots=True)
class UnreadUnit:
    """Why a piece of text is no unit: the piece, and a hint in words ('' where it is a word not known)."""

    piece: str
    hint: str = ""

    @property
    def nearest(self) -> str:
        """The unit that was probably meant, or '' (found only when asked for: it takes milliseconds)."""
        return nearest_unit(self.piece) if not self.hint else ""


@lru_cache(maxsize=1)
def _table() -> dict[str, UnitInfo]:
    """Every spelling of every unit, prefixed ones last so that `cd`, `min` and `ha` stay what they are."""
    table: dict[str, UnitInfo] = {}
    for row, names in UNITS:
        for spelling in (row.ident, *names):
            table[spelling] = row
    for row, names in UNITS:
        for symbol, word, ten in PREFIXES if row.prefixable else ():
            exact = row.exact * Fraction(10) ** ten
            usual = row.usual and symbol in USUAL_PREFIXES and symbol + row.ident not in {"dg", "hg", "ds", "hs", "cs"}
            made = replace(row, ident=symbol + row.ident, exact=exact, usual=usual, prefixable=False)
            short = [name for name in names if len(name) < 3]
            for spelling in (made.ident, *(symbol + name for name in short), *(word + name for name in names)):
                table.setdefault(spelling, made)
    return table


def unit(ident: str) -> UnitInfo | None:
    """The unit of this name in any spelling a person types, or None."""
    return _find(ident.translate(_SAME_LETTER))


@lru_cache(maxsize=1024)
def _find(name: str) -> UnitInfo | None:
    table = _table()
    if name in table:
        return table[name]
    # Spelt-out names may begin a sentence (`Degrees`); symbols may not change their case (mW, MW).
    return table.get(name.lower()) if len(name) > 3 and name[1:].islower() else None


def known_unit(name: str) -> str:
    """The one spelling used for this unit (`deg` → `°`, `sec` → `s`), or '' where it is not a unit."""
    found = unit(name)
    return found.ident if found else ""


def nearest_unit(name: str) -> str:
    """The unit a mistyped one probably is, or ''."""
    close = difflib.get_close_matches(name[:_LONGEST_TEXT], _table(), n=1, cutoff=0.7)
    return close[0] if close else ""


# --- unit expressions -----------------------------------------------------------------------------

_TOKEN = re.compile(
    r"\s*(?:(?P<per>/|per\b)|(?P<times>[*·⋅×.∙])|(?P<open>\()|(?P<close>\))|(?P<one>1(?![\d.]))"
    r"|(?P<name>[^\W\d_⁰¹²³⁴⁵⁶⁷⁸⁹]+|[°º∘′″%‰]))"
)
_NUMBER = r"[-+−]?\d{1,3}(?:/[1-9]\d?|\.\d{1,2})?"
# `m^2`, `m**2`, `m^(1/2)`, `m²`, and `m2`, `s-1` as some type them.
_POWER = re.compile(
    rf"\s*(?:\^|\*\*)\s*(?:\(\s*({_NUMBER})\s*\)|({_NUMBER}))|([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]{{1,3}})|([-−]?\d{{1,2}}(?![\d.]))"
)


@dataclass(frozen=True, slots=True)
class _Measure:
    """A dimension with the SI value of one of it."""

    powers: tuple[Fraction, ...]
    exact: Fraction
    pi: Fraction

    def times(self, other: _Measure, power: Fraction) -> _Measure | None:
        raised = _raised(other.exact, power)
        if raised is None:
            return None
        powers = tuple(a + b * power for a, b in zip(self.powers, other.powers, strict=True))
        return _Measure(powers, self.exact * raised, self.pi + other.pi * power)


_PLAIN = _Measure((Fraction(0),) * 7, Fraction(1), Fraction(0))


def _raised(value: Fraction, power: Fraction) -> Fraction | None:
    if power.denominator == 1:
        return value**power.numerator if abs(power.numerator) <= _HIGHEST_POWER else None
    return Fraction(float(value) ** float(power)) if abs(power) <= _HIGHEST_POWER else None


def parse_unit_text(text: str) -> tuple[Dimension, Fraction] | UnreadUnit:
    """Dimension and SI value of one `kg/m^3`, `m/s²`, `N m`, `kg m^-3`, `J/(kg K)`; `1` and `-` have none.

    A slash followed by a product (`J/kg K`) is refused: it is written with both meanings.
    """
    text = text.strip().translate(_SAME_LETTER)
    if text in {"-", "–", "—", "−"}:
        return Dimension(), Fraction(1)
    if not text or len(text) > _LONGEST_TEXT:
        return UnreadUnit(text[:20], hint="type a unit such as m/s, or 1 for a plain number")
    whole = unit(text)
    if whole is not None:
        return whole.dimension, _as_fraction(whole.exact, Fraction(whole.pi))
    result = _UnitText(text).read()
    if isinstance(result, UnreadUnit):
        return result
    return Dimension(result.powers), _as_fraction(result.exact, result.pi)


def _as_fraction(exact: Fraction, pi: Fraction) -> Fraction:
    return exact if pi == 0 else Fraction(float(exact) * math.pi ** float(pi))


class _UnitText:
    """One left-to-right reading of a unit expression; brackets nest, nothing recurses deeper than they."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0

    def _peek(self) -> re.Match[str] | None:
        return _TOKEN.match(self.text, self.at)

    def read(self) -> _Measure | UnreadUnit:
        result = self._product(depth=0)
        if isinstance(result, UnreadUnit):
            return result
        rest = self.text[self.at:].strip()
        return UnreadUnit(rest, hint="leave it out, or close the bracket before it") if rest else result

    def _product(self, depth: int) -> _Measure | UnreadUnit:
        made, sign, divided = _PLAIN, 1, False
        first = True
        while True:
            token = self._peek()
            kind = token.lastgroup if token else None
            if token is None or kind == "close":
                return made if not first else self._unread()
            joined = kind in {"per", "times"}
            if joined:
                if first:
                    return self._unread()
                self.at = token.end()
                sign = -1 if kind == "per" else sign if divided and kind == "times" else 1
            if divided and not (joined and kind == "per"):
                return UnreadUnit(self.text, hint="put what is below the slash in brackets, as in J/(kg K)")
            divided = joined and kind == "per"
            factor = self._factor(depth)
            if isinstance(factor, UnreadUnit):
                return factor
            value, power = factor
            raised = made.times(value, power * sign)
            if raised is None:
                return UnreadUnit(self.text, hint=f"use powers up to {_HIGHEST_POWER}")
            made, first, sign = raised, False, 1

    def _unread(self) -> UnreadUnit:
        piece = self.text[self.at:].strip()
        return UnreadUnit(piece or self.text, "type a unit such as m/s")

    def _factor(self, depth: int) -> tuple[_Measure, Fraction] | UnreadUnit:
        token = self._peek()
        kind = token.lastgroup if token else None
        if token is None or kind not in {"open", "one", "name"}:
            return self._unread()
        self.at = token.end()
        if kind == "open":
            inner = self._product(depth + 1) if depth < 5 else self._unread()
            if isinstance(inner, UnreadUnit):
                return inner
            closing = self._peek()
            if closing is None or closing.lastgroup != "close":
                return UnreadUnit(self.text, hint="close the bracket")
            self.at = closing.end()
            return inner, self._power()
        if kind == "one":
            return _PLAIN, Fraction(1)
        found = unit(token["name"])
        if found is None:
            return UnreadUnit(token["name"])
        return _Measure(found.dimension.powers, found.exact, Fraction(found.pi)), self._power()

    def _power(self) -> Fraction:
        found = _POWER.match(self.text, self.at)
        if found is None:
            return Fraction(1)
        self.at = found.end()
        typed = next(group for group in found.groups() if group)
        return Fraction(unicodedata.normalize("NFKC", typed).replace("−", "-"))
