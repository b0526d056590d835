"""Identities (trigonometric, exponential, hyperbolic, logarithmic) and extremes by a vanishing derivative."""

from __future__ import annotations

from math import asin, atan, cos, cosh, exp, log, pi, sin, sqrt, tan, tanh
from random import Random

import mpmath

from .corpus import Case, Slip, World, cases, slope
from .draws import drawn

ROW = "identities and extremes"

EXAMPLE = """\
Symbols:
  F : N, positive
  c : m/s, positive
  P(v) : W
  v : m/s, positive

Given:
  P = F v (1 - v²/c²)

Working:
  (1)  dP/dv = F (1 - 3 v²/c²)
  (2)  dP/dv = 0 at v = c/√3
  (3)  P(c/√3) = 2 F c/(3 √3)
"""

CASES: list[Case] = []


# --- a line is thrown to the quay: trigonometric identities ---------------------------------------


def _throw(rng: Random) -> World:
    w = drawn(rng, "v0 g tau")
    w["al"] = rng.uniform(0.3, 1.2)
    w["x"] = w.v0 * cos(w.al) * w.tau
    w["y"] = w.v0 * sin(w.al) * w.tau - w.g * w.tau**2 / 2
    return w


CASES += cases(
    "a heaving line is thrown to the quay",
    [
        ("(1)", "τ = x/(v0 cos α)", lambda w: (w.tau, w.x / (w.v0 * cos(w.al)))),
        ("(2)", "y = x tan α - g x^2/(2 v0^2 cos^2 α)",
         lambda w: (w.y, w.x * tan(w.al) - w.g * w.x**2 / (2 * w.v0**2 * cos(w.al) ** 2))),
        ("(3)", "1/cos^2 α = 1 + tan^2 α", lambda w: (1 / cos(w.al) ** 2, 1 + tan(w.al) ** 2)),
        ("(4)", "y = x tan α - g x^2 (1 + tan^2 α)/(2 v0^2)   [(2) and (3)]",
         lambda w: (w.y, w.x * tan(w.al) - w.g * w.x**2 * (1 + tan(w.al) ** 2) / (2 * w.v0**2))),
        ("(5)", "x sin 2α = 2 v0 τ sin α cos² α",
         lambda w: (w.x * sin(2 * w.al), 2 * w.v0 * w.tau * sin(w.al) * cos(w.al) ** 2)),
    ],
    _throw,
    symbols="""
        v0 : m/s, positive
        alpha : rad, 0 < alpha < pi/2
        g : m/s^2, positive
        tau : s, positive
        x, y : m""",
    given="""
        x = v0 cos(alpha) tau
        y = v0 sin(alpha) tau - 1/2 g tau^2""",
    premises=lambda w: [
        (w.x, w.v0 * cos(w.al) * w.tau), (w.y, w.v0 * sin(w.al) * w.tau - w.g * w.tau**2 / 2)],
    slips=[
        Slip("(1)", "τ = x/(v0 sin α)", lambda w: (w.tau, w.x / (w.v0 * sin(w.al))),
             {"(2)": "y = x - g x^2/(2 v0^2 sin^2 α)"}, "sine for cosine"),
        Slip("(2)", "y = x tan α - g x^2/(2 v0^2 cos α)",
             lambda w: (w.y, w.x * tan(w.al) - w.g * w.x**2 / (2 * w.v0**2 * cos(w.al))), name="cosine not squared"),
        Slip("(3)", "1/cos^2 α = 1 - tan^2 α", lambda w: (1 / cos(w.al) ** 2, 1 - tan(w.al) ** 2),
             {"(4)": "y = x tan α - g x^2 (1 - tan^2 α)/(2 v0^2)"}, "sign"),
    ],
)


# --- a hawser round a bollard: exponentials and logarithms ----------------------------------------


def _bollard(rng: Random) -> World:
    w = drawn(rng, "T1 n")
    w["mu"] = rng.uniform(0.1, 0.4)
    w["phi"] = 2 * pi * w.n
    w["T2"] = w.T1 * exp(w.mu * w.phi)
    return w


CASES += cases(
    "a hawser round a bollard",
    [
        ("1)", "ln(T2/T1) = μφ", lambda w: (log(w.T2 / w.T1), w.mu * w.phi)),
        ("2)", "ln T2 - ln T1 = 2πμn", lambda w: (log(w.T2) - log(w.T1), 2 * pi * w.mu * w.n)),
        ("3)", "n = ln(T2/T1)/(2πμ)", lambda w: (w.n, log(w.T2 / w.T1) / (2 * pi * w.mu))),
        ("4)", "T2² = T1² e^(4πμn)", lambda w: (w.T2**2, w.T1**2 * exp(4 * pi * w.mu * w.n))),
        ("5)", "T1 = T2 e^(-2πμn)", lambda w: (w.T1, w.T2 * exp(-2 * pi * w.mu * w.n))),
    ],
    _bollard,
    symbols="""
        T1, T2 : N, positive
        μ : 1, positive
        n : 1, positive
        φ : rad""",
    given="""
        T2 = T1 e^(μ φ)
        φ = 2 π n""",
    premises=lambda w: [(w.T2, w.T1 * exp(w.mu * w.phi)), (w.phi, 2 * pi * w.n)],
    slips=[
        Slip("2)", "ln T2 + ln T1 = 2πμn", lambda w: (log(w.T2) + log(w.T1), 2 * pi * w.mu * w.n), name="sign"),
        Slip("3)", "n = 2πμ/ln(T2/T1)", lambda w: (w.n, 2 * pi * w.mu / log(w.T2 / w.T1)),
             name="fraction upside down"),
        Slip("4)", "T2² = T1² e^(4π²μ²n²)", lambda w: (w.T2**2, w.T1**2 * exp((2 * pi * w.mu * w.n) ** 2)),
             name="exponent squared"),
    ],
)


# --- a tug pulls hardest at some speed: a vanishing derivative ------------------------------------


def _tug(rng: Random) -> World:
    return drawn(rng, "F c v")


def _power(w: World, v: float) -> float:
    return w.F * v * (1 - v * v / w.c**2)


CASES += cases(
    "a tug gives most power at some speed",
    [
        ("(1)", "P = F v - F v³/c²", lambda w: (_power(w, w.v), w.F * w.v - w.F * w.v**3 / w.c**2)),
        ("(2)", "dP/dv = F - 3 F v²/c²",
         lambda w: (slope(lambda v: _power(w, v), w.v), w.F - 3 * w.F * w.v**2 / w.c**2)),
        ("(3)", "dP/dv = 0 at v = c/√3", lambda w: abs(slope(lambda v: _power(w, v), w.c / sqrt(3))) < 1e-9),
        ("(4)", "P(c/√3) = 2 F c/(3 √3)", lambda w: (_power(w, w.c / sqrt(3)), 2 * w.F * w.c / (3 * sqrt(3)))),
    ],
    _tug,
    symbols="""
        F : N, positive
        c : m/s, positive
        v : m/s, positive
        P(v) : W""",
    given="P = F v (1 - v²/c²)",
    slips=[
        Slip("(2)", "dP/dv = F - 2 F v²/c²",
             lambda w: (slope(lambda v: _power(w, v), w.v), w.F - 2 * w.F * w.v**2 / w.c**2),
             {"(3)": "dP/dv = 0 at v = c/√2", "(4)": "P(c/√2) = F c/(2 √2)"}, "power rule"),
        Slip("(3)", "dP/dv = 0 at v = c/3", lambda w: abs(slope(lambda v: _power(w, v), w.c / 3)) < 1e-9,
             {"(4)": "P(c/3) = 8 F c/27"}, "root forgotten"),
        Slip("(4)", "P(c/√3) = F c/(3 √3)", lambda w: (_power(w, w.c / sqrt(3)), w.F * w.c / (3 * sqrt(3))),
             name="factor 2 lost"),
    ],
)


# --- the steepest throw: an angle from a vanishing derivative, with names of the writer's own -----


def _reach(rng: Random) -> World:
    w = drawn(rng, "v0 g al")
    w["al"] = rng.uniform(0.2, 1.3)
    return w


def _distance(w: World, al: float) -> float:
    return w.v0**2 * mpmath.sin(2 * al) / w.g


CASES += cases(
    "the farthest throw, with a name of the writer's own",
    [
        ("(1)", "let D = v₀²/g"),
        ("(2)", "R = 2 D sin α cos α = D sin 2α", lambda w: (_distance(w, w.al), w.v0**2 / w.g * sin(2 * w.al))),
        ("(3)", "dR/dα = 2 D cos 2α",
         lambda w: (slope(lambda al: _distance(w, al), w.al), 2 * w.v0**2 / w.g * cos(2 * w.al))),
        ("(4)", "dR/dα = 0 when α = π/4", lambda w: abs(slope(lambda al: _distance(w, al), asin(1) / 2)) < 1e-9),
        ("(5)", "R(π/4) = D = v₀²/g", lambda w: (_distance(w, pi / 4), w.v0**2 / w.g)),
    ],
    _reach,
    symbols="""
        v₀ : m/s, positive
        g : m/s², positive
        α : rad, 0 < α < π/2
        R(α) : m""",
    given="R = 2 v₀² sin α cos α/g",
    slips=[
        Slip("(2)", "R = 2 D sin α cos α = 2 D sin 2α",
             lambda w: [(_distance(w, w.al), w.v0**2 / w.g * 2 * sin(w.al) * cos(w.al)),
                        (_distance(w, w.al), 2 * w.v0**2 / w.g * sin(2 * w.al))],
             {"(3)": "dR/dα = 4 D cos 2α", "(5)": "R(π/4) = 2 D = 2 v₀²/g"}, "double angle"),
        Slip("(3)", "dR/dα = D cos 2α",
             lambda w: (slope(lambda al: _distance(w, al), w.al), w.v0**2 / w.g * cos(2 * w.al)),
             name="inner factor"),
        Slip("(4)", "dR/dα = 0 when α = π/3", lambda w: abs(slope(lambda al: _distance(w, al), pi / 3)) < 1e-9,
             {"(5)": "R(π/3) = (√3/2) D"}, "wrong angle"),
    ],
)


# --- a stone sinks with square drag: hyperbolic functions -----------------------------------------


def _stone(rng: Random) -> World:
    w = drawn(rng, "c g tau")
    w["v"] = w.c * tanh(w.g * w.tau / w.c)
    w["h"] = w.c**2 / w.g * log(cosh(w.g * w.tau / w.c))
    return w


CASES += cases(
    "a stone sinks with square drag",
    [
        ("(1)", "c² - v² = c²/cosh²(g τ/c)", lambda w: (w.c**2 - w.v**2, w.c**2 / cosh(w.g * w.tau / w.c) ** 2)),
        ("(2)", "(c + v)/(c - v) = e^(2 g τ/c)", lambda w: ((w.c + w.v) / (w.c - w.v), exp(2 * w.g * w.tau / w.c))),
        ("(3)", "so τ = (c/(2 g)) ln((c + v)/(c - v))",
         lambda w: (w.tau, w.c / (2 * w.g) * log((w.c + w.v) / (w.c - w.v)))),
        ("(4)", "h = -(c²/(2 g)) ln(1 - v²/c²)   [(1) into (b)]",
         lambda w: (w.h, -w.c**2 / (2 * w.g) * log(1 - w.v**2 / w.c**2))),
        ("(5)", "v² = c² (1 - e^(-2 g h/c²))", lambda w: (w.v**2, w.c**2 * (1 - exp(-2 * w.g * w.h / w.c**2)))),
    ],
    _stone,
    symbols="""
        c : m/s, positive -- speed it can't exceed
        g : m/s², positive
        τ : s, positive
        v : m/s, positive
        h : m, positive""",
    given="""
        (a) v = c tanh(g τ/c)
        (b) h = (c²/g) ln cosh(g τ/c)""",
    premises=lambda w: [
        (w.v, w.c * tanh(w.g * w.tau / w.c)), (w.h, w.c**2 / w.g * log(cosh(w.g * w.tau / w.c)))],
    slips=[
        Slip("(1)", "c² + v² = c²/cosh²(g τ/c)", lambda w: (w.c**2 + w.v**2, w.c**2 / cosh(w.g * w.tau / w.c) ** 2),
             name="sign, as for the circle"),
        Slip("(2)", "(c + v)/(c - v) = e^(g τ/c)", lambda w: ((w.c + w.v) / (w.c - w.v), exp(w.g * w.tau / w.c)),
             {"(3)": "so τ = (c/g) ln((c + v)/(c - v))"}, "factor 2 lost"),
        Slip("(4)", "h = (c²/(2 g)) ln(1 - v²/c²)   [(1) into (b)]",
             lambda w: (w.h, w.c**2 / (2 * w.g) * log(1 - w.v**2 / w.c**2)),
             {"(5)": "v² = c² (1 - e^(2 g h/c²))"}, "sign"),
    ],
)


# --- a sledge is towed with the least force: a definition that depends on the angle ---------------


def _sledge(rng: Random) -> World:
    w = drawn(rng, "m g mu")
    w["th"] = rng.uniform(0.2, 1.3)
    return w


def _pull(w: World, th: float) -> float:
    return w.mu * w.m * w.g / (mpmath.cos(th) + w.mu * mpmath.sin(th))


CASES += cases(
    "a sledge is towed with the least force",
    [
        ("1.", "let q = cos θ + μ sin θ"),
        ("2.", "dq/dθ = μ cos θ - sin θ",
         lambda w: (slope(lambda th: mpmath.cos(th) + w.mu * mpmath.sin(th), w.th), w.mu * cos(w.th) - sin(w.th))),
        ("3.", "F = μ m g/q, so dF/dθ = -μ m g (μ cos θ - sin θ)/q²",
         lambda w: (slope(lambda th: _pull(w, th), w.th), -w.mu * w.m * w.g * (w.mu * cos(w.th) - sin(w.th))
                    / (cos(w.th) + w.mu * sin(w.th)) ** 2)),
        ("4.", "dF/dθ = 0 when tan θ = μ", lambda w: abs(slope(lambda th: _pull(w, th), atan(w.mu))) < 1e-9),
        ("5.", "when tan θ = μ: F = μ m g/√(1 + μ²)",
         lambda w: (_pull(w, atan(w.mu)), w.mu * w.m * w.g / sqrt(1 + w.mu**2))),
    ],
    _sledge,
    symbols="""
        m : kg, positive
        g : m/s², positive
        μ : 1, positive
        θ : rad, 0 < θ < π/2
        F(θ) : N""",
    given="F = μ m g/(cos θ + μ sin θ)",
    slips=[
        Slip("2.", "dq/dθ = μ cos θ + sin θ",
             lambda w: (slope(lambda th: mpmath.cos(th) + w.mu * mpmath.sin(th), w.th), w.mu * cos(w.th) + sin(w.th)),
             {"3.": "F = μ m g/q, so dF/dθ = -μ m g (μ cos θ + sin θ)/q²"}, "sign"),
        Slip("3.", "F = μ m g/q, so dF/dθ = -μ m g (μ cos θ - sin θ)/q",
             lambda w: (slope(lambda th: _pull(w, th), w.th), -w.mu * w.m * w.g * (w.mu * cos(w.th) - sin(w.th))
                        / (cos(w.th) + w.mu * sin(w.th))), name="power lost"),
        Slip("4.", "dF/dθ = 0 when tan θ = 1/μ",
             lambda w: abs(slope(lambda th: _pull(w, th), atan(1 / w.mu))) < 1e-9,
             {"5.": "when tan θ = 1/μ: F = m g √(1 + μ²)/2"}, "upside down"),
        Slip("5.", "when tan θ = μ: F = μ m g √(1 + μ²)",
             lambda w: (_pull(w, atan(w.mu)), w.mu * w.m * w.g * sqrt(1 + w.mu**2)), name="upside down"),
    ],
)
