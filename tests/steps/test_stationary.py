"""Extremes: the condition for one is taken, what follows of the best state is decided in it."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS, TAKEN = "follows", "does not follow", "taken"

THROW = """
Symbols:
  v0 : m/s, positive
  g : m/s^2, positive
  α : rad, 0 < α < π/2
  R : m, positive
Given:
  R = v0² sin(2α)/g
"""

WELL = """
Symbols:
  a, b, x, x0 : 1, positive
  U(x) : 1
Given:
  U = a/x² - b/x
"""


@pytest.mark.parametrize("condition", [
    "dR/dα = 0", "for a maximum: dR/dα = 0", "at the best angle dR/dα = 0", "0 = dR/dα",
])
def test_a_vanishing_slope_is_taken_and_the_best_state_follows(condition: str) -> None:
    assert said(THROW, condition, "cos(2α) = 0", "α = π/4", "R = v0²/g") == [TAKEN, FOLLOWS, FOLLOWS, FOLLOWS]
    assert said(THROW, condition, "α = π/6")[-1] == FAILS


def test_the_end_of_a_chain_says_it_of_the_slope_the_chain_begins_with() -> None:
    assert said(THROW, "dR/dα = 2 v0² cos(2α)/g = 0", "so α = 45°") == [TAKEN, FOLLOWS]
    assert said(THROW, "dR/dα = v0² cos(2α)/g = 0") == [FAILS]


def test_slopes_are_those_of_the_quantity_above() -> None:
    assert said(THROW, "dR/dα = 2 v0² cos(2α)/g", "dR/dα = 2 v0² sin(2α)/g") == [FOLLOWS, FAILS]


def test_a_slope_that_vanishes_nowhere_can_not_be_taken_to() -> None:
    head = "Symbols:\n  k, x, y : 1, positive\nGiven:\n  y = k x + 1"
    assert said(head, "dy/dx = 0") == [FAILS]


def test_where_a_slope_vanishes_is_a_claim() -> None:
    assert said(THROW, "dR/dα = 0 at α = π/4") == [FOLLOWS]
    assert said(THROW, "dR/dα = 0 at α = π/3") == [FAILS]
    assert said(THROW, "dR/dα = 0 when tan α = 1") == [FOLLOWS]
    assert said(THROW, "dR/dα = 0 when tan α = 2") == [FAILS]


def test_equilibrium_is_where_the_potential_is_flat() -> None:
    found = said(WELL, "dU/dx = -2a/x³ + b/x²", "equilibrium: dU/dx = 0", "x = 2a/b", "U = -b²/(4a)", "x = a/b")
    assert found == [FOLLOWS, TAKEN, FOLLOWS, FOLLOWS, FAILS]


def test_a_named_place_may_be_where_the_slope_vanishes() -> None:
    assert said(WELL, "dU/dx = 0 at x = x0", "x0 = 2a/b", "U(x0) = -b²/(4a)") == [TAKEN, FOLLOWS, FOLLOWS]


def test_the_slope_of_a_square_serves_as_well() -> None:
    head = "Symbols:\n  h, s, H : m, positive\nGiven:\n  s² = 4 h (H - h)"
    assert said(head, "d(s²)/dh = 4 H - 8 h", "d(s²)/dh = 0, so h = H/2", "s = H") == [FOLLOWS, TAKEN, FOLLOWS]


def test_a_rate_in_time_that_vanishes_names_a_moment_and_not_the_motion() -> None:
    head = "Symbols:\n  v(t) : m/s\n  g : m/s², positive\nGiven:\n  v' = -g + v²/(1 m)"
    assert said(head, "v' = 0", "v² = g (1 m)") == [TAKEN, FOLLOWS]
    assert said(head, "so v' = 0") == [FAILS]


def test_a_place_that_nothing_else_names_may_be_picked_out_but_one_above_may_not() -> None:
    assert said(WELL, "U = 0 at x = x0", "x0 = a/b") == [TAKEN, FOLLOWS]
    assert said(WELL, "x0 = a/b", "dU/dx = 0 at x = x0")[-1] == FAILS


def test_alternatives_are_those_of_the_case_they_are_given_for() -> None:
    head = "Symbols:\n  a, b : 1, positive\n  x : 1\n  U(x) : 1\nGiven:\n  U = ¼ a x⁴ - ½ b x²"
    assert said(head, "dU/dx = a x³ - b x", "dU/dx = 0 gives x = 0 or x = ±√(b/a)")[-1] in (FOLLOWS, TAKEN)
    assert said(head, "dU/dx = a x³ - b x", "dU/dx = 0 gives x = 0 or x = ±√(a/b)")[-1] == FAILS
