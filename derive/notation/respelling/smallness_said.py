"""`x = x0 + y, y small`: what is small, said behind what brings it in, as `… for small y`."""

from __future__ import annotations

from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.lists.vocabulary import PROSE, SMALL_WORDS
from derive.notation.names import Scope, canonical
from derive.notation.tree import Span

_VERBS = frozenset(("is", "are", "being", "stays", "remains"))
_BEFORE = frozenset(("with", "where", "and", "for"))


def with_smallness(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """With the words in the order in which a condition is said behind a claim."""
    for at, x in enumerate(lexemes):
        if at < 2 or x.text.lower() not in SMALL_WORDS or not any(y.kind == "rel" for y in lexemes[:at]):
            continue
        found = _named_before(lexemes, at, scope) or _named_behind(lexemes, at, scope)
        if found is not None:
            name, start, end = found
            place = Span(x.span.start, x.span.start)
            return [*lexemes[:start], Lexeme("run", "for", place, True, None, (place,) * 3), x, name, *lexemes[end:]]
    return lexemes


def _named_before(lexemes: list[Lexeme], at: int, scope: Scope) -> tuple[Lexeme, int, int] | None:
    """`…, y small`, `… where y is small`, `… (y small)`: the name, and from where to where this is said."""
    if not _ends(lexemes, at + 1):
        return None
    k = at - 1
    if lexemes[k].text.lower() in _VERBS:
        k -= 1
    bars = lexemes[k].kind == "bar" and k > 2 and lexemes[k - 2].kind == "bar"
    name, first = (lexemes[k - 1], k - 2) if bars else (lexemes[k], k)
    return _with_its_joint(lexemes, name, first, at + 1, scope)


def _named_behind(lexemes: list[Lexeme], at: int, scope: Scope) -> tuple[Lexeme, int, int] | None:
    """`…, small y`, `… with small y`"""
    if at + 1 >= len(lexemes) or not _ends(lexemes, at + 2):
        return None
    return _with_its_joint(lexemes, lexemes[at + 1], at, at + 2, scope)


def _with_its_joint(
    lexemes: list[Lexeme], name: Lexeme, first: int, end: int, scope: Scope
) -> tuple[Lexeme, int, int] | None:
    joint = lexemes[first - 1] if first else None
    if joint is None or not _is_name(name, lexemes[:first], scope):
        return None
    bracketed = joint.kind == "open" and end < len(lexemes) and lexemes[end].kind == "close"
    if bracketed:
        return name, first - 1, end + 1
    if joint.kind == "comma" or joint.text.lower() in _BEFORE:
        return name, first - 1, end
    return None


def _is_name(x: Lexeme, before: list[Lexeme], scope: Scope) -> bool:
    """A name that the line has spoken of."""
    spoken = any(y.kind == "run" and (y.text == x.text or (len(x.text) == 1 and x.text in y.text)) for y in before)
    return x.kind == "run" and spoken and (scope.knows(canonical(x.text)) or x.text.lower() not in PROSE)


def _ends(lexemes: list[Lexeme], at: int) -> bool:
    return at >= len(lexemes) or lexemes[at].kind in ENDS_CLAUSE or lexemes[at].kind == "close"
