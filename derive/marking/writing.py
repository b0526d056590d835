"""Files written whole or not at all, and cells that no spreadsheet takes for a formula."""

from __future__ import annotations

import contextlib
import csv
import hashlib
import io
import os
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

# A spreadsheet reads a cell that begins with one of these as a formula or splits it.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", "|", "%")
# Without it at the beginning of a file, spreadsheets take UTF-8 for something else.
BYTE_ORDER_MARK = "\ufeff"
# The usual limit of file systems is 255 bytes; an ending has to fit as well.
_LONGEST_NAME = 200


def write_whole(path: Path, text: str) -> None:
    """Write a file so that whoever looks finds it as it was before or complete, whatever happens in between.

    One that already says the same is left alone: marking again then touches only what has changed.
    """
    if _says(path, text):
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".writing-", suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="", errors="backslashreplace") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, 0o644)
        os.replace(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def _says(path: Path, text: str) -> bool:
    try:
        return path.read_bytes() == text.encode("utf-8", "backslashreplace")
    except OSError:
        return False


def sweep(folder: Path) -> None:
    """Remove what an interrupted run left half written."""
    for path in folder.glob(".writing-*.part"):
        with contextlib.suppress(OSError):
            path.unlink()


def safe_cell(text: str) -> str:
    """A cell's text, with an apostrophe before what a spreadsheet might compute."""
    plain = "".join(" " if c in "\r\n\t\0" else c for c in text)
    return "'" + plain if text.lstrip(" \u00a0\ufeff").startswith(_FORMULA) or text.startswith("'") else plain


def cell_text(cell: str) -> str:
    """The text of a cell that `safe_cell` made."""
    return cell[1:] if cell.startswith("'") else cell


def csv_text(rows: Iterable[Sequence[str | int]]) -> str:
    """Rows as comma-separated text; numbers stay numbers, all else is safe to open."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in rows:
        writer.writerow([c if isinstance(c, int) else safe_cell(c) for c in row])
    return out.getvalue()


def file_name(name: str) -> str:
    """A name that a file may have, the same for the same working and different for different ones."""
    plain = name.encode("utf-8", "backslashreplace").decode().replace("/", "_").replace("\0", "_")
    if len(plain.encode()) > _LONGEST_NAME or plain != name or plain.startswith("."):
        digest = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:12]
        plain = f"{plain.lstrip('.').encode()[:120].decode('utf-8', 'ignore')}-{digest}"
    return plain
