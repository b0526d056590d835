"""Lost and extra cases: division by what can vanish, the root's second sign, squaring, common roots of a collision."""

from __future__ import annotations

from random import Random
from typing import Any

from mpmath import acos, cos, sin, sqrt, tan

from .corpus import Line, Slip, World, Worlds, cases

ROW = "Lost and extra cases"

EXAMPLE = """\
Symbols:
  m : kg, positive
  u : m/s, positive     -- barge before
  v : m/s               -- barge after
  w : m/s               -- pontoon after

Given:
  (a)  m u = m v + 3 m w
  (b)  ½ m u² = ½ m v² + ½ 3 m w²

Working:
  (1)  u - v = 3 w
  (2)  (u - v)(u + v) = 3 w²
  (3)  if w ≠ 0: u + v = w
  (4)  so w = u/2, v = -u/2
"""


# --- two barges collide: the trivial root ---------------------------------------------------------


def bump(r: Random) -> World:
    w = World(m=r.uniform(2, 20), M=r.uniform(2, 20), u=r.uniform(0.5, 4))
    w["v"] = (w.m - w.M) / (w.m + w.M) * w.u
    w["w"] = 2 * w.m / (w.m + w.M) * w.u
    return w


def missed(r: Random) -> World:
    """They do not touch: conserves everything too."""
    w = bump(r)
    w["v"], w["w"] = w.u, 0.0
    return w


def either(r: Random) -> World:
    return bump(r) if r.random() < 0.6 else missed(r)


BARGES = """
    m : kg, positive
    M : kg, positive
    u : m/s, positive
    v : m/s
    w : m/s
"""
ELASTIC = "(a)  m u = m v + M w\n(b)  ½ m u² = ½ m v² + ½ M w²"

def _elastic(w: World) -> Any:
    return [(w.m * w.u, w.m * w.v + w.M * w.w), (w.m * w.u**2, w.m * w.v**2 + w.M * w.w**2)]


DIVIDED = cases(
    "elastic bump, divided without a word",
    [
        Line("(1)", "m (u - v) = M w", lambda w: (w.m * (w.u - w.v), w.M * w.w)),
        Line("(2)", "m (u² - v²) = M w²", lambda w: (w.m * (w.u**2 - w.v**2), w.M * w.w**2)),
        Line("(3)", "u + v = w   [(2)/(1)]", lambda w: (w.u + w.v, w.w), lost=missed),
        Line("(4)", "m (u - v) = M (u + v)", lambda w: (w.m * (w.u - w.v), w.M * (w.u + w.v))),
        Line("(5)", "v = (m - M) u/(m + M)", lambda w: (w.v, (w.m - w.M) * w.u / (w.m + w.M))),
    ],
    bump, symbols=BARGES, given=ELASTIC,
    premises=_elastic,
    slips=[
        Slip("(2)", "m (u - v)² = M w²", lambda w: (w.m * (w.u - w.v) ** 2, w.M * w.w**2)),
        Slip("(3)", "u - v = w   [(2)/(1)]", lambda w: (w.u - w.v, w.w)),
        Slip("(5)", "v = (M - m) u/(m + M)", lambda w: (w.v, (w.M - w.m) * w.u / (w.m + w.M))),
    ],
)

BOTH_ROOTS = cases(
    "elastic bump with both roots kept",
    [
        ("(1)", "w = m (u - v)/M", lambda w: (w.w, w.m * (w.u - w.v) / w.M)),
        ("(2)", "m (u - v)(u + v) = (m²/M)(u - v)²", lambda w: (
            1 + w.m * (w.u**2 - w.v**2), 1 + w.m**2 / w.M * (w.u - w.v) ** 2)),
        ("(3)", "(u - v)(M (u + v) - m (u - v)) = 0", lambda w: (
            1 + (w.u - w.v) * (w.M * (w.u + w.v) - w.m * (w.u - w.v)), 1)),
        ("(4)", "v = u or v = (m - M) u/(m + M)", lambda w: bool(
            min(abs(w.v - w.u), abs(w.v - (w.m - w.M) * w.u / (w.m + w.M))) < 1e-9)),
        ("(5)", "v = u gives w = 0", lambda w: bool(abs(w.v - w.u) > 1e-9 or abs(w.w) < 1e-9)),
        ("(6)", "(v, w) = (u, 0) or (v, w) = ((m - M) u/(m + M), 2 m u/(m + M))", lambda w: bool(
            abs(w.v - w.u) + abs(w.w) < 1e-9 or abs(w.w - 2 * w.m * w.u / (w.m + w.M)) < 1e-9)),
    ],
    either, symbols=BARGES, given=ELASTIC,
    premises=_elastic,
    slips=[
        Slip("(2)", "m (u - v)(u + v) = (m/M)(u - v)²", lambda w: (
            1 + w.m * (w.u**2 - w.v**2), 1 + w.m / w.M * (w.u - w.v) ** 2)),
        Slip("(4)", "v = u or v = (m + M) u/(m - M)", lambda w: bool(
            min(abs(w.v - w.u), abs(w.v - (w.m + w.M) * w.u / (w.m - w.M))) < 1e-9)),
        Slip("(5)", "v = u gives w = u", lambda w: bool(abs(w.v - w.u) > 1e-9 or abs(w.w - w.u) < 1e-9)),
        Slip("(6)", "(v, w) = (u, 0) or (v, w) = ((m - M) u/(m + M), m u/(m + M))", lambda w: bool(
            abs(w.v - w.u) + abs(w.w) < 1e-9 or abs(w.w - w.m * w.u / (w.m + w.M)) < 1e-9)),
    ],
)

TOUCHING = cases(
    "elastic bump, contact given",
    [
        ("", "m(u - v) = Mw and m(u - v)(u + v) = M w²",
         lambda w: [(w.m * (w.u - w.v), w.M * w.w), (w.m * (w.u**2 - w.v**2), w.M * w.w**2)]),
        ("", "w ≠ 0, so u + v = w", lambda w: (w.u + w.v, w.w)),
        ("", "w = 2 m u/(m + M)", lambda w: (w.w, 2 * w.m * w.u / (w.m + w.M))),
    ],
    bump, symbols=BARGES, given=ELASTIC + "\n(c)  w > 0",
    premises=lambda w: [*_elastic(w), (w.w > 0, True)],
    slips=[
        Slip(2, "w ≠ 0, so u + v = 2 w", lambda w: (w.u + w.v, 2 * w.w)),
        Slip(3, "w = m u/(m + M)", lambda w: (w.w, w.m * w.u / (w.m + w.M))),
    ],
)


# --- a bead on a turning hoop ---------------------------------------------------------------------


def bead(r: Random) -> World:
    w = World(m=r.uniform(0.1, 2), g=9.81, R=r.uniform(0.4, 2))
    w["ω"] = sqrt(w.g / w.R) * r.uniform(1.1, 3)
    w["θ"] = acos(w.g / (w.R * w.ω**2))
    w["N"] = w.m * w.ω**2 * w.R
    return w


def bead_below(r: Random) -> World:
    w = bead(r)
    w["θ"], w["N"] = 0.0, w.m * w.g
    return w


HOOP = "m : kg, positive\ng : m/s^2, positive\nR : m, positive\nω : rad/s, positive\nN : N, positive\nθ : rad, "
HOOP_GIVEN = "(a)  N cos θ = m g\n(b)  N sin θ = m ω² R sin θ"

def _on_hoop(w: World) -> Any:
    return [(w.N * cos(w.θ), w.m * w.g), (w.N * sin(w.θ), w.m * w.ω**2 * w.R * sin(w.θ))]


HOOP_LOSING = cases(
    "bead on a hoop, the lowest place lost",
    [
        Line("(1)", "N = m ω² R", lambda w: (w.N, w.m * w.ω**2 * w.R), lost=bead_below),
        Line("(2)", "cos θ = g/(ω² R)", lambda w: (cos(w.θ), w.g / (w.ω**2 * w.R))),
    ],
    bead, symbols=HOOP + "0 ≤ θ < π/2", given=HOOP_GIVEN,
    premises=_on_hoop,
    slips=[
        Slip("(1)", "N = m ω R", lambda w: (w.N, w.m * w.ω * w.R)),
        Slip("(2)", "cos θ = ω² R/g", lambda w: (cos(w.θ), w.ω**2 * w.R / w.g)),
    ],
)

HOOP_ABOVE = cases(
    "bead on a hoop away from the lowest place",
    [
        ("(1)", "tan θ = ω² R sin θ/g", lambda w: (tan(w.θ), w.ω**2 * w.R * sin(w.θ) / w.g)),
        ("(2)", "1/cos θ = ω² R/g", lambda w: (1 / cos(w.θ), w.ω**2 * w.R / w.g)),
        ("(3)", "θ = arccos(g/(ω²R))", lambda w: (w.θ, acos(w.g / (w.ω**2 * w.R)))),
    ],
    bead, symbols=HOOP + "0 < θ < π/2", given=HOOP_GIVEN,
    premises=lambda w: [*_on_hoop(w), (0 < w.θ < 1.5708, True)],
    slips=[
        Slip("(1)", "tan θ = ω² R/g", lambda w: (tan(w.θ), w.ω**2 * w.R / w.g)),
        Slip("(3)", "θ = arcsin(g/(ω²R))", lambda w: (sin(w.θ), w.g / (w.ω**2 * w.R))),
    ],
)


# --- signs of roots -------------------------------------------------------------------------------


def dropped(sign: int) -> Worlds:
    def make(r: Random) -> World:
        w = World(g=9.81, h=r.uniform(1, 9))
        w["v"] = sign * sqrt(2 * w.g * w.h)
        return w

    return make


DROP_LOSING = cases(
    "speed of a dropped crate with one sign kept",
    [
        Line("(1)", "v² = 2 g h", lambda w: (w.v**2, 2 * w.g * w.h)),
        Line("(2)", "v = √(2gh)", lambda w: (w.v, sqrt(2 * w.g * w.h)), lost=dropped(-1)),
    ],
    dropped(1), symbols="m : kg, positive\ng : m/s^2, positive\nh : m, positive\nv : m/s", given="½ m v² = m g h",
    premises=lambda w: (w.v**2 / 2, w.g * w.h),
    slips=[
        Slip("(1)", "v² = g h", lambda w: (w.v**2, w.g * w.h), then={"(2)": "v = √(gh)"}),
        Slip("(2)", "v = 2√(gh)", lambda w: (w.v, 2 * sqrt(w.g * w.h))),
    ],
)

DROP_DOWNWARDS = cases(
    "velocity of a dropped crate, downwards negative",
    [
        ("(1)", "v = ±√(2gh)", lambda w: (abs(w.v), sqrt(2 * w.g * w.h))),
        ("(2)", "v < 0, so v = -√(2gh)", lambda w: (w.v, -sqrt(2 * w.g * w.h))),
    ],
    dropped(-1), symbols="g : m/s^2, positive\nh : m, positive\nv : m/s, negative", given="v² = 2gh",
    premises=lambda w: [(w.v**2, 2 * w.g * w.h), (w.v < 0, True)],
    slips=[
        Slip("(1)", "v = ±2√(gh)", lambda w: (abs(w.v), 2 * sqrt(w.g * w.h))),
        Slip("(2)", "v < 0, so v = √(2gh)", lambda w: (w.v, sqrt(2 * w.g * w.h)), name="wrong root"),
    ],
)


# --- squaring -------------------------------------------------------------------------------------


def rope(r: Random) -> World:
    w = World(h=r.uniform(1, 4), x=r.uniform(1, 6))
    w["L"] = w.x + sqrt(w.x**2 + w.h**2)
    return w


ROPE = cases(
    "rope squared once, no root gained",
    [
        ("", "√(x² + h²) = L - x", lambda w: (sqrt(w.x**2 + w.h**2), w.L - w.x)),
        ("", "⇒ x² + h² = L² - 2 L x + x²", lambda w: (w.x**2 + w.h**2, w.L**2 - 2 * w.L * w.x + w.x**2)),
        ("", "⇒ 2 L x = L² - h²", lambda w: (2 * w.L * w.x, w.L**2 - w.h**2)),
        ("", "⇒ x = (L² - h²)/(2L)", lambda w: (w.x, (w.L**2 - w.h**2) / (2 * w.L))),
    ],
    rope, symbols="x : m\nh : m, positive\nL : m, positive", given="x + √(x² + h²) = L",
    premises=lambda w: (w.x + sqrt(w.x**2 + w.h**2), w.L),
    slips=[
        Slip(2, "⇒ x² + h² = L² - x²", lambda w: (w.x**2 + w.h**2, w.L**2 - w.x**2), name="square of a difference"),
        Slip(1, "x + h = L - x", lambda w: (w.x + w.h, w.L - w.x), name="root of a sum"),
        Slip(3, "⇒ 2 L x = L² + h²", lambda w: (2 * w.L * w.x, w.L**2 + w.h**2),
             then={4: "⇒ x = (L² + h²)/(2L)"}),
        Slip(4, "⇒ x = L - h²/(2L)", lambda w: (w.x, w.L - w.h**2 / (2 * w.L))),
    ],
)


def extraneous(r: Random) -> World:
    w = World(a=r.uniform(0.5, 4))
    w["x"] = (1 + sqrt(1 + 8 * w.a)) / 2
    return w


EXTRA = cases(
    "a root gained by squaring and dropped again",
    [
        ("1.", "√(x + 2a) = x, a > 0", None),
        ("2.", "so x + 2a = x²", lambda w: (w.x + 2 * w.a, w.x**2)),
        ("3.", "x = ½(1 ± √(1 + 8a))", lambda w: (abs(2 * w.x - 1), sqrt(1 + 8 * w.a))),
        ("4.", "x = ½(1 + √(1 + 8a))   [x is not negative by 1.]", lambda w: (2 * w.x - 1, sqrt(1 + 8 * w.a))),
    ],
    extraneous,
    premises=lambda w: [(sqrt(w.x + 2 * w.a), w.x), (w.a > 0, True)],
    slips=[
        Slip("3.", "x = ½(1 ± √(1 + 2a))", lambda w: (abs(2 * w.x - 1), sqrt(1 + 2 * w.a)),
             then={"4.": "x = ½(1 + √(1 + 2a))"}),
        Slip("4.", "x = ½(1 - √(1 + 8a))", lambda w: (2 * w.x - 1, -sqrt(1 + 8 * w.a)), name="the gained root"),
    ],
)


# --- cancelling a time, an angle, a speed ---------------------------------------------------------


def meeting(r: Random) -> World:
    w = World(a=r.uniform(0.4, 2), v=r.uniform(1, 5))
    w["t_1"] = 2 * w.v / w.a
    return w


def meeting_at_once(r: Random) -> World:
    w = meeting(r)
    w["t_1"] = 0.0
    return w


MEETING = cases(
    "tender catching the ferry, the start lost",
    [
        Line("(1)", "½ a t_1² = v t_1", lambda w: (w.a * w.t_1**2 / 2, w.v * w.t_1)),
        Line("(2)", "½ a t_1 = v", lambda w: (w.a * w.t_1 / 2, w.v), lost=meeting_at_once),
        Line("(3)", "t_1 = 2v/a", lambda w: (w.t_1, 2 * w.v / w.a)),
        Line("(4)", "a t_1 = 2 v   -- twice as fast as the ferry", lambda w: (w.a * w.t_1, 2 * w.v)),
    ],
    meeting, symbols="a : m/s^2, positive\nv : m/s, positive\nt_1 : s\ns : m",
    given="(a)  s = v t_1   -- ferry\n(b)  s = ½ a t_1²   -- tender",
    premises=lambda w: (w.v * w.t_1, w.a * w.t_1**2 / 2),
    slips=[
        Slip("(2)", "a t_1 = v", lambda w: (w.a * w.t_1, w.v), then={"(3)": "t_1 = v/a", "(4)": "a t_1 = v"}),
        Slip("(3)", "t_1 = a/(2v)", lambda w: (w.t_1, w.a / (2 * w.v))),
    ],
)

MEETING_LATER = cases(
    "tender catching the ferry after the start",
    [
        ("(1)", "t_1 (½ a t_1 - v) = 0", lambda w: (w.t_1 * w.a * w.t_1 / 2, w.t_1 * w.v)),
        ("(2)", "t_1 = 0 or t_1 = 2 v/a", lambda w: bool(abs(w.t_1) < 1e-9 or abs(w.t_1 - 2 * w.v / w.a) < 1e-9)),
        ("(3)", "t_1 > 0, so t_1 = 2v/a", lambda w: (w.t_1, 2 * w.v / w.a)),
    ],
    meeting, symbols="a : m/s^2, positive\nv : m/s, positive\nt_1 : s, positive", given="v t_1 = ½ a t_1²",
    premises=lambda w: [(w.v * w.t_1, w.a * w.t_1**2 / 2), (w.t_1 > 0, True)],
    slips=[
        Slip("(2)", "t_1 = 0 or t_1 = v/(2a)", lambda w: bool(abs(w.t_1 - w.v / (2 * w.a)) < 1e-9)),
        Slip("(3)", "t_1 > 0, so t_1 = v/a", lambda w: (w.t_1, w.v / w.a)),
    ],
)

CASES = [
    *DIVIDED, *BOTH_ROOTS, *TOUCHING, *HOOP_LOSING, *HOOP_ABOVE, *DROP_LOSING, *DROP_DOWNWARDS,
    *ROPE, *EXTRA, *MEETING, *MEETING_LATER,
]
