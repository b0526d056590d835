"""Sloppy but right: factors moved silently, equal signs down the page, a sign convention changed, a lemma below
its use, remarks nobody needed. A slip among such lines is still found."""

from __future__ import annotations

from math import cos, sin, sqrt, tan
from random import Random

import mpmath

from .corpus import Case, Slip, World, cases, slope
from .draws import drawn

ROW = "Sloppy but right"

EXAMPLE = """\
Symbols:
  m : kg, positive
  g : m/s^2, positive
  h, s : m, positive
  F : N, positive
  v : m/s, nonnegative

Given:
  1/2 m v^2 = m g h - F s

Working:
  # the work of the brake goes off the energy
  v^2 = 2(mgh - Fs)/m
      = 2gh - 2Fs/m
  so v=sqrt(2gh-2Fs/m)
"""

CASES: list[Case] = []


# --- a crate is let down with a brake: equal signs down the page ----------------------------------


def _brake(rng: Random) -> World:
    w = drawn(rng, "m g h s")
    w["F"] = w.m * w.g * w.h / w.s * rng.uniform(0.3, 0.7)
    w["v"] = sqrt(2 * (w.m * w.g * w.h - w.F * w.s) / w.m)
    return w


CASES += cases(
    "a crate is let down with a brake, equal signs down the page",
    [
        ("", "v² = 2 (m g h - F s)/m", lambda w: (w.v**2, 2 * (w.m * w.g * w.h - w.F * w.s) / w.m)),
        ("", "   = 2 g h - 2 F s/m", lambda w: (w.v**2, 2 * w.g * w.h - 2 * w.F * w.s / w.m)),
        ("", "   = 2 [g h - F s/m]", lambda w: (w.v**2, 2 * (w.g * w.h - w.F * w.s / w.m))),
        ("", "so v = √(2 g h - 2 F s/m)", lambda w: (w.v, sqrt(2 * w.g * w.h - 2 * w.F * w.s / w.m))),
        ("", "and F = m (g h - v²/2)/s", lambda w: (w.F, w.m * (w.g * w.h - w.v**2 / 2) / w.s)),
    ],
    _brake,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        h, s : m, positive
        F : N, positive
        v : m/s, nonnegative""",
    given="½ m v² = m g h - F s",
    premises=lambda w: (w.m * w.v**2 / 2, w.m * w.g * w.h - w.F * w.s),
    slips=[
        Slip(2, "   = 2 g h - 2 F s", lambda w: (w.v**2, 2 * w.g * w.h - 2 * w.F * w.s),
             {3: "   = 2 [g h - F s]", 4: "so v = √(2 g h - 2 F s)"}, "one term undivided"),
        Slip(3, "   = 2 [g h + F s/m]", lambda w: (w.v**2, 2 * (w.g * w.h + w.F * w.s / w.m)),
             {4: "so v = √(2 g h + 2 F s/m)", 5: "and F = m (v²/2 - g h)/s"}, "sign"),
        Slip(4, "so v = √(2 g h) - √(2 F s/m)", lambda w: (w.v, sqrt(2 * w.g * w.h) - sqrt(2 * w.F * w.s / w.m)),
             name="root of a difference"),
    ],
)


# --- a stone sinks: the direction turned round by a new variable ----------------------------------


def _stone(rng: Random) -> World:
    w = drawn(rng, "m g c H u t")
    # y'' = -g - (c/m) y' in closed form: speed falls towards -m g/c from u
    end = -w.m * w.g / w.c
    w["y"] = lambda t: w.H + end * t + (w.u - end) * w.m / w.c * (1 - mpmath.exp(-w.c * t / w.m))
    w["y0"], w["y1"], w["y2"] = w.y(w.t), slope(w.y, w.t), slope(w.y, w.t, 2)
    return w


CASES += cases(
    "a stone sinks, with the axis turned round",
    [
        ("(1)", "let z = H - y   -- depth, downward from now on"),
        ("(2)", "z' = -y', z'' = -y''", lambda w: [(slope(lambda t: w.H - w.y(t), w.t), -w.y1),
                                                   (slope(lambda t: w.H - w.y(t), w.t, 2), -w.y2)]),
        ("(3)", "-m z'' = -m g + c z'", lambda w: (w.m * w.y2, -w.m * w.g - w.c * w.y1)),
        ("(4)", "m z'' = m g - c z'", lambda w: (-w.m * w.y2, w.m * w.g + w.c * w.y1)),
        ("(5)", "so z'' + (c/m) z' = g", lambda w: (-w.y2 - w.c / w.m * w.y1, w.g)),
    ],
    _stone,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        c : kg/s, positive
        H : m, positive
        y(t) : m -- height above the bottom""",
    given="m y'' = -m g - c y'",
    premises=lambda w: (w.m * w.y2, -w.m * w.g - w.c * w.y1),
    slips=[
        Slip("(2)", "z' = -y', z'' = y''", lambda w: [(-w.y1, -w.y1), (-w.y2, w.y2)],
             {"(3)": "m z'' = -m g + c z'", "(4)": "m z'' = c z' - m g", "(5)": "so z'' - (c/m) z' = -g"}, "sign"),
        Slip("(3)", "-m z'' = -m g - c z'", lambda w: (w.m * w.y2, -w.m * w.g + w.c * w.y1),
             {"(4)": "m z'' = m g + c z'", "(5)": "so z'' - (c/m) z' = g"}, "sign of the drag not turned"),
        Slip("(5)", "so z'' + (m/c) z' = g", lambda w: (-w.y2 - w.m / w.c * w.y1, w.g), name="upside down"),
    ],
)


# --- a fender is pushed: a for y'', v for y' ------------------------------------------------------


def _fender(rng: Random) -> World:
    w = drawn(rng, "m k F A t")
    om = sqrt(w.k / w.m)
    w["at"] = lambda t: w.F / w.k + w.A * mpmath.sin(om * t)
    w["speed"] = lambda t: w.A * om * mpmath.cos(om * t)
    w["y"], w["v"], w["a"] = w.at(w.t), slope(w.at, w.t), slope(w.at, w.t, 2)
    return w


def _energy(w: World, t: float) -> float:
    return w.m * w.speed(t) ** 2 / 2 + w.k * w.at(t) ** 2 / 2


CASES += cases(
    "a fender is pushed, a for the second derivative",
    [
        ("(1)", "ma + ky = F", lambda w: (w.m * w.a + w.k * w.y, w.F)),
        ("(2)", "a = F/m - ky/m", lambda w: (w.a, w.F / w.m - w.k * w.y / w.m)),
        ("(3)", "dv/dt = (F - ky)/m", lambda w: (slope(w.speed, w.t), (w.F - w.k * w.y) / w.m)),
        ("(4)", "mv dv/dt + kyv = Fv", lambda w: (w.m * w.v * slope(w.speed, w.t) + w.k * w.y * w.v, w.F * w.v)),
        ("(5)", "d/dt(½ m v² + ½ k y²) = F v", lambda w: (slope(lambda t: _energy(w, t), w.t), w.F * w.v)),
    ],
    _fender,
    symbols="""
        m : kg, positive
        k : N/m, positive
        F : N
        y(t) : m
        v(t) : m/s
        a(t) : m/s^2""",
    given="""
        v = y'
        a = y''
        m a = F - k y""",
    premises=lambda w: [
        (w.v, slope(w.at, w.t)), (w.a, slope(w.at, w.t, 2)), (w.m * w.a, w.F - w.k * w.y)],
    slips=[
        Slip("(2)", "a = F/m - ky", lambda w: (w.a, w.F / w.m - w.k * w.y), name="one term undivided"),
        Slip("(4)", "mv dv/dt - kyv = Fv",
             lambda w: (w.m * w.v * slope(w.speed, w.t) - w.k * w.y * w.v, w.F * w.v),
             {"(5)": "d/dt(½ m v² - ½ k y²) = F v"}, "sign"),
        Slip("(5)", "d/dt(½ m v² + k y²) = F v", lambda w: (
            slope(lambda t: _energy(w, t) + w.k * w.at(t) ** 2 / 2, w.t), w.F * w.v), name="half lost"),
    ],
)


# --- a ball buoy rolls down the quay: a lemma below its use ---------------------------------------


def _ball(rng: Random) -> World:
    w = drawn(rng, "m g h R")
    w["I"] = 0.4 * w.m * w.R**2
    w["v"] = sqrt(w.m * w.g * w.h / (w.m / 2 + w.I / (2 * w.R**2)))
    w["om"] = w.v / w.R
    return w


CASES += cases(
    "a ball buoy rolls down the quay, the lemma below its use",
    [
        ("(1)", "½ m v² + (1/5) m v² = m g h   [by (4) below]",
         lambda w: (w.m * w.v**2 / 2 + w.m * w.v**2 / 5, w.m * w.g * w.h)),
        ("(2)", "(7/10) m v² = m g h", lambda w: (0.7 * w.m * w.v**2, w.m * w.g * w.h)),
        ("(3)", "v² = (10/7) g h", lambda w: (w.v**2, 10 / 7 * w.g * w.h)),
        ("(4)", "½ I ω² = ½ · (2/5) m R² (v/R)² = (1/5) m v²",
         lambda w: [(w.I * w.om**2 / 2, 0.2 * w.m * w.R**2 * (w.v / w.R) ** 2), (w.I * w.om**2 / 2, w.m * w.v**2 / 5)]),
        ("(5)", "ω² = (10/7) g h/R²", lambda w: (w.om**2, 10 / 7 * w.g * w.h / w.R**2)),
    ],
    _ball,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        h, R : m, positive
        I : kg m^2, positive
        v : m/s, positive
        ω : rad/s, positive""",
    given="""
        ½ m v² + ½ I ω² = m g h
        I = (2/5) m R²
        v = ω R""",
    premises=lambda w: [
        (w.m * w.v**2 / 2 + w.I * w.om**2 / 2, w.m * w.g * w.h), (w.I, 0.4 * w.m * w.R**2), (w.v, w.om * w.R)],
    slips=[
        Slip("(1)", "½ m v² + (2/5) m v² = m g h   [by (4) below]",
             lambda w: (w.m * w.v**2 / 2 + 0.4 * w.m * w.v**2, w.m * w.g * w.h),
             {"(2)": "(9/10) m v² = m g h", "(3)": "v² = (10/9) g h"}, "half lost"),
        Slip("(3)", "v² = (7/10) g h", lambda w: (w.v**2, 0.7 * w.g * w.h), {"(5)": "ω² = (7/10) g h/R²"},
             "upside down"),
        Slip("(5)", "ω² = (10/7) g h R²", lambda w: (w.om**2, 10 / 7 * w.g * w.h * w.R**2),
             name="multiplied for divided"),
    ],
)


# --- a cask on a ramp: run together, words and remarks that nobody needs --------------------------


def _cask(rng: Random) -> World:
    w = drawn(rng, "m g s")
    w["th"] = rng.uniform(0.6, 1.2)
    w["mu"] = rng.uniform(0.1, 0.4)
    w["a"] = (w.m * w.g * sin(w.th) - w.mu * w.m * w.g * cos(w.th)) / w.m
    w["v"] = sqrt(2 * w.a * w.s)
    return w


CASES += cases(
    "a cask on a ramp, run together and with remarks",
    [
        ("", "# the rope is off by now"),
        ("", "mgsin(theta)-mu*m*g*cos(theta)=ma", lambda w: (
            w.m * w.g * sin(w.th) - w.mu * w.m * w.g * cos(w.th), w.m * w.a)),
        ("", "The mass goes out of it, so every cask runs alike."),
        ("", "=>a=gsin(theta)-mu*g*cos(theta)", lambda w: (w.a, w.g * sin(w.th) - w.mu * w.g * cos(w.th))),
        ("", "sin(theta)=cos(theta)tan(theta)", lambda w: (sin(w.th), cos(w.th) * tan(w.th))),
        ("", "# not needed, but true"),
        ("", "v^2=2gs(sin(theta)-mu*cos(theta))", lambda w: (w.v**2, 2 * w.g * w.s * (sin(w.th) - w.mu * cos(w.th)))),
        ("", "so v=sqrt(2gs(sin(theta)-mu*cos(theta)))", lambda w: (
            w.v, sqrt(2 * w.g * w.s * (sin(w.th) - w.mu * cos(w.th))))),
    ],
    _cask,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        theta : rad, 0 < theta < pi/2
        mu : 1, positive
        s : m, positive
        a : m/s^2
        v : m/s, nonnegative""",
    given="""
        m a = m g sin theta - mu m g cos theta
        v^2 = 2 a s""",
    premises=lambda w: [
        (w.m * w.a, w.m * w.g * (sin(w.th) - w.mu * cos(w.th))), (w.v**2, 2 * w.a * w.s)],
    slips=[
        Slip(4, "=>a=gsin(theta)-mu*cos(theta)", lambda w: (w.a, w.g * sin(w.th) - w.mu * cos(w.th)),
             name="a factor dropped on the way"),
        Slip(5, "sin(theta)=tan(theta)/cos(theta)", lambda w: (sin(w.th), tan(w.th) / cos(w.th)),
             name="identity upside down"),
        Slip(7, "v^2=gs(sin(theta)-mu*cos(theta))", lambda w: (w.v**2, w.g * w.s * (sin(w.th) - w.mu * cos(w.th))),
             {8: "so v=sqrt(gs(sin(theta)-mu*cos(theta)))"}, "factor 2 lost"),
    ],
)


# --- a tug doubles its speed: sides swapped, factors moved, the same said twice -------------------


def _tug(rng: Random) -> World:
    w = drawn(rng, "c v")
    w["F"], w["P"] = w.c * w.v**2, w.c * w.v**3
    return w


CASES += cases(
    "a tug doubles its speed, sides swapped",
    [
        ("1.", "c v² v = P", lambda w: (w.c * w.v**2 * w.v, w.P)),
        ("2.", "P = c v³", lambda w: (w.P, w.c * w.v**3)),
        ("3.", "0 = P - c v³ = c v³ - P", lambda w: [(1, 1 + w.P - w.c * w.v**3), (1, 1 + w.c * w.v**3 - w.P)]),
        ("4.", "let w = 2v, Q = c w³"),
        ("5.", "c w³ = 8 P, therefore Q/8 = P", lambda w: [(w.c * (2 * w.v) ** 3, 8 * w.P),
                                                           (w.c * (2 * w.v) ** 3 / 8, w.P)]),
        ("6.", "v = (P/c)^(1/3)", lambda w: (w.v, (w.P / w.c) ** (1 / 3))),
        ("7.", "P/F = v", lambda w: (w.P / w.F, w.v)),
    ],
    _tug,
    symbols="""
        c : kg/m, positive
        v : m/s, positive
        F : N, positive
        P : W, positive""",
    given="""
        F = c v²
        P = F v""",
    premises=lambda w: [(w.F, w.c * w.v**2), (w.P, w.F * w.v)],
    slips=[
        Slip("2.", "P = c v⁴", lambda w: (w.P, w.c * w.v**4), name="power"),
        Slip("5.", "c w³ = 2 P, therefore Q/2 = P", lambda w: (w.c * (2 * w.v) ** 3, 2 * w.P),
             name="cube of a product"),
        Slip("6.", "v = (P/c)^3", lambda w: (w.v, (w.P / w.c) ** 3), name="root upside down"),
        Slip("7.", "F/P = v", lambda w: (w.F / w.P, w.v), name="upside down"),
    ],
)


# --- quick lines with opening words ---------------------------------------------------------------


def _drop(rng: Random) -> World:
    w = drawn(rng, "m g h")
    w["v"] = sqrt(2 * w.g * w.h)
    w["p"] = w.m * w.v
    return w


CASES += cases(
    "a sack is dropped, quick lines with opening words",
    [
        ("", "energy: ½ m v² = m g h", lambda w: (w.m * w.v**2 / 2, w.m * w.g * w.h)),
        ("", "momentum: p = m v", lambda w: (w.p, w.m * w.v)),
        ("", "so m² v² = 2 m² g h", lambda w: (w.m**2 * w.v**2, 2 * w.m**2 * w.g * w.h)),
        ("", "p² = 2 m² g h", lambda w: (w.p**2, 2 * w.m**2 * w.g * w.h)),
        ("", "p²/2 = m · m g h", lambda w: (w.p**2 / 2, w.m * w.m * w.g * w.h)),
    ],
    _drop,
    slips=[
        Slip(3, "so m² v² = m² g h", lambda w: (w.m**2 * w.v**2, w.m**2 * w.g * w.h),
             {4: "p² = m² g h", 5: "p² = m · m g h"}, "factor 2 lost"),
        Slip(4, "p² = 2 m g h", lambda w: (w.p**2, 2 * w.m * w.g * w.h), {5: "p²/2 = m g h"}, "square lost"),
    ],
)
