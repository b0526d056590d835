"""Numbers and units as a report prints them."""

import math

import pytest

from derive.records import Quantity
from derive.report.figures import number_text, quantity_text, telling_pair, unit_text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"), (40.0, "40"), (0.5, "0.5"), (0.8984, "0.898"), (9.81, "9.81"), (-2.0, "-2"),
        (1234.0, "1234"), (1234.567, "1235"), (122.6, "123"), (6.674e-11, "6.67×10⁻¹¹"), (1e9, "10⁹"),
        (-1e-7, "-10⁻⁷"),
        (5.972e24, "5.97×10²⁴"), (0.001, "0.001"),
        (0.9001, "0.900"), (2.99999998, "3"), (999.96, "1000"), (999999.7, "10⁶"),
        (math.inf, "∞"), (-math.inf, "-∞"), (math.nan, "no value"),
        (3 + 4j, "3 + 4 i"), (-2j, "-2 i"), (1 - 0.5j, "1 - 0.5 i"), (2 + 0j, "2"),
    ],
)  # fmt: skip
def test_numbers_are_written_to_three_figures_and_exact_ones_without_zeros(value, text):
    assert number_text(value) == text


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("kg/m^3", "kg/m³"), ("m s^-2", "m s⁻²"), ("m/s²", "m/s²"), ("N*m", "N·m"), ("kg^(-1)", "kg⁻¹"),
        ("1/s", "s⁻¹"), ("1/s^2", "s⁻²"), ("1/(m s)", "1/(m s)"), ("1", ""), ("-", ""), ("", ""),
    ],
)
def test_units_are_set_as_on_a_page(typed, shown):
    assert unit_text(typed) == shown


def test_degrees_and_percent_stand_close_to_their_number():
    assert quantity_text(Quantity("θ", 30.0, "°")) == "30°"
    assert quantity_text(Quantity("m", 30.0, "kg")) == "30 kg"


def test_two_sides_are_shown_to_as_many_figures_as_tell_them_apart():
    assert telling_pair(Quantity("", 0.898, "s"), Quantity("", 43.9, "s")) == ("0.898 s", "43.9 s")
    assert telling_pair(Quantity("", 1.00012, "s"), Quantity("", 1.00019, "s")) == ("1.0001 s", "1.0002 s")


def test_sides_equal_to_the_last_figure_are_still_shown():
    same = Quantity("", 1 / 3, "")
    assert telling_pair(same, same)[0].startswith("0.333333333")


def test_a_bracket_of_a_unit_stays_whole_where_its_last_power_is_raised():
    assert unit_text("m^3/(kg s^2)") == "m³/(kg s²)"
    assert unit_text("kg m^(-3)") == "kg m⁻³"
