"""Numbers, quantities with their units, and the signs of relations."""

from __future__ import annotations

import pytest

from tests.notation.trees import QUICK, dumps

# A decimal keeps its last written digit: 981e-2 is 9.81.
NUMBERS = (
    ("x = 9.81", "x = 981e-2"),
    ("x = .5", "x = 5e-1"),
    ("x = 0.50", "x = 50e-2"),
    ("x = 12", "x = 12"),
    ("x = 12 000", "x = 12000"),
    ("x = 1 234 567", "x = 1234567"),
    ("x = 12 000.5", "x = 120005e-1"),
    ("x = 1.2e3", "x = 12e2"),
    ("x = 1.2E-3", "x = 12e-4"),
    ("x = 2e3", "x = 2e3"),
    ("x = 1.2×10³", "x = 12e2"),
    ("x = 1.2×10^3", "x = 12e2"),
    ("x = 1.2*10^-3", "x = 12e-4"),
    ("x = 1.2 x 10^3", "x = 12e2"),
    ("x = 1.2·10^{-3}", "x = 12e-4"),
    ("x = 1.2 \\times 10^{-3}", "x = 12e-4"),
    ("x = 6.7·10^-11", "x = 67e-12"),
    ("x = 10^-11", "x = (^ 10 (- 11))"),
    ("x = 10⁻¹¹", "x = (^ 10 (- 11))"),
    ("x = 3·10", "x = (* 3 10)"),
    ("x = 0.40 kg", "x = (* 40e-2 [kg])"),
    ("x = 90 N/m", "x = (* 90 (/ [N] [m]))"),
    ("x = 7.5 cm", "x = (* 75e-1 [cm])"),
    ("v = 72 km/h", "v = (* 72 (/ [km] [h]))"),
    ("m = 10³ kg", "m = (* (^ 10 3) [kg])"),
    ("m = 10^-3 kg", "m = (* (^ 10 (- 3)) [kg])"),
    ("v = 20 m/s", "v = (* 20 (/ [m] [s]))"),
    ("v = 20m/s", "v = (* 20 (/ [m] [s]))"),
    ("g = 9.81 m/s^2", "g = (* 981e-2 (/ [m] (^ [s] 2)))"),
    ("g = 9.81 m/s²", "g = (* 981e-2 (/ [m] (^ [s] 2)))"),
    ("g = 9.81 m s^-2", "g = (* 981e-2 (* [m] (^ [s] (- 2))))"),
    ("g = 9.81 m s⁻²", "g = (* 981e-2 (* [m] (^ [s] (- 2))))"),
    ("g = 9.81 m·s⁻²", "g = (* 981e-2 (* [m] (^ [s] (- 2))))"),
    ("g = 9.81 m/s2", "g = (* 981e-2 (/ [m] (^ [s] 2)))"),
    ("M = 5 N m", "M = (* 5 (* [N] [m]))"),
    ("M = 5 N·m", "M = (* 5 (* [N] [m]))"),
    ("E = 3 kW h", "E = (* 3 (* [kW] [h]))"),
    ("v = (5.4/3.6) m/s", "v = (* (/ 54e-1 36e-1) (/ [m] [s]))"),
    ("R = (100 + 200) N", "R = (* (+ 100 200) [N])"),
    ("p = 3 kg m/s", "p = (* 3 (/ (* [kg] [m]) [s]))"),
    ("p = 3 kg·m/s", "p = (* 3 (/ (* [kg] [m]) [s]))"),
    ("c = 4 J/(kg K)", "c = (* 4 (/ [J] (* [kg] [K])))"),
    ("θ = 30°", "θ = (* 30 [°])"),
    ("θ = 30 deg", "θ = (* 30 [°])"),
    ("θ = 30 degrees", "θ = (* 30 [°])"),
    ("θ = π/6 rad", "θ = (* (/ #π 6) [rad])"),
    ("θ = 2π rad", "θ = (* 2 #π [rad])"),
    ("t = 3 s", "t = (* 3 [s])"),
    ("t = 3 seconds", "t = (* 3 [s])"),
    ("t = 5 min", "t = (* 5 [min])"),
    ("v = 50 kph", "v = (* 50 (/ [km] [h]))"),
    ("x = 5 m", "x = (* 5 [m])"),
    ("x = 5 [m]", "x = (* 5 [m])"),
    ("x = 5 [m/s]", "x = (* 5 (/ [m] [s]))"),
    ("x = 5·m", "x = (* 5 m)"),
    ("F = 2 m g", "F = (* 2 m g)"),
    ("v² = 2 g h", "(^ v 2) = (* 2 g h)"),
    ("E = m g h = (2.0 kg)(9.81 m/s²)(3.0 m)",
     "E = (* m g h) = (* (* 20e-1 [kg]) (* 981e-2 (/ [m] (^ [s] 2))) (* 30e-1 [m]))"),
    ("F = 2.0 kg × 9.81 m/s²", "F = (* (* 20e-1 [kg]) (* 981e-2 (/ [m] (^ [s] 2))))"),
    ("e = 85 %", "e = (* 85 [%])"),
    ("e = 85%", "e = (* 85 [%])"),
    ("x = 5 μm", "x = (* 5 [μm])"),
    ("s = 80 m / (4 m/s)", "s = (/ (* 80 [m]) (* 4 (/ [m] [s])))"),
    ("d = s / 5 m", "d = (/ s (* 5 [m]))"),
    ("v = 2(3 m/s)", "v = (* 2 (* 3 (/ [m] [s])))"),
    ("x = ½ m", "x = (* 1/2 m)"),
    ("M = 5 Nm", "M = (* 5 (* [N] [m]))"),
    ("I = 3 kgm^2", "I = (* 3 (* [kg] (^ [m] 2)))"),
    ("a = 9.8 ms^-2", "a = (* 98e-1 (* [m] (^ [s] (- 2))))"),
    ("x = 3/4 m", "x = (* (/ 3 4) [m])"),
    ("x = 1/2 km", "x = (* (/ 1 2) [km])"),
    ("a = 12N/3kg", "a = (/ (* 12 N) (* 3 [kg]))"),
)


@pytest.mark.parametrize(("typed", "tree"), NUMBERS)
def test_a_number_keeps_its_figures_and_its_unit(typed: str, tree: str) -> None:
    assert dumps(typed, QUICK)[0] == tree


# Several typed signs mean one relation.
RELATIONS = (
    ("a = b", "a = b"),
    ("a ≠ b", "a ≠ b"),
    ("a != b", "a ≠ b"),
    ("a =/= b", "a ≠ b"),
    ("a < b", "a < b"),
    ("a > b", "a > b"),
    ("a ≤ b", "a ≤ b"),
    ("a <= b", "a ≤ b"),
    ("a =< b", "a ≤ b"),
    ("a ≥ b", "a ≥ b"),
    ("a >= b", "a ≥ b"),
    ("a ≈ b", "a ≈ b"),
    ("a ~ b", "a ≈ b"),
    ("a ~= b", "a ≈ b"),
    ("a ∝ b", "a ∝ b"),
    ("\\alpha \\propto b", "α ∝ b"),
    ("a \\le b", "a ≤ b"),
    ("a == b", "a = b"),
    ("a := b", "a = b"),
    ("a ≡ b", "a = b"),
    ("a << b", "regime: a ≪ b small (/ a b)"),
    ("a ≫ 1", "regime: a ≫ 1 small (/ 1 a)"),
    ("a ⊥ b", "a ⊥ b"),
    ("a = b = c", "a = b = c"),
    ("0 < θ < π/2", "0 < θ < (/ #π 2)"),
    ("0 <= x <= L", "0 ≤ x ≤ L"),
    ("a equals b + c", "a = (+ b c)"),
    ("a = b ≈ c", "a = b ≈ c"),
    ("m → ∞", "limit: m → #∞"),
    ("m -> inf", "limit: m → #∞"),
)


@pytest.mark.parametrize(("typed", "tree"), RELATIONS)
def test_a_relation_sign_has_many_spellings(typed: str, tree: str) -> None:
    assert dumps(typed, QUICK)[0] == tree
