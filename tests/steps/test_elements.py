"""Integrals over an element: the limits of `∫_0^L x² dm` are places x where `dm = λ dx`."""

from __future__ import annotations

from tests.workings import said

FOLLOWS, FAILS, TAKEN = "follows", "does not follow", "taken"

BAR = """
Symbols:
  M : kg, positive
  L, x : m, positive
  m(x) : kg
  I : kg m²
Given:
  dm = (M/L) dx
  I = ∫_0^L x² dm
"""

DRIFTING = """
Symbols:
  x(t) : m
  v(t) : m/s
  a0 : m/s², positive
  τ : s, positive
Given:
  x' = v
  v = a0 (t - t²/(2τ))
  x(0) = {start}
"""


def test_an_integral_over_an_element_of_mass_runs_along_the_bar() -> None:
    assert said(BAR, "I = (M/L) ∫_0^L x² dx", "I = ⅓ M L²") == [FOLLOWS, FOLLOWS]
    assert said(BAR, "I = (M/L) ∫_0^L x dx") == [FAILS]


def test_a_quick_working_may_speak_of_an_element_that_nobody_declared() -> None:
    lines = ("dm = (M/L) dx", "I = ∫_0^L x² dm = (M/L) ∫_0^L x² dx")
    assert said("", *lines, "I = ⅓ M L²", "I = ½ M L²") == [TAKEN, TAKEN, FOLLOWS, FAILS]


def test_an_integral_that_ends_at_the_whole_mass_runs_over_the_mass() -> None:
    assert said(BAR, "∫_0^M dm = M") == [FOLLOWS]


def test_a_chain_past_an_integral_without_limits_has_its_constant_or_misses_one() -> None:
    head = DRIFTING.format(start="0")
    assert said(head, "x = ∫ v dt = a0 (t²/2 - t³/(6τ)) + D", "D = 0") == [FOLLOWS, FOLLOWS]
    away = DRIFTING.format(start="3 m")
    assert said(away, "x = ∫ v dt = a0 (t²/2 - t³/(6τ)) + D", "D = 3 m") == [FOLLOWS, FOLLOWS]
    assert said(away, "x = ∫ v dt = a0 (t²/2 - t³/(6τ))") == [FAILS]


DISC = """
Symbols:
  m : kg, positive
  R, r : m, positive
  σ : kg/m²
  I : kg m²
Given:
  σ = m/(π R²)
  I = ∫ r² dm
"""


def test_an_integral_over_a_body_is_spelt_out_with_what_its_element_is() -> None:
    ring = "dm = σ 2π r dr"
    assert said(DISC, ring, "I = ∫_0^R r² σ 2π r dr", "I = ½ m R²") == [TAKEN, FOLLOWS, FOLLOWS]
    assert said(DISC, ring, "I = ∫_0^R r σ 2π r dr") == [TAKEN, FAILS]
    assert said(DISC, ring, "I = ∫_0^R r² σ 2π dr") == [TAKEN, FAILS]
