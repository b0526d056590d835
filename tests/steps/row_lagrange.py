"""Lagrange's equation: partial derivatives of L, total time derivatives, one coordinate and two.

A world is a position, velocities and the accelerations that Lagrange's equation asks for, found from
numerical second derivatives of L and a linear system; no line of a working is used to make it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, sin
from random import Random
from typing import Any

import mpmath

from .corpus import Case, Slip, World, beyond, cases
from .draws import drawn

ROW = "Lagrange"

EXAMPLE = """\
Symbols:
  m : kg, positive
  l : m, positive
  g : m/s^2, positive
  θ(t) : rad
  L : J

Given:
  (a)  L = ½ m l² θ'² + m g l cos θ
  (b)  d/dt(∂L/∂θ') = ∂L/∂θ

Working:
  (1)  ∂L/∂θ' = m l² θ'
  (2)  ∂L/∂θ = -m g l sin θ
  (3)  so m l² θ'' = -m g l sin θ
"""

CASES: list[Case] = []
Lagrangian = Callable[..., Any]


def derivative(f: Lagrangian, at: Sequence[Any], *places: int) -> Any:
    """A partial derivative by each of the places in turn (the same place twice: the second derivative)."""
    orders = tuple(places.count(i) for i in range(len(at)))
    return mpmath.diff(f, tuple(at), orders)


def moving(w: World, lagrangian: Lagrangian, q: Sequence[float], v: Sequence[float]) -> World:
    """Adds to a world: `q`, `v`, `a`, and by coordinate the momenta `p`, their rates `rate` and the forces `f`."""
    n, at = len(q), (*q, *v)
    masses = mpmath.matrix([[derivative(lagrangian, at, n + i, n + j) for j in range(n)] for i in range(n)])
    drag = [sum(derivative(lagrangian, at, n + i, j) * v[j] for j in range(n)) for i in range(n)]
    w["q"], w["v"], w["f"] = q, v, [derivative(lagrangian, at, i) for i in range(n)]
    w["p"] = [derivative(lagrangian, at, n + i) for i in range(n)]
    w["a"] = list(mpmath.lu_solve(masses, mpmath.matrix([w.f[i] - drag[i] for i in range(n)])))
    w["rate"] = [drag[i] + sum(masses[i, j] * w.a[j] for j in range(n)) for i in range(n)]
    w["L"] = lagrangian(*at)
    return w


def obeyed(w: World) -> list[tuple[Any, Any]]:
    """Lagrange's equation by every coordinate."""
    return list(zip(w.rate, w.f, strict=True))


# --- a fender on a spring: every step on a line of its own ----------------------------------------


def _fender(rng: Random) -> World:
    w = drawn(rng, "m k x v")
    return moving(w, lambda x, v: w.m * v**2 / 2 - w.k * x**2 / 2, [w.x], [w.v])


CASES += cases(
    "a fender on a spring, in baby steps",
    [
        ("(1)", "∂L/∂x' = m x'", lambda w: (w.p[0], w.m * w.v[0])),
        ("(2)", "∂L/∂x = -k x", lambda w: (w.f[0], -w.k * w.x)),
        ("(3)", "d/dt(∂L/∂x') = m x''", lambda w: (w.rate[0], w.m * w.a[0])),
        ("(4)", "so m x'' = -k x", lambda w: (w.m * w.a[0], -w.k * w.x)),
        ("(5)", "x'' + (k/m) x = 0", lambda w: (w.a[0], -w.k / w.m * w.x)),
    ],
    _fender,
    symbols="""
        m : kg, positive
        k : N/m, positive
        x(t) : m
        L : J""",
    given="""
        (a) L = ½ m x'² - ½ k x²
        (b) d/dt(∂L/∂x') - ∂L/∂x = 0""",
    show="x'' + (k/m) x = 0",
    premises=obeyed,
    slips=[
        Slip("(1)", "∂L/∂x' = ½ m x'", lambda w: (w.p[0], w.m * w.v[0] / 2),
             {"(3)": "d/dt(∂L/∂x') = ½ m x''", "(4)": "so ½ m x'' = -k x", "(5)": "x'' + (2 k/m) x = 0"},
             "power rule"),
        Slip("(2)", "∂L/∂x = k x", lambda w: (w.f[0], w.k * w.x),
             {"(4)": "so m x'' = k x", "(5)": "x'' - (k/m) x = 0"}, "sign"),
        Slip("(5)", "x'' + (m/k) x = 0", lambda w: (w.a[0], -w.m / w.k * w.x), name="upside down"),
    ],
)


# --- the clapper of the harbour bell: big jumps, then small angles --------------------------------


def _clapper(rng: Random) -> World:
    w = drawn(rng, "m l g th v")
    return moving(w, lambda th, v: w.m * w.l**2 * v**2 / 2 + w.m * w.g * w.l * mpmath.cos(th), [w.th], [w.v])


CASES += cases(
    "the clapper of the harbour bell",
    [
        ("", "∂L/∂θ' = m l² θ', ∂L/∂θ = -m g l sin θ",
         lambda w: [(w.p[0], w.m * w.l**2 * w.v[0]), (w.f[0], -w.m * w.g * w.l * sin(w.th))]),
        ("", "=> θ'' = -(g/l) sin θ", lambda w: (w.a[0], -w.g / w.l * sin(w.th))),
        ("", "for small θ: sin θ ≈ θ, so θ'' = -(g/l) θ", lambda w: beyond(1, lambda e: mpmath.sin(e) - e)),
    ],
    _clapper,
    symbols="""
        m : kg, positive
        l : m, positive
        g : m/s^2, positive
        θ(t) : rad
        L : J""",
    given="""
        L = ½ m l² θ'² + m g l cos θ
        d/dt(∂L/∂θ') = ∂L/∂θ""",
    premises=obeyed,
    slips=[
        Slip(1, "∂L/∂θ' = m l² θ', ∂L/∂θ = m g l sin θ",
             lambda w: [(w.p[0], w.m * w.l**2 * w.v[0]), (w.f[0], w.m * w.g * w.l * sin(w.th))],
             {2: "=> θ'' = (g/l) sin θ", 3: "for small θ: sin θ ≈ θ, so θ'' = (g/l) θ"}, "sign"),
        Slip(2, "=> θ'' = -(g/l²) sin θ", lambda w: (w.a[0], -w.g / w.l**2 * sin(w.th)),
             {3: "for small θ: sin θ ≈ θ, so θ'' = -(g/l²) θ"}, "power"),
    ],
)


# --- a hoist with a heavy drum: L built from T and V ----------------------------------------------


def _drum(rng: Random) -> World:
    w = drawn(rng, "m1 m2 I r g x v")

    def lagrangian(x: Any, v: Any) -> Any:
        kinetic = w.m1 * v**2 / 2 + w.m2 * v**2 / 2 + w.I * (v / w.r) ** 2 / 2
        return kinetic - (w.m2 * w.g * x - w.m1 * w.g * x)

    return moving(w, lagrangian, [w.x], [w.v])


def _inertia(w: World) -> float:
    return w.m1 + w.m2 + w.I / w.r**2


CASES += cases(
    "a hoist with a heavy drum, L built from T and V",
    [
        ("(1)", "L = ½ (m1 + m2 + I/r²) x'² + (m1 - m2) g x",
         lambda w: (w.L, _inertia(w) * w.v[0] ** 2 / 2 + (w.m1 - w.m2) * w.g * w.x)),
        ("(2)", "∂L/∂x' = (m1 + m2 + I/r²) x'", lambda w: (w.p[0], _inertia(w) * w.v[0])),
        ("(3)", "∂L/∂x = (m1 - m2) g", lambda w: (w.f[0], (w.m1 - w.m2) * w.g)),
        ("(4)", "hence x'' = (m1 - m2) g/(m1 + m2 + I/r²)", lambda w: (w.a[0], (w.m1 - w.m2) * w.g / _inertia(w))),
    ],
    _drum,
    symbols="""
        m1, m2 : kg, positive
        I : kg m^2, positive
        r : m, positive
        g : m/s^2, positive
        x(t) : m -- how far the first crate has gone down
        ω(t) : rad/s
        T, V, L : J""",
    given="""
        T = ½ m1 x'² + ½ m2 x'² + ½ I ω²
        ω = x'/r
        V = m2 g x - m1 g x
        L = T - V
        d/dt(∂L/∂x') - ∂L/∂x = 0""",
    premises=obeyed,
    slips=[
        Slip("(1)", "L = ½ (m1 + m2 + I/r²) x'² - (m1 - m2) g x",
             lambda w: (w.L, _inertia(w) * w.v[0] ** 2 / 2 - (w.m1 - w.m2) * w.g * w.x),
             {"(3)": "∂L/∂x = -(m1 - m2) g", "(4)": "hence x'' = -(m1 - m2) g/(m1 + m2 + I/r²)"}, "sign of V"),
        Slip("(2)", "∂L/∂x' = (m1 + m2 + I/r) x'", lambda w: (w.p[0], (w.m1 + w.m2 + w.I / w.r) * w.v[0]),
             name="power lost"),
        Slip("(4)", "hence x'' = (m1 - m2) g/(m1 + m2 + I r²)",
             lambda w: (w.a[0], (w.m1 - w.m2) * w.g / (w.m1 + w.m2 + w.I * w.r**2)), name="multiplied for divided"),
    ],
)


# --- two barges coupled by a spring line: two coordinates -----------------------------------------


def _barges(rng: Random) -> World:
    w = drawn(rng, "m M k l x1 x2 v1 v2")

    def lagrangian(x1: Any, x2: Any, v1: Any, v2: Any) -> Any:
        return w.m * v1**2 / 2 + w.M * v2**2 / 2 - w.k * (x2 - x1 - w.l) ** 2 / 2

    return moving(w, lagrangian, [w.x1, w.x2], [w.v1, w.v2])


CASES += cases(
    "two barges coupled by a spring line",
    [
        ("1.", "d/dt(∂L/∂x1') = m x1'', ∂L/∂x1 = k (x2 - x1 - l)",
         lambda w: [(w.rate[0], w.m * w.a[0]), (w.f[0], w.k * (w.x2 - w.x1 - w.l))]),
        ("2.", "m x1'' = k (x2 - x1 - l)", lambda w: (w.m * w.a[0], w.k * (w.x2 - w.x1 - w.l))),
        ("3.", "M x2'' = -k (x2 - x1 - l)", lambda w: (w.M * w.a[1], -w.k * (w.x2 - w.x1 - w.l))),
        ("4.", "m x1'' + M x2'' = 0   [add 2 and 3]", lambda w: (w.m * w.a[0], -w.M * w.a[1])),
        ("5.", "let u = x2 - x1 - l"),
        ("6.", "u'' = x2'' - x1'' = -k (1/m + 1/M) u",
         lambda w: (w.a[1] - w.a[0], -w.k * (1 / w.m + 1 / w.M) * (w.x2 - w.x1 - w.l))),
    ],
    _barges,
    symbols="""
        m, M : kg, positive
        k : N/m, positive
        l : m, positive
        x1(t), x2(t) : m
        L : J""",
    given="""
        L = ½ m x1'² + ½ M x2'² - ½ k (x2 - x1 - l)²
        d/dt(∂L/∂x1') = ∂L/∂x1
        d/dt(∂L/∂x2') = ∂L/∂x2""",
    premises=obeyed,
    slips=[
        Slip("1.", "d/dt(∂L/∂x1') = m x1'', ∂L/∂x1 = -k (x2 - x1 - l)",
             lambda w: [(w.rate[0], w.m * w.a[0]), (w.f[0], -w.k * (w.x2 - w.x1 - w.l))], name="inner factor"),
        Slip("3.", "M x2'' = k (x2 - x1 - l)", lambda w: (w.M * w.a[1], w.k * (w.x2 - w.x1 - w.l)),
             {"4.": "m x1'' - M x2'' = 0   [subtract 3 from 2]"}, "sign"),
        Slip("6.", "u'' = x2'' - x1'' = -k u/(m + M)",
             lambda w: (w.a[1] - w.a[0], -w.k / (w.m + w.M) * (w.x2 - w.x1 - w.l)), name="reciprocals of a sum"),
    ],
)


# --- a crane's trolley and its hanging load: products under d/dt ----------------------------------


def _trolley(rng: Random) -> World:
    w = drawn(rng, "M m l g x th v w")

    def lagrangian(x: Any, th: Any, v: Any, u: Any) -> Any:
        return ((w.M + w.m) * v**2 / 2 + w.m * w.l * v * u * mpmath.cos(th) + w.m * w.l**2 * u**2 / 2
                + w.m * w.g * w.l * mpmath.cos(th))

    return moving(w, lagrangian, [w.x, w.th], [w.v, w.w])


def _push(w: World, sign: int = -1) -> Any:
    return ((w.M + w.m) * w.a[0] + w.m * w.l * w.a[1] * cos(w.th)
            + sign * w.m * w.l * w.v[1] ** 2 * sin(w.th))


CASES += cases(
    "a crane's trolley and its hanging load",
    [
        ("(1)", "∂L/∂x' = (M + m) x' + m l θ' cos θ",
         lambda w: (w.p[0], (w.M + w.m) * w.v[0] + w.m * w.l * w.v[1] * cos(w.th))),
        ("(2)", "∂L/∂x = 0, so d/dt((M + m) x' + m l θ' cos θ) = 0", lambda w: max(abs(w.f[0]), abs(w.rate[0])) < 1e-9),
        ("(3)", "(M + m) x'' + m l θ'' cos θ - m l θ'² sin θ = 0", lambda w: abs(_push(w)) < 1e-9),
        ("(4)", "∂L/∂θ = -m l x' θ' sin θ - m g l sin θ",
         lambda w: (w.f[1], -w.m * w.l * w.v[0] * w.v[1] * sin(w.th) - w.m * w.g * w.l * sin(w.th))),
        ("(5)", "m l x'' cos θ + m l² θ'' = -m g l sin θ",
         lambda w: (w.m * w.l * w.a[0] * cos(w.th) + w.m * w.l**2 * w.a[1], -w.m * w.g * w.l * sin(w.th))),
        ("(6)", "so l θ'' + x'' cos θ + g sin θ = 0",
         lambda w: (w.l * w.a[1] + w.a[0] * cos(w.th), -w.g * sin(w.th))),
    ],
    _trolley,
    symbols="""
        M, m : kg, positive
        l : m, positive
        g : m/s^2, positive
        x(t) : m
        θ(t) : rad
        L : J""",
    given="""
        L = ½ (M + m) x'² + m l x' θ' cos θ + ½ m l² θ'² + m g l cos θ
        d/dt(∂L/∂x') = ∂L/∂x
        d/dt(∂L/∂θ') = ∂L/∂θ""",
    premises=obeyed,
    slips=[
        Slip("(3)", "(M + m) x'' + m l θ'' cos θ = 0",
             lambda w: ((w.M + w.m) * w.a[0], -w.m * w.l * w.a[1] * cos(w.th)), name="product rule"),
        Slip("(3)", "(M + m) x'' + m l θ'' cos θ + m l θ'² sin θ = 0", lambda w: abs(_push(w, 1)) < 1e-9, name="sign"),
        Slip("(4)", "∂L/∂θ = -m g l sin θ", lambda w: (w.f[1], -w.m * w.g * w.l * sin(w.th)), name="term lost"),
        Slip("(6)", "so l θ'' + x'' sin θ + g cos θ = 0",
             lambda w: (w.l * w.a[1] + w.a[0] * sin(w.th), -w.g * cos(w.th)), name="sine for cosine"),
    ],
)


# --- a puck on a spring, in polar coordinates: a momentum that stays ------------------------------


def _puck(rng: Random) -> World:
    w = drawn(rng, "m k r phi u om")

    def lagrangian(r: Any, phi: Any, u: Any, om: Any) -> Any:
        return w.m * (u**2 + r**2 * om**2) / 2 - w.k * r**2 / 2

    return moving(w, lagrangian, [w.r, w.phi], [w.u, w.om])


CASES += cases(
    "a puck on a spring in polar coordinates",
    [
        ("(1)", "∂L/∂phi' = m r^2 phi'", lambda w: (w.p[1], w.m * w.r**2 * w.om)),
        ("(2)", "∂L/∂phi = 0 => d/dt(m r^2 phi') = 0", lambda w: max(abs(w.f[1]), abs(w.rate[1])) < 1e-9),
        ("(3)", "2 r r' phi' + r^2 phi'' = 0", lambda w: (2 * w.r * w.u * w.om, -(w.r**2) * w.a[1])),
        ("(4)", "mr'' = mr phi'^2 - kr", lambda w: (w.m * w.a[0], w.m * w.r * w.om**2 - w.k * w.r)),
        ("(5)", "phi'' = -2r'phi'/r", lambda w: (w.a[1], -2 * w.u * w.om / w.r)),
    ],
    _puck,
    symbols="""
        m : kg, positive
        k : N/m, positive
        r(t) : m, positive
        phi(t) : rad
        L : J""",
    given="""
        L = 1/2 m (r'^2 + r^2 phi'^2) - 1/2 k r^2
        d/dt(∂L/∂r') = ∂L/∂r
        d/dt(∂L/∂phi') = ∂L/∂phi""",
    premises=obeyed,
    slips=[
        Slip("(1)", "∂L/∂phi' = m r phi'", lambda w: (w.p[1], w.m * w.r * w.om),
             {"(2)": "∂L/∂phi = 0 => d/dt(m r phi') = 0", "(3)": "r' phi' + r phi'' = 0", "(5)": "phi'' = -r'phi'/r"},
             "power lost"),
        Slip("(3)", "2 r phi' + r^2 phi'' = 0", lambda w: (2 * w.r * w.om, -(w.r**2) * w.a[1]), name="inner factor"),
        Slip("(4)", "mr'' = -kr", lambda w: (w.m * w.a[0], -w.k * w.r), name="term lost"),
        Slip("(5)", "phi'' = 2r'phi'/r", lambda w: (w.a[1], 2 * w.u * w.om / w.r), name="sign"),
    ],
)


# --- a keg rolls down a ramp: a constraint put into L first ---------------------------------------


def _keg(rng: Random) -> World:
    w = drawn(rng, "m R g s v")
    w["al"] = rng.uniform(0.2, 1.2)

    def lagrangian(s: Any, v: Any) -> Any:
        return w.m * v**2 / 2 + (w.m * w.R**2 / 2) * (v / w.R) ** 2 / 2 + w.m * w.g * s * mpmath.sin(w.al)

    return moving(w, lagrangian, [w.s], [w.v])


CASES += cases(
    "a keg rolls down a ramp",
    [
        ("(1)", "L = ½ m s'² + ¼ m s'² + m g s sin α   [put (c) and (d) in]",
         lambda w: (w.L, 0.75 * w.m * w.v[0] ** 2 + w.m * w.g * w.s * sin(w.al))),
        ("(2)", "L = ¾ m s'² + m g s sin α",
         lambda w: (w.L, 0.75 * w.m * w.v[0] ** 2 + w.m * w.g * w.s * sin(w.al))),
        ("(3)", "∂L/∂s' = (3/2) m s', d/dt(∂L/∂s') = (3/2) m s''",
         lambda w: [(w.p[0], 1.5 * w.m * w.v[0]), (w.rate[0], 1.5 * w.m * w.a[0])]),
        ("(4)", "(3/2) m s'' = m g sin α", lambda w: (1.5 * w.m * w.a[0], w.m * w.g * sin(w.al))),
        ("(5)", "thus s'' = ⅔ g sin α", lambda w: (w.a[0], 2 / 3 * w.g * sin(w.al))),
    ],
    _keg,
    symbols="""
        m : kg, positive
        R : m, positive
        J : kg m^2, positive
        g : m/s^2, positive
        α : rad, 0 < α < π/2
        s(t) : m
        ω(t) : rad/s
        L : J""",
    given="""
        (a) L = ½ m s'² + ½ J ω² + m g s sin α
        (b) d/dt(∂L/∂s') = ∂L/∂s
        (c) J = ½ m R²
        (d) ω = s'/R""",
    premises=obeyed,
    slips=[
        Slip("(1)", "L = ½ m s'² + ½ m s'² + m g s sin α   [put (c) and (d) in]",
             lambda w: (w.L, w.m * w.v[0] ** 2 + w.m * w.g * w.s * sin(w.al)),
             {"(2)": "L = m s'² + m g s sin α", "(3)": "∂L/∂s' = 2 m s', d/dt(∂L/∂s') = 2 m s''",
              "(4)": "2 m s'' = m g sin α", "(5)": "thus s'' = ½ g sin α"}, "half lost"),
        Slip("(3)", "∂L/∂s' = ¾ m s', d/dt(∂L/∂s') = ¾ m s''",
             lambda w: [(w.p[0], 0.75 * w.m * w.v[0]), (w.rate[0], 0.75 * w.m * w.a[0])],
             {"(4)": "¾ m s'' = m g sin α", "(5)": "thus s'' = (4/3) g sin α"}, "power rule"),
        Slip("(5)", "thus s'' = (3/2) g sin α", lambda w: (w.a[0], 1.5 * w.g * sin(w.al)), name="upside down"),
    ],
)
