"""A row of figures, or of figures and the time, behind which a unit may stand though no number does: `12 cos(30°) N`,
`200 e^(0.3·4π) N`, `(3 t² - 6 t) m/s`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass

from derive.notation.grammar import raw
from derive.notation.lexemes.letters import FUNCTIONS
from derive.notation.names import TIME, Scope
from derive.notation.tree import Num, Span

# What stands in a product of figures alone beside them: functions, e and π.
_OF_FIGURES = frozenset((*FUNCTIONS, "e", "π", "pi", "°", "deg"))


def reckoned(parts: Sequence[raw.RawFactor | raw.RawJoined], scope: Scope) -> bool:
    """Is there nothing but figures and the time in a row, at the end of which a function is taken of them, or e raised
    to them, or a bracket holds the time?"""
    last, before = _factor(parts[-1]), _factor(parts[-2]) if len(parts) > 1 else None
    taken = isinstance(last, raw.RawGroup) and isinstance(before, raw.RawLetters) and before.run.text in FUNCTIONS
    raised = isinstance(last, raw.RawPower) and isinstance(last.base, raw.RawLetters)
    timely = isinstance(last, raw.RawGroup) and TIME in _letters_in(last)
    return (taken or raised or timely) and _in_figures(parts, scope)


def of_the_time(parts: Sequence[raw.RawFactor | raw.RawJoined], scope: Scope) -> bool:
    """`cos(3 t)`, `e^(-2 t)`: is it a function of the time, in figures?"""
    first = _factor(parts[0])
    first = first.base if isinstance(first, raw.RawPower) else first
    function = isinstance(first, raw.RawLetters) and first.run.text in _OF_FIGURES
    return function and TIME in _letters_in(tuple(parts)) and _in_figures(parts, scope)


def _in_figures(parts: Sequence[raw.RawFactor | raw.RawJoined], scope: Scope) -> bool:
    return all(
        text == TIME or (text in _OF_FIGURES and not scope.knows(text)) for text in _letters_in(tuple(parts)))


def _factor(part: raw.RawFactor | raw.RawJoined) -> raw.RawFactor:
    return part.factor if isinstance(part, raw.RawJoined) else part


def _letters_in(node: object) -> Iterator[str]:
    """The runs of letters in a part of a row."""
    pending = [node]
    while pending:
        here = pending.pop()
        if isinstance(here, raw.RawLetters):
            yield here.run.text
        elif isinstance(here, tuple):
            pending += here
        elif is_dataclass(here) and not isinstance(here, Span | Num):
            pending += (getattr(here, item.name) for item in fields(here))
