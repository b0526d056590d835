"""A row: one line of a section, before anything in it is read."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a section: its number in the file, its text, and where its content begins.

    typed: the line as typed, where `text` is without the marks around it ('' for the same).
    apart: an empty line stands above it.
    """

    number: int
    text: str
    start: int = 0
    typed: str = ""
    apart: bool = False

    @property
    def content(self) -> str:
        return self.text[self.start:]

    @property
    def indent(self) -> int:
        """The columns before its content, a tab as far as the next multiple of eight."""
        content = self.content.expandtabs()
        return len(content) - len(content.lstrip()) + self.start
