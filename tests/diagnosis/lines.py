"""Right lines of a first course with the lines before them, and worlds in which those hold."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from derive.notation.tree import Relation

from .trees import PI, E, cos, d, exp, free, ln, names, rel, sin, sqrt, tan

a, b, f, g, h, k, m, r, s, t, u, v, x, y = names("a b f g h k m r s t u v x y")
A, F, I, N, R, T, U = names("A F I N R T U")  # noqa: E741 -- a moment of inertia is called I
m1, m2, v0, x0, v1, v2, k1, k2 = names("m_1 m_2 v_0 x_0 v_1 v_2 k_1 k_2")
θ, μ, ω, φ, γ = names("θ μ ω φ γ")


@dataclass(frozen=True)
class Line:
    right: Relation
    premises: tuple[Relation, ...]
    worlds: Callable[[Random], dict[str, float]]




Values = dict[str, float]


def world(text: str, *pairs: tuple[str, Callable[[Values], float]]) -> Callable[[Random], Values]:
    """Free positive values for some names, and others worked out from them in turn."""
    def make(random: Random) -> Values:
        world = free(text)(random)
        for name, work_out in pairs:
            world[name] = work_out(world)
        return world
    return make


LINES: dict[str, Line] = {
    "period of a spring": Line(
        rel(T, 2 * PI * sqrt(m / k)), (rel(ω ** 2, k / m), rel(T, 2 * PI / ω)),
        world("m k", ("ω", lambda w: math.sqrt(w["k"] / w["m"])), ("T", lambda w: 2 * math.pi / w["ω"]))),
    "incline with friction": Line(
        rel(a, g * sin(θ) - μ * g * cos(θ)), (rel(m * a, m * g * sin(θ) - f), rel(f, μ * N), rel(N, m * g * cos(θ))),
        world("m g μ", ("θ", lambda w: 0.3 + w["μ"] / 4), ("N", lambda w: w["m"] * w["g"] * math.cos(w["θ"])),
              ("f", lambda w: w["μ"] * w["N"]), ("a", lambda w: w["g"] * math.sin(w["θ"]) - w["f"] / w["m"]))),
    "two weights over a pulley": Line(
        rel(a, (m1 - m2) * g / (m1 + m2)), (rel(m1 * g - T, m1 * a), rel(T - m2 * g, m2 * a)),
        world("m_1 m_2 g", ("a", lambda w: (w["m_1"] - w["m_2"]) * w["g"] / (w["m_1"] + w["m_2"])),
              ("T", lambda w: w["m_1"] * (w["g"] - w["a"])))),
    "fall from a height": Line(
        rel(v, sqrt(2 * g * h)), (rel(m * v ** 2 / 2, m * g * h),),
        world("m g h", ("v", lambda w: math.sqrt(2 * w["g"] * w["h"])))),
    "speed squared": Line(
        rel(v ** 2, v0 ** 2 + 2 * a * s), (rel(v, v0 + a * t), rel(s, v0 * t + a * t ** 2 / 2)),
        world("v_0 a t", ("v", lambda w: w["v_0"] + w["a"] * w["t"]),
              ("s", lambda w: w["v_0"] * w["t"] + w["a"] * w["t"] ** 2 / 2))),
    "way in a time": Line(
        rel(x, x0 + v0 * t + a * t ** 2 / 2), (rel(v, v0 + a * t), rel(x - x0, (v + v0) * t / 2)),
        world("x_0 v_0 a t", ("v", lambda w: w["v_0"] + w["a"] * w["t"]),
              ("x", lambda w: w["x_0"] + w["v_0"] * w["t"] + w["a"] * w["t"] ** 2 / 2))),
    "a stuck collision": Line(
        rel(v, (m1 * v1 + m2 * v2) / (m1 + m2)), (rel(m1 * v1 + m2 * v2, (m1 + m2) * v),),
        world("m_1 m_2 v_1 v_2", ("v", lambda w: (w["m_1"] * w["v_1"] + w["m_2"] * w["v_2"]) / (w["m_1"] + w["m_2"])))),
    "springs in a row": Line(
        rel(k, k1 * k2 / (k1 + k2)), (rel(1 / k, 1 / k1 + 1 / k2),),
        world("k_1 k_2", ("k", lambda w: 1 / (1 / w["k_1"] + 1 / w["k_2"])))),
    "orbit": Line(
        rel(T ** 2, 4 * PI ** 2 * r ** 3 / μ), (rel(v ** 2 / r, μ / r ** 2), rel(T, 2 * PI * r / v)),
        world("r μ", ("v", lambda w: math.sqrt(w["μ"] / w["r"])), ("T", lambda w: 2 * math.pi * w["r"] / w["v"]))),
    "banked curve": Line(
        rel(tan(θ), v ** 2 / (r * g)), (rel(N * sin(θ), m * v ** 2 / r), rel(N * cos(θ), m * g)),
        world("m r g v", ("θ", lambda w: math.atan(w["v"] ** 2 / (w["r"] * w["g"]))),
              ("N", lambda w: w["m"] * w["g"] / math.cos(w["θ"])))),
    "range": Line(
        rel(x, v ** 2 * sin(2 * θ) / g), (rel(x, v * cos(θ) * t), rel(v * sin(θ), g * t / 2)),
        world("v g", ("θ", lambda w: 0.2 + w["v"] / 5), ("t", lambda w: 2 * w["v"] * math.sin(w["θ"]) / w["g"]),
              ("x", lambda w: w["v"] * math.cos(w["θ"]) * w["t"]))),
    "rolling": Line(
        rel(a, g * sin(θ) / (1 + I / (m * R ** 2))), (rel(m * a, m * g * sin(θ) - f), rel(f * R, I * a / R)),
        world("m g R I", ("θ", lambda w: 0.2 + w["R"] / 5),
              ("a", lambda w: w["g"] * math.sin(w["θ"]) / (1 + w["I"] / (w["m"] * w["R"] ** 2))),
              ("f", lambda w: w["I"] * w["a"] / w["R"] ** 2))),
    "drag": Line(
        rel(v, m * g / k * (1 - E ** (-(k * t / m)))), (rel(m * d(v), m * g - k * v),),
        world("m g k t", ("v", lambda w: w["m"] * w["g"] / w["k"] * (1 - math.exp(-w["k"] * w["t"] / w["m"]))),
              ("v'", lambda w: w["g"] - w["k"] * w["v"] / w["m"]))),
    "speed of a swing": Line(
        rel(d(y), -(A * ω * sin(ω * t + φ))), (rel(y, A * cos(ω * t + φ)),),
        world("A ω t φ", ("y", lambda w: w["A"] * math.cos(w["ω"] * w["t"] + w["φ"])),
              ("y'", lambda w: -w["A"] * w["ω"] * math.sin(w["ω"] * w["t"] + w["φ"])),
              ("y''", lambda w: -w["ω"] ** 2 * w["y"]))),
    "energy of a spring": Line(
        rel(m * v ** 2 / 2 + k * x ** 2 / 2, k * A ** 2 / 2), (rel(U, k * x ** 2 / 2),),
        world("m k x u", ("A", lambda w: math.hypot(w["x"], w["u"])),
              ("v", lambda w: math.sqrt(w["k"] / w["m"]) * w["u"]), ("U", lambda w: w["k"] * w["x"] ** 2 / 2))),
    "resultant": Line(
        rel(F, sqrt(a ** 2 + b ** 2)), (rel(a, F * cos(θ)), rel(b, F * sin(θ))),
        world("a b", ("F", lambda w: math.hypot(w["a"], w["b"])), ("θ", lambda w: math.atan2(w["b"], w["a"])))),
    "binomial": Line(
        rel(s, a ** 2 + 2 * a * b + b ** 2), (rel(s, (a + b) ** 2),),
        world("a b", ("s", lambda w: (w["a"] + w["b"]) ** 2))),
    "time to slow": Line(
        rel(t, ln(v0 / v) / γ), (rel(v, v0 * exp(-(γ * t))),),
        world("v_0 γ t", ("v", lambda w: w["v_0"] * math.exp(-w["γ"] * w["t"])))),
    "newton with drag": Line(
        rel(m * a, F - f - m * g * sin(θ)), (rel(N, m * g * cos(θ)), rel(f, μ * N)),
        world("m g μ F", ("θ", lambda w: 0.3 + w["m"] / 5), ("N", lambda w: w["m"] * w["g"] * math.cos(w["θ"])),
              ("f", lambda w: w["μ"] * w["N"]),
              ("a", lambda w: (w["F"] - w["f"]) / w["m"] - w["g"] * math.sin(w["θ"])))),
    "speed on top": Line(
        rel(v ** 2, u ** 2 - 4 * g * R), (rel(m * u ** 2 / 2, m * v ** 2 / 2 + 2 * m * g * R),),
        world("m g R v", ("u", lambda w: math.sqrt(w["v"] ** 2 + 4 * w["g"] * w["R"])))),
}
