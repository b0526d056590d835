"""Where one statement of a line ends and the next begins: the line cut at its joints and opening words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from derive.notation.tokens.entries import Entry, is_joint, is_relation, stretch


@dataclass(slots=True)
class Segment:
    """A stretch between two joints: `before` is the joint with its words, then an opening word, then
    mathematics; `lead` and `trail` are words at its ends."""

    before: list[Entry] = field(default_factory=list)
    opening: Entry | None = None
    entries: list[Entry] = field(default_factory=list)
    lead: list[Entry] = field(default_factory=list)
    trail: list[Entry] = field(default_factory=list)
    small: bool = False


def segments_of(entries: Sequence[Entry]) -> list[Segment]:
    """The line cut at its joints and opening words; the words at the ends of each segment set apart."""
    segments = [Segment()]
    for entry in _arrows_settled(entries):
        here = segments[-1]
        if is_joint(entry):
            if here.entries or here.opening:
                segments.append(Segment())
            segments[-1].before.append(entry)
        elif entry.kind == "opening" and (here.entries or here.opening):
            segments.append(Segment(opening=entry))
        elif entry.kind == "opening":
            here.opening = entry
        else:
            here.entries.append(entry)
    return segments


def _arrows_settled(entries: Sequence[Entry]) -> list[Entry]:
    """An arrow joins two statements where relations stand on both sides of it; `m → ∞` is a relation."""
    result = list(entries)
    for at, entry in enumerate(result):
        if entry.lexeme.kind != "arrow" or entry.depth or entry.kind != "math":
            continue
        left = at == 0 or any(is_relation(e) and e.lexeme.kind == "rel" for e in stretch(result, at, -1))
        right = any(is_relation(e) and e.lexeme.kind == "rel" for e in stretch(result, at, 1))
        if left and (right or at == 0):
            entry.kind = "join"
    return result
