"""Inequalities: decided by states at given bounds and beyond the line's own, not only by those met by chance."""

from __future__ import annotations

import numpy as np
import pytest

from derive.states.evidence import weigh
from derive.states.projection import Cloud
from derive.terms.term import ONE, ZERO, Var, fun, neg, sub, var
from tests.workings import said, verdicts

FOLLOWS, FAILS = "follows", "does not follow"

LOOP = """
Symbols:
  m, r, g : 1, positive
  v : 1, positive
  N : 1
Given:
  N = m v²/r - m g
  N ≥ 0
"""

SLOPE = """
Symbols:
  θ : rad, 0 < θ < π/2
  μ : 1, positive
  m, g : 1, positive
  f, N : 1
Given:
  f = m g sin θ
  N = m g cos θ
  f ≤ μ N
"""

HOIST = """
Symbols:
  m1, m2, g : 1, positive
  a, T : 1
Given:
  a = (m1 - m2) g/(m1 + m2)
  T = 2 m1 m2 g/(m1 + m2)
"""


@pytest.mark.parametrize(("head", "typed"), [
    (LOOP, "m v²/r ≥ m g"), (LOOP, "v² ≥ g r"), (LOOP, "v ≥ √(g r)"),
    (SLOPE, "tan θ ≤ μ"), (SLOPE, "μ ≥ tan θ"), (SLOPE, "-μ ≤ -tan θ"), (SLOPE, "θ ≤ arctan μ"), (SLOPE, "sin θ ≤ μ"),
    (HOIST, "a < g"), (HOIST, "a > -g"), (HOIST, "T < 2 m1 g"), (HOIST, "T ≤ (m1 + m2) g/2"),
])
def test_a_bound_that_follows_is_found_to(head: str, typed: str) -> None:
    assert said(head, typed) == [FOLLOWS]


@pytest.mark.parametrize(("head", "typed"), [
    (LOOP, "m v²/r ≥ 2 m g"), (LOOP, "v² ≥ 1.01 g r"), (LOOP, "v² ≤ g r"),
    (SLOPE, "tan θ ≤ μ/2"), (SLOPE, "μ ≤ tan θ"), (SLOPE, "μ ≤ 1/tan θ"), (SLOPE, "tan θ ≤ 0.99 μ"),
    (HOIST, "a < g/2"), (HOIST, "a > 0"), (HOIST, "T < m1 g"), (HOIST, "T < 1.98 m1 g"),
])
def test_a_bound_that_goes_too_far_does_not_follow(head: str, typed: str) -> None:
    assert said(head, typed) == [FAILS]


def test_a_strict_bound_does_not_follow_from_one_that_may_be_met() -> None:
    assert said(LOOP, "v > √(g r)") == [FAILS]
    assert said(SLOPE, "μ > tan θ") == [FAILS]
    assert said(LOOP.replace("N ≥ 0", "N > 0"), "v > √(g r)") == [FOLLOWS]


def test_the_state_that_breaks_a_bound_is_shown() -> None:
    ((verdict,),) = verdicts(LOOP.strip() + "\n\nWorking:\n  v² ≥ 1.5 g r\n")
    assert verdict.state is not None
    assert complex(verdict.state.left.value).real < complex(verdict.state.right.value).real


def test_multiplying_by_a_negative_turns_a_bound_round() -> None:
    head = "Symbols:\n  x, y : 1\n  k : 1, negative\nGiven:\n  x < y"
    assert said(head, "k x > k y", "k x < k y") == [FOLLOWS, FAILS]


def test_sides_too_close_for_floating_point_do_not_break_a_strict_bound() -> None:
    x = Var("x")
    cloud = Cloud({x: np.array([0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 40.0])}, 8)
    found = weigh(fun("tanh", var(x)), ONE, "<", cloud)
    assert found.all_hold and found.holds.sum() == 7


def test_a_strict_bound_met_exactly_at_zero_is_broken_there() -> None:
    x = Var("x")
    cloud = Cloud({x: np.array([0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0])}, 8)
    assert weigh(var(x), ZERO, ">", cloud).fails.sum() == 1
    assert weigh(neg(var(x)), ZERO, "≤", cloud).all_hold


def test_a_bound_met_on_a_whole_branch_is_broken_by_it() -> None:
    x, y = Var("x"), Var("y")
    cloud = Cloud({x: np.array([1.0, 2.0, 3.0, 4.0]), y: np.array([1.0, 2.0, 1.0, 1.0])}, 4)
    assert weigh(var(x), var(y), ">", cloud).fails.sum() == 2
    assert sub(var(x), var(x)) is not ZERO  # the folding constructors do not collect
