"""How long something is so, in several words: `a = μ g as long as it slides`, `v = μ g t up to t = t1`.

One word that opens as much is set for them, on the lexemes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lexemes.scanning import Lexeme

_PHRASES = {
    ("as", "long", "as"): "while", ("so", "long", "as"): "while", ("up", "to"): "until", ("up", "till"): "until"}
_TELLING = frozenset(("long", "up", "Up"))


def with_how_long(lexemes: list[Lexeme]) -> list[Lexeme]:
    """The lexemes with `while` and `until` for what says as much; `up to` only before a relation."""
    if _TELLING.isdisjoint({x.text for x in lexemes}):
        return lexemes
    out, at = [], 0
    while at < len(lexemes):
        phrase = next((p for p in _PHRASES if _reads(lexemes[at:at + len(p)], p)), None)
        if phrase is None or (phrase[0] == "up" and not _holds_a_relation(lexemes[at + len(phrase):])):
            out.append(lexemes[at])
            at += 1
            continue
        text = _PHRASES[phrase]
        out.append(replace(lexemes[at], text=text, places=(lexemes[at].span,) * len(text)))
        at += len(phrase)
    return out


def _reads(lexemes: Sequence[Lexeme], phrase: Sequence[str]) -> bool:
    return [x.text.lower() for x in lexemes] == [*phrase] and all(x.kind == "run" for x in lexemes)


def _holds_a_relation(lexemes: Sequence[Lexeme]) -> bool:
    """Does a sign of a relation stand behind a word or two?"""
    return any(x.kind == "rel" for x in lexemes[1:3])
