"""Relations that hold at all instants, continued: driven motion and complex exponentials."""

from __future__ import annotations

from random import Random
from typing import Any

from mpmath import atan2, cos, exp, mpc, sin, sqrt, tan

from .corpus import Line, Slip, World, along, cases, slope

ROW = "Quantifiers over t"

EXAMPLE = """\
Symbols:
  m    : kg, positive
  k    : N/m, positive
  F_0  : N, positive
  Ω    : rad/s, positive   -- beat of the swell
  y(t) : m
  Y    : m

Given:
  (a)  m y'' + k y = F_0 cos Ωt

Working:
  (1)  try y = Y cos Ωt
  (2)  (k - m Ω²) Y cos Ωt = F_0 cos Ωt
  (3)  so (k - m Ω²) Y = F_0
  (4)  Y = F_0/(k - m Ω²)
"""


def swell(r: Random) -> World:
    """A pontoon driven by the swell, without damping."""
    w = World(m=r.uniform(2, 9), k=r.uniform(30, 90), F=r.uniform(5, 20), Ω=r.uniform(0.5, 6))
    w["Y"] = w.F / (w.k - w.m * w.Ω**2)
    w["y"] = lambda t: w.Y * cos(w.Ω * t)
    return w


PONTOON = """
    m    : kg, positive
    k    : N/m, positive
    F_0  : N, positive
    Omega: rad/s, positive
    y(t) : m
"""

UNDAMPED = cases(
    "pontoon in the swell without damping",
    [
        ("(1)", "try y = Y cos(Omega t)"),
        ("(2)", "d^2y/dt^2 = -Omega^2 y", along(lambda w, t: (slope(w.y, t, 2), -w.Ω**2 * w.y(t)))),
        ("(3)", "so (-m Omega^2 + k) Y = F_0   [all t]", lambda w: ((w.k - w.m * w.Ω**2) * w.Y, w.F)),
        ("(4)", "Y = F_0/(k - m Omega^2)", lambda w: (w.Y, w.F / (w.k - w.m * w.Ω**2))),
        ("(5)", "let w^2 = k/m"),
        ("(6)", "Y = (F_0/m)/(w^2 - Omega^2)", lambda w: (w.Y, w.F / w.m / (w.k / w.m - w.Ω**2))),
    ],
    swell, symbols=PONTOON, given="(a)  m y'' = -k y + F_0 cos(Omega t)",
    premises=along(lambda w, t: (w.m * slope(w.y, t, 2), -w.k * w.y(t) + w.F * cos(w.Ω * t))),
    slips=[
        Slip("(3)", "so (m Omega^2 + k) Y = F_0", lambda w: ((w.k + w.m * w.Ω**2) * w.Y, w.F), then={
            "(4)": "Y = F_0/(k + m Omega^2)", "(6)": "Y = (F_0/m)/(w^2 + Omega^2)"}),
        Slip("(4)", "Y = F_0/k - F_0/(m Omega^2)", lambda w: (w.Y, w.F / w.k - w.F / (w.m * w.Ω**2)),
             name="split fraction"),
        Slip("(6)", "Y = F_0/(w^2 - Omega^2)", lambda w: (w.Y, w.F / (w.k / w.m - w.Ω**2)), name="dropped m"),
    ],
)


def damped_swell(r: Random) -> World:
    w = swell(r)
    w["b"] = r.uniform(1, 8)
    w["k"] = w.m * w.Ω**2 + r.uniform(3, 40)
    lag, drag = w.k - w.m * w.Ω**2, w.b * w.Ω
    w["R"], w["δ"] = w.F / sqrt(lag**2 + drag**2), atan2(drag, lag)
    w["A"], w["B"] = w.R * cos(w.δ), w.R * sin(w.δ)
    w["y"] = lambda t: w.R * cos(w.Ω * t - w.δ)
    return w


DAMPED = PONTOON.replace("Omega:", "Ω :") + "b : kg/s, positive\n"
FORCED = "(a)  m y'' + b y' + k y = F_0 cos Ωt\n"

def _driven(w: World, t: Any) -> Any:
    return w.m * slope(w.y, t, 2) + w.b * slope(w.y, t) + w.k * w.y(t), w.F * cos(w.Ω * t)


TWO_AMPLITUDES = cases(
    "damped pontoon by sine and cosine",
    [
        ("(1)", "try y = A cos Ωt + B sin Ωt"),
        ("(2)", "y' = -ΩA sin Ωt + ΩB cos Ωt",
         along(lambda w, t: (slope(w.y, t), w.Ω * (w.B * cos(w.Ω * t) - w.A * sin(w.Ω * t))))),
        ("(3)", "cosines: (k - mΩ²) A + bΩ B = F_0", lambda w: ((w.k - w.m * w.Ω**2) * w.A + w.b * w.Ω * w.B, w.F)),
        ("(4)", "sines: (k - mΩ²) B - bΩ A = 0", lambda w: ((w.k - w.m * w.Ω**2) * w.B, w.b * w.Ω * w.A)),
        ("(5)", "(3)² + (4)²: ((k - mΩ²)² + b²Ω²)(A² + B²) = F_0²",
         lambda w: (((w.k - w.m * w.Ω**2) ** 2 + (w.b * w.Ω) ** 2) * (w.A**2 + w.B**2), w.F**2)),
        ("(6)", "√(A² + B²) = F_0/√((k - mΩ²)² + b²Ω²)",
         lambda w: (w.R, w.F / sqrt((w.k - w.m * w.Ω**2) ** 2 + (w.b * w.Ω) ** 2))),
    ],
    damped_swell, symbols=DAMPED, given=FORCED,
    premises=along(_driven),
    slips=[
        Slip("(2)", "y' = ΩA sin Ωt + ΩB cos Ωt",
             along(lambda w, t: (slope(w.y, t), w.Ω * (w.B * cos(w.Ω * t) + w.A * sin(w.Ω * t))))),
        Slip("(3)", "cosines: (k - mΩ²) A - bΩ B = F_0", lambda w: ((w.k - w.m * w.Ω**2) * w.A - w.b * w.Ω * w.B, w.F)),
        Slip("(4)", "sines: (k - mΩ²) B - bΩ A = F_0", lambda w: ((w.k - w.m * w.Ω**2) * w.B - w.b * w.Ω * w.A, w.F)),
        Slip("(5)", "(3)² + (4)²: ((k - mΩ²)² - b²Ω²)(A² + B²) = F_0²",
             lambda w: (((w.k - w.m * w.Ω**2) ** 2 - (w.b * w.Ω) ** 2) * (w.A**2 + w.B**2), w.F**2)),
        Slip("(6)", "√(A² + B²) = F_0/(k - mΩ² + bΩ)", lambda w: (w.R, w.F / (w.k - w.m * w.Ω**2 + w.b * w.Ω))),
    ],
)

AMPLITUDE_AND_LAG = cases(
    "damped pontoon by amplitude and lag",
    [
        ("(1)", "try y = R cos(Ωt - δ)"),
        ("(2)", "with ẏ = -ΩR sin(Ωt - δ), ÿ = -Ω²R cos(Ωt - δ)", along(lambda w, t: [
            (slope(w.y, t), -w.Ω * w.R * sin(w.Ω * t - w.δ)), (slope(w.y, t, 2), -w.Ω**2 * w.R * cos(w.Ω * t - w.δ))])),
        ("(3)", "(k - mΩ²) R cos(Ωt - δ) - bΩR sin(Ωt - δ) = F_0 cos Ωt", along(lambda w, t: (
            (w.k - w.m * w.Ω**2) * w.y(t) - w.b * w.Ω * w.R * sin(w.Ω * t - w.δ), w.F * cos(w.Ω * t)))),
        ("(4)", "so (k - mΩ²) sin δ = bΩ cos δ", lambda w: ((w.k - w.m * w.Ω**2) * sin(w.δ), w.b * w.Ω * cos(w.δ))),
        ("(5)", "tan δ = bΩ/(k - mΩ²)", lambda w: (tan(w.δ), w.b * w.Ω / (w.k - w.m * w.Ω**2))),
        ("(6)", "R ((k - mΩ²) cos δ + bΩ sin δ) = F_0",
         lambda w: (w.R * ((w.k - w.m * w.Ω**2) * cos(w.δ) + w.b * w.Ω * sin(w.δ)), w.F)),
    ],
    damped_swell, symbols=DAMPED + "R : m, positive\nδ : rad", given=FORCED + "(b)  k > m Ω^2",
    premises=along(lambda w, t: [_driven(w, t), (w.k > w.m * w.Ω**2, True)]),
    slips=[
        Slip("(3)", "(k - mΩ²) R cos(Ωt - δ) + bΩR sin(Ωt - δ) = F_0 cos Ωt", along(lambda w, t: (
            (w.k - w.m * w.Ω**2) * w.y(t) + w.b * w.Ω * w.R * sin(w.Ω * t - w.δ), w.F * cos(w.Ω * t)))),
        Slip("(4)", "so (k - mΩ²) cos δ = bΩ sin δ", lambda w: ((w.k - w.m * w.Ω**2) * cos(w.δ), w.b * w.Ω * sin(w.δ)),
             then={"(5)": "cot δ = bΩ/(k - mΩ²)"}),
        Slip("(5)", "tan δ = b/(k - mΩ²)", lambda w: (tan(w.δ), w.b / (w.k - w.m * w.Ω**2))),
    ],
)


def at_resonance(r: Random) -> World:
    w = damped_swell(r)
    w["k"], w["R"], w["δ"] = w.m * w.Ω**2, w.F / (w.b * w.Ω), 1.5707963267948966
    w["A"], w["B"] = 0.0, w.R
    return w


RESONANCE = cases(
    "ratio of the two amplitudes, resonance not excluded",
    [
        Line("(1)", "try y = A cos Ωt + B sin Ωt"),
        Line("(2)", "(k - mΩ²) B = bΩ A", lambda w: ((w.k - w.m * w.Ω**2) * w.B, w.b * w.Ω * w.A)),
        Line("(3)", "B = bΩ A/(k - mΩ²)", lambda w: (w.B, w.A * w.b * w.Ω / (w.k - w.m * w.Ω**2 or 1e-30)),
             lost=at_resonance),
    ],
    damped_swell, symbols=DAMPED, given=FORCED,
    premises=along(_driven),
    slips=[Slip("(3)", "B = bΩ A/(k + mΩ²)", lambda w: (w.B, w.b * w.Ω * w.A / (w.k + w.m * w.Ω**2)))],
)


def spinning(r: Random) -> World:
    """One complex exponential of an under-damped beacon."""
    w = World(m=r.uniform(1, 4), k=r.uniform(20, 60), C=r.uniform(0.2, 2))
    w["b"] = r.uniform(0.3, 1.5) * sqrt(w.m * w.k)
    w["γ"] = w.b / (2 * w.m)
    w["ω"] = sqrt(w.k / w.m - w.γ**2)
    w["λ"] = mpc(-w.γ, r.choice([1, -1]) * w.ω)
    w["z"] = lambda t: w.C * exp(w.λ * t)
    return w


COMPLEX = cases(
    "complex exponential for an under-damped beacon",
    [
        ("(1)", "try z = C e^(λ t)"),
        ("(2)", "z'' = λ² z, z' = λ z",
         along(lambda w, t: [(slope(w.z, t, 2), w.λ**2 * w.z(t)), (slope(w.z, t), w.λ * w.z(t))])),
        ("(3)", "m λ² + b λ + k = 0   [for all t]", lambda w: (w.m * w.λ**2 + w.k, -w.b * w.λ)),
        ("(4)", "(λ + b/(2m))² = b²/(4m²) - k/m",
         lambda w: ((w.λ + w.b / (2 * w.m)) ** 2, w.b**2 / (4 * w.m**2) - w.k / w.m)),
        ("(5)", "let ω_1 = √(k/m - b²/(4m²))"),
        ("(6)", "λ = -b/(2m) ± i ω_1", lambda w: ((w.λ + w.b / (2 * w.m)) ** 2, -w.ω**2)),
    ],
    spinning, symbols="""
        m    : kg, positive
        b    : kg/s, positive
        k    : N/m, positive
        C    : m, positive
        λ    : 1/s, complex
        z(t) : m, complex
    """, given="(a)  m z'' + b z' + k z = 0\n(b)  b² < 4 m k",
    premises=along(lambda w, t: [
        (w.m * slope(w.z, t, 2) + w.k * w.z(t), -w.b * slope(w.z, t)),
        (w.b**2 < 4 * w.m * w.k, True),
    ]),
    slips=[
        Slip("(3)", "m λ² + b λ = k", lambda w: (w.m * w.λ**2 + w.b * w.λ, w.k)),
        Slip("(4)", "(λ + b/(2m))² = b²/(4m²) - k",
             lambda w: ((w.λ + w.b / (2 * w.m)) ** 2, w.b**2 / (4 * w.m**2) - w.k)),
        Slip("(6)", "λ = -b/(2m) ± ω_1", lambda w: ((w.λ + w.b / (2 * w.m)) ** 2, w.ω**2), name="lost i"),
        Slip("(6)", "λ = b/(2m) ± i ω_1", lambda w: ((w.λ - w.b / (2 * w.m)) ** 2, -w.ω**2)),
    ],
)

CASES = [*UNDAMPED, *TWO_AMPLITUDES, *AMPLITUDE_AND_LAG, *RESONANCE, *COMPLEX]
