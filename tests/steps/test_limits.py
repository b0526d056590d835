"""Limits and special cases: a quantity followed as another runs to its end, with the rest held."""

from __future__ import annotations

import numpy as np
import pytest

from derive.states.precise import Beyond, charted, values
from derive.terms.term import ONE, Var, add, div, fun, mul, num, power, sub, var
from tests.workings import said

FOLLOWS, FAILS = "follows", "does not follow"

HOIST = """
Symbols:
  m1, m2 : kg, positive
  g : m/s^2, positive
  a : m/s^2
  T : N
  θ : rad, 0 < θ < π/2
Given:
  m1 a = m1 g sin θ - T
  m2 a = T - m2 g
"""

SINKING = """
Symbols:
  m, g, c : 1, positive
  v(t) : 1
Given:
  m v' = m g - c v
  v(0) = 0
"""

FAST = """
Symbols:
  m, c, v, γ : 1, positive
  E, K : 1
Given:
  γ = 1/√(1 - v²/c²)
  E = γ m c²
  K = E - m c²
  v < c
"""


@pytest.mark.parametrize("typed", [
    "as m1 → ∞: a → g sin θ",
    "as m1 → ∞, T → m2 g (1 + sin θ)",
    "a → -g as m2 → ∞",
    "a → -g if m2 ≫ m1",
    "for large m1: a → g sin θ",
    "m1 → ∞: T → m2 g (1 + sin θ)",
    "m1 → ∞ gives a → g sin θ",
    "for m1 ≫ m2: a → g sin θ",
    "as m1/m2 → ∞: a → g sin θ",
    "as θ → 0: a → -m2 g/(m1 + m2)",
    "in the limit m1 → ∞: a = g sin θ",
])
def test_the_limit_of_a_result_is_followed_with_the_other_quantities_held(typed: str) -> None:
    assert said(HOIST, typed) == [FOLLOWS]


@pytest.mark.parametrize("typed", [
    "as m1 → ∞: a → g cos θ",
    "as m1 → ∞, T → m1 g (1 + sin θ)",
    "a → g as m2 → ∞",
    "a → g if m2 ≫ m1",
    "for large m1: a → 0",
    "m1 → ∞: T → m2 g",
    "for m1 ≫ m2: a → -g sin θ",
    "as m1/m2 → ∞: a → g",
    "as θ → 0: a → 0",
])
def test_a_wrong_limit_does_not_follow(typed: str) -> None:
    assert said(HOIST, typed) == [FAILS]


def test_a_limit_says_nothing_of_other_states() -> None:
    assert said(HOIST, "as m1 → ∞: a → g sin θ", "a = g sin θ") == [FOLLOWS, FAILS]


@pytest.mark.parametrize(("typed", "expected"), [
    ("as v → c: E → ∞", FOLLOWS),
    ("as v → c: m/γ → 0", FOLLOWS),
    ("as v → 0: K/(½ m v²) → 1", FOLLOWS),
    ("as v → 0: K/(½ m v²) → 2", FAILS),
    ("as v → c: E → 0", FAILS),
    ("as v → c: γ → 1", FAILS),
    ("as v → c: E → -∞", FAILS),
])
def test_limits_survive_the_cancelling_of_large_numbers(typed: str, expected: str) -> None:
    assert said(FAST, typed) == [expected]


@pytest.mark.parametrize(("typed", "expected"), [
    ("as t → ∞: v → m g/c", FOLLOWS),
    ("as t → ∞: v' → 0", FOLLOWS),
    ("as c → 0: v → g t", FOLLOWS),
    ("as t → 0: v/t → g", FOLLOWS),
    ("as t → ∞: v → 0", FAILS),
    ("as c → 0: v → ½ g t", FAILS),
])
def test_an_explicit_motion_is_followed_far_out(typed: str, expected: str) -> None:
    assert said(SINKING, "v = (m g/c) (1 - e^(-c t/m))", typed) == [FOLLOWS, expected]


def test_where_a_rate_is_said_to_die_out_the_rest_is_what_is_left() -> None:
    assert said(SINKING, "as t → ∞: v' → 0", "as t → ∞: v → m g/c") == ["taken", FOLLOWS]
    assert said(SINKING, "as t → ∞: v' → 0", "as t → ∞: v → c g/m") == ["taken", FAILS]


def test_a_slow_approach_is_an_approach() -> None:
    head = "Symbols:\n  x, y, z : 1, positive\nGiven:\n  y = 1/ln(2 + x)\n  z = 1 + 1/√x"
    assert said(head, "as x → ∞: y → 0", "as x → ∞: z → 1", "as x → ∞: y → ½") == [FOLLOWS, FOLLOWS, FAILS]


@pytest.mark.parametrize(("typed", "expected"), [
    ("for m1 = m2: a = g (sin θ - 1)/2", FOLLOWS),
    ("for θ = 0: a = -m2 g/(m1 + m2)", FOLLOWS),
    ("for θ = π/2: a = (m1 - m2) g/(m1 + m2)", FOLLOWS),
    ("for m2 = 0: a = g sin θ, T = 0", FOLLOWS),
    ("for θ = 0 and m1 = m2: a = -g/2", FOLLOWS),
    ("when m1 = 2 m2: a = (2 sin θ - 1) g/3", FOLLOWS),
    ("for m1 = m2: a = g sin θ/2", FAILS),
    ("for θ = 0: a = 0", FAILS),
    ("for θ = π/2: T = m1 m2 g/(m1 + m2)", FAILS),
    ("for θ = 0 and m1 = m2: a = g/2", FAILS),
])
def test_a_special_case_is_decided_in_the_case_even_at_the_end_of_a_range(typed: str, expected: str) -> None:
    assert said(HOIST, typed) == [expected]


def test_a_case_where_a_term_is_not_defined_is_decided_as_a_limit() -> None:
    head = "Symbols:\n  x, y : 1, positive\nGiven:\n  y = sin x/x"
    assert said(head, "for x = 0: y = 1") == [FOLLOWS]
    assert said(head, "for x = 0: y = 0") == [FAILS]


def test_a_case_on_its_own_line_is_gone_on_with_next_below_and_not_past_a_line_that_leaves_it() -> None:
    assert said(HOIST, "for m2 = 0: T = 0", "a = g sin θ") == [FOLLOWS, FOLLOWS]
    assert said(HOIST, "for m2 = 0: T = 0", "T = m2 (g + a)", "a = g sin θ") == [FOLLOWS, FOLLOWS, FAILS]
    assert said(HOIST, "for m2 = 0: T = 0", "a = g cos θ") == [FOLLOWS, FAILS]


def test_a_case_may_be_pointed_back_at() -> None:
    lines = "for m1 = m2: a = ½ g (sin θ - 1)", "a = (m1 sin θ - m2) g/(m1 + m2)"
    assert said(HOIST, *lines, "in that case T = ½ m1 g (1 + sin θ)") == [FOLLOWS, FOLLOWS, FOLLOWS]
    assert said(HOIST, *lines, "T = ½ m1 g (1 + sin θ) in this case") == [FOLLOWS, FOLLOWS, FOLLOWS]
    assert said(HOIST, *lines, "in that case T = m1 g (1 + sin θ)") == [FOLLOWS, FOLLOWS, FAILS]


def test_a_line_that_goes_on_with_so_is_still_in_the_case() -> None:
    assert said(HOIST, "for m2 = 0: T = 0", "so a = g sin θ") == [FOLLOWS, FOLLOWS]


def test_a_chart_works_out_what_it_can_in_closed_form() -> None:
    x, y, z = Var("x"), Var("y"), Var("z")
    equations = [sub(mul(var(x), var(z)), num(6)), sub(var(y), add(var(x), ONE))]
    state = {v: np.array([a]) for v, a in ((x, 2.0), (y, 3.0), (z, 3.0))}
    chart = charted(equations, [x, y], state)
    assert chart is not None and not chart.core
    at = chart.at({z: 12}, {})
    assert at[x] == 0.5 and at[y] == 1.5


def test_a_chart_finds_the_rest_by_newtons_method() -> None:
    x, z = Var("x"), Var("z")
    equation = sub(add(power(var(x), num(3)), var(x)), var(z))
    chart = charted([equation], [x], {x: np.array([1.0]), z: np.array([2.0])})
    assert chart is not None and chart.core
    root = chart.at({z: 10}, {x: 1})[x]
    assert abs(root - 2) < 1e-12


def test_what_is_complex_or_undefined_is_beyond_many_figures() -> None:
    x = Var("x")
    for t in (power(var(x), div(ONE, num(2))), fun("ln", var(x)), div(ONE, add(var(x), ONE))):
        with pytest.raises(Beyond):
            values([t], {x: -1})


def test_what_has_settled_no_longer_changes() -> None:
    head = SINKING.replace("c : 1", "c, u : 1") + "  as t → ∞: v → u\n"
    assert said(head, "as t → ∞: v' → 0, so u = m g/c") == [FOLLOWS]
    assert said(head, "as t → ∞: u = m g/c") == [FOLLOWS]
    assert said(head, "as t → ∞: u = c g/m") == [FAILS]


def test_the_rate_of_a_written_course_is_followed() -> None:
    head = "Symbols:\n  a, T : 1, positive\n  x(t) : 1\nGiven:\n  x = a t²/(t + T)"
    assert said(head, "as t → ∞: x' → a", "as t → ∞: x'' → 0", "as t → ∞: x' → 0") == [FOLLOWS, FOLLOWS, FAILS]


DRIFT = """
Symbols:
  m, b, v0 : 1, positive
  x(t) : 1
  s : 1, positive
Given:
  x = (m v0/b)(1 - e^(-b t/m))
  as t → ∞: x → s
"""

HELD = """
Symbols:
  m, b, v0 : 1, positive
  v(t), x(t) : 1
  s : 1, positive
Given:
  m v' = -b v
  v(0) = v0
  x' = v, x(0) = 0
  as t → ∞: x → s
"""


def test_a_known_limit_need_not_be_said_again() -> None:
    assert said(DRIFT, "s = m v0/b") == [FOLLOWS]
    assert said(DRIFT, "s = 2 m v0/b") == [FAILS]


def test_a_limit_that_rests_on_a_slip_is_carried() -> None:
    slip = "x = (b v0/m)(1 - e^(-b t/m))"
    assert said(HELD, slip, "s = b v0/m") == [FAILS, "carried"]
    assert said(HELD, slip, "as t → ∞: x → b v0/m", "s = b v0/m") == [FAILS, "carried", "carried"]
    assert said(HELD, slip, "s = 3 b v0/m")[0] == FAILS
    assert said(HELD, slip, "s = 3 b v0/m")[1] in (FAILS, "undecided")


ESCAPE = """
Symbols:
  G, M, R, m : 1, positive
  h, W, v : 1, positive
Given:
  W = ∫_R^(R+h) G M m/r² dr
  ½ m v² = W
"""


def test_a_quantity_that_a_line_gives_outright_is_followed_by_that_line() -> None:
    line = "v = √(2 G M h/(R (R + h)))"
    assert said(ESCAPE, line, "as h → ∞: v → √(2 G M/R)") == [FOLLOWS, FOLLOWS]
    assert said(ESCAPE, line, "as h → ∞: v → √(G M/R)") == [FOLLOWS, FAILS]


def test_what_a_motion_starts_with_does_not_stand_in_the_way_of_its_limit() -> None:
    lines = ("-(m/c) ln(1 - c v/(m g)) = t", "v = (m g/c)(1 - e^(-c t/m))")
    assert said(SINKING, *lines, "as t → ∞: v → m g/c") == [FOLLOWS, FOLLOWS, FOLLOWS]
    assert said(SINKING, *lines, "as t → ∞: v → c/(m g)") == [FOLLOWS, FOLLOWS, FAILS]


TWO_CRATES = """
Symbols:
  m1, m2 : kg, positive
  g : m/s^2, positive
  a : m/s^2
  T : N
Given:
  m1 a = m1 g - T
  m2 a = T - m2 g
"""


@pytest.mark.parametrize("words", [
    "for equal masses: a = 0, T = m1 g", "for equal masses a = 0", "a = 0 if the masses are equal",
    "when both masses are equal: T = m2 g",
])
def test_equal_masses_may_be_said_in_words(words: str) -> None:
    assert said(TWO_CRATES, words) == [FOLLOWS]


@pytest.mark.parametrize("words", ["for equal masses: a = g", "T = 2 m1 g if the masses are equal"])
def test_what_does_not_hold_for_equal_masses_is_found(words: str) -> None:
    assert said(TWO_CRATES, words) == [FAILS]
    assert said(TWO_CRATES, "for equal masses: a = 0", "T = m1 (g - a)", "a = 0")[-1] == FAILS
