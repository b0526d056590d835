"""Which runs of letters are words.

A line mixes words and mathematics: `so v = u + at at the top`. This room tells them apart by the
declared names, by lists of words and by what stands around, and keeps every word. It does not look
inside the mathematics.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise, takewhile
from typing import Literal

from derive.notation.failures import ReadError
from derive.notation.letters import ENERGIES, FUNCTIONS, split
from derive.notation.names import GREEK, Scope
from derive.notation.scanning import Lexeme
from derive.notation.tree import Num, Span
from derive.notation.unit_names import unit_named
from derive.notation.vocabulary import JOINING, OPENING, PROSE, RUNNING, SMALL_WORDS

MOST_NESTED = 100

Class = Literal["math", "prose", "strange", "join", "opening", "or", "runs", "from", "to", "over", "small", "rel"]


@dataclass(slots=True)
class Entry:
    """A lexeme and what it does in the line. `depth` counts the brackets around it."""

    lexeme: Lexeme
    kind: Class
    depth: int = 0


_OPERAND_ENDS = frozenset(("number", "run", "close", "raised", "lowered", "unit", "primes"))
_OPERATORS = frozenset(("plus", "minus", "plusminus", "times", "slash", "caret", "rel", "arrow", "lower", "root",
                        "integral", "open"))
_JOINT_SIGNS = frozenset(("comma", "semicolon", "colon", "stop", "join"))
_WORD_SHAPE = re.compile(r"[A-Za-z]+(?:'[a-z]{1,2})?'?\Z")


def depths(lexemes: Sequence[Lexeme]) -> list[int]:
    """How many brackets stand around each lexeme; raises ReadError where they do not match."""
    partner = {"(": ")", "[": "]", "{": "}"}
    open_ones: list[Lexeme] = []
    result: list[int] = []
    for lexeme in lexemes:
        if lexeme.kind == "close":
            if not open_ones:
                raise ReadError(lexeme.span, f"an opening bracket before this ‘{lexeme.text}’")
            opened = open_ones.pop()
            if partner[opened.text] != lexeme.text:
                raise ReadError(lexeme.span, f"‘{partner[opened.text]}’ to close the ‘{opened.text}’ opened before")
        result.append(len(open_ones))
        if lexeme.kind == "open":
            open_ones.append(lexeme)
            if len(open_ones) > MOST_NESTED:
                raise ReadError(lexeme.span, f"at most {MOST_NESTED} brackets inside each other")
    if open_ones:
        raise ReadError(open_ones[-1].span, "a closing bracket for the one opened here")
    return result


def entries_of(lexemes: Sequence[Lexeme], scope: Scope) -> list[Entry]:
    """Every lexeme with its class."""
    levels = depths(lexemes)
    entries = [Entry(x, "math", depth) for x, depth in zip(lexemes, levels, strict=True)]
    _wordy_brackets(entries, scope)
    for at, entry in enumerate(entries):
        if entry.kind == "math" and entry.lexeme.kind == "run" and entry.depth == 0:
            entry.kind = _class(entries, at, scope)
        elif entry.lexeme.text in _DIRECTIONS:
            entry.kind = "prose"
    _abbreviations(entries)
    _articles_and_hyphens(entries)
    _changes(entries)
    _places(entries)
    _shares(entries)
    _rates(entries)
    _ranges(entries)
    _phrases(entries)
    return entries


def _class(entries: list[Entry], at: int, scope: Scope) -> Class:
    """What a run outside brackets does."""
    text = entries[at].lexeme.text
    if len(text) == 1 or not _WORD_SHAPE.match(text) or _is_name(text, scope):
        return "math"
    word = text.lower()
    after = _after(entries, at)
    if word == "root" and after is not None and after.lexeme.kind == "open" and not after.lexeme.spaced:
        return "math"  # root(2 g h)
    listed = _listed(word)
    if listed is None:
        if _reads_as_names(text, scope) or _is_unit_here(entries, at):
            return "math"
        return "strange"
    if word in ("const", "constant") and _wants_operand(entries, at):
        return "math"
    if _could_be_names(text, word, scope) and _stands_as_names(entries, at):
        return "math"
    return listed


def _is_name(text: str, scope: Scope) -> bool:
    pieces = split(text, scope)
    return len(pieces) == 1 and pieces[0].kind == "name" and scope.knows(pieces[0].ident)


def _listed(word: str) -> Class | None:
    stem = word.removesuffix("'s").removesuffix("'")
    if word == "or":
        return "or"
    if word in ("equals", "equalling"):
        return "rel"
    if word in RUNNING:
        return "runs"
    if word in JOINING:
        return "join"
    if word in OPENING:
        return "opening"
    if word in SMALL_WORDS:
        return "small"
    return "prose" if word in PROSE or stem in PROSE or (stem.endswith("ly") and len(stem) > 4) else None


def _reads_as_names(text: str, scope: Scope) -> bool:
    """A run that is in no list of words: mathematics in declared names, or in single letters."""
    if not scope.quick and _is_of_names(text, scope):
        return True
    return (scope.quick or scope.free) and not _looks_like_a_word(text, scope)


def _is_of_names(text: str, scope: Scope) -> bool:
    """Is a run made of what was declared, and of nothing that a line may bring along?"""
    return all(piece.kind != "unknown" for piece in split(text, replace(scope, free=False)))


# A run with one of these in it is mathematics: mgsinθ, rhogV.
_TELLING = tuple(word.lower() for word in (*FUNCTIONS, *GREEK) if len(word) > 2)


def _looks_like_a_word(text: str, scope: Scope) -> bool:
    """In a working without declarations: four letters or more, with a vowel, and no function in it."""
    lower = text.lower()
    if len(text) < 4 or not any(vowel in lower[1:] for vowel in "aeiouy"):
        return False
    if any(word in lower for word in _TELLING):
        return False
    if text != lower and text != lower.capitalize():
        return False
    return any(piece.kind == "name" and "_" not in piece.ident for piece in split(text, scope)[1:])


def _could_be_names(text: str, word: str, scope: Scope) -> bool:
    if scope.quick:
        return word in ("at", "as", "us", "am", "go", "is") and text == word
    return _is_of_names(text, scope)


def _before(entries: list[Entry], at: int) -> Entry | None:
    return entries[at - 1] if at else None


def _after(entries: list[Entry], at: int) -> Entry | None:
    return entries[at + 1] if at + 1 < len(entries) else None


def _wants_operand(entries: list[Entry], at: int) -> bool:
    before = _before(entries, at)
    return before is not None and before.lexeme.kind in _OPERATORS and before.kind in ("math", "rel")


def _stands_as_names(entries: list[Entry], at: int) -> bool:
    """`at` in `v = u + at` or `½ at²` is a product; in `v = 0 at x = 0` it is a word."""
    if _wants_operand(entries, at):
        return True
    before, after = _before(entries, at), _after(entries, at)
    operand_before = before is not None and before.kind == "math" and before.lexeme.kind in _OPERAND_ENDS
    if operand_before and not entries[at].lexeme.spaced:
        return True
    if after is not None and after.lexeme.kind in ("rel", "caret", "raised", "times", "slash", "plus"):
        return before is None or before.kind != "prose"
    if after is not None and after.lexeme.kind == "minus":
        return after.lexeme.spaced and at + 2 < len(entries) and entries[at + 2].lexeme.spaced and operand_before
    return operand_before and (after is None or after.lexeme.kind in _JOINT_SIGNS)


def _is_unit_here(entries: list[Entry], at: int) -> bool:
    """`3 seconds`, `3 newton metres`: a spelled unit after a number or after another unit."""
    before = _before(entries, at)
    if unit_named(entries[at].lexeme.text) is None or before is None or before.kind != "math":
        return False
    if before.lexeme.kind == "run":
        return unit_named(before.lexeme.text) is not None  # and no `n turns`
    return before.lexeme.kind in ("number", "slash", "times", "close", "raised")


def _wordy_brackets(entries: list[Entry], scope: Scope) -> None:
    """A bracket that holds only words, `(constant)` or `(by symmetry)`, is a remark within the line."""
    at = 0
    while at < len(entries):
        if entries[at].lexeme.kind == "open" and entries[at].depth == 0:
            close = next(i for i in range(at + 1, len(entries)) if entries[i].lexeme.kind == "close"
                         and entries[i].depth == 0)
            inside = entries[at + 1:close]
            words = [e.lexeme.text for e in inside if e.lexeme.kind == "run"]
            tight = at > 0 and not entries[at].lexeme.spaced
            if (words and not tight and _wordy(inside, words, scope)) or _points(inside):
                for entry in entries[at:close + 1]:
                    entry.kind, entry.depth = "prose", 0
            at = close
        at += 1


# Which way is meant, in a sign: `(↑) N - m g = 0`, `↑: …`. An arrow to the right may also join, or say what runs off.
_DIRECTIONS = frozenset("↑↓←↗↘↖↙↻↺⟲⟳↷↶")


def _points(inside: list[Entry]) -> bool:
    return bool(inside) and all(e.lexeme.kind == "arrow" or e.lexeme.text in _DIRECTIONS for e in inside)


def _wordy(inside: list[Entry], words: list[str], scope: Scope) -> bool:
    if any(e.lexeme.kind in ("rel", "slash", "caret", "plus", "times", "raised", "root") for e in inside):
        return False
    long_words = [w for w in words if len(w) > 1 and not _is_name(w, scope)
                  and (_listed(w.lower()) or not _reads_as_names(w, scope)) and unit_named(w) is None]
    return bool(long_words) and len(long_words) * 2 >= len(words)


def _articles_and_hyphens(entries: list[Entry]) -> None:
    """`a` before a word is the article; `x-direction` is one word."""
    wordy = ("prose", "strange")
    for at, entry in enumerate(entries):
        before, after = _before(entries, at), _after(entries, at)
        if entry.depth or after is None:
            continue
        first = before is None or before.kind != "math" or before.lexeme.kind in _JOINT_SIGNS
        if entry.lexeme.text in ("a", "A", "I") and after.kind in wordy and first:
            entry.kind = "prose"
        hyphen = entry.lexeme.kind == "minus" and not entry.lexeme.spaced and not after.lexeme.spaced
        if hyphen and before and after.lexeme.kind == "run" and (after.kind in wordy or before.kind in wordy):
            entry.kind = before.kind = after.kind = "prose"


def _abbreviations(entries: list[Entry]) -> None:
    """`i.e.` joins; `e.g.`, `q.e.d.`, `w.r.t.` are words."""
    at = 0
    while at < len(entries):
        end = at
        while end + 2 < len(entries) and _letter_and_stop(entries, end) and not entries[end + 2].lexeme.spaced \
                and len(entries[end + 2].lexeme.text) == 1 and entries[end + 2].lexeme.kind == "run":
            end += 2
        if end > at:
            letters = "".join(e.lexeme.text.lower() for e in entries[at:end + 1:2])
            for entry in entries[at:end + 1]:
                entry.kind = "join" if letters == "ie" else "prose"
        at = end + 1


def _letter_and_stop(entries: list[Entry], at: int) -> bool:
    """A single letter with a full stop close behind it."""
    letter, stop = entries[at].lexeme, entries[at + 1].lexeme
    return letter.kind == "run" and len(letter.text) == 1 and stop.kind == "stop" and not stop.spaced


def _places(entries: list[Entry]) -> None:
    """`energy at the top = …`: what is told of a place is named, and the little word opens nothing there."""
    for at, entry in enumerate(entries):
        before, after = _before(entries, at), _after(entries, at)
        if entry.kind != "opening" or entry.lexeme.text != "at" or before is None or after is None:
            continue
        where = at + 2 if after.lexeme.text == "the" else at + 1
        told = before.kind in ("prose", "strange") or (before.lexeme.text in ENERGIES and before.depth == 0)
        ended = where + 1 < len(entries) and entries[where + 1].lexeme.text == "="
        if told and ended and entries[where].kind in ("prose", "strange"):
            entry.kind = "prose"


_CHANGES = frozenset(("loss", "gain", "change", "increase", "decrease", "rise", "drop", "fall", "difference"))


def _changes(entries: list[Entry]) -> None:
    """`gain in KE`: the little word opens nothing there."""
    for before, entry in pairwise(entries):
        if before.lexeme.text.lower() in _CHANGES and entry.lexeme.text.lower() in ("in", "of"):
            before.kind = entry.kind = "prose"


def _shares(entries: list[Entry]) -> None:
    """`40 % of K`, `2/3 of m g h`: the little word multiplies."""
    for at, entry in enumerate(entries):
        before, after = _before(entries, at), _after(entries, at)
        if entry.kind != "prose" or entry.lexeme.text != "of" or before is None or after is None:
            continue
        share = before.kind == "math" and (before.lexeme.kind == "number" or before.lexeme.text in ("%", "‰"))
        if share and after.kind == "math" and after.lexeme.kind in ("run", "open"):
            entry.kind, entry.lexeme = "math", replace(entry.lexeme, kind="times", text="*", value=None, places=())


_SUBJECTS = frozenset(("we", "one", "you", "this", "it"))


def _phrases(entries: list[Entry]) -> None:
    """`since v' = v dv/dx we have m v dv/dx = -b v`: a phrase of its own between two relations joins them."""
    for at, entry in enumerate(entries):
        if entry.kind != "prose" or entry.lexeme.text.lower() not in _SUBJECTS or not at or entry.depth:
            continue
        phrase = list(takewhile(lambda e: e.kind == "prose", entries[at:]))
        stretches = (stretch(entries, at, -1), stretch(entries, at + len(phrase) - 1, 1))
        if all(s and s[0].kind == "math" and any(map(is_relation, s)) for s in stretches) and not is_relation(
                stretches[1][0]):
            for e in phrase:
                e.kind = "join"


_POWERS = frozenset(("squared", "cubed"))


def _rates(entries: list[Entry]) -> None:
    """`20 metres per second`, `9.8 metres per second squared`: between units the word divides, and raises."""
    for at, entry in enumerate(entries):
        before, after = _before(entries, at), _after(entries, at)
        if entry.lexeme.text != "per" or before is None or after is None or not _is_unit(before) or (
            unit_named(after.lexeme.text) is None
        ):
            continue
        entry.kind, entry.lexeme = "math", replace(entry.lexeme, kind="slash", text="/", value=None, places=())
        after.kind = "math"
        power = _after(entries, at + 1)
        if power is not None and power.lexeme.text in _POWERS:
            figure = 2 if power.lexeme.text == "squared" else 3
            number = Lexeme("number", str(figure), power.lexeme.span, value=Num(Fraction(figure)))
            power.kind, power.lexeme = "math", replace(
                power.lexeme, kind="raised", text=str(figure), value=(number,), places=(), spaced=False)


def _is_unit(entry: Entry) -> bool:
    return entry.kind == "math" and entry.lexeme.kind == "run" and unit_named(entry.lexeme.text) is not None


def _ranges(entries: list[Entry]) -> None:
    """`from … to …` belongs to mathematics after an integral sign or `runs`; otherwise they are words."""
    open_range = waiting = False
    for at, entry in enumerate(entries):
        word = entry.lexeme.text.lower()
        if entry.lexeme.kind == "integral" or entry.kind == "runs":
            open_range = True
        elif entry.kind == "prose" and word == "from" and open_range:
            entry.kind, waiting, open_range = "from", True, False
        elif entry.kind == "prose" and word == "to" and waiting:
            entry.kind, waiting = "to", False
        elif entry.kind == "prose" and word == "over" and open_range:
            signs = [e for e in entries[at + 1:] if e.lexeme.kind == "rel"][:2]
            if len(signs) == 2 and all(e.lexeme.text in "<≤" for e in signs):
                entry.kind, open_range = "over", False
    finished = any(entry.kind == "to" for entry in entries)
    for entry in entries:  # no `to` came: the words were only words
        if (waiting and entry.kind == "from") or (not finished and entry.kind == "runs"):
            entry.kind = "prose"


# --- between the joints ----------------------------------------------------------------------------------


def is_joint(entry: Entry) -> bool:
    return entry.kind == "join" or (entry.depth == 0 and entry.kind in ("math", "prose")
                                    and entry.lexeme.kind in _JOINT_SIGNS)


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
