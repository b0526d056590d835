"""What has been marked already, one small file a content, so that a run stopped at any moment goes on where it was.

A result is kept under a digest of the working, the exercise and the code that marks it; anything else is marked anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path

from derive.marking.records import VERSION, Marked, as_text, from_text
from derive.marking.writing import sweep, write_whole
from derive.notation.grammar.grammar_files import grammar_text

FOLDER = ".marked"
_PACKAGE = Path(__file__).resolve().parent.parent
_UNDERNEATH = ("numpy", "sympy", "lark")


@dataclass(frozen=True, slots=True)
class Journal:
    """The folder of results, for one exercise."""

    folder: Path
    exercise: str  # digest of the exercise's file

    def kept(self, digest: str) -> Marked | None:
        """The result for a content, if it was marked before and the record is whole."""
        try:
            return from_text(self._path(digest).read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError):
            return None

    def keep(self, marked: Marked) -> None:
        """Keep a result. One that only time or memory spoiled is not kept: the next run tries again."""
        if marked.digest:
            write_whole(self._path(marked.digest), as_text(marked))

    def _path(self, digest: str) -> Path:
        key = hashlib.sha256(f"{VERSION} {_code()} {self.exercise} {digest}".encode()).hexdigest()
        return self.folder / f"{key[:40]}.json"

    def forget_others(self, digests: Iterable[str]) -> None:
        """Drop what no working of the class refers to any more."""
        wanted = {self._path(d).name for d in digests}
        for path in self.folder.glob("*.json"):
            if path.name not in wanted:
                path.unlink(missing_ok=True)
        sweep(self.folder)


@cache
def _code() -> str:
    """A digest of what marks: the package's own sources and the grammar, and the versions of what they stand on."""
    own = hashlib.sha256(grammar_text().encode())
    for path in sorted(_PACKAGE.rglob("*.py")):
        own.update(f"{path.relative_to(_PACKAGE)} ".encode() + path.read_bytes())
    for name in _UNDERNEATH:
        own.update(f"{name} {version(name)}".encode())
    return own.hexdigest()
