"""Workings over a differential equation: trial, roots, general solution, start, and the motion at last."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS, TAKEN = "follows", "does not follow", "taken"

OVERDAMPED = (
    "x'' + 5 x' + 6 x = 0", "try x = e^(s t)", "s² + 5 s + 6 = 0", "s = -2 or s = -3", "x = A e^(-2 t) + B e^(-3 t)")
CRITICAL = ("x'' + 4 x' + 4 x = 0", "x = (A + B t) e^(-2 t)")


def test_how_a_motion_starts_is_taken_once_its_course_is_known_but_for_constants() -> None:
    start = ("x(0) = 1, x'(0) = 0", "A + B = 1, -2 A - 3 B = 0", "A = 3, B = -2")
    assert said("", *OVERDAMPED, *start, "x = 3 e^(-2 t) - 2 e^(-3 t)")[5:] == [TAKEN, FOLLOWS, FOLLOWS, FOLLOWS]
    assert said("", *CRITICAL, "x(0) = 0 so A = 0", "x'(0) = 3 so B = 3", "x = 3 t e^(-2 t)")[2:] == [
        TAKEN, TAKEN, FOLLOWS]


@pytest.mark.parametrize("wrong", ["A + B = 1, 2 A - 3 B = 0", "A = 2, B = -1", "x = 3 e^(-2 t) + 2 e^(-3 t)"])
def test_what_does_not_come_of_the_start_is_found(wrong: str) -> None:
    assert said("", *OVERDAMPED, "x(0) = 1, x'(0) = 0", wrong)[-1] == FAILS


def test_a_start_that_has_been_told_is_not_told_otherwise() -> None:
    assert said("", *OVERDAMPED, "x(0) = 1, x'(0) = 0", "x(0) = 2")[-1] == FAILS
    assert said("", *CRITICAL, "x(0) = 0 so A = 1")[-1] == FAILS


@pytest.mark.parametrize("course", ["x = A e^(2 t) + B e^(3 t)", "x = A e^(-2 t) + B e^(3 t)"])
def test_a_course_with_a_wrong_rate_is_no_solution(course: str) -> None:
    assert said("", OVERDAMPED[0], course) == [TAKEN, FAILS]
    assert said("", *OVERDAMPED[:4], course)[-1] == FAILS


def test_where_givens_say_how_a_motion_starts_nothing_else_may() -> None:
    head = "Symbols:\n  x(t) : 1\nGiven:\n  x'' + 5 x' + 6 x = 0"
    assert said(head, OVERDAMPED[4], "x(0) = 1")[-1] == TAKEN
    assert said(head + "\n  x(0) = 2, x'(0) = 0", OVERDAMPED[4], "x(0) = 1")[-1] == FAILS
    assert said(head + "\n  x(0) = 2, x'(0) = 0", OVERDAMPED[4], "x(0) = 2")[-1] == FOLLOWS


def test_the_period_of_a_distance_is_that_of_its_own_equation() -> None:
    lines = ("m x'' = k (y - x)", "M y'' = -k (y - x)", "let r = y - x", "r'' = -k (m + M)/(m M) r")
    assert said("", *lines, "T = 2π √(m M/(k (m + M)))")[-1] == FOLLOWS
    assert said("", *lines, "T = 2π √(m M/(k (m - M)))")[-1] == FAILS


def test_constants_that_fit_the_motion_are_not_refused_because_it_starts_as_it_does() -> None:
    head = "Symbols:\n  x(t) : m\n  γ : 1/s, positive\n  x_0 : m, positive\nGiven:\n  x'' + 2 γ x' + γ² x = 0\n"
    starts = "  x(0) = x_0, x'(0) = 0"
    assert said(head + starts, "x' = B e^(-γ t) - γ (A + B t) e^(-γ t)")[-1] != FAILS


def test_an_integral_along_a_place_is_counted_from_where_it_starts() -> None:
    assert said("", "v dv/dx = a", "½ v² = a x", "v = √(2 a x)")[1] == "follows if"
    assert said("", "v dv/dx = a", "½ v² = 2 a x")[1] == FAILS


COASTING = ("m dv/dt = -b v", "v = v0 e^(-b t/m)")
PATH = "-(m v0/b) e^(-b t/m) + D"


@pytest.mark.parametrize(("brought_in", "so"), [(f"x = {PATH}", FOLLOWS), (f"x = ∫ v dt = {PATH}", TAKEN)])
@pytest.mark.parametrize("start", ["at t = 0: x = 0, so D = m v0/b", "x(0) = 0 -> D = m v0/b"])
def test_a_path_brought_in_by_its_integral_goes_on_as_what_that_comes_to(
    brought_in: str, so: str, start: str
) -> None:
    before = (*COASTING, brought_in, start)
    assert said("", *before, "x = (m v0/b)(1 - e^(-b t/m))")[2:] == [so, TAKEN, FOLLOWS]
    assert said("", *before, "x = (m v0/b)(1 + e^(-b t/m))")[-1] == FAILS
    assert said("", *COASTING, brought_in, start.replace("D = m", "D = 2 m"))[-1] == FAILS


def test_a_path_written_from_an_open_integral_may_be_wrong() -> None:
    assert said("", *COASTING, "x = ∫ v dt = -(m/b) e^(-b t/m) + D")[-1] == FAILS
