"""Units against the SI Brochure (9th edition, 2019) and against scipy's CODATA constants."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from derive.notation.lists.unit_names import UNITS as READER_UNITS
from derive.quantities.dimension_words import base_units, in_words, usual_unit
from derive.quantities.unit_table import PREFIXES, UNITS, dimension
from derive.quantities.units import UnreadUnit, known_unit, nearest_unit, parse_unit_text, unit
from derive.records import Dimension

# SI Brochure, 9th edition, table 7.
SI_PREFIXES = {
    "Q": 30, "R": 27, "Y": 24, "Z": 21, "E": 18, "P": 15, "T": 12, "G": 9, "M": 6, "k": 3, "h": 2, "da": 1,
    "d": -1, "c": -2, "m": -3, "μ": -6, "n": -9, "p": -12, "f": -15, "a": -18, "z": -21, "y": -24, "r": -27, "q": -30,
}

# SI Brochure, 9th edition, table 4: the 22 units with names of their own, in base units.
SI_DERIVED = {
    "rad": "1", "sr": "1", "Hz": "s^-1", "N": "kg m s^-2", "Pa": "kg m^-1 s^-2", "J": "kg m^2 s^-2",
    "W": "kg m^2 s^-3", "C": "A s", "V": "kg m^2 s^-3 A^-1", "F": "kg^-1 m^-2 s^4 A^2", "Ω": "kg m^2 s^-3 A^-2",
    "S": "kg^-1 m^-2 s^3 A^2", "Wb": "kg m^2 s^-2 A^-1", "T": "kg s^-2 A^-1", "H": "kg m^2 s^-2 A^-2",
    "lm": "cd", "lx": "cd m^-2", "Bq": "s^-1", "Gy": "m^2 s^-2", "Sv": "m^2 s^-2", "kat": "mol s^-1",
}

# SI Brochure, 9th edition, table 8: units beside SI, in SI.
BESIDE_SI = {
    "min": ("s", 60), "h": ("s", 3600), "d": ("s", 86400), "au": ("m", 149597870700), "°": ("1", math.pi / 180),
    "′": ("1", math.pi / 10800), "″": ("1", math.pi / 648000), "ha": ("m^2", 10**4), "L": ("m^3", Fraction(1, 1000)),
    "t": ("kg", 1000), "eV": ("J", 1.602176634e-19),
}


def read(text):
    found = parse_unit_text(text)
    assert not isinstance(found, UnreadUnit), found
    return found


def test_the_prefixes_are_those_of_the_si_brochure():
    assert {symbol: ten for symbol, _, ten in PREFIXES} == SI_PREFIXES


@pytest.mark.parametrize("symbol", SI_PREFIXES)
def test_a_prefix_multiplies_a_metre_by_its_power_of_ten_exactly(symbol):
    prefixed = unit(symbol + "m")

    assert prefixed is not None
    assert prefixed.scale == Fraction(10) ** SI_PREFIXES[symbol]


@pytest.mark.parametrize(("name", "base"), SI_DERIVED.items())
def test_a_derived_unit_of_the_si_brochure_is_one_of_its_base_units(name, base):
    found = unit(name)

    assert found is not None
    assert (found.dimension, found.scale) == read(base)


@pytest.mark.parametrize(("name", "in_si"), BESIDE_SI.items())
def test_a_unit_beside_si_has_the_value_of_the_si_brochure(name, in_si):
    found = unit(name)
    base, value = in_si

    assert found is not None
    assert found.dimension == read(base)[0]
    assert float(found.scale) == pytest.approx(float(value), rel=1e-15)


@pytest.mark.parametrize(("name", "value"), [
    ("ft", constants.foot), ("inch", constants.inch), ("yd", constants.yard), ("mi", constants.mile),
    ("nmi", constants.nautical_mile), ("kn", constants.knot), ("mph", constants.mph), ("kph", constants.kmh),
    ("lb", constants.pound), ("bar", constants.bar), ("atm", constants.atm), ("cal", constants.calorie),
    ("eV", constants.eV), ("u", constants.atomic_mass), ("°", constants.degree), ("arcmin", constants.arcmin),
    ("arcsec", constants.arcsec), ("L", constants.liter), ("ha", constants.hectare), ("au", constants.au),
    ("d", constants.day), ("h", constants.hour), ("min", constants.minute), ("t", constants.metric_ton),
    ("g", constants.gram), ("rpm", 2 * math.pi / 60), ("rev", 2 * math.pi), ("%", 0.01),
])
def test_an_everyday_unit_has_the_value_that_a_second_table_gives(name, value):
    found = unit(name)

    assert found is not None
    assert float(found.scale) == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(("typed", "ident"), [
    ("deg", "°"), ("degrees", "°"), ("Degrees", "°"), ("º", "°"), ("sec", "s"), ("seconds", "s"), ("metres", "m"),
    ("meters", "m"), ("kilometres", "km"), ("Kilograms", "kg"), ("kgs", ""), ("kph", "km/h"), ("kmh", "km/h"),
    ("l", "L"), ("ml", "mL"), ("hrs", "h"), ("mins", "min"), ("µm", "μm"), ("ohm", "Ω"), ("knots", "kn"),
    ("tonnes", "t"), ("newtons", "N"), ("N", "N"), ("n", ""), ("KG", ""), ("Mg", "Mg"), ("mg", "mg"), ("rev", "rev"),
    ("percent", "%"), ("__import__", ""), ("", ""), ("furlong", ""),
])
def test_a_unit_is_known_by_the_names_that_people_type(typed, ident):
    assert known_unit(typed) == ident


@pytest.mark.parametrize(("typed", "ident", "base"), [
    # not centi-day, milli-inch, peta-year, hecto-year, femtotonne, kilotonne
    ("cd", "cd", "cd"), ("min", "min", "s"), ("Pa", "Pa", "kg m^-1 s^-2"), ("ha", "ha", "m^2"), ("ft", "ft", "m"),
    ("kt", "kn", "m/s"),
])
def test_a_unit_with_a_name_of_its_own_is_not_read_as_a_prefix_before_another(typed, ident, base):
    assert known_unit(typed) == ident
    assert unit(typed).dimension == read(base)[0]


def test_every_unit_of_the_reader_is_in_the_table_but_those_that_are_no_multiples_of_si_units():
    assert {name for name in READER_UNITS if not known_unit(name)} <= {"°C", "dB"}


def test_units_that_nobody_types_are_marked_so_that_letters_are_not_taken_for_them():
    assert not unit("as").usual
    assert not unit("Em").usual
    assert all(unit(name).usual for name in ("kg", "km", "cm", "mm", "ms", "kN", "MPa", "N", "g", "hPa"))


@pytest.mark.parametrize(("typed", "powers"), [
    # kg, m, s
    ("kg/m^3", (1, -3, 0)), ("m/s²", (0, 1, -2)), ("m/s^2", (0, 1, -2)), ("m/s**2", (0, 1, -2)),
    ("m s^-2", (0, 1, -2)), ("m·s⁻²", (0, 1, -2)), ("m s-2", (0, 1, -2)), ("m/s/s", (0, 1, -2)),
    ("N m", (1, 2, -2)), ("N·m", (1, 2, -2)), ("N*m", (1, 2, -2)), ("N.m", (1, 2, -2)), ("N/m", (1, 0, -2)),
    ("kg m^2/s", (1, 2, -1)), ("rad/s", (0, 0, -1)), ("1/s", (0, 0, -1)), ("s^-1", (0, 0, -1)), ("s⁻¹", (0, 0, -1)),
    ("1", (0, 0, 0)), ("-", (0, 0, 0)), ("rad", (0, 0, 0)), ("%", (0, 0, 0)), ("m2", (0, 2, 0)), ("m^2", (0, 2, 0)),
    ("m^3/(kg s^2)", (-1, 3, -2)), ("N m²/kg²", (-1, 3, -2)), ("(m/s)²", (0, 2, -2)), ("(m/s)^2", (0, 2, -2)),
    ("m per s", (0, 1, -1)), ("kg m / s", (1, 1, -1)), ("m^(1/2)", (0, Fraction(1, 2), 0)), ("m ^ -1", (0, -1, 0)),
    ("m^-0.5", (0, Fraction(-1, 2), 0)), ("  kg  ", (1, 0, 0)), ("W/m²", (1, 0, -3)), ("Pa·s", (1, -1, -1)),
    ("s/m/kg", (-1, -1, 1)),
])
def test_a_unit_expression_has_the_dimension_that_it_says(typed, powers):
    assert read(typed)[0].powers[:3] == powers


@pytest.mark.parametrize(("typed", "scale"), [
    ("km/h", Fraction(5, 18)), ("kWh", 3_600_000), ("kW h", 3_600_000), ("g/cm^3", 1000), ("cm²", Fraction(1, 10000)),
    ("mm^3", Fraction(1, 10**9)), ("N/cm", 100), ("l/min", Fraction(1, 60000)), ("t/m³", 1000), ("km/s²", 1000),
])
def test_a_unit_expression_has_its_exact_si_value(typed, scale):
    assert read(typed)[1] == scale


@pytest.mark.parametrize(("typed", "piece", "nearest"), [
    ("kgg", "kgg", "kg"), ("metrs", "metrs", "metres"), ("N metrs", "metrs", "metres"), ("newtn m", "newtn", "newton"),
])
def test_a_mistyped_unit_is_pointed_at_with_the_nearest_one(typed, piece, nearest):
    found = parse_unit_text(typed)

    assert isinstance(found, UnreadUnit)
    assert found.piece == piece
    assert found.nearest == nearest


@pytest.mark.parametrize("typed", [
    "", " ", "m/", "/s", "m//s", "(m", "m)", "m^", "m^99", "2 m", "m·", "9.81", "m^1/0", "m^(1/0)", "kg m s mass",
    "((((((((m))))))))", "m" * 5000, "m^" * 40, "__import__('os')", "∞", "m\x00", "per",
])
def test_what_is_no_unit_is_refused_with_something_to_go_on(typed):
    found = parse_unit_text(typed)

    assert isinstance(found, UnreadUnit)
    assert found.hint or found.piece


def test_a_slash_followed_by_a_product_is_refused_since_it_is_written_with_both_meanings():
    found = parse_unit_text("J/kg K")

    assert isinstance(found, UnreadUnit)
    assert "brackets" in found.hint
    assert read("J/(kg K)") == read("J kg^-1 K^-1")


@given(st.text(max_size=100) | st.text(alphabet="kgmsN/^()-1 2·²⁻", max_size=30))
@settings(max_examples=300, deadline=None)
def test_no_text_makes_the_reading_of_a_unit_raise(text):
    parse_unit_text(text)
    known_unit(text)


def test_the_nearest_unit_of_a_very_long_word_is_looked_for_in_its_beginning_only():
    assert nearest_unit("x" * 10**6) == ""


# --- in words -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("typed", "words", "usual"), [
    ("N", "a force (N)", "N"), ("1", "a plain number", ""), ("m/s", "a speed (m/s)", "m/s"),
    ("J", "an energy or a moment of force (J)", "J"), ("kg m^2", "a moment of inertia (kg m²)", "kg m²"),
    ("kg^2 m", "kg² m", "kg² m"), ("m^(1/2)", "m^(1/2)", "m^(1/2)"), ("m^5", "m⁵", "m⁵"),
])
def test_a_dimension_is_said_in_words_that_a_student_knows(typed, words, usual):
    found = read(typed)[0]

    assert in_words(found) == words
    assert usual_unit(found) == usual


powers = st.integers(-4, 4).map(Fraction) | st.sampled_from([Fraction(1, 2), Fraction(-3, 2)])


@given(st.tuples(*[powers] * 7).map(Dimension))
def test_every_dimension_can_be_typed_and_reads_back(found):
    assert read(base_units(found) or "1") == (found, 1)
    assert bool(base_units(found)) == (found != dimension())


@pytest.mark.parametrize("row", UNITS, ids=lambda row: row[0].ident)
def test_the_usual_unit_of_every_units_dimension_is_worth_one_in_si(row):
    shown = usual_unit(row[0].dimension)

    assert read(shown or "1") == (row[0].dimension, 1)
