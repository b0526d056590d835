"""The head of a line that works with labelled lines: `(1) + (2):`, `(3)/(1) gives`, `from (1) and (2),`.

The head is kept as words; what it cites is noted. Whether the work was done as it says is for the
engine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from derive.notation.lists.vocabulary import GIVING
from derive.notation.lists.word_lists import words
from derive.notation.names import Scope
from derive.notation.tokens.entries import Entry, is_joint, is_relation, place
from derive.notation.tokens.references import NUMBERED

_WORK = words("""
    adding add subtracting subtract dividing divide multiplying multiply squaring combining combine eliminating
    substituting substitute inserting insert putting plugging differentiating integrating sum difference
""")


@dataclass(frozen=True, slots=True)
class Head:
    """words: the head as typed; cites: the labels in it; works: the rest is said to come from work on them."""

    words: str = ""
    cites: tuple[str, ...] = ()
    works: bool = False


def head_of(entries: list[Entry], scope: Scope, line: str) -> tuple[Head, list[Entry]]:
    """The head, and the entries that remain to be read."""
    cited = _references(entries, scope) | _work_inside(entries, scope)
    end = _head_end(entries)
    if end is None or not any(at < end for at in cited):
        labels = tuple(dict.fromkeys(label for label in cited.values() if label))
        if cited:
            _as_words(entries, cited)
        return Head(cites=labels), entries
    head = entries[:end]
    typed = place(head)
    signs = any(e.kind == "math" and e.lexeme.kind in ("plus", "minus", "times", "slash", "raised", "caret")
                for e in head)
    works = signs or any(e.lexeme.text.lower() in _WORK for e in head)
    labels = tuple(dict.fromkeys(label for label in cited.values() if label))
    rest = entries[end:]
    _as_words(rest, {at - end: label for at, label in cited.items() if at >= end})
    return Head(line[typed.start:typed.end], labels, works), rest


def _head_end(entries: Sequence[Entry]) -> int | None:
    """Where a head without any relation ends: at a colon, or before `gives`."""
    for at, entry in enumerate(entries):
        if is_relation(entry):
            return None
        if entry.depth == 0 and entry.lexeme.kind == "colon":
            return at
        if entry.lexeme.text.lower() in GIVING or (entry.kind == "join" and entry.lexeme.text == "⇒"):
            return at if at else None
    return None


def _references(entries: Sequence[Entry], scope: Scope) -> dict[int, str]:
    """Places where a bracket holds the label of a line and nothing else, and may be meant as one."""
    found: dict[int, str] = {}
    head_end = _head_end(entries) or 0
    for at in range(len(entries) - 2):
        three = entries[at:at + 3]
        if _cites(three, scope) and (at < head_end or _after_a_word(entries, at, found)):
            found[at] = entries[at + 1].lexeme.text
        elif at and entries[at - 1].lexeme.text.lower() in NUMBERED and _brackets(three) and (
            three[1].lexeme.kind == "number"
        ):
            found[at] = ""  # `by eq. 4 of the sheet`: words, though nothing here is called so
    return found


def _work_inside(entries: Sequence[Entry], scope: Scope) -> dict[int, str]:
    """The labels in `since w ≠ 0, (a)/(b) gives …`: a stretch between two joints that only works on lines is words."""
    found: dict[int, str] = {}
    start = 0
    for end in (at for at, entry in enumerate(entries) if is_joint(entry)):
        stretch = entries[start:end]
        here = [at for at in range(len(stretch) - 2) if _cites(stretch[at:at + 3], scope)]
        between = [e for at, e in enumerate(stretch) if not any(at - k in range(3) for k in here)]
        if start and here and all(e.lexeme.kind in ("slash", "plus", "minus", "times") for e in between):
            found.update((start + at, stretch[at + 1].lexeme.text) for at in here)
            for entry in stretch:
                entry.kind, entry.depth = "prose", 0
        start = end + 1
    return found


def _cites(three: Sequence[Entry], scope: Scope) -> bool:
    inner = three[1]
    return _brackets(three) and inner.lexeme.text in scope.labels


def _brackets(three: Sequence[Entry]) -> bool:
    return three[0].lexeme.kind == "open" and three[-1].lexeme.kind == "close"


def _after_a_word(entries: Sequence[Entry], at: int, found: dict[int, str]) -> bool:
    """`from (1)`, `(1) and (2)`: a bracket after a word, or in a list with one."""
    if at == 0:
        return False
    before = entries[at - 1]
    if before.kind in ("prose", "strange", "opening") and before.lexeme.kind == "run":
        return True
    listed = is_joint(before) and before.lexeme.text.lower() in ("and", ",", "or")
    return listed and at - 4 in found


def _as_words(entries: Sequence[Entry], cited: dict[int, str]) -> None:
    for at in cited:
        for entry in entries[at:at + 3]:
            entry.kind, entry.depth = "prose", 0
        before = entries[at - 1] if at else None
        if before is not None and before.lexeme.text.lower() in ("and", ",") and at - 4 in cited:
            before.kind = "prose"
