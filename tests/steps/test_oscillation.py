"""A declared T, f or ω beside an oscillation is its period, frequency or angular frequency."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS, CLOSE = "follows", "does not follow", "approximates"

BOWL = """
Symbols:
  θ(t) : rad
  R, r : m, positive
  g : m/s², positive
  ω : rad/s, positive
  T : s, positive
Given:
  (R - r) θ'' = -(5/7) g sin θ
  T = 2π/ω
"""

HEAVING = """
Symbols:
  y(t) : m
  k : N/m, positive
  m : kg, positive
  T : s, positive
  Ω : rad/s, positive
Given:
  m y'' = -k y
"""


def test_an_angular_frequency_tied_to_a_period_alone_is_that_of_the_motion() -> None:
    lines = ("for small θ: sin θ ≈ θ", "θ'' ≈ -(5 g/(7 (R - r))) θ")
    assert said(BOWL, *lines, "ω² = 5 g/(7 (R - r))", "T = 2π √(7 (R - r)/(5 g))") == [CLOSE] * 4
    assert said(BOWL, *lines, "ω² = 7 g/(5 (R - r))")[-1] == FAILS
    assert said(BOWL, *lines, "T = π √(7 (R - r)/(5 g))")[-1] == FAILS


@pytest.mark.parametrize(("right", "wrong"), [
    ("T = 2π √(m/k)", "T = 2π √(k/m)"), ("Ω = √(k/m)", "Ω = √(m/k)"), ("T = 2π/Ω", "T = Ω/2π"),
])
def test_the_usual_letters_need_no_word_beside_them(right: str, wrong: str) -> None:
    assert said(HEAVING, "y'' = -(k/m) y", right) == [FOLLOWS, FOLLOWS]
    assert said(HEAVING, "y'' = -(k/m) y", wrong)[-1] == FAILS


def test_a_second_small_quantity_is_counted_where_the_first_is_still_small() -> None:
    lines = ("for small θ: sin θ ≈ θ", "T = 2π √(7 (R - r)/(5 g))")
    assert said(BOWL, *lines, "for r ≪ R: T ≈ 2π √(7 R/(5 g))") == [CLOSE] * 3
    assert said(BOWL, *lines, "for r ≪ R: T ≈ π √(7 R/(5 g))")[-1] == FAILS


def test_nothing_else_is_taken_to_be_small_than_what_was_said_to_be() -> None:
    assert said(BOWL, "for small θ: sin θ ≈ θ", "θ'' ≈ -(5 g/(7 (R + r))) θ") == [CLOSE, FAILS]


def test_a_line_that_holds_whatever_its_names_are_says_nothing_of_them() -> None:
    """½ m v² + ½ k x² = … is true of any m and k, so that k = m ω² may still be brought in."""
    lines = (
        "x = A sin(ω t)", "v = A ω cos(ω t)",
        "½ m v² + ½ k x² = ½ m A² ω² cos²(ω t) + ½ k A² sin²(ω t)", "k = m ω²")
    assert said("", *lines, "½ m v² + ½ k x² = ½ k A²") == ["taken", FOLLOWS, FOLLOWS, "taken", FOLLOWS]
    assert said("", *lines, "½ m v² + ½ k x² = k A²")[-1] == FAILS


def test_a_potential_of_what_moves_moves_and_its_rate_is_tied() -> None:
    lines = ("T = ½ m L² θ'²", "U = m g L (1 - cos θ)", "E = T + U", "dE/dt = 0")
    assert FAILS not in said("", *lines)
    assert said("", *lines, "m L² θ' θ'' + m g L sin θ θ' = 0")[-1] == FOLLOWS
    assert said("", *lines, "m L² θ' θ'' - m g L sin θ θ' = 0")[-1] == FAILS


def test_a_rate_that_an_equation_gives_is_not_brought_in_anew() -> None:
    lines = ("m x'' = -k x - b x'", "E = ½ m x'² + ½ k x²", "E' = x'(m x'' + k x)")
    assert said("", *lines, "E' = -b x'²")[-1] == FOLLOWS
    assert said("", *lines, "E' = b x'²")[-1] == FAILS


def test_an_undeclared_omega_beside_an_oscillation_is_its_angular_frequency() -> None:
    assert said("", "θ'' = -(g/L) θ", "ω = √(g/L)") == ["taken", FOLLOWS]
    assert said("", "θ'' = -(g/L) θ", "ω = √(L/g)") == ["taken", FAILS]


def test_a_length_is_small_by_its_angle_and_not_by_what_it_is_small_beside() -> None:
    head = "Symbols:\n  L, x, h : m, positive\n  θ : rad, 0 < θ < π/2\nGiven:\n  x = L sin θ\n  h = L (1 - cos θ)"
    assert said(head, "for x ≪ L: √(L² - x²) ≈ L - x²/(2 L)", "h ≈ x²/(2 L)") == [CLOSE, CLOSE]
    assert said(head, "for x ≪ L: √(L² - x²) ≈ L - x²/(2 L)", "h ≈ x²/L") == [CLOSE, FAILS]
