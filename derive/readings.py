"""In which order the readings of a line are tried, and when a later one may take the place of an earlier.

Dimensions settle whether letters after a number are a unit, as far as dimensions are known. Where nothing was
declared, the size of the number and the letters' earlier use do. Truth is not looked at here.
"""

from __future__ import annotations

from collections.abc import Sequence

from derive.notation.names import Scope
from derive.notation.tree import Differential, Name, Num, Span, Statement, Unit, walk
from derive.quantities.dimensions import Dimensions
from derive.records import Choice, Reading, Standing, Verdict

# A coefficient before a name is a small whole number (`M = 2 m`); a quantity's number is mostly larger or a decimal.
_LARGEST_COEFFICIENT = 9
# Letters that in mechanics are far more often names than these units, whatever stands before them.
_ELECTRIC = frozenset(("V", "A", "C", "F", "H", "S", "T", "K", "Ω"))


def likeliest_first(readings: Sequence[Reading], dimensions: Dimensions, scope: Scope) -> list[Reading]:
    """Readings in which every statement can be homogeneous first, then those whose units are likely as units and
    whose names as names; otherwise in the reader's order."""
    if len(readings) == 1:
        return list(readings)
    return sorted(readings, key=lambda r: (_misfits(r, dimensions), _unlikely(r, scope)))


def _misfits(reading: Reading, dimensions: Dimensions) -> int:
    return sum(s.claim is not None and dimensions.examine_strictly(s.claim) is not None for s in reading.statements)


def _unlikely(reading: Reading, scope: Scope) -> int:
    """How many places are read against the likelier way."""
    return sum(c.kind == "unit" and _read_unlikely(c, reading.statements, scope) for c in reading.choices)


def _read_unlikely(choice: Choice, statements: Sequence[Statement], scope: Scope) -> bool:
    inside = [n for s in statements for n in walk(s) if _within(n, choice.span)]
    numbers = [n for n in inside if isinstance(n, Num)]
    names = {n.ident for n in inside if isinstance(n, Name)}
    coefficient = bool(numbers) and _could_be_coefficient(numbers[0])
    if names:
        new = {n for n in names if not scope.knows(n) or not scope.quick}
        return bool(new) and not coefficient and not new & _ELECTRIC
    letters = {n.ident for n in inside if isinstance(n, Unit)}
    return coefficient and len(letters) == 1 and scope.quick and all(scope.knows(u) for u in letters)


def _could_be_coefficient(number: Num) -> bool:
    return number.last_digit is None and abs(number.value) <= _LARGEST_COEFFICIENT


def _within(node: object, span: Span | None) -> bool:
    own = getattr(node, "span", None)
    return span is not None and own is not None and span.start <= own.start and own.end <= span.end


def takes_over(reading: Reading, first: Reading, verdicts: Sequence[Verdict]) -> bool:
    """May a reading take the place of the first one, which does not hold? Only where it says something that holds:
    letters of a unit or a differential read as names could stand for anything, and prove nothing by it."""
    if any(v.standing in (Standing.FAILS, Standing.UNDECIDED, Standing.UNREADABLE) for v in verdicts):
        return False
    if any(v.code in ("taken.start", "taken.shorthand") for v in verdicts):
        return False
    return _letters(reading) == _letters(first) or not any(v.introduces for v in verdicts)


def _letters(reading: Reading) -> set[tuple[str, str]]:
    """What the letters of a reading are read as: names, units and differentials."""
    nodes = [n for s in reading.statements for n in walk(s)]
    return {(type(n).__name__, getattr(n, "ident", "")) for n in nodes if isinstance(n, Name | Unit | Differential)}
