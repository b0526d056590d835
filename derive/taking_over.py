"""When a later reading of a line may take the place of the first, which does not hold."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from derive.notation.tree import Differential, Name, Span, Unit, Value, names_in, walk
from derive.readings import ELECTRIC
from derive.records import Reading, Standing, Verdict

# What a reading may be taken for whatever it says.
_SAY_NOTHING = (
    "taken.start", "taken.shorthand", "taken.value", "taken.put_in", "taken.law", "taken.initial")


_NOT_HOLDING = (Standing.FAILS, Standing.UNDECIDED, Standing.UNREADABLE)


def takes_over(
    reading: Reading, first: Reading, verdicts: Sequence[Verdict], constants: Collection[str] = (),
    known: Collection[str] = (),
) -> bool:
    """May a reading take the place of the first one, which does not hold? Only where it says something that holds:
    letters of a unit or a differential read as names could stand for anything, and prove nothing by it, and a
    constant taken somewhere is the same whatever stands in the bracket. A line that is only taken does not turn the
    units of `v = 29.7 m/s · 3.6` into names that nobody has met, nor does what is only supposed."""
    if any(n not in _called(first) for n in _called(reading) if n in constants):
        return False
    measured = _units(reading) & _names(first)
    if measured & ELECTRIC or (measured and all(v.code == "taken.case" for v in verdicts)):
        return False
    if any(v.standing in _NOT_HOLDING for v in verdicts):
        return False
    says_nothing = any(v.code in _SAY_NOTHING for v in verdicts)
    unmet = (_units(first) & _names(reading)) - _names(first) - {*known}
    supposed = {n for s in reading.statements if s.where is not None for n in names_in(s.where)}
    if unmet and (says_nothing or unmet & supposed):
        return False
    if not says_nothing and (_letters(reading) == _letters(first) or not any(v.introduces for v in verdicts)):
        return True
    further = [c for c in reading.choices if c not in first.choices]
    return (bool(further) or not says_nothing) and all(any(_confirms(v, c.span) for v in verdicts) for c in further)


def _confirms(verdict: Verdict, place: Span | None) -> bool:
    """Does the verdict hold a claim to be right in which the place stands (`t = 20/2 = 10s`)?"""
    if verdict.standing not in (Standing.FOLLOWS, Standing.APPROXIMATES) or verdict.span is None or place is None:
        return False
    return verdict.span.start <= place.start and place.end <= verdict.span.end


def _called(reading: Reading) -> set[str]:
    """The names that are taken somewhere: y in `y(0)`."""
    nodes = [n for s in reading.statements for n in walk(s) if isinstance(n, Value)]
    return {n.function.ident for n in nodes if isinstance(n.function, Name)}


def _units(reading: Reading) -> set[str]:
    return {n.ident for s in reading.statements for n in walk(s) if isinstance(n, Unit)}


def _names(reading: Reading) -> set[str]:
    return {n.ident for s in reading.statements for n in walk(s) if isinstance(n, Name)}


def _letters(reading: Reading) -> set[tuple[str, str]]:
    """What the letters of a reading are read as: names, units and differentials."""
    nodes = [n for s in reading.statements for n in walk(s)]
    return {(type(n).__name__, getattr(n, "ident", "")) for n in nodes if isinstance(n, Name | Unit | Differential)}
