"""Small quantities: regimes declared or named in the reason, orders counted, mixed orders found.

What an approximate line claims is checked by its order: the error must vanish faster than the last order
that the line keeps (`beyond`).
"""

from __future__ import annotations

from random import Random

from mpmath import cos, exp, mpf, pi, sin, sqrt, tan

from .corpus import Slip, World, beyond, cases

ROW = "Approximations"

EXAMPLE = """\
Symbols:
  θ(t) : rad
  L    : m, positive
  g    : m/s^2, positive

Given:
  (a)  L θ'' = -g sin θ

Working:
  (1)  θ'' = -(g/L) sin θ
  (2)  for small θ: sin θ ≈ θ
  (3)  so θ'' ≈ -(g/L) θ
"""


# --- a lamp swinging on its hook -----------------------------------------------------------------------


def lamp(r: Random) -> World:
    w = World(m=r.uniform(0.5, 4), L=r.uniform(0.5, 3), g=9.81, th=r.uniform(0.2, 1.2))
    w["acc"] = -w.m * w.g * w.L * sin(w.th) / (w.m * w.L**2)
    w["U"] = lambda a: w.m * w.g * w.L - w.m * w.g * w.L * cos(a)
    return w


LAMP = "m : kg, positive\nL : m, positive\ng : m/s^2, positive\nθ(t) : rad"

SWING = cases(
    "lamp on its hook through to the period",
    [
        ("(1)", "θ'' = -(g/L) sin θ", lambda w: (w.acc, -w.g / w.L * sin(w.th))),
        ("(2)", "for small θ: sin θ ≈ θ", lambda w: beyond(1, lambda e: sin(e) - e)),
        ("(3)", "θ'' ≈ -(g/L) θ", lambda w: beyond(1, lambda e: -w.g / w.L * (sin(e) - e))),
        ("(4)", "let ω² = g/L"),
        ("(5)", "so θ'' ≈ -ω² θ", lambda w: beyond(1, lambda e: -w.g / w.L * (sin(e) - e))),
        ("(6)", "let T = 2π/ω"),
        ("(7)", "T = 2π √(L/g)", lambda w: (2 * pi / sqrt(w.g / w.L), 2 * pi * sqrt(w.L / w.g))),
    ],
    lamp, symbols=LAMP, given="(a)  m L² θ'' = -m g L sin θ",
    premises=lambda w: (w.m * w.L**2 * w.acc, -w.m * w.g * w.L * sin(w.th)),
    slips=[
        Slip("(2)", "for small θ: sin θ ≈ 1", lambda w: beyond(0, lambda e: sin(e) - 1)),
        Slip("(2)", "for small θ: sin θ ≈ θ/2", lambda w: beyond(1, lambda e: sin(e) - e / 2)),
        Slip("(3)", "θ'' ≈ -(L/g) θ", lambda w: beyond(1, lambda e: -w.g / w.L * sin(e) + w.L / w.g * e)),
        Slip("(5)", "so θ'' ≈ ω² θ", lambda w: beyond(1, lambda e: -w.g / w.L * (sin(e) + e))),
        Slip("(7)", "T = 2π √(g/L)", lambda w: (2 * pi / sqrt(w.g / w.L), 2 * pi * sqrt(w.g / w.L))),
    ],
)

ENERGY = cases(
    "energy of the swinging lamp to second order",
    [
        ("1.", "U = m g L (1 - cos θ)", lambda w: (w.U(w.th), w.m * w.g * w.L * (1 - cos(w.th)))),
        ("2.", "cos θ ≈ 1 - θ²/2   [θ small]", lambda w: beyond(2, lambda e: cos(e) - 1 + e**2 / 2)),
        ("3.", "U ≈ ½ m g L θ²", lambda w: beyond(2, lambda e: w.U(e) - w.m * w.g * w.L * e**2 / 2)),
        ("4.", "dU/dθ ≈ m g L θ", lambda w: beyond(1, lambda e: w.m * w.g * w.L * (sin(e) - e))),
    ],
    lamp, symbols=LAMP.replace("θ(t)", "θ") + "\nU(θ) : J",
    given="(a)  U = m g L - m g L cos θ",
    premises=lambda w: (w.U(w.th), w.m * w.g * w.L - w.m * w.g * w.L * cos(w.th)),
    slips=[
        Slip("2.", "cos θ ≈ 1 - θ²   [θ small]", lambda w: beyond(2, lambda e: cos(e) - 1 + e**2),
             then={"3.": "U ≈ m g L θ²", "4.": "dU/dθ ≈ 2 m g L θ"}),
        Slip("2.", "cos θ ≈ 1 + θ²/2   [θ small]", lambda w: beyond(2, lambda e: cos(e) - 1 - e**2 / 2)),
        Slip("3.", "U ≈ m g L θ²", lambda w: beyond(2, lambda e: w.U(e) - w.m * w.g * w.L * e**2)),
        Slip("3.", "U ≈ m g L (1 - θ²/2)", lambda w: beyond(2, lambda e: w.U(e) - w.m * w.g * w.L * (1 - e**2 / 2))),
    ],
)


# --- weight at a height, a clock's period, a hawser's length ------------------------------------------------


def height(r: Random) -> World:
    w = World(GM=r.uniform(2, 9), R=r.uniform(1, 3), h=r.uniform(0.1, 0.5))
    w["g"] = w.GM / w.R**2
    w["at"] = lambda h: w.GM / (w.R + h) ** 2
    return w


HEIGHT = cases(
    "weight a little above the water",
    [
        ("(1)", "g_h = g R²/(R + h)² = g/(1 + h/R)²",
         lambda w: [(w.at(w.h), w.g * w.R**2 / (w.R + w.h) ** 2), (w.at(w.h), w.g / (1 + w.h / w.R) ** 2)]),
        ("(2)", "let ε = h/R"),
        ("(3)", "for ε ≪ 1: (1 + ε)^(-2) ≈ 1 - 2ε", lambda w: beyond(1, lambda e: (1 + e) ** -2 - 1 + 2 * e)),
        ("(4)", "g_h ≈ g (1 - 2h/R)", lambda w: beyond(1, lambda e: w.at(e * w.R) - w.g * (1 - 2 * e))),
        ("(5)", "(g - g_h)/g ≈ 2h/R", lambda w: beyond(1, lambda e: 1 - w.at(e * w.R) / w.g - 2 * e)),
    ],
    height, symbols="""
        G : m^3/(kg s^2), positive
        M : kg, positive
        R : m, positive
        h : m, positive
        g : m/s^2, positive
        g_h : m/s^2, positive
    """, given="(a)  g = G M/R²\n(b)  g_h = G M/(R + h)²",
    premises=lambda w: [(w.g, w.GM / w.R**2), (w.at(w.h), w.GM / (w.R + w.h) ** 2)],
    slips=[
        Slip("(1)", "g_h = g R²/(R + h)² = g/(1 + h/R)", lambda w: (w.at(w.h), w.g / (1 + w.h / w.R))),
        Slip("(3)", "for ε ≪ 1: (1 + ε)^(-2) ≈ 1 + 2ε", lambda w: beyond(1, lambda e: (1 + e) ** -2 - 1 - 2 * e),
             then={"(4)": "g_h ≈ g (1 + 2h/R)", "(5)": "(g - g_h)/g ≈ -2h/R"}),
        Slip("(3)", "for ε ≪ 1: (1 + ε)^(-2) ≈ 1 - ε/2", lambda w: beyond(1, lambda e: (1 + e) ** -2 - 1 + e / 2)),
        Slip("(4)", "g_h ≈ g (1 - h/R)", lambda w: beyond(1, lambda e: w.at(e * w.R) - w.g * (1 - e)),
             then={"(5)": "(g - g_h)/g ≈ h/R"}),
    ],
)


def clock(r: Random) -> World:
    w = World(L=r.uniform(0.4, 2), g=9.81)
    w["T"] = 2 * pi * sqrt(w.L / w.g)
    w["T1"] = lambda delta: 2 * pi * sqrt((w.L + delta) / w.g)
    return w


CLOCK = cases(
    "harbour clock in the sun",
    [
        ("(1)", "T_1/T = √((L + δ)/L) = √(1 + δ/L)", lambda w: (w.T1(0.1) / w.T, sqrt(1 + 0.1 / w.L))),
        ("(2)", "δ ≪ L: T_1/T ≈ 1 + δ/(2L)", lambda w: beyond(1, lambda e: w.T1(e) / w.T - 1 - e / (2 * w.L))),
        ("(3)", "T_1 - T ≈ T δ/(2L)", lambda w: beyond(1, lambda e: w.T1(e) - w.T - w.T * e / (2 * w.L))),
    ],
    clock, symbols="L : m, positive\nδ : m\ng : m/s^2, positive\nT : s, positive\nT_1 : s, positive",
    given="T = 2π√(L/g)\nT_1 = 2π√((L + δ)/g)\nδ > -L",
    premises=lambda w: [(w.T, 2 * pi * sqrt(w.L / w.g)), (w.T1(0.1), 2 * pi * sqrt((w.L + 0.1) / w.g))],
    slips=[
        Slip("(1)", "T_1/T = √((L + δ)/L) = 1 + √(δ/L)", lambda w: (w.T1(0.1) / w.T, 1 + sqrt(0.1 / w.L))),
        Slip("(2)", "δ ≪ L: T_1/T ≈ 1 + δ/L", lambda w: beyond(1, lambda e: w.T1(e) / w.T - 1 - e / w.L),
             then={"(3)": "T_1 - T ≈ T δ/L"}),
        Slip("(2)", "δ ≪ L: T_1/T ≈ 1 - δ/(2L)", lambda w: beyond(1, lambda e: w.T1(e) / w.T - 1 + e / (2 * w.L))),
        Slip("(3)", "T_1 - T ≈ 2 T δ/L", lambda w: beyond(1, lambda e: w.T1(e) - w.T - 2 * w.T * e / w.L)),
    ],
)


def hawser(r: Random) -> World:
    w = World(L=mpf(r.uniform(1, 5)), k=mpf(r.uniform(50, 300)), x=r.uniform(0.2, 0.8))
    w["len"] = lambda x: sqrt(w.L**2 + x**2)
    w["F"] = lambda x: 2 * w.k * (w.len(x) - w.L) * x / w.len(x)
    return w


HAWSER = cases(
    "hawser plucked sideways",
    [
        ("", "ℓ = L √(1 + x²/L²)", lambda w: (w.len(w.x), w.L * sqrt(1 + (w.x / w.L) ** 2))),
        ("", "for small x: ℓ ≈ L + x²/(2L)", lambda w: beyond(2, lambda e: w.len(e) - w.L - e**2 / (2 * w.L))),
        ("", "ℓ - L ≈ x²/(2L)", lambda w: beyond(2, lambda e: w.len(e) - w.L - e**2 / (2 * w.L))),
        ("", "F ≈ k x³/L²", lambda w: beyond(3, lambda e: w.F(e) - w.k * e**3 / w.L**2)),
    ],
    hawser, symbols="ℓ : m, positive\nL : m, positive\nk : N/m, positive\nx : m\nF : N",
    given="ℓ² = L² + x²\nF = 2 k (ℓ - L) x/ℓ",
    premises=lambda w: [
        (w.len(w.x) ** 2, w.L**2 + w.x**2),
        (w.F(w.x), 2 * w.k * (w.len(w.x) - w.L) * w.x / w.len(w.x)),
    ],
    slips=[
        Slip(2, "for small x: ℓ ≈ L + x²/L", lambda w: beyond(2, lambda e: w.len(e) - w.L - e**2 / w.L),
             then={3: "ℓ - L ≈ x²/L", 4: "F ≈ 2 k x³/L²"}),
        Slip(2, "for small x: ℓ ≈ L + x/2", lambda w: beyond(1, lambda e: w.len(e) - w.L - e / 2)),
        Slip(4, "F ≈ 2 k x³/L²", lambda w: beyond(3, lambda e: w.F(e) - 2 * w.k * e**3 / w.L**2)),
        Slip(4, "F ≈ 2 k x", lambda w: beyond(1, lambda e: w.F(e) - 2 * w.k * e)),
    ],
)


# --- short times, mixed orders, products --------------------------------------------------------------------


def sinking(r: Random) -> World:
    w = World(g=9.81, c=r.uniform(0.4, 2))
    w["v"] = lambda t: w.g / w.c * (1 - exp(-w.c * t))
    return w


SHORT = cases(
    "sinking crate at the very start",
    [
        ("(1)", "for small t: e^(-c t) ≈ 1 - c t + ½ c² t²",
         lambda w: beyond(2, lambda e: exp(-w.c * e) - 1 + w.c * e - (w.c * e) ** 2 / 2)),
        ("(2)", "v ≈ (g/c)(c t - ½ c² t²)", lambda w: beyond(2, lambda e: w.v(e) - w.g * e + w.g * w.c * e**2 / 2)),
        ("(3)", "v ≈ g t - ½ g c t²", lambda w: beyond(2, lambda e: w.v(e) - w.g * e + w.g * w.c * e**2 / 2)),
        ("(4)", "v ≈ g t   [first order]", lambda w: beyond(1, lambda e: w.v(e) - w.g * e)),
    ],
    sinking, symbols="v(t) : m/s\ng : m/s^2, positive\nc : 1/s, positive", given="(a)  v = (g/c)(1 - e^(-c t))",
    premises=lambda w: (w.v(0.4), w.g / w.c * (1 - exp(-w.c * 0.4))),
    slips=[
        Slip("(1)", "for small t: e^(-c t) ≈ 1 - c t + c² t²",
             lambda w: beyond(2, lambda e: exp(-w.c * e) - 1 + w.c * e - (w.c * e) ** 2),
             then={"(2)": "v ≈ (g/c)(c t - c² t²)", "(3)": "v ≈ g t - g c t²"}),
        Slip("(2)", "v ≈ (g/c)(c t + ½ c² t²)", lambda w: beyond(2, lambda e: w.v(e) - w.g * e - w.g * w.c * e**2 / 2),
             then={"(3)": "v ≈ g t + ½ g c t²"}),
        Slip("(4)", "v ≈ g/c   [first order]", lambda w: beyond(1, lambda e: w.v(e) - w.g / w.c)),
    ],
)

GAP = cases(
    "tangent less sine, to third order",
    [
        ("(1)", "for small θ: tan θ ≈ θ + θ³/3, sin θ ≈ θ - θ³/6",
         lambda w: beyond(3, lambda e: tan(e) - e - e**3 / 3) and beyond(3, lambda e: sin(e) - e + e**3 / 6)),
        ("(2)", "s ≈ L (θ³/3 + θ³/6)", lambda w: beyond(3, lambda e: w.L * (tan(e) - sin(e) - e**3 / 2))),
        ("(3)", "s ≈ ½ L θ³", lambda w: beyond(3, lambda e: w.L * (tan(e) - sin(e) - e**3 / 2))),
    ],
    lambda r: World(L=mpf(r.uniform(1, 5))), symbols="s : m\nL : m, positive\nθ : rad, 0 < θ < π/2",
    given="(a)  s = L tan θ - L sin θ",
    slips=[
        Slip("(1)", "for small θ: tan θ ≈ θ + θ³/3, sin θ ≈ θ + θ³/6",
             lambda w: beyond(3, lambda e: sin(e) - e - e**3 / 6),
             then={"(2)": "s ≈ L (θ³/3 - θ³/6)", "(3)": "s ≈ L θ³/6"}),
        Slip("(2)", "s ≈ L θ³/3", lambda w: beyond(3, lambda e: w.L * (tan(e) - sin(e) - e**3 / 3)),
             then={"(3)": "3 s ≈ L θ³"}, name="orders mixed"),
    ],
)

def tow(r: Random) -> World:
    w = World(F=r.uniform(2, 9), v=r.uniform(1, 4))
    w["P"] = lambda e: w.F * (1 + e) * w.v * (1 - 2 * e)
    return w


POWER = cases(
    "tow power with two small changes",
    [
        ("", "P = F_0 (1 + ε) v_0 (1 - 2ε)", lambda w: (w.P(0.1), w.F * w.v * 1.1 * 0.8)),
        ("", "so P = F_0 v_0 (1 - ε - 2ε²)", lambda w: (w.P(0.1), w.F * w.v * (1 - 0.1 - 0.02))),
        ("", "ε << 1, hence P ≈ F_0 v_0 (1 - ε)", lambda w: beyond(1, lambda e: w.P(e) - w.F * w.v * (1 - e))),
        ("", "1/P ≈ (1 + ε)/(F_0 v_0)", lambda w: beyond(1, lambda e: 1 / w.P(e) - (1 + e) / (w.F * w.v))),
    ],
    tow,
    symbols="P : W\nF : N\nv : m/s\nF_0 : N, positive\nv_0 : m/s, positive\nε : 1",
    given="P = F v\nF = F_0 (1 + ε)\nv = v_0 (1 - 2ε)",
    premises=lambda w: (w.P(0.1), w.F * 1.1 * w.v * 0.8),
    slips=[
        Slip(2, "so P = F_0 v_0 (1 - ε + 2ε²)", lambda w: (w.P(0.1), w.F * w.v * (1 - 0.1 + 0.02))),
        Slip(3, "ε << 1, hence P ≈ F_0 v_0 (1 - 3ε)", lambda w: beyond(1, lambda e: w.P(e) - w.F * w.v * (1 - 3 * e)),
             then={4: "1/P ≈ (1 + 3ε)/(F_0 v_0)"}),
        Slip(4, "1/P ≈ (1 - ε)/(F_0 v_0)", lambda w: beyond(1, lambda e: 1 / w.P(e) - (1 - e) / (w.F * w.v))),
    ],
)


CASES = [*SWING, *ENERGY, *HEIGHT, *CLOCK, *HAWSER, *SHORT, *GAP, *POWER]
