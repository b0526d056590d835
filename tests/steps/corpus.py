"""What a case of the step corpus is, and how right workings and their slips become cases.

A row of the corpus is a module `row_<name>.py` holding `ROW` (its title), `EXAMPLE` (a short typed
working for the documentation) and `CASES`. Nothing here, nor in the rows, calls the reader or the
engine: what a line says is written a second time as plain Python (`Truth`), so that the labels can be
shown right without trusting what they are going to test.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

import mpmath
import pytest


class World(dict[str, Any]):
    """The values of one situation that satisfies the givens: `w.m` a number, `w.y` perhaps a function of t."""

    def __getattr__(self, name: str) -> Any:
        return self[name]


Sides = tuple[Any, Any]
# What a line claims in a world: both sides (numbers), several such pairs (a chain, several instants),
# or whether it holds (inequalities, orders of approximation, alternatives).
Truth = Callable[[World], "Sides | list[Sides] | bool"]
Worlds = Callable[[Random], World]


@dataclass(frozen=True)
class Line:
    """One typed line of a working.

    label:  as typed, `(4)` or `4.`, or '' for none.
    truth:  None where the line only introduces something (a `let`, a `try`, words).
    lost:   makes a world that satisfies the givens but not this line: the line then holds only under a
            condition, and "follows if" is the verdict to expect.
    """

    label: str
    typed: str
    truth: Truth | None = None
    lost: Worlds | None = None


@dataclass(frozen=True)
class Slip:
    """A right working with one line replaced.

    at:     the label of the line as typed, or its place in the working (from 1).
    then:   the later lines (by label or place) as a writer who did not notice would carry on; they follow
            from the slip, so they are no breaks of their own.
    ends:   the working stops at the slip, where the right lines after it would speak of what is not there.
    """

    at: str | int
    typed: str
    truth: Truth
    then: Mapping[str | int, str] = field(default_factory=dict)
    name: str = ""
    ends: bool = False


@dataclass(frozen=True)
class Case:
    """A working as text and what is to be said of it.

    broken_at:  number, in the text, of the line that does not follow; None for a right working.
    lines:      the working's lines, with their numbers in the text.
    premises:   what the givens say, so that it can be shown that the worlds satisfy them.
    """

    name: str
    text: str
    broken_at: int | None
    worlds: Worlds
    lines: tuple[tuple[int, Line], ...]
    premises: Truth | None = None


def cases(
    name: str,
    lines: Sequence[Line | tuple[Any, ...]],
    worlds: Worlds,
    *,
    symbols: str = "",
    given: str = "",
    show: str = "",
    premises: Truth | None = None,
    slips: Iterable[Slip] = (),
) -> list[Case]:
    """The right working and one case for each slip. Without symbols and givens it is a quick working."""
    right = [line if isinstance(line, Line) else Line(*line) for line in lines]
    made = [_case(name, right, None, worlds, (symbols, given, show))]
    for count, slip in enumerate(slips, 1):
        at = _place(right, slip.at)
        changed = list(right)
        changed[at] = Line(right[at].label, slip.typed, slip.truth)
        for key, typed in slip.then.items():
            later = _place(right, key)
            assert later > at, f"{name}: {key} does not come after {slip.at}"
            changed[later] = Line(right[later].label, typed)
        if slip.ends:
            del changed[at + 1:]
        title = f"{name}, slip {count} at {slip.at}" + (f" ({slip.name})" if slip.name else "")
        made.append(_case(title, changed, at, worlds, (symbols, given, show)))
    return [replace(case, premises=premises) for case in made]


def _place(lines: Sequence[Line], key: str | int) -> int:
    if isinstance(key, int):
        return key - 1
    found = [i for i, line in enumerate(lines) if line.label == key]
    assert len(found) == 1, f"label {key} is there {len(found)} times"
    return found[0]


def _case(
    name: str, lines: Sequence[Line], wrong: int | None, worlds: Worlds, head: tuple[str, str, str]
) -> Case:
    rows: list[str] = []
    for title, body in zip(("Symbols:", "Given:", "Show:"), head, strict=True):
        if body:
            rows += [title, *(f"  {row.strip()}" for row in body.strip().splitlines()), ""]
    indent = ""
    if rows:
        rows.append("Working:")
        indent = "  "
    first = len(rows) + 1
    rows += [indent + (f"{line.label}  {line.typed}" if line.label else line.typed) for line in lines]
    numbered = tuple((first + i, line) for i, line in enumerate(lines))
    return Case(name, "\n".join(rows) + "\n", None if wrong is None else first + wrong, worlds, numbered)


INSTANTS = (0.17, 0.6, 1.3)


def along(sides: Callable[[World, Any], Any], instants: Sequence[float] = INSTANTS) -> Truth:
    """The truth of a relation at all instants: both sides (or whether it holds) compared at a few of them."""

    def truth(world: World) -> list[Sides] | bool:
        said = [sides(world, mpmath.mpf(t)) for t in instants]
        if isinstance(said[0], bool):
            return all(said)
        return [pair for one in said for pair in (one if isinstance(one, list) else [one])]

    return truth


def slope(f: Callable[[Any], Any], x: Any, order: int = 1) -> Any:
    """The derivative by differences, at a precision where they cost no figures that matter."""
    return mpmath.diff(f, x, order)


def area(f: Callable[[Any], Any], lower: Any, upper: Any) -> Any:
    """The definite integral by quadrature."""
    return mpmath.quad(f, [lower, upper])


def beyond(order: int, error: Callable[[Any], Any]) -> bool:
    """Whether `error(ε)` vanishes faster than ε**order as ε goes to 0: what "right to that order" means."""
    with mpmath.workdps(60):
        coarse, fine = (abs(error(mpmath.mpf(e))) for e in ("1e-5", "1e-6"))
        return bool(fine <= coarse * mpmath.mpf(10) ** (-order - 0.5))


def rows() -> list[Any]:
    """The row modules, in order of name."""
    package = importlib.import_module(__package__ or "steps")
    names = sorted(m.name for m in pkgutil.iter_modules(package.__path__) if m.name.startswith("row_"))
    return [importlib.import_module(f"{package.__name__}.{name}") for name in names]


def all_cases() -> list[tuple[str, Case]]:
    """Every case with the title of its row."""
    return [(row.ROW, case) for row in rows() for case in row.CASES]


def named(slipped: bool) -> list[object]:
    """The right workings, or those with a slip, each under its row and name."""
    return [
        pytest.param(case, id=f"{row}: {case.name}")
        for row, case in all_cases() if (case.broken_at is not None) == slipped
    ]
