"""A unit told apart from its number: `in km/h: v = 29.7·3.6 = 107`, `as rpm: 28`, `v in km/h = 107`, `v = 107 in km/h`.

The unit is put behind the number it is of, on the lexemes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.grouping.amounts import unit_run
from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.lists.vocabulary import JOINING
from derive.notation.names import Scope
from derive.notation.tree import Span

_IN = frozenset(("in", "as"))
_BEHIND_LETTERS = frozenset(("slash", "caret", "raised", "number", "minus", "times"))
_RECKONED_WITH = frozenset(("number", "plus", "minus", "times", "slash", "caret", "raised", "open", "close", "root"))
_BEFORE = frozenset(("or", "so", "and", "hence", "thus"))
_EQUALS = frozenset("=≈")


def with_units_behind(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with every unit that was told apart behind its number."""
    at = next((k for k, x in enumerate(lexemes) if x.text.lower() in _IN and x.kind == "run"), None)
    end = 0 if at is None else _end_of_unit(lexemes, at + 1, scope)
    if at is None or not end:
        return lexemes
    units, behind = lexemes[at + 1:end], lexemes[end:]
    if at == 0 or (at == 1 and lexemes[0].text.lower() in _BEFORE):
        return _told_ahead(lexemes, units, behind)
    told = any(x.kind == "rel" for x in lexemes[:at])
    if (at == 1 or told) and behind and behind[0].text in (*_EQUALS, ":") and _is_figures(behind[1:]):
        return [*lexemes[:at], _equals(behind[0]), *behind[1:], *_moved(units, behind[-1])]
    measured = told and lexemes[at - 1].kind in ("number", "raised")
    return [*lexemes[:at], *_moved(units, lexemes[at - 1])] if measured and not behind else lexemes


def _told_ahead(lexemes: list[Lexeme], units: list[Lexeme], behind: list[Lexeme]) -> list[Lexeme]:
    """`in km/h: v = 107`, `in km/h v = 107`, and `in km/h: 107`, which goes on from the line above."""
    rest = behind[1:] if behind and behind[0].kind in ("colon", "comma") else behind
    if not rest:
        return lexemes
    if _is_figures(rest):
        return [_equals(rest[0]), *rest, *_moved(units, rest[-1])]
    end = next((k for k, x in enumerate(rest) if x.kind in ENDS_CLAUSE or x.text in JOINING), len(rest))
    sign = max((k for k, x in enumerate(rest[:end]) if x.text in _EQUALS), default=0)
    if not sign or rest[0].kind != "run" or not _is_figures(rest[sign + 1:end]):
        return lexemes
    return [*rest[:end], *_moved(units, rest[end - 1]), *rest[end:]]


def _end_of_unit(lexemes: Sequence[Lexeme], at: int, scope: Scope) -> int:
    """Where the unit that begins here ends; 0 where it may be something else: a letter that is about."""
    end = at
    while end < len(lexemes) and (_is_unit(lexemes[end]) if lexemes[end].kind in ("run", "unit") else (
            end > at and lexemes[end].kind in _BEHIND_LETTERS)):
        end += 1
    if at + 1 < end < len(lexemes) and lexemes[end].kind == "rel" and lexemes[end - 2].kind not in _BEHIND_LETTERS:
        end -= 1  # `in km/h v = 107`, with a letter that could be volts
    letters = [x.text for x in lexemes[at:end] if x.kind in ("run", "unit")]
    alone = len(letters) == 1 and len(letters[0]) == 1 and scope.knows(letters[0])
    return 0 if not letters or alone else end


def _is_unit(some: Lexeme) -> bool:
    return some.kind == "unit" or unit_run(some) is not None


def _is_figures(some: Sequence[Lexeme]) -> bool:
    """A number, or a reckoning in plain numbers with what it comes to."""
    return any(x.kind == "number" for x in some) and all(
        x.kind in _RECKONED_WITH or x.text in _EQUALS or x.text in ("π", "pi") for x in some)


def _moved(units: Sequence[Lexeme], behind: Lexeme) -> list[Lexeme]:
    """The unit as if it had been typed behind a lexeme."""
    here = Span(behind.span.end, behind.span.end)
    return [replace(x, span=here, spaced=k == 0, places=(here,) * len(x.places)) for k, x in enumerate(units)]


def _equals(at: Lexeme) -> Lexeme:
    return Lexeme("rel", "=", Span(at.span.start, at.span.start), True)
