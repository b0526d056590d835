"""Places that people read in two ways: every reading is offered, the plain one first."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.reader import MOST_READINGS, read_line
from derive.notation.tree import Span
from derive.records import Reading
from tests.notation.trees import QUICK, declared, dump, dumps, line, read, refused

SCOPE = declared("F m a v u k g b c d N s x(t) θ(t) ω A L U(r) r R h M E")

# Typed, and all readings in order.
READINGS = (
    ("a = k/2m", ["a = (* (/ k 2) m)", "a = (/ k (* 2 m))"]),
    ("E = 1/2 m v²", ["E = (* (/ 1 2) m (^ v 2))", "E = (/ 1 (* 2 m (^ v 2)))"]),
    ("a = b/c d", ["a = (* (/ b c) d)", "a = (/ b (* c d))"]),
    ("a = b/(c d)", ["a = (/ b (* c d))"]),
    ("a = b/(c) d", ["a = (* (/ b c) d)"]),
    ("a = b/c·d", ["a = (* (/ b c) d)"]),
    ("a = sin ω t", ["a = (sin (* ω t))", "a = (* (sin ω) t)"]),
    ("a = sin ωt", ["a = (sin (* ω t))"]),
    ("a = sin θ/2", ["a = (/ (sin θ) 2)", "a = (sin (/ θ 2))"]),
    ("a = ½ g sin θ t²", ["a = (* 1/2 g (sin θ) (^ t 2))", "a = (* 1/2 g (sin (* θ (^ t 2))))"]),
    ("a = √2 g", ["a = (* (sqrt 2) g)", "a = (sqrt (* 2 g))"]),
    ("a = e^-t/L", ["a = (/ (^ #e (- t)) L)", "a = (^ #e (- (/ t L)))"]),
    ("a = 5 m", ["a = (* 5 m)", "a = (* 5 [m])"]),
    ("a = 2 N", ["a = (* 2 N)", "a = (* 2 [N])"]),
    ("a = 5 kg", ["a = (* 5 [kg])", "a = (* 5 k g)"]),
    ("a = 72 km/h", ["a = (* 72 (/ [km] [h]))", "a = (/ (* 72 [km]) h)", "a = (/ (* 72 k m) h)"]),
    ("a = 5·m", ["a = (* 5 m)"]),
    ("a = 2 m g u", ["a = (* 2 m g u)"]),
    ("a = v(M + m)", ["a = (* v (+ M m))", "a = (at v (+ M m))"]),
    ("a = U(R + h)", ["a = (at U (+ R h))", "a = (* U (+ R h))"]),
    ("a = x(0)", ["a = (at x 0)"]),
    ("a = x(M)", ["a = (at x M)", "a = (* x M)"]),
    ("a = F dx", ["a = (* F (d x))", "a = (* F d x)"]),
    ("a = g asinθ", ["a = (* g a (sin θ))", "a = (* g (arcsin θ))"]),
    ("a = log b", ["a = (ln b)", "a = (log10 b)"]),
)


@pytest.mark.parametrize(("typed", "trees"), READINGS)
def test_each_way_to_read_a_line_is_offered_once(typed: str, trees: list[str]) -> None:
    assert dumps(typed, SCOPE) == trees


def test_one_typed_piece_is_read_in_one_way_throughout_a_line() -> None:
    readings = dumps("k/2m = k/2m", SCOPE)

    assert readings == ["(* (/ k 2) m) = (* (/ k 2) m)", "(/ k (* 2 m)) = (/ k (* 2 m))"]


def test_a_reading_tells_the_choices_it_took() -> None:
    plain, other = read("a = k/2m", SCOPE)

    assert [(c.kind, c.typed, c.taken, c.plain) for c in plain.choices] == [("slash", "k/2m", "k/2·m", True)]
    assert [(c.kind, c.typed, c.taken, c.plain) for c in other.choices] == [("slash", "k/2m", "k/(2·m)", False)]


def test_all_slashes_read_the_other_way_come_before_one_of_many() -> None:
    readings = dumps("a = b/c d + c/d b + d/b c", SCOPE)

    assert readings[1] == "a = (+ (/ b (* c d)) (/ c (* d b)) (/ d (* b c)))"


def test_no_line_has_more_than_sixteen_readings() -> None:
    typed = "F = " + " + ".join(f"{x}/{y} {z}" for x in "abc" for y in "kmg" for z in "uv")

    assert len(read(typed, SCOPE)) == MOST_READINGS


def bracketed(text: str, scope: Scope) -> list[Reading]:
    opening = text.index("[")
    found = read_line(line(text, Span(opening, len(text))), scope)
    assert isinstance(found, list)
    return found


def test_a_bracket_beside_the_last_factor_is_a_factor_first() -> None:
    factor, reason = bracketed("v = 2 [a + b]", SCOPE)

    assert dump(factor) == "v = (* 2 (+ a b))"
    assert (dump(reason), reason.reason) == ("v = 2", "a + b")


def test_a_bracket_that_stands_apart_is_a_reason_first() -> None:
    reason, factor = bracketed("v = u   [a + b]", SCOPE)

    assert (dump(reason), reason.reason) == ("v = u", "a + b")
    assert dump(factor) == "v = (* u (+ a b))"


def test_a_bracket_that_is_no_mathematics_is_a_reason() -> None:
    (reading,) = bracketed("v = u [conserved here]", SCOPE)

    assert reading.reason == "conserved here"


@pytest.mark.parametrize("typed", [
    "T = 200 e^(0.3·4π) N", "T = 200·e^(1.2) N", "T = 12 cos(30°) N", "T = 4 ln(2) m/s",
])
def test_behind_figures_alone_a_unit_may_follow_a_function(typed: str) -> None:
    assert dump(read(typed, QUICK)[0].statements[0].claim).rstrip(")").endswith("]")


@pytest.mark.parametrize("typed", ["T = m cos(30°) g", "T = 3 sin(30°) m g"])
def test_behind_a_function_that_names_stand_beside_they_are_names(typed: str) -> None:
    assert not dump(read(typed, QUICK)[0].statements[0].claim).rstrip(")").endswith("]")


def test_a_unit_in_brackets_stays_a_unit() -> None:
    assert dumps("x = 5 [m]", QUICK)[0] == "x = (* 5 [m])"


def test_names_that_the_line_defines_may_be_used_before() -> None:
    assert dumps("a = A n, where n = √k", SCOPE) == ["a = (* A n); let: n = (sqrt k)"]


def test_a_trial_brings_its_names_along() -> None:
    assert dumps("try x = X cos(ω t + φ)", SCOPE)[0] == "try: x = (* X (cos (+ (* ω t) φ)))"


def test_a_general_solution_may_bring_its_constants() -> None:
    assert dumps("x = A cos ωt + B sin ωt + C", SCOPE)[0] == "x = (+ (* A (cos (* ω t))) (* B (sin (* ω t))) C)"


def test_the_time_need_not_be_declared() -> None:
    assert dumps("x = v t", SCOPE)[0] == "x = (* v t)"


def test_t_after_a_number_is_a_tonne_unless_something_moves() -> None:
    assert dumps("m = 2 t", declared("m"))[0] == "m = (* 2 [t])"
    assert dumps("m = 2 t", declared("m y(t)"))[0] == "m = (* 2 t)"


def test_a_derivative_is_certain_even_where_d_is_declared() -> None:
    assert dumps("a = dv/dx", SCOPE) == ["a = (D v x)"]


def test_two_quantities_side_by_side_are_not_multiplied() -> None:
    assert refused("t = 2 min 30 s", QUICK).expected == "a sign between these two quantities"
