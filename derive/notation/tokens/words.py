"""Which runs of letters are words.

A line mixes words and mathematics: `so v = u + at at the top`. This room tells them apart by the
declared names, by lists of words and by what stands around, and keeps every word. It does not look
inside the mathematics.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from derive.notation.failures import ReadError
from derive.notation.lexemes.letters import FUNCTIONS, split
from derive.notation.lexemes.scanning import ENDS_OPERAND, Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.lists.vocabulary import JOINING, OPENING, PROSE, RUNNING, SMALL_WORDS
from derive.notation.names import GREEK, Scope
from derive.notation.tokens.entries import JOINT_SIGNS, Class, Entry, left_of, right_of
from derive.notation.tokens.phrases import little_words

MOST_NESTED = 100

_OPERATORS = frozenset(("plus", "minus", "plusminus", "times", "slash", "caret", "rel", "arrow", "lower", "root",
                        "integral", "open"))
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
    _constants_told(entries, scope)
    for at, entry in enumerate(entries):
        if entry.kind == "math" and entry.lexeme.kind == "run" and entry.depth == 0:
            entry.kind = _class(entries, at, scope)
        elif entry.lexeme.text in _DIRECTIONS:
            entry.kind = "prose"
    little_words(entries)
    return entries


def _class(entries: list[Entry], at: int, scope: Scope) -> Class:
    """What a run outside brackets does."""
    text = entries[at].lexeme.text
    if len(text) == 1 or not _WORD_SHAPE.match(text) or _is_name(text, scope):
        return "math"
    word = text.lower()
    after = right_of(entries, at)
    if word == "root" and after is not None and after.lexeme.kind == "open" and not after.lexeme.spaced:
        return "math"  # root(2 g h)
    listed = _listed(word)
    if listed is None and _describes(entries, at, scope):
        return "prose"
    if listed is None:
        behind_a_sign = _wants_operand(entries, at) and any(f in text for f in _TELLING)  # `x = uatcosa`
        if behind_a_sign or _reads_as_names(text, scope) or _is_unit_here(entries, at):
            return "math"
        return "strange"
    if word in ("const", "constant") and _wants_operand(entries, at):
        return "math"
    if _could_be_names(text, word, scope) and _stands_as_names(entries, at):
        return "math"
    if (after is None or after.lexeme.kind in ("slash", "rel", "comma")) and _is_unit_here(entries, at):
        return "math"  # 45 turns/min, 2 turns = 4π
    return listed


_TELLING_HOW = frozenset(("is", "are", "the", "a", "an", "was", "very", "its"))


def _describes(entries: list[Entry], at: int, scope: Scope) -> bool:
    """`if the road is wet`, `the oil …`: three small letters with a vowel that stand behind a little word and are not
    all known."""
    text, before = entries[at].lexeme.text, left_of(entries, at)
    said = before is not None and before.kind == "prose" and before.lexeme.text.lower() in _TELLING_HOW
    wordy = len(text) == 3 and text.islower() and text.isascii() and any(c in "aeiouy" for c in text[1:])
    return said and wordy and scope.quick and text not in FUNCTIONS and not all(map(scope.knows, text))


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
    telling = [word for word in _TELLING if word in lower]
    if not all(_only_spelt(lower, word, scope) for word in telling):
        return False
    if text != lower and text != lower.capitalize():
        return False
    return bool(telling) or any(
        piece.kind == "name" and "_" not in piece.ident for piece in split(text, scope)[1:])


def _only_spelt(word: str, function: str, scope: Scope) -> bool:
    """`basin`, `housing`, `singing`, `barges`: a word that has the letters of a function in it, where `mgsinx` has
    names before it and its argument behind."""
    before, _, behind = word.partition(function)
    if function[0] == "a" and function[1:] in FUNCTIONS:
        return True  # the `sin` in `basin` tells
    if function not in FUNCTIONS or all(map(scope.knows, before + behind)):
        return False
    spoken = any(vowel in part[-3:] for part in (before, behind) if len(part) > 1 for vowel in "aeio")
    return spoken or (function == "arg" and len(behind) != 1)


def _could_be_names(text: str, word: str, scope: Scope) -> bool:
    if scope.quick:
        return word == "an" or (word in ("at", "as", "us", "am", "go", "is") and text == word)
    return _is_of_names(text, scope)


def _wants_operand(entries: list[Entry], at: int) -> bool:
    before = left_of(entries, at)
    return before is not None and before.lexeme.kind in _OPERATORS and before.kind in ("math", "rel")


def _stands_as_names(entries: list[Entry], at: int) -> bool:
    """`at` in `v = u + at` or `½ at²` is a product; in `v = 0 at x = 0` it is a word."""
    if _wants_operand(entries, at):
        return True
    before, after = left_of(entries, at), right_of(entries, at)
    operand_before = before is not None and before.kind == "math" and before.lexeme.kind in ENDS_OPERAND
    if operand_before and not entries[at].lexeme.spaced:
        return True
    if after is not None and after.lexeme.kind in ("rel", "caret", "raised", "times", "slash", "plus"):
        return before is None or before.kind != "prose"
    if after is not None and after.lexeme.kind == "minus":
        return after.lexeme.spaced and at + 2 < len(entries) and entries[at + 2].lexeme.spaced and operand_before
    return operand_before and (after is None or after.lexeme.kind in JOINT_SIGNS)


def _is_unit_here(entries: list[Entry], at: int) -> bool:
    """`3 seconds`, `3 newton metres`: a spelled unit after a number or after another unit."""
    before = left_of(entries, at)
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
            if (words and not tight and (_wordy(inside, words, scope) or _units_told(inside))) or _points(inside):
                for entry in entries[at:close + 1]:
                    entry.kind, entry.depth = "prose", 0
            at = close
        at += 1


_CONSTANTS = frozenset(("constant", "constants", "const"))
_OF_CONSTANTS = _CONSTANTS | {
    "some", "any", "an", "a", "the", "is", "are", "being", "both", "two", "real", "free", "arbitrary", "unknown", "of",
    "integration", "and"}
_TELLING_CONSTANTS = frozenset(("with", "where", "for"))


def _constants_told(entries: list[Entry], scope: Scope) -> None:
    """`…, with A and B constants`, `…, where C is a constant of integration`: the end of a line that only says of names
    that they are constants is a remark."""
    start = len(entries)
    while start and _of_constants(entries[start - 1], scope):
        start -= 1
    if start and entries[start - 1].lexeme.text.lower() in _TELLING_CONSTANTS:
        start -= 1
    else:
        start = next((at for at in range(start, len(entries)) if entries[at].lexeme.kind == "comma"), len(entries))
    told = entries[start:]
    named = any(e.lexeme.kind == "run" and e.lexeme.text.lower() not in _OF_CONSTANTS for e in told[1:])
    if start and named and _CONSTANTS & {e.lexeme.text.lower() for e in told}:
        for entry in told:
            entry.kind = "prose"


def _of_constants(entry: Entry, scope: Scope) -> bool:
    x = entry.lexeme
    name = x.kind == "run" and (len(x.text.partition("_")[0]) == 1 or scope.knows(x.text))
    return entry.depth == 0 and (name or x.kind == "comma" or x.text.lower() in _OF_CONSTANTS)


# Which way is meant, in a sign: `(↑) N - m g = 0`, `↑: …`. An arrow to the right may also join, or say what runs off.
_DIRECTIONS = frozenset("↑↓←↗↘↖↙↻↺⟲⟳↷↶")


def _points(inside: list[Entry]) -> bool:
    return bool(inside) and all(e.lexeme.kind == "arrow" or e.lexeme.text in _DIRECTIONS for e in inside)


def _units_told(inside: list[Entry]) -> bool:
    """`(s in m, t in s)`, `(N, x in m)`, `(in N)`: the units that plain numbers are in."""
    pieces = [piece.split() for piece in " ".join(e.lexeme.text for e in inside).split(",")]
    of_names = [p for p in pieces if "in" in p[:2]]
    return bool(of_names) and all(_is_named(p[-1]) and len(p) > p.index("in") + 1 for p in of_names) and all(
        len(p) == 1 and _is_named(p[0]) for p in pieces if p not in of_names)


def _is_named(typed: str) -> bool:
    return unit_named(typed) is not None


def _wordy(inside: list[Entry], words: list[str], scope: Scope) -> bool:
    if any(e.lexeme.kind in ("rel", "slash", "caret", "plus", "times", "raised", "root") for e in inside):
        return False
    long_words = [w for w in words if len(w) > 1 and not _is_name(w, scope)
                  and (_listed(w.lower()) or not _reads_as_names(w, scope)) and unit_named(w) is None]
    return bool(long_words) and len(long_words) * 2 >= len(words)
