"""Trial solutions: what they need not fit, what they show, and how they are left behind."""

from __future__ import annotations

from tests.workings import said

FOLLOWS, FAILS, TAKEN = "follows", "does not follow", "taken"

DAMPED = """
Symbols:
  x(t) : m
  x_0 : m, positive
  p, q : 1/s, positive
Given:
  x'' + (p + q) x' + p q x = 0
  x(0) = x_0, x'(0) = 0
  p ≠ q
"""

BARGES = """
Symbols:
  m : kg, positive
  k, c : N/m, positive
  x(t), y(t), s(t), d(t) : m
Given:
  m x'' = -k x - c (x - y)
  m y'' = -k y - c (y - x)
  s = x + y, d = x - y
"""


def test_a_trial_need_not_start_as_the_motion_does_nor_have_an_amplitude() -> None:
    assert said(DAMPED, "try x = e^(s t)", "s² + (p + q) s + p q = 0") == [TAKEN, FOLLOWS]
    assert said(DAMPED, "try x = e^(s t)", "s² - (p + q) s + p q = 0") == [TAKEN, FAILS]


def test_a_trial_of_what_can_only_swing_leaves_the_starting_values_aside_too() -> None:
    lightly = DAMPED.replace("x'' + (p + q) x' + p q x = 0", "x'' + 2 p x' + q² x = 0\n  p² < q²").replace("p ≠ q", "")
    lines = ("try x = e^(s t)", "s² + 2 p s + q² = 0", "let w² = q² - p²", "s = -p ± i w")
    assert said(lightly, *lines) == [TAKEN, FOLLOWS, TAKEN, FOLLOWS]
    course = "x = e^(-p t) (A cos w t + B sin w t)"
    assert said(lightly, *lines, course, "A = x_0", "B = p x_0/w")[-3:] == [FOLLOWS] * 3
    assert said(lightly, *lines, course, "A = x_0", "B = -p x_0/w")[-3:] == [FOLLOWS, FOLLOWS, FAILS]


def test_the_general_solution_takes_the_place_of_the_trial_and_starts_as_the_motion_does() -> None:
    lines = ("try x = e^(s t)", "s = -p or s = -q", "x = A e^(-p t) + B e^(-q t)")
    assert said(DAMPED, *lines, "A + B = x_0, p A + q B = 0") == [TAKEN, FOLLOWS, FOLLOWS, FOLLOWS]
    assert said(DAMPED, *lines, "p A = q B")[-1] == FAILS
    assert said(DAMPED, *lines[:2], "x = A e^(p t) + B e^(q t)")[-1] == FAILS


def test_a_trial_in_a_line_drawn_from_several_equations_holds_at_all_times() -> None:
    found = said(BARGES, "m d'' = -k d - 2 c d", "try d = D cos(n t)", "n = √((k + 2 c)/m)", "n² = (k + c)/m")
    assert found == [FOLLOWS, TAKEN, "follows if", FAILS]


def test_any_other_line_has_to_fit_in_its_dimensions() -> None:
    assert said(DAMPED, "x = e^(-p t)") == [FAILS]


SPOKE = """
Symbols:
  r(t) : m
  ω : rad/s, positive
  m : kg, positive
  L : J
Given:
  L = ½ m (r'² + r² ω²)
  d/dt(∂L/∂r') = ∂L/∂r
"""


def test_what_only_says_what_another_name_is_is_no_equation_of_motion() -> None:
    assert said(SPOKE, "r'' = ω² r", "r = A e^(ω t) + B e^(-ω t)") == [FOLLOWS, FOLLOWS]
    assert said(SPOKE, "r'' = ω² r", "r = A cos(ω t) + B sin(ω t)") == [FOLLOWS, FAILS]


SHIFTED = """
Symbols:
  x(t) : m
  m : kg, positive
  k : N/m, positive
  F : N, positive
Given:
  m x'' = -k x + F
"""


def test_a_course_is_held_to_the_equation_that_was_drawn_for_its_name() -> None:
    lines = ("let u = x - F/k", "u'' = -(k/m) u")
    assert said(SHIFTED, *lines, "u = A cos(ω t + φ) with ω² = k/m")[-1] in (FOLLOWS, TAKEN)
    assert said(SHIFTED, *lines, "u = A cos(ω t + φ) with ω² = k/m", "x = F/k + A cos(ω t + φ)")[-1] == FOLLOWS
    assert said(SHIFTED, *lines, "u = A cos(2 ω t + φ) with ω² = k/m")[-1] == FAILS


def test_a_course_must_go_with_the_courses_beside_it() -> None:
    lines = ("m dv/dt = -m g - k v", "let u = v + m g/k", "du/dt = -(k/m) u", "u = u0 e^(-k t/m)")
    assert said("", *lines, "v = u0 e^(-k t/m) - m g/k")[-1] == FOLLOWS
    assert said("", *lines, "v = u0 e^(-k t/m) + m g/k")[-1] == FAILS
    assert said("", *lines, "v = (v0 + m g/k) e^(-k t/m)")[-1] == FAILS


def test_an_equation_of_motion_is_that_of_what_is_counted_from_another_place() -> None:
    head = SHIFTED.replace("F : N", "g : m/s²").replace("-k x + F", "-k x + m g")
    course = "y = C cos(√(k/m) t) + D sin(√(k/m) t)"
    assert said(head, "let y = x - m g/k", course, "x = m g/k + C cos(√(k/m) t) + D sin(√(k/m) t)") == [
        TAKEN, FOLLOWS, FOLLOWS]
    assert said(head, "let y = x + m g/k", course) == [TAKEN, FAILS]
