"""What a line leaves for the next one to go on from: its last side, what it is about, whether that is a ratio."""

from __future__ import annotations

from collections.abc import Sequence

from derive.notation.tree import Expr, Name, Quotient, names_in, relations
from derive.records import LineVerdict, Reading


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


def is_of_a_ratio(lines: Sequence[LineVerdict]) -> bool:
    """Is the line above about a ratio: `E2/E1 = 0.64`?"""
    reading = lines[-1].reading if lines else None
    said = [side for s in reading.statements for r in relations(s.claim) for side in r.sides] if reading else []
    return any(isinstance(e, Quotient) and names_in(e.num) and names_in(e.den) for e in said)
