"""The lines of a file sorted under its headings.

A heading is a word and a colon alone on its line. `Given: F = m a` puts that line under its heading, and what is
indented below it. What a line says is not looked at, but for whether it could be a heading.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from derive.problems import problem
from derive.quantities.units import UnreadUnit, parse_unit_text
from derive.records import Problem
from derive.text.headings import HOLDS_LINES, SPELLINGS, Alone, Heading, Inline, heading_of
from derive.text.markup import unmarked, without_bullets
from derive.text.rows import Row

# A heading on the line of its text that is not the only line under it: all that follows is.
_GO_ON = (*HOLDS_LINES, "symbols")
# What stands unheaded after one of these may be the working.
_BEFORE_WORKING = ("symbols", "given", "show")
_RELATES = re.compile(r"[=<>≤≥≈∝≠⇒]")


@dataclass(frozen=True, slots=True)
class Sections:
    """The rows under each heading. `opening` stands before the first; `title` is that of `Exercise:`."""

    title: str = ""
    opening: tuple[Row, ...] = ()
    under: dict[Heading, tuple[Row, ...]] = field(default_factory=dict)
    headed: bool = False
    problems: tuple[Problem, ...] = ()


def split_sections(lines: Sequence[str]) -> Sections:
    """Sort lines under headings. A mistyped heading is reported with what was meant, and taken as meant."""
    sorting = _Sorting()
    apart = False
    for number, text in enumerate(lines, start=1):
        if text.strip():
            plain = unmarked(text)
            sorting.take(Row(number, plain, typed=text if plain != text else "", apart=apart))
        apart = not text.strip()
    return sorting.done()


class _Sorting:
    """The rows sorted so far, and the heading that the next one stands under."""

    def __init__(self) -> None:
        self.rows: dict[str, list[Row]] = {"opening": []}
        self.problems: list[Problem] = []
        self.title, self.awaits_title, self.headed = "", False, False
        self.here, self.begun = "opening", False
        # After `Given: F = m a`: that row, and the rows without a heading of their own that follow it.
        self.inline: tuple[Heading, Row] | None = None
        self.loose: list[Row] = []

    def take(self, row: Row) -> None:
        exercise = _exercise_title(row.text) if self._may_be_titled() else None
        if exercise is not None:
            self.title, self.awaits_title = exercise, not exercise
            return
        found = heading_of(row, self.here, self._underway())
        if found is not None:
            self._settle()
            self.problems.extend(found.problems)
        if isinstance(found, Alone):
            self.here, self.headed, self.inline = found.heading, True, None
            self.rows.setdefault(self.here, [])
        elif isinstance(found, Inline):
            self._take_inline(found, row)
        elif self.awaits_title:
            self.title, self.awaits_title = row.text.strip(), False
        elif self.inline is not None and row.indent > self.inline[1].indent:
            self.rows[self.inline[0]].append(row)
        elif self.inline is not None:
            self.loose.append(row)
        else:
            self.rows[self.here].append(row)
            self.begun = self.begun or (self.here == "opening" and _relates(row))

    def _underway(self) -> bool:
        """Has a working without headings begun?"""
        return self.here == "opening" and self.begun

    def _may_be_titled(self) -> bool:
        return self.here == "opening" and not self.title and not self.rows["opening"]

    def _take_inline(self, found: Inline, row: Row) -> None:
        under = replace(row, start=found.start)
        self.rows.setdefault(found.heading, []).append(under)
        if found.heading in _GO_ON:
            self.headed = self.headed or not self._underway()
            self.here, self.inline = found.heading, None
        else:
            self.inline = (found.heading, row)

    def _settle(self) -> None:
        """Before a heading, equations that were left loose belong to the one on whose line a text stood."""
        for row in self.loose:
            owner = self.inline[0] if self.inline is not None and _relates(row) else self.here
            self.rows[owner].append(row)
        self.loose = []

    def done(self) -> Sections:
        self._find_symbols()
        if not self.headed:
            self.rows["opening"] += self.loose
        elif not self.rows.keys() & {"working", "solution", "marks"}:
            self._find_working()
        else:
            self._settle()
        rows, bulleted = without_bullets(self.rows)
        headings = dict.fromkeys(SPELLINGS.values())
        under = {heading: rows[heading] for heading in headings if heading in rows}
        return Sections(self.title, rows["opening"], under, self.headed, (*self.problems, *bulleted))

    def _find_symbols(self) -> None:
        """Rows such as `m : kg` that a file begins with are what stands under `Symbols:`, heading or not."""
        opening = self.rows["opening"]
        cut = next((k for k, row in enumerate(opening) if not _declares(row)), len(opening))
        if not cut or "symbols" in self.rows or not (self.headed or any(map(_relates, opening[cut:]))):
            return
        self.rows["symbols"], self.rows["opening"] = opening[:cut], opening[cut:]
        if not self.headed:
            self.headed, self.rows["working"], self.rows["opening"] = True, opening[cut:] + self.loose, []
            self.loose = []

    def _find_working(self) -> None:
        """What has no heading after the last block of what is given or to be shown is the working."""
        if self.loose:
            working, self.loose = self.loose, []
        else:
            rows = self.rows[self.here] if self.here in _BEFORE_WORKING else []
            cut = _where_block_ends(rows)
            working, rows[cut:] = rows[cut:], []
        if not any(map(_relates, working)):
            self.rows[self.here] += working
            return
        self.rows["working"] = working
        number = working[0].number
        self.problems.append(problem("read.working", number, line=str(number)))


# A name or several, a colon, and what comes first behind it. Longer words are no names: `energy : m g h`.
_NAME = (r"(?:alpha|beta|gamma|delta|theta|lambda|kappa|omega|sigma|phi|rho|tau|eta|[^\W\d_]{1,2})"
         r"(?:_\w{1,4}|\d{1,2}|[₀-₉])?(?:\(\w\))?")
_DECLARATION = re.compile(rf"\s*(?:{_NAME}\s*,\s*)*{_NAME}\s*:\s*([^,;]+)")


def _declares(row: Row) -> bool:
    """`m, M : kg, positive`: names and a unit, and nothing that is said of them."""
    found = None if _relates(row) else _DECLARATION.match(row.text)
    return found is not None and not isinstance(parse_unit_text(found[1]), UnreadUnit)


def _where_block_ends(rows: Sequence[Row]) -> int:
    """The place of the first row that stands further left than the first, or at the left edge after an empty line."""
    for at in range(1, len(rows)):
        left = rows[at].indent < rows[0].indent
        if (left and rows[at].apart) or (not rows[at].indent and (left or rows[at].apart)):
            return at
    return len(rows)


def _relates(row: Row) -> bool:
    return _RELATES.search(row.text) is not None


def _exercise_title(text: str) -> str | None:
    found = re.match(r"\s*exercise\s*[:\uff1a]\s*(.*)\Z", text, re.IGNORECASE)
    return found[1].strip() if found else None
