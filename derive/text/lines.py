"""A line of a section: its label, where its mathematics stands, and the writer's reason.

Spans are columns of the text as typed. Whether a bracket at the end is a reason is settled here only
where it is plain; where it could be a factor, the reader decides with the declared names in hand.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from derive.notation.tree import Span
from derive.quantities.units import UnreadUnit, parse_unit_text
from derive.records import RawLine
from derive.text.labels import (
    cited,
    leading_label,
    letters_in_order,
    trailing_label,
    trailing_letter,
    trailing_work,
)
from derive.text.rows import Row

# `--` and the em dash open a reason where they stand apart; an en dash is typed for a minus sign.
_DASHED = re.compile(r"(?:(?<=\s)|^)(?:--+(?=\s|[^\W\d_])|—|//+(?=\s*\S))\s*|(?:(?<=\s)|^)#\s+"
    r"|(?:(?<=\s\s)|(?<=[^\W\d_]\s))%+\s*(?=[^\W\d_]{3})")
_REMARK = re.compile(r"\s*(?:#|//|%)")
_RULE = re.compile(r"\s*(?:([-=_*~.·—–])\1{2,}|```+\w*|\\(?:begin|end)\{\w{1,20}\*?\})\s*\Z")
# `(a)`, `Q2.`: the part of an exercise that is answered below.
_ONLY_LABEL = re.compile(
    r"\s*(?:\((?:\d{1,3}|[a-z]|[ivx]{1,5})\)|(?:Q\.?\s*)?(?:\d{1,3}|[a-z])[.)]|Q\.?\s*\d{1,3}):?\s*\Z")
# `Name: A. Student`, `Date: 3 May`: what stands at the head of a sheet.
_SHEET_HEAD = re.compile(
    r"\s*(?:name|student|date|course|class|group|teacher|tutor|instructor|section|homework|hw|assignment|sheet|exam|week)"
    r"(?:\s*(?:no\.?|nr\.?|number|id))?(?:\s*\d{1,4})?\s*:[^=<>≤≥≈]*\Z", re.IGNORECASE)
_REASON_WORDS = re.compile(
    r"\s*(?:from|by|using|use|since|because|see|with|where|divide|multiply|multiplying|dividing|substitut\w*"
    r"|integrat\w*|differentiat\w*|rearrang\w*|combin\w*|cancel\w*|add\w*|subtract\w*|squar\w*|insert\w*|solv\w*"
    r"|eqs?|equation|line|lines|given|definition|def|newton\w*|energy|momentum|conservation|initial|boundary"
    r"|small|the|both|put|putting|subst|law|hence|compare|comparing|simplif\w*|expand\w*|factor\w*|let)\b",
    re.IGNORECASE,
)
# One dash opens a reason only where it stands well apart and such a word follows, or where what is done is said; so
# does an arrow back.
_DONE = r"(?:divid|multipl|substitut|rearrang|integrat|differentiat|cancel|solving|using|from|by|since|because)\w*\b"
_POINTED = re.compile(
    rf"(?:(?<=\s\s)[-–]|(?<=\s)<-)(?={_REASON_WORDS.pattern})\s*|(?<=\s)[-–]\s+(?={_DONE})"
    r"|(?<=\s)(?:<--+|←)\s*(?=[^\W\d_]{3})",
    re.IGNORECASE,
)
_ONLY_CITES = re.compile(r"\s*\(?\d{1,3}[a-z]?\)?(?:\s*(?:,|;|and|&|\+|-)\s*\(?\d{1,3}[a-z]?\)?)*\s*\Z")
# The reader refuses a longer line at once, whatever its label.
_LONGEST_LOOKED_INTO = 20_000
_A_WORD = re.compile(r"[^\W\d_]{4,}")
_OPERATOR = tuple("=<>≤≥≈~∝≠+-−±*·×/^_∫")


def read_rows(rows: Iterable[Row]) -> tuple[RawLine, ...]:
    """The rows of one section as lines. Cited labels are found later, when all labels are known."""
    rows = tuple(rows)
    letters = letters_in_order(row.text for row in rows if len(row.text) <= _LONGEST_LOOKED_INTO)
    lines: list[RawLine] = []
    labels: dict[str, None] = {}
    for row in rows:
        line = read_row(row, labels, letters)
        lines.append(line)
        if line.label:
            labels[line.label] = None
    return tuple(lines)


def read_row(row: Row, before: Collection[str] = (), letters: Collection[str] = ()) -> RawLine:
    """One row as a line; `before` are the labels above it, `letters` those that lines of the section end with."""
    line = _line(row, before, letters)
    return replace(line, text=row.typed) if row.typed else line


def _line(row: Row, before: Collection[str], letters: Collection[str]) -> RawLine:
    text = row.text
    if len(text) > _LONGEST_LOOKED_INTO:
        return RawLine(row.number, text, body=Span(row.start, len(text)))
    if any(words.match(text, row.start) for words in (_REMARK, _RULE, _ONLY_LABEL, _SHEET_HEAD)):
        return RawLine(row.number, text, body=_trimmed(text, row.start, len(text)), remark=True)
    found = leading_label(text, row.start, tuple(before))
    start, end, label = found.start, len(text), found.label
    reason = ""
    right = None if label else trailing_label(text, start, before) or trailing_letter(text, start, before, letters)
    if right:
        label, end = right
    dashed = _DASHED.search(text, start, end) or _POINTED.search(text, start, end)
    if dashed:
        reason, end = text[dashed.end():].strip(), dashed.start()
    maybe = None
    work = None if dashed else trailing_work(text[:end], start, before)
    if work:
        reason, end = work
    elif not dashed:
        end, reason, maybe = _bracketed(text, start, end)
    right = None if label else trailing_label(text[:end], start, before)
    if right:
        label, end = right
    return RawLine(row.number, text, label, _trimmed(text, start, end), reason, maybe_reason=maybe)


def with_cites(lines: Sequence[RawLine], labels: Iterable[str]) -> tuple[RawLine, ...]:
    """The lines with the labels that their reasons name, of those that the document has."""
    known = frozenset(labels)
    return tuple(replace(line, cites=cited(line.reason, known)) if line.reason else line for line in lines)


def _trimmed(text: str, start: int, end: int) -> Span:
    inner = text[start:end]
    return Span(start + len(inner) - len(inner.lstrip()), start + len(inner.rstrip())) if inner.strip() else Span(
        start, start)


def _bracketed(text: str, start: int, end: int) -> tuple[int, str, Span | None]:
    """What a bracket at the end of a line is: where the body ends, the reason, and a bracket left open to the
    reader."""
    stop = start + len(text[start:end].rstrip())
    opening = _opening_bracket(text, start, stop)
    if opening is None:
        return end, "", None
    inner = text[opening + 1:stop - 1].strip()
    before = text[start:opening]
    words = bool(_REASON_WORDS.match(inner))
    if text[opening] == "(":
        # `(from (1))` is a reason; any other round bracket is mathematics or words, and the reader's.
        plain = re.match(r"(?:from|by|using|since|because|see|eqs?\.?|equation)\b", inner, re.IGNORECASE)
        return (opening, inner, None) if plain and before.strip() else (end, "", None)
    if _is_unit(inner) and before.rstrip()[-1:].isdigit():
        return end, "", None
    apart = before.endswith(("  ", "\t")) or not before.strip()
    factor = before.rstrip().endswith(_OPERATOR)
    if words or (apart and not factor):
        return opening, inner, None
    if factor:
        return end, "", None
    if _ONLY_CITES.match(inner) and before[-1:].isspace():
        return opening, inner, None
    if _A_WORD.search(inner) and " " in inner and not re.search(r"[=+*/^]", inner):
        return opening, inner, None
    return end, "", Span(opening, stop)


def _is_unit(inner: str) -> bool:
    return not isinstance(parse_unit_text(inner), UnreadUnit)


def _opening_bracket(text: str, start: int, stop: int) -> int | None:
    """Where the bracket opens that the line ends with, its own pairs inside it matched."""
    if stop <= start or text[stop - 1] not in "])":
        return None
    closing = text[stop - 1]
    opens = "[" if closing == "]" else "("
    depth = 0
    for position in range(stop - 1, start - 1, -1):
        if text[position] == closing:
            depth += 1
        elif text[position] == opens:
            depth -= 1
            if depth == 0:
                return position
    return None
