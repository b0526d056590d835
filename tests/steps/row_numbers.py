"""Numbers: mixed units, prefixes, degrees, percent, figures written, powers of ten.

Every quantity of a world here is one number in SI, worked out from the given numbers to full accuracy. A
written decimal holds when it is that number rounded to its last digit (`rounds_to`).
"""

from __future__ import annotations

from math import pi, radians, sin, sqrt
from random import Random

from .corpus import Case, Slip, World, cases
from .draws import rounds_to

ROW = "Numbers"

EXAMPLE = """\
Symbols:
  k : N/m, positive
  x : m, positive
  m : kg, positive
  E : J
  v : m/s, positive

Given:
  k = 90 N/m, x = 6.5 cm, m = 0.40 kg
  E = ½ k x²
  ½ m v² = E

Working:
  (1)  E = ½ · 90 N/m · (0.065 m)² = 0.190 J
  (2)  v = √(2 E/m) = 0.975 m/s
  (3)  so v = 3.51 km/h
"""

CASES: list[Case] = []


# --- a ferry gathers way: kilometres an hour, kilonewtons -----------------------------------------


def _ferry(_: Random) -> World:
    v, s, m = 18 / 3.6, 25.0, 12000.0
    a = v**2 / (2 * s)
    return World(v=v, s=s, m=m, a=a, F=m * a)


CASES += cases(
    "a ferry gathers way",
    [
        ("(1)", "v = 18/3.6 m/s = 5.0 m/s", lambda w: [(w.v, 18 / 3.6), (w.v, 5.0)]),
        ("(2)", "a = v²/(2 s)", lambda w: (w.a, w.v**2 / (2 * w.s))),
        ("(3)", "a = (5.0 m/s)²/(2 · 25 m) = 0.50 m/s²", lambda w: [(w.a, 5.0**2 / (2 * 25)), (w.a, 0.50)]),
        ("(4)", "F = 12 000 kg · 0.50 m/s² = 6.0 kN", lambda w: [(w.F, 12000 * 0.50), (w.F, 6.0e3)]),
    ],
    _ferry,
    symbols="""
        v : m/s, positive
        s : m, positive
        m : kg, positive
        a : m/s²
        F : N""",
    given="""
        v = 18 km/h
        s = 25 m
        m = 12 000 kg
        v² = 2 a s
        F = m a""",
    premises=lambda w: [(w.v, 18 / 3.6), (w.s, 25), (w.m, 12e3), (w.v**2, 2 * w.a * w.s), (w.F, w.m * w.a)],
    slips=[
        Slip("(1)", "v = 18 · 3.6 m/s = 64.8 m/s", lambda w: (w.v, 18 * 3.6),
             {"(3)": "a = (64.8 m/s)²/(2 · 25 m) = 84 m/s²", "(4)": "F = 12 000 kg · 84 m/s² = 1.0 MN"},
             "km/h turned the wrong way"),
        Slip("(3)", "a = (5.0 m/s)²/(2 · 25 m) = 0.25 m/s²", lambda w: (w.a, 0.25),
             {"(4)": "F = 12 000 kg · 0.25 m/s² = 3.0 kN"}, "factor 2"),
        Slip("(4)", "F = 12 000 kg · 0.50 m/s² = 6.0 MN", lambda w: (w.F, 6.0e6), name="prefix"),
    ],
)


# --- a spring gun for lines: centimetres, an intermediate value rounded ---------------------------


def _gun(_: Random) -> World:
    k, x, m = 90.0, 0.065, 0.40
    energy = k * x**2 / 2
    return World(k=k, x=x, m=m, E=energy, v=sqrt(2 * energy / m), T=2 * pi * sqrt(m / k))


CASES += cases(
    "a line gun's spring",
    [
        ("1.", "E = ½ · 90 N/m · (0.065 m)² = 0.190 J", lambda w: rounds_to(w.E, 0.190, 0.001)),
        ("2.", "v = √(2 · 0.190 J/(0.40 kg)) = 0.975 m/s",
         lambda w: rounds_to(w.v, 0.975, 0.001) and rounds_to(sqrt(2 * 0.190 / 0.40), 0.975, 0.001)),
        ("3.", "v = 0.975 · 3.6 km/h = 3.51 km/h", lambda w: rounds_to(w.v * 3.6, 3.51, 0.01)),
        ("4.", "T = 2π √(m/k) = 0.42 s", lambda w: rounds_to(w.T, 0.42, 0.01)),
    ],
    _gun,
    symbols="""
        k : N/m, positive
        x : m, positive
        m : kg, positive
        E : J
        v : m/s, positive
        T : s, positive""",
    given="""
        k = 90 N/m
        x = 6.5 cm
        m = 0.40 kg
        E = ½ k x²
        ½ m v² = E
        T = 2π √(m/k)""",
    premises=lambda w: [
        (w.k, 90), (w.x, 6.5e-2), (w.m, 0.40), (w.E, w.k * w.x**2 / 2), (w.m * w.v**2 / 2, w.E),
        (w.T, 2 * pi * sqrt(w.m / w.k))],
    slips=[
        Slip("1.", "E = ½ · 90 N/m · (0.65 m)² = 19.0 J", lambda w: rounds_to(w.E, 19.0, 0.1),
             {"2.": "v = √(2 · 19.0 J/(0.40 kg)) = 9.75 m/s", "3.": "v = 9.75 · 3.6 km/h = 35.1 km/h"},
             "centimetres"),
        Slip("2.", "v = √(0.190 J/(0.40 kg)) = 0.689 m/s", lambda w: rounds_to(w.v, 0.689, 0.001),
             {"3.": "v = 0.689 · 3.6 km/h = 2.48 km/h"}, "factor 2 lost"),
        Slip("4.", "T = 2π √(m/k) = 94 s", lambda w: rounds_to(w.T, 94, 1), name="fraction upside down in the numbers"),
    ],
)


# --- a winch on a slipway: degrees and percent ----------------------------------------------------


def _winch(_: Random) -> World:
    weight, power, slope = 450 * 9.81, 2000.0, radians(12)
    return World(P=power, eta=0.85, v=0.85 * power / (weight * sin(slope)), F=weight * sin(slope))


CASES += cases(
    "a winch on a slipway",
    [
        ("(1)", "F = 450 kg · 9.81 m/s² · sin 12° = 918 N", lambda w: rounds_to(w.F, 918, 1)),
        ("(2)", "η P = 0.85 · 2.0 kW = 1.7 kW", lambda w: (w.eta * w.P, 1700)),
        ("(3)", "v = η P/F = 1700 W/(918 N) = 1.85 m/s",
         lambda w: rounds_to(w.v, 1.85, 0.01) and rounds_to(1700 / 918, 1.85, 0.01)),
        ("(4)", "v = 111 m/min", lambda w: rounds_to(w.v * 60, 111, 1)),
    ],
    _winch,
    symbols="""
        m : kg, positive
        g : m/s², positive
        θ : rad, 0 < θ < π/2
        P : W, positive
        η : 1, positive
        F : N
        v : m/s, positive""",
    given="""
        m = 450 kg
        g = 9.81 m/s²
        θ = 12°
        P = 2.0 kW
        η = 85 %
        F = m g sin θ
        F v = η P""",
    premises=lambda w: [
        (w.P, 2e3), (w.eta, 0.85), (w.F, 450 * 9.81 * sin(radians(12))), (w.F * w.v, w.eta * w.P)],
    slips=[
        Slip("(1)", "F = 450 kg · 9.81 m/s² · sin 12 = -2370 N", lambda w: rounds_to(w.F, -2370, 10),
             name="degrees taken as radians"),
        Slip("(2)", "η P = 85 · 2.0 kW = 170 kW", lambda w: (w.eta * w.P, 170e3),
             {"(3)": "v = η P/F = 170 kW/(918 N) = 185 m/s", "(4)": "v = 11.1 km/min"}, "percent"),
        Slip("(3)", "v = η P/F = 1700 W/(918 N) = 0.54 m/s", lambda w: rounds_to(w.v, 0.54, 0.01),
             {"(4)": "v = 32 m/min"}, "divided the wrong way round"),
        Slip("(4)", "v = 0.031 m/min", lambda w: rounds_to(w.v * 60, 0.031, 0.001), name="minutes"),
    ],
)


# --- a hatch under water: prefixes and areas ------------------------------------------------------


def _hatch(_: Random) -> World:
    pressure = 1025 * 9.81 * 12
    return World(p=pressure, A=40e-4, F=pressure * 40e-4)


CASES += cases(
    "a hatch under water",
    [
        ("", "p = 1025 kg/m^3 * 9.81 m/s^2 * 12 m = 1.21*10^5 Pa", lambda w: rounds_to(w.p, 1.21e5, 1e3)),
        ("", "p = 121 kPa = 0.121 MPa", lambda w: rounds_to(w.p, 121e3, 1e3) and rounds_to(w.p, 0.121e6, 1e3)),
        ("", "A = 40 cm^2 = 4.0*10^-3 m^2", lambda w: [(w.A, 40e-4), (w.A, 4.0e-3)]),
        ("", "F = p A = 0.48 kN", lambda w: rounds_to(w.F, 480, 10)),
    ],
    _hatch,
    symbols="""
        rho : kg/m^3, positive
        g : m/s^2, positive
        h : m, positive
        p : Pa
        A : m^2, positive
        F : N""",
    given="""
        rho = 1025 kg/m^3
        g = 9.81 m/s^2
        h = 12 m
        A = 40 cm^2
        p = rho g h
        F = p A""",
    premises=lambda w: [(w.A, 40e-4), (w.p, 1025 * 9.81 * 12), (w.F, w.p * w.A)],
    slips=[
        Slip(2, "p = 121 kPa = 1.21 MPa", lambda w: rounds_to(w.p, 121e3, 1e3) and rounds_to(w.p, 1.21e6, 1e4),
             name="power of ten"),
        Slip(3, "A = 40 cm^2 = 0.40 m^2", lambda w: (w.A, 0.40), {4: "F = p A = 48 kN"}, "square centimetres"),
        Slip(4, "F = p A = 0.84 kN", lambda w: rounds_to(w.F, 840, 10), name="digits swapped"),
    ],
)


# --- a pontoon bobs: right numbers below a wrong line, and the reverse ----------------------------


def _pontoon(_: Random) -> World:
    m, k = 350.0, 12.6e3
    return World(m=m, k=k, om=sqrt(k / m), T=2 * pi * sqrt(m / k), f=sqrt(k / m) / (2 * pi))


CASES += cases(
    "a pontoon bobs",
    [
        ("(1)", "ω = √(k/m)", lambda w: (w.om, sqrt(w.k / w.m))),
        ("(2)", "T = 2π/ω = 2π √(m/k)", lambda w: [(w.T, 2 * pi / w.om), (w.T, 2 * pi * sqrt(w.m / w.k))]),
        ("(3)", "ω = 6.00 rad/s", lambda w: rounds_to(w.om, 6.00, 0.01)),
        ("(4)", "T = 1.05 s = 1050 ms", lambda w: rounds_to(w.T, 1.05, 0.01)),
        ("(5)", "f = 1/T = 0.955 Hz", lambda w: rounds_to(w.f, 0.955, 0.001)),
    ],
    _pontoon,
    symbols="""
        m : kg, positive
        k : N/m, positive
        ω : rad/s, positive
        T : s, positive
        f : Hz, positive""",
    given="""
        m = 350 kg
        k = 12.6 kN/m
        m ω² = k
        ω T = 2π
        f T = 1""",
    premises=lambda w: [(w.m, 350), (w.k, 12.6e3), (w.m * w.om**2, w.k), (w.om * w.T, 2 * pi), (w.f * w.T, 1)],
    slips=[
        Slip("(2)", "T = 2π/ω = 2π √(k/m)", lambda w: [(w.T, 2 * pi / w.om), (w.T, 2 * pi * sqrt(w.k / w.m))],
             name="upside down, right numbers below"),
        Slip("(3)", "ω = 0.190 rad/s", lambda w: rounds_to(w.om, 0.190, 0.001), name="prefix lost"),
        Slip("(4)", "T = 10.5 s", lambda w: rounds_to(w.T, 10.5, 0.1), {"(5)": "f = 1/T = 0.095 Hz"}, "power of ten"),
        Slip("(5)", "f = 1/T = 0.955 kHz", lambda w: rounds_to(w.f, 955, 1), name="prefix"),
    ],
)


# --- a barge under way: hours, minutes, kilowatt hours --------------------------------------------


def _barge(_: Random) -> World:
    v, m = 2400 / 1200, 3.5e4
    return World(s=2400.0, tau=1200.0, m=m, v=v, E=m * v**2 / 2, P=m * v**2 / 2 / 40)


CASES += cases(
    "a barge under way",
    [
        ("1)", "v = 2.4 km/(20 min) = 2.0 m/s", lambda w: [(w.v, 2400 / 1200), (w.v, 2.0)]),
        ("2)", "v = 7.2 km/h", lambda w: (w.v, 7.2 / 3.6)),
        ("3)", "E = ½ · 3.5×10⁴ kg · (2.0 m/s)² = 7.0×10⁴ J = 70 kJ", lambda w: [(w.E, 7.0e4), (w.E, 70e3)]),
        ("4)", "E = 0.019 kW h", lambda w: rounds_to(w.E / 3.6e6, 0.019, 0.001)),
        ("5)", "P = E/(40 s) = 1.75 kW", lambda w: (w.P, 1.75e3)),
    ],
    _barge,
    symbols="""
        s : m, positive
        τ : s, positive
        m : kg, positive
        v : m/s, positive
        E : J
        P : W""",
    given="""
        s = 2.4 km
        τ = 20 min
        m = 3.5×10⁴ kg
        s = v τ
        E = ½ m v²
        P · 40 s = E""",
    premises=lambda w: [
        (w.s, 2.4e3), (w.tau, 20 * 60), (w.m, 3.5e4), (w.s, w.v * w.tau), (w.E, w.m * w.v**2 / 2), (w.P * 40, w.E)],
    slips=[
        Slip("1)", "v = 2.4 km/(20 min) = 0.12 m/s", lambda w: (w.v, 0.12),
             {"2)": "v = 0.43 km/h", "3)": "E = ½ · 3.5×10⁴ kg · (0.12 m/s)² = 252 J", "4)": "E = 7.0×10⁻⁵ kW h",
              "5)": "P = E/(40 s) = 6.3 W"}, "minutes not turned into seconds"),
        Slip("3)", "E = ½ · 3.5×10⁴ kg · 2.0 m/s = 3.5×10⁴ J", lambda w: (w.E, 3.5e4),
             {"4)": "E = 0.0097 kW h", "5)": "P = E/(40 s) = 0.875 kW"}, "square forgotten"),
        Slip("4)", "E = 70/3.6 kW h = 19 kW h", lambda w: rounds_to(w.E / 3.6e6, 19, 1), name="power of ten"),
    ],
)


# --- a cart stops: plain numbers in between, the unit at the end ----------------------------------


def _cart(_: Random) -> World:
    return World(v=20.0, a=2.5, s=80.0, m=1.5e3, F=3750.0)


CASES += cases(
    "a cart stops, numbers without units in between",
    [
        ("(1)", "v = 72/3.6 = 20 m/s", lambda w: (w.v, 72 / 3.6)),
        ("(2)", "a = 20/8.0 = 2.5 m/s^2", lambda w: (w.a, 20 / 8.0)),
        ("(3)", "s = 1/2*2.5*8.0^2 = 80 m", lambda w: (w.s, 0.5 * 2.5 * 8.0**2)),
        ("(4)", "F = 1500*2.5 = 3750 N = 3.75 kN", lambda w: [(w.F, 1500 * 2.5), (w.F, 3.75e3)]),
    ],
    _cart,
    symbols="""
        v : m/s, positive
        τ : s, positive
        a : m/s^2, positive
        s : m, positive
        m : kg, positive
        F : N""",
    given="""
        v = 72 km/h
        τ = 8.0 s
        m = 1.5×10³ kg
        v = a τ
        s = 1/2 a τ^2
        F = m a""",
    premises=lambda w: [
        (w.v, 72 / 3.6), (w.m, 1.5e3), (w.v, w.a * 8), (w.s, w.a * 8**2 / 2), (w.F, w.m * w.a)],
    slips=[
        Slip("(2)", "a = 8.0/20 = 0.40 m/s^2", lambda w: (w.a, 0.40),
             {"(3)": "s = 1/2*0.40*8.0^2 = 12.8 m", "(4)": "F = 1500*0.40 = 600 N = 0.60 kN"}, "upside down"),
        Slip("(3)", "s = 1/2*2.5*8.0 = 10 m", lambda w: (w.s, 10), name="square forgotten"),
        Slip("(4)", "F = 1500*2.5 = 3750 N = 37.5 kN", lambda w: [(w.F, 3750), (w.F, 37.5e3)], name="power of ten"),
    ],
)


# --- a quick working of numbers alone -------------------------------------------------------------


def _quick(_: Random) -> World:
    return World(v=20.0, a=2.5, s=80.0)


CASES += cases(
    "a few bare lines of numbers",
    [
        ("", "v = 72 km/h = 20 m/s", lambda w: (w.v, 72 / 3.6)),
        ("", "a = 20 m/s / (8.0 s) = 2.5 m/s^2", lambda w: (w.a, w.v / 8.0)),
        ("", "s = 1/2 * 2.5 m/s^2 * (8.0 s)^2 = 80 m", lambda w: (w.s, w.a * 32)),
        ("", "s/v = 4.0 s", lambda w: (w.s / w.v, 4.0)),
    ],
    _quick,
    slips=[
        Slip(1, "v = 72 km/h = 259 m/s", lambda w: (w.v, 259), {4: "s/v = 80 m / (259 m/s) = 0.31 s"},
             "km/h turned the wrong way"),
        Slip(3, "s = 1/2 * 2.5 m/s^2 * (8.0 s)^2 = 160 m", lambda w: (w.s, 160), {4: "s/v = 8.0 s"}, "half lost"),
        Slip(4, "s/v = 0.25 s", lambda w: (w.s / w.v, 0.25), name="upside down"),
    ],
)


# --- a hanging lamp on a spring: names of the writer's own for the numbers ------------------------


def _lamp(_: Random) -> World:
    om = sqrt(40 / 0.25)
    return World(m=0.25, k=40.0, om=om, T=2 * pi / om, f=om / (2 * pi), u=om * 0.03)


CASES += cases(
    "a lamp on a spring, numbers under names of the writer's own",
    [
        ("", "let m = 250 g"),
        ("", "let k = 40 N/m"),
        ("", "let ω = √(k/m)"),
        ("", "ω = 12.6 rad/s", lambda w: rounds_to(w.om, 12.6, 0.1)),
        ("", "let A = 3.0 cm"),
        ("", "let u = ω A, so u = 0.38 m/s", lambda w: rounds_to(w.u, 0.38, 0.01)),
        ("", "1/2 k A^2 = 18 mJ", lambda w: rounds_to(w.k * 0.03**2 / 2, 0.018, 0.001)),
        ("", "2π/ω = 0.497 s", lambda w: rounds_to(w.T, 0.497, 0.001)),
    ],
    _lamp,
    slips=[
        Slip(4, "ω = 0.40 rad/s", lambda w: rounds_to(w.om, 0.40, 0.01), name="grams not turned into kilograms"),
        Slip(6, "let u = ω A, so u = 38 m/s", lambda w: rounds_to(w.u, 38, 1), name="centimetres"),
        Slip(7, "1/2 k A^2 = 36 mJ", lambda w: rounds_to(w.k * 0.03**2 / 2, 0.036, 0.001), name="half lost"),
        Slip(8, "2π/ω = 4.97 s", lambda w: rounds_to(w.T, 4.97, 0.01), name="power of ten"),
    ],
)
