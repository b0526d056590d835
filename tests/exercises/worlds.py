"""One world for each shipped exercise: numbers and motions that satisfy its givens, found in closed form.

Nothing here reads an exercise's text. Each function draws a world from a seeded `Random`; `OWN` adds the
values of constants that single workings bring in (`y = A cos ωt + B sin ωt`), where they have to differ.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random
from typing import Any

import mpmath as mp

Draw = Callable[[float, float], Any]
Values = dict[str, Any]
G = mp.mpf("9.81")


@dataclass(frozen=True)
class Setting:
    """A world with what it runs along and how near is near.

    places:  where statements are looked at.
    of:      the variable of a function where it is not `variable`.
    runs:    the variables that limits without a name may mean.
    over:    {'m': 'x'} where an integral over m has limits of x.
    """

    values: Values
    variable: str = "t"
    places: tuple[dict[str, Any], ...] = ({"t": mp.mpf("0.37")}, {"t": mp.mpf("1.21")})
    of: dict[str, str] = field(default_factory=dict)
    runs: tuple[str, ...] = ("t",)
    over: dict[str, str] = field(default_factory=dict)
    tolerance: float = 1e-9


def buoy(d: Draw) -> Setting:
    m, rho, s, big = d(20, 60), d(1000, 1030), d(0.05, 0.3), d(0.02, 0.1)
    w = mp.sqrt(rho * G * s / m)
    return Setting({
        "m": m, "ρ": rho, "S": s, "g": G, "ω": w, "T": 2 * mp.pi / w, "Y": big, "A": big, "B": 0, "φ": 0,
        "y": lambda p: big * mp.cos(w * p["t"]), "F": lambda p: -rho * G * s * big * mp.cos(w * p["t"]),
    })


def ferry(d: Draw) -> Setting:
    v0, a = d(3, 6), d(0.05, 0.2)
    return Setting({
        "v_0": v0, "a": a, "t_1": v0 / a, "d": v0**2 / (2 * a),
        "x": lambda p: v0 * p["t"] - a * p["t"] ** 2 / 2, "v": lambda p: v0 - a * p["t"],
    })


def slipway(d: Draw) -> Setting:
    m, th, mu, length = d(200, 400), d(0.3, 0.6), d(0.05, 0.2), d(5, 20)
    a = G * (mp.sin(th) - mu * mp.cos(th))
    return Setting({
        "m": m, "g": G, "θ": th, "μ": mu, "N": m * G * mp.cos(th), "f": mu * m * G * mp.cos(th), "a": a,
        "l": length, "v": mp.sqrt(2 * a * length),
    })


def capstan(d: Draw) -> Setting:
    m, big, r = d(10, 40), d(50, 100), d(0.2, 0.5)
    a = m * G / (m + big / 2)
    return Setting({
        "m": m, "M": big, "R": r, "I": big * r**2 / 2, "g": G, "F": big * a / 2, "a": a, "α": a / r,
    })


def bell(d: Draw) -> Setting:
    m, length, small = d(40, 80), d(0.5, 1.5), mp.mpf("1e-5")
    w = mp.sqrt(G / length)
    return Setting({
        "m": m, "l": length, "g": G, "I": m * length**2, "ω": w, "T": 2 * mp.pi / w, "A": small, "φ": 0,
        "θ": lambda p: small * mp.cos(w * p["t"]),
    })


def bucket(d: Draw) -> Setting:
    m, r = d(4, 8), d(0.8, 1.4)
    v = mp.sqrt(G * r * d(1.01, 1.5))
    return Setting({
        "m": m, "r": r, "g": G, "v": v, "u": mp.sqrt(v**2 + 4 * G * r), "N": m * v**2 / r - m * G,
    })


def barge(d: Draw) -> Setting:
    m, b, v0 = d(15000, 25000), d(300, 20000), d(1, 3)
    return Setting({
        "m": m, "b": b, "v_0": v0, "s": m * v0 / b, "C": mp.log(v0), "A": v0, "λ": b / m,
        "v": lambda p: v0 * mp.exp(-b * p["t"] / m),
        "x": lambda p: m * v0 / b * (1 - mp.exp(-b * p["t"] / m)),
    })


def lead(d: Draw) -> Setting:
    m, w, c = d(2, 4), d(20, 30), d(5, 12)
    return Setting({
        "m": m, "W": w, "c": c, "u": w / c, "C": -mp.log(w) / c, "A": w, "λ": c / m,
        "v": lambda p: w / c * (1 - mp.exp(-c * p["t"] / m)),
    }, runs=("v", "t"))


def fender(d: Draw) -> Setting:
    m, k, c, depth = d(2000, 4000), d(1e4, 3e4), d(2e5, 8e5), d(0.1, 0.4)
    work = k * depth**2 / 2 + c * depth**4 / 4
    return Setting({
        "m": m, "k": k, "c": c, "d": depth, "W": work, "v": mp.sqrt(2 * work / m),
        "F": lambda p: k * p["x"] + c * p["x"] ** 3,
    }, variable="x", places=({"x": mp.mpf("0.08")},), of={"F": "x"}, runs=("x",))


def trolleys(d: Draw) -> Setting:
    m1, m2, u = d(100, 300), d(100, 300), d(1, 2)
    return Setting({
        "m_1": m1, "m_2": m2, "u": u, "v_1": (m1 - m2) * u / (m1 + m2), "v_2": 2 * m1 * u / (m1 + m2),
    })


def buffer(d: Draw) -> Setting:
    m, k, v0 = d(300, 700), d(5000, 12000), d(0.5, 1.2)
    w = mp.sqrt(k / m)
    return Setting({
        "m": m, "k": k, "v_0": v0, "ω": w, "T": 2 * mp.pi / w, "b": v0 / w, "A": 0, "B": v0 / w,
        "x": lambda p: v0 / w * mp.sin(w * p["t"]),
    })


def lantern(d: Draw) -> Setting:
    w, a, b = d(60, 100), d(0.3, 0.6), d(0.7, 1.2)
    return Setting({
        "W": w, "α": a, "β": b, "T_1": w * mp.cos(b) / mp.sin(a + b), "T_2": w * mp.cos(a) / mp.sin(a + b),
    })


def cask(d: Draw) -> Setting:
    m, r, th, h = d(60, 120), d(0.2, 0.4), d(0.15, 0.4), d(1, 3)
    a = 2 * G * mp.sin(th) / 3
    return Setting({
        "m": m, "r": r, "g": G, "θ": th, "I": m * r**2 / 2, "f": m * a / 2, "N": m * G * mp.cos(th),
        "μ": mp.tan(th) / 3 * d(1.05, 2), "a": a, "α": a / r, "h": h, "v": mp.sqrt(4 * G * h / 3),
    })


def drone(d: Draw) -> Setting:
    m, big, grav, r = d(10, 20), d(4e15, 8e15), mp.mpf("6.67e-11"), d(15000, 25000)
    v = mp.sqrt(grav * big / r)
    return Setting({"m": m, "M": big, "G": grav, "r": r, "v": v, "T": 2 * mp.pi * r / v})


def pontoon(d: Draw) -> Setting:
    m, b, k, big = d(800, 1200), d(600, 2000), d(7000, 11000), d(0.1, 0.3)
    gamma = b / (2 * m)
    w = mp.sqrt(k / m - gamma**2)
    return Setting({
        "m": m, "b": b, "k": k, "γ": gamma, "ω": w, "Y": big,
        "y": lambda p: big * mp.exp(-gamma * p["t"]) * mp.cos(w * p["t"]),
    })


def swell(d: Draw) -> Setting:
    m, b, k, f0, w = d(150, 250), d(100, 200), d(1500, 2500), d(200, 400), d(1.5, 2.5)
    p, q = k - m * w**2, b * w
    a, s = f0 * p / (p**2 + q**2), f0 * q / (p**2 + q**2)
    return Setting({
        "m": m, "b": b, "k": k, "F_0": f0, "Ω": w, "A": a, "B": s, "Y": mp.sqrt(a**2 + s**2),
        "y": lambda at: a * mp.cos(w * at["t"]) + s * mp.sin(w * at["t"]),
    })


def lamp(d: Draw) -> Setting:
    m, k, length = d(1, 3), d(100, 200), d(0.8, 1.2)
    r0, r1, th0, th1 = d(1.0, 1.3), d(-1, 1), d(0.2, 0.6), d(0.5, 1.5)
    r2 = r0 * th1**2 + G * mp.cos(th0) - k / m * (r0 - length)
    th2 = -(G * mp.sin(th0) + 2 * r1 * th1) / r0
    # The motion to second order about t = 0: all that an equation of motion looks at there.

    def motion(name: str, x0: Any, x1: Any, x2: Any) -> Callable[[Any], Any]:
        return lambda p: p.get(name, x0 + x1 * p["t"] + x2 * p["t"] ** 2 / 2)

    def rate(p: Any, name: str, x1: Any, x2: Any) -> Any:
        return p.get((name, 1), x1 + x2 * p["t"])

    r, th = motion("r", r0, r1, r2), motion("θ", th0, th1, th2)

    def potential(p: Any) -> Any:
        return k * (r(p) - length) ** 2 / 2 - m * G * r(p) * mp.cos(th(p))

    def lagrangian(p: Any) -> Any:
        return m * (rate(p, "r", r1, r2) ** 2 + r(p) ** 2 * rate(p, "θ", th1, th2) ** 2) / 2 - potential(p)

    return Setting({"m": m, "k": k, "l": length, "g": G, "r": r, "θ": th, "V": potential, "L": lagrangian},
                   places=({"t": mp.mpf(0)},), tolerance=1e-7)


def lockgate(d: Draw) -> Setting:
    rho, b, h = d(990, 1030), d(4, 8), d(3, 5)
    return Setting({
        "ρ": rho, "g": G, "b": b, "h": h, "F": rho * G * b * h**2 / 2, "M": rho * G * b * h**3 / 6, "H": h / 3,
        "p": lambda at: rho * G * at["z"],
    }, variable="z", places=({"z": mp.mpf("1.3")},), of={"p": "z"}, runs=("z", "y"))


def hawser(d: Draw) -> Setting:
    mu, turns, pull = d(0.2, 0.4), d(1.2, 2.5), d(100, 200)
    beta = 2 * mp.pi * turns
    return Setting({
        "μ": mu, "β": beta, "n": turns, "P": pull, "Q": pull * mp.exp(mu * beta), "C": mp.log(pull), "λ": mu,
        "F": lambda p: pull * mp.exp(mu * p["φ"]),
    }, variable="φ", places=({"φ": mp.mpf("2.2")},), of={"F": "φ"}, runs=("F", "φ"))


def tow(_d: Draw) -> Setting:
    return Setting({
        "m": 12000, "v": mp.mpf("1.5"), "t_1": 90, "R": 300, "a": mp.mpf(1) / 60, "F": 500, "d": mp.mpf("67.5"),
        "P": 750,
    }, tolerance=0.021)  # two figures are written at the least


def tide(d: Draw) -> Setting:
    u, c, wide = d(3, 5), d(1, 2), d(300, 500)
    across = mp.sqrt(u**2 - c**2)
    return Setting({
        "u": u, "c": c, "β": mp.asin(c / u), "d": wide, "t_1": wide / across, "w": [mp.mpf(0), across],
    })


def heave(d: Draw) -> Setting:
    v0, a = d(10, 18), d(0.4, 1.2)

    def angle(p: Any) -> Any:
        return p.get("α", a)

    return Setting({
        "v_0": v0, "α": angle, "g": G, "δ": mp.pi / 4,
        "t_1": lambda p: 2 * v0 * mp.sin(angle(p)) / G,
        "R": lambda p: v0**2 * mp.sin(2 * angle(p)) / G,
        "x": lambda p: v0 * p["t"] * mp.cos(angle(p)),
        "y": lambda p: v0 * p["t"] * mp.sin(angle(p)) - G * p["t"] ** 2 / 2,
    }, places=({"t": mp.mpf("0.37"), "α": a}, {"t": mp.mpf("1.21"), "α": a}), of={"R": "α", "t_1": "α"})


def drawbridge(d: Draw) -> Setting:
    big, length, phi = d(1000, 2000), d(6, 10), d(0.2, 1.2)
    lam = big / length
    return Setting({
        "M": big, "l": length, "λ": lam, "s": length / 2, "I": big * length**2 / 3, "g": G, "φ": phi,
        "α": 3 * G * mp.cos(phi) / (2 * length), "m": lambda p: lam * p["x"],
    }, variable="x", places=({"x": mp.mpf("2.7")},), of={"m": "x"}, runs=("x",), over={"m": "x"})


WORLDS = {
    f.__name__: f for f in (
        buoy, ferry, slipway, capstan, bell, bucket, barge, lead, fender, trolleys, buffer, lantern, cask, drone,
        pontoon, swell, lamp, lockgate, hawser, tow, tide, heave, drawbridge,
    )
}

# Constants that a single working brings in, where they are not those of the world above.
OWN: dict[str, Callable[[Values], Values]] = {
    "bell/own_way": lambda w: {"A": 0, "B": w["A"]},
    "buoy/all_on_one_side": lambda w: {"A": 0, "B": w["A"]},
    "buffer/hasty": lambda w: {"A": w["B"]},
    "buffer/energy": lambda w: {"A": w["B"], "B": 0},
    "buffer/slip_upside_down": lambda w: {"A": w["B"]},
}


def world(exercise: str, working: str, seed: int) -> Setting:
    """The setting of an exercise, drawn with a seed, with the constants of one working put in."""
    random = Random(f"{exercise} {seed}")
    setting = WORLDS[exercise](lambda low, high: mp.mpf(random.uniform(low, high)))
    own = OWN.get(f"{exercise}/{working}")
    if own:
        setting.values.update(own(setting.values))
    setting.values.update({"of": setting.of, "runs": setting.runs, "over": setting.over})
    return setting
