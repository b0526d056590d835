"""Separation and integration: matching limits, constants fixed by a condition, logs, exponentials, tanh, arctan."""

from __future__ import annotations

from random import Random
from typing import Any

from mpmath import atan, atanh, cos, exp, log, sin, sqrt, tanh

from .corpus import Slip, World, along, area, cases, slope

ROW = "Separation and integration"

EXAMPLE = """\
Symbols:
  v(t) : m/s
  g    : m/s^2, positive
  c    : 1/s, positive

Given:
  (a)  dv/dt = g - c v
  (b)  v(0) = 0
  (c)  c v < g

Working:
  (1)  dv/(g - c v) = dt
  (2)  ∫_0^v dv/(g - c v) = ∫_0^t dt
  (3)  -(1/c) ln((g - c v)/g) = t
  (4)  v = (g/c)(1 - e^(-ct))
"""


# --- a crate sinking with linear drag -------------------------------------------------------------


def sinking(r: Random) -> World:
    w = World(g=9.81, c=r.uniform(0.4, 3))
    w["v"] = lambda t: w.g / w.c * (1 - exp(-w.c * t))
    return w


SINKING = "v(t) : m/s\ng : m/s^2, positive\nc : 1/s, positive"
DRAGGED = "(a)  v' = g - c v\n(b)  v = 0 at t = 0\n(c)  c v < g"

def _dragged(w: World, t: Any) -> Any:
    return [(slope(w.v, t), w.g - w.c * w.v(t)), (w.v(0), 0), (w.c * w.v(t) < w.g, True)]


WITH_LIMITS = cases(
    "sinking crate with matching limits",
    [
        ("(1)", "dv/dt = g - c v", along(lambda w, t: (slope(w.v, t), w.g - w.c * w.v(t)))),
        ("(2)", "dv/(g - c v) = dt", along(lambda w, t: (slope(w.v, t) / (w.g - w.c * w.v(t)), 1))),
        ("(3)", "∫_0^v dv/(g - c v) = ∫_0^t dt",
         along(lambda w, t: (area(lambda s: 1 / (w.g - w.c * s), 0, w.v(t)), t))),
        ("(4)", "-(1/c) ln((g - c v)/g) = t", along(lambda w, t: (-log((w.g - w.c * w.v(t)) / w.g) / w.c, t))),
        ("(5)", "g - c v = g e^(-c t)", along(lambda w, t: (w.g - w.c * w.v(t), w.g * exp(-w.c * t)))),
        ("(6)", "v = (g/c)(1 - e^(-c t))", along(lambda w, t: (w.v(t), w.g / w.c * (1 - exp(-w.c * t))))),
    ],
    sinking, symbols=SINKING, given=DRAGGED, show="v = (g/c)(1 - e^(-c t))",
    premises=along(_dragged),
    slips=[
        Slip("(2)", "dv/(g + c v) = dt", along(lambda w, t: (slope(w.v, t) / (w.g + w.c * w.v(t)), 1))),
        Slip("(3)", "∫_v^0 dv/(g - c v) = ∫_0^t dt",
             along(lambda w, t: (area(lambda s: 1 / (w.g - w.c * s), w.v(t), 0), t)), name="limits swapped"),
        Slip("(3)", "∫_0^t dv/(g - c v) = ∫_0^v dt",
             along(lambda w, t: (log(abs(w.g / (w.g - w.c * t))) / w.c, w.v(t))), name="limits of the other variable"),
        Slip("(4)", "(1/c) ln((g - c v)/g) = t", along(lambda w, t: (log((w.g - w.c * w.v(t)) / w.g) / w.c, t)),
             then={"(5)": "g - c v = g e^(c t)", "(6)": "v = (g/c)(1 - e^(c t))"}, name="inner sign"),
        Slip("(4)", "-ln((g - c v)/g) = t", along(lambda w, t: (-log((w.g - w.c * w.v(t)) / w.g), t)),
             name="inner factor"),
        Slip("(5)", "g - c v = e^(-c t)", along(lambda w, t: (w.g - w.c * w.v(t), exp(-w.c * t)))),
        Slip("(6)", "v = (g/c) e^(-c t)", along(lambda w, t: (w.v(t), w.g / w.c * exp(-w.c * t)))),
    ],
)

WITH_CONSTANT = cases(
    "sinking crate with a constant fixed by the start",
    [
        ("(1)", "∫ dv/(g - c v) = ∫ dt"),
        ("(2)", "-(1/c) ln(g - c v) = t + C", along(lambda w, t: (
            -log(w.g - w.c * w.v(t)) / w.c, t - log(w.g) / w.c))),
        ("(3)", "v(0) = 0 gives C = -(1/c) ln g", lambda w: (-log(w.g - w.c * w.v(0)) / w.c, -log(w.g) / w.c)),
        ("(4)", "so ln(g - c v) - ln g = -c t", along(lambda w, t: (log(w.g - w.c * w.v(t)) - log(w.g), -w.c * t))),
        ("(5)", "1 - c v/g = exp(-ct)", along(lambda w, t: (1 - w.c * w.v(t) / w.g, exp(-w.c * t)))),
    ],
    sinking, symbols=SINKING, given=DRAGGED,
    premises=along(_dragged),
    slips=[
        Slip("(2)", "-(1/c) ln(g - c v) = t", along(lambda w, t: (-log(w.g - w.c * w.v(t)) / w.c, t)),
             name="no constant"),
        Slip("(2)", "-c ln(g - c v) = t + C", along(lambda w, t: (
            -w.c * log(w.g - w.c * w.v(t)), t - w.c * log(w.g)))),
        Slip("(3)", "v(0) = 0 gives C = 0", lambda w: (log(w.g) / w.c, 0)),
        Slip("(5)", "1 - v/g = exp(-ct)", along(lambda w, t: (1 - w.v(t) / w.g, exp(-w.c * t)))),
    ],
)


# --- v dv = a dx ----------------------------------------------------------------------------------


def sliding(r: Random) -> World:
    """A crate sliding to rest on the quay; all as a function of the distance x."""
    w = World(mu=r.uniform(0.2, 0.5), g=9.81, v0=r.uniform(6, 9))
    w["d"] = w.v0**2 / (2 * w.mu * w.g)
    w["v"] = lambda x: sqrt(w.v0**2 - 2 * w.mu * w.g * x)
    return w


SLIDE = cases(
    "crate sliding to rest",
    [
        ("(1)", "v dv = -μ g dx", along(lambda w, x: (w.v(x) * slope(w.v, x), -w.mu * w.g))),
        ("(2)", "∫ v dv from v_0 to v = -∫ μ g dx from 0 to x", along(lambda w, x: (
            area(lambda s: s, w.v0, w.v(x)), -area(lambda s: w.mu * w.g, 0, x)))),
        ("(3)", "½ v² - ½ v_0² = -μ g x", along(lambda w, x: ((w.v(x) ** 2 - w.v0**2) / 2, -w.mu * w.g * x))),
        ("(4)", "v² = v_0² - 2 μ g x", along(lambda w, x: (w.v(x) ** 2, w.v0**2 - 2 * w.mu * w.g * x))),
        ("(5)", "v = 0 at x = d: 0 = v_0² - 2μgd", lambda w: (w.v0**2, 2 * w.mu * w.g * w.d)),
        ("(6)", "d = v_0²/(2μg)", lambda w: (w.d, w.v0**2 / (2 * w.mu * w.g))),
    ],
    sliding, symbols="v(x) : m/s\nx : m\nμ : 1, positive\ng : m/s^2, positive\nv_0 : m/s, positive\nd : m, positive",
    given="(a)  v dv/dx = -μ g\n(b)  v(0) = v_0\n(c)  v(d) = 0",
    premises=along(lambda w, x: [(w.v(x) * slope(w.v, x), -w.mu * w.g), (w.v(0), w.v0), (w.v(w.d) + 1, 1)]),
    slips=[
        Slip("(1)", "v dv = μ g dx", along(lambda w, x: (w.v(x) * slope(w.v, x), w.mu * w.g))),
        Slip("(2)", "∫ v dv from v to v_0 = -∫ μ g dx from 0 to x", along(lambda w, x: (
            area(lambda s: s, w.v(x), w.v0), -area(lambda s: w.mu * w.g, 0, x))), name="limits swapped"),
        Slip("(3)", "½ v² = -μ g x", along(lambda w, x: (w.v(x) ** 2 / 2, -w.mu * w.g * x)),
             name="lower limit dropped"),
        Slip("(3)", "½ v² - v_0² = -μ g x", along(lambda w, x: (w.v(x) ** 2 / 2 - w.v0**2, -w.mu * w.g * x))),
        Slip("(4)", "v² = v_0² - μ g x", along(lambda w, x: (w.v(x) ** 2, w.v0**2 - w.mu * w.g * x)),
             then={"(5)": "v = 0 at x = d: 0 = v_0² - μgd", "(6)": "d = v_0²/(μg)"}),
        Slip("(6)", "d = v_0/√(2μg)", lambda w: (w.d, w.v0 / sqrt(2 * w.mu * w.g))),
    ],
)


# --- quadratic drag: tanh and arctan --------------------------------------------------------------


def falling(r: Random) -> World:
    w = World(m=r.uniform(2, 9), g=9.81, k=r.uniform(0.5, 4))
    w["u"] = sqrt(w.m * w.g / w.k)
    w["v"] = lambda t: w.u * tanh(w.g * t / w.u)
    return w


TANH = cases(
    "sack falling with quadratic drag",
    [
        ("(1)", "v' = g (1 - v²/u²)", along(lambda w, t: (slope(w.v, t), w.g * (1 - w.v(t) ** 2 / w.u**2)))),
        ("(2)", "dv/(1 - v²/u²) = g dt", along(lambda w, t: (slope(w.v, t) / (1 - w.v(t) ** 2 / w.u**2), w.g))),
        ("(3)", "∫_0^v dv/(1 - v²/u²) = g t", along(lambda w, t: (
            area(lambda s: 1 / (1 - s**2 / w.u**2), 0, w.v(t)), w.g * t))),
        ("(4)", "(u/2) ln((u + v)/(u - v)) = g t", along(lambda w, t: (
            w.u / 2 * log((w.u + w.v(t)) / (w.u - w.v(t))), w.g * t))),
        ("(5)", "v = u tanh(g t/u)", along(lambda w, t: (w.v(t), w.u * tanh(w.g * t / w.u)))),
    ],
    falling, symbols="""
        m : kg, positive
        g : m/s^2, positive
        k : kg/m, positive
        u : m/s, positive      -- the speed it settles to
        v(t) : m/s
    """, given="(a)  m v' = m g - k v²\n(b)  u² = m g/k\n(c)  v(0) = 0\n(d)  v² < u²",
    premises=along(lambda w, t: [
        (w.m * slope(w.v, t), w.m * w.g - w.k * w.v(t) ** 2),
        (w.u**2, w.m * w.g / w.k),
        (w.v(0), 0),
    ]),
    slips=[
        Slip("(1)", "v' = g (1 - v²/u)", along(lambda w, t: (slope(w.v, t), w.g * (1 - w.v(t) ** 2 / w.u)))),
        Slip("(2)", "dv/(1 - v²/u²) = dt", along(lambda w, t: (slope(w.v, t) / (1 - w.v(t) ** 2 / w.u**2), 1))),
        Slip("(4)", "u ln((u + v)/(u - v)) = g t", along(lambda w, t: (
            w.u * log((w.u + w.v(t)) / (w.u - w.v(t))), w.g * t)), then={"(5)": "v = u tanh(g t/(2u))"}),
        Slip("(4)", "u arctan(v/u) = g t", along(lambda w, t: (w.u * atan(w.v(t) / w.u), w.g * t)),
             name="arctan for artanh"),
        Slip("(5)", "v = u tanh(u t/g)", along(lambda w, t: (w.v(t), w.u * tanh(w.u * t / w.g)))),
    ],
)


def rising(r: Random) -> World:
    """A flare shot up; it is watched only while it rises."""
    w = World(g=9.81, c=r.uniform(0.02, 0.1), v0=r.uniform(40, 70))
    root, first = sqrt(w.g * w.c), atan(w.v0 * sqrt(w.c / w.g))
    w["tau"] = first / root
    w["v"] = lambda t: sqrt(w.g / w.c) * sin(first - root * t) / sin(first - root * t + 1.5707963267948966)
    return w


ARCTAN = cases(
    "flare rising with quadratic drag",
    [
        ("", "dv/(g + c v²) = -dt", along(lambda w, t: (slope(w.v, t), -w.g - w.c * w.v(t) ** 2))),
        ("", "∫_{v_0}^v dv/(g + c v²) = -t",
         along(lambda w, t: (area(lambda s: 1 / (w.g + w.c * s**2), w.v0, w.v(t)), -t))),
        ("", "let b = √(c/g)"),
        ("", "arctan(b v) - arctan(b v_0) = -√(g c) t", along(lambda w, t: (
            atan(sqrt(w.c / w.g) * w.v(t)) - atan(sqrt(w.c / w.g) * w.v0), -sqrt(w.g * w.c) * t))),
        ("", "v(τ) = 0, so τ = arctan(b v_0)/√(g c)",
         lambda w: (w.tau, atan(sqrt(w.c / w.g) * w.v0) / sqrt(w.g * w.c))),
    ],
    rising, symbols="v(t) : m/s\ng : m/s^2, positive\nc : 1/m, positive\nv_0 : m/s, positive\nτ : s, positive",
    given="(a)  v' = -g - c v²\n(b)  v(0) = v_0\n(c)  v(τ) = 0",
    premises=along(lambda w, t: [(slope(w.v, t), -w.g - w.c * w.v(t) ** 2), (w.v(0), w.v0), (w.v(w.tau) + 1, 1)]),
    slips=[
        Slip(1, "dv/(g + c v²) = dt", along(lambda w, t: (slope(w.v, t), w.g + w.c * w.v(t) ** 2))),
        Slip(4, "arctan(b v) - arctan(b v_0) = -g t", along(lambda w, t: (
            atan(sqrt(w.c / w.g) * w.v(t)) - atan(sqrt(w.c / w.g) * w.v0), -w.g * t))),
        Slip(4, "arctan(b v) = -√(g c) t", along(lambda w, t: (
            atan(sqrt(w.c / w.g) * w.v(t)), -sqrt(w.g * w.c) * t)), name="lower limit dropped"),
        Slip(5, "v(τ) = 0, so τ = arctan(b v_0)/(g c)", lambda w: (w.tau, atan(sqrt(w.c / w.g) * w.v0) / (w.g * w.c))),
    ],
)

ARTANH_QUICK = cases(
    "quadratic drag in units of its own",
    [
        ("", "so dv/(1 - v²) = dt", along(lambda w, t: (slope(w.v, t), 1 - w.v(t) ** 2))),
        ("", "arctanh v = t", along(lambda w, t: (atanh(w.v(t)), t))),
        ("", "v = tanh t", along(lambda w, t: (w.v(t), tanh(t)))),
    ],
    lambda r: World(v=tanh), given="v' = 1 - v^2\nv(0) = 0\n0 <= v < 1",
    premises=along(lambda w, t: [(slope(w.v, t), 1 - w.v(t) ** 2), (w.v(0), 0), (0 <= w.v(t) < 1, True)]),
    slips=[
        Slip(2, "2 arctanh v = t", along(lambda w, t: (2 * atanh(w.v(t)), t))),
        Slip(3, "v = 1 - e^(-t)", along(lambda w, t: (w.v(t), 1 - exp(-t)))),
    ],
)

# --- once integrated along the motion, and a barge that throws its ballast back ----------------------------


def swinging(r: Random) -> World:
    w = World(m=r.uniform(2, 9), k=r.uniform(20, 90), y0=r.uniform(0.2, 0.9))
    w["y"] = lambda t: w.y0 * cos(sqrt(w.k / w.m) * t)
    return w


def _energy(w: World, t: Any, y: Any) -> Any:
    return w.m * slope(w.y, t) ** 2 / 2 + w.k * y(t) ** 2 / 2


FIRST_INTEGRAL = cases(
    "buoy let go, integrated once by multiplying with the speed",
    [
        ("(1)", "m y' y'' = -k y y'", along(lambda w, t: (
            w.m * slope(w.y, t) * slope(w.y, t, 2), -w.k * w.y(t) * slope(w.y, t)))),
        ("(2)", "d/dt(½ m y'²) = -d/dt(½ k y²)", along(lambda w, t: (
            slope(lambda s: w.m * slope(w.y, s) ** 2 / 2, t), -slope(lambda s: w.k * w.y(s) ** 2 / 2, t)))),
        ("(3)", "½ m y'² + ½ k y² = C", along(lambda w, t: (_energy(w, t, w.y), _energy(w, 0.01, w.y)))),
        ("(4)", "C = ½ k y_0²   [at rest at t = 0]", lambda w: (_energy(w, 0.3, w.y), w.k * w.y0**2 / 2)),
        ("(5)", "so y'² = (k/m)(y_0² - y²)", along(lambda w, t: (
            slope(w.y, t) ** 2, w.k / w.m * (w.y0**2 - w.y(t) ** 2)))),
    ],
    swinging, symbols="m : kg, positive\nk : N/m, positive\ny(t) : m\ny_0 : m, positive",
    given="(a)  m y'' = -k y\n(b)  y(0) = y_0 and y'(0) = 0",
    premises=along(lambda w, t: [(w.m * slope(w.y, t, 2), -w.k * w.y(t)), (w.y(0), w.y0), (slope(w.y, 0) + 1, 1)]),
    slips=[
        Slip("(1)", "m y'' y'' = -k y y'", along(lambda w, t: (
            w.m * slope(w.y, t, 2) ** 2, -w.k * w.y(t) * slope(w.y, t)))),
        Slip("(2)", "d/dt(m y'²) = -d/dt(½ k y²)", along(lambda w, t: (
            slope(lambda s: w.m * slope(w.y, s) ** 2, t), -slope(lambda s: w.k * w.y(s) ** 2 / 2, t)))),
        Slip("(3)", "½ m y'² + ½ k y² = 0", along(lambda w, t: (_energy(w, t, w.y), 0)), name="no constant"),
        Slip("(3)", "½ m y'² - ½ k y² = C", along(lambda w, t: (
            w.m * slope(w.y, t) ** 2 / 2 - w.k * w.y(t) ** 2 / 2, -w.k * w.y0**2 / 2))),
        Slip("(5)", "so y' = (k/m)(y_0 - y)", along(lambda w, t: (slope(w.y, t), w.k / w.m * (w.y0 - w.y(t))))),
    ],
)


def ballast(r: Random) -> World:
    """Everything as a function of the mass that is left."""
    w = World(u=r.uniform(2, 9), m0=r.uniform(5, 9))
    w["v"] = lambda m: w.u * log(w.m0 / m)
    return w


BALLAST = cases(
    "barge throwing its ballast astern",
    [
        ("", "dv = -u dm/m", along(lambda w, m: (slope(w.v, m), -w.u / m))),
        ("", "∫_0^v dv = -u ∫_{m_0}^m dm/m", along(lambda w, m: (w.v(m), -w.u * area(lambda s: 1 / s, w.m0, m)))),
        ("", "v = -u (ln m - ln m_0)", along(lambda w, m: (w.v(m), -w.u * (log(m) - log(w.m0))))),
        ("", "= u ln(m_0/m)", along(lambda w, m: (w.v(m), w.u * log(w.m0 / m)))),
        ("", "so m = m_0 e^(-v/u)", along(lambda w, m: (m, w.m0 * exp(-w.v(m) / w.u)))),
    ],
    ballast, symbols="m : kg, positive\nv(m) : m/s\nu : m/s, positive\nm_0 : kg, positive",
    given="(a)  m dv/dm = -u\n(b)  v(m_0) = 0",
    premises=along(lambda w, m: [(m * slope(w.v, m), -w.u), (w.v(w.m0), 0)]),
    slips=[
        Slip(1, "dv = u dm/m", along(lambda w, m: (slope(w.v, m), w.u / m))),
        Slip(2, "∫_0^v dv = -u ∫_m^{m_0} dm/m", along(lambda w, m: (
            w.v(m), -w.u * area(lambda s: 1 / s, m, w.m0))), name="limits swapped"),
        Slip(4, "= u ln(m/m_0)", along(lambda w, m: (w.v(m), w.u * log(m / w.m0)))),
        Slip(5, "so m = m_0 - e^(v/u)", along(lambda w, m: (m, w.m0 - exp(w.v(m) / w.u)))),
    ],
)

CASES = [
    *WITH_LIMITS, *WITH_CONSTANT, *SLIDE, *TANH, *ARCTAN, *ARTANH_QUICK, *FIRST_INTEGRAL, *BALLAST,
]
