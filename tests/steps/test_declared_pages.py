"""Whole pages with declared symbols: a case of several values, an extreme, a goal reached to its figures."""

from __future__ import annotations

from derive.check import check_text
from derive.records import Standing
from tests.workings import said

FOLLOWS, FAILS, TAKEN = "follows", "does not follow", "taken"

TIN = """
Symbols:
  V : m^3, positive
  A : m^2
  r, h : m, positive
Given:
  V = π r² h
  A = 2π r² + 2π r h
"""

PULLED = """
Symbols:
  F : N, positive
  μ : positive
  m : kg, positive
  g : m/s², positive
  θ : rad, 0 < θ < π/2
  D : positive
Given:
  F = μ m g/D
  D = cos θ + μ sin θ
"""

DRUM = """
Symbols:
  r : m, positive
  ω : rad/s, positive
  g : m/s², positive
  μ : positive
Given:
  ω² ≥ g/(μ r)
"""

SLIDING = """
Symbols:
  v : m/s, positive
  d : m, positive
  g : m/s², positive
  θ : rad, 0 < θ < π/2
Given:
  v² = 2 g d sin θ
"""


def test_a_surface_is_least_with_the_volume_held() -> None:
    lines = ("h = V/(π r²)", "A = 2π r² + 2V/r", "dA/dr = 4π r - 2V/r²", "dA/dr = 0", "4π r - 2V/r² = 0")
    assert said(TIN, *lines, "h = 2r", "h = r") == [FOLLOWS, FOLLOWS, FOLLOWS, TAKEN, FOLLOWS, FOLLOWS, FAILS]


def test_what_is_made_of_a_function_of_an_angle_is_one_without_being_declared_so() -> None:
    lines = ("dD/dθ = -sin θ + μ cos θ", "dD/dθ = 0", "tan θ = μ", "cos θ = 1/√(1 + μ²)", "D = √(1 + μ²)")
    assert said(PULLED, *lines) == [FOLLOWS, TAKEN, FOLLOWS, FOLLOWS, FOLLOWS]
    assert said(PULLED, *lines[:2], "tan θ = 1/μ") == [FOLLOWS, TAKEN, FAILS]


def test_a_case_may_give_several_values_before_its_colon() -> None:
    for head in ("for μ = 0.4, r = 2 m, g = 9.8 m/s²", "for μ = 0.4 and r = 2 m and g = 9.8 m/s²",
                 "μ = 0.4, r = 2 m, g = 9.8 m/s²"):
        assert said(DRUM, f"{head}: ω ≥ 3.5 rad/s", f"{head}: ω ≥ 4.5 rad/s") == [FOLLOWS, FAILS]


def test_a_right_angle_before_a_colon_is_a_case() -> None:
    assert said(SLIDING, "θ = 90°: v = √(2 g d)", "θ = π/2: v = √(g d)") == [FOLLOWS, FAILS]


def test_a_goal_in_fewer_figures_is_reached_by_a_line_in_more() -> None:
    given = "Symbols:\n  v : m/s, positive\nGiven:\n  v² = 12.7 m²/s²\nShow:\n  v = 3.6 m/s\nWorking:\n"
    assert [x.verdicts[0].standing for x in check_text(given + "  v = 3.56 m/s\n").goal] == [Standing.APPROXIMATES]


def test_a_small_quantity_is_followed_with_what_the_line_is_about() -> None:
    head = """
Symbols:
  R, h : m, positive
  v : m/s, positive
  g : m/s², positive
  G : N m²/kg², positive
  M : kg, positive
Given:
  v² = 2 g R h/(R + h)
  g = G M/R²
"""
    assert said(head, "for h ≪ R: v² ≈ 2 g h") == ["approximates"]
    assert said(head, "for h ≪ R: v² ≈ g h") == [FAILS]


def test_the_energies_of_an_orbit_change_with_its_radius_without_being_declared_so() -> None:
    head = """
Symbols:
  G : N m²/kg², positive
  M, m : kg, positive
  r : m, positive
  v : m/s, positive
  K, U, E : J
Given:
  G M m/r² = m v²/r
  K = ½ m v²
  U = -G M m/r
  E = K + U
"""
    lines = ("E = -G M m/(2r)", "dE/dr = G M m/(2r²)", "dE/dr > 0", "dE/dr = -G M m/(2r²)")
    assert said(head, *lines) == [FOLLOWS, FOLLOWS, FOLLOWS, FAILS]


def test_a_declared_constant_set_to_a_share_of_another_before_a_colon_is_a_case() -> None:
    head = """
Symbols:
  M, m : kg, positive
  L, b, x : m, positive
Given:
  M (L/2 - b) = m x
"""
    assert said(head, "b = L/4: x = M L/(4 m)", "b = L/4: x = M L/(2 m)") == [TAKEN, FAILS]
