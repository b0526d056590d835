"""General solutions: the equation satisfied, as many free constants as its order, then the start put in."""

from __future__ import annotations

from random import Random
from typing import Any

from mpmath import atan2, cos, cosh, exp, sin, sinh, sqrt

from .corpus import Slip, World, Worlds, along, cases, slope

ROW = "General solution"

EXAMPLE = """\
Symbols:
  y(t) : m
  ω    : rad/s, positive
  y_0  : m

Given:
  (a)  y'' + ω² y = 0
  (b)  y = y_0, y' = 0 at t = 0

Working:
  (1)  y = A cos ωt + B sin ωt    [general solution of (a)]
  (2)  A = y_0                    [t = 0]
  (3)  B = 0                      [y'(0) = 0]
  (4)  so y = y_0 cos ωt
"""


# --- a buoy set going with a push -----------------------------------------------------------------


def pushed(r: Random) -> World:
    w = World(y0=r.uniform(0.2, 1.5), v0=r.uniform(0.3, 2), ω=r.uniform(0.7, 3))
    w["A"], w["B"] = w.y0, w.v0 / w.ω
    w["y"] = lambda t: w.y0 * cos(w.ω * t) + w.v0 / w.ω * sin(w.ω * t)
    w["R"], w["φ"] = sqrt(w.A**2 + w.B**2), atan2(-w.B, w.A)
    return w


BUOY = """
    y(t) : m               -- height above the resting position
    ω    : rad/s, positive
    y_0  : m, positive
    v_0  : m/s, positive
"""
SWING = "(a)  y'' + ω² y = 0\n(b)  y(0) = y_0\n(c)  y'(0) = v_0"

def _swing(w: World, t: Any) -> Any:
    return [(slope(w.y, t, 2), -w.ω**2 * w.y(t)), (w.y(0), w.y0), (slope(w.y, 0) + 1, w.v0 + 1)]


SINE_AND_COSINE = cases(
    "buoy with a push by sine and cosine",
    [
        ("(1)", "y = A cos ωt + B sin ωt", along(lambda w, t: (w.y(t), w.A * cos(w.ω * t) + w.B * sin(w.ω * t)))),
        ("(2)", "t = 0: y_0 = A", lambda w: (w.y0, w.A)),
        ("(3)", "y' = -ωA sin ωt + ωB cos ωt",
         along(lambda w, t: (slope(w.y, t), w.ω * (w.B * cos(w.ω * t) - w.A * sin(w.ω * t))))),
        ("(4)", "v_0 = ωB, so B = v_0/ω", lambda w: [(w.v0, w.ω * w.B), (w.B, w.v0 / w.ω)]),
        ("(5)", "hence y = y_0 cos ωt + (v_0/ω) sin ωt",
         along(lambda w, t: (w.y(t), w.y0 * cos(w.ω * t) + w.v0 / w.ω * sin(w.ω * t)))),
    ],
    pushed, symbols=BUOY, given=SWING,
    premises=along(_swing),
    slips=[
        Slip("(1)", "y = A cos ωt",
             along(lambda w, t: (w.y(t), w.A * cos(w.ω * t))), name="too few constants", ends=True),
        Slip("(1)", "y = A cos ωt + B cos ωt", along(lambda w, t: (w.y(t), w.A * cos(w.ω * t))),
             name="no new function", ends=True),
        Slip("(1)", "y = A cos ω²t + B sin ω²t", along(
            lambda w, t: (w.y(t), w.A * cos(w.ω**2 * t) + w.B / w.ω * sin(w.ω**2 * t))), ends=True),
        Slip("(1)", "y = A e^(ωt) + B e^(-ωt)", along(lambda w, t: (
            w.y(t), (w.y0 + w.v0 / w.ω) / 2 * exp(w.ω * t) + (w.y0 - w.v0 / w.ω) / 2 * exp(-w.ω * t))),
             name="sign of y''", ends=True),
        Slip("(3)", "y' = ωA sin ωt + ωB cos ωt",
             along(lambda w, t: (slope(w.y, t), w.ω * (w.B * cos(w.ω * t) + w.A * sin(w.ω * t))))),
        Slip("(4)", "v_0 = B, so B = v_0", lambda w: (w.v0, w.B), then={"(5)": "hence y = y_0 cos ωt + v_0 sin ωt"}),
        Slip("(5)", "hence y = v_0 cos ωt + (y_0/ω) sin ωt",
             along(lambda w, t: (w.y(t), w.v0 * cos(w.ω * t) + w.y0 / w.ω * sin(w.ω * t)))),
    ],
)

AMPLITUDE_AND_PHASE = cases(
    "buoy with a push by amplitude and phase",
    [
        ("1.", "y = R cos(ωt + φ)   -- general solution", along(lambda w, t: (w.y(t), w.R * cos(w.ω * t + w.φ)))),
        ("2.", "y(0) = R cos φ, y'(0) = -ωR sin φ", lambda w: [(w.y0, w.R * cos(w.φ)), (w.v0, -w.ω * w.R * sin(w.φ))]),
        ("3.", "so R² = y_0² + v_0²/ω²", lambda w: (w.R**2, w.y0**2 + w.v0**2 / w.ω**2)),
        ("4.", "y'² + ω² y² = ω² R²", along(lambda w, t: (slope(w.y, t) ** 2 + w.ω**2 * w.y(t) ** 2, w.ω**2 * w.R**2))),
    ],
    pushed, symbols=BUOY, given=SWING,
    premises=along(_swing),
    slips=[
        Slip("1.", "y = R cos(ωt)   -- general solution", along(lambda w, t: (w.y(t), w.y0 * cos(w.ω * t))), ends=True),
        Slip("2.", "y(0) = R cos φ, y'(0) = ωR sin φ",
             lambda w: [(w.y0, w.R * cos(w.φ)), (w.v0, w.ω * w.R * sin(w.φ))]),
        Slip("3.", "so R² = y_0² + v_0²", lambda w: (w.R**2, w.y0**2 + w.v0**2)),
    ],
)


def let_go(r: Random) -> World:
    w = pushed(r)
    w["v0"] = 0.0
    w["y"] = lambda t: w.y0 * cos(w.ω * t)
    w["A"] = w.y0
    return w


LET_GO = cases(
    "buoy let go at rest needs only the cosine",
    [
        ("(1)", "y = A cos ωt   [at rest at t = 0]", along(lambda w, t: (w.y(t), w.A * cos(w.ω * t)))),
        ("(2)", "y_0 = A", lambda w: (w.y0, w.A)),
        ("(3)", "y = y_0 cos ωt", along(lambda w, t: (w.y(t), w.y0 * cos(w.ω * t)))),
    ],
    let_go, symbols=BUOY.replace("v_0  : m/s, positive", ""), given="y'' + ω² y = 0\ny(0) = y_0\ny'(0) = 0",
    premises=along(_swing),
    slips=[
        Slip("(1)", "y = A sin ωt   [at rest at t = 0]", along(lambda w, t: (w.y(t), w.A * sin(w.ω * t)))),
        Slip("(3)", "y = y_0 sin ωt", along(lambda w, t: (w.y(t), w.y0 * sin(w.ω * t)))),
    ],
)


# --- first order: a barge that drifts to rest, a crate that sinks ---------------------------------


def drifting(r: Random) -> World:
    w = World(m=r.uniform(2, 9), b=r.uniform(1, 4), v0=r.uniform(0.5, 3))
    w["γ"] = w.b / w.m
    w["v"] = lambda t: w.v0 * exp(-w.γ * t)
    w["x"] = lambda t: w.v0 / w.γ * (1 - exp(-w.γ * t))
    return w


DRIFT = cases(
    "barge drifting to rest",
    [
        ("(1)", "v' = -γ v", along(lambda w, t: (slope(w.v, t), -w.γ * w.v(t)))),
        ("(2)", "v = C e^(-γ t)", along(lambda w, t: (w.v(t), w.v0 * exp(-w.γ * t)))),
        ("(3)", "v(0) = v_0 gives C = v_0", lambda w: (w.v(0), w.v0)),
        ("(4)", "x' = v_0 e^(-γ t)", along(lambda w, t: (slope(w.x, t), w.v0 * exp(-w.γ * t)))),
        ("(5)", "x = -(v_0/γ) e^(-γ t) + D", along(
            lambda w, t: (w.x(t), -w.v0 / w.γ * exp(-w.γ * t) + w.v0 / w.γ))),
        ("(6)", "x(0) = 0 so D = v_0/γ", lambda w: (w.x(0) + w.v0 / w.γ, w.v0 / w.γ)),
        ("(7)", "x = (v_0/γ)(1 - e^(-γ t))", along(lambda w, t: (w.x(t), w.v0 / w.γ * (1 - exp(-w.γ * t))))),
    ],
    drifting, symbols="""
        m : kg, positive
        b : kg/s, positive
        γ : 1/s, positive
        x(t) : m
        v(t) : m/s
        v_0 : m/s, positive
    """, given="(a)  m v' = -b v\n(b)  γ = b/m\n(c)  v = x'\n(d)  v(0) = v_0, x(0) = 0",
    premises=along(lambda w, t: [
        (w.m * slope(w.v, t), -w.b * w.v(t)),
        (slope(w.x, t), w.v(t)),
        (w.v(0), w.v0),
        (w.x(0), 0),
    ]),
    slips=[
        Slip("(2)", "v = C e^(γ t)", along(lambda w, t: (w.v(t), w.v0 * exp(w.γ * t)))),
        Slip("(2)", "v = C + e^(-γ t)", along(lambda w, t: (w.v(t), w.v0 - 1 + exp(-w.γ * t))), name="constant added"),
        Slip("(5)", "x = -(v_0/γ) e^(-γ t)", along(lambda w, t: (w.x(t), -w.v0 / w.γ * exp(-w.γ * t))),
             name="no constant"),
        Slip("(5)", "x = -v_0 γ e^(-γ t) + D", along(
            lambda w, t: (w.x(t), -w.v0 * w.γ * exp(-w.γ * t) + w.v0 * w.γ))),
        Slip("(6)", "x(0) = 0 so D = -v_0/γ", lambda w: (-w.v0 / w.γ, w.v0 / w.γ),
             then={"(7)": "x = -(v_0/γ)(1 + e^(-γ t))"}),
    ],
)


def sinking(r: Random) -> World:
    w = World(g=9.81, c=r.uniform(0.5, 3))
    w["v"] = lambda t: w.g / w.c * (1 - exp(-w.c * t))
    return w


SINK = cases(
    "crate sinking with linear drag",
    [
        ("", "v = g/c + K e^(-c t)", along(lambda w, t: (w.v(t), w.g / w.c - w.g / w.c * exp(-w.c * t)))),
        ("", "0 = g/c + K", lambda w: (w.g / w.c, w.g / w.c - w.v(0))),
        ("", "K = -g/c", lambda w: (w.v(0) - w.g / w.c, -w.g / w.c)),
        ("", "=> v = (g/c)(1 - e^(-c t))", along(lambda w, t: (w.v(t), w.g / w.c * (1 - exp(-w.c * t))))),
    ],
    sinking, symbols="v(t) : m/s\ng : m/s^2, positive\nc : 1/s, positive", given="dv/dt = g - c v\nv(0) = 0",
    premises=along(lambda w, t: [(slope(w.v, t), w.g - w.c * w.v(t)), (w.v(0), 0)]),
    slips=[
        Slip(1, "v = K e^(-c t)", along(lambda w, t: (w.v(t), (w.v(1) * exp(w.c)) * exp(-w.c * t))),
             name="driving left out", ends=True),
        Slip(1, "v = g c + K e^(-c t)", along(lambda w, t: (w.v(t), w.g * w.c * (1 - exp(-w.c * t)))), ends=True),
        Slip(4, "=> v = (g/c)(1 + e^(-c t))", along(lambda w, t: (w.v(t), w.g / w.c * (1 + exp(-w.c * t))))),
    ],
)


# --- others of second order -----------------------------------------------------------------------


def tipping(r: Random) -> World:
    """A crane's jib just past upright: it leaves faster and faster."""
    w = World(z0=r.uniform(0.1, 0.5), u0=r.uniform(-0.3, 0.5), κ=r.uniform(0.5, 2))
    w["A"], w["B"] = (w.z0 + w.u0 / w.κ) / 2, (w.z0 - w.u0 / w.κ) / 2
    w["z"] = lambda t: w.A * exp(w.κ * t) + w.B * exp(-w.κ * t)
    return w


TIP = cases(
    "jib past upright with real exponentials",
    [
        ("(1)", "z'' - κ² z = 0", along(lambda w, t: (slope(w.z, t, 2), w.κ**2 * w.z(t)))),
        ("(2)", "z = A e^(κ t) + B e^(-κ t)", along(lambda w, t: (w.z(t), w.A * exp(w.κ * t) + w.B * exp(-w.κ * t)))),
        ("(3)", "A + B = z_0, κ(A - B) = u_0", lambda w: [(w.A + w.B, w.z(0)), (w.κ * (w.A - w.B), slope(w.z, 0))]),
        ("(4)", "A = ½(z_0 + u_0/κ), B = ½(z_0 - u_0/κ)",
         lambda w: [(w.A, (w.z0 + w.u0 / w.κ) / 2), (w.B, (w.z0 - w.u0 / w.κ) / 2)]),
        ("(5)", "z = z_0 cosh κt + (u_0/κ) sinh κt",
         along(lambda w, t: (w.z(t), w.z0 * cosh(w.κ * t) + w.u0 / w.κ * sinh(w.κ * t)))),
    ],
    tipping, symbols="z(t) : m\nκ : 1/s, positive\nz_0 : m\nu_0 : m/s\nA : m\nB : m",
    given="z'' = κ² z\nz(0) = z_0\nz'(0) = u_0",
    premises=along(lambda w, t: [(slope(w.z, t, 2), w.κ**2 * w.z(t)), (w.z(0), w.z0), (slope(w.z, 0), w.u0)]),
    slips=[
        Slip("(2)", "z = A e^(κ t)", along(lambda w, t: (w.z(t), w.z0 * exp(w.κ * t))), ends=True),
        Slip("(2)", "z = A cos κt + B sin κt",
             along(lambda w, t: (w.z(t), w.z0 * cos(w.κ * t) + w.u0 / w.κ * sin(w.κ * t))), ends=True),
        Slip("(3)", "A + B = z_0, κ(A + B) = u_0", lambda w: (w.κ * (w.A + w.B), w.u0)),
        Slip("(4)", "A = ½(z_0 + u_0 κ), B = ½(z_0 - u_0 κ)", lambda w: (w.A, (w.z0 + w.u0 * w.κ) / 2)),
    ],
)


def hanging(r: Random) -> World:
    w = World(g=9.81, A=r.uniform(-0.5, 0.5), B=r.uniform(-0.5, 0.5), m=r.uniform(1, 8), k=r.uniform(20, 90))
    w["ω"] = sqrt(w.k / w.m)
    w["y"] = lambda t: w.m * w.g / w.k + w.A * cos(w.ω * t) + w.B * sin(w.ω * t)
    return w


HANG = cases(
    "crate hanging from a spring, weight kept",
    [
        ("(1)", "let ω_0² = k/m"),
        ("(2)", "ÿ + ω_0² y = g", along(lambda w, t: (slope(w.y, t, 2) + w.ω**2 * w.y(t), w.g))),
        ("(3)", "y = g/ω_0² + A cos ω_0 t + B sin ω_0 t",
         along(lambda w, t: (w.y(t), w.g / w.ω**2 + w.A * cos(w.ω * t) + w.B * sin(w.ω * t)))),
        ("(4)", "y - m g/k = A cos ω_0 t + B sin ω_0 t",
         along(lambda w, t: (w.y(t) - w.m * w.g / w.k, w.A * cos(w.ω * t) + w.B * sin(w.ω * t)))),
    ],
    hanging, symbols="y(t) : m\nm : kg, positive\nk : N/m, positive\ng : m/s^2, positive",
    given="(a)  m y'' = m g - k y",
    premises=along(lambda w, t: (w.m * slope(w.y, t, 2), w.m * w.g - w.k * w.y(t))),
    slips=[
        Slip("(3)", "y = A cos ω_0 t + B sin ω_0 t",
             along(lambda w, t: (w.y(t), w.y(0) * cos(w.ω * t) + w.B * sin(w.ω * t))), ends=True),
        Slip("(3)", "y = -g/ω_0² + A cos ω_0 t + B sin ω_0 t",
             along(lambda w, t: (
                 w.y(t), -w.g / w.ω**2 + (w.y(0) + w.g / w.ω**2) * cos(w.ω * t) + w.B * sin(w.ω * t))), ends=True),
        Slip("(2)", "ÿ + ω_0² y = m g", along(lambda w, t: (slope(w.y, t, 2) + w.ω**2 * w.y(t), w.m * w.g))),
    ],
)


def lobbed(r: Random) -> World:
    w = World(g=9.81, h=r.uniform(1, 9), v0=r.uniform(1, 9))
    w["y"] = lambda t: w.h + w.v0 * t - w.g * t**2 / 2
    return w


LOB = cases(
    "mooring line lobbed up, integrated twice",
    [
        ("", "y' = -g t + C_1", along(lambda w, t: (slope(w.y, t), -w.g * t + w.v0))),
        ("", "y = -½ g t² + C_1 t + C_2", along(lambda w, t: (w.y(t), -w.g * t**2 / 2 + w.v0 * t + w.h))),
        ("", "C_1 = v_0 and C_2 = h", lambda w: [(slope(w.y, 0), w.v0), (w.y(0), w.h)]),
        ("", "y = h + v_0 t - ½ g t²", along(lambda w, t: (w.y(t), w.h + w.v0 * t - w.g * t**2 / 2))),
    ],
    lobbed, symbols="y(t) : m\ng : m/s^2, positive\nh : m\nv_0 : m/s",
    given="y'' = -g\ny(0) = h\ny'(0) = v_0",
    premises=along(lambda w, t: [(slope(w.y, t, 2), -w.g), (w.y(0), w.h), (slope(w.y, 0), w.v0)]),
    slips=[
        Slip(1, "y' = -g t", along(lambda w, t: (slope(w.y, t), -w.g * t)), name="no constant"),
        Slip(2, "y = -g t² + C_1 t + C_2", along(lambda w, t: (w.y(t), -w.g * t**2 + w.v0 * t + w.h))),
        Slip(3, "C_1 = h and C_2 = v_0", lambda w: [(slope(w.y, 0), w.h), (w.y(0), w.v0)]),
    ],
)


def damped(ratio: float) -> Worlds:
    def make(r: Random) -> World:
        w = World(A=r.uniform(0.2, 1), B=r.uniform(0.2, 1), γ=r.uniform(0.3, 1.2))
        w["ω"] = ratio * w.γ
        w["ω1"] = sqrt(w.ω**2 - w.γ**2)
        if ratio == 1:
            w["y"] = lambda t: (w.A + w.B * t) * exp(-w.γ * t)
        else:
            w["y"] = lambda t: exp(-w.γ * t) * (w.A * cos(w.ω1 * t) + w.B * sin(w.ω1 * t))
        return w

    return make


FENDER = cases(
    "fender ringing down",
    [
        ("(1)", "let ω_1 = √(ω_0² - γ²)"),
        ("(2)", "y = e^(-γt)(A cos ω_1 t + B sin ω_1 t)", along(
            lambda w, t: (w.y(t), exp(-w.γ * t) * (w.A * cos(w.ω1 * t) + w.B * sin(w.ω1 * t))))),
    ],
    damped(2.7), symbols="y(t) : m\nγ : 1/s, positive\nω_0 : rad/s, positive",
    given="(a)  y'' + 2 γ y' + ω_0² y = 0\n(b)  γ < ω_0",
    premises=along(lambda w, t: [(slope(w.y, t, 2) + w.ω**2 * w.y(t), -2 * w.γ * slope(w.y, t)), (w.γ < w.ω, True)]),
    slips=[
        Slip("(2)", "y = e^(-2γt)(A cos ω_1 t + B sin ω_1 t)", along(lambda w, t: (
            w.y(t), exp(-2 * w.γ * t) * (w.A * cos(w.ω1 * t) + (w.B + w.γ / w.ω1 * w.A) * sin(w.ω1 * t))))),
        Slip("(2)", "y = e^(-γt)(A cos ω_0 t + B sin ω_0 t)", along(
            lambda w, t: (w.y(t), exp(-w.γ * t) * (w.A * cos(w.ω * t) + w.B * w.ω1 / w.ω * sin(w.ω * t))))),
        Slip("(2)", "y = A e^(-γt) cos ω_1 t", along(lambda w, t: (w.y(t), w.A * exp(-w.γ * t) * cos(w.ω1 * t)))),
    ],
)

GATE = cases(
    "lock gate closing without overshoot",
    [
        ("(1)", "y'' + 2γy' + γ²y = 0", along(lambda w, t: (
            slope(w.y, t, 2) + w.γ**2 * w.y(t), -2 * w.γ * slope(w.y, t)))),
        ("(2)", "y = (A + B t) e^(-γ t)", along(lambda w, t: (w.y(t), (w.A + w.B * t) * exp(-w.γ * t)))),
    ],
    damped(1), symbols="y(t) : m\nγ : 1/s, positive\nω_0 : rad/s, positive",
    given="(a)  y'' + 2 γ y' + ω_0² y = 0\n(b)  γ = ω_0",
    premises=along(lambda w, t: [(slope(w.y, t, 2) + w.ω**2 * w.y(t), -2 * w.γ * slope(w.y, t)), (w.γ, w.ω)]),
    slips=[
        Slip("(2)", "y = (A + B) e^(-γ t)", along(lambda w, t: (w.y(t), w.A * exp(-w.γ * t))),
             name="one constant in two"),
        Slip("(2)", "y = (A + B t²) e^(-γ t)", along(lambda w, t: (w.y(t), (w.A + w.B * t**2) * exp(-w.γ * t)))),
    ],
)

CASES = [
    *SINE_AND_COSINE, *AMPLITUDE_AND_PHASE, *LET_GO, *DRIFT, *SINK, *TIP, *HANG, *LOB, *FENDER, *GATE,
]
