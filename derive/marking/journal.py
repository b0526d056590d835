"""What has been marked already, one small file a content, so that a run stopped at any moment goes on where it was.

A result is kept under a digest of the working, the exercise and the version of what marks it; anything else is
marked anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from derive.marking.records import VERSION, Marked, as_text, from_text
from derive.marking.writing import sweep, write_whole

FOLDER = ".marked"


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
        key = hashlib.sha256(f"{VERSION} {_release()} {self.exercise} {digest}".encode()).hexdigest()
        return self.folder / f"{key[:40]}.json"

    def forget_others(self, digests: Iterable[str]) -> None:
        """Drop what no working of the class refers to any more."""
        wanted = {self._path(d).name for d in digests}
        for path in self.folder.glob("*.json"):
            if path.name not in wanted:
                path.unlink(missing_ok=True)
        sweep(self.folder)


def _release() -> str:
    try:
        return version("thence")
    except PackageNotFoundError:
        return ""
