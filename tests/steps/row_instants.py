"""Rates of what is made of others, and instants: a second rate, a moment with a name of its own, a tank run dry."""

from __future__ import annotations

from random import Random
from typing import Any

from mpmath import cos, exp, sin, sqrt

from .corpus import Case, Slip, World, along, cases, slope
from .draws import drawn

ROW = "General solution"

EXAMPLE = """\
Symbols:
  z(t) : m, nonnegative
  q, H, τ : positive

Given:
  z' = -q √z
  z(0) = H
  z(τ) = 0

Working:
  2 √z = -q t + C
  at t = 0: C = 2 √H
  τ = 2 √H/q
"""

CASES: list[Case] = []


# --- the energy of a damped buoy, and how fast its loss changes --------------------------------------


def _damped(rng: Random) -> World:
    w = drawn(rng, "m k b C D")
    w["b"] *= 0.3
    c = w.b / (2 * w.m)
    n = sqrt(w.k / w.m - c * c)
    w["y"] = lambda t: exp(-c * t) * (w.C * cos(n * t) + w.D * sin(n * t))
    w["E"] = lambda t: w.m * slope(w.y, t) ** 2 / 2 + w.k * w.y(t) ** 2 / 2
    return w


def _rate(w: World, t: Any) -> Any:
    return slope(w.E, t)


CASES += cases(
    "the energy of a damped buoy",
    [
        ("(1)", "dE/dt = y' (m y'' + k y)",
         along(lambda w, t: (_rate(w, t), slope(w.y, t) * (w.m * slope(w.y, t, 2) + w.k * w.y(t))))),
        ("(2)", "dE/dt = -b y'^2", along(lambda w, t: (_rate(w, t), -w.b * slope(w.y, t) ** 2))),
        ("(3)", "d²E/dt² = -2 b y' y''",
         along(lambda w, t: (slope(w.E, t, 2), -2 * w.b * slope(w.y, t) * slope(w.y, t, 2)))),
        ("(4)", "= (2 b/m) y' (k y + b y')",
         along(lambda w, t: (slope(w.E, t, 2), 2 * w.b / w.m * slope(w.y, t) * (w.k * w.y(t) + w.b * slope(w.y, t))))),
    ],
    _damped,
    symbols="y(t) : m\nm, k, b : positive\nE",
    given="(a)  m y'' = -k y - b y'\n(b)  E = ½ m y'² + ½ k y²",
    premises=along(lambda w, t: (w.m * slope(w.y, t, 2) + w.b * slope(w.y, t), -w.k * w.y(t))),
    slips=[
        Slip("(1)", "dE/dt = y' (m y'' - k y)",
             along(lambda w, t: (_rate(w, t), slope(w.y, t) * (w.m * slope(w.y, t, 2) - w.k * w.y(t))))),
        Slip("(3)", "d²E/dt² = -b y' y''",
             along(lambda w, t: (slope(w.E, t, 2), -w.b * slope(w.y, t) * slope(w.y, t, 2)))),
        Slip("(3)", "d²E/dt² = -2 b y''",
             along(lambda w, t: (slope(w.E, t, 2), -2 * w.b * slope(w.y, t, 2)))),
        Slip("(4)", "= (2 b/m) y' (k y - b y')",
             along(lambda w, t: (
                 slope(w.E, t, 2), 2 * w.b / w.m * slope(w.y, t) * (w.k * w.y(t) - w.b * slope(w.y, t))))),
    ],
)


# --- a pull that grows with time, up to a moment that the writer names -------------------------------


def _pulled(rng: Random) -> World:
    w = drawn(rng, "m q u T")
    w["x"] = lambda t: w.u * t + w.q * t**3 / (6 * w.m)
    return w


CASES += cases(
    "a pull that grows with time, at a moment of the writer's own",
    [
        ("(1)", "x' = u + q t²/(2m)", along(lambda w, t: (slope(w.x, t), w.u + w.q * t * t / (2 * w.m)))),
        ("(2)", "x = u t + q t³/(6m)", along(lambda w, t: (w.x(t), w.u * t + w.q * t**3 / (6 * w.m)))),
        ("(3)", "at t = T: x' = u + q T²/(2m)", lambda w: (slope(w.x, w.T), w.u + w.q * w.T**2 / (2 * w.m))),
    ],
    _pulled,
    symbols="x(t) : m\nm : kg, positive\nq : N/s, positive\nu : m/s",
    given="(a)  m x'' = q t\n(b)  x(0) = 0, x'(0) = u",
    premises=along(lambda w, t: [(w.m * slope(w.x, t, 2), w.q * t), (slope(w.x, 0), w.u), (1 + w.x(0), 1)]),
    slips=[
        Slip("(3)", "at t = T: x' = u + q T/(2m)", lambda w: (slope(w.x, w.T), w.u + w.q * w.T / (2 * w.m))),
        Slip("(3)", "at t = T: x' = u + q T²/m", lambda w: (slope(w.x, w.T), w.u + w.q * w.T**2 / w.m)),
        Slip("(3)", "at t = T: x' = 2 u + q T²/(2m)", lambda w: (slope(w.x, w.T), 2 * w.u + w.q * w.T**2 / (2 * w.m))),
    ],
)

CASES += cases(
    "the same, typed quickly",
    [
        ("", "x'' = q t/m"),
        ("", "x(0) = 0, x'(0) = u"),
        ("", "x' = u + q t²/(2m)", along(lambda w, t: (slope(w.x, t), w.u + w.q * t * t / (2 * w.m)))),
        ("", "x = u t + q t³/(6m)", along(lambda w, t: (w.x(t), w.u * t + w.q * t**3 / (6 * w.m)))),
        ("", "at t = T: x' = u + q T²/(2m)", lambda w: (slope(w.x, w.T), w.u + w.q * w.T**2 / (2 * w.m))),
    ],
    _pulled,
    slips=[
        Slip(5, "at t = T: x' = u + q T/(2m)", lambda w: (slope(w.x, w.T), w.u + w.q * w.T / (2 * w.m))),
        Slip(5, "at t = T: x' = 2 u + q T²/(2m)", lambda w: (slope(w.x, w.T), 2 * w.u + w.q * w.T**2 / (2 * w.m))),
    ],
)


# --- a tank below the quay that runs dry --------------------------------------------------------------


def _drained(rng: Random) -> World:
    w = drawn(rng, "S s g H")
    w["r"] = w.s / w.S * sqrt(w.g / 2)
    w["τ"] = sqrt(w.H) / w.r
    w["H"] = w.r**2 * w.τ**2
    w["z"] = lambda t: (sqrt(w.H) - w.r * t) ** 2
    return w


def _early(w: World) -> tuple[Any, ...]:
    return tuple(share * w.τ for share in (0.2, 0.5, 0.8))


CASES += cases(
    "a tank that runs dry",
    [
        ("(1)", "2 √z = -(s/S) √(2g) t + C"),
        ("(2)", "at t = 0: C = 2 √H",
         lambda w: [(2 * sqrt(w.z(t)), -w.s / w.S * sqrt(2 * w.g) * t + 2 * sqrt(w.H)) for t in _early(w)]),
        ("(3)", "√z = √H - (s/S) √(g/2) t",
         lambda w: [(sqrt(w.z(t)), sqrt(w.H) - w.s / w.S * sqrt(w.g / 2) * t) for t in _early(w)]),
        ("(4)", "z = 0 at t = τ: √H = (s/S) √(g/2) τ", lambda w: (sqrt(w.H), w.s / w.S * sqrt(w.g / 2) * w.τ)),
        ("(5)", "τ = (S/s) √(2H/g)", lambda w: (w.τ, w.S / w.s * sqrt(2 * w.H / w.g))),
        ("(6)", "z = H (1 - t/τ)²", lambda w: [(w.z(t), w.H * (1 - t / w.τ) ** 2) for t in _early(w)]),
    ],
    _drained,
    symbols="z(t) : m, nonnegative\nS, s : m², positive\ng : m/s², positive\nH : m, positive\nτ : s, positive",
    given="(a)  S z' = -s √(2 g z)\n(b)  z(0) = H\n(c)  z(τ) = 0",
    premises=lambda w: [
        *((w.S * slope(w.z, t), -w.s * sqrt(2 * w.g * w.z(t))) for t in _early(w)),
        (w.z(0), w.H), (1 + w.z(w.τ), 1)],
    slips=[
        Slip("(2)", "at t = 0: C = √H",
             lambda w: [(2 * sqrt(w.z(t)), -w.s / w.S * sqrt(2 * w.g) * t + sqrt(w.H)) for t in _early(w)]),
        Slip("(3)", "√z = √H - (s/S) √(2g) t",
             lambda w: [(sqrt(w.z(t)), sqrt(w.H) - w.s / w.S * sqrt(2 * w.g) * t) for t in _early(w)]),
        Slip("(5)", "τ = (S/s) √(H/g)", lambda w: (w.τ, w.S / w.s * sqrt(w.H / w.g))),
        Slip("(6)", "z = H (1 - t/τ)", lambda w: [(w.z(t), w.H * (1 - t / w.τ)) for t in _early(w)]),
    ],
)


# --- where a crate on a spring rests, and how it goes about that ----------------------------------------


def _about_rest(rng: Random) -> World:
    w = drawn(rng, "m k g C D L")
    n = sqrt(w.k / w.m)
    w["y0"] = w.m * w.g / w.k
    w["y"] = lambda t: w.y0 + w.C * cos(n * t) + w.D * sin(n * t)
    w["s"] = lambda t: w.y(t) - w.y0
    w["p"] = lambda t: w.y(t) / w.L
    return w


_HUNG = {
    "symbols": "y(t) : m\nm : kg, positive\nk : N/m, positive\ng : m/s², positive\nL : m, positive",
    "given": "m y'' = m g - k y",
    "premises": along(lambda w, t: (w.m * slope(w.y, t, 2), w.m * w.g - w.k * w.y(t))),
}

CASES += cases(
    "where a crate on a spring rests",
    [
        ("(1)", "equilibrium: k y0 = m g", lambda w: (w.k * w.y0, w.m * w.g)),
        ("(2)", "so y0 = m g/k", lambda w: (w.y0, w.m * w.g / w.k)),
        ("(3)", "let y = y0 + s"),
        ("(4)", "m s'' = -k s", along(lambda w, t: (w.m * slope(w.s, t, 2), -w.k * w.s(t)))),
    ],
    _about_rest,
    **_HUNG,
    slips=[
        Slip("(1)", "equilibrium: k y0 = 2 m g", lambda w: (w.k * w.y0, 2 * w.m * w.g), ends=True),
        Slip("(1)", "equilibrium: y0 = k/(m g)", lambda w: (w.y0, w.k / (w.m * w.g)), ends=True),
        Slip("(2)", "so y0 = k/(m g)", lambda w: (w.y0, w.k / (w.m * w.g)), ends=True),
        Slip("(4)", "m s'' = m g - k s", along(lambda w, t: (w.m * slope(w.s, t, 2), w.m * w.g - w.k * w.s(t)))),
    ],
)

CASES += cases(
    "the same in a length of the writer's own",
    [
        ("(1)", "let y = L p"),
        ("(2)", "m L p'' = m g - k L p",
         along(lambda w, t: (w.m * w.L * slope(w.p, t, 2), w.m * w.g - w.k * w.L * w.p(t)))),
        ("(3)", "p'' = g/L - (k/m) p", along(lambda w, t: (slope(w.p, t, 2), w.g / w.L - w.k / w.m * w.p(t)))),
    ],
    _about_rest,
    **_HUNG,
    slips=[
        Slip("(2)", "m p'' = m g - k L p",
             along(lambda w, t: (w.m * slope(w.p, t, 2), w.m * w.g - w.k * w.L * w.p(t)))),
        Slip("(3)", "p'' = g - (k/m) p", along(lambda w, t: (slope(w.p, t, 2), w.g - w.k / w.m * w.p(t)))),
    ],
)


# --- the power that a pump gives to a load, before and behind the best ------------------------------------


def _load(rng: Random) -> World:
    return drawn(rng, "U r x")


def _power(w: World, x: Any) -> Any:
    return w.U**2 * x / (w.r + x) ** 2


def _gain(w: World, x: Any) -> Any:
    return slope(lambda q: _power(w, q), x)


CASES += cases(
    "the power of a pump, before and behind the best load",
    [
        ("(1)", "dP/dx = U² (r - x)/(r + x)³", lambda w: (_gain(w, w.x), w.U**2 * (w.r - w.x) / (w.r + w.x) ** 3)),
        ("(2)", "dP/dx = 0 at x = r", lambda w: (1 + _gain(w, w.r), 1)),
        ("(3)", "P_max = U²/(4r)", lambda w: (_power(w, w.r), w.U**2 / (4 * w.r))),
        ("(4)", "for x < r: dP/dx > 0", lambda w: bool(_gain(w, w.r * 0.7) > 0)),
        ("(5)", "for x = 2r: P = 2 U²/(9 r)", lambda w: (_power(w, 2 * w.r), 2 * w.U**2 / (9 * w.r))),
    ],
    _load,
    symbols="P(x)\nU, r, x : positive",
    given="P = U² x/(r + x)²",
    slips=[
        Slip("(2)", "dP/dx = 0 at x = 2r", lambda w: (1 + _gain(w, 2 * w.r), 1)),
        Slip("(4)", "for x < r: dP/dx < 0", lambda w: bool(_gain(w, w.r * 0.7) < 0)),
        Slip("(4)", "for x > r: dP/dx > 0", lambda w: bool(_gain(w, w.r * 1.3) > 0)),
        Slip("(5)", "for x = 2r: P = U²/(9 r)", lambda w: (_power(w, 2 * w.r), w.U**2 / (9 * w.r))),
    ],
)


# --- a beam cut from a round log: what one side is says what the other is -----------------------------------


def _log(rng: Random) -> World:
    w = drawn(rng, "k D")
    w["b"] = w.D * rng.uniform(0.2, 0.9)
    w["h"] = sqrt(w.D**2 - w.b**2)
    return w


def _stiff(w: World, b: Any) -> Any:
    return w.k * b * (w.D**2 - b**2)


def _stiffer(w: World, b: Any) -> Any:
    return slope(lambda q: _stiff(w, q), b)


CASES += cases(
    "a beam cut from a log",
    [
        ("(1)", "S = k b (D² - b²)", lambda w: (w.k * w.b * w.h**2, _stiff(w, w.b))),
        ("(2)", "dS/db = k (D² - 3 b²)", lambda w: (_stiffer(w, w.b), w.k * (w.D**2 - 3 * w.b**2))),
        ("(3)", "dS/db = 0: b² = D²/3", lambda w: (1 + _stiffer(w, w.D / sqrt(3)), 1)),
        ("(4)", "S_max = 2 k D³/(3√3)", lambda w: (_stiff(w, w.D / sqrt(3)), 2 * w.k * w.D**3 / (3 * sqrt(3)))),
    ],
    _log,
    symbols="S(b)\nb, h, D : positive, b < D\nk : positive",
    given="S = k b h²\nh² = D² - b²",
    slips=[
        Slip("(2)", "dS/db = k (D² - b²)", lambda w: (_stiffer(w, w.b), w.k * (w.D**2 - w.b**2)), ends=True),
        Slip("(3)", "dS/db = 0: b² = 3 D²", lambda w: (1 + _stiffer(w, w.D * sqrt(3)), 1), ends=True),
        Slip("(4)", "S_max = 2 k D³/3", lambda w: (_stiff(w, w.D / sqrt(3)), 2 * w.k * w.D**3 / 3)),
    ],
)
