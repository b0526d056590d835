"""`zero at x = 0, x = ±a` below what that is said of: `= 0 at x = 0, x = ±a`."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.names import Scope
from derive.notation.tree import Num, Span

_NOTHING = frozenset(("zero", "vanishes", "vanishing"))
_WHERE = frozenset(("at", "for", "when", "where", "if"))
_SUBJECTS = frozenset(("it", "this", "which", "that", "is"))


def with_zeros(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """With signs for the words, where a line goes on from the one above."""
    at = next((k for k, x in enumerate(lexemes) if x.text.lower() not in _SUBJECTS), 0)
    if scope.previous is None or at + 2 >= len(lexemes):
        return lexemes
    word, after = lexemes[at], lexemes[at + 1]
    if word.text.lower() not in _NOTHING or after.text.lower() not in _WHERE:
        return lexemes
    if not any(x.kind == "rel" for x in lexemes[at + 2:]):
        return lexemes
    place = Span(word.span.start, word.span.start)
    nought = Lexeme("number", "0", word.span, True, Num(Fraction(0)))
    return [Lexeme("rel", "=", place, True), nought, replace(after, text="at"), *lexemes[at + 2:]]
