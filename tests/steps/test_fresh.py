"""Names met for the first time: constants that fit or do not, second laws, starts and steps without givens."""

from __future__ import annotations

import pytest

from tests.workings import said, verdicts

FOLLOWS, FAILS, TAKEN, IF = "follows", "does not follow", "taken", "follows if"

SWING = """
Symbols:
  y(t) : m
  ω : rad/s, positive
  m : kg, positive
  k : N/m, positive
Given:
  y'' = -ω² y
  k = m ω²
"""


@pytest.mark.parametrize("typed", [
    "y = A e^(ω t) + B e^(-ω t)", "y = (A + B t) cos ω t", "y = A cos 2ω t + B sin 2ω t",
])
def test_a_wrong_general_solution_breaks_even_with_undeclared_constants(typed: str) -> None:
    text = SWING.strip("\n") + f"\n\nWorking:\n  {typed}\n"
    ((verdict,),) = verdicts(text)
    assert (verdict.standing.value, verdict.code) == (FAILS, "fails.not_a_solution")
    assert verdict.state is not None


def test_a_right_general_solution_follows() -> None:
    assert said(SWING, "y = A cos ω t + B sin ω t") == [FOLLOWS]


@pytest.mark.parametrize("typed", ["½ m y'² - ½ k y² = C", "m y' + m ω y = C"])
def test_what_is_not_conserved_does_not_come_to_a_constant(typed: str) -> None:
    assert said(SWING, typed) == [FAILS]


def test_what_is_conserved_does() -> None:
    assert said(SWING, "½ m y'² + ½ k y² = C") == [FOLLOWS]


def test_a_wrong_integral_with_its_constant_breaks() -> None:
    head = """
Symbols:
  v(t) : 1
  c, g : 1, positive
Given:
  v' = g - c v
"""
    assert said(head, "-c ln(g - c v) = t + C") == [FAILS]
    assert said(head, "-(1/c) ln(g - c v) = t + C") == [FOLLOWS]


def test_swapped_limits_break_where_the_limit_is_new() -> None:
    head = """
Symbols:
  m(t) : kg, positive
  v(t) : m/s
  u : m/s, positive
  m_0 : kg, positive
Given:
  m dv = -u dm
  v = 0 at m = m_0
"""
    assert said(head, "∫_0^v dv = -u ∫_m^{m_0} dm/m") == [FAILS]
    assert said(head, "∫_0^v dv = -u ∫_{m_0}^m dm/m") == [FOLLOWS]


def test_an_unknown_name_is_asked_about_where_nothing_else_is_wrong() -> None:
    head = "Symbols:\n  F : N\n  x : m\nGiven:\n  F = 3 N\n"
    text = head + "\nWorking:\n  F = q x + r\n"
    ((verdict,),) = verdicts(text)
    assert verdict.code == "unknown.name"


# --- without givens ---------------------------------------------------------------------------------------------


def test_two_conservation_laws_are_two_starts() -> None:
    lines = ["m u = m v + M V", "½ m u² = ½ m v² + ½ M V²", "m (u - v) = M V", "m (u² - v²) = M V²",
             "V = 0 or u + v = V"]
    assert said("", *lines) == [TAKEN, TAKEN, FOLLOWS, FOLLOWS, FOLLOWS]


@pytest.mark.parametrize("wrong", [
    "m (u - v) = -M V", "u - v = M V", "m² u² = m² v² + M² V²", "v = u - M V", "½ m u = m v + M V",
])
def test_a_wrong_step_is_no_second_law(wrong: str) -> None:
    assert said("", "m u = m v + M V", wrong) == [TAKEN, FAILS]


def test_a_relation_between_names_already_tied_is_no_start() -> None:
    assert said("", "½ m v² = m g h", "p = m v", "p² = 2 m g h") == [TAKEN, TAKEN, FAILS]
    assert said("", "v = u + a t", "s = (u + v) t/2", "s = u t + a t²") == [TAKEN, TAKEN, FAILS]
    assert said("", "v = u + a t", "s = (u + v) t/2", "s = u t + ½ a t²") == [TAKEN, TAKEN, FOLLOWS]


def test_values_may_be_given_after_a_formula_until_it_is_full() -> None:
    lines = ["T = 2π √(l/g)", "l = 0.5 m", "g = 9.81 m/s²", "T = 1.42 s", "T = 14.2 s"]
    assert said("", *lines) == [TAKEN, TAKEN, TAKEN, "approximates", FAILS]


def test_t_is_a_name_like_any_other_where_nothing_moves() -> None:
    assert said("", "s = 6 m", "v = 3 m/s", "t = s/v = 2 s", "t = s/v = 3 s") == [TAKEN, TAKEN, TAKEN, FAILS]
