"""What a name does, told by a verb, where a line says when: `N vanishes when h = 3 R`, `v reaches u/2 at t = m/b`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import takewhile

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.tokens.entries import Entry, is_joint, is_relation, left_of, place, stretch
from derive.notation.tree import Num

# Verbs, in as many words, after which a name is nothing, and those after which it has the value that stands behind.
_VANISHING = tuple(tuple(said.split()) for said in (
    "vanishes", "is zero", "becomes zero", "gets zero", "equals zero", "is nothing", "drops to zero", "falls to zero",
    "goes to zero", "reaches zero"))
_REACHING = tuple(tuple(said.split()) for said in (
    "reaches", "attains", "drops to", "falls to", "rises to", "grows to", "increases to", "decreases to"))
_WHENEVER = tuple(tuple(said.split()) for said in ("after", "as soon as"))
# Where these words stand behind, they say when it is so.
_WHEN = frozenset(("when", "if", "at", "for", "once", "after"))


def verbs_told(entries: list[Entry]) -> None:
    """Verbs between a name and what says when it is so, as relations."""
    for at in range(len(entries) - 1, 0, -1):
        if not _stands_alone(entries, at - 1):
            continue
        if (many := _told(entries, at, _VANISHING)) and _when(entries, at + many):
            related = _related(entries[at:at + many])
            nought = Lexeme("number", "0", related.lexeme.span, value=Num(Fraction(0)))
            entries[at:at + many] = [related, Entry(nought, "math")]
        elif many := _told(entries, at, _REACHING):
            value = list(takewhile(lambda e: e.lexeme.text.lower() not in _WHEN, entries[at + many:]))
            if value and all(e.kind == "math" and not (is_relation(e) or is_joint(e)) for e in value) and _when(
                    entries, at + many + len(value)):
                entries[at:at + many] = [_related(entries[at:at + many])]


def moments_told(entries: list[Entry]) -> None:
    """`v = u/2 after t = m/b`, `V < 0 as soon as d < L/2`: between two relations the words say when, as `when` does."""
    for at in range(len(entries) - 1, -1, -1):
        many = _told(entries, at, _WHENEVER)
        if many and entries[at].kind != "math" and not entries[at].depth and _stands_between(entries, at, many):
            said = entries[at:at + many]
            lexeme = replace(said[0].lexeme, text="when", span=place(said), places=())
            entries[at:at + many] = [Entry(lexeme, "opening")]


def _stands_alone(entries: list[Entry], at: int) -> bool:
    """Is it a name, with no mathematics before it?"""
    name, before = entries[at], left_of(entries, at)
    plain = name.kind == "math" and name.lexeme.kind == "run" and not name.depth
    return plain and (before is None or before.kind != "math" or is_joint(before))


def _told(entries: Sequence[Entry], at: int, verbs: Sequence[tuple[str, ...]]) -> int:
    """How many words one of some verbs has that stands there; 0 where none does."""
    said = tuple(e.lexeme.text.lower() for e in entries[at:at + 3])
    return max((len(verb) for verb in verbs if said[:len(verb)] == verb), default=0)


def _when(entries: list[Entry], at: int) -> bool:
    """Does a condition begin there?"""
    said = at < len(entries) and entries[at].lexeme.text.lower() in _WHEN
    return said and any(map(is_relation, takewhile(lambda e: not is_joint(e), entries[at + 1:])))


def _related(told: list[Entry]) -> Entry:
    """A verb of one word or more as an equals sign."""
    return Entry(Lexeme("rel", "=", place(told), told[0].lexeme.spaced), "math")


def _stands_between(entries: list[Entry], at: int, many: int) -> bool:
    before, after = stretch(entries, at, -1), stretch(entries, at + many - 1, 1)
    behind = bool(after) and after[0].kind == "math" and not is_relation(after[0])
    return behind and any(map(is_relation, before)) and any(map(is_relation, after))
