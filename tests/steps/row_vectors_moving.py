"""Vectors that move: velocity and acceleration by components, polar components, products differentiated.

Derivatives are taken numerically, one Cartesian component after the other.
"""

from __future__ import annotations

from math import cos, sin, sqrt
from random import Random

import mpmath

from .corpus import Case, Slip, World, cases, slope
from .draws import drawn
from .planar import both, cross, dot, times, velocity

ROW = "Vectors"

EXAMPLE = """\
Symbols:
  r(t) : m, positive
  θ(t) : rad
  s(t) : m, vector

Given:
  s = r r̂

Working:
  (1)  s' = r' r̂ + r θ' θ̂
  (2)  |s'|² = r'² + r² θ'²
  (3)  s'' = (r'' - r θ'²) r̂ + (r θ'' + 2 r' θ') θ̂
"""

CASES: list[Case] = []


# --- a float drifts past a post: position, velocity, angular momentum -----------------------------


def _drift(rng: Random) -> World:
    w = drawn(rng, "m b u t")
    w["path"] = lambda t: (w.b, w.u * t)
    w["r"], w["v"] = w.path(w.t), velocity(w.path, w.t)
    w["L"] = w.m * cross(w.r, w.v)
    return w


CASES += cases(
    "a float drifts past a post",
    [
        ("(1)", "v = u ŷ", lambda w: both(w.v, (0, w.u))),
        ("(2)", "r × v = b u ẑ", lambda w: (cross(w.r, w.v), w.b * w.u)),
        ("(3)", "so L = m b u ẑ", lambda w: (w.L, w.m * w.b * w.u)),
        ("(4)", "r·r = b² + u² t², r·v = u² t",
         lambda w: [(dot(w.r, w.r), w.b**2 + w.u**2 * w.t**2), (dot(w.r, w.v), w.u**2 * w.t)]),
        ("(5)", "|r| = √(b² + u² t²)", lambda w: (mpmath.sqrt(dot(w.r, w.r)), sqrt(w.b**2 + w.u**2 * w.t**2))),
    ],
    _drift,
    symbols="""
        m : kg, positive
        b : m, positive
        u : m/s, positive
        r(t) : m, vector
        v(t) : m/s, vector
        L : kg m^2/s, vector""",
    given="""
        (a) r = b x̂ + u t ŷ
        (b) v = r'
        (c) L = m r × v""",
    premises=lambda w: [
        *both(w.r, (w.b, w.u * w.t)), *both(w.v, velocity(w.path, w.t)), (w.L, w.m * cross(w.r, w.v))],
    slips=[
        Slip("(1)", "v = u x̂", lambda w: both(w.v, (w.u, 0)),
             {"(2)": "r × v = -u² t ẑ", "(3)": "so L = -m u² t ẑ", "(4)": "r·r = b² + u² t², r·v = b u"}, "wrong axis"),
        Slip("(2)", "r × v = -b u ẑ", lambda w: (cross(w.r, w.v), -w.b * w.u), {"(3)": "so L = -m b u ẑ"}, "sign"),
        Slip("(4)", "r·r = b² + u² t², r·v = b u + u² t",
             lambda w: [(dot(w.r, w.r), w.b**2 + w.u**2 * w.t**2), (dot(w.r, w.v), w.b * w.u + w.u**2 * w.t)],
             name="term too many"),
        Slip("(5)", "|r| = b + u t", lambda w: (mpmath.sqrt(dot(w.r, w.r)), w.b + w.u * w.t), name="root of a sum"),
    ],
)


# --- a trolley runs out on a turning boom: polar components ---------------------------------------


def _boom(rng: Random) -> World:
    w = drawn(rng, "k1 k2 k3 k4 t")
    w["r"] = lambda t: 2 + w.k1 * t + 0.3 * w.k2 * t * t
    w["th"] = lambda t: w.k3 * t + 0.2 * w.k4 * t**3
    w["path"] = lambda t: (w.r(t) * mpmath.cos(w.th(t)), w.r(t) * mpmath.sin(w.th(t)))
    outward = (cos(w.th(w.t)), sin(w.th(w.t)))
    across = (-outward[1], outward[0])
    v, a = velocity(w.path, w.t), velocity(w.path, w.t, 2)
    w["v"], w["a"] = (dot(v, outward), dot(v, across)), (dot(a, outward), dot(a, across))
    w["r0"], w["r1"], w["r2"] = w.r(w.t), slope(w.r, w.t), slope(w.r, w.t, 2)
    w["h1"], w["h2"] = slope(w.th, w.t), slope(w.th, w.t, 2)
    return w


CASES += cases(
    "a trolley runs out on a turning boom",
    [
        ("(1)", "v = r' r̂ + r θ' θ̂", lambda w: both(w.v, (w.r1, w.r0 * w.h1))),
        ("(2)", "|v|² = r'² + r² θ'²", lambda w: (dot(w.v, w.v), w.r1**2 + w.r0**2 * w.h1**2)),
        ("(3)", "a = (r'' - r θ'²) r̂ + (r θ'' + 2 r' θ') θ̂",
         lambda w: both(w.a, (w.r2 - w.r0 * w.h1**2, w.r0 * w.h2 + 2 * w.r1 * w.h1))),
        ("(4)", "a_r = r'' - r θ'²", lambda w: (w.a[0], w.r2 - w.r0 * w.h1**2)),
        ("(5)", "a_θ = (1/r) d/dt(r² θ')",
         lambda w: (w.a[1], slope(lambda t: w.r(t) ** 2 * (w.k3 + 0.6 * w.k4 * t * t), w.t) / w.r0)),
    ],
    _boom,
    symbols="""
        r(t) : m, positive
        θ(t) : rad
        s(t) : m, vector -- from the foot of the boom to the trolley
        v(t) : m/s, vector
        a(t) : m/s^2, vector""",
    given="""
        s = r r̂
        v = s'
        a = v'""",
    slips=[
        Slip("(1)", "v = r' r̂ + θ' θ̂", lambda w: both(w.v, (w.r1, w.h1)), name="factor r lost"),
        Slip("(3)", "a = (r'' - r θ'²) r̂ + (r θ'' + r' θ') θ̂",
             lambda w: both(w.a, (w.r2 - w.r0 * w.h1**2, w.r0 * w.h2 + w.r1 * w.h1)), name="factor 2 lost"),
        Slip("(4)", "a_r = r'' + r θ'²", lambda w: (w.a[0], w.r2 + w.r0 * w.h1**2), name="sign"),
        Slip("(5)", "a_θ = r θ''", lambda w: (w.a[1], w.r0 * w.h2), name="term lost"),
    ],
)


# --- a lamp on a turning beacon: circular motion in components ------------------------------------


def _beacon(rng: Random) -> World:
    w = drawn(rng, "R om t")
    w["path"] = lambda t: (w.R * mpmath.cos(w.om * t), w.R * mpmath.sin(w.om * t))
    w["r"], w["v"], w["a"] = w.path(w.t), velocity(w.path, w.t), velocity(w.path, w.t, 2)
    return w


CASES += cases(
    "a lamp on a turning beacon, typed in ASCII",
    [
        ("", "v = (-R omega sin(omega t), R omega cos(omega t))",
         lambda w: both(w.v, (-w.R * w.om * sin(w.om * w.t), w.R * w.om * cos(w.om * w.t)))),
        ("", "r·v = 0, so r ⊥ v", lambda w: abs(dot(w.r, w.v)) < 1e-9),
        ("", "|v| = R omega", lambda w: (mpmath.sqrt(dot(w.v, w.v)), w.R * w.om)),
        ("", "v' = -omega^2 r", lambda w: both(w.a, times(-(w.om**2), w.r))),
        ("", "r × v = R^2 omega ẑ", lambda w: (cross(w.r, w.v), w.R**2 * w.om)),
    ],
    _beacon,
    symbols="""
        R : m, positive
        omega : rad/s, positive
        r(t) : m, vector
        v(t) : m/s, vector""",
    given="""
        r = (R cos(omega t), R sin(omega t))
        v = dr/dt""",
    slips=[
        Slip(1, "v = (-R sin(omega t), R cos(omega t))",
             lambda w: both(w.v, (-w.R * sin(w.om * w.t), w.R * cos(w.om * w.t))), name="inner factor"),
        Slip(1, "v = (R omega sin(omega t), R omega cos(omega t))",
             lambda w: both(w.v, (w.R * w.om * sin(w.om * w.t), w.R * w.om * cos(w.om * w.t))), name="sign"),
        Slip(4, "v' = -omega r", lambda w: both(w.a, times(-w.om, w.r)), name="power lost"),
        Slip(4, "v' = omega^2 r", lambda w: both(w.a, times(w.om**2, w.r)), name="sign"),
    ],
)


# --- a dinghy on a taut painter: a dot product differentiated -------------------------------------


def _painter(rng: Random) -> World:
    w = drawn(rng, "l k1 k2 t")
    w["path"] = lambda t: (w.l * mpmath.cos(w.k1 * t + w.k2 * t * t), w.l * mpmath.sin(w.k1 * t + w.k2 * t * t))
    w["r"], w["v"], w["a"] = w.path(w.t), velocity(w.path, w.t), velocity(w.path, w.t, 2)
    return w


CASES += cases(
    "a dinghy swings on a taut painter",
    [
        ("(1)", "d/dt (r·r) = 2 r·v = 0", lambda w: max(
            abs(slope(lambda t: dot(w.path(t), w.path(t)), w.t)), abs(2 * dot(w.r, w.v))) < 1e-9),
        ("(2)", "hence r·v = 0, i.e. r ⊥ v", lambda w: abs(dot(w.r, w.v)) < 1e-9),
        ("(3)", "v·v + r·a = 0   [differentiate (2)]", lambda w: (dot(w.v, w.v), -dot(w.r, w.a))),
        ("(4)", "let n = r/l"),
        ("(5)", "a·n = -|v|²/l", lambda w: (dot(w.a, w.r) / w.l, -dot(w.v, w.v) / w.l)),
    ],
    _painter,
    symbols="""
        l : m, positive
        r(t) : m, vector
        v(t) : m/s, vector
        a(t) : m/s^2, vector""",
    given="""
        (a) r·r = l²
        (b) v = r'
        (c) a = v'""",
    premises=lambda w: [(dot(w.path(t), w.path(t)), w.l**2) for t in (0.1, 0.7, w.t)],
    slips=[
        Slip("(3)", "v·v - r·a = 0   [differentiate (2)]", lambda w: (dot(w.v, w.v), dot(w.r, w.a)),
             {"(5)": "a·n = |v|²/l"}, "sign"),
        Slip("(3)", "2 v·v + r·a = 0   [differentiate (2)]", lambda w: (2 * dot(w.v, w.v), -dot(w.r, w.a)),
             {"(5)": "a·n = -2 |v|²/l"}, "factor 2 too many"),
        Slip("(5)", "a·n = -|v|/l", lambda w: (dot(w.a, w.r) / w.l, -mpmath.sqrt(dot(w.v, w.v)) / w.l),
             name="power lost"),
    ],
)
