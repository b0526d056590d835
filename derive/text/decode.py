"""From the bytes of a file to its lines, in any encoding that a text editor writes.

UTF-8 and UTF-16 with or without a byte order mark, and Windows-1252 for what is neither. What is not
text is refused; characters are not changed here.
"""

from __future__ import annotations

import codecs
import re

from derive.problems import problem
from derive.records import Problem

LARGEST_FILE = 5_000_000  # bytes; a thousand times a long working
MOST_LINES = 10_000

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_LINE_END = re.compile("\r\n|\r|\n|\u2028|\u2029|\x85")
# Control characters that no editor writes into a text; a file with several of them is something else.
_CONTROL = re.compile("[\x00-\x08\x0e-\x1a\x1c-\x1f\ufffd]")


def decode(data: bytes | str) -> str | Problem:
    """The text of a file, or what is wrong with it."""
    if len(data) > LARGEST_FILE:
        return problem("file.too_big", limit=f"{LARGEST_FILE // 1_000_000} MB")
    text = _readable(data) if isinstance(data, str) else _decoded(data)
    if isinstance(text, Problem):
        return text
    if len(_CONTROL.findall(text)) > max(2, len(text) // 50) or "\x00" in text:
        return problem("file.binary")
    if not text.strip().strip("\ufeff"):
        return problem("file.empty")
    return text


def _readable(text: str) -> str:
    """Half a surrogate pair, as arguments of a command may hold, cannot be printed or written."""
    return text.removeprefix("\ufeff").encode("utf-8", "replace").decode("utf-8")


def _decoded(data: bytes) -> str | Problem:
    encodings = [name for mark, name in _MARKS if data.startswith(mark)][:1] or _likely(data)
    if encodings[0] == "utf-8" and b"\x00" in data:
        return problem("file.binary")
    for encoding in encodings:
        try:
            return _readable(data.decode(encoding))
        except UnicodeDecodeError:
            continue
    return problem("file.encoding")


def _likely(data: bytes) -> list[str]:
    """UTF-16 of Latin text has a zero in nearly every second byte, on one side only."""
    head = data[:4096]
    even, odd = head[0::2].count(0), head[1::2].count(0)
    if len(data) % 2 == 0 and max(even, odd) > len(head) // 5 and min(even, odd) <= len(head) // 50:
        return ["utf-16-le" if odd > even else "utf-16-be"]
    return ["utf-8", "cp1252"]


def split_lines(text: str) -> tuple[list[str], list[Problem]]:
    """The lines without their ends, as many as are read."""
    lines = _LINE_END.split(text)
    while lines and not lines[-1].strip():
        lines.pop()
    if len(lines) <= MOST_LINES:
        return lines, []
    return lines[:MOST_LINES], [problem("file.too_long", MOST_LINES + 1, limit=f"{MOST_LINES:,}".replace(",", " "))]
