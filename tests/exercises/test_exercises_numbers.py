"""The motions of the oscillator exercises, integrated by scipy, against what the exercises derive.

The equations of motion are written here a second time, from the statement of each exercise, and the
formulas from its goal: neither the reader nor the engine is asked. That the formula tested is the one the
exercise ends with is tested last, on the exercise's own text.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq
from scipy.special import ellipk

EXERCISES = Path(__file__).parents[2] / "exercises"

Force = Callable[[float, float, float], float]  # acceleration from (t, y, y')
G = 9.81


def motion(acceleration: Force, start: tuple[float, float], until: float) -> Callable[[float], NDArray[np.float64]]:
    """(y, y') as a function of the time, from the acceleration and the state at t = 0."""
    run = solve_ivp(
        lambda t, s: (s[1], acceleration(t, s[0], s[1])), (0.0, until), start,
        method="DOP853", rtol=1e-11, atol=1e-13, dense_output=True,
    )
    assert run.success
    return run.sol  # type: ignore[no-any-return]


def crossings(acceleration: Force, start: tuple[float, float], until: float) -> list[float]:
    """The times at which the resting position is passed upwards."""
    at = motion(acceleration, start, until)
    times = np.linspace(0.0, until, 4001)
    y = at(times)[0]
    return [
        brentq(lambda t: at(t)[0], times[i], times[i + 1], xtol=1e-13)
        for i in range(len(times) - 1) if y[i] < 0 <= y[i + 1]
    ]


def period(acceleration: Force, start: tuple[float, float], until: float) -> float:
    """The mean time between one upward passage of the resting position and the next."""
    times = crossings(acceleration, start, until)
    assert len(times) >= 3, "too short a run to measure a period"
    return (times[-1] - times[0]) / (len(times) - 1)


@pytest.mark.parametrize(("m", "rho", "s"), [(40.0, 1025.0, 0.12), (12.0, 1000.0, 0.05), (300.0, 1030.0, 0.9)])
def test_the_buoy_bobs_with_the_period_derived(m: float, rho: float, s: float) -> None:
    derived = 2 * np.pi * np.sqrt(m / (rho * G * s))

    measured = period(lambda _t, y, _v: -rho * G * s * y / m, (0.05, 0.0), 6 * derived)

    assert measured == pytest.approx(derived, rel=1e-8)


@pytest.mark.parametrize(("m", "k", "v0"), [(500.0, 8000.0, 0.8), (120.0, 900.0, 0.3), (2000.0, 5e4, 1.2)])
def test_the_wagon_has_the_period_and_the_greatest_displacement_derived(m: float, k: float, v0: float) -> None:
    derived = 2 * np.pi * np.sqrt(m / k)

    def pull(_t: float, y: float, _v: float) -> float:
        return -k * y / m

    assert period(pull, (0.0, v0), 6 * derived) == pytest.approx(derived, rel=1e-8)
    x = motion(pull, (0.0, v0), derived)
    assert x(derived / 4)[0] == pytest.approx(v0 * np.sqrt(m / k), rel=1e-8)
    assert max(x(np.linspace(0, derived, 2001))[0]) == pytest.approx(v0 * np.sqrt(m / k), rel=1e-5)


@pytest.mark.parametrize("length", [0.4, 0.9, 2.5])
def test_the_bell_at_a_small_angle_has_the_period_derived(length: float) -> None:
    derived = 2 * np.pi * np.sqrt(length / G)
    angle = 0.01

    measured = period(lambda _t, y, _v: -(G / length) * np.sin(y), (angle, 0.0), 6 * derived)

    # The first term dropped is θ²/16 of the period.
    assert measured == pytest.approx(derived, rel=angle**2 / 15)
    assert measured > derived


@pytest.mark.parametrize("angle", [0.1, 0.5, 1.2])
def test_the_bell_at_any_angle_swings_slower_by_the_elliptic_integral(angle: float) -> None:
    length = 0.9
    small = 2 * np.pi * np.sqrt(length / G)

    measured = period(lambda _t, y, _v: -(G / length) * np.sin(y), (angle, 0.0), 8 * small)

    assert measured == pytest.approx(small * 2 / np.pi * ellipk(np.sin(angle / 2) ** 2), rel=1e-7)


@pytest.mark.parametrize(("m", "b", "k"), [(1000.0, 800.0, 9000.0), (50.0, 40.0, 700.0), (8.0, 1.0, 200.0)])
def test_the_pontoon_bobs_and_dies_away_at_the_rates_derived(m: float, b: float, k: float) -> None:
    gamma = b / (2 * m)
    omega = np.sqrt(k / m - b**2 / (4 * m**2))
    derived = 2 * np.pi / omega

    def pull(_t: float, y: float, v: float) -> float:
        return -(k * y + b * v) / m

    assert period(pull, (0.1, 0.0), 5 * derived) == pytest.approx(derived, rel=1e-7)
    y = motion(pull, (0.1, 0.0), 2 * derived)
    assert y(1.3 * derived)[0] / y(0.3 * derived)[0] == pytest.approx(np.exp(-gamma * derived), rel=1e-7)
    turned = omega * 0.7
    exact = 0.1 * np.exp(-gamma * 0.7) * (np.cos(turned) + gamma / omega * np.sin(turned))
    assert y(0.7)[0] == pytest.approx(exact)


@pytest.mark.parametrize(
    ("m", "b", "k", "f0", "drive"), [(200.0, 150.0, 2000.0, 300.0, 2.0), (10.0, 8.0, 300.0, 20.0, 7.0)]
)
def test_the_moored_float_ends_in_the_steady_amplitude_derived(
    m: float, b: float, k: float, f0: float, drive: float
) -> None:
    derived = f0 / np.sqrt((k - m * drive**2) ** 2 + b**2 * drive**2)
    settled = 24 * 2 * m / b  # the passing motion is down by e^-24

    y = motion(lambda t, y, v: (f0 * np.cos(drive * t) - b * v - k * y) / m, (0.0, 0.0), settled + 7)

    times = np.linspace(settled, settled + 2 * np.pi / drive, 4001)
    assert max(y(times)[0]) == pytest.approx(derived, rel=1e-5)


def test_the_lamp_keeps_its_energy_under_the_equations_derived() -> None:
    m, k, length = 2.0, 150.0, 1.0

    def rates(_t: float, s: NDArray[np.float64]) -> list[float]:
        r, dr, th, dth = s
        return [dr, r * dth**2 + G * np.cos(th) - k / m * (r - length), dth, -(G * np.sin(th) + 2 * dr * dth) / r]

    run = solve_ivp(rates, (0, 6), [1.2, 0.0, 0.4, 0.3], method="DOP853", rtol=1e-11, atol=1e-12)
    r, dr, th, dth = run.y
    energy = 0.5 * m * (dr**2 + r**2 * dth**2) + 0.5 * k * (r - length) ** 2 - m * G * r * np.cos(th)

    assert np.ptp(energy) < 1e-6 * abs(energy[0])


def test_the_barge_and_the_lead_move_as_derived() -> None:
    m, b, v0 = 20000.0, 400.0, 2.0
    barge = motion(lambda _t, _x, v: -b * v / m, (0.0, v0), 2000.0)
    assert barge(60.0)[1] == pytest.approx(v0 * np.exp(-b * 60 / m), rel=1e-8)
    assert barge(2000.0)[0] == pytest.approx(m * v0 / b, rel=1e-8)

    m, w, c = 3.0, 25.0, 8.0
    lead = motion(lambda _t, _x, v: (w - c * v) / m, (0.0, 0.0), 30.0)
    assert lead(0.4)[1] == pytest.approx(w / c * (1 - np.exp(-c * 0.4 / m)), rel=1e-8)
    assert lead(30.0)[1] == pytest.approx(w / c, rel=1e-8)


def test_the_integrals_of_the_lock_gate_the_fender_and_the_drawbridge_are_those_derived() -> None:
    rho, b, h = 1000.0, 6.0, 4.0
    force = quad(lambda z: rho * G * z * b, 0, h)[0]
    moment = quad(lambda z: rho * G * z * (h - z) * b, 0, h)[0]
    assert force == pytest.approx(0.5 * rho * G * b * h**2)
    assert moment / force == pytest.approx(h / 3)

    m, k, c, d = 3000.0, 2e4, 4e5, 0.2
    work = quad(lambda x: k * x + c * x**3, 0, d)[0]
    assert np.sqrt(2 * work / m) == pytest.approx(d * np.sqrt((k + 0.5 * c * d**2) / m))

    mass, length, phi = 1500.0, 8.0, 0.6
    inertia = quad(lambda x: x**2 * mass / length, 0, length)[0]
    turning = quad(lambda x: x * mass / length * G * np.cos(phi), 0, length)[0]
    assert turning / inertia == pytest.approx(3 * G * np.cos(phi) / (2 * length))


@pytest.mark.parametrize(("exercise", "goal"), [
    ("buoy", "T = 2π √(m/(ρ g S))"),
    ("buffer", "T = 2π √(m/k)"),
    ("buffer", "b = v_0 √(m/k)"),
    ("bell", "T = 2π √(ℓ/g)"),
    ("pontoon", "γ = b/(2 m)"),
    ("pontoon", "ω = √(k/m - b²/(4 m²))"),
    ("swell", "Y = F_0/√((k - m Ω²)² + b² Ω²)"),
    ("lamp", "r'' = r θ'² + g cos θ - (k/m) (r - ℓ)"),
    ("lamp", "r θ'' + 2 r' θ' = -g sin θ"),
    ("barge", "s = m v_0/b"),
    ("lead", "v = (W/c) (1 - e^(-c t/m))"),
    ("lockgate", "H = h/3"),
    ("fender", "v = d √((k + ½ c d²)/m)"),
    ("drawbridge", "α = 3 g cos φ/(2 ℓ)"),
])
def test_the_formula_judged_here_is_the_goal_of_the_exercise(exercise: str, goal: str) -> None:
    text = (EXERCISES / f"{exercise}.txt").read_text(encoding="utf8")
    goals = text.split("Show:")[1].split("Solution:")[0].splitlines()

    assert goal in [row.strip() for row in goals]
