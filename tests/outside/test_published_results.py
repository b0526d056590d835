"""Published results hold when they are typed as workings, and break where one line is made wrong."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.records import Check, Standing

from .published import RESULTS, Result, brochure

ALL = [pytest.param(result, id=result.name) for result in (*RESULTS, *brochure())]
DECIDED = {Standing.FOLLOWS, Standing.APPROXIMATES, Standing.TAKEN}


def said(check: Check) -> str:
    """What was said of each line, for a failing test."""
    return "\n".join(
        f"{row.line.text}: {row.unreadable or [(v.standing.value, v.code) for v in row.verdicts]}"
        for row in check.lines
    )


@pytest.mark.parametrize("result", ALL)
def test_a_published_result_follows_from_its_data(result: Result) -> None:
    check = check_text(result.text()[0])

    assert check.outcome == "unbroken", said(check)
    assert {v.standing for row in check.lines for v in row.verdicts} <= DECIDED, said(check)


@pytest.mark.parametrize("result", ALL)
def test_a_published_result_made_wrong_breaks_at_that_line(result: Result) -> None:
    text, wrong = result.text(slipped=True)

    check = check_text(text)

    assert (check.outcome, check.first_break) == ("broken", wrong), said(check)


def test_every_result_names_its_source() -> None:
    assert len(RESULTS) >= 15
    assert all(result.source for result in (*RESULTS, *brochure()))
