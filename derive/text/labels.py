"""Labels: `(3)`, `3.`, `3)`, `(a)` before a line, `(1)` far right of it, and labels named in a reason.

The care taken here is that mathematics is never mistaken for a label: `(a + b) x`, `2.5 m`, and work on
labelled lines, as in `(1) + (2): …`, all begin like one.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass

_LABEL = r"(?:[A-Za-z]?\d{1,3}[a-z]?'?|[A-Za-zα-ωΓΔΘΛΣΦΨΩ]|[ivx]{1,5}|\*{1,3}|†)"
_LEADING = re.compile(
    rf"\s*(?:(?P<round>\(\s*{_LABEL}\s*\))(?P<colon>\s*:)?|(?P<square>\[\s*\d{{1,3}}[a-z]?\s*\])"
    r"|(?P<dot>\d{1,3}[a-z]?\.(?!\d)|[a-z]\.(?=\s))|(?P<close>(?:\d{1,3}[a-z]?|[a-z]|[ivx]{2,4})\))|(?P<bare_colon>\d{1,3}:(?=\s)))"
)
_TRAILING = re.compile(
    r"(?:(?:\s{2,}|\t)|(?P<dots>\s*(?:[.·]{3,}|…+)\s*)|\s(?P<dashes>[-–—_]{2,}>?)\s*)"
    r"\((?P<label>\d{1,3}[a-z]?|\*{1,3}|(?(dots)(?:[ivx]{1,4}|[A-Z])|(?!)))\)\s*\Z")
_FAR_RIGHT = 80  # columns looked through for such a label and the dots before it
# What follows the first of several labelled lines that are worked with, and can begin no mathematics.
_WORKED_WITH = re.compile(
    rf"\s*(?:[×*·/^²³÷]|,\s*\({_LABEL}\)|[-+−±]\s*(?:[^=<>≤≥:]{{0,80}}\({_LABEL}\)[^=<>≤≥]{{0,80}}(?::|⇒|=>|gives|yields)|\({_LABEL}\)\s*[:,])"
    rf"|(?:and|with)\b\s*\({_LABEL}\)"
    r"|(?:into|in|gives|give|implies|yields|minus|plus|over|times|divided|squared|becomes)\b)"
)
_GOES_ON = re.compile(r"\s*(?:[=+]|- )")
_RELATION = re.compile(r"\s*(?:[=<>≤≥≈~∝≠]|!=)")
_RELATED = re.compile(r"[=<>≤≥≈~∝≠]")


@dataclass(frozen=True, slots=True)
class Labelled:
    """A label without its brackets ('' for none), and where what it labels begins."""

    label: str
    start: int


def leading_label(text: str, start: int, before: Collection[str]) -> Labelled:
    """The label that a line opens with. `before` are the labels of the lines above it, in order."""
    found = _LEADING.match(text, start)
    none = Labelled("", start)
    if found is None:
        return none
    label = _bare(found[0])
    rest = found.end()
    if found["round"]:
        if _is_mathematics(text, rest, label, before, colon=bool(found["colon"])):
            return none
    elif found["square"]:
        if not text[rest:].strip() or _RELATION.match(text, rest):
            return none
    elif (found["close"] and _RELATION.match(text, rest)) or not text[rest:].strip() or (
        found["dot"] and label.isalpha() and _GOES_ON.match(text, rest)  # `x. = -A ω sin ω t` is about a velocity
    ):
        return none
    return Labelled(label, rest)


def _is_mathematics(text: str, rest: int, label: str, before: Collection[str], *, colon: bool) -> bool:
    """Whether a bracketed letter or number is a factor, or a line worked with, and not a label."""
    if text.startswith("(", rest) or _WORKED_WITH.match(text, rest) or not text[rest:].strip():
        return True
    if colon:  # `(1): …` is work on line (1) where there is one, else line (1) itself
        return label in before
    if _RELATION.match(text, rest):  # `(3) = ½ k a²` goes on from the line above; `(v) = u + a t` is about v
        return not label[0].isdigit() and not _next_in_order(label, before)
    return False


def _next_in_order(label: str, before: Collection[str]) -> bool:
    last = list(before)[-1:] or [""]
    return len(last[0]) == len(label) == 1 and ord(label) == ord(last[0]) + 1


def _bare(typed: str) -> str:
    return typed.strip().rstrip(":").strip().strip("()[].").strip()


def trailing_label(text: str, start: int, before: Collection[str]) -> tuple[str, int] | None:
    """A number in brackets set far right, as in print, perhaps behind dots or dashes, and where the line ends without
    it. Two dashes before a label that stands above are a reason (`a = F/m -- (1)`)."""
    text = text.rstrip()
    found = _TRAILING.search(text, max(start, len(text) - _FAR_RIGHT))
    if found is None and (next_one := _NEXT_NUMBER.search(text, start)) and _follows_on(next_one[1], before):
        return next_one[1], next_one.start()
    if found is None or not text[start:found.start()].strip():
        return None
    if found["dashes"] and len(found["dashes"]) < 3 and found["label"] in before:
        return None
    return found["label"], found.start()


# How lines are lettered or numbered in the margin on the right.
_ORDERS: tuple[tuple[str, ...], ...] = (
    (*"ABCDEFGHIJ",), (*"abcdefghij",), ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii"), (
        "I", "II", "III", "IV", "V", "VI", "VII", "VIII"))
_LETTERED = re.compile(r"(?<=\S)\s+\((?P<label>[A-Ja-j]|[ivx]{1,4}|[IVX]{1,4})\)\Z")


def letters_in_order(rows: Iterable[str]) -> frozenset[str]:
    """The letters and Roman numbers that lines end with one after the other, `m u = m v + M w (A)` and
    `w - v = e u (B)` below it: nobody multiplies so."""
    said = (row.rstrip() for row in rows)
    ends = [found["label"] for row in said if _RELATED.search(row) and (
        found := _LETTERED.search(row, max(0, len(row) - _FAR_RIGHT)))]
    runs = [order[:_run_of(ends, order)] for order in _ORDERS]
    return frozenset(label for run in runs if len(run) > 1 for label in run)


def _run_of(ends: Collection[str], order: tuple[str, ...]) -> int:
    """How many of an order stand at ends of lines, each after the one before it."""
    count = 0
    for label in ends:
        count += count < len(order) and label == order[count]
    return count


def trailing_letter(text: str, start: int, before: Collection[str], letters: Collection[str]) -> tuple[str, int] | None:
    """A letter in brackets behind a line, one of those that stand there in order or the first of them set far right,
    and where the line ends without it."""
    text = text.rstrip()
    found = _LETTERED.search(text, max(start, len(text) - _FAR_RIGHT))
    if found is None or found["label"] in before:
        return None
    far = len(found[0]) - len(found[0].lstrip()) > 1 and found["label"] in ("A", "i")
    return (found["label"], found.start()) if found["label"] in letters or far else None


_TRAILING_WORK = re.compile(
    rf"(?:\s{{2,}}|\t)(\({_LABEL}\)(?:\s*[-+−–×*·/,;&]\s*\({_LABEL}\))+)\s*\Z")


def trailing_work(text: str, start: int, before: Collection[str]) -> tuple[str, int] | None:
    """`F = (M + m) a    (1)+(2)`: what was done with lines above, set far right, and where the line ends without it."""
    found = _TRAILING_WORK.search(text, max(start, len(text) - _FAR_RIGHT))
    named = re.findall(rf"\(({_LABEL})\)", found[1]) if found else []
    return (found[1], found.start()) if found and all(label in before for label in named) else None


_NEXT_NUMBER = re.compile(r"(?<=\S)\s\((\d{1,2})\)\Z")


def _follows_on(number: str, before: Collection[str]) -> bool:
    """`f = μ N (1)`, and `(2)` below it: nobody multiplies by the number that is next in order."""
    return number not in before and (number == "1" or str(int(number) - 1) in before)


# --- labels in reasons ------------------------------------------------------------------------------

_IN_BRACKETS = re.compile(rf"\(\s*({_LABEL}(?:\s*(?:,|;|and|&)\s*{_LABEL})*)\s*\)|\[\s*({_LABEL})\s*\]")
_NUMBER = r"[A-Za-z]?\d{1,3}[a-z]?'?"
_JOINED = r"\s*(?:,|;|and|&|\+|-|–|into|in)\s*"
# What an equation is divided or multiplied by is no label unless it stands in brackets.
_FACTOR = re.compile(r"(?P<work>\b(?:divid|multipl)\w*[^,;.]{0,40}?)\bby\s+(?!\()\S+", re.IGNORECASE)
_LIST_ENDS = r"(?![\w.]|\s*[^\W\d_](?!nto\b|n\b|nd\b))"
# A bare number or letter is a label where it cannot be a factor or an article: `from 1 and 3`, `by a`, but
# not `divide by 2`, `in 3 s`, `with a spring`.
_NUMBERS_AFTER_WORD = re.compile(
    r"\b(?:from|by|using|use|in|into|eqs?\.?|equations?|lines?|see|and|put|putting|substitute|substituting|sub)\s+"
    rf"({_NUMBER}(?:{_JOINED}{_NUMBER})*){_LIST_ENDS}",
    re.IGNORECASE,
)
_LETTERS_AFTER_WORD = re.compile(
    rf"\b(?:from|by|using|use|eqs?\.?|equations?|lines?|see)\s+({_LABEL}(?:{_JOINED}{_LABEL})*)(?!\s*\w)",
    re.IGNORECASE,
)
_ONLY_LABELS = re.compile(rf"\s*({_LABEL}(?:\s*(?:,|;|and|&|\+|-|–|/)\s*{_LABEL})*)\s*\Z")


_ONE_LABEL = re.compile(rf"(?<!\w){_LABEL}(?!\w)")
_LONGEST_REASON = 1000  # characters looked through for labels


def cited(reason: str, labels: Collection[str]) -> tuple[str, ...]:
    """The labels that a reason names and the document has, in the order named."""
    reason = _FACTOR.sub(r"\g<work>", reason[:_LONGEST_REASON])
    pieces = [
        (found.start(), next(group for group in found.groups() if group))
        for pattern in (_IN_BRACKETS, _NUMBERS_AFTER_WORD, _LETTERS_AFTER_WORD, _ONLY_LABELS)
        for found in pattern.finditer(reason)
    ]
    named = [label for _, piece in sorted(pieces) for label in _ONE_LABEL.findall(piece)]
    return tuple(dict.fromkeys(label for label in named if label in labels))
