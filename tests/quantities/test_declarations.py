"""Rows of `Symbols:`: what each says of its names, and what to type instead where it says nothing."""

import math
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from derive.notation.printed.printing import as_text
from derive.notation.tree import Span
from derive.quantities.declarations import MOST_ROWS, Declarations, declared, read_row
from derive.quantities.table_rows import taken_apart
from derive.quantities.units import parse_unit_text
from derive.records import Symbol


def symbol(row: str) -> Symbol:
    found = read_row(row, 1)
    assert found.problems == ()
    assert len(found.symbols) == 1
    return found.symbols[0]


def bounds(found: Symbol) -> list[str]:
    return [as_text(bound) for bound in found.bounds]


@pytest.mark.parametrize(("row", "name"), [
    ("m : kg", "m"), ("x_0 : m", "x_0"), ("x0 : m", "x_0"), ("x₀ : m", "x_0"), ("omega : 1/s", "ω"), ("ω : 1/s", "ω"),
    ("Delta p : N s", "Δp"), ("Δp : N s", "Δp"), ("F_net : N", "F_net"), ("v_max : m/s", "v_max"), ("T1 : s", "T_1"),
    ("v' : m/s", "v'"), ("v’ : m/s", "v'"), ("v_1' : m/s", "v_1'"), ("  m: kg", "m"), ("m :kg", "m"), ("m\t:\tkg", "m"),
    ("m\uff1a kg", "m"),
])
def test_a_name_is_declared_under_its_canonical_spelling(row, name):
    assert symbol(row).name == name


@pytest.mark.parametrize(("row", "unit", "dimension", "scale"), [
    ("m : kg", "kg", "kg", 1), ("k: N/m", "N/m", "kg s^-2", 1), ("v : km/h", "km/h", "m s^-1", Fraction(5, 18)),
    ("m : [kg]", "kg", "kg", 1), ("m : (kg)", "kg", "kg", 1), ("n : 1", "1", "1", 1), ("n : -", "", "1", 1),
    ("I : kg m^2", "kg m^2", "kg m^2", 1), ("m : positive, kg", "kg", "kg", 1), ("t : min, > 0", "min", "s", 60),
])
def test_the_unit_gives_dimension_and_scale(row, unit, dimension, scale):
    found = symbol(row)

    assert (found.unit, (found.dimension, 1), found.scale) == (unit, parse_unit_text(dimension), scale)


@pytest.mark.parametrize("row", ["n : positive", "n :", "n : -- a number", "n : whole"])
def test_a_name_without_a_unit_has_no_known_dimension(row):
    found = symbol(row)

    assert (found.unit, found.dimension) == ("", None)


@pytest.mark.parametrize(("row", "sign"), [
    ("m : kg", "real"), ("m : kg, positive", "positive"), ("m : kg, Positive", "positive"), ("m : kg, > 0", "positive"),
    ("m : kg, m > 0", "positive"), ("m : kg, 0 < m", "positive"), ("m : kg, ≥ 0", "nonnegative"),
    ("m : kg, >= 0", "nonnegative"), ("m : kg, non-negative", "nonnegative"), ("x : m, < 0", "negative"),
    ("x : m, ≤ 0", "nonpositive"), ("x : m, nonzero", "nonzero"), ("x : m, ≠ 0", "nonzero"), ("x : m, != 0", "nonzero"),
    ("z : 1, complex", "complex"), ("θ : rad, 0 < θ < π/2", "positive"), ("e : 1, 0 ≤ e ≤ 1", "nonnegative"),
    ("x : m, > 2", "positive"), ("x : m, < 2", "real"), ("x : m, -1 < x < 1", "real"), ("x : m, x ≠ 2", "real"),
    ("x : m, positive, x < 3", "positive"),
])
def test_a_sign_is_said_in_a_word_or_by_a_range(row, sign):
    assert symbol(row).sign == sign


@pytest.mark.parametrize(("row", "expected"), [
    ("θ : rad, 0 < θ < π/2", ["0 < θ < π/2"]),
    ("θ : rad, between 0 and π/2", ["0 < θ < π/2"]),
    ("θ : rad, 0..π/2", ["0 < θ < π/2"]),
    ("θ : rad, 0 … π/2", ["0 < θ < π/2"]),
    ("e : 1, 0 ≤ e ≤ 1", ["0 ≤ e ≤ 1"]),
    ("m : kg, > 0", []),                              # the sign says it all
    ("m : kg, m > 0, m < M", ["m < M"]),
    ("x : m, < L", ["x < L"]),
    ("θ : deg, 0 < θ < 90", ["0 < θ < 90 °"]),        # bare numbers are in the row's own unit
    ("v : km/h, < 36", ["v < 36 km/h"]),
    ("v : km/min, < 6", ["v < 100"]),
    ("ε : 1, small", ["ε ≪ 1"]),
    ("x : m, x << L", ["x ≪ L"]),
    ("θ : deg, -30 < θ < 30°", ["-30 ° < θ < 30 °"]),
])
def test_a_range_is_kept_as_it_is_written_in_mathematics(row, expected):
    assert [text.replace(" °", "°") for text in bounds(symbol(row))] == [text.replace(" °", "°") for text in expected]


@pytest.mark.parametrize(("row", "typical"), [
    ("m : kg, about 40", 40), ("m : kg, about 2.5", 2.5), ("θ : rad, about 30°", math.pi / 6),
    ("θ : deg, about 30", math.pi / 6), ("v : km/h, about 36", 10), ("v : km/h, about 10 m/s", 10),
    ("d : m, about 7.5 cm", 0.075), ("M : kg, about 6×10^24", 6e24), ("M : kg, about 6e24", 6e24),
    ("M : kg, about 6·10^-3", 6e-3), ("x : m, about -2", -2), ("x : m, ≈ 3", 3), ("x : m, ~ 3", 3),
    ("m : kg, positive, about 40 -- of the buoy", 40), ("m : about 40, kg", 40), ("n : about 3", 3), ("m : kg", None),
    ("m : t, about 2", 2000),
])
def test_a_typical_value_is_kept_in_si(row, typical):
    found = symbol(row).typical

    assert found == (None if typical is None else pytest.approx(typical))


def test_the_other_words_of_a_row():
    assert symbol("F : N, vector").vector
    assert symbol("n : 1, whole").whole
    assert symbol("n : 1, integer").whole
    assert not symbol("m : kg, constant").vector
    assert symbol("y(t) : m").of == "t"
    assert symbol("U(r) : J").of == "r"
    assert symbol("v_x(t) : m/s").of == "t"


@pytest.mark.parametrize(("row", "note"), [
    ("m : kg -- mass of the buoy", "mass of the buoy"), ("m : kg — mass: the buoy's", "mass: the buoy's"),
    ("m : kg # mass", "mass"), ("m : kg", ""), ("m : kg --   ", ""), ("θ : rad -- (a, b) -- c", "(a, b) -- c"),
])
def test_a_note_is_kept_as_words(row, note):
    assert symbol(row).note == note


def test_one_row_may_declare_several_names():
    found = read_row("m1, m2 : kg, positive, m1 < 50, about 40 -- barges", 1)

    assert found.problems == ()
    assert [(s.name, s.unit, s.sign, s.typical, s.note) for s in found.symbols] == [
        ("m_1", "kg", "positive", 40, "barges"), ("m_2", "kg", "positive", 40, "barges"),
    ]
    assert [bounds(s) for s in found.symbols] == [["m_1 < 50"], ["m_2 < 50"]]


@pytest.mark.parametrize(("row", "expected"), [
    ("α, β : rad, 0 < α < π/2, 0 < β < π", [["0 < α < π/2"], ["0 < β < π"]]),
    ("α, β : rad, 0 < β < π/2", [["0 < α < π/2"], ["0 < β < π/2"]]),
    ("m, M : kg, positive, m < M", [["m < M"], []]),
])
def test_a_range_is_said_of_all_names_of_a_row_unless_each_has_its_own(row, expected):
    found = read_row(row, 1)

    assert found.problems == ()
    assert [bounds(s) for s in found.symbols] == expected


def test_remarks_and_empty_rows_declare_nothing():
    assert read_row("# the masses", 1) == Declarations()


def test_as_many_units_as_names_are_one_for_each_in_their_order():
    found = read_row("m, k, x(t) : kg, N/m, m, positive", 1)

    assert found.problems == ()
    assert [(s.name, s.unit, s.sign) for s in found.symbols] == [
        ("m", "kg", "positive"), ("k", "N/m", "positive"), ("x", "m", "positive")]


def test_declarations_with_semicolons_between_them_have_units_of_their_own():
    found = read_row("m : kg ; F, P : N, W ; v : m/s, positive", 1)

    assert found.problems == ()
    assert [(s.name, s.unit, s.sign) for s in found.symbols] == [
        ("m", "kg", "real"), ("F", "N", "real"), ("P", "W", "real"), ("v", "m/s", "positive")]


@pytest.mark.parametrize(("row", "code", "at", "says"), [
    ("m as in the figure above", "symbols.no_colon", "m as in the figure above", "m : kg"),
    ("2m : kg", "symbols.no_name", "2m", "v_0"),
    (": kg", "symbols.no_name", None, "v_0"),
    ("m + M : kg", "symbols.no_name", "m + M", "v_0"),
    ("m, : kg", "symbols.no_name", None, "v_0"),
    ("m : kgg", "symbols.unit", "kgg", "kg"),
    ("c : J/kg K", "symbols.unit", "J/kg K", "brackets"),
    ("m : kg, N", "symbols.two_units", "N", "one unit"),
    ("m : kg, postive", "symbols.word", "postive", "positive"),
    ("g : m/s^2, 9.81, 9.8", "symbols.number", "9.8", "about"),
    ("g : m/s^2, = 2 h", "symbols.number", "= 2 h", "Given:"),
    ("m : kg, postitive mass", "symbols.word", "postitive mass", "positive"),
    ("n : 1, integr", "symbols.word", "integr", "integer"),
    ("v : metrs", "symbols.unit", "metrs", "metres"),
    ("x : m, 0 <", "symbols.bound", "0 <", "0 < x < 1"),
    ("x : m, 0 < y < 1", "symbols.bound", "0 < y < 1", "0 < x < 1"),
    ("m : kg, about heavy", "symbols.about", "about heavy", "about 40"),
    ("m : kg, about", "symbols.about", "about", "about 40"),
    ("m : kg, about 1e999", "symbols.about", "about 1e999", "about 40"),
    ("m : kg, about 3 m", "symbols.about_unit", "about 3 m", "kg"),
    ("x : m, small", "symbols.small", "small", "<<"),
])
def test_a_row_that_cannot_be_read_says_what_to_type(row, code, at, says):
    problem, = read_row(row, 7).problems

    assert (problem.code, problem.line) == (code, 7)
    assert says in problem.message
    assert problem.span == (None if at is None else Span(row.index(at), row.index(at) + len(at)))


def test_what_is_right_in_a_row_stands_beside_what_is_wrong():
    found = read_row("m : kg, positive, kgg, about 40", 1)

    assert [p.code for p in found.problems] == ["symbols.unit"]
    assert [(s.unit, s.sign, s.typical) for s in found.symbols] == [("kg", "positive", 40)]


@pytest.mark.parametrize(("row", "note"), [
    ("M : kg, positive, mass of load", "mass of load"), ("θ : rad, 0 < θ < π/2, angle with the ground",
     "angle with the ground"), ("m : mass of the buoy", "mass of the buoy"), ("m : kg, positive, heavily", "heavily"),
    ("x : m, position", "position"), ("I : kg m^2, about the far end", "about the far end"),
    ("k : N/m, spring constant, positive -- of the buffer", "spring constant; of the buffer"),
])
def test_words_among_the_pieces_are_a_note(row, note):
    found = read_row(row, 1)

    assert [s.note for s in found.symbols] == [note]
    assert found.problems == ()
    assert found.notes == ((1, note.partition(";")[0]),)


def test_words_taken_for_notes_are_told_once():
    found = declared([(1, "m : kg, mass of the barge"), (2, "F : N, pull"), (3, "v : m/s -- its speed")])

    assert [(p.code, p.line) for p in found.problems] == [("read.notes", 1)]
    assert "“mass of the barge”, “pull”" in found.problems[0].message


# A row, and what it declares: each name with its unit ("?" where that is left open), its sign and its note.
@pytest.mark.parametrize(("row", "expected"), [
    ("a, T, v", "a ?; T ?; v ?"), ("x(t), v(t)", "x(t) ?; v(t) ?"), ("m1, m2", "m_1 ?; m_2 ?"),
    ("m [kg]", "m kg"), ("v(t) [m/s]", "v(t) m/s"), ("F (N)", "F N"), ("F(N)", "F N"), ("x(t) (m)", "x(t) m"),
    ("m in kg", "m kg"), ("m kg positive", "m kg positive"), ("S m^2", "S m^2"), ("m, kg, positive", "m kg positive"),
    ("m = mass (kg)", "m kg “mass”"), ("m = mass of the barge, kg", "m kg “mass of the barge”"),
    ("m - mass in kg", "m kg “mass”"), ("m – mass [kg]", "m kg “mass”"), ("m: mass, kg", "m kg “mass”"),
    ("m is the mass of the barge (kg)", "m kg “the mass of the barge”"), ("let m be the mass", "m ? “the mass”"),
    ("m: kg (mass)", "m kg “mass”"), ("F : N normal force", "F N “normal force”"), ("x -> position", "x ? “position”"),
    ("mass m : kg", "m kg “mass”"), ("mass of the barge: m (kg)", "m kg “mass of the barge”"),
    ("p1, p2 = momenta (kg m/s)", "p_1 kg m/s “momenta”; p_2 kg m/s “momenta”"), ("m -- mass", "m ? “mass”"),
    ("m > 0", "m ? positive"), ("m, M : kg > 0", "m kg positive; M kg positive"), ("0 < θ < π/2", "θ ? positive"),
    ("m (kg), F (N), a (m/s^2)", "m kg; F N; a m/s^2"), ("m: kg, positive, F: N", "m kg positive; F N"),
    ("m is mass, F is force", "m ? “mass”; F ? “force”"),
    ("m : kg; F : N; x1, x2 : m", "m kg; F N; x_1 m; x_2 m"), ("μ : dimensionless", "μ 1"),
    ("| m | kg | mass of the barge |", "m kg “mass of the barge”"), ("m   kg   pull", "m kg “pull”"),
    ("m | kg | pull", "m kg “pull”"), ("Symbol | Unit | Meaning", ""), ("--- | --- | ---", ""),
    ("| symbol | unit | meaning |", ""), ("|---|:--:|", ""), ("- m: kg", "m kg"), ("1. m : kg", "m kg"),
    (r"\theta : rad", "θ rad"), ("$v_{max}$ : m/s", "v_max m/s"),
])
def test_a_row_is_read_in_the_forms_people_type(row, expected):
    found = read_row(row, 1)

    def shown(s: Symbol) -> str:
        unit = "?" if s.dimension is None else s.unit
        name, sign = f"{s.name}({s.of})" if s.of else s.name, "" if s.sign == "real" else s.sign
        return " ".join(x for x in (name, unit, sign, f"“{s.note}”" if s.note else "") if x)

    assert "; ".join(map(shown, found.symbols)) == expected
    assert found.problems == ()


@pytest.mark.parametrize(("row", "unit", "given"), [
    ("m = 2 kg", "kg", "m = 2 kg"), ("g = 9.81 m/s^2", "m/s^2", "g = 9.81 m/s^2"), ("g : 9.81 m/s^2", "m/s^2",
     "g = 9.81 m/s^2"), ("g : m/s^2, 9.81", "m/s^2", "g = 9.81 m/s^2"), ("g : m/s^2, = 9.81", "m/s^2",
     "g = 9.81 m/s^2"), ("g : m/s^2, g = 9.81", "m/s^2", "g = 9.81 m/s^2"), ("g = 9.8", "", "g = 9.8"),
    ("g: gravity, 9.8 m/s²", "m/s²", "g = 9.8 m/s²"), ("m = 2 kg (mass)", "kg", "m = 2 kg"),
    ("F = 3 kN pull of the tug", "kN", "F = 3 kN"), ("M = 6×10^24 kg", "kg", "M = 6×10^24 kg"),
    ("g : acceleration of gravity = 9.8 m/s^2", "m/s^2", "g = 9.8 m/s^2"),
])
def test_a_value_among_the_symbols_is_given(row, unit, given):
    found = declared([(3, row)])

    assert [s.unit for s in found.symbols] == [unit]
    assert found.given == ((3, given),)
    assert "read.given" in [p.code for p in found.problems]


def test_an_equation_among_the_symbols_is_given():
    found = declared([(3, "F = m a")])

    assert (found.symbols, found.given) == ((), ((3, "F = m a"),))


def test_a_name_declared_twice_keeps_its_first_row():
    found = declared([(3, "m : kg"), (4, "M : kg"), (5, "m : m")])

    assert [(s.name, s.unit) for s in found.symbols] == [("m", "kg"), ("M", "kg")]
    assert [(p.code, p.line) for p in found.problems] == [("symbols.twice", 5)]


def test_a_row_may_say_more_of_a_name_above():
    found = declared([(1, "a, g : m/s^2"), (2, "g > 0")])

    assert not found.problems
    assert [(s.name, s.sign) for s in found.symbols] == [("a", "real"), ("g", "positive")]


def test_a_row_may_say_more_of_several_names_above():
    found = declared([
        (1, "m, R, β, μ : kg, m, rad, 1"), (2, "m, R > 0, 0 < β < π/2, small, μ > 0"), (3, "q : N, positive")])

    assert not found.problems
    assert [(s.name, s.sign, len(s.bounds)) for s in found.symbols] == [
        ("m", "positive", 0), ("R", "positive", 0), ("β", "positive", 2), ("μ", "positive", 0), ("q", "positive", 0)]


@pytest.mark.parametrize("row", ["all positive", "All are positive.", "all of them positive", "all constants positive",
                                 "all > 0"])
def test_a_row_may_give_all_above_their_sign_but_not_what_moves(row):
    found = declared([(1, "m, k : kg, N/m"), (2, "x(t) : m"), (3, row), (4, "u : m/s")])

    assert not found.problems
    assert [(s.name, s.sign) for s in found.symbols] == [
        ("m", "positive"), ("k", "positive"), ("x", "real"), ("u", "real")]


@pytest.mark.parametrize("row", [
    "all positive except E", "all but E positive", "All are positive, except for E.", "everything > 0 but E"])
def test_a_row_may_give_all_above_but_some_their_sign(row):
    found = declared([(1, "m, v, E : kg, m/s, J"), (2, row)])

    assert not found.problems
    assert [(s.name, s.sign) for s in found.symbols] == [("m", "positive"), ("v", "positive"), ("E", "real")]


@pytest.mark.parametrize("row", ["m, v positive", "m and v are positive", "m, v all positive."])
def test_a_row_may_give_names_above_their_sign(row):
    found = declared([(1, "m, v, E : kg, m/s, J"), (2, row)])

    assert not found.problems
    assert [(s.name, s.sign) for s in found.symbols] == [("m", "positive"), ("v", "positive"), ("E", "real")]


def test_rows_beyond_the_limit_are_reported_and_not_silently_dropped():
    found = declared((line, f"q_{line} : kg") for line in range(1, MOST_ROWS + 3))

    assert len(found.symbols) == MOST_ROWS
    assert [(p.code, p.line) for p in found.problems] == [("symbols.too_many", MOST_ROWS + 1)]


@pytest.mark.parametrize("row", [
    "m : " + "kg " * 100_000, "m" * 100_000 + " : kg", "m : kg, about " + "9" * 900, "x : m, " + "(" * 900,
    "__import__('os') : kg", "m : kg, 9^9^9^9 < m", "m : kg, m < 1e999999", ",".join("abcdefgh") + " : kg",
])
def test_a_monstrous_row_is_answered(row):
    found = read_row(row, 1)

    assert found.symbols or found.problems or found.given


pieces = st.sampled_from([
    "m", "θ", ":", ",", "kg", ">", "<", "0", "≤", "about", "40", "--", "positive", "vector",
    "[", "]", "(", ")", "/", "^", "'",
    "=", "small", "y(t)", "deg", "e9",
])


@given(st.lists(pieces, max_size=12).map(" ".join) | st.text(max_size=60))
@example(".²<¹")
@settings(max_examples=300, deadline=None)
def test_no_row_makes_the_reading_raise(row):
    found = read_row(row, 1)

    assert found.symbols or found.problems or found.given or row.strip().startswith("#") or taken_apart(row) == ()
    assert all(problem.message for problem in found.problems)


@pytest.mark.parametrize(("rows", "positive"), [
    (["v, T : m/s, s", "v > 0, T > 0"], {"v", "T"}),
    (["m, M : kg", "m, M > 0"], {"m", "M"}),
    (["m, l : kg, m; all positive"], {"m", "l"}),
    (["k, K : N/m, both positive"], {"k", "K"}),
])
def test_several_symbols_are_said_to_be_positive_in_one_row(rows, positive):
    found = declared(enumerate(rows))

    assert not found.problems and not found.notes
    assert {s.name for s in found.symbols if s.sign == "positive"} == positive
