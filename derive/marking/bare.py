"""A line bared of what cannot change whether it follows: its label, its reason, the `so` before it.

Two writers who say the same then share what was decided of it, however they number and explain their lines. What a
shared verdict says of the lines that a reason cites stands as a mark (`CITED`), to be given back in each writer's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.page import Page
from derive.records import RawLine, Reading
from derive.steps.letters.drawing import CLAIMING

# Stands for the labels that a reason cites; no label looks like it.
_MARK = "cited"
CITED = f"({_MARK})"


def bare_line(line: RawLine) -> RawLine:
    """A line as others may have typed it."""
    return replace(line, label="", reason="", cites=())


def bare_readings(readings: Sequence[Reading], page: Page) -> tuple[Reading, ...]:
    """The readings of a line on a page, each without its reason and, where nothing hangs on that, what joins it to the
    line above."""
    return tuple(_bare(r, page) for r in readings)


def _bare(reading: Reading, page: Page) -> Reading:
    """Without givens, what is said to come from above is not brought in, and in an open case a `so` goes on with it."""
    setting = page.setting
    cites = (_MARK,) if setting.strict or reading.cites else ()
    reading = replace(reading, reason="", cites=cites)
    first, *others = reading.statements or (None,)
    if first is None or not setting.strict or setting.cases or first.word.strip(" ,").lower() not in CLAIMING:
        return reading
    return replace(reading, statements=(replace(first, word=""), *others))
