"""Lexemes with what they do in their line, and how to get about among them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tree import Span

Class = Literal["math", "prose", "strange", "join", "opening", "or", "runs", "from", "to", "over", "small", "rel"]


@dataclass(slots=True)
class Entry:
    """A lexeme and what it does in the line. `depth` counts the brackets around it."""

    lexeme: Lexeme
    kind: Class
    depth: int = 0


JOINT_SIGNS = frozenset(("comma", "semicolon", "colon", "stop", "join"))


def left_of(entries: list[Entry], at: int) -> Entry | None:
    return entries[at - 1] if at else None


def right_of(entries: list[Entry], at: int) -> Entry | None:
    return entries[at + 1] if at + 1 < len(entries) else None


def is_joint(entry: Entry) -> bool:
    return entry.kind == "join" or (entry.depth == 0 and entry.kind in ("math", "prose")
                                    and entry.lexeme.kind in JOINT_SIGNS)


def is_relation(entry: Entry) -> bool:
    sign = entry.kind == "math" and entry.lexeme.kind in ("rel", "arrow")
    return entry.depth == 0 and (sign or entry.kind == "rel")


def stretch(entries: list[Entry], at: int, step: int) -> list[Entry]:
    """The entries from `at` outwards up to the next joint or opening word."""
    found: list[Entry] = []
    at += step
    while 0 <= at < len(entries) and not is_joint(entries[at]) and entries[at].kind != "opening" \
            and not (entries[at].lexeme.kind == "arrow" and entries[at].depth == 0):
        found.append(entries[at])
        at += step
    return found


def place(entries: Sequence[Entry]) -> Span:
    return Span(entries[0].lexeme.span.start, entries[-1].lexeme.span.end)
