"""Separation and integration, continued: work, impulse, capstans, sums over a body."""

from __future__ import annotations

from random import Random

from mpmath import cos, exp, log, pi, sin

from .corpus import Slip, World, along, area, cases, slope

ROW = "Separation and integration"

EXAMPLE = """\
Symbols:
  L    : m, positive         -- length of the gangway
  λ_0  : kg/m, positive
  M    : kg, positive
  x_c  : m

Given:
  (a)  M = ∫_0^L λ_0 (1 + x/L) dx
  (b)  M x_c = ∫_0^L λ_0 (1 + x/L) x dx

Working:
  (1)  M = [λ_0 (x + x²/(2L))]_0^L = (3/2) λ_0 L
  (2)  M x_c = λ_0 (L²/2 + L²/3) = (5/6) λ_0 L²
  (3)  x_c = 5L/9
"""


def gangway(r: Random) -> World:
    w = World(L=r.uniform(2, 9), lam=r.uniform(3, 20))
    w["density"] = lambda x: w.lam * (1 + x / w.L)
    w["M"] = area(w.density, 0, w.L)
    w["xc"] = area(lambda x: x * w.density(x), 0, w.L) / w.M
    w["I"] = area(lambda x: x**2 * w.density(x), 0, w.L)
    return w


GANGWAY = cases(
    "centre of mass and inertia of a tapering gangway",
    [
        ("(1)", "dm = λ_0 (1 + x/L) dx", lambda w: (w.density(0.3 * w.L), w.lam * 1.3)),
        ("(2)", "M = ∫_0^L λ_0 (1 + x/L) dx", lambda w: (w.M, area(lambda x: w.lam * (1 + x / w.L), 0, w.L))),
        ("(3)", "= λ_0 [x + x²/(2L)]_0^L = 3/2 λ_0 L", lambda w: (w.M, 1.5 * w.lam * w.L)),
        ("(4)", "M x_c = ∫ x dm = λ_0 ∫_0^L (x + x²/L) dx = (5/6) λ_0 L²",
         lambda w: (w.M * w.xc, 5 / 6 * w.lam * w.L**2)),
        ("(5)", "so x_c = (5/9) L", lambda w: (w.xc, 5 / 9 * w.L)),
        ("(6)", "I = ∫_0^L x² λ dx = λ_0 L³ (1/3 + 1/4)", lambda w: (w.I, w.lam * w.L**3 * 7 / 12)),
        ("(7)", "I = (7/18) M L²", lambda w: (w.I, 7 / 18 * w.M * w.L**2)),
    ],
    gangway, symbols="""
        L    : m, positive
        λ_0  : kg/m, positive
        λ(x) : kg/m
        x    : m
        m(x) : kg
        M    : kg, positive
        x_c  : m
        I    : kg m^2
    """, given="""
        (a)  λ = λ_0 (1 + x/L)
        (b)  dm = λ dx
        (c)  M = ∫_0^L λ dx
        (d)  M x_c = ∫_0^L x λ dx
        (e)  I = ∫_0^L x² λ dx
    """,
    premises=lambda w: [
        (w.M, area(w.density, 0, w.L)),
        (w.M * w.xc, area(lambda x: x * w.density(x), 0, w.L)),
        (w.I, area(lambda x: x**2 * w.density(x), 0, w.L)),
    ],
    slips=[
        Slip("(3)", "= λ_0 [x + x²/L]_0^L = 2 λ_0 L", lambda w: (w.M, 2 * w.lam * w.L), name="power rule"),
        Slip("(5)", "so x_c = (5/6) L", lambda w: (w.xc, 5 / 6 * w.L)),
        Slip("(6)", "I = ∫_0^L x² λ dx = λ_0 L³ (1/3 + 1/5)", lambda w: (w.I, w.lam * w.L**3 * (1 / 3 + 1 / 5)),
             then={"(7)": "I = (16/45) M L²"}),
        Slip("(7)", "I = (7/12) M L²", lambda w: (w.I, 7 / 12 * w.M * w.L**2)),
    ],
)


def spring(r: Random) -> World:
    w = World(k=r.uniform(100, 900), c=r.uniform(50, 200), d=r.uniform(0.2, 0.9), m=r.uniform(2, 30))
    w["W"] = area(lambda x: w.k * x + w.c * x**3, 0, w.d)
    w["v"] = (2 * w.W / w.m) ** 0.5
    return w


WORK = cases(
    "work put into a stiffening buffer",
    [
        ("(1)", "W = ∫_0^d (k x + c x³) dx", lambda w: (w.W, area(lambda x: w.k * x + w.c * x**3, 0, w.d))),
        ("(2)", "= [½ k x² + ¼ c x⁴]_0^d", lambda w: (w.W, w.k * w.d**2 / 2 + w.c * w.d**4 / 4)),
        ("(3)", "= ½ k d² + ¼ c d⁴", lambda w: (w.W, w.k * w.d**2 / 2 + w.c * w.d**4 / 4)),
        ("(4)", "½ m v² = W, so v² = (k d² + ½ c d⁴)/m",
         lambda w: [(w.m * w.v**2 / 2, w.W), (w.v**2, (w.k * w.d**2 + w.c * w.d**4 / 2) / w.m)]),
    ],
    spring, symbols="""
        m    : kg, positive
        k    : N/m, positive
        c    : N/m^3, positive
        d    : m, positive
        v    : m/s, positive
        W    : J
        x    : m
        F(x) : N
    """, given="(a)  F = k x + c x³\n(b)  W = ∫_0^d F dx\n(c)  ½ m v² = W",
    premises=lambda w: [(w.W, area(lambda x: w.k * x + w.c * x**3, 0, w.d)), (w.m * w.v**2 / 2, w.W)],
    slips=[
        Slip("(1)", "W = ∫_d^0 (k x + c x³) dx", lambda w: (w.W, -w.W), then={
            "(2)": "= [½ k x² + ¼ c x⁴]_d^0", "(3)": "= -½ k d² - ¼ c d⁴"}, name="limits swapped"),
        Slip("(2)", "= [½ k x² + ⅓ c x⁴]_0^d", lambda w: (w.W, w.k * w.d**2 / 2 + w.c * w.d**4 / 3), then={
            "(3)": "= ½ k d² + ⅓ c d⁴", "(4)": "½ m v² = W, so v² = (k d² + ⅔ c d⁴)/m"}),
        Slip("(3)", "= ½ k d + ¼ c d³", lambda w: (w.W, w.k * w.d / 2 + w.c * w.d**3 / 4)),
        Slip("(4)", "½ m v² = W, so v² = (k d² + ¼ c d⁴)/m",
             lambda w: (w.v**2, (w.k * w.d**2 + w.c * w.d**4 / 4) / w.m)),
    ],
)


def thrust(r: Random) -> World:
    w = World(F0=r.uniform(50, 400), m=r.uniform(20, 90), τ=r.uniform(0.4, 2))
    w["F"] = lambda t: w.F0 * (1 - t / w.τ)
    w["J"] = area(w.F, 0, w.τ)
    w["v"] = w.J / w.m
    return w


IMPULSE = cases(
    "impulse of a dying thrust",
    [
        ("", "J = ∫_0^τ F_0 (1 - t/τ) dt", lambda w: (w.J, area(lambda t: w.F0 * (1 - t / w.τ), 0, w.τ))),
        ("", "J = F_0 (τ - τ/2) = F_0 τ/2", lambda w: (w.J, w.F0 * w.τ / 2)),
        ("", "m v_1 = F_0 τ/2", lambda w: (w.m * w.v, w.F0 * w.τ / 2)),
        ("", "so v_1 = F_0 τ/(2m)", lambda w: (w.v, w.F0 * w.τ / (2 * w.m))),
    ],
    thrust, symbols="F(t) : N\nF_0 : N, positive\nτ : s, positive\nm : kg, positive\nJ : N s\nv_1 : m/s",
    given="(a)  F = F_0 (1 - t/τ)\n(b)  J = ∫_0^τ F dt\n(c)  J = m v_1",
    premises=lambda w: [(w.J, area(lambda t: w.F0 * (1 - t / w.τ), 0, w.τ)), (w.J, w.m * w.v)],
    slips=[
        Slip(2, "J = F_0 (τ - 1/2) = F_0 τ - F_0/2", lambda w: (w.J, w.F0 * (w.τ - 0.5))),
        Slip(2, "J = F_0 τ", lambda w: (w.J, w.F0 * w.τ), then={3: "m v_1 = F_0 τ", 4: "so v_1 = F_0 τ/m"}),
        Slip(4, "so v_1 = 2F_0 τ/m", lambda w: (w.v, 2 * w.F0 * w.τ / w.m)),
    ],
)


def capstan(r: Random) -> World:
    w = World(mu=r.uniform(0.15, 0.4), T1=r.uniform(20, 90), beta=r.uniform(3, 9))
    w["T"] = lambda a: w.T1 * exp(w.mu * a)
    w["T2"] = w.T(w.beta)
    return w


CAPSTAN = cases(
    "hawser round a capstan",
    [
        ("(1)", "dT/T = μ dφ", along(lambda w, a: (slope(w.T, a) / w.T(a), w.mu))),
        ("(2)", "∫_{T_1}^{T_2} dT/T = ∫_0^β μ dφ", lambda w: (area(lambda s: 1 / s, w.T1, w.T2), w.mu * w.beta)),
        ("(3)", "ln T_2 - ln T_1 = μ β", lambda w: (log(w.T2) - log(w.T1), w.mu * w.beta)),
        ("(4)", "=> T_2 = T_1 e^(μ β)", lambda w: (w.T2, w.T1 * exp(w.mu * w.beta))),
    ],
    capstan, symbols="""
        T(φ) : N, positive
        φ    : rad
        μ    : 1, positive
        T_1  : N, positive
        T_2  : N, positive
        β    : rad, positive
    """, given="(a)  dT/dφ = μ T\n(b)  T(0) = T_1\n(c)  T(β) = T_2",
    premises=along(lambda w, a: [(slope(w.T, a), w.mu * w.T(a)), (w.T(0), w.T1), (w.T(w.beta), w.T2)]),
    slips=[
        Slip("(1)", "dT/T = dφ/μ", along(lambda w, a: (slope(w.T, a) / w.T(a), 1 / w.mu))),
        Slip("(2)", "∫_{T_2}^{T_1} dT/T = ∫_0^β μ dφ", lambda w: (log(w.T1 / w.T2), w.mu * w.beta)),
        Slip("(3)", "ln(T_2 - T_1) = μ β", lambda w: (log(w.T2 - w.T1), w.mu * w.beta), name="log of a difference"),
        Slip("(4)", "=> T_2 = T_1 + e^(μ β)", lambda w: (w.T2, w.T1 + exp(w.mu * w.beta))),
    ],
)


def arc(r: Random) -> World:
    """A bent rail, a half circle: its centre of mass above the diameter."""
    w = World(R=r.uniform(0.5, 4), M=r.uniform(2, 9))
    w["yc"] = area(lambda a: w.R * sin(a) * w.M / pi, 0, pi) / w.M
    return w


ARC = cases(
    "centre of mass of a half ring",
    [
        ("1.", "M y_c = (M/π) R ∫_0^π sin φ dφ", lambda w: (w.M * w.yc, w.M / pi * w.R * area(sin, 0, pi))),
        ("2.", "∫_0^π sin φ dφ = -cos φ |_0^π = 2",
         lambda w: [(area(sin, 0, pi), -cos(pi) + cos(0)), (area(sin, 0, pi), 2)]),
        ("3.", "y_c = 2R/π", lambda w: (w.yc, 2 * w.R / pi)),
    ],
    arc, symbols="R : m, positive\nM : kg, positive\ny_c : m\nφ : rad",
    given="(a)  M y_c = ∫_0^π R sin φ (M/π) dφ",
    premises=lambda w: (w.M * w.yc, area(lambda a: w.R * sin(a) * w.M / pi, 0, pi)),
    slips=[
        Slip("2.", "∫_0^π sin φ dφ = cos φ |_0^π = -2", lambda w: (area(sin, 0, pi), -2), then={"3.": "y_c = -2R/π"}),
        Slip("2.", "∫_0^π sin φ dφ = -cos π = 1", lambda w: (area(sin, 0, pi), 1), then={"3.": "y_c = R/π"},
             name="lower limit dropped"),
        Slip("3.", "y_c = 2πR", lambda w: (w.yc, 2 * pi * w.R)),
    ],
)

CASES = [*GANGWAY, *WORK, *IMPULSE, *CAPSTAN, *ARC]
