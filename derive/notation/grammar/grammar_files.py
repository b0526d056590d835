"""Where the grammar files are: `grammar/` beside the package in a checkout, inside it in a wheel."""

from __future__ import annotations

from functools import cache
from pathlib import Path

_FILES = ("line.lark", "mathematics.lark", "words.lark")


@cache
def grammar_text() -> str:
    """All grammar files as one text, in reading order."""
    package = Path(__file__).resolve().parents[2]
    for folder in (package / "grammar_files", package.parent / "grammar"):
        if all((folder / name).is_file() for name in _FILES):
            return "\n".join((folder / name).read_text(encoding="utf-8") for name in _FILES)
    raise FileNotFoundError("the grammar files are missing from this installation")
