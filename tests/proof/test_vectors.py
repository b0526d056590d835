"""Vectors: components, magnitudes, products, right angles, and vectors that are defined on the way."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS = "follows", "does not follow"

RING = """
Symbols:
  R, ω : 1, positive
  r(t), v(t) : 1, vector
Given:
  r = R (cos ωt, sin ωt)
  v = dr/dt
"""

PAINTER = """
Symbols:
  l : 1, positive
  r(t), v(t), a(t) : 1, vector
Given:
  r·r = l²
  v = r'
  a = v'
"""

PUSH = """
Symbols:
  F, d : 1, vector
  k, α : 1
Given:
  F = (3, 4)
  d = 2 x̂ - ŷ
"""


@pytest.mark.parametrize("typed", [
    "v = R ω (-sin ωt, cos ωt)", "r ⊥ v", "|v| = R ω", "v' = -ω² r", "r × v = R² ω ẑ", "v·v = ω² r·r", "v_x = -ω r_y",
])
def test_a_turning_vector_is_differentiated_and_multiplied(typed: str) -> None:
    assert said(RING, typed) == [FOLLOWS]


@pytest.mark.parametrize("typed", [
    "v = R (-sin ωt, cos ωt)", "v' ⊥ r", "|v| = R ω²", "v' = ω² r", "r × v = R ω ẑ", "v_x = ω r_y",
])
def test_a_wrong_step_with_a_turning_vector_does_not_follow(typed: str) -> None:
    assert said(RING, typed) == [FAILS]


def test_a_right_angle_says_that_the_dot_product_vanishes() -> None:
    assert said(PAINTER, "d/dt (r·r) = 0", "r ⊥ v", "r·v = 0") == [FOLLOWS] * 3
    assert said(PUSH, "F ⊥ d") == [FAILS]


def test_a_relation_is_differentiated_through_names_for_its_rates() -> None:
    assert said(PAINTER, "v·v + r·a = 0") == [FOLLOWS]
    assert said(PAINTER, "v·v - r·a = 0") == [FAILS]


def test_a_name_set_equal_to_a_vector_is_one() -> None:
    assert said(PAINTER, "let n = r/l", "n·n = 1", "a·n = -|v|²/l") == ["taken", FOLLOWS, FOLLOWS]
    assert said(PAINTER, "let n = r/l", "a·n = |v|²/l") == ["taken", FAILS]


@pytest.mark.parametrize(("typed", "expected"), [
    ("F·d = 2", FOLLOWS), ("|F| = 5", FOLLOWS), ("F_x = 3", FOLLOWS), ("F × d = -11 ẑ", FOLLOWS),
    ("F + d = (5, 3)", FOLLOWS), ("F·d = 10", FAILS), ("|F| = 7", FAILS), ("F × d = 11 ẑ", FAILS),
    ("F + d = (5, 5)", FAILS),
])
def test_products_and_components_are_worked_out(typed: str, expected: str) -> None:
    assert said(PUSH, typed) == [expected]


@pytest.mark.parametrize("typed", ["F = 5", "F·d = d", "F + 1 = d", "|F| = F"])
def test_a_vector_is_never_a_number(typed: str) -> None:
    assert said(PUSH, typed) == [FAILS]


def test_unit_vectors_along_and_across_a_turning_line_are_differentiated() -> None:
    head = "Symbols:\n  r(t) : m, positive\n  θ(t) : rad\nGiven:\n  θ'' = 0"
    assert said(head, "r̂' = θ' θ̂", "θ̂' = -θ' r̂", "r̂' = -θ' θ̂") == [FOLLOWS, FOLLOWS, FAILS]


def test_accelerations_along_and_across_are_components() -> None:
    head = """
Symbols:
  R(t), v(t), a(t) : 1, vector
  r(t) : 1, positive
  θ(t) : rad
Given:
  R = r r̂
  v = R'
  a = v'
"""
    assert said(head, "v = r' r̂ + r θ' θ̂", "a_r = r'' - r θ'²", "a_θ = r θ'' + 2 r' θ'") == [FOLLOWS] * 3
    assert said(head, "a_r = r''") == said(head, "a_θ = r θ'' + r' θ'") == [FAILS]


@pytest.mark.parametrize("typed", ["u_x = (m1 v1_x + m2 v2_x)/(m1 + m2)", "u_y = (m1 v_{1y} + m2 v_2y)/(m1 + m2)"])
def test_a_numbered_vector_has_components(typed: str) -> None:
    head = "Symbols:\n  v1, v2, u : 1, vector\n  m1, m2 : 1, positive\nGiven:\n  m1 v1 + m2 v2 = (m1 + m2) u"
    assert said(head, typed) == [FOLLOWS]
    assert said(head, typed.replace("m1 + m2", "m1 - m2")) == [FAILS]
