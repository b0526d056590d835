"""Letters typed together without a declaration: components, products and Greek names told by the page."""

from __future__ import annotations

import pytest

from derive.notation.lexemes.joined import components_in, indexed_in, products_in


@pytest.mark.parametrize(("lines", "names"), [
    (["Rx = T cosβ", "Ry + T sinβ = W"], ("Rx", "Ry")),
    (["vx = v0 cosα, vy = v0 sinα - g t"], ("vx", "vy")),
    (["so Fy = -k y", "|F|² = Fx² + Fy²"], ("Fx", "Fy")),
])
def test_x_and_y_behind_one_letter_are_its_components(lines: list[str], names: tuple[str, ...]) -> None:
    assert components_in(lines) == names


@pytest.mark.parametrize("lines", [
    ["Fx = ½mv²"],                       # a force times its way
    ["kx = mg", "m y'' = -ky"],          # a stiffness has no components
    ["U = ½kx² + ½ky²", "F = -kx - ky"],
])
def test_what_could_be_a_product_stays_one(lines: list[str]) -> None:
    assert components_in(lines) == ()


@pytest.mark.parametrize("line", ["½mv² + 2mgR = ½mu²", "mu = mv + MV", "mV - mu = 0"])
def test_a_mass_times_a_speed_beside_another_is_no_greek_letter(line: str) -> None:
    assert products_in([line]) == {"mu"}


@pytest.mark.parametrize("lines", [
    ["f = mu N", "½mv² = mgh"],
    ["tan θ = mu"],
    ["ma = mg sinθ - mu mg cosθ", "mv = mu"],
    ["a = g(sinθ - mu cosθ)"],
    ["f = μN", "mu = mv"],
    ["mu_s = 0.3", "mu = mv"],
])
def test_a_coefficient_that_something_is_taken_times_of_is_greek(lines: list[str]) -> None:
    assert "mu" not in products_in(lines)


@pytest.mark.parametrize(("lines", "names"), [
    (["vf² = vi² + 2 a s"], {"vf", "vi"}),
    (["m vf - m vi = F t"], {"vf", "vi"}),
    (["Wf = -μ m g s", "W = Wf + F s"], {"Wf"}),
    (["so ve² = 2 G M/R"], {"ve"}),
    (["terminal velocity vt = m g/b", "v = vt (1 - e^(-b t/m))"], {"vt"}),
    (["vt = s"], set()),                 # a speed times its time
    (["e = 0.8", "ve = w", "v = 3"], set()),
    (["Fs = ½ m v²"], set()),            # a force times its way
])
def test_a_letter_and_its_mark_are_one_name(lines: list[str], names: set[str]) -> None:
    assert indexed_in(lines) == names


def test_what_turns_is_taken_times_a_radius_that_stands_by_itself() -> None:
    assert products_in(["v = ωr", "I = c m r²"]) == {"ωr"}
    assert products_in(["ωr = √(ω0² - 2γ²)"]) == frozenset()
