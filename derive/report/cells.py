"""Fitting other people's text into columns of terminal cells.

A working may hold anything: tabs, wide letters, combining accents, terminal escapes. Here each typed
character is given what is shown for it, and rows are cut by cell width with the typed columns kept, so
that a stretch of the typed line can be found again on the screen. Nothing here knows of verdicts.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from rich.cells import get_character_cell_size

# A longer line than this no longer helps on a screen; what is left out is counted, never just dropped.
LONGEST_SHOWN = 240
# What is printed or written for a marker to read keeps within these columns.
COLUMNS = 80


@dataclass(frozen=True, slots=True)
class Glyph:
    """What is shown for the typed character at `column`, and how many cells it takes."""

    column: int
    shown: str
    width: int


@dataclass(frozen=True, slots=True)
class Row:
    """One screen row of a folded text."""

    glyphs: tuple[Glyph, ...]

    @property
    def text(self) -> str:
        return "".join(g.shown for g in self.glyphs)

    def stretch(self, start: int, end: int) -> tuple[int, int]:
        """The cells (from, to) that the typed columns `start` to `end` take up in this row; equal if none."""
        before = sum(g.width for g in self.glyphs if g.column < start)
        inside = sum(g.width for g in self.glyphs if start <= g.column < end)
        return before, before + inside


def width_of(text: str) -> int:
    """Cells taken by text that is already safe to show."""
    return sum(get_character_cell_size(c) for c in text)


def visible(text: str) -> str:
    """The text with everything that could move a cursor, reorder or hide letters made visible."""
    return "".join(_shown(c) for c in text)


def glyphs_of(text: str, first_column: int = 0) -> list[Glyph]:
    """Each typed character as it is shown; a text beyond all use on a screen is cut, and says by how much."""
    glyphs: list[Glyph] = []
    for column, char in enumerate(text[:LONGEST_SHOWN]):
        shown = _shown(char)
        if not glyphs and unicodedata.combining(char):
            shown = "◌" + shown  # an accent with nothing to sit on would sit on the margin
        glyphs.append(Glyph(first_column + column, shown, width_of(shown)))
    left_out = len(text) - LONGEST_SHOWN
    if left_out > 0:
        words = f" … ({left_out} more characters)"
        glyphs.extend(Glyph(first_column + LONGEST_SHOWN, char, 1) for char in words)
    return glyphs


def folded(glyphs: list[Glyph], width: int) -> list[Row]:
    """Rows of at most `width` cells, cut at a space where one is near; always at least one row.

    Blanks that a cut leaves at the start of the next row are dropped: they were there to set things apart,
    and the new row does that."""
    rows: list[Row] = []
    here: list[Glyph] = []
    used = 0
    for glyph in glyphs:
        if here and used + glyph.width > width:
            kept, here = _cut_at_space(here)
            rows.append(Row(tuple(kept)))
            used = sum(g.width for g in here)
        if rows and not here and glyph.shown.isspace():
            continue
        here.append(glyph)
        used += glyph.width
    return [*rows, Row(tuple(here))]


def paragraph(text: str, width: int) -> list[str]:
    """A sentence or several as rows of text, safe to show; long texts are never cut short."""
    glyphs = [Glyph(i, c, width_of(c)) for i, c in enumerate(visible(text))]
    return [row.text.rstrip() for row in folded(glyphs, width)]


def set_in(text: str, lead: str = "", more: str = "", width: int = COLUMNS) -> list[str]:
    """A sentence or several as rows after a lead, the rows after the first set in by the lead and by `more`."""
    first, *others = paragraph(text, width - len(lead) - len(more)) or [""]
    return [f"{lead}{first}".rstrip(), *(" " * len(lead) + more + row for row in others)]


def _cut_at_space(glyphs: list[Glyph]) -> tuple[list[Glyph], list[Glyph]]:
    # A wide gap is where people set a reason apart from the mathematics; that is the best place to cut.
    # Else the last space, but not in the first half of the row: the page would be too ragged.
    shown = [glyph.shown for glyph in glyphs]
    spaces = [index for index, char in enumerate(shown) if char == " "]
    gaps = [index for index in spaces if 8 <= index < len(shown) - 1 and shown[index - 2 : index] == [" ", " "]]
    late = [index for index in spaces if index > len(glyphs) // 2]
    cut = (gaps or late or [len(glyphs) - 1])[-1] + 1
    while cut < len(glyphs) and glyphs[cut].shown.isspace():
        cut += 1
    return glyphs[:cut], glyphs[cut:]


def _shown(char: str) -> str:
    if char == "\t":
        return "    "
    if " " <= char <= "~":
        return char
    code = ord(char)
    if code < 0x20:
        return chr(0x2400 + code)  # the control pictures: ␛ for an escape, ␇ for a bell
    category = unicodedata.category(char)
    if category == "Zs":
        return " "  # blanks of other widths are blanks here
    if category in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"):
        return f"⟨U+{code:04X}⟩"
    return char
