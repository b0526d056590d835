"""The engine over the shipped exercises: their solutions and right workings hold, each slip is found where it is."""

from __future__ import annotations

import pytest

from derive.check import check_document
from derive.records import Check, Standing
from tests.sampling import some

from .table import Expected, exercise_document, expected, working_document

# Every second working of each kind by default; THENCE_ALL=1 takes them all. The solutions are always taken.
RIGHT = some([pytest.param(row, id=f"{row.exercise}/{row.working}") for row in expected() if not row.broken_at], 2)
BROKEN = some([pytest.param(row, id=f"{row.exercise}/{row.working}") for row in expected() if row.broken_at], 2)
NAMES = sorted({row.exercise for row in expected()})


def said(check: Check) -> str:
    """The working and its goal with what was said of each line, for a failing test."""
    return "\n".join(
        f"{row.line.number:>3} {row.line.text.strip():<70} "
        f"{row.unreadable or [(v.standing.value, v.code) for v in row.verdicts]}"
        for row in (*check.givens, *check.lines, *check.goal)
    )


def reaches_its_goal(check: Check) -> bool:
    return all(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for row in check.goal for v in row.verdicts)


@pytest.mark.parametrize("name", NAMES)
def test_the_solution_of_an_exercise_holds_and_reaches_its_goal(name: str) -> None:
    check = check_document(exercise_document(name))

    assert not check.problems
    assert check.outcome == "unbroken", said(check)
    assert check.goal
    assert reaches_its_goal(check), said(check)


@pytest.mark.parametrize("row", RIGHT)
def test_a_right_working_is_unbroken_and_reaches_its_goal(row: Expected) -> None:
    check = check_document(working_document(row))

    assert not check.problems
    assert check.outcome == "unbroken", said(check)
    assert reaches_its_goal(check), said(check)


@pytest.mark.parametrize("row", BROKEN)
def test_a_slip_is_found_at_its_line_and_what_rests_on_it_is_no_break_of_its_own(row: Expected) -> None:
    check = check_document(working_document(row))

    broken = [x.line.number for x in check.lines if any(v.standing is Standing.FAILS for v in x.verdicts)]
    assert broken == [row.broken_at], said(check)
