"""Limits and special cases of a result, and the inequalities that go with them.

Limits are shown by putting a very large or very small number in.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, exp, expm1, sin, tan
from random import Random

from .corpus import Case, Slip, World, cases
from .draws import drawn

ROW = "Inequalities and limits"

EXAMPLE = """\
Symbols:
  m1, m2 : kg, positive
  g : m/s^2, positive
  a : m/s^2

Given:
  a = (m1 - m2) g/(m1 + m2)

Working:
  (1)  for m1 = m2: a = 0
  (2)  as m1 → ∞: a → g
  (3)  a < g
"""

CASES: list[Case] = []
HUGE, TINY = 1e12, 1e-9


# --- a hoist with two crates: special and limiting cases ------------------------------------------


def _fall(w: World, m1: float) -> float:
    return (m1 - w.m2) * w.g / (m1 + w.m2)


def _pull(w: World, m1: float) -> float:
    return 2 * m1 * w.m2 * w.g / (m1 + w.m2)


def _hoist(rng: Random) -> World:
    w = drawn(rng, "m1 m2 g")
    w["m1"] = w.m2 * rng.uniform(0.5, 0.9)
    w["a"], w["T"] = _fall(w, w.m1), _pull(w, w.m1)
    return w


CASES += cases(
    "a hoist with two crates, special cases",
    [
        ("(1)", "for m1 = m2: a = 0, T = m1 g",
         lambda w: [(1 + _fall(w, w.m2), 1), (_pull(w, w.m2), w.m2 * w.g)]),
        ("(2)", "as m1 → ∞: a → g", lambda w: (_fall(w, HUGE), w.g)),
        ("(3)", "as m1 → ∞: T → 2 m2 g", lambda w: (_pull(w, HUGE), 2 * w.m2 * w.g)),
        ("(4)", "a < g", lambda w: w.a < w.g),
        ("(5)", "T < 2 m2 g", lambda w: w.T / w.m2 < 2 * w.g),
    ],
    _hoist,
    symbols="""
        m1, m2 : kg, positive
        g : m/s^2, positive
        a : m/s^2
        T : N""",
    given="""
        a = (m1 - m2) g/(m1 + m2)
        T = 2 m1 m2 g/(m1 + m2)""",
    slips=[
        Slip("(1)", "for m1 = m2: a = 0, T = 2 m1 g",
             lambda w: [(1 + _fall(w, w.m2), 1), (_pull(w, w.m2), 2 * w.m2 * w.g)], name="factor"),
        Slip("(2)", "as m1 → ∞: a → -g", lambda w: (_fall(w, HUGE), -w.g), name="sign"),
        Slip("(3)", "as m1 → ∞: T → m2 g", lambda w: (_pull(w, HUGE), w.m2 * w.g), name="factor"),
        Slip("(4)", "a > 0", lambda w: w.a > 0, name="claims too much"),
    ],
)


# --- a mooring stone sinks: limits of an exponential ----------------------------------------------


def _sinking(w: World, t: float, c: float) -> float:
    return -w.m * w.g / c * expm1(-c * t / w.m)


def _stone(rng: Random) -> World:
    w = drawn(rng, "m g c t")
    w["v"] = _sinking(w, w.t, w.c)
    return w


CASES += cases(
    "a mooring stone sinks",
    [
        ("(1)", "e^(-c t/m) > 0", lambda w: exp(-w.c * w.t / w.m) > 0),
        ("(2)", "so v < m g/c", lambda w: w.v < w.m * w.g / w.c),
        ("(3)", "as t → ∞: v → m g/c", lambda w: (_sinking(w, HUGE, w.c), w.m * w.g / w.c)),
        ("(4)", "as c → 0: v → g t", lambda w: (_sinking(w, w.t, TINY), w.g * w.t)),
    ],
    _stone,
    symbols="""
        m : kg, positive
        g : m/s^2, positive
        c : kg/s, positive
        t : s, positive
        v(t) : m/s""",
    given="v = (m g/c) (1 - e^(-c t/m))",
    slips=[
        Slip("(2)", "so v > m g/c", lambda w: w.v > w.m * w.g / w.c, name="direction"),
        Slip("(3)", "as t → ∞: v → 0", lambda w: abs(_sinking(w, HUGE, w.c)) < 1e-6, name="wrong term vanishes"),
        Slip("(4)", "as c → 0: v → ½ g t", lambda w: (_sinking(w, w.t, TINY), w.g * w.t / 2), name="factor"),
    ],
)


# --- two carts meet: limits from both ends --------------------------------------------------------


def _after(m1: float, m2: float, u: float) -> tuple[float, float]:
    return (m1 - m2) * u / (m1 + m2), 2 * m1 * u / (m1 + m2)


def _carts(rng: Random) -> World:
    w = drawn(rng, "m1 m2 u")
    w["v1"], w["v2"] = _after(w.m1, w.m2, w.u)
    return w


CASES += cases(
    "two carts meet",
    [
        ("1)", "when m1 = m2: v1 = 0 and v2 = u", lambda w: _after(w.m1, w.m1, w.u) == (0, w.u)),
        ("2)", "v1 → -u as m2 → ∞", lambda w: (_after(w.m1, HUGE, w.u)[0], -w.u)),
        ("3)", "v2 → 2u as m1 → ∞", lambda w: (_after(HUGE, w.m2, w.u)[1], 2 * w.u)),
        ("4)", "when m1 < m2: v1 < 0",
         lambda w: _after(min(w.m1, w.m2), max(w.m1, w.m2) + 0.1, w.u)[0] < 0),
        ("5)", "v2 > 0 and v2 - v1 = u", lambda w: w.v2 > 0 and abs(w.v2 - w.v1 - w.u) < 1e-9),
    ],
    _carts,
    symbols="""
        m1, m2 : kg, positive
        u : m/s, positive
        v1, v2 : m/s""",
    given="""
        v1 = (m1 - m2) u/(m1 + m2)
        v2 = 2 m1 u/(m1 + m2)""",
    slips=[
        Slip("2)", "v1 → u as m2 → ∞", lambda w: (_after(w.m1, HUGE, w.u)[0], w.u), name="sign"),
        Slip("3)", "v2 → u as m1 → ∞", lambda w: (_after(HUGE, w.m2, w.u)[1], w.u), name="factor"),
        Slip("4)", "when m1 < m2: v1 > 0",
             lambda w: _after(min(w.m1, w.m2), max(w.m1, w.m2) + 0.1, w.u)[0] > 0, name="direction"),
        Slip("5)", "v2 > 0 and v2 - v1 > u", lambda w: w.v2 > 0 and w.v2 - w.v1 > w.u + 1e-9, name="claims too much"),
    ],
)


# --- a keg rolls without slipping: a ratio of the writer's own ------------------------------------


def _roll(w: World, be: float) -> tuple[float, float]:
    """Acceleration and friction of a body with inertia be m R², by the two equations of motion."""
    a = w.g * sin(w.al) / (1 + be)
    return a, be * w.m * a


def _keg(rng: Random) -> World:
    w = drawn(rng, "m g R")
    w["be"] = rng.uniform(0.3, 0.8)
    w["al"] = rng.uniform(0.2, 1.1)
    w["J"] = w.be * w.m * w.R**2
    w["a"], w["f"] = _roll(w, w.be)
    w["N"] = w.m * w.g * cos(w.al)
    w["mu"] = w.f / w.N * rng.uniform(1.0, 1.2)
    return w


def _bound(factor: Callable[[float], float]) -> Callable[[World], bool]:
    return lambda w: w.mu >= factor(w.be) * tan(w.al) - 1e-12


CASES += cases(
    "a keg rolls without slipping",
    [
        ("(1)", "let β = J/(m R²)"),
        ("(2)", "m a (1 + β) = m g sin α", lambda w: (w.m * w.a * (1 + w.be), w.m * w.g * sin(w.al))),
        ("(3)", "a = g sin α/(1 + β) < g sin α",
         lambda w: abs(w.a - w.g * sin(w.al) / (1 + w.be)) < 1e-9 and w.a < w.g * sin(w.al)),
        ("(4)", "f = β m g sin α/(1 + β)", lambda w: (w.f, w.be * w.m * w.g * sin(w.al) / (1 + w.be))),
        ("(5)", "hence μ ≥ β tan α/(1 + β)", _bound(lambda be: be / (1 + be))),
        ("(6)", "for β = ½: a = ⅔ g sin α", lambda w: (_roll(w, 0.5)[0], 2 / 3 * w.g * sin(w.al))),
        ("(7)", "as β → 0: a → g sin α", lambda w: (_roll(w, TINY)[0], w.g * sin(w.al))),
    ],
    _keg,
    symbols="""
        m : kg, positive
        g : m/s², positive
        R : m, positive
        J : kg m², positive
        α : rad, 0 < α < π/2
        μ : 1, positive
        f, N : N
        a : m/s²""",
    given="""
        m a = m g sin α - f
        J a/R = f R
        N = m g cos α
        f ≤ μ N""",
    premises=lambda w: w.f <= w.mu * w.N + 1e-9 and abs(w.N - w.m * w.g * cos(w.al)) < 1e-9 and (
        abs(w.m * w.a - w.m * w.g * sin(w.al) + w.f) + abs(w.J * w.a / w.R - w.f * w.R) < 1e-9),
    slips=[
        Slip("(3)", "a = g sin α/(1 + β) > g sin α", lambda w: w.a > w.g * sin(w.al), name="direction"),
        Slip("(5)", "hence μ ≥ tan α/(1 + β)", _bound(lambda be: 1 / (1 + be)), name="factor lost"),
        Slip("(5)", "hence μ ≥ (1 + β) tan α/β", _bound(lambda be: (1 + be) / be), name="upside down"),
        Slip("(6)", "for β = ½: a = ½ g sin α", lambda w: (_roll(w, 0.5)[0], w.g * sin(w.al) / 2), name="number"),
        Slip("(7)", "as β → 0: a → 0", lambda w: abs(_roll(w, TINY)[0]) < 1e-9, name="limit"),
    ],
)
