"""Names declared without (t): which of them move all the same, and Lagrange's method with them."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS, TAKEN, CARRIED = "follows", "does not follow", "taken", "carried"

SPRING = """
Symbols:
  m : kg, positive
  k : N/m, positive
  x(t) : m
  L : J
Given:
  L = ½ m x'² - ½ k x²
  d/dt(∂L/∂x') = ∂L/∂x
"""


@pytest.mark.parametrize("wrong", ["∂L/∂x' = ½ m x'", "∂L/∂x = k x", "m x'' = k x", "L' = 0"])
def test_a_lagrangian_is_not_held_constant(wrong: str) -> None:
    assert said(SPRING, wrong) == [FAILS]


def test_lagranges_equation_gives_the_motion() -> None:
    assert said(SPRING, "∂L/∂x' = m x'", "∂L/∂x = -k x", "x'' = -(k/m) x") == [FOLLOWS] * 3


ENERGY = """
Symbols:
  m, k, E : 1, positive
  x(t) : 1
Given:
  E = ½ m x'² + ½ k x²
"""


def test_an_energy_that_forbids_no_motion_stays_constant() -> None:
    assert said(ENERGY, "m x' x'' + k x x' = 0", "m x' x'' - k x x' = 0") == [FOLLOWS, FAILS]


def test_an_energy_that_is_lost_moves() -> None:
    damped = ENERGY.replace("E : 1", "c, E : 1") + "  m x'' = -k x - c x'\n"
    assert said(damped, "E' = -c x'²", "E' = 0") == [FOLLOWS, FAILS]


PENDULUM = """
Symbols:
  m : kg, positive
  l : m, positive
  g : m/s², positive
  θ(t) : rad
  x(t), y(t) : m
  T, V, L : J
Given:
  d/dt(∂L/∂θ') = ∂L/∂θ
  L = T - V
  T = ½ m (x'² + y'²)
  V = m g y
  x = l sin θ, y = -l cos θ
"""


def test_partial_derivatives_see_through_coordinates_given_further_down() -> None:
    lines = ["∂L/∂θ' = m l² θ'", "∂L/∂θ = -m g l sin θ", "θ'' = -(g/l) sin θ", "θ'' = -g sin θ"]
    assert said(PENDULUM, *lines) == [FOLLOWS, FOLLOWS, FOLLOWS, FAILS]


def test_after_a_wrong_lagrangian_its_own_derivatives_are_carried() -> None:
    lines = ["L = ½ m l² θ'² - m g l cos θ", "∂L/∂θ = m g l sin θ", "θ'' = (g/l) sin θ"]
    assert said(PENDULUM, *lines) == [FAILS, CARRIED, CARRIED]


LAGRANGIAN_ONLY = SPRING.replace("  d/dt(∂L/∂x') = ∂L/∂x\n", "")


def test_lagranges_equation_needs_no_support() -> None:
    lines = ["d/dt(∂L/∂x') - ∂L/∂x = 0", "m x'' + k x = 0", "m x'' - k x = 0"]
    first, *rest = said(LAGRANGIAN_ONLY, *lines)
    assert first in (TAKEN, FOLLOWS)
    assert rest == [FOLLOWS, FAILS]


@pytest.mark.parametrize("slip", ["d/dt(∂L/∂x') + ∂L/∂x = 0", "d/dt(∂L/∂x') = -∂L/∂x", "d/dt(∂L/∂x) = ∂L/∂x'"])
def test_with_a_slip_it_is_a_claim_like_any_other(slip: str) -> None:
    assert said(LAGRANGIAN_ONLY, slip) == [FAILS]


def test_an_undeclared_lagrangian_moves_too() -> None:
    lines = ["L = ½ m x'² - ½ k x²", "∂L/∂x = -k x", "d/dt(∂L/∂x') = ∂L/∂x", "m x'' = -k x", "m x'' = k x"]
    first, partial, law, right, wrong = said("", *lines)
    assert (first, partial, right, wrong) == (TAKEN, FOLLOWS, FOLLOWS, FAILS)
    assert law in (TAKEN, FOLLOWS)
