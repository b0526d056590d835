"""A unit behind the last of several components, which is that of all: `F = 3i + 4j N`, `v = 2i - j m/s`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from derive.notation.grouping.amounts import unit_run
from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.names import Scope, canonical
from derive.notation.tree import Span

_HAT = "\u0302"
_OF_UNITS = ("run", "unit", "slash", "caret", "raised", "number", "minus", "times", "dot")


def with_vector_units(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with such a unit in a bracket, as in `-4 î + 3 ĵ (m/s)`."""
    out: list[Lexeme] = []
    at = 0
    while at < len(lexemes):
        side = list(takewhile(lambda x: x.kind != "rel" and x.kind not in ENDS_CLAUSE, lexemes[at:]))
        out += _with_bracket(side, scope)
        at += len(side)
        out += lexemes[at:at + 1]
        at += 1
    return out


def _with_bracket(side: list[Lexeme], scope: Scope) -> list[Lexeme]:
    last = max((k for k, x in enumerate(side) if _HAT in x.text), default=-1)
    if last < 0 or not any(x.kind == "number" for x in side[:last]):
        return side
    start = last + 1 + (side[last + 1:last + 2] != [] and side[last + 1].kind == "close")
    unit = side[start:]
    if not _is_unit(unit, scope):
        return side
    first, end = unit[0].span.start, unit[-1].span.end
    opening = Lexeme("open", "(", Span(first, first), True)
    return [*side[:start], opening, replace(unit[0], spaced=False), *unit[1:], Lexeme("close", ")", Span(end, end))]


def _is_unit(some: Sequence[Lexeme], scope: Scope) -> bool:
    runs = [x for x in some if x.kind in ("run", "unit")]
    known = any(scope.knows(canonical(x.text)) for x in runs)  # a mass m behind a direction
    return bool(runs) and not known and some[0] is runs[0] and all(map(unit_run, runs)) and all(
        x.kind in _OF_UNITS for x in some)


_LATIN = ("i", "j", "k")


def is_along_a_direction(lexemes: Sequence[Lexeme], known: bool) -> bool:
    """`a = -9.8 j m/s²`: so much along one, with its unit. `5 k N`, where no vector is known, may be kilonewtons."""
    return any(
        number.kind == "number" and hat.text in _LATIN and hat.spaced and (known or hat.text != "k") and (
            unit.kind == "run" and unit.spaced and unit.text not in _LATIN and unit_run(unit) is not None)
        for number, hat, unit in zip(lexemes, lexemes[1:], lexemes[2:], strict=False))
