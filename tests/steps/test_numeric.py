"""Numbers with units: figures written, slips named, and what is carried from them."""

from __future__ import annotations

import pytest

from tests.workings import said, verdicts

FOLLOWS, FAILS, NEAR, CARRIED, TAKEN = "follows", "does not follow", "approximates", "carried", "taken"

GUN = """
Symbols:
  k : N/m, positive
  x : m, positive
  m : kg, positive
  E : J
  v : m/s, positive
Given:
  k = 90 N/m
  x = 6.5 cm
  m = 0.40 kg
  E = ½ k x²
  ½ m v² = E
"""


def test_a_rounded_value_may_be_used_further() -> None:
    lines = ["E = ½ · 90 N/m · (0.065 m)² = 0.190 J", "v = √(2 · 0.190 J/(0.40 kg)) = 0.975 m/s", "v = 3.5 km/h"]
    assert said(GUN, *lines) == [NEAR, NEAR, NEAR]


def test_a_wrong_number_is_carried_to_its_figures() -> None:
    lines = ["E = ½ · 90 N/m · (0.65 m)² = 19.0 J", "v = √(2 · 19.0 J/(0.40 kg)) = 9.75 m/s", "v = 35.1 km/h"]
    assert said(GUN, *lines) == [FAILS, CARRIED, CARRIED]


def test_a_second_slip_after_a_wrong_number_is_a_break_of_its_own() -> None:
    lines = ["E = ½ · 90 N/m · (0.65 m)² = 19.0 J", "v = √(2 · 19.0 J/(0.40 kg)) = 97.5 m/s"]
    assert said(GUN, *lines) == [FAILS, FAILS]


@pytest.mark.parametrize(("typed", "factor"), [
    ("E = 1.90 J", "10"), ("v = 0.271 m/s", "3.6 (km/h and m/s)"), ("E = 0.380 J", "2"),
])
def test_a_familiar_factor_is_named(typed: str, factor: str) -> None:
    text = GUN.strip("\n") + f"\n\nWorking:\n  {typed}\n"
    ((verdict,),) = verdicts(text)
    assert (verdict.code, dict(verdict.facts).get("factor")) == ("fails.number", factor)


def test_exact_values_are_written_as_people_write_them() -> None:
    *_, last = verdicts("m = 1200 kg\nv = 20 m/s\nE = ½ m v² = 2.4e4 J")
    assert dict(last[-1].facts)["exact"] == "2.4×10⁵ J"


def test_numbers_below_a_wrong_formula_may_be_right_and_the_reverse() -> None:
    head = """
Symbols:
  m : kg, positive
  k : N/m, positive
  T : s, positive
Given:
  m = 350 kg
  k = 12.6 kN/m
  T = 2π √(m/k)
"""
    assert said(head, "T = 2π √(k/m)", "T = 1.05 s") == [FAILS, NEAR]
    assert said(head, "T = 10.5 s", "k T² = 4 π² m") == [FAILS, FOLLOWS]


def test_percent_degrees_and_prefixes_are_units_like_others() -> None:
    text = "η = 85 %\nP = 2.0 kW\nη P = 1.7 kW\nθ = 30°\nsin θ = 0.5\nsin θ = 0.6"
    assert [v[0].standing.value for v in verdicts(text)] == [TAKEN, TAKEN, FOLLOWS, TAKEN, FOLLOWS, FAILS]


def test_a_whole_number_of_three_figures_stands_for_what_rounds_to_it() -> None:
    head = """
Symbols:
  F : N, positive
  P : W, positive
  v : m/s, positive
Given:
  F = 917.85 N
  P = 1.7 kW
  F v = P
"""
    assert said(head, "v = 1700 W/(918 N) = 1.85 m/s", "v = 1700 W/(928 N)") == [NEAR, FAILS]


def test_large_values_in_units_are_found_by_the_states() -> None:
    head = """
Symbols:
  m, v, s : 1, positive
  a, F : 1
Given:
  v = 5
  s = 25
  m = 12 000
  v² = 2 a s
  F = m a
"""
    assert said(head, "F = 6000", "F = 6200") == [FOLLOWS, FAILS]
