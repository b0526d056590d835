"""Laws over whole workings: what keeps a right line right leaves the working unbroken, what makes it wrong is found.

The workings are the shipped right ones. Which line is rewritten, and how, is drawn by hypothesis.
"""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from derive.check import check_document
from derive.records import Check, Document, LineVerdict, Standing
from tests.exercises.table import Expected, expected, working_document
from tests.sampling import WHOLE, some

from .rewriting import RIGHT, WRONG, changeable, renamed, rewritten, said_twice

RIGHT_ONES = [row for row in expected() if not row.broken_at]
often = settings(
    max_examples=40 if WHOLE else 10, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])


@cache
def checked(row: Expected) -> tuple[Document, Check]:
    document = working_document(row)
    return document, check_document(document, proofs=False)


@st.composite
def lines(draw: st.DrawFn) -> tuple[Document, LineVerdict]:
    """A right working and one of its lines that can be rewritten by itself."""
    document, check = checked(draw(st.sampled_from(RIGHT_ONES)))
    choices = changeable(check)
    assume(choices)
    return document, draw(st.sampled_from(choices))


def said(check: Check) -> str:
    return "\n".join(f"{row.line.text}   {[v.standing.value for v in row.verdicts]}" for row in check.lines)


@often
@given(lines(), st.sampled_from(RIGHT))
def test_a_right_line_rewritten_without_changing_what_it_says_breaks_nothing(where, change) -> None:
    document, row = where

    after = check_document(rewritten(document, row, change), proofs=False)

    assert not after.first_break, said(after)
    assert all(v.standing is Standing.FOLLOWS for line in after.lines if line.line.number == row.line.number
               for v in line.verdicts), said(after)


@often
@given(lines(), st.sampled_from(WRONG))
def test_a_slip_put_into_a_right_line_is_found_at_that_line(where, change) -> None:
    document, row = where

    after = check_document(rewritten(document, row, change), proofs=False)

    assert after.first_break == row.line.number, said(after)


@often
@given(lines())
def test_a_line_said_twice_breaks_nothing(where) -> None:
    document, row = where

    after = check_document(said_twice(document, row), proofs=False)

    assert after.outcome == "unbroken", said(after)


# Every sixth of them by default; THENCE_ALL=1 takes them all.
@pytest.mark.parametrize("row", some(RIGHT_ONES, 6), ids=lambda row: f"{row.exercise}/{row.working}")
def test_a_working_under_other_names_is_the_same_working(row: Expected) -> None:
    document, check = checked(row)
    other = renamed(document, check)
    if other is None:
        pytest.skip("a case opened in the middle of a line is not typed anew")

    after = check_document(other, proofs=False)

    before = [[v.standing for v in line.verdicts] for line in check.lines]
    assert [[v.standing for v in line.verdicts] for line in after.lines] == before, said(after)
