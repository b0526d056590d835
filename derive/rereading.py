"""A line read in yet another way, where the likeliest of its readings does not hold: its bare numbers in the units that
their values were given in, or what stands before a colon as a case."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from derive.notation.tree import Either, Relation
from derive.quantities.given_units import in_given_units
from derive.records import UNSURE, RawLine, Standing

if TYPE_CHECKING:
    from derive.page import Page

# How a line fails whose numbers lack a unit.
_OF_NUMBERS = frozenset(("fails.number", "fails.contradicts"))
_BAD = (Standing.FAILS, *UNSURE)


def reread(page: Page, line: RawLine, found: Page) -> Page | None:
    """The page after a line that did not hold, read in a way in which it does; None where there is none."""
    return _in_given_units(page, line, found) or _as_a_case(page, line, found) or _as_alternatives(page, line, found)


def _in_given_units(page: Page, line: RawLine, found: Page) -> Page | None:
    """`v = 3.6/0.5` below values in other units: its numbers are in these."""
    reading, codes = found.lines[-1].reading, {v.code for v in found.lines[-1].verdicts}
    if reading is None or not codes & _OF_NUMBERS:
        return None
    above = [s.claim for x in (*page.givens, *page.lines) if x.reading for s in x.reading.statements if s.claim]
    found_units = [in_given_units(s.claim, above) for s in reading.statements]
    if not any(found_units):
        return None
    taken = replace(
        reading, choices=(*reading.choices, *(c for f in found_units if f for c in f[1])), statements=tuple(
            replace(s, claim=f[0]) if f else s for s, f in zip(reading.statements, found_units, strict=True)))
    other = _without_notes(page.as_read(line, taken))
    holds = any(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in other.lines[-1].verdicts)
    return other if holds and _bad(other) < _bad(found) else None


def _as_a_case(page: Page, line: RawLine, found: Page) -> Page | None:
    """`F = 2 m g: v = √(m g/b)` on a page without givens: what stands before the colon would not follow by itself, and
    is no more than a case in which the rest holds."""
    reading = found.lines[-1].reading
    if page.setting.strict or reading is None or not any(v.standing in _BAD for v in found.lines[-1].verdicts):
        return None
    headed = page.taken_up(reading, given=True)
    other = page.as_read(line, headed) if headed != reading else None
    return other if other is not None and not _bad(other) else None


def _as_alternatives(page: Page, line: RawLine, found: Page) -> Page | None:
    """`ω² = k/m, ω² = 3 k/m`: what cannot be both is one or the other."""
    reading = found.lines[-1].reading
    said = reading.statements if reading is not None and _bad(found) else ()
    claims = [s.claim for s in said if s.role == "claim" and s.where is None and isinstance(s.claim, Relation)]
    if reading is None or len(claims) < 2 or len(claims) < len(said) or any(
            c.signs != ("=",) or c.sides[0] != claims[0].sides[0] for c in claims):
        return None
    whole = replace(said[0], claim=Either(tuple(claims), span=line.body))
    other = page.as_read(line, replace(reading, statements=(whole,)))
    return other if not _bad(other) else None


def _bad(page: Page) -> int:
    """How many statements of the latest line do not stand."""
    return sum(v.standing in (*_BAD, Standing.CARRIED) for v in page.lines[-1].verdicts)


def _without_notes(page: Page) -> Page:
    """What is read in the units given was not read as SI values."""
    last = page.lines[-1]
    said = tuple(replace(v, note="" if v.note == "note.plain_numbers" else v.note) for v in last.verdicts)
    return replace(page, lines=(*page.lines[:-1], replace(last, verdicts=said)))
