"""The engine over the step corpus: no false alarm, every break at its line, few lines left undecided."""

from __future__ import annotations

from functools import cache

import pytest

from derive.check import check_text
from derive.records import Check, Standing

from .corpus import Case, all_cases, named, rows

OPEN = (Standing.UNDECIDED, Standing.UNREADABLE)


@cache
def _checked(text: str) -> Check:
    return check_text(text)


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


RIGHT, BROKEN = named(slipped=False), named(slipped=True)


@pytest.mark.parametrize("case", RIGHT)
def test_a_right_working_is_unbroken(case: Case) -> None:
    check = _checked(case.text)

    assert check.first_break == 0, complaint(case, check)
    assert not check.problems, check.problems


@pytest.mark.parametrize("case", BROKEN)
def test_a_slipped_working_breaks_at_the_line_of_the_slip(case: Case) -> None:
    check = _checked(case.text)

    assert check.first_break == case.broken_at, complaint(case, check)


@pytest.mark.parametrize("case", BROKEN)
def test_one_slip_does_not_break_the_lines_after_it(case: Case) -> None:
    check = _checked(case.text)

    later = [said for number, said in standings(check).items() if number > (case.broken_at or 0)]
    assert all(Standing.FAILS not in said for said in later), complaint(case, check)


CONDITIONAL = [
    pytest.param(case, id=f"{row}: {case.name}")
    for row, case in all_cases() if case.broken_at is None and any(line.lost for _, line in case.lines)
]


@pytest.mark.parametrize("case", CONDITIONAL)
def test_a_line_that_loses_a_case_follows_only_if(case: Case) -> None:
    check = _checked(case.text)

    said = standings(check)
    first = min(number for number, line in case.lines if line.lost)
    for number, line in case.lines:
        if line.lost or number < first:
            conditional = Standing.FOLLOWS_IF in said.get(number, [])
            assert conditional == bool(line.lost), complaint(case, check)


@pytest.mark.parametrize("row", rows(), ids=lambda row: str(row.ROW))
def test_the_typed_example_of_a_row_is_unbroken(row: object) -> None:
    check = check_text(row.EXAMPLE)  # type: ignore[attr-defined]

    assert check.outcome == "unbroken", [row.verdicts for row in check.lines]


def test_under_two_lines_in_a_hundred_are_left_undecided() -> None:
    print(f"\n{'row':<28}{'workings':>9}{'right':>7}{'at line':>9}{'lines':>7}{'open':>6}")
    total = unsettled = 0
    for row in rows():
        checks = [(case, _checked(case.text)) for case in row.CASES]
        said = [words for _, check in checks for words in standings(check).values()]
        undecided = sum(any(s in OPEN for s in words) for words in said)
        good = sum(check.first_break == 0 for case, check in checks if case.broken_at is None)
        found = sum(check.first_break == case.broken_at for case, check in checks if case.broken_at is not None)
        print(f"{row.ROW:<28}{len(checks):>9}{good:>7}{found:>9}{len(said):>7}{undecided:>6}")
        total, unsettled = total + len(said), unsettled + undecided

    assert unsettled < 0.02 * total
