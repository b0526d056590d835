"""Lines made to hurt: each is read, or refused with a plain sentence, at once and in little memory."""

from __future__ import annotations

import pytest

from derive.notation.reader import read_claim, read_expression, read_line
from derive.notation.tree import Span
from derive.records import Unreadable
from tests.effort import effort
from tests.notation.trees import QUICK, dump, line, read, refused

# An ordinary line takes about ten thousand calls.
SLOW = 1_000_000

# What the line is, the line, and a piece of what is said of it.
REFUSED = (
    ("a line of five million characters", "x = " + "a + " * 1_250_000 + "a", "at most 20000 characters"),
    ("ten thousand brackets", "x = " + "(" * 9_000 + "a" + ")" * 9_000, "too many signs"),
    ("a hundred and one brackets", "x = " + "(" * 101 + "a" + ")" * 101, "at most 100 brackets"),
    ("more signs than a person types", "x = " + "a+" * 3_000 + "a", "too many signs"),
    ("five thousand roots", "x = " + "√" * 1_500 + "a", "inside each other"),
    ("a tower of powers", "x = " + "a^" * 900 + "a", "inside each other"),
    ("divided a thousand times", "x = " + "a/" * 900 + "a", "inside each other"),
    ("sines of sines", "x = " + "sin " * 900 + "a", "inside each other"),
    ("a number of a thousand figures", "x = " + "7" * 1_000, "fewer figures"),
    ("a power of ten beyond all use", "x = 1e999999999999", "no larger than 400"),
    ("a factorial of a factorial", "x = (9!)!", "a sign that is known"),
)


@pytest.mark.parametrize(("typed", "said"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED])
def test_a_line_that_is_too_much_is_refused_at_once(typed: str, said: str) -> None:
    read("x = a/b")  # what the first line of all has to load is not the work of this one
    found: list[Unreadable] = []

    assert effort(lambda: found.append(refused(typed))) < SLOW
    assert said in found[0].expected


def test_a_tower_of_numbers_is_only_a_tree() -> None:
    assert dump(read("x = 9^9^9^9")[0]) == "x = (^ 9 (^ 9 (^ 9 9)))"


def test_brackets_a_hundred_deep_are_read() -> None:
    assert dump(read("x = " + "(" * 100 + "a" + ")" * 100)[0]) == "x = a"


def test_sums_within_brackets_forty_deep_are_read() -> None:
    typed = "x = " + "(1 + " * 40 + "a" + ")" * 40

    assert dump(read(typed)[0]).count("(+ 1") == 40


@pytest.mark.parametrize(
    "typed", ["__import__ = 2", "x = __import__('os')", "x = exec(y)", "x = lambda: 0", "x = [].__class__"])
def test_nothing_typed_is_ever_run(typed: str) -> None:
    read_line(line(typed), QUICK)  # read or refused; a side effect would be the only failure


@pytest.mark.parametrize("run", ["d" * 200, "sin" * 60, "ab" * 100, "x_" * 100, "θ̇" * 100, "'" * 500 + "x"])
def test_a_long_run_of_letters_is_read_with_bounded_effort(run: str) -> None:
    assert effort(lambda: read_line(line(f"x = {run}"), QUICK)) < SLOW


def test_a_run_longer_than_any_word_or_product_is_refused() -> None:
    assert "fewer letters" in refused("x = " + "ab" * 900).expected


def test_claims_and_expressions_are_bounded_alike() -> None:
    long = "a + " * 6_000 + "a"

    for found in (read_claim(f"x = {long}", QUICK), read_expression(long, QUICK)):
        assert getattr(found, "expected", "") == "a line of at most 20000 characters"
        assert getattr(found, "span", Span(0, 0)).start == 20_000
