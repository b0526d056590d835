"""Whole motions: from an equation to its course by trial, roots, general solution and start, or in one jump."""

from __future__ import annotations

from random import Random
from typing import Any

from mpmath import atan, cos, exp, log, sin, sqrt

from .corpus import Case, Slip, World, along, cases, slope
from .draws import drawn

ROW = "General solution"

EXAMPLE = """\
x'' + 5 x' + 6 x = 0
try x = e^(s t)
s² + 5 s + 6 = 0
s = -2 or s = -3
x = A e^(-2 t) + B e^(-3 t)
x(0) = 1, x'(0) = 0
A = 3, B = -2
x = 3 e^(-2 t) - 2 e^(-3 t)
"""

CASES: list[Case] = []


# --- a fender pressed in and let go, strongly damped ------------------------------------------------


def _fender(rng: Random) -> World:
    w = drawn(rng, "p x0")
    w["q"] = w.p + rng.uniform(0.5, 1.5)
    w["A"], w["B"] = w.q * w.x0 / (w.q - w.p), -w.p * w.x0 / (w.q - w.p)
    w["x"] = lambda t: w.A * exp(-w.p * t) + w.B * exp(-w.q * t)
    return w


def _creeping(w: World, t: Any) -> Any:
    return [(slope(w.x, t, 2) + (w.p + w.q) * slope(w.x, t), -w.p * w.q * w.x(t)), (w.x(0), w.x0),
            (slope(w.x, 0) + 1, 1)]


def _roots(w: World) -> tuple[Any, Any]:
    """The rates at which the fender dies out, slow one first, by the formula for a quadratic."""
    half, root = -(w.p + w.q) / 2, sqrt((w.p + w.q) ** 2 / 4 - w.p * w.q)
    return half + root, half - root


CASES += cases(
    "a fender let go, by trial and roots",
    [
        ("(1)", "try x = e^(s t)"),
        ("(2)", "s² + (p + q) s + p q = 0", lambda w: [(s * s + (w.p + w.q) * s, -w.p * w.q) for s in _roots(w)]),
        ("(3)", "s = -p or s = -q", lambda w: list(zip(_roots(w), (-w.p, -w.q), strict=True))),
        ("(4)", "x = A e^(-p t) + B e^(-q t)",
         along(lambda w, t: (w.x(t), w.A * exp(-w.p * t) + w.B * exp(-w.q * t)))),
        ("(5)", "A + B = x_0, p A + q B = 0", lambda w: [(w.A + w.B, w.x0), (w.p * w.A, -w.q * w.B)]),
        ("(6)", "A = q x_0/(q - p)", lambda w: (w.A, w.q * w.x0 / (w.q - w.p))),
        ("(7)", "B = -p x_0/(q - p)", lambda w: (w.B, -w.p * w.x0 / (w.q - w.p))),
        ("(8)", "as t → ∞: x → 0", lambda w: (1 + w.x(400), 1)),
    ],
    _fender,
    symbols="x(t) : m\np, q : 1/s, positive\nx_0 : m, positive",
    given="(a)  x'' + (p + q) x' + p q x = 0\n(b)  x(0) = x_0, x'(0) = 0\n(c)  p < q",
    premises=along(_creeping),
    slips=[
        Slip("(2)", "s² - (p + q) s + p q = 0",
             lambda w: [(s * s - (w.p + w.q) * s, -w.p * w.q) for s in _roots(w)], ends=True),
        Slip("(3)", "s = p or s = q", lambda w: list(zip(_roots(w), (w.p, w.q), strict=True)), ends=True),
        Slip("(4)", "x = A e^(p t) + B e^(-q t)",
             along(lambda w, t: (w.x(t), w.A * exp(w.p * t) + w.B * exp(-w.q * t))), ends=True),
        Slip("(5)", "A + B = x_0, p A - q B = 0", lambda w: (w.p * w.A, w.q * w.B)),
        Slip("(6)", "A = p x_0/(q - p)", lambda w: (w.A, w.p * w.x0 / (w.q - w.p))),
        Slip("(7)", "B = p x_0/(q - p)", lambda w: (w.B, w.p * w.x0 / (w.q - w.p))),
        Slip("(8)", "as t → ∞: x → x_0", lambda w: (w.x(400), w.x0)),
    ],
)


# --- a crate on a spring, counted from where it rests ------------------------------------------------


def _hung(rng: Random) -> World:
    w = drawn(rng, "m k g C D")
    n = sqrt(w.k / w.m)
    w["y"] = lambda t: w.C * cos(n * t) + w.D * sin(n * t)
    w["x"] = lambda t: w.m * w.g / w.k + w.y(t)
    w["n"] = n
    return w


CASES += cases(
    "a crate on a spring, counted from where it rests",
    [
        ("1.", "let y = x - m g/k"),
        ("2.", "y = C cos(√(k/m) t) + D sin(√(k/m) t)",
         along(lambda w, t: (w.y(t), w.C * cos(w.n * t) + w.D * sin(w.n * t)))),
        ("3.", "so x = m g/k + C cos(√(k/m) t) + D sin(√(k/m) t)",
         along(lambda w, t: (w.x(t), w.m * w.g / w.k + w.C * cos(w.n * t) + w.D * sin(w.n * t)))),
    ],
    _hung,
    symbols="x(t) : m\nm : kg, positive\nk : N/m, positive\ng : m/s², positive",
    given="m x'' = -k x + m g",
    premises=along(lambda w, t: (w.m * slope(w.x, t, 2), w.m * w.g - w.k * w.x(t))),
    slips=[
        Slip("2.", "y = C cos(√(m/k) t) + D sin(√(m/k) t)",
             along(lambda w, t: (w.y(t), w.C * cos(t / w.n) + w.D * sin(t / w.n))), ends=True),
        Slip("3.", "so x = -m g/k + C cos(√(k/m) t) + D sin(√(k/m) t)",
             along(lambda w, t: (w.x(t), w.y(t) - w.m * w.g / w.k))),
    ],
)


# --- a flare rising against the air, in one jump -----------------------------------------------------


def _flare(rng: Random) -> World:
    w = drawn(rng, "g w v0")
    w["t1"] = w.w / w.g * atan(w.v0 / w.w)
    return w


CASES += cases(
    "a flare rising, the time of its rise in one jump",
    [
        ("(1)", "t_1 = (w/g) arctan(v_0/w)", lambda w: (w.t1, w.w / w.g * atan(w.v0 / w.w))),
        ("(2)", "t_1 < v_0/g", lambda w: bool(w.t1 < w.v0 / w.g)),
    ],
    _flare,
    symbols="v(t) : m/s\ng : m/s², positive\nw, v_0 : m/s, positive\nt_1 : s, positive",
    given="v' = -g (1 + v²/w²)\nv(0) = v_0\nv(t_1) = 0",
    slips=[
        Slip("(1)", "t_1 = (v_0/g) arctan(v_0/w)", lambda w: (w.t1, w.v0 / w.g * atan(w.v0 / w.w)), ends=True),
        Slip("(2)", "t_1 > v_0/g", lambda w: bool(w.t1 > w.v0 / w.g)),
    ],
)


# --- a barge that throws its ballast astern, in one jump ----------------------------------------------


def _lightened(rng: Random) -> World:
    w = drawn(rng, "u M1")
    w["M0"] = w.M1 * rng.uniform(1.5, 3)
    w["w"] = w.u * log(w.M0 / w.M1)
    return w


CASES += cases(
    "a barge lightened while it gathers way, in one jump",
    [
        ("(1)", "w = u ln(M_0/M_1)", lambda w: (w.w, w.u * log(w.M0 / w.M1))),
        ("(2)", "M_1 = M_0 e^(-w/u)", lambda w: (w.M1, w.M0 * exp(-w.w / w.u))),
    ],
    _lightened,
    symbols="M(t) : kg, positive\nv(t) : m/s\nu : m/s, positive\nM_0, M_1 : kg, positive\nt_1 : s, positive\nw : m/s",
    given="M v' = -u M'\nv(0) = 0, M(0) = M_0\nv(t_1) = w\nM(t_1) = M_1",
    slips=[
        Slip("(1)", "w = u ln(M_1/M_0)", lambda w: (w.w, w.u * log(w.M1 / w.M0)), ends=True),
        Slip("(2)", "M_1 = M_0 e^(w/u)", lambda w: (w.M1, w.M0 * exp(w.w / w.u))),
    ],
)


# --- a gangway about its hinge, by elements of mass ---------------------------------------------------


CASES += cases(
    "a gangway about its hinge, by elements of mass",
    [
        ("", "dm = (M/L) dx"),
        ("", "I = ∫_0^L x² dm = (M/L) ∫_0^L x² dx", lambda w: (w.I, w.M / w.L * w.L**3 / 3)),
        ("", "I = ⅓ M L²", lambda w: (w.I, w.M * w.L**2 / 3)),
    ],
    lambda rng: World(w := drawn(rng, "M L"), I=w.M * w.L**2 / 3),
    slips=[
        Slip(2, "I = ∫_0^L x² dm = (M/L) ∫_0^L x dx", lambda w: (w.I, w.M / w.L * w.L**2 / 2), ends=True),
        Slip(3, "I = ½ M L²", lambda w: (w.I, w.M * w.L**2 / 2)),
    ],
)
