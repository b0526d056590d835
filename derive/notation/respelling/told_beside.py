"""A value told beside what is said of it, without a sign between the two: `at v = 20 m/s driving force F = 200 N`,
`at 20 m/s F = 200 N`, `W = m g h = 392 J by h = 20 m`.

A colon is put in behind the first, `for` before the second, on the lexemes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.vocabulary import JOINING, OPENING, PROSE
from derive.notation.names import Scope, canonical
from derive.notation.respelling.telling import measure_at, value_at
from derive.notation.tree import Span

# How far something goes while the rest of the line is so.
_ALONG = frozenset(("by", "through", "over"))


def with_values_beside(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with the signs that set such values apart."""
    return _headed(_along(lexemes), scope)


def _along(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`lifts m = 255 kg by h = 20 m`, at the end of a line."""
    at = next((k for k, x in enumerate(lexemes) if k > 2 and x.text.lower() in _ALONG), 0)
    if not at or value_at(lexemes, at + 1) != len(lexemes) or not any(x.text == "=" for x in lexemes[:at]):
        return lexemes
    word = lexemes[at]
    return [*lexemes[:at], replace(word, text="for", places=(word.span,) * 3), *lexemes[at + 1:]]


def _headed(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    word = lexemes[0].text.lower() if lexemes else ""
    opens = word == "with" or OPENING.get(word) in ("at", "suppose")
    named, measured = (value_at(lexemes, 1), measure_at(lexemes, 1)) if opens else (0, 0)
    end = named or (measured if measured > 2 else 0)
    rest = lexemes[end:] if end else []
    in_units = end > (4 if named else 2)
    if len(rest) < 3 or not any(x.text == "=" for x in rest) or not _begins_anew(rest, in_units, scope):
        return lexemes
    here = Span(rest[0].span.start, rest[0].span.start)
    return [*lexemes[:end], Lexeme("colon", ":", here, True), *rest]


def _begins_anew(rest: Sequence[Lexeme], measured: bool, scope: Scope) -> bool:
    """Is what follows a value a word, or behind a unit a name that is given one? (`at x = 2 a F = …` may go on.)"""
    first = rest[0]
    if first.kind != "run" or first.text.lower() in JOINING or scope.knows(canonical(first.text)) > measured:
        return False
    worded = len(first.text) > 2 and (first.text.lower() in PROSE or (len(first.text) > 3 and first.text.isalpha()))
    return worded or (measured and rest[1].kind == "rel")
