"""What a line says further of the result above it, or of its own: `that is 20 % of L`, `largest, 1, for m = M`.

Such a line goes on from the last side above with an equals sign that is not typed; it is put in here, on the lexemes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from derive.notation.grouping.amounts import unit_run
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.vocabulary import JOINING, OPENING
from derive.notation.lists.word_lists import words
from derive.notation.names import Scope, canonical
from derive.notation.tree import Span, names_in

_PER = frozenset("%‰")
_EXTREMES = words("largest greatest biggest highest smallest least lowest maximum minimum maximal minimal max min")
_CASES = frozenset(("for", "at", "when", "if"))
_ENDS = frozenset(("comma", "semicolon", "colon", "stop", "join"))


def with_results_told(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with the equals sign that words stand for."""
    return _greatest(_worth(_share_beside(_extreme_apart(lexemes), scope), scope), scope)


def _extreme_apart(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`v_max when a = 0`, `P_min at u = 2 m/s`: words that say what is greatest there, and no quantity."""
    if _said(lexemes[:2])[1:] not in ([word] for word in _CASES) or not any(x.kind == "rel" for x in lexemes):
        return lexemes
    first = lexemes[0]
    stem, _, mark = canonical(first.text).rpartition("_")
    if not stem or mark not in ("max", "min"):
        return lexemes
    return [replace(first, text=stem), replace(first, text=mark), *lexemes[1:]]


def with_value_at_head(lexemes: list[Lexeme], scope: Scope) -> tuple[list[Lexeme], Scope]:
    """`with η = 0.85: 235 kW`, `torque = I α, I = 0.2 kg m²: 1 N m`: what was asked for last comes to that there. The
    lexemes with the equals sign, and what stands before it as the last side above."""
    colon = max((k for k, x in enumerate(lexemes) if x.kind == "colon"), default=0)
    head, told = lexemes[:colon], lexemes[colon + 1:]
    if not any(x.text == "=" for x in head) or not (_is_measured(told) or _is_share(told)):
        return lexemes, scope
    equals = _sign("rel", "=", told[0])
    comma = next((k for k, x in enumerate(head) if x.kind == "comma" or x.text in ("with", "where", "for")), 0)
    formula = head[2:comma] if comma and head[1].text == "=" else []
    if formula and not any(x.kind in ("number", "rel") for x in formula):
        return [*head, lexemes[colon], replace(head[0], span=equals.span), equals, *told], scope
    if scope.asked is None:
        return lexemes, scope
    return [*head, lexemes[colon], equals, *told], replace(scope, previous=scope.asked)


def _worth(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`that is 20 % of L`, `for μ = 0.25 that is 20 % of L`: the last side above is; `that is 10.5 %` of a ratio; `that
    is 90 km/h`, also of the value before a comma."""
    at = next((k for k in range(len(lexemes) - 3) if _said(lexemes[k:k + 2]) == ["that", "is"]), None)
    if at is None:
        return lexemes
    share, rest, head = lexemes[at + 2:at + 4], lexemes[at + 4:], lexemes[:at]
    told = _is_of_something(rest, scope) or (not rest and scope.ratio) if _is_share(share) else _is_measured(
        lexemes[at + 2:])
    beside = bool(head) and head[-1].kind == "comma" and any(x.text == "=" for x in head)
    opens = bool(head) and _opens_a_case(head)
    if not told or not (opens or beside or not head):
        return lexemes
    if beside and not opens:
        head = head[:-1]
    elif scope.previous is None or (opens and not names_in(scope.previous)):
        return lexemes  # what is a number is so in no other case
    elif head and head[-1].kind not in _ENDS:
        head = [*head, _sign("comma", ",", lexemes[at])]
    return [*head, _sign("rel", "=", lexemes[at]), *share, *rest]


def _is_measured(some: Sequence[Lexeme]) -> bool:
    """A number with its unit, and nothing else."""
    units = [x for x in some[1:] if x.kind in ("run", "unit")]
    return len(some) > 1 and some[0].kind == "number" and bool(units) and all(map(unit_run, units)) and all(
        x.kind in ("run", "unit", "slash", "caret", "raised", "number", "minus", "times") for x in some[1:])


def _share_beside(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`loss = 21.6 J, 60 % of E1`: the value before the comma is."""
    at = next((k for k, x in enumerate(lexemes) if x.kind == "comma"), None)
    if at is None or not any(x.text == "=" for x in lexemes[:at]):
        return lexemes
    share, rest = lexemes[at + 1:at + 3], lexemes[at + 3:]
    if not _is_share(share) or not _is_of_something(rest, scope) or any(x.kind in (*_ENDS, "rel") for x in rest):
        return lexemes
    return [*lexemes[:at], _sign("rel", "=", lexemes[at]), *share, *rest]


def _greatest(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`largest, 1, for m = M`, `maximum g/2 at x = 0`: what the last side above comes to there."""
    if scope.previous is None or _said(lexemes[:1])[:1] == [] or lexemes[0].text.lower() not in _EXTREMES:
        return lexemes
    at = next((k for k, x in enumerate(lexemes) if x.text.lower() in _CASES), 0)
    value = [x for x in lexemes[1:at] if x.kind != "comma"]
    if not value or len(lexemes[1:at]) - len(value) > 2 or any(
            x.kind in (*_ENDS, "rel", "arrow") or x.text.lower() in JOINING for x in value):
        return lexemes
    if value[0].kind != "number" and lexemes[1].kind != "comma":
        return lexemes  # `smallest T for d = L: …`
    return [lexemes[0], _sign("colon", ":", value[0]), _sign("rel", "=", value[0]), *value, *lexemes[at:]]


def _said(some: Sequence[Lexeme]) -> list[str]:
    return [x.text.lower() for x in some if x.kind == "run"]


def _is_share(some: Sequence[Lexeme]) -> bool:
    return len(some) == 2 and some[0].kind == "number" and some[1].text in _PER


def _is_of_something(rest: Sequence[Lexeme], scope: Scope) -> bool:
    """`of L`, of a name that is known."""
    return len(rest) > 1 and _said(rest[:1]) == ["of"] and rest[1].kind in ("run", "open") and (
        rest[1].kind == "open" or len(rest[1].text) == 1 or scope.knows(canonical(rest[1].text)))


def _opens_a_case(head: Sequence[Lexeme]) -> bool:
    word = head[0].text.lower()
    return (word == "with" or OPENING.get(word) in ("at", "suppose")) and any(x.kind == "rel" for x in head)


def _sign(kind: Literal["colon", "comma", "rel"], text: str, at: Lexeme) -> Lexeme:
    """A sign that nobody typed, before a lexeme."""
    return Lexeme(kind, text, Span(at.span.start, at.span.start), True)
