"""Lines that cannot be read: the place, what was expected there, and the nearest declared name."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.notation.trees import declared, dump, read, refused

SCOPE = declared("F m a v u ρ y(t) k θ g x(t) x_0 ω v_max", labels="1 2")

# Typed, the place marked, and what was expected.
EXPECTED = (
    ("F = m a +", "+", "something after the plus sign"),
    ("F = m a -", "-", "something after the minus sign"),
    ("F =", "=", "something after the relation sign"),
    ("F = a =", "=", "something after the relation sign"),
    ("F = m *", "*", "a factor after the multiplication sign"),
    ("F = * m", "*", "a factor before the multiplication sign"),
    ("F = m + * a", "*", "a factor before the multiplication sign"),
    ("F = m /", "/", "something after the slash to divide by"),
    ("F = / m", "/", "something before the slash"),
    ("F = x^", "^", "an exponent after the ^"),
    ("F = ^2", "^", "a base before the ^"),
    ("x²^3 = 3", "^", "brackets that say which power is meant, as in (x²)^3"),
    ("F = (m a", "(", "a closing bracket for the one opened here"),
    ("F = m a)", ")", "an opening bracket before this ‘)’"),
    ("F = (m a]", "]", "‘)’ to close the ‘(’ opened before"),
    ("F = ()", "(", "something inside the brackets"),
    ("F = (a, )", ",", "something after the comma"),
    ("F = |v", "|", "a second upright bar to close this one"),
    ("F = (a = m)", "(a = m)", "no relation sign inside these brackets"),
    ("F = sin", "sin", "an argument after this sin"),
    ("F = sin / 2", "sin", "an argument after this sin"),
    ("F = √ + 2", "√", "an argument after this √"),
    ("F = ∫ v", "∫", "a differential such as dx, to say what the integral is over"),
    ("F = ∫_0 v dt", "0", "an upper limit as well (∫_0^d), or no limits at all"),
    ("F = ∂", "∂", "a name after this ∂"),
    (r"\frac{a} = 2", "=", r"two pairs of braces after \frac"),
    ("m g", "g", "a relation sign such as = after this"),
    ("F = m a, m g", "g", "a relation sign such as = after this"),
    ("F = m a or", "or", "another possibility after ‘or’"),
    ("= m a", "=", "something before the relation sign; there is no relation above that this line could continue"),
    ("F = m a!", "!", "a sign that is known; ‘!’ is not"),
    ("F = m @ a", "@", "a sign that is known; ‘@’ is not"),
    ("_0 = 3", "_", "a name before the _"),
    ("x = 2,5", "2,5", "a point in the number (2.5), not a comma"),
    ("T = 25·(9,81 - 1,96)", "9,81", "a point in the number (9.81), not a comma"),
    ("a = 9.81 (25 - 0,3·40)/65", "0,3", "a point in the number (0.3), not a comma"),
    ("x = 1,000", "1,000", "a point in the number (1.000), not a comma, or no comma at all (1000)"),
    ("x = 2.3.4", "2.3.4", "a number with one point"),
    ("x = 1e999999", "1e999999", "a power of ten no larger than 400"),
    ("x = 1.2×10^999", "1.2×10^999", "a power of ten no larger than 400"),
)

# Typed, the unknown name, and the declared one that looks most like it.
UNKNOWN = (
    ("F = m w", "w", "ω"),
    ("F = m p", "p", "ρ"),
    ("F = m X", "X", "x"),
    ("F = m x1", "x1", "x_0"),
    ("F = m omga", "omga", "ω"),
    ("F = m vmx", None, None),     # v m x: three declared names
    ("F = m v_mx", "v_mx", "v_max"),
    ("F = m acc", "acc", ""),
    ("vel = u + a", "vel", ""),
    ("Energy = m g", "Energy", ""),
    ("F = ∂L", "L", ""),
    (r"F = \foo{x}", r"\foo", ""),
)


@pytest.mark.parametrize(("typed", "place", "expected"), EXPECTED)
def test_an_unreadable_line_says_where_and_what_was_expected(typed: str, place: str, expected: str) -> None:
    found = refused(typed, SCOPE)

    assert found.expected == expected
    assert typed[found.span.start:found.span.end] == place


@pytest.mark.parametrize(("typed", "name", "nearest"), UNKNOWN)
def test_an_unknown_name_is_shown_with_the_nearest_declared_one(typed: str, name: str | None, nearest: str) -> None:
    if name is None:
        assert dump(read(typed, SCOPE)[0]) == "F = (* m v m x)"
        return
    found = refused(typed, SCOPE)

    assert typed[found.span.start:found.span.end] == name
    assert found.nearest == nearest
    assert found.expected.startswith("a declared name")


def test_a_word_is_no_product_of_names_that_nobody_has_declared() -> None:
    free = replace(SCOPE, free=True)

    assert refused("so that == then", free).expected == "something after the relation sign"
    assert refused("F = than", free).expected .startswith("a declared name")


@pytest.mark.parametrize(("typed", "word"), [("F = m times a", "times"), ("F = m plus a", "plus")])
def test_a_word_that_stands_for_a_sign_is_not_skipped(typed: str, word: str) -> None:
    assert refused(typed, SCOPE).expected == f"a sign instead of the word ‘{word}’"


def test_a_word_between_two_sides_is_not_skipped() -> None:
    assert refused("F = the mass = m a", SCOPE).expected == "a declared name; ‘the’ is not declared"
