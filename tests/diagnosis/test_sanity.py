"""What a mechanic would look at in a final result, and where there is nothing to say, silence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from derive.check import check_text
from derive.diagnosis.alike import number_of
from derive.diagnosis.results import observations
from derive.diagnosis.sanity import Result, look_at, solved_for
from derive.diagnosis.special import put_zero
from derive.messages import sentence
from derive.notation.tree import Expr, Name, Num, Relation, rebuilt, walk
from derive.records import Dimension, Symbol

from .trees import PI, cos, deg, names, rel, sin, sqrt, tree

a, F, g, k, m, R, r, T, v = names("a F g k m R r T v")
m1, m2, θ, μ = names("m_1 m_2 θ μ")
MASS = Dimension((Fraction(1), *(Fraction(0),) * 6))
SYMBOLS = {
    **{n: Symbol(n, unit="kg", sign="positive", dimension=MASS) for n in ("m", "m_1", "m_2")},
    "θ": Symbol("θ", unit="rad", sign="positive"), "μ": Symbol("μ", unit="1", sign="nonnegative"),
    "g": Symbol("g", unit="m/s^2", sign="positive"), "k": Symbol("k", unit="N/m", sign="positive"),
    "T": Symbol("T", unit="s", sign="positive"), "a": Symbol("a", unit="m/s^2"),
}


def value(node: Expr, values: Mapping[str, float]) -> float | None:
    put_in = {id(n): Num(Fraction(values[n.ident])) for n in walk(node) if isinstance(n, Name)}
    found = complex(number_of(rebuilt(node, put_in))[0])  # type: ignore[arg-type]
    return found.real if abs(found.imag) < 1e-12 else None


def samples(names_of: tuple[str, ...]) -> list[dict[str, float]]:
    random = Random(5)
    return [
        {n: deg(random.uniform(5, 85)) if n == "θ" else random.uniform(0.5, 5) for n in names_of} for _ in range(12)
    ]


def said_of(relation: Relation, **changed: Symbol) -> list[str]:
    solved = solved_for(relation)
    assert solved is not None
    name, expression = solved
    inside = tuple(n.ident for n in walk(expression) if isinstance(n, Name))
    result = Result(name, expression, {**SYMBOLS, **changed}, samples(inside), value, words)
    return [sentence(seen.code, seen.facts) for seen in look_at(result)]


def words(node: object) -> str:
    """Enough of a printer for these results."""
    return {
        tree(g * sin(θ)): "g sin θ", tree(-(g * μ)): "-g μ", tree(g): "g", tree(-g): "-g", tree(m * g): "m g",
    }.get(node, "something")  # type: ignore[call-overload]


def test_an_incline_without_friction_and_laid_flat() -> None:
    assert said_of(rel(a, g * (sin(θ) - μ * cos(θ)))) == [
        "a can come out with either sign, depending on the values.",
        "For θ = 0 it becomes a = -g μ.",
        "Without friction (μ = 0) it becomes a = g sin θ.",
    ]


def test_two_weights_over_a_pulley() -> None:
    assert said_of(rel(a, (m1 - m2) * g / (m1 + m2))) == [
        "a can come out with either sign, depending on the values.",
        "With m_1 and m_2 equal, a is 0.",
        "For m_1 = 0 it becomes a = -g.",
        "For m_2 = 0 it becomes a = g.",
        "As m_1 grows very large, a approaches g.",
        "As m_2 grows very large, a approaches -g.",
    ]


def test_a_weight_that_goes_with_its_mass_has_nothing_said_of_it() -> None:
    assert said_of(rel(T, m * g * (3 - 2 * cos(θ)))) == [
        "T comes out positive wherever it was tried, as it should.",
        "For θ = 0 it becomes T = m g.",
    ]


def test_a_period_grows_with_its_mass_and_a_product_says_nothing_of_its_sign() -> None:
    assert said_of(rel(T, 2 * PI * sqrt(m / k))) == [
        "As m goes to 0, so does T.", "As m grows very large, T grows without bound.",
    ]


def test_a_positive_quantity_that_comes_out_negative_is_a_hint_and_comes_first() -> None:
    found = said_of(rel(T, m1 / k - m2 / k))

    assert found[0].startswith("T is declared positive, yet this comes out negative for some values allowed.")


def test_a_root_of_something_negative_is_asked_about_and_no_sign_is_claimed() -> None:
    found = said_of(rel(v, sqrt(g * (sin(θ) - μ * cos(θ)))))

    assert found[0] == "For some values allowed there is no such v at all. When would that be?"
    assert not any("positive" in s for s in found)


def test_a_result_that_bursts_for_equal_masses_is_asked_about() -> None:
    found = said_of(rel(a, g * (m1 + m2) / (m1 - m2)))

    assert "grows without bound. Is that what should happen?" in found[0]


def test_a_dimension_is_named_where_it_is_known() -> None:
    base = Result("T", tree(2 * PI * sqrt(m / k)), SYMBOLS, samples(("m", "k")), value, words)

    first = look_at(replace(base, dimension=lambda _: "a time"))[0]

    assert sentence(first.code, first.facts) == "T comes out as a time, as it should."


@pytest.mark.parametrize("relation", [
    rel(T, "≥", m / k), rel(T * k, m), rel(T, 3),
])
def test_only_a_name_given_by_symbols_is_a_result(relation: Relation) -> None:
    assert solved_for(relation) is None


def test_the_last_side_in_symbols_of_a_chain_is_the_result() -> None:
    assert solved_for(rel(T, "=", m / k, "=", m1 / k, "=", 3)) == ("T", tree(m1 / k))


@pytest.mark.parametrize(("before", "after"), [
    (g * sin(θ), 0), (g * cos(θ), g), (m * g + θ * k, m * g), (g / (k + θ), g / k), (sqrt(k + θ), sqrt(k)),
    (g / θ, None), (g - θ ** 2, g), (g ** θ, 1), (g * k, g * k),
])
def test_zero_is_put_in_as_a_person_would_or_not_at_all(before: object, after: object) -> None:
    found = put_zero(tree(before), "θ")

    assert found == (None if after is None else tree(after))


def said_below(text: str) -> set[str]:
    found = observations(check_text(text))
    return {o.code for o in found[1]} if found is not None else set()


def test_what_the_task_gives_in_numbers_is_not_imagined_otherwise() -> None:
    page = "F - R = m a\na = (F - R)/m\n"

    assert "sanity.sign_turns" in said_below(page)
    assert "sanity.sign_turns" not in said_below(f"m = 2 kg, F = 5 N, R = 1 N\n{page}")


@pytest.mark.parametrize("page", [
    "F = k_1 x_1\nF = k_2 x_2\nx = x_1 + x_2\nF = k x\nk = k_1 k_2/(k_1 + k_2)\nT = 2π sqrt(m/k)\n"
    "T = 2π sqrt(m (k_1 + k_2)/(k_1 k_2))\n",
    "F = (m_1 + m_2) a\nN = m_2 a\nN = m_2 F/(m_1 + m_2)\n",
    "m_1 u_1 + m_2 u_2 = (m_1 + m_2) v\nv = (m_1 u_1 + m_2 u_2)/(m_1 + m_2)\n",
])
def test_sizes_that_nobody_declared_are_not_taken_to_be_negative(page: str) -> None:
    assert not said_below(page)


def test_a_sign_that_the_page_gives_is_not_said_to_turn() -> None:
    page = "m v²/r = N + m g\n{}½ m v² + 2 m g r = m g h\nN = m v²/r - m g\nN = 2 m g h/r - 5 m g\n"

    assert "sanity.sign_turns" in said_below(page.format(""))
    assert "sanity.sign_turns" not in said_below(page.format("N ≥ 0\n"))


def test_with_a_bound_that_the_page_gives_nobody_asks_when_there_is_no_result() -> None:
    page = "{}a = g (sin θ - μ cos θ)\nv² = 2 a ℓ\nv = sqrt(2 g ℓ (sin θ - μ cos θ))\n"

    assert "sanity.no_value" in said_below(page.format(""))
    assert "sanity.no_value" not in said_below(page.format("μ < tan θ\n"))
    assert "sanity.no_value" not in said_below(page.format("a > 0\n"))


def test_masses_that_are_tied_to_each_other_are_not_imagined_apart() -> None:
    page = "{}(m_1 + m_2) a = (m_1 - m_2) g\na = (m_1 - m_2) g/(m_1 + m_2)\n"

    assert "sanity.sign_turns" in said_below(page.format(""))
    assert "sanity.sign_turns" not in said_below(page.format("m_1 = 3 m_2\n"))
    assert "sanity.sign_turns" not in said_below(page.format("m_1 > m_2\n"))


@pytest.mark.parametrize("page", [
    "m y'' + b y' + k y = 0\ntry y = A e^(λ t)\nm λ² + b λ + k = 0\nλ = (-b + √(b² - 4 m k))/(2 m)\n",
    "x'' = -ω² x\nx(0) = x0, x'(0) = v0\nx = x0 cos ω t + (v0/ω) sin ω t\n",
])
def test_nobody_asks_for_the_sign_of_what_is_complex_or_goes_with_time(page: str) -> None:
    assert not said_below(page) & {"sanity.no_value", "sanity.sign_turns"}


def test_a_size_by_its_letter_alone_is_not_said_to_come_out_positive() -> None:
    page = "m x'' + k x = F cos Ω t\ntry x = A cos Ω t\n-m A Ω² + k A = F\nA = F/(k - m Ω²)\n"

    assert "sanity.sign_turns" in said_below(page)


def test_a_bound_that_stands_below_a_result_is_kept_to_as_well() -> None:
    page = "y = x tan α - g x²/(2 v_0² cos² α)\ny = x tan α - g x² (1 + tan² α)/(2 v_0²)\n{}x² ≥ 0\n"

    assert "sanity.sign_turns" in said_below(page.format(""))
    assert "sanity.sign_turns" not in said_below(page.format("y ≥ 0\n"))


def test_an_identity_among_the_lines_ties_nothing() -> None:
    page = "m a = m g sin θ - μ m g cos θ\na = g sin θ - μ g cos θ = g (sin θ - μ cos θ)\nv² = 2 a ℓ\n"

    assert "sanity.no_value" in said_below(f"{page}v = sqrt(2 g ℓ (sin θ - μ cos θ))\n")
