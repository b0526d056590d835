"""Lines referred to without the brackets of their labels: `Eq. 3 gives …`, `from 2) …`.

Brackets are put around the label, so that derive.notation.tokens.operations sees one way of citing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.word_lists import words
from derive.notation.names import Scope
from derive.notation.tree import Span

# After these a number is that of a line, whatever it is called here.
NUMBERED = words("eq eqn eqs eqns equation equations line lines step steps")
# After these a label may stand that is closed by a bracket which was never opened.
_LEADING = words("from using by into in sub with and")


def with_references(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with brackets around what is a label by the word before it."""
    if not any(x.kind == "run" and x.text.lower() in NUMBERED | _LEADING for x in lexemes):
        return lexemes
    out: list[Lexeme] = []
    open_ones = 0
    at = 0
    while at < len(lexemes):
        here = lexemes[at]
        size = _reference(lexemes, at, out, open_ones, scope)
        if size:
            out += _bracketed(lexemes[at:at + size])
            at += size
            continue
        if here.kind == "stop" and out and out[-1].text.lower() in NUMBERED and _is_named(lexemes[at + 1:at + 2]):
            at += 1  # Eq. 3, Eq.(3)
            continue
        open_ones += (here.kind == "open") - (here.kind == "close")
        out.append(here)
        at += 1
    return out


def _reference(lexemes: Sequence[Lexeme], at: int, out: Sequence[Lexeme], open_ones: int, scope: Scope) -> int:
    """How many lexemes from here on are a label without its brackets, 0 where it is none."""
    if not out or open_ones or not _is_label(lexemes[at:at + 1]):
        return 0
    word = out[-1].text.lower()
    closed = at + 1 < len(lexemes) and lexemes[at + 1].kind == "close"
    if closed and word in NUMBERED | _LEADING and lexemes[at].text in scope.labels:
        return 2
    after = lexemes[at + 1] if at + 1 < len(lexemes) else None
    apart = after is None or after.spaced or after.kind in ("comma", "colon", "semicolon")
    return 1 if word in NUMBERED and apart and lexemes[at].kind == "number" else 0


def _is_named(one: Sequence[Lexeme]) -> bool:
    return _is_label(one) or bool(one and one[0].kind == "open")


def _is_label(one: Sequence[Lexeme]) -> bool:
    """A whole number of few figures, or a letter."""
    return bool(one) and len(one[0].text) <= 3 and (
        (one[0].kind == "number" and one[0].text.isdigit()) or (one[0].kind == "run" and len(one[0].text) == 1))


def _bracketed(typed: Sequence[Lexeme]) -> list[Lexeme]:
    label, last = typed[0], typed[-1]
    start = Span(label.span.start, label.span.start)
    close = last if last.kind == "close" else Lexeme("close", ")", Span(label.span.end, label.span.end))
    return [Lexeme("open", "(", start, True), replace(label, spaced=False), close]
