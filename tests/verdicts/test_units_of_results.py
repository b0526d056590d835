"""A right number with a unit that does not fit is a break, and says so; in any unit that does it is right."""

import pytest

from derive.check import check_text
from derive.records import Standing

DECLARED = """Symbols:
m, k : kg, N/m
T, f, ω : s, Hz, 1/s
Given:
m = 0.5 kg
k = 200 N/m
ω = √(k/m)
T = 2π/ω
f = 1/T
Working:
"""
QUICK = "m = 0.5 kg, k = 200 N/m\nω = √(k/m)\nT = 2π/ω\nf = 1/T\n"


def last(page: str):
    return check_text(page, "a page").lines[-1].verdicts[-1]


@pytest.mark.parametrize("page", [DECLARED, QUICK])
@pytest.mark.parametrize("result", [
    "T = 0.314 N", "T = 0.314 J", "T = 0.314 Hz", "T = 0.314 1/s", "ω = 20 s", "ω = 20 m/s", "f = 3.18 s", "f = 3.18 W",
    "T = 2π √(0.5/200) = 0.314 kg"])
def test_a_right_number_with_another_unit_is_a_break(page: str, result: str) -> None:
    found = last(page + result)

    assert (found.standing, found.code) == (Standing.FAILS, "fails.unit")


@pytest.mark.parametrize("page", [DECLARED, QUICK])
@pytest.mark.parametrize("result", [
    "T = 0.314 s", "T = 314 ms", "T = 0.00524 min", "ω = 20 rad/s", "ω = 20 1/s", "ω = 20 s^-1", "ω = 20 /s",
    "f = 3.18 Hz", "f = 3.18 1/s", "T = 0.314", "T = 2π √(0.5/200) = 0.314 s"])
def test_in_every_unit_that_fits_it_is_right(page: str, result: str) -> None:
    assert last(page + result).standing in (Standing.FOLLOWS, Standing.APPROXIMATES)


def test_what_g_is_used_for_tells_the_unit_though_nobody_gives_it() -> None:
    page = "v² = 2 g h\nh = 5 m\n"

    assert last(page + "v = 9.9 m/s").standing is Standing.APPROXIMATES
    assert last(page + "v = 9.9 m").code == "fails.unit"


def test_a_letter_that_nobody_has_met_is_no_way_out() -> None:
    page = "m = 4 kg, v = 3 m/s\n"

    assert last(page + "E = ½ m v² = 18 J").standing is Standing.FOLLOWS
    assert last(page + "E = ½ m v² = 18 N").code == "fails.unit"
    assert last("v = 36 km/h = 10 m").code == "fails.unit"


def test_how_many_times_g_an_acceleration_is_may_be_said_of_it() -> None:
    assert last("v = 30 m/s, r = 30 m\na = v²/r = 30 m/s² = 3.06 g").standing is Standing.APPROXIMATES
