"""Which lines can be homogeneous, which term is pointed at, and what is learned from accepted lines."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from derive.notation.names import Scope
from derive.notation.reader import read_claim, read_line
from derive.notation.tree import Apply, Expr, Name, Neg, Num, Power, Product, Quotient, Relation, Span, Sum, Unit, walk
from derive.quantities.dimensions import Dimensions
from derive.quantities.units import parse_unit_text
from derive.records import Dimension, RawLine, Symbol, Unreadable
from tests.effort import effort

HARBOUR = {
    "m": "kg", "M": "kg", "g": "m/s^2", "k": "N/m", "c": "kg/s", "F": "N", "W": "J", "E": "J", "T": "s", "t": "s",
    "x(t)": "m", "y(t)": "m", "v(t)": "m/s", "v_0": "m/s", "h": "m", "L": "m", "d": "m", "R": "m", "θ(t)": "rad",
    "μ": "1", "ρ": "kg/m^3", "S": "m^2", "ω": "rad/s", "I": "kg m^2", "p": "kg m/s", "U(r)": "J", "r": "m",
    "G": "N m^2/kg^2", "P": "W", "n": "1", "λ": "kg/m",
}


def declared(rows: dict[str, str] = HARBOUR) -> tuple[Symbol, ...]:
    symbols = []
    for typed, unit in rows.items():
        name, _, of = typed.partition("(")
        dimension, scale = parse_unit_text(unit)
        symbols.append(Symbol(name, of.rstrip(")") or None, unit, dimension, scale))
    return tuple(symbols)


def of_unit(typed: str) -> Dimension:
    dimension, _ = parse_unit_text(typed)
    return dimension


SYMBOLS = declared()
SCOPE = Scope(symbols={symbol.name: symbol for symbol in SYMBOLS}, quick=True)


def claim(text: str, scope: Scope = SCOPE):
    found = read_claim(text, scope)
    assert not isinstance(found, Unreadable), (text, found)
    return found


# Where no declared letter is also a unit, a number's unit is read as one without a choice.
NO_UNIT_LETTERS = Scope(symbols={s.name: s for s in SYMBOLS if s.name in {"v", "v_0", "L", "F", "x", "μ"}})


def harbour() -> Dimensions:
    return Dimensions(SYMBOLS)


HOMOGENEOUS = [
    "F = m g",
    "m y'' = -k y",
    "m dv/dt = m g - c v",
    "d/dt(m v) = F",
    "d(½ v²)/dx = F/m",
    "T = 2π √(m/k)",
    "½ m v² + m g h = E",
    "v² = v_0² + 2 g h",
    "x = v_0 t + ½ g t²",
    "W = ∫_0^d F dx",
    "W = ∫ F dx",
    "[½ k x²]_0^d = W",
    "m v dv = F dx",
    "dv/(g - c v/m) = dt",
    "∫_{v_0}^v dv/v = -∫_0^t c/m dt",
    "sin θ = h/L",
    "tan θ = μ",
    "θ < π/2",
    "0 < θ < 90°",
    "v = v_0 e^(-c t/m)",
    "v = v_0 exp(-c t/m)",
    "v = (m g/c) tanh(c t/m)",
    "μ ≥ tan θ",
    "F = G m M/R²",
    "P = F v",
    "p = m v",
    "I θ'' = -m g L sin θ",
    "I = ∫_0^L λ x² dx",
    "x(0) = d",
    "y'(0) = v_0",
    "y(0) = 0",
    "F = -dU/dr",
    "U(R + h) = E",
    "v/v_0 ≪ 1",
    "x ≪ L",
    "m → ∞",
    "h → 0",
    "F ∝ m v",                                    # proportional: the constant has the dimension
    "(1 + v/v_0)^n ≈ 1 + n v/v_0",
    "(x, v) = (d, 0)",                            # a tuple of unlike things is compared part by part
    "x = d or x = -d",
    "x = ± d",
    "F = 0",
    "|F| = m g",
    "d/dt(∂E/∂x') = ∂E/∂x",                       # Lagrange's equation
    "E = ½ m (x'² + x² θ'²)",                     # polar
    "q = x'' - x θ'²",
    "(x, y) = (d cos θ, d sin θ)",
    "dm = λ dx",
    "dF/F = μ dθ",
    "Δp = F t",
    "F t = m v - m v_0",
    "F ≈ m g",
    "√(2 g h) = v",
    "cos²θ + sin²θ = 1",
    "v² - v_0² = 2 g (x - d)",
    "t = v/g",
    "y = Y cos(ω t + φ)",                         # Y and φ are not declared
    "y = A cos ωt + B sin ωt",
    "Q = a v² + b v",
    # logarithms of dimensional quantities, as everybody writes them
    "ln(v/v_0) = -c t/m",
    "ln v - ln v_0 = -c t/m",
    "ln v = ln v_0 - c t/m",
    "ln v = -c t/m + C",
    "v = e^(-c t/m + C)",
    "[ln v]_{v_0}^v = -c t/m",
    "-(m/c) ln(g - c v/m) = t + A",
    "∫ (m/(c v)) dv = (m/c) ln v",
    "(m/c) ln(g - c v/m) - (m/c) ln g = -t",
    # numbers put in for quantities
    "T = 2*3.14*sqrt(0.5/9.81) = 1.42 s",
    "F = 12",
    "v² = 2·9.81·h",
    "x = 5.0 t - 4.9 t²",
    "v = 3 + 2.0 t",
]


@pytest.mark.parametrize("typed", HOMOGENEOUS)
def test_a_right_line_is_never_called_inhomogeneous(typed):
    assert harbour().examine(claim(typed)) is None


@pytest.mark.parametrize("typed", [
    "v = 72 km/h = 20 m/s", "L = 7.5 cm", "F = 3 kg · 9.81 m/s²", "F = 90 N/m · 7.5 cm", "μ = 30 %", "L = 2 L + 3 mm",
    "F = 5 kg m/s²", "v = 20 m/s + v_0",
])
def test_quantities_with_their_units_fit(typed):
    assert harbour().examine(claim(typed, NO_UNIT_LETTERS)) is None
    assert not harbour().plain_numbers(claim(typed, NO_UNIT_LETTERS))


@pytest.mark.parametrize("typed", ["L = 5.0 m/s", "F = 2.5 kg · 3 m/s", "v = 20 m", "F = 3 kg", "v = 20 m/s + L"])
def test_a_unit_that_does_not_fit_is_found_even_where_plain_numbers_are_about(typed):
    dimensions = harbour()
    dimensions.adopt(claim("v_0 = 5.0", NO_UNIT_LETTERS))

    assert dimensions.examine(claim(typed, NO_UNIT_LETTERS)) is not None


@pytest.mark.parametrize(("typed", "pointed_at", "found", "expected"), [
    # two terms: the later one
    ("F = m v", "m v", "kg m s^-1", "kg m s^-2"),
    ("T = 2π √(k/m)", "2π √(k/m)", "s^-1", "s"),
    ("v² = v_0² + 2 g", "2 g", "m s^-2", "m^2 s^-2"),
    # more than two: the odd one out, on whichever side it stands
    ("m y'' = -k y + m v", "m v", "kg m s^-1", "kg m s^-2"),
    ("m v = m g - k x - 2 m + m g", "2 m", "kg", "kg m s^-2"),
    ("E = ½ m v + m g h", "½ m v", "kg m s^-1", "kg m^2 s^-2"),
    ("m + L = M + 2 m", "L", "m", "kg"),
    ("E = W + F = m g h", "F", "kg m s^-2", "kg m^2 s^-2"),
    ("d = h (1 + L)", "L", "m", "1"),
    # sides that are sound in themselves: the later one
    ("m v = m g - k x", "m g - k x", "kg m s^-2", "kg m s^-1"),
    ("y' = L sin θ + d cos θ", "L sin θ + d cos θ", "m", "m s^-1"),
    ("F = m g = k x = m v", "m v", "kg m s^-1", "kg m s^-2"),
    # in the middle of things
    ("h = L sin(θ + t)", "t", "s", "1"),
    ("h = L sin x", "x", "m", "1"),
    ("v = v_0 e^(-c t)", "-c t", "kg", "1"),
    ("v = v_0 exp(c t)", "c t", "kg", "1"),
    ("W = ∫_0^t F dx", "t", "s", "m"),
    ("y(L) = 0", "L", "m", "s"),
    ("(x, v) = (v_0, 0)", "v_0", "m s^-1", "m"),
    ("ln v = -c t/m", "v", "m s^-1", "1"),
    ("ln v - ln m = -c t/m", "v", "m s^-1", "1"),
    ("t = (m/c) ln v", "v", "m s^-1", "1"),
    ("F = m g + μ", "μ", "1", "kg m s^-2"),
    ("x = d or x = v", "v", "m s^-1", "m"),
    ("F ∝ m g + v", "v", "m s^-1", "kg m s^-2"),
    ("0 < h < t", "t", "s", "m"),
    ("m v dv = F dt", "F dt", "kg m s^-1", "kg m^2 s^-2"),
    ("d/dt(∂E/∂x') = ∂E/∂θ", "∂E/∂θ", "kg m^2 s^-2", "kg m s^-2"),
    ("E = ½ m (x'² + x θ'²)", "x θ'²", "m s^-2", "m^2 s^-2"),
    ("(x, y) = (d cos θ, ω sin θ)", "ω sin θ", "s^-1", "m"),
    ("dv/dt = g - c v", "c v", "kg m s^-2", "m s^-2"),
])
def test_the_term_that_does_not_fit_is_pointed_at_with_both_dimensions(typed, pointed_at, found, expected):
    mismatch = harbour().examine(claim(typed))

    assert mismatch is not None
    assert typed[mismatch.span.start:mismatch.span.end].removeprefix("-").strip() == pointed_at.removeprefix("-")
    assert mismatch.found == of_unit(found)
    assert mismatch.expected == of_unit(expected)
    assert mismatch.found_words
    assert mismatch.expected_words


def test_a_mismatch_speaks_in_words_that_a_student_knows():
    mismatch = harbour().examine(claim("F = m v"))

    assert mismatch.found_words == "a momentum (kg m/s)"
    assert mismatch.expected_words == "a force (N)"


def test_examining_teaches_nothing():
    dimensions = harbour()
    dimensions.examine(claim("q = m v"))

    assert dimensions.of(Name("q")) is None
    assert dimensions.free(claim("q = m v")) == ("q",)


def test_an_accepted_definition_gives_its_name_a_dimension():
    dimensions = harbour()

    assert dimensions.adopt(claim("q² = k/m"))
    assert dimensions.of(Name("q")) == of_unit("s^-1")
    assert dimensions.free(claim("q = 1/T")) == ()
    assert dimensions.examine(claim("q = 2π/T")) is None
    assert dimensions.examine(claim("q = 2π T")) is not None


def test_a_trial_solution_gives_all_of_its_constants_their_dimensions():
    dimensions = harbour()
    dimensions.adopt(claim("y = Y cos(q t + φ)"))

    assert [dimensions.of(Name(name)) for name in ("Y", "q", "φ")] == [of_unit(u) for u in ("m", "s^-1", "1")]


def test_names_that_only_occur_together_are_settled_when_one_of_them_is():
    dimensions = harbour()
    dimensions.adopt(claim("F = a b v"))
    assert dimensions.of(Name("a")) is None

    dimensions.adopt(claim("b = 2 h"))
    assert dimensions.of(Name("a")) == of_unit("kg m^-1 s^-1")


def test_a_line_that_does_not_fit_teaches_nothing():
    dimensions = harbour()

    assert not dimensions.adopt(claim("F = m v + q - q v"))
    assert dimensions.of(Name("q")) is None


def test_a_copy_learns_for_itself():
    dimensions = harbour()
    other = dimensions.copy()
    other.adopt(claim("q = m g"))

    assert other.of(Name("q")) is not None
    assert dimensions.of(Name("q")) is None


def test_a_prime_divides_by_time_though_nobody_declared_time():
    symbols = declared({"z": "m", "u": "m/s"})
    scope = Scope(symbols={s.name: s for s in symbols}, quick=True)

    assert Dimensions(symbols).examine(claim("z' = u", scope)) is None
    assert Dimensions(symbols).examine(claim("z'' = u", scope)) is not None


def test_a_working_without_declarations_fits_whatever_is_consistent():
    bare = Scope(quick=True)
    dimensions = Dimensions()

    for typed in ("v² = u² + 2 a s", "s = ut + ½at²", "y = x² + 3x + 2", "F = ma", "w' = 1 - w²"):
        assert dimensions.examine(claim(typed, bare)) is None
        assert dimensions.adopt(claim(typed, bare))


@pytest.mark.parametrize(("typed", "plain"), [
    ("F = 12", True), ("F = 12.5", True), ("F = 12 N", False), ("T = 2*3.14*sqrt(0.5/9.81) = 1.42 s", True),
    ("μ = 0.3", False), ("F = 0", False), ("F = m g", False), ("m → ∞", False), ("v = 3.0 + 2.0 t", True),
    ("h < 5", True), ("F = m v", False), ("F = 2.0 m v", True),
])
def test_plain_numbers_that_stand_for_quantities_are_remarked(typed, plain):
    assert harbour().plain_numbers(claim(typed)) is plain


def test_integers_may_be_values_once_values_have_been_named():
    dimensions = harbour()
    assert dimensions.examine(claim("x = 5 t")) is not None

    dimensions.adopt(claim("v_0 = 5 m/s", NO_UNIT_LETTERS))
    assert dimensions.examine(claim("x = 5 t")) is None
    assert dimensions.plain_numbers(claim("x = 5 t"))
    assert dimensions.examine_strictly(claim("x = 5 t")) is not None


def test_numbers_before_several_powers_of_a_letter_are_values():
    dimensions = harbour()
    assert dimensions.examine(claim("x = 5 t - 4 t²")) is None
    assert dimensions.plain_numbers(claim("x = 5 t - 4 t²"))
    assert dimensions.examine_strictly(claim("x = 5 t - 4 t²")) is not None
    assert dimensions.examine(claim("x = t (1 + 2 t)")) is None
    assert dimensions.examine(claim("x = v (1 - 2 v)")) is not None


@pytest.mark.parametrize(("typed", "units"), [
    ("h = 5 m", ["m"]), ("F = 5 m", []), ("F = 5 m g", []), ("m = 3 g", ["g"]), ("F = 2 N", ["N"]),
    ("v = 3 m/s", ["m", "s"]),
    ("T = 4 s", ["s"]), ("W = 3 m g h", []),
])
def test_the_reading_of_a_letter_as_a_unit_is_told_by_what_fits_without_plain_numbers(typed, units):
    """With m a mass, `h = 5 m` is a length only with the unit; `W = 3 m g h` is an energy only with names."""
    dimensions = harbour()
    scope = Scope(symbols=SCOPE.symbols)
    claims = [reading.statements[0].claim for reading in read_line(RawLine(1, typed, body=Span(0, len(typed))), scope)]
    fitting = [c for c in claims if dimensions.examine(c) is None and not dimensions.plain_numbers(c)]

    assert {tuple(n.ident for n in walk(c) if isinstance(n, Unit)) for c in fitting} <= {tuple(units)}
    assert bool(fitting) == (typed not in ("F = 5 m",))


# --- random trees ---------------------------------------------------------------------------------------

names = st.sampled_from(["m", "v", "h", "t", "q", "z", "μ"]).map(Name)
leaves = names | st.integers(0, 9).map(lambda n: Num(Fraction(n))) | st.sampled_from(["kg", "m", "s"]).map(Unit)


def grown(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    pairs = st.tuples(inner, inner)
    return st.one_of(
        pairs.map(Sum), pairs.map(Product), pairs.map(lambda p: Quotient(*p)), pairs.map(lambda p: Power(*p)),
        inner.map(Neg), inner.map(lambda e: Apply("ln", e)), inner.map(lambda e: Apply("sqrt", e)),
        inner.map(lambda e: Power(e, Num(Fraction(2)))), inner.map(lambda e: Apply("exp", e)),
    )


expressions = st.recursive(leaves, grown, max_leaves=12)


@given(expressions, expressions)
@settings(max_examples=300, deadline=None)
def test_any_two_expressions_are_examined_without_raising_and_equal_ones_fit(left, right):
    dimensions = harbour()
    dimensions.examine(Relation((left, right), ("=",)))
    alone = dimensions.examine(Relation((left, Num(Fraction(0))), ("=",)))

    if alone is None and "ln" not in repr(left):
        assert dimensions.examine(Relation((left, left), ("=",))) is None


@given(expressions, expressions)
@settings(max_examples=200, deadline=None)
def test_what_was_adopted_fits_ever_after(left, right):
    dimensions = harbour()
    line = Relation((left, right), ("=",))
    if dimensions.adopt(line):
        assert dimensions.examine(line) is None


def test_a_line_as_large_as_the_reader_allows_is_examined_with_bounded_effort():
    deep: Expr = Name("v")
    for _ in range(400):
        deep = Neg(Sum((deep, Product((Num(Fraction(2)), Name("v"))))))
    wide = Sum(tuple(Product((Name("m"), Name(f"q_{i}"))) for i in range(2000)))
    tower: Expr = Num(Fraction(9))
    for _ in range(50):
        tower = Power(Num(Fraction(9)), tower)

    def examined() -> None:
        assert harbour().examine(Relation((Name("v_0"), deep), ("=",))) is None
        harbour().adopt(Relation((Name("F"), wide), ("=",)))
        harbour().examine(Relation((Name("n"), tower), ("=",)))

    assert effort(examined) < 4_000_000
