"""Inequalities: directions that flip, goals such as μ ≥ tan θ, bounds in numbers.

A world keeps close to its bound, so that a bound too strict fails.
"""

from __future__ import annotations

from math import cos, sin, sqrt, tan
from random import Random

from .corpus import Case, Slip, World, cases
from .draws import drawn

ROW = "Inequalities and limits"

EXAMPLE = """\
Symbols:
  m : kg, positive
  g : m/s^2, positive
  θ : rad, 0 < θ < π/2
  μ : 1, positive
  N, R : N

Given:
  N = m g cos θ
  R = m g sin θ
  R ≤ μ N

Working:
  (1)  m g sin θ ≤ μ m g cos θ
  (2)  sin θ ≤ μ cos θ
  (3)  so μ ≥ tan θ   [cos θ > 0]
"""

CASES: list[Case] = []


# --- a crate stays on the slipway -----------------------------------------------------------------


def _crate(rng: Random) -> World:
    w = drawn(rng, "m g")
    w["th"] = rng.uniform(0.2, 1.1)
    w["mu"] = tan(w.th) * rng.uniform(1.0, 1.3)
    w["N"], w["R"] = w.m * w.g * cos(w.th), w.m * w.g * sin(w.th)
    return w


CASES += cases(
    "a crate stays on the slipway",
    [
        ("(1)", "m g sin θ ≤ μ m g cos θ", lambda w: w.m * w.g * sin(w.th) <= w.mu * w.m * w.g * cos(w.th)),
        ("(2)", "sin θ ≤ μ cos θ   [m g > 0]", lambda w: sin(w.th) <= w.mu * cos(w.th)),
        ("(3)", "tan θ ≤ μ   [cos θ > 0]", lambda w: tan(w.th) <= w.mu),
        ("(4)", "so μ ≥ tan θ", lambda w: w.mu >= tan(w.th)),
    ],
    _crate,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        θ : rad, 0 < θ < π/2
        μ : 1, positive
        N, R : N""",
    given="""
        N = m g cos θ
        R = m g sin θ
        R ≤ μ N""",
    show="μ ≥ tan θ",
    premises=lambda w: (
        abs(w.N - w.m * w.g * cos(w.th)) + abs(w.R - w.m * w.g * sin(w.th)) < 1e-9 and w.mu * w.N - w.R >= 0),
    slips=[
        Slip("(1)", "m g cos θ ≤ μ m g sin θ", lambda w: cos(w.th) <= w.mu * sin(w.th),
             {"(2)": "cos θ ≤ μ sin θ   [m g > 0]", "(3)": "1/tan θ ≤ μ   [sin θ > 0]", "(4)": "so μ ≥ 1/tan θ"},
             "sine for cosine"),
        Slip("(3)", "tan θ ≥ μ   [cos θ > 0]", lambda w: tan(w.th) >= w.mu, {"(4)": "so μ ≤ tan θ"}, "direction"),
        Slip("(4)", "so μ ≤ tan θ", lambda w: w.mu <= tan(w.th), name="direction"),
    ],
)


# --- a bucket swung overhead ----------------------------------------------------------------------


def _bucket(rng: Random) -> World:
    w = drawn(rng, "m g r")
    w["v"] = sqrt(w.g * w.r) * rng.uniform(1.0, 1.08)
    w["N"] = w.m * w.v**2 / w.r - w.m * w.g
    w["u"] = sqrt(w.v**2 + 4 * w.g * w.r)
    return w


CASES += cases(
    "a bucket swung overhead",
    [
        ("1.", "m v²/r - m g ≥ 0", lambda w: w.m * w.v**2 / w.r - w.m * w.g >= 0),
        ("2.", "m v²/r ≥ m g", lambda w: w.m * w.v**2 / w.r >= w.m * w.g),
        ("3.", "=> v² ≥ g r, so v ≥ √(g r)", lambda w: w.v**2 >= w.g * w.r and w.v >= sqrt(w.g * w.r)),
        ("4.", "u² = v² + 4 g r ≥ 5 g r",
         lambda w: abs(w.u**2 - w.v**2 - 4 * w.g * w.r) < 1e-9 and w.u**2 >= 5 * w.g * w.r),
        ("5.", "∴ u ≥ √(5 g r)", lambda w: w.u >= sqrt(5 * w.g * w.r)),
    ],
    _bucket,
    symbols="""
        m : kg, positive
        g : m/s², positive
        r : m, positive
        v : m/s, positive -- speed at the top
        u : m/s, positive -- speed at the bottom
        N : N""",
    given="""
        N = m v²/r - m g
        N ≥ 0
        ½ m u² = ½ m v² + 2 m g r""",
    show="u ≥ √(5 g r)",
    premises=lambda w: w.N >= 0 and abs(w.N - w.m * w.v**2 / w.r + w.m * w.g) < 1e-9 and (
        abs(w.u**2 - w.v**2 - 4 * w.g * w.r) < 1e-9),
    slips=[
        Slip("2.", "m v²/r ≥ 2 m g", lambda w: w.m * w.v**2 / w.r >= 2 * w.m * w.g,
             {"3.": "=> v² ≥ 2 g r, so v ≥ √(2 g r)", "4.": "u² = v² + 4 g r ≥ 6 g r", "5.": "∴ u ≥ √(6 g r)"},
             "factor"),
        Slip("3.", "=> v² ≤ g r, so v ≤ √(g r)", lambda w: w.v <= sqrt(w.g * w.r), name="direction"),
        Slip("4.", "u² = v² + 4 g r ≥ 6 g r", lambda w: w.u**2 >= 6 * w.g * w.r, {"5.": "∴ u ≥ √(6 g r)"}, "sum"),
        Slip("5.", "∴ u ≥ 5 √(g r)", lambda w: w.u >= 5 * sqrt(w.g * w.r), name="root of a product"),
    ],
)


# --- a buffer must not push too hard: multiplying by a negative -----------------------------------


def _buffer(rng: Random) -> World:
    w = drawn(rng, "k m P")
    w["x"] = w.P / w.k * rng.uniform(0.9, 1.0)
    w["F"], w["E"] = -w.k * w.x, w.k * w.x**2 / 2
    w["v"] = w.x * sqrt(w.k / w.m)
    return w


CASES += cases(
    "a buffer must not push too hard",
    [
        ("(1)", "-k x ≥ -P", lambda w: -w.k * w.x >= -w.P),
        ("(2)", "k x ≤ P   [times -1]", lambda w: w.k * w.x <= w.P),
        ("(3)", "x ≤ P/k", lambda w: w.x <= w.P / w.k),
        ("(4)", "E = ½ k x² ≤ P²/(2 k)", lambda w: abs(w.E - w.k * w.x**2 / 2) < 1e-9 and 2 * w.k * w.E <= w.P**2),
        ("(5)", "½ m v² ≤ P²/(2 k) so v ≤ P/√(k m)",
         lambda w: w.m * w.v**2 <= w.P**2 / w.k and w.v <= w.P / sqrt(w.k * w.m)),
    ],
    _buffer,
    symbols="""
        k : N/m, positive
        m : kg, positive
        P : N, positive
        x : m, nonnegative
        v : m/s, nonnegative
        F : N
        E : J""",
    given="""
        F = -k x
        F ≥ -P
        E = ½ k x²
        ½ m v² = E""",
    premises=lambda w: -w.P <= w.F == -w.k * w.x and (
        abs(w.E - w.k * w.x**2 / 2) + abs(w.m * w.v**2 / 2 - w.E) < 1e-9),
    slips=[
        Slip("(2)", "k x ≥ P   [times -1]", lambda w: w.k * w.x >= w.P, {"(3)": "x ≥ P/k"}, "direction not flipped"),
        Slip("(4)", "E = ½ k x² ≤ P²/(4 k)", lambda w: 4 * w.k * w.E <= w.P**2,
             {"(5)": "½ m v² ≤ P²/(4 k) so v ≤ P/√(2 k m)"}, "factor"),
        Slip("(5)", "½ m v² ≤ P²/(2 k) so v ≤ P/√(2 k m)", lambda w: w.v <= w.P / sqrt(2 * w.k * w.m), name="factor"),
    ],
)


# --- a crate tips or slides -----------------------------------------------------------------------


def _tip(rng: Random) -> World:
    w = drawn(rng, "m g h")
    w["b"] = w.h * rng.uniform(2.4, 3.5)
    w["mu"] = w.b / (2 * w.h) * rng.uniform(0.9, 1.0)
    w["F"] = w.mu * w.m * w.g
    return w


CASES += cases(
    "a crate slides before it tips",
    [
        ("", "mu m g h <= 1/2 m g b", lambda w: w.mu * w.m * w.g * w.h <= w.m * w.g * w.b / 2),
        ("", "mu h <= b/2", lambda w: w.mu * w.h <= w.b / 2),
        ("", "so mu <= b/(2h)", lambda w: w.mu <= w.b / (2 * w.h)),
        ("", "i.e. b >= 2 mu h", lambda w: w.b >= 2 * w.mu * w.h),
    ],
    _tip,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        b, h : m, positive
        mu : 1, positive
        F : N""",
    given="""
        F = mu m g
        F h <= 1/2 m g b""",
    premises=lambda w: abs(w.F - w.mu * w.m * w.g) < 1e-9 and 2 * w.F * w.h <= w.m * w.g * w.b,
    slips=[
        Slip(2, "mu h <= b/4", lambda w: w.mu * w.h <= w.b / 4, {3: "so mu <= b/(4h)", 4: "i.e. b >= 4 mu h"},
             "factor"),
        Slip(3, "so mu <= 2h/b", lambda w: w.mu <= 2 * w.h / w.b, name="upside down"),
        Slip(4, "i.e. b <= 2 mu h", lambda w: w.b <= 2 * w.mu * w.h, name="direction"),
    ],
)


# --- a truck on the quay's bend: a bound with numbers ---------------------------------------------


def _bend(rng: Random) -> World:
    w = World(m=1800.0, g=9.81, mu=0.40, r=25.0)
    w["v"] = sqrt(w.mu * w.g * w.r) * rng.uniform(0.9, 0.999)
    w["f"] = w.m * w.v**2 / w.r
    return w


CASES += cases(
    "a truck on the quay's bend, a bound in numbers",
    [
        ("1.", "m v²/r ≤ μ m g", lambda w: w.m * w.v**2 / w.r <= w.mu * w.m * w.g),
        ("2.", "v² ≤ μ g r", lambda w: w.v**2 <= w.mu * w.g * w.r),
        ("3.", "μ g r = 0.40 · 9.81 m/s² · 25 m = 98.1 m²/s²", lambda w: (w.mu * w.g * w.r, 98.1)),
        ("4.", "v ≤ 9.91 m/s", lambda w: w.v <= 9.91),
        ("5.", "so v < 36 km/h", lambda w: w.v < 10),
    ],
    _bend,
    symbols="""
        m : kg, positive
        g : m/s², positive
        μ : 1, positive
        r : m, positive
        v : m/s, positive
        f : N""",
    given="""
        m = 1800 kg
        g = 9.81 m/s²
        μ = 0.40
        r = 25 m
        f = m v²/r
        f ≤ μ m g""",
    premises=lambda w: w.f == w.m * w.v**2 / w.r and w.f <= w.mu * w.m * w.g,
    slips=[
        Slip("2.", "v² ≤ μ g/r", lambda w: w.v**2 <= w.mu * w.g / w.r,
             {"3.": "μ g/r = 0.40 · 9.81 m/s²/(25 m) = 0.157 s⁻²"}, "divided for multiplied"),
        Slip("4.", "v ≥ 9.91 m/s", lambda w: w.v >= 9.91, name="direction"),
        Slip("5.", "so v < 2.75 km/h", lambda w: w.v * 3.6 < 2.75, name="km/h turned the wrong way"),
    ],
)
