"""What a line leaves for the next one to go on from: its last side, what it is about, whether that is a ratio."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from derive.notation.names import canonical
from derive.notation.tree import Expr, Name, Quotient, names_in, relations
from derive.records import LineVerdict, RawLine, Reading


def last_side(reading: Reading) -> Expr | None:
    """What a line ends with, which the next may go on from (`= …`): no case by itself, nor what comes of it in one."""
    last = None
    for s in reading.statements:
        for relation in relations(s.claim):
            aside = s.where is not None and (s.claim == s.where or relation.carries_on)
            last = last if aside else relation.sides[-1]
    return last


def asked_for(lines: Sequence[LineVerdict]) -> Expr | None:
    """The name that the last formula is one for: P below `P = F v/η`, which `with η = 0.85: 235 kW` has a value of."""
    for line in reversed(lines):
        claims = [s.claim for s in reversed(line.reading.statements)] if line.reading is not None else ()
        for relation in (r for c in claims for r in relations(c)):
            first, *others = relation.sides
            if isinstance(first, Name) and relation.signs[0] == "=" and names_in(others[0]):
                return first
    return None


_SIGNS = ("=", "≈")


def sign_left_above(number: int, rows: Sequence[RawLine]) -> str:
    """The sign that the line above one is left with."""
    above = next((a.text.rstrip()[-1:] for a, b in pairwise(rows) if b.number == number and not a.remark), "")
    return above if above in _SIGNS else ""


def line_below(number: int, rows: Sequence[RawLine]) -> str:
    """What is typed below a line."""
    return next((b.text.strip() for a, b in pairwise(rows) if a.number == number and not b.remark), "")


def is_gone_on_with(line: RawLine, rows: Sequence[RawLine]) -> bool:
    """Does the line below one begin with an equals sign, or does it end with one itself?"""
    below = line_below(line.number, rows)
    return below.startswith(_SIGNS) or (bool(below) and line.text.rstrip().endswith(_SIGNS))


_BY_TIME = re.compile(r"(?<![^\W_])([^\W\d_](?:_\w+|\d|[₀-₉])?)\(t\)")


def called_by_time(lines: Sequence[LineVerdict]) -> Iterator[str]:
    """The h of `h(t) = h0 - ½ g t²`, which `h(T - 1)` asks for at another time."""
    return (canonical(n) for x in lines for n in _BY_TIME.findall(x.line.text))


def is_of_a_ratio(lines: Sequence[LineVerdict]) -> bool:
    """Is the line above about a ratio: `E2/E1 = 0.64`?"""
    reading = lines[-1].reading if lines else None
    said = [side for s in reading.statements for r in relations(s.claim) for side in r.sides] if reading else []
    return any(isinstance(e, Quotient) and names_in(e.num) and names_in(e.den) for e in said)
