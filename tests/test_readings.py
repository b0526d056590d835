"""Units or names, which reading is taken, and alternatives taken up as cases."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.notation.tree import Name, Unit, walk
from derive.records import Standing
from tests.workings import said, verdicts

FOLLOWS, FAILS, TAKEN = "follows", "does not follow", "taken"


def letters(text: str, line: int = -1) -> set[tuple[str, str]]:
    """What the letters of one line of a quick working were read as."""
    reading = check_text(text).lines[line].reading
    assert reading is not None
    return {
        (type(n).__name__.lower(), n.ident) for s in reading.statements for n in walk(s) if isinstance(n, Name | Unit)
    }


@pytest.mark.parametrize(("typed", "unit"), [
    ("let m = 250 g", "g"), ("let k = 40 N/m", "N"), ("m = 4 g", "g"), ("x = 0.38 m", "m"), ("τ = 20 s", "s"),
    ("p = 2.0 bar", "bar"),
])
def test_a_number_with_letters_after_a_name_is_a_value(typed: str, unit: str) -> None:
    assert ("unit", unit) in letters(typed)


@pytest.mark.parametrize(("typed", "name"), [("l = 2 d", "d"), ("v = 2 V", "V"), ("a = 2 g", "g")])
def test_a_small_whole_number_before_a_letter_that_is_mostly_a_name_is_a_coefficient(typed: str, name: str) -> None:
    assert ("name", name) in letters(typed)


def test_a_letter_in_use_as_a_name_stays_one_where_no_units_are_about() -> None:
    assert ("name", "m") in letters("F = m a\nM = 2 m")
    assert ("name", "g") in letters("½ m v² = m g h\nv² = 2 g/h")


@pytest.mark.parametrize(("wrong", "right"), [("0.8 m g", "1.2 m g"), ("0.8 g m", "1.2 g m")])
def test_a_decimal_before_several_names_is_a_coefficient_and_makes_no_unit_of_them(wrong: str, right: str) -> None:
    page = "N - m g = m a\nN = m (g + a)\nfor a = g/5: N = "

    assert check_text(page + right).outcome == "unbroken"
    assert check_text(page + wrong).first_break == 3


def test_where_units_are_about_letters_after_a_number_are_units() -> None:
    assert ("unit", "h") in letters("P = 4 kW\nE = P · 3 h = 12 kW h")
    assert ("unit", "s") in letters("s = 5 m\nt = 2 s")


def test_gravity_can_be_introduced_after_grams() -> None:
    found = verdicts("let m = 250 g\nlet g = 9.81 m/s²\nF = m g = 2.45 N\nF = 245 N")
    assert [v[-1].standing.value for v in found] == [TAKEN, TAKEN, "approximates", FAILS]


GIVENS = """
Symbols:
  m : kg, positive
  s : m, positive
  P : W, positive
  E : J, positive
  g : m/s², positive
Given:
  m = 20 kg
  g = 9.81 m/s²
  s = 3 m
  P · 40 s = E
  P = 90 W
"""


def test_declared_letters_in_givens_are_units_where_only_units_fit() -> None:
    assert said(GIVENS, "E = 90 W · 40 s = 3.6 kJ", "E/s = 1.2 kN", "E = 3.6 MJ") == [FOLLOWS, FOLLOWS, FAILS]


def test_a_reading_with_new_letters_does_not_excuse_a_wrong_number() -> None:
    found = check_text("v = 72 km/h = 259 m/s")
    assert found.first_break == 1


def test_a_differential_is_not_read_as_a_product_to_make_a_line_hold() -> None:
    head = """
Symbols:
  v(x) : m/s
  x : m
  c : m/s², positive
  d : m, positive
Given:
  v dv/dx = -c
  v(0) = d · 1/s
"""
    assert said(head, "v dv = c dx") == [FAILS]


def test_one_alternative_taken_up_is_a_case() -> None:
    head = """
Symbols:
  u, v, w : m/s
  m : kg, positive
Given:
  m u = m v + m w
  ½ m u² = ½ m v² + ½ m w²
"""
    lines = ["v = u or w = u", "v = u gives w = 0", "w = u gives v = u"]
    assert said(head, *lines) == [FOLLOWS, TAKEN, FAILS]


def test_a_name_alone_may_stand_below_a_slash_before_a_bracket() -> None:
    head = """
Symbols:
  m : kg, positive
  k : N/m, positive
  r, l : m
  a : m/s²
Given:
  m a = -k (r - l)
"""
    assert said(head, "a = -k/m(r - l)") == [FOLLOWS]


def test_no_line_of_a_plain_numeric_working_is_left_open() -> None:
    text = "v_0 = 15 m/s\nα = 40°\ng = 9.81 m/s²\nt = 2 v_0 sin α/g = 1.97 s\nR = v_0 cos α · t = 22.6 m"
    assert all(v.standing in (Standing.TAKEN, Standing.FOLLOWS, Standing.APPROXIMATES)
               for x in check_text(text).lines for v in x.verdicts)


@pytest.mark.parametrize("line", ["m g (h) = 1/2 m v^2", "E = m g (h) + 1/2 m v^2"])
def test_a_letter_in_brackets_after_names_is_a_factor(line: str) -> None:
    """In `m g (h)` the height is no unit, and g no function of it."""
    assert ("name", "h") in letters(line)


def test_a_letter_in_brackets_after_names_is_a_factor_when_the_line_is_judged() -> None:
    assert check_text("m g (h) = 1/2 m v^2\nv = √(g h)").first_break == 2
