"""The engine over the step corpus: no false alarm, every break at its line, few lines left undecided."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.records import Check, Standing
from tests.sampling import some

from .corpus import Case, named, rows

OPEN = (Standing.UNDECIDED, Standing.UNREADABLE)


def standings(check: Check) -> dict[int, list[Standing]]:
    """What was said of each line, by its number in the text."""
    return {
        row.line.number: [Standing.UNREADABLE] if row.unreadable else [v.standing for v in row.verdicts]
        for row in check.lines
    }


def complaint(case: Case, check: Check) -> str:
    """The working as typed with what was said of each line, for a failing test."""
    said = standings(check)
    return "\n".join(
        f"{row:<70} {', '.join(s.value for s in said.get(number, []))}"
        for number, row in enumerate(case.text.splitlines(), 1)
    )


def left_open(check: Check) -> list[int]:
    """The lines that were not decided. None of the corpus is: under two in a hundred is what was asked."""
    return [number for number, said in standings(check).items() if any(s in OPEN for s in said)]


# The labels of all of them are shown by numbers in `test_labels`.
RIGHT, BROKEN = named(slipped=False), some(named(slipped=True), 4)


@pytest.mark.parametrize("case", RIGHT)
def test_a_right_working_is_unbroken_and_decided_and_follows_only_if_where_it_loses_a_case(case: Case) -> None:
    check = check_text(case.text)

    assert check.first_break == 0, complaint(case, check)
    assert not check.problems, check.problems
    assert not left_open(check), complaint(case, check)
    said = standings(check)
    first = min((number for number, line in case.lines if line.lost), default=0)
    for number, line in case.lines:
        if first and (line.lost or number < first):
            conditional = Standing.FOLLOWS_IF in said.get(number, [])
            assert conditional == bool(line.lost), complaint(case, check)


@pytest.mark.parametrize("case", BROKEN)
def test_a_slipped_working_breaks_at_the_line_of_the_slip_and_at_no_other(case: Case) -> None:
    check = check_text(case.text)

    assert check.first_break == case.broken_at, complaint(case, check)
    later = [said for number, said in standings(check).items() if number > (case.broken_at or 0)]
    assert all(Standing.FAILS not in said for said in later), complaint(case, check)
    assert not left_open(check), complaint(case, check)


@pytest.mark.parametrize("row", rows(), ids=lambda row: str(row.ROW))
def test_the_typed_example_of_a_row_is_unbroken(row: object) -> None:
    check = check_text(row.EXAMPLE)  # type: ignore[attr-defined]

    assert check.outcome == "unbroken", [row.verdicts for row in check.lines]
