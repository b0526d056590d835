"""The state that shows a break: everyday values in units that a reader knows, and a difference that is plain."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.records import Quantity, Standing, State
from derive.report.figures import quantity_text


def state_of(text: str) -> State:
    """The state shown with the first break of a working."""
    verdict = next(v for x in check_text(text).lines for v in x.verdicts if v.standing is Standing.FAILS)
    assert verdict.state is not None
    return verdict.state


def values(state: State) -> dict[str, Quantity]:
    return {q.name: q for q in state.values}


BUOY = """Symbols:
  m    : kg, positive, about 40
  k    : N/m, positive, about 1200
  y(t) : m, about 0.05
  T    : s, positive
Given:
  (a)  m y'' = -k y
  (b)  T = 2π √(m/k)
Working:
"""


def test_values_that_the_exercise_calls_usual_are_taken_where_they_can_be() -> None:
    shown = values(state_of(BUOY + "  T = 2π √(k/m)\n"))

    assert (quantity_text(shown["m"]), quantity_text(shown["k"])) == ("40 kg", "1200 N/m")


def test_derivatives_and_both_sides_have_their_units() -> None:
    state = state_of(BUOY + "  m y'' = -2 k y\n")

    assert values(state)["y''"].unit == "m/s²"
    assert (state.left.unit, state.right.unit) == ("N", "N")


def test_a_side_that_may_hide_a_unit_in_a_number_is_given_none() -> None:
    state = state_of(BUOY + "  m y'' = -1300 y\n")

    assert state.right.unit == "N"  # that of the left side, in which no number stands
    assert state_of(BUOY + "  17 m y'' = -1300 y\n").left.unit == ""


SLOPE = """Symbols:
  a : m/s^2
  g : m/s^2, positive
  θ : {unit}, 0 < θ < {bound}
Given:
  (a)  a = g sin θ
Working:
  a = g cos θ
"""


@pytest.mark.parametrize(("unit", "bound"), [("°", "90°"), ("rad", "90°")])
def test_angles_are_in_degrees_where_the_exercise_gives_them_so(unit: str, bound: str) -> None:
    angle = values(state_of(SLOPE.format(unit=unit, bound=bound)))["θ"]

    assert angle.unit == "°"
    assert isinstance(angle.value, float) and 5 <= angle.value <= 85


def test_angles_in_radians_stay_so_and_gravity_is_what_it_is_on_earth() -> None:
    shown = values(state_of(SLOPE.format(unit="rad", bound="π/2")))

    assert shown["θ"].unit == "rad"
    assert quantity_text(shown["g"]) == "9.81 m/s²"


def test_a_value_is_told_in_the_unit_that_its_symbol_was_declared_with() -> None:
    text = """Symbols:
  v : km/h, positive, about 36 km/h
  t : s, positive, about 10
  s : m, positive
Given:
  (a)  s = v t
Working:
  s = 2 v t
"""
    state = state_of(text)

    assert quantity_text(values(state)["v"]) == "36 km/h"
    assert (quantity_text(state.left), quantity_text(state.right)) == ("100 m", "200 m")


def test_a_state_is_settled_where_what_is_given_leaves_no_choice() -> None:
    numbers = "m = 2 kg\nF = 6 N\na = F/m\na = 4 m/s²\n"

    assert state_of(numbers).settled
    assert not state_of(BUOY + "  T = 2π √(k/m)\n").settled


def test_letters_that_nobody_declared_have_the_values_that_a_reader_expects() -> None:
    shown = values(state_of("m g - μ M g = (M + m) a\na = g (m + μ M)/(M + m)\n"))

    assert (shown["g"].value, 0 < shown["μ"].value < 1) == (10, True)


def test_the_constant_of_gravitation_is_that_of_nature() -> None:
    shown = values(state_of(
        "Symbols:\n  G : N m^2/kg^2, positive\n  M : kg, positive, about 6e24\n  r : m, positive, about 7e6\n"
        "  v : m/s, positive\nGiven:\n  (a) v² = G M/r\nWorking:\n  v = G M/r\n  v = 2 √(G M/r)\n"))

    assert float(f"{shown['G'].value:.2e}") == 6.67e-11


def test_a_quantity_without_a_usual_value_is_of_the_size_of_another_of_its_kind() -> None:
    state = state_of(
        "Symbols:\n  m : kg, positive, about 40\n  k : N/m, positive, about 800\n  A : m, positive, about 0.1\n"
        "  x : m\n  v : m/s\nGiven:\n  (a) ½ m v² + ½ k x² = ½ k A²\nWorking:\n  v² = (k/m) (A - x)²\n")

    shown = values(state)
    assert 0.01 < shown["x"].value < 0.1
    assert state.left.value > 0.01


def test_the_case_that_a_line_loses_is_shown_at_round_values() -> None:
    text = "x = u t cos α\ny = u t sin α - ½ g t²\ny = 0\nt = 2 u sin α/g\n"
    (lost,) = (v.state for x in check_text(text).lines for v in x.verdicts if v.standing is Standing.FOLLOWS_IF)

    assert lost is not None
    assert values(lost)["t"].value == 0
    assert all(len(f"{q.value:g}") <= 4 for q in lost.values)


def test_what_cancels_is_chosen_and_what_an_equation_tells_is_solved_for() -> None:
    shown = values(state_of("½ m v² = m g ℓ (1 - cos φ)\nv² = g ℓ (1 - cos φ)\n"))

    assert (shown["m"].value, shown["g"].value) == (2, 10)
    assert all(len(f"{shown[n].value:g}") <= 3 for n in ("m", "g", "l", "φ"))


def test_of_vectors_the_component_that_differs_is_named_and_its_sides_shown() -> None:
    text = "F = (a, 2 b)\nG = (b, a)\nF + G = (a + b, b + a)\n"
    verdict = next(v for x in check_text(text).lines for v in x.verdicts if v.standing is Standing.FAILS)

    assert (verdict.code, dict(verdict.facts)) == ("fails.component", {"which": "second"})
    state = state_of(text)
    shown = values(state)
    assert (state.left.value, state.right.value) == (
        2 * shown["b"].value + shown["a"].value, shown["b"].value + shown["a"].value)


def test_sides_of_an_equation_that_a_trial_was_put_into_are_called_by_what_they_are() -> None:
    state = state_of("m x'' = -k x\nx = A cos(k t/m)\n")

    assert (state.left.name, state.right.name) == ("m x''", "-k x")
