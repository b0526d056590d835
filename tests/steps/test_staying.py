"""Courses of rates, and of names whose equation of motion is written for another name, in workings with givens."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.records import Standing
from tests.workings import word

MOTION = """Symbols:
  x(t) : m
  v(t) : m/s
  u : m/s, positive
  b : 1/s, positive
Given:
  (a) x'' = -b x'
  (b) v = x'
  (c) x'(0) = u
Working:
"""


@pytest.mark.parametrize("line", ["x' = u e^(-b t)", "v = u e^(-b t)", "x'' = -b u e^(-b t)"])
def test_a_course_that_starts_right_and_keeps_to_itself_follows(line: str) -> None:
    (found,) = check_text(MOTION + line + "\n").lines

    assert word(found) == "follows"


@pytest.mark.parametrize(("line", "code"), [
    ("x' = u e^(b t)", "fails.derivative"),
    ("x' = 2 u e^(-b t)", "fails.start"),
    ("x' = u (1 - b t)", "fails.derivative"),
])
def test_one_that_does_not_is_refuted_by_its_start_or_by_its_rate(line: str, code: str) -> None:
    (found,) = check_text(MOTION + line + "\n").lines
    (verdict,) = found.verdicts

    assert (verdict.standing, verdict.code) == (Standing.FAILS, code)
    assert verdict.state is not None
