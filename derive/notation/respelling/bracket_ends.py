"""`[x - x²/(2d)] from 0 to d`: the ends of a worked-out integral told in words, set where their signs would stand; and
`∫ F dx from x = 0 to x = d`, which names them twice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lexemes.scanning import Kind, Lexeme
from derive.notation.tree import Span

_STOPS = frozenset(("rel", "comma", "semicolon", "arrow", "colon", "stop", "join"))
_WORDS = frozenset(("to", "so", "and", "hence", "thus", "with", "gives"))


def with_ends_named_once(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`∫ F dx from 0 to d` of `∫ F dx from x = 0 to x = d`, where `dx` has said which name runs so."""
    named = {
        k: lexemes[k + 1].text for k, x in enumerate(lexemes[:-2])
        if x.text in ("from", "to") and lexemes[k + 2].text == "="
        and any(y.kind == "run" and y.text.endswith("d" + lexemes[k + 1].text) for y in lexemes[:k])}
    begun = {name for k, name in named.items() if lexemes[k].text == "from"}  # `from v_0 to v = -∫ …` goes on
    said = {k + 1 + n for k, name in named.items() if name in begun for n in (0, 1)}
    return [x for k, x in enumerate(lexemes) if k not in said]


def with_bracket_ends(lexemes: list[Lexeme]) -> list[Lexeme]:
    """The lexemes with `] from a to b` as `]_{a}^{b}`; not under an integral sign, which has ends of its own."""
    if any(x.kind == "integral" for x in lexemes):
        return lexemes
    out: list[Lexeme] = []
    at = 0
    while at < len(lexemes):
        out.append(lexemes[at])
        at += 1
        if lexemes[at - 1].text == "]" and at < len(lexemes) and lexemes[at].text == "from":
            lower, to = _end(lexemes, at + 1)
            upper, stop = _end(lexemes, to + 1)
            if lower and upper and lexemes[to].text == "to":
                out += [*_raised("lower", "_", lexemes[at], lower), *_raised("caret", "^", lexemes[to], upper)]
                at = stop
    return out


def _end(lexemes: Sequence[Lexeme], at: int) -> tuple[Sequence[Lexeme], int]:
    """One end, without the name that may be told with it (`x = 0`), and where what follows it begins."""
    if at + 1 < len(lexemes) and lexemes[at + 1].text == "=":
        at += 2
    stop = next((k for k in range(at, len(lexemes)) if _follows(lexemes[k])), len(lexemes))
    return lexemes[at:stop], stop


def _follows(lexeme: Lexeme) -> bool:
    return lexeme.kind in _STOPS or lexeme.text in _WORDS


def _raised(kind: Kind, sign: str, word: Lexeme, inside: Sequence[Lexeme]) -> list[Lexeme]:
    before, after = Span(word.span.start, word.span.start), Span(inside[-1].span.end, inside[-1].span.end)
    first = replace(inside[0], spaced=False)
    return [
        Lexeme(kind, sign, before), Lexeme("open", "{", before), first, *inside[1:], Lexeme("close", "}", after)]
