"""Vectors: components, magnitudes, dot and cross products, unit vectors. Labels compare components."""

from __future__ import annotations

from math import acos, atan2, cos, hypot, sin, sqrt
from random import Random

import numpy as np

from .corpus import Case, Slip, World, cases
from .draws import drawn
from .planar import both, cross, dot, plus, times

ROW = "Vectors"

EXAMPLE = """\
Symbols:
  P, Q : N, positive
  β : rad, 0 < β < π
  A, B, R : N, vector

Given:
  A = P x̂
  B = Q cos β x̂ + Q sin β ŷ
  R = A + B

Working:
  (1)  R = (P + Q cos β, Q sin β)
  (2)  A·B = P Q cos β
  (3)  |R|² = P² + 2 P Q cos β + Q²
"""

CASES: list[Case] = []


# --- two ropes on one hook: sums, magnitudes, dot products ----------------------------------------


def _hook(rng: Random) -> World:
    w = drawn(rng, "P Q")
    w["be"] = rng.uniform(0.3, 2.8)
    w["A"], w["B"] = (w.P, 0.0), (w.Q * cos(w.be), w.Q * sin(w.be))
    w["R"] = plus(w.A, w.B)
    return w


CASES += cases(
    "two ropes pull one hook",
    [
        ("(1)", "R = (P + Q cos β, Q sin β)", lambda w: both(w.R, (w.P + w.Q * cos(w.be), w.Q * sin(w.be)))),
        ("(2)", "R_x = P + Q cos β, R_y = Q sin β",
         lambda w: both(w.R, (w.P + w.Q * cos(w.be), w.Q * sin(w.be)))),
        ("(3)", "|R|² = P² + 2 P Q cos β + Q²",
         lambda w: (dot(w.R, w.R), w.P**2 + 2 * w.P * w.Q * cos(w.be) + w.Q**2)),
        ("(4)", "A·B = P Q cos β", lambda w: (dot(w.A, w.B), w.P * w.Q * cos(w.be))),
        ("(5)", "R·A = P² + P Q cos β = P R_x",
         lambda w: [(dot(w.R, w.A), w.P**2 + w.P * w.Q * cos(w.be)), (dot(w.R, w.A), w.P * w.R[0])]),
    ],
    _hook,
    symbols="""
        P, Q : N, positive
        β : rad, 0 < β < π
        A, B, R : N, vector""",
    given="""
        A = (P, 0)
        B = (Q cos β, Q sin β)
        R = A + B""",
    premises=lambda w: [
        *both(w.A, (w.P, 0)), *both(w.B, (w.Q * cos(w.be), w.Q * sin(w.be))), *both(w.R, plus(w.A, w.B))],
    slips=[
        Slip("(1)", "R = (P + Q cos β, P sin β)", lambda w: both(w.R, (w.P + w.Q * cos(w.be), w.P * sin(w.be))),
             {"(2)": "R_x = P + Q cos β, R_y = P sin β", "(3)": "|R|² = P² + 2 P Q cos β + Q² cos² β + P² sin² β"},
             "neighbour symbol"),
        Slip("(1)", "R = P + Q cos β", lambda w: False,
             {"(2)": "R_x = P + Q cos β"}, "a vector set equal to a number"),
        Slip("(3)", "|R|² = P² - 2 P Q cos β + Q²",
             lambda w: (dot(w.R, w.R), w.P**2 - 2 * w.P * w.Q * cos(w.be) + w.Q**2), name="sign"),
        Slip("(4)", "A·B = P Q sin β", lambda w: (dot(w.A, w.B), w.P * w.Q * sin(w.be)), name="sine for cosine"),
    ],
)


# --- a winch does work along a track: numbers and unit vectors ------------------------------------


def _winch(rng: Random) -> World:
    return World(F=(-4.0, 3.0), d=(2.0, 5.0), W=7.0, al=acos(7 / (5 * sqrt(29))))


CASES += cases(
    "a winch does work along a track",
    [
        ("1.", "W = F·d = -8 J + 15 J = 7 J", lambda w: [(w.W, dot(w.F, w.d)), (w.W, -8 + 15), (w.W, 7)]),
        ("2.", "|F| = 5 N", lambda w: (hypot(*w.F), 5)),
        ("3.", "|d| = √29 m", lambda w: (hypot(*w.d), sqrt(29))),
        ("4.", "cos α = W/(|F| |d|) = 7/(5 √29)",
         lambda w: [(cos(w.al), w.W / (hypot(*w.F) * hypot(*w.d))), (cos(w.al), 7 / (5 * sqrt(29)))]),
    ],
    _winch,
    symbols="""
        F : N, vector
        d : m, vector
        W : J
        α : rad, 0 < α < π -- angle between pull and track""",
    given="""
        F = -4 î + 3 ĵ (N)
        d = 2 î + 5 ĵ (m)
        W = F·d
        W = |F| |d| cos α""",
    premises=lambda w: [
        *both(w.F, (-4, 3)), *both(w.d, (2, 5)), (w.W, dot(w.F, w.d)), (w.W, hypot(*w.F) * hypot(*w.d) * cos(w.al))],
    slips=[
        Slip("1.", "W = F·d = 8 J + 15 J = 23 J", lambda w: [(w.W, dot(w.F, w.d)), (w.W, 8 + 15)],
             {"4.": "cos α = W/(|F| |d|) = 23/(5 √29)"}, "sign"),
        Slip("2.", "|F| = 7 N", lambda w: (hypot(*w.F), 7), {"4.": "cos α = W/(|F| |d|) = 1/√29"},
             "components added without squares"),
        Slip("3.", "|d| = √21 m", lambda w: (hypot(*w.d), sqrt(21)), {"4.": "cos α = W/(|F| |d|) = 7/(5 √21)"},
             "a sign under the root"),
    ],
)


# --- a ferry across a current: relative velocity, numbers -----------------------------------------


def _current(rng: Random) -> World:
    return World(b=2.5, c=(1.5, 0.0), al=atan2(0.6, 0.8), v=(0.0, 2.0), T=30.0)


CASES += cases(
    "a ferry crosses a current",
    [
        ("1)", "v = (1.5 m/s - b sin α, b cos α)",
         lambda w: both(w.v, (1.5 - w.b * sin(w.al), w.b * cos(w.al)))),
        ("2)", "v_x = 0 => sin α = 1.5/2.5 = 0.6", lambda w: [(w.v[0] + 1, 1), (sin(w.al), 1.5 / 2.5)]),
        ("3)", "cos α = √(1 - 0.6²) = 0.8", lambda w: (cos(w.al), 0.8)),
        ("4)", "v_y = 2.5 m/s · 0.8 = 2.0 m/s", lambda w: (w.v[1], 2.0)),
        ("5)", "T = 60 m/(2.0 m/s) = 30 s", lambda w: (w.T, 60 / 2.0)),
    ],
    _current,
    symbols="""
        b : m/s, positive -- speed through the water
        α : rad, 0 < α < π/2
        c, v : m/s, vector
        T : s, positive""",
    given="""
        b = 2.5 m/s
        c = (1.5 m/s, 0)
        v = c + (-b sin α, b cos α)
        v_x = 0
        T v_y = 60 m""",
    premises=lambda w: [
        (w.b, 2.5), *both(w.v, plus(w.c, (-w.b * sin(w.al), w.b * cos(w.al)))), (1, 1 + w.v[0]), (w.T * w.v[1], 60)],
    slips=[
        Slip("2)", "v_x = 0 => sin α = 2.5/1.5 = 1.67", lambda w: (sin(w.al), 2.5 / 1.5), name="upside down"),
        Slip("3)", "cos α = 1 - 0.6 = 0.4", lambda w: (cos(w.al), 0.4),
             {"4)": "v_y = 2.5 m/s · 0.4 = 1.0 m/s", "5)": "T = 60 m/(1.0 m/s) = 60 s"}, "root of a difference"),
        Slip("5)", "T = 60 m · 2.0 m/s = 120 s", lambda w: (w.T, 60 * 2.0), name="multiplied for divided"),
    ],
)


# --- the wind on a mast: three components, a moment -----------------------------------------------


def _mast(_: Random) -> World:
    return World(r=(2.0, 0.0, 3.0), F=(10.0, -5.0, 0.0), M=tuple(np.cross((2, 0, 3), (10, -5, 0))))


CASES += cases(
    "the wind on a mast, three components",
    [
        ("(1)", "M_x = 0 - 3 m · (-5 N) = 15 N m", lambda w: (w.M[0], 15)),
        ("(2)", "M = (15, 30, -10) (N m)", lambda w: both(w.M, (15, 30, -10))),
        ("(3)", "|M| = √(15² + 30² + 10²) N m = 35 N m", lambda w: (np.linalg.norm(w.M), 35)),
        ("(4)", "r·M = 0, F·M = 0", lambda w: [(1, 1 + np.dot(w.r, w.M)), (1, 1 + np.dot(w.F, w.M))]),
    ],
    _mast,
    symbols="""
        r : m, vector
        F : N, vector
        M : N m, vector""",
    given="""
        r = 2 x̂ + 3 ẑ (m)
        F = 10 x̂ - 5 ŷ (N)
        M = r × F""",
    premises=lambda w: [*zip(w.M, np.cross(w.r, w.F), strict=True)],
    slips=[
        Slip("(1)", "M_x = 0 + 3 m · (-5 N) = -15 N m", lambda w: (w.M[0], -15),
             {"(2)": "M = (-15, 30, -10) (N m)"}, "sign"),
        Slip("(2)", "M = (15, -30, -10) (N m)", lambda w: both(w.M, (15, -30, -10)), name="sign of the middle one"),
        Slip("(3)", "|M| = (15 + 30 + 10) N m = 55 N m", lambda w: (np.linalg.norm(w.M), 55),
             name="added without squares"),
    ],
)


# --- a jib held by a level stay: moments as cross products ----------------------------------------


def _jib(rng: Random) -> World:
    w = drawn(rng, "W L")
    w["al"] = rng.uniform(0.4, 1.2)
    w["r"] = times(w.L, (cos(w.al), sin(w.al)))
    w["G"] = (0.0, -w.W)
    # The stay's pull from the balance of moments, solved as a linear equation.
    w["H"] = cross(times(0.5, w.r), w.G) / cross(w.r, (1.0, 0.0))
    w["S"] = (-w.H, 0.0)
    return w


CASES += cases(
    "a jib held by a level stay",
    [
        ("(1)", "r × G = -W L cos α ẑ", lambda w: (cross(w.r, w.G), -w.W * w.L * cos(w.al))),
        ("(2)", "r × S = H L sin α ẑ", lambda w: (cross(w.r, w.S), w.H * w.L * sin(w.al))),
        ("(3)", "-½ W L cos α + H L sin α = 0", lambda w: (w.W * w.L * cos(w.al) / 2, w.H * w.L * sin(w.al))),
        ("(4)", "so H = W/(2 tan α)", lambda w: (w.H, w.W * cos(w.al) / (2 * sin(w.al)))),
        ("(5)", "|G + S| = W √(1 + 1/(4 tan² α))",
         lambda w: (hypot(*plus(w.G, w.S)), w.W * sqrt(1 + cos(w.al) ** 2 / (4 * sin(w.al) ** 2)))),
    ],
    _jib,
    symbols="""
        W, H : N, positive
        L : m, positive
        α : rad, 0 < α < π/2
        r : m, vector
        G, S : N, vector""",
    given="""
        r = L (cos α, sin α)
        G = -W ŷ
        S = -H x̂
        ½ r × G + r × S = 0""",
    show="H = W/(2 tan α)",
    premises=lambda w: [
        *both(w.r, (w.L * cos(w.al), w.L * sin(w.al))), *both(w.G, (0, -w.W)), *both(w.S, (-w.H, 0)),
        (cross(w.r, w.G) / 2, -cross(w.r, w.S))],
    slips=[
        Slip("(1)", "r × G = -W L sin α ẑ", lambda w: (cross(w.r, w.G), -w.W * w.L * sin(w.al)),
             {"(3)": "-½ W L sin α + H L sin α = 0", "(4)": "so H = W/2", "(5)": "|G + S| = W √(1 + 1/4)"},
             "sine for cosine"),
        Slip("(3)", "½ W L cos α + H L sin α = 0", lambda w: (-w.W * w.L * cos(w.al) / 2, w.H * w.L * sin(w.al)),
             {"(4)": "so H = -W/(2 tan α)"}, "sign"),
        Slip("(4)", "so H = W tan α/2", lambda w: (w.H, w.W * sin(w.al) / cos(w.al) / 2),
             {"(5)": "|G + S| = W √(1 + tan² α/4)"}, "upside down"),
    ],
)
