r"""What a page in light markup or a list puts around its lines: stars, back quotes, bullets, quotation bars.

Such signs are taken off before a line is read; every column stays where it was typed. A dash is taken for a bullet
only where all lines of a section begin with one, for it may as well be a minus sign.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from derive.problems import problem
from derive.records import Problem
from derive.text.rows import Row

# **a = F/m**, `a = F/m`, *a = F/m*, and **Step 2:** a = F/m.
_AROUND = re.compile(
    r"(?P<before>\s*(?:(?:[-+*•>]|\(?\w{1,3}[.)])\s+)?)(?P<mark>\*\*|__|\*(?!\*)|`(?!`))(?=\S)(?P<inner>.*?\S)(?P=mark)(?=\s|[:.,]|\Z)")
# `\boxed{a = F/m}`, a result set in a frame.
_BOXED = re.compile(r"(?P<before>.*?)(?P<mark>\\(?:boxed|fbox)\s*\{)(?P<inner>.*)\}[\s$.,;]*\Z")
_WHOLE_ONLY = ("*", "`")
_BULLET = re.compile(r"\s*(?:[•‣◦▪▫●○■□➤►▶✓✔]\s*|[*·∙]\s+)(?=\S)")
_DASHED = re.compile(r"\s*(?P<dash>[-–—>])\s+(?=\S)")
_UNLISTED = re.compile(rf"\s*[=<≤≥≈#]|{_BULLET.pattern}")
# In these a dash at the beginning could be a minus sign; a table of symbols takes its bullets off itself.
_LINES = ("opening", "given", "show", "working", "solution")


def unmarked(text: str) -> str:
    """A line without the marks that only set it in bold or slanting, or as code; columns stay."""
    boxed = _BOXED.match(text) if "\\" in text else None
    if boxed is not None:
        before, rest = boxed["before"].replace("$", " "), len(text) - boxed.end("inner")
        return before + " " * len(boxed["mark"]) + boxed["inner"] + " " * rest
    found = _AROUND.match(text)
    if found is None or (found["mark"] in _WHOLE_ONLY and text[found.end():].strip()):
        return text
    gap = " " * len(found["mark"])
    return found["before"] + gap + found["inner"] + gap + text[found.end():]


def without_bullets(sections: Mapping[str, Sequence[Row]]) -> tuple[dict[str, tuple[Row, ...]], tuple[Problem, ...]]:
    """The rows beginning after their bullets, and what is said of dashes that were taken for such."""
    listed = {_dash_of(rows) for name, rows in sections.items() if name in _LINES and _several(rows)} - {""}
    found: dict[str, tuple[Row, ...]] = {}
    dashed: list[Row] = []
    for name, rows in sections.items():
        found[name] = tuple(_after(_BULLET, row) for row in rows) if name in _LINES else tuple(rows)
        if name in _LINES and _dash_of(rows) in listed:
            found[name] = tuple(_after(_DASHED, row) for row in found[name])
            dashed += [row for row in rows if _DASHED.match(row.content) and not row.content.lstrip().startswith(">")]
    first = min((row.number for row in dashed), default=0)
    return found, (problem("read.bullets", first),) if dashed else ()


def _dash_of(rows: Sequence[Row]) -> str:
    """The dash that every row begins with, or ''; other bullets, remarks and what goes on from the row above do not
    count."""
    told = [row.content for row in rows if not _UNLISTED.match(row.content)]
    found = [_DASHED.match(text) for text in told]
    dashes = {x["dash"] if x else "" for x in found}
    return dashes.pop() if len(dashes) == 1 else ""


def _several(rows: Sequence[Row]) -> bool:
    return sum(_DASHED.match(row.content) is not None for row in rows) > 1


def _after(bullet: re.Pattern[str], row: Row) -> Row:
    found = bullet.match(row.text, row.start)
    return replace(row, start=found.end()) if found else row
