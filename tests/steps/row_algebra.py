"""Algebra: rearranging, substituting, combining lines, linear systems, quadratics."""

from __future__ import annotations

from math import atan, cos, sin, sqrt, tan
from random import Random

import numpy as np

from .corpus import Case, Slip, World, cases
from .draws import drawn

ROW = "algebra"

EXAMPLE = """\
Symbols:
  m1, m2 : kg, positive
  g : m/s^2, positive
  a : m/s^2
  T : N

Given:
  (a)  T - m1 g = m1 a
  (b)  m2 g - T = m2 a

Working:
  (1)  (a) + (b): m2 g - m1 g = (m1 + m2) a
  (2)  so a = (m2 - m1) g/(m1 + m2)
  (3)  T = m1 (g + a) = 2 m1 m2 g/(m1 + m2)
"""

CASES: list[Case] = []


# --- a crate slides down a slipway: one substitution after another --------------------------------


def _slipway(rng: Random) -> World:
    w = drawn(rng, "m g mu")
    w["th"] = rng.uniform(0.3, 1.2)
    w["a"] = w.g * sin(w.th) - w.mu * w.g * cos(w.th)
    w["N"] = w.m * w.g * cos(w.th)
    w["R"] = w.mu * w.N
    return w


CASES += cases(
    "a crate slides down the slipway, in baby steps",
    [
        ("(1)", "m a = m g sin θ - μ N", lambda w: (w.m * w.a, w.m * w.g * sin(w.th) - w.mu * w.N)),
        ("(2)", "m a = m g sin θ - μ m g cos θ",
         lambda w: (w.m * w.a, w.m * w.g * sin(w.th) - w.mu * w.m * w.g * cos(w.th))),
        ("(3)", "so a = g sin θ - μ g cos θ   [divide by m]",
         lambda w: (w.a, w.g * sin(w.th) - w.mu * w.g * cos(w.th))),
        ("(4)", "a = g (sin θ - μ cos θ)", lambda w: (w.a, w.g * (sin(w.th) - w.mu * cos(w.th)))),
        ("(5)", "a = g cos θ (tan θ - μ)", lambda w: (w.a, w.g * cos(w.th) * (tan(w.th) - w.mu))),
    ],
    _slipway,
    symbols="""
        m : kg, positive, about 80
        g : m/s^2, positive
        θ : rad, 0 < θ < π/2 -- slope of the slipway
        μ : 1, positive
        N, R : N
        a : m/s^2""",
    given="""
        (a) N = m g cos θ
        (b) R = μ N
        (c) m a = m g sin θ - R""",
    show="a = g (sin θ - μ cos θ)",
    premises=lambda w: [
        (w.N, w.m * w.g * cos(w.th)), (w.R, w.mu * w.N), (w.m * w.a, w.m * w.g * sin(w.th) - w.R)],
    slips=[
        Slip("(2)", "m a = m g sin θ - μ m g sin θ",
             lambda w: (w.m * w.a, w.m * w.g * sin(w.th) - w.mu * w.m * w.g * sin(w.th)),
             {"(3)": "so a = g sin θ - μ g sin θ", "(4)": "a = g sin θ (1 - μ)", "(5)": "a = g (1 - μ) sin θ"},
             "sine for cosine"),
        Slip("(3)", "so a = g sin θ - μ m g cos θ   [divide by m]",
             lambda w: (w.a, w.g * sin(w.th) - w.mu * w.m * w.g * cos(w.th)), name="one term left undivided"),
        Slip("(4)", "a = g (sin θ + μ cos θ)", lambda w: (w.a, w.g * (sin(w.th) + w.mu * cos(w.th))),
             {"(5)": "a = g cos θ (tan θ + μ)"}, "sign"),
        Slip("(5)", "a = g cos θ (tan θ - μ cos θ)",
             lambda w: (w.a, w.g * cos(w.th) * (tan(w.th) - w.mu * cos(w.th))), name="factor not taken out"),
    ],
)


# --- two crates over a block: adding the two equations --------------------------------------------


def _hoist(rng: Random) -> World:
    w = drawn(rng, "m1 m2 g")
    w["T"], w["a"] = np.linalg.solve([[1, -w.m1], [1, w.m2]], [w.m1 * w.g, w.m2 * w.g])
    return w


CASES += cases(
    "two crates hang over a block, run together",
    [
        ("(1)", "(a) + (b): (m1+m2)a = m2g - m1g", lambda w: ((w.m1 + w.m2) * w.a, w.m2 * w.g - w.m1 * w.g)),
        ("(2)", "=> a = (m2-m1)g/(m1+m2)", lambda w: (w.a, (w.m2 - w.m1) * w.g / (w.m1 + w.m2))),
        ("(3)", "T = m1(g+a)", lambda w: (w.T, w.m1 * (w.g + w.a))),
        ("(4)", "T = 2m1m2g/(m1+m2)", lambda w: (w.T, 2 * w.m1 * w.m2 * w.g / (w.m1 + w.m2))),
    ],
    _hoist,
    symbols="""
        m1, m2 : kg, positive
        g : m/s^2, positive
        a : m/s^2
        T : N""",
    given="""
        (a) T - m1 g = m1 a
        (b) m2 g - T = m2 a""",
    premises=lambda w: [(w.T - w.m1 * w.g, w.m1 * w.a), (w.m2 * w.g - w.T, w.m2 * w.a)],
    slips=[
        Slip("(1)", "(a) + (b): (m1+m2)a = m1g - m2g", lambda w: ((w.m1 + w.m2) * w.a, (w.m1 - w.m2) * w.g),
             {"(2)": "=> a = (m1-m2)g/(m1+m2)"}, "sign"),
        Slip("(2)", "=> a = (m2-m1)g/(m2+2m1)", lambda w: (w.a, (w.m2 - w.m1) * w.g / (w.m2 + 2 * w.m1)),
             name="a mass counted twice"),
        Slip("(4)", "T = m1m2g/(m1+m2)", lambda w: (w.T, w.m1 * w.m2 * w.g / (w.m1 + w.m2)), name="factor 2 lost"),
    ],
)


# --- a gangway on two supports: a linear system ---------------------------------------------------


def _gangway(rng: Random) -> World:
    w = drawn(rng, "W P L d")
    w["A"], w["B"] = np.linalg.solve([[1, 1], [0, w.L]], [w.W + w.P, w.W * w.L / 2 + w.P * w.d])
    return w


CASES += cases(
    "a gangway on two supports, without labels",
    [
        ("", "B L = W L/2 + P d", lambda w: (w.B * w.L, w.W * w.L / 2 + w.P * w.d)),
        ("", "B = W/2 + P d/L", lambda w: (w.B, w.W / 2 + w.P * w.d / w.L)),
        ("", "A = W + P - B", lambda w: (w.A, w.W + w.P - w.B)),
        ("", "A = W/2 + P (1 - d/L)", lambda w: (w.A, w.W / 2 + w.P * (1 - w.d / w.L))),
        ("", "∴ A - B = P (L - 2 d)/L", lambda w: (w.A - w.B, w.P * (w.L - 2 * w.d) / w.L)),
    ],
    _gangway,
    symbols="""
        W : N, positive -- weight of the gangway
        P : N, positive -- weight of the porter
        L, d : m, positive
        A, B : N""",
    given="""
        A + B = W + P
        B L = W L/2 + P d""",
    premises=lambda w: [(w.A + w.B, w.W + w.P), (w.B * w.L, w.W * w.L / 2 + w.P * w.d)],
    slips=[
        Slip(2, "B = W/2 + P L/d", lambda w: (w.B, w.W / 2 + w.P * w.L / w.d), name="fraction upside down"),
        Slip(4, "A = W/2 + P (1 + d/L)", lambda w: (w.A, w.W / 2 + w.P * (1 + w.d / w.L)), name="sign"),
        Slip(5, "∴ A - B = P (L - d)/L", lambda w: (w.A - w.B, w.P * (w.L - w.d) / w.L), name="factor 2 lost"),
    ],
)


# --- a flare passes a ledge twice: a quadratic with both roots ------------------------------------


def _flare(rng: Random) -> World:
    w = drawn(rng, "v0 g t")
    w["v0"] += w.g * w.t / 2
    w["h"] = w.v0 * w.t - w.g * w.t**2 / 2
    return w


def _either(w: World, root: float, middle: float) -> bool:
    return min(abs(w.t - middle - root), abs(w.t - middle + root)) < 1e-9


CASES += cases(
    "a flare passes a ledge twice",
    [
        ("1.", "½ g t² - v₀ t + h = 0", lambda w: (w.g * w.t**2 / 2 + w.h, w.v0 * w.t)),
        ("2.", "t² - 2 v₀ t/g + 2 h/g = 0", lambda w: (w.t**2 + 2 * w.h / w.g, 2 * w.v0 * w.t / w.g)),
        ("3.", "(t - v₀/g)² = v₀²/g² - 2 h/g",
         lambda w: ((w.t - w.v0 / w.g) ** 2, w.v0**2 / w.g**2 - 2 * w.h / w.g)),
        ("4.", "t = v₀/g ± √(v₀²/g² - 2 h/g)",
         lambda w: _either(w, sqrt(max(0, w.v0**2 / w.g**2 - 2 * w.h / w.g)), w.v0 / w.g)),
        ("5.", "hence t = (v₀ ± √(v₀² - 2 g h))/g",
         lambda w: _either(w, sqrt(max(0, w.v0**2 - 2 * w.g * w.h)) / w.g, w.v0 / w.g)),
    ],
    _flare,
    symbols="""
        v₀ : m/s, positive
        g : m/s², positive
        h : m, positive
        t : s, positive""",
    given="h = v₀ t - ½ g t²",
    show="t = (v₀ ± √(v₀² - 2 g h))/g",
    premises=lambda w: (w.h, w.v0 * w.t - w.g * w.t**2 / 2),
    slips=[
        Slip("2.", "t² - v₀ t/g + 2 h/g = 0", lambda w: (w.t**2 + 2 * w.h / w.g, w.v0 * w.t / w.g),
             {"3.": "(t - v₀/(2 g))² = v₀²/(4 g²) - 2 h/g", "4.": "t = v₀/(2 g) ± √(v₀²/(4 g²) - 2 h/g)",
              "5.": "hence t = (v₀ ± √(v₀² - 8 g h))/(2 g)"}, "factor 2 lost"),
        Slip("3.", "(t - v₀/g)² = v₀²/g² + 2 h/g",
             lambda w: ((w.t - w.v0 / w.g) ** 2, w.v0**2 / w.g**2 + 2 * w.h / w.g),
             {"4.": "t = v₀/g ± √(v₀²/g² + 2 h/g)", "5.": "hence t = (v₀ ± √(v₀² + 2 g h))/g"}, "sign"),
        Slip("5.", "hence t = (v₀ ± √(v₀² - g h))/g",
             lambda w: _either(w, sqrt(max(0, w.v0**2 - w.g * w.h)) / w.g, w.v0 / w.g), name="factor 2 lost"),
    ],
)


# --- two ice floes meet: a system solved in big jumps ---------------------------------------------


def _floes(rng: Random) -> World:
    w = drawn(rng, "m1 m2 u1 u2")
    w["v1"], w["v2"] = np.linalg.solve([[w.m1, w.m2], [-1, 1]], [w.m1 * w.u1 + w.m2 * w.u2, w.u1 - w.u2])
    return w


CASES += cases(
    "two floes meet, in big jumps",
    [
        ("(1)", "v1 = ((m1 - m2) u1 + 2 m2 u2)/(m1 + m2)",
         lambda w: (w.v1, ((w.m1 - w.m2) * w.u1 + 2 * w.m2 * w.u2) / (w.m1 + w.m2))),
        ("(2)", "and v2 = ((m2 - m1) u2 + 2 m1 u1)/(m1 + m2)",
         lambda w: (w.v2, ((w.m2 - w.m1) * w.u2 + 2 * w.m1 * w.u1) / (w.m1 + w.m2))),
        ("(3)", "m1 (u1² - v1²) = m2 (v2² - u2²)",
         lambda w: (w.m1 * (w.u1**2 - w.v1**2), w.m2 * (w.v2**2 - w.u2**2))),
        ("(4)", "½ m1 u1² + ½ m2 u2² = ½ m1 v1² + ½ m2 v2²",
         lambda w: (w.m1 * w.u1**2 + w.m2 * w.u2**2, w.m1 * w.v1**2 + w.m2 * w.v2**2)),
    ],
    _floes,
    symbols="""
        m1, m2 : kg, positive
        u1, u2, v1, v2 : m/s""",
    given="""
        m1 u1 + m2 u2 = m1 v1 + m2 v2
        u1 - u2 = v2 - v1""",
    premises=lambda w: [
        (w.m1 * w.u1 + w.m2 * w.u2, w.m1 * w.v1 + w.m2 * w.v2), (w.u1 - w.u2, w.v2 - w.v1)],
    slips=[
        Slip("(1)", "v1 = ((m1 - m2) u1 + m2 u2)/(m1 + m2)",
             lambda w: (w.v1, ((w.m1 - w.m2) * w.u1 + w.m2 * w.u2) / (w.m1 + w.m2)), name="factor 2 lost"),
        Slip("(2)", "and v2 = ((m1 - m2) u2 + 2 m1 u1)/(m1 + m2)",
             lambda w: (w.v2, ((w.m1 - w.m2) * w.u2 + 2 * w.m1 * w.u1) / (w.m1 + w.m2)), name="masses swapped"),
        Slip("(3)", "m1 (u1² - v1²) = m2 (v2² + u2²)",
             lambda w: (w.m1 * (w.u1**2 - w.v1**2), w.m2 * (w.v2**2 + w.u2**2)), name="sign"),
    ],
)


# --- a lamp swings in a circle: equations divided, squared and added ------------------------------


def _lamp(rng: Random) -> World:
    w = drawn(rng, "m g om r")
    w["be"] = atan(w.om**2 * w.r / w.g)
    w["T"] = w.m * w.g / cos(w.be)
    w["l"] = w.r / sin(w.be)
    return w


CASES += cases(
    "a lamp swings in a circle, equations divided and squared",
    [
        ("(1)", "(a)/(b) gives tan β = ω² r/g", lambda w: (tan(w.be), w.om**2 * w.r / w.g)),
        ("(2)", "(a)² + (b)²: T² = m² (g² + ω⁴ r²)", lambda w: (w.T**2, w.m**2 * (w.g**2 + w.om**4 * w.r**2))),
        ("(3)", "so T = m √(g² + ω⁴ r²)", lambda w: (w.T, w.m * sqrt(w.g**2 + w.om**4 * w.r**2))),
        ("(4)", "T = m ω² l, i.e. cos β = g/(ω² l)   [from (a), (c) and (b)]",
         lambda w: [(w.T, w.m * w.om**2 * w.l), (cos(w.be), w.g / (w.om**2 * w.l))]),
    ],
    _lamp,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        ω : rad/s, positive
        r, l : m, positive
        β : rad, 0 < β < π/2
        T : N, positive""",
    given="""
        (a) T sin β = m ω² r
        (b) T cos β = m g
        (c) r = l sin β""",
    premises=lambda w: [
        (w.T * sin(w.be), w.m * w.om**2 * w.r), (w.T * cos(w.be), w.m * w.g), (w.r, w.l * sin(w.be))],
    slips=[
        Slip("(1)", "(a)/(b) gives tan β = ω r/g", lambda w: (tan(w.be), w.om * w.r / w.g), name="power lost"),
        Slip("(2)", "(a)² + (b)²: T² = m² (g² + ω² r²)", lambda w: (w.T**2, w.m**2 * (w.g**2 + w.om**2 * w.r**2)),
             {"(3)": "so T = m √(g² + ω² r²)"}, "power lost"),
        Slip("(3)", "so T = m (g + ω² r)", lambda w: (w.T, w.m * (w.g + w.om**2 * w.r)), name="root of a sum"),
        Slip("(4)", "T = m ω² l, i.e. cos β = ω² l/g   [from (a), (c) and (b)]",
             lambda w: [(w.T, w.m * w.om**2 * w.l), (cos(w.be), w.om**2 * w.l / w.g)], name="upside down"),
    ],
)


# --- a quick working of bare lines ----------------------------------------------------------------


def _ferry(rng: Random) -> World:
    w = drawn(rng, "u a t")
    w["v"] = w.u + w.a * w.t
    w["s"] = w.u * w.t + w.a * w.t**2 / 2
    return w


CASES += cases(
    "a ferry gathers way, a few bare lines",
    [
        ("", "v = u + a t", lambda w: (w.v, w.u + w.a * w.t)),
        ("", "s = u t + 1/2 a t^2", lambda w: (w.s, w.u * w.t + w.a * w.t**2 / 2)),
        ("", "so a t = v - u", lambda w: (w.a * w.t, w.v - w.u)),
        ("", "a s = u (v - u) + 1/2 (v - u)^2", lambda w: (w.a * w.s, w.u * (w.v - w.u) + (w.v - w.u) ** 2 / 2)),
        ("", "2 a s = 2uv - 2u^2 + v^2 - 2uv + u^2 = v^2 - u^2", lambda w: (2 * w.a * w.s, w.v**2 - w.u**2)),
    ],
    _ferry,
    slips=[
        Slip(3, "so a t = v + u", lambda w: (w.a * w.t, w.v + w.u),
             {4: "a s = u (v + u) + 1/2 (v + u)^2", 5: "2 a s = 2uv + 2u^2 + v^2 + 2uv + u^2 = v^2 + 4uv + 3u^2"},
             "sign"),
        Slip(4, "a s = u (v - u) + (v - u)^2", lambda w: (w.a * w.s, w.u * (w.v - w.u) + (w.v - w.u) ** 2),
             {5: "a s = uv - u^2 + v^2 - 2uv + u^2 = v^2 - uv"}, "half lost"),
        Slip(5, "2 a s = 2uv - 2u^2 + v^2 - u^2 = v^2 + 2uv - 3u^2",
             lambda w: (2 * w.a * w.s, w.v**2 + 2 * w.u * w.v - 3 * w.u**2), name="square of a difference"),
    ],
)


# --- a capstan and a tackle: names of the writer's own, a detour, lines far above -----------------


def _capstan(rng: Random) -> World:
    w = drawn(rng, "F R r n")
    w["M"] = w.F * w.R
    w["T"] = w.M / w.r
    w["W"] = w.n * w.T
    return w


CASES += cases(
    "a capstan and a tackle, with a detour over work",
    [
        ("(1)", "let q = R/r"),
        ("(2)", "T = q F   [(a), (b)]", lambda w: (w.T, w.R / w.r * w.F)),
        ("(3)", "W = n q F", lambda w: (w.W, w.n * w.R / w.r * w.F)),
        ("(4)", "F = W r/(n R)", lambda w: (w.F, w.W * w.r / (w.n * w.R))),
        ("(5)", "let h = 2π r/n   -- rise in one turn"),
        ("(6)", "2π R F = W h", lambda w: (2 * w.R * w.F, w.W * 2 * w.r / w.n)),
        ("(7)", "M = W r/n, so W h = 2π M   [(a) and (4)]",
         lambda w: [(w.M, w.W * w.r / w.n), (w.W * 2 * w.r / w.n, 2 * w.M)]),
    ],
    _capstan,
    symbols="""
        F : N, positive -- push on the bar
        R, r : m, positive
        n : 1, positive -- falls of the tackle
        M : N m
        T, W : N""",
    given="""
        (a) M = F R
        (b) M = T r
        (c) W = n T""",
    premises=lambda w: [(w.M, w.F * w.R), (w.M, w.T * w.r), (w.W, w.n * w.T)],
    slips=[
        Slip("(2)", "T = F/q   [(a), (b)]", lambda w: (w.T, w.r / w.R * w.F),
             {"(3)": "W = n F/q", "(4)": "F = W R/(n r)"}, "upside down"),
        Slip("(4)", "F = W R/(n r)", lambda w: (w.F, w.W * w.R / (w.n * w.r)), name="own name read upside down"),
        Slip("(6)", "2π R F = n W h", lambda w: (2 * w.R * w.F, w.n * w.W * 2 * w.r / w.n),
             name="factor counted twice"),
        Slip("(7)", "M = n W r, so W h = 2π M   [(a) and (4)]",
             lambda w: [(w.M, w.n * w.W * w.r), (w.W * 2 * w.r / w.n, 2 * w.M)], name="multiplied for divided"),
    ],
)
