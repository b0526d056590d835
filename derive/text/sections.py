"""The lines of a file sorted under its headings.

A heading is a word and a colon alone on its line. `Given: F = m a` puts that one line under its heading.
What a line says is not looked at, but for whether it could be a heading.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from derive.notation.tree import Span
from derive.problems import problem
from derive.records import Problem

Heading = Literal["symbols", "given", "show", "working", "solution", "marks"]

_SPELLINGS: dict[str, Heading] = {
    "symbols": "symbols", "symbol": "symbols",
    "given": "given", "givens": "given",
    "show": "show", "to show": "show", "show that": "show",
    "working": "working", "workings": "working",
    "solution": "solution", "marks": "marks",
}
_HEADINGS = ("Exercise", "Symbols", "Given", "Show", "Working", "Solution", "Marks")
_ALONE = re.compile(r"\s*(?:#+\s+|\*\*)?(?P<word>[^\W\d_]{2,}(?: [^\W\d_]{2,}){0,2})\s*[:\uff1a]\s*(?:\*\*)?\s*\Z")
_WITH_TEXT = re.compile(r"\s*(?P<word>[^\W\d_]{2,}(?: that)?)\s*[:\uff1a]\s*(?=\S)", re.IGNORECASE)
_LONGEST_HEADING = 200  # characters
# Under these a person writes words before a colon (`Energy:`), so only a near miss is called a heading.
_HOLDS_LINES = ("working", "solution")
# Where a colon after a word is no heading: `given: …` in a working stays words, so that no line of it
# becomes a premise by how it is introduced; in the table of symbols a colon follows every name.
_ROWS_WITH_COLONS = (*_HOLDS_LINES, "symbols", "marks")


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a section: its number in the file, its text, and where its content begins."""

    number: int
    text: str
    start: int = 0

    @property
    def content(self) -> str:
        return self.text[self.start:]


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
    rows: dict[str, list[Row]] = {"opening": []}
    problems: list[Problem] = []
    title, awaits_title, here, headed = "", False, "opening", False
    for number, text in enumerate(lines, start=1):
        if not text.strip():
            continue
        exercise = _exercise_title(text) if here == "opening" and not title and not rows["opening"] else None
        if exercise is not None:
            title, awaits_title = exercise, not exercise
            continue
        found = _heading(text, number, here)
        if isinstance(found, _Alone):
            problems.extend(found.problems)
            here, headed = found.heading, True
            rows.setdefault(here, [])
            continue
        if awaits_title and found is None:
            title, awaits_title = text.strip(), False
            continue
        if found is not None and found.heading != here:
            rows.setdefault(found.heading, []).append(Row(number, text, found.start))
            continue
        rows.setdefault(here, []).append(Row(number, text))
    under = {heading: tuple(rows[heading]) for heading in _SPELLINGS.values() if heading in rows}
    return Sections(title, tuple(rows["opening"]), under, headed, tuple(problems))


@dataclass(frozen=True, slots=True)
class _Alone:
    heading: str
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class _Inline:
    heading: Heading
    start: int


def _exercise_title(text: str) -> str | None:
    found = re.match(r"\s*exercise\s*[:\uff1a]\s*(.*)\Z", text, re.IGNORECASE)
    return found[1].strip() if found else None


def _heading(text: str, number: int, here: str) -> _Alone | _Inline | None:
    if len(text) > _LONGEST_HEADING and not text[:_LONGEST_HEADING].strip():
        return None
    alone = _ALONE.match(text) if len(text) <= _LONGEST_HEADING else None
    if alone:
        return _heading_alone(alone, number, here)
    with_text = _WITH_TEXT.match(text)
    heading = _SPELLINGS.get(with_text["word"].lower()) if with_text else None
    if with_text is None or heading is None or here in _ROWS_WITH_COLONS:
        return None
    return _Inline(heading, with_text.end())


def _heading_alone(found: re.Match[str], number: int, here: str) -> _Alone | None:
    word = found["word"].lower()
    if word in _SPELLINGS:
        return _Alone(_SPELLINGS[word])
    span = Span(*found.span("word"))
    near = difflib.get_close_matches(word, _SPELLINGS, n=1, cutoff=0.75)
    if near:
        meant = _SPELLINGS[near[0]]
        return _Alone(meant, (problem("heading.meant", number, span, typed=found["word"], meant=meant.capitalize()),))
    if here in _HOLDS_LINES or here == "opening" or " " in word:
        return None
    listed = ", ".join(_HEADINGS)
    return _Alone("unknown", (problem("heading.unknown", number, span, typed=found["word"], headings=listed),))
