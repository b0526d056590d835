"""Proportions: the ratio of the sides stays as what stands on the right is varied."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS = "follows", "does not follow"

SWING = """
Symbols:
  T, L, g, m, k, A, ω, E : 1, positive
Given:
  T² = 4 π² L/g
  ω² = k/m
  E = ½ k A²
"""


@pytest.mark.parametrize("typed", [
    "T ∝ √L", "T ∝ 1/√g", "T² ∝ L", "T ∝ √(L/g)", "E ∝ A²", "E ∝ m ω² A²", "ω ∝ 1/√m",
])
def test_a_proportion_that_follows_is_found_to(typed: str) -> None:
    assert said(SWING, typed) == [FOLLOWS]


@pytest.mark.parametrize("typed", ["T ∝ L", "T ∝ √g", "E ∝ A", "ω ∝ 1/m", "T ∝ √(g/L)"])
def test_a_wrong_power_does_not_follow(typed: str) -> None:
    assert said(SWING, typed) == [FAILS]


def test_a_proportion_may_start_a_working_and_is_used_after_it() -> None:
    head = "Symbols:\n  F, v, m, a : 1, positive"
    assert said(head, "F ∝ v²", "m a = F", "a ∝ v²", "a ∝ v") == ["taken", "taken", FOLLOWS, FAILS]


def test_a_given_proportion_is_used() -> None:
    head = "Symbols:\n  F, v, m, a : 1, positive\nGiven:\n  F ∝ v²\n  m a = F"
    assert said(head, "a ∝ v²", "a ∝ 1/m", "a ∝ v") == [FOLLOWS, FOLLOWS, FAILS]


def test_a_proportion_does_not_give_the_factor() -> None:
    head = "Symbols:\n  F, v : 1, positive\nGiven:\n  F ∝ v²"
    assert said(head, "F = v²") == [FAILS]
