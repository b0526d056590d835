"""Vectors: components, magnitudes, dot and cross products, unit vectors, polar components.

Labels compare Cartesian components; derivatives of vectors are taken numerically, component by component.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import acos, atan2, cos, hypot, sin, sqrt
from random import Random
from typing import Any

import mpmath

from .corpus import Case, Slip, World, cases, slope
from .draws import drawn

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
Pair = Sequence[Any]


def dot(a: Pair, b: Pair) -> Any:
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Pair, b: Pair) -> Any:
    """The part along z, the only one that two vectors in the plane leave."""
    return a[0] * b[1] - a[1] * b[0]


def plus(a: Pair, b: Pair) -> Pair:
    return (a[0] + b[0], a[1] + b[1])


def times(c: Any, a: Pair) -> Pair:
    return (c * a[0], c * a[1])


def both(a: Pair, b: Pair) -> list[tuple[Any, Any]]:
    return list(zip(a, b, strict=True))


def velocity(path: Callable[[Any], Pair], t: float, order: int = 1) -> Pair:
    return slope(lambda s: path(s)[0], t, order), slope(lambda s: path(s)[1], t, order)


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
    slips=[
        Slip("1.", "W = F·d = 8 J + 15 J = 23 J", lambda w: [(w.W, dot(w.F, w.d)), (w.W, 8 + 15)],
             {"4.": "cos α = W/(|F| |d|) = 23/(5 √29)"}, "sign"),
        Slip("2.", "|F| = 7 N", lambda w: (hypot(*w.F), 7), {"4.": "cos α = W/(|F| |d|) = 1/√29"},
             "components added without squares"),
        Slip("3.", "|d| = √21 m", lambda w: (hypot(*w.d), sqrt(21)), {"4.": "cos α = W/(|F| |d|) = 7/(5 √21)"},
             "a sign under the root"),
    ],
)


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
    slips=[
        Slip("(3)", "v·v - r·a = 0   [differentiate (2)]", lambda w: (dot(w.v, w.v), dot(w.r, w.a)),
             {"(5)": "a·n = |v|²/l"}, "sign"),
        Slip("(3)", "2 v·v + r·a = 0   [differentiate (2)]", lambda w: (2 * dot(w.v, w.v), -dot(w.r, w.a)),
             {"(5)": "a·n = -2 |v|²/l"}, "factor 2 too many"),
        Slip("(5)", "a·n = -|v|/l", lambda w: (dot(w.a, w.r) / w.l, -mpmath.sqrt(dot(w.v, w.v)) / w.l),
             name="power lost"),
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
    slips=[
        Slip("2)", "v_x = 0 => sin α = 2.5/1.5 = 1.67", lambda w: (sin(w.al), 2.5 / 1.5), name="upside down"),
        Slip("3)", "cos α = 1 - 0.6 = 0.4", lambda w: (cos(w.al), 0.4),
             {"4)": "v_y = 2.5 m/s · 0.4 = 1.0 m/s", "5)": "T = 60 m/(1.0 m/s) = 60 s"}, "root of a difference"),
        Slip("5)", "T = 60 m · 2.0 m/s = 120 s", lambda w: (w.T, 60 * 2.0), name="multiplied for divided"),
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
