"""Each kind of slip is found from a line that has it, and named at the piece that has it."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest

from derive.diagnosis.alike import alike
from derive.diagnosis.around import look_around
from derive.diagnosis.edits import KINDS, edits
from derive.diagnosis.pieces import number
from derive.diagnosis.search import find_slip
from derive.messages import MESSAGES
from derive.notation.tree import Between, Integral, Num, Product, Relation, Statement, Unit
from derive.records import Symbol

from .trees import PI, E, T, cos, d, exp, free, fun, holds_in, measure_in, names, rel, sin, sqrt, tree, worlds

a, b, c, g, h, k, ell, m, r, s, t, u, v, x, y = names("a b c g h k l m r s t u v x y")
T_ = names("T")[0]
A, F, I, L, N, R, Q, W = names("A F I L N R Q W")  # noqa: E741 -- what a moment of inertia is called
m1, m2, v0, ω, θ, μ, γ, φ = names("m_1 m_2 v_0 ω θ μ γ φ")
ln = fun("ln")
KG, KM, DEG = T(Unit("kg")), T(Unit("km")), T(Unit("°"))
MOVING = {n: Symbol(n, of="t") for n in ("y", "m", "v")}


def decimal(text: str) -> T:
    return T(Num(Fraction(text), -len(text.partition(".")[2])))


def integral(body: T, wrt: T, lower: object, upper: object) -> T:
    return T(Integral(body.node, wrt.node, tree(lower), tree(upper)))


def between(body: T, lower: object, upper: object) -> T:
    return T(Between(body.node, tree(lower), tree(upper)))


# kind, the line as it should be, the line with the slip, the piece to point to
ROWS = [
    ("sign", rel(m * a, m * g - Q), rel(m * a, m * g + Q), Q),
    ("sign", rel(a, -(ω ** 2 * x)), rel(a, ω ** 2 * x), ω ** 2 * x),
    ("direction", rel(μ, "≥", a / g), rel(μ, "≤", a / g), None),
    ("function", rel(N, m * g * cos(θ)), rel(N, m * g * sin(θ)), sin(θ)),
    ("factor", rel(W, k * x ** 2 / 2), rel(W, k * x ** 2), k * x ** 2),
    ("factor", rel(v ** 2, u ** 2 + 2 * a * s), rel(v ** 2, u ** 2 + a * s), a * s),
    ("factor", rel(I, m * L ** 2 / 12), rel(I, m * L ** 2 / 3), m * L ** 2 / 3),
    ("exponent_sign", rel(v, v0 * E ** (-(γ * t))), rel(v, v0 * E ** (γ * t)), γ * t),
    ("exponent_sign", rel(v, v0 * exp(-(γ * t))), rel(v, v0 * exp(γ * t)), γ * t),
    ("upside_down", rel(a, 2 * PI * sqrt(m / k)), rel(a, 2 * PI * sqrt(k / m)), k / m),
    ("upside_down", rel(a, F / (m + c)), rel(a, (m + c) / F), (m + c) / F),
    ("power_of_sum", rel(s, (a + b) ** 2), rel(s, a ** 2 + b ** 2), a ** 2 + b ** 2),
    ("sum_of_powers", rel(s ** 3, a ** 2 + b ** 2), rel(s ** 3, (a + b) ** 2), (a + b) ** 2),
    ("function_of_sum", rel(s, sqrt(a + b)), rel(s, sqrt(a) + sqrt(b)), sqrt(a) + sqrt(b)),
    ("function_of_sum", rel(s, sin(θ + φ)), rel(s, sin(θ) + sin(φ)), sin(θ) + sin(φ)),
    ("sum_of_functions", rel(s, sqrt(a) + sqrt(b)), rel(s, sqrt(a + b)), sqrt(a + b)),
    ("fraction_of_sum", rel(k, c / (a + b)), rel(k, c / a + c / b), c / a + c / b),
    ("sum_of_fractions", rel(k, c / a + c / b), rel(k, c / (a + b)), c / (a + b)),
    ("product_of_sums", rel(F, (a + b) * (c + g)), rel(F, a * c + b * g), a * c + b * g),
    ("common_denominator", rel(y, a / b + c / k), rel(y, (a + c) / (b * k)), (a + c) / (b * k)),
    ("cancelled", rel(x, (k * a + L * b) / (k + L)), rel(x, (a + L * b) / (1 + L)), (a + L * b) / (1 + L)),
    ("power_of_result", rel(s, decimal("4.00")), rel(s, decimal("16.0")), decimal("16.0")),
    ("bracket", rel(F, k * (a + b) * c), rel(F, k * a + b * c), k * a + b * c),
    ("power", rel(F, sqrt(a ** 2 + b ** 2)), rel(F, sqrt(a + b)), a + b),
    ("limits", rel(W, integral(F, x, 0, ell)), rel(W, integral(F, x, ell, 0)), integral(F, x, ell, 0)),
    ("limits", rel(W, between(k * x, 0, b)), rel(W, between(k * x, b, 0)), between(k * x, b, 0)),
    ("degrees", rel(N, g * sin(30 * DEG)), rel(N, g * sin(T(number(30)))), T(number(30))),
    ("root", rel(v, sqrt(2 * g * h)), rel(v, 2 * g * h), 2 * g * h),
    ("root", rel(a, 2 * PI * sqrt(ell / g)), rel(a, 2 * PI * ell / g), 2 * PI * ell / g),
    ("power", rel(F, m * v ** 2 / r), rel(F, m * v / r), v),
    ("power", rel(F, m * v ** 2 / r), rel(F, m * v ** 2 / r ** 2), r ** 2),
    ("root_reach", rel(v, sqrt(2 * g * h)), rel(v, sqrt(T(number(2))) * g * h), None),
    ("root_reach", rel(y, A * cos(ω * t)), rel(y, A * cos(ω) * t), A * cos(ω) * t),
    ("bracket", rel(F, k * (a + b)), rel(F, k * a + b), k * a + b),
    ("bracket", rel(F, k * a + b), rel(F, k * (a + b)), k * (a + b)),
    ("bracket", rel(u, (a + b) / c), rel(u, a + b / c), a + b / c),
    ("bracket", rel(u, a + b / c), rel(u, (a + b) / c), (a + b) / c),
    ("bracket", rel(u, a / (b + c)), rel(u, a / b + c), a / b + c),
    ("bracket", rel(u, a - (b - c - v)), rel(u, a - b - c - v), a - b - c - v),
    ("one_term_only", rel(s, v0 * t + a * t), rel(s, v0 * t + a), v0 * t + a),
    ("power_of_ten", rel(s, decimal("0.75") * v0), rel(s, decimal("75.0") * v0), None),
    ("unit", rel(v, decimal("20.0") * KM), rel(v, decimal("72.0") * KM), None),
    ("circle", rel(a, 2 * PI * sqrt(m / k)), rel(a, sqrt(m / k)), sqrt(m / k)),
    ("neighbour", rel(a, F / m1), rel(a, F / m2), m2),
    ("exchanged", rel(L, (m1 * x + m2 * y) / c), rel(L, (m1 * y + m2 * x) / c), m1 * y + m2 * x),
    ("added", rel(F, k * a * x), rel(F, k * a + x), k * a + x),
    ("root", rel(v, A * sqrt(k / m)), rel(v, A * k / m), A * k / m),
    ("inner_factor", rel(d(x), A * ω * cos(ω * t)), rel(d(x), A * cos(ω * t)), A * cos(ω * t)),
    ("inner_factor", rel(d(x), -(m * g * sin(y) * d(y))), rel(d(x), -(m * g * sin(y))), m * g * sin(y)),
    ("inner_factor", rel(d(x), (A * cos(ω * t) - L * sin(ω * t)) * ω), rel(d(x), A * cos(ω * t) - L * sin(ω * t)),
     A * cos(ω * t) - L * sin(ω * t)),
    ("double_angle", rel(R, u ** 2 * sin(2 * θ) / g), rel(R, u ** 2 * sin(θ) ** 2 / g), sin(θ) ** 2),
    ("double_angle", rel(R, u ** 2 * sin(2 * θ) / g), rel(R, 2 * u ** 2 * sin(θ) / g), 2 * u ** 2 * sin(θ)),
    ("derivative_order", rel(F, k * d(y, 2)), rel(F, k * d(y)), d(y)),
    ("product_part", rel(F, m * d(v) + d(m) * v), rel(F, m * d(v)), m * d(v)),
    ("forgotten_factor", rel(a, F / k - g), rel(a, F - g), F),
    ("forgotten_factor", rel(Q, μ * N * ell - c), rel(Q, N * ell - c), N * ell),
    ("extra_term", rel(s, a * t), rel(s, a * t + c), c),
    ("dropped_term", rel(v, a * t + v0), rel(v, a * t), a * t),
    ("one_side_only", rel(v, (F - Q) / k), rel(v, F - Q), F - Q),
    ("number_in_front", rel(I, 2 * m * R / 5), rel(I, 2 * m * R / 6), 6),
    ("root_of_two", rel(F, k * a / sqrt(T(number(2)))), rel(F, k * a), k * a),
    ("digits", rel(s, decimal("3.52") * v0), rel(s, decimal("3.25") * v0), None),
    ("doubled_term", rel(s, a + b), rel(s, a + b + a), a),
    ("multiplied", rel(s, F / (m + k)), rel(s, F / (m * k)), m * k),
    ("power_reach", rel(W, m * (r * ω / k) ** 2), rel(W, m * r * ω ** 2 / k), m * r * ω ** 2 / k),
    ("reversed_calculus", rel(W, between(c * x ** 4 / 4, 0, ell)), rel(W, between(3 * c * x ** 2, 0, ell)),
     3 * c * x ** 2),
    ("power_rule", rel(W, d(x) * k * ell ** 2 / 2), rel(W, d(x) * k * ell), d(x) * k * ell),
]
PREMISES = (rel(d(y), v), rel(Q, μ * N - k * u), rel(h, m1 + m2), rel(t, v0 + ell))


@pytest.mark.parametrize(("kind", "right", "wrong", "piece"), ROWS, ids=lambda x: x if isinstance(x, str) else "")
def test_the_slip_is_named_at_its_piece(kind: str, right: Relation, wrong: Relation, piece: object) -> None:
    around = look_around(wrong, PREMISES, MOVING)

    slip = find_slip(Statement("claim", wrong), lambda claim: alike(claim, right), around=around, effort=3000)

    assert slip.found == "one"
    edit = slip.edits[0]
    assert (edit.kind, alike(edit.claim, right)) == (kind, True)
    if piece is not None:
        assert edit.before == tree(piece)


# The same, where the values of pieces at some states are known: what is missing is then looked up by value.
MEASURED = [
    ("missing_term", "u g h m", rel(v ** 2, u ** 2 + 2 * g * h), rel(v ** 2, u ** 2), (rel(Q, m * g * h),),
     lambda w: {"v": (w["u"] ** 2 + 2 * w["g"] * w["h"]) ** 0.5, "Q": w["m"] * w["g"] * w["h"]}),
    ("missing_term", "m g a", rel(N, m * g / a + m * a ** 2), rel(N, m * g / a), (),
     lambda w: {"N": w["m"] * w["g"] / w["a"] + w["m"] * w["a"] ** 2}),
    ("calculator", "g", rel(F, decimal("5.00")), rel(F, -decimal("9.88")), (rel(F, 10 * sin(θ)),),
     lambda w: {"θ": math.pi / 6, "F": 5.0}),
    ("worked_sign", "m g a", rel(F, decimal("12.0")), rel(F, decimal("8.00")), (rel(F, m * g + m * a),),
     lambda w: {"m": 2.0, "g": 5.0, "a": 1.0, "F": 12.0}),
    ("worked_way_up", "s t", rel(v, decimal("6.40")), rel(v, decimal("16.9")), (rel(v, s / t),),
     lambda w: {"s": 10.4, "t": 1.625, "v": 6.4}),
    ("worked_power", "k x", rel(W, decimal("7.84")), rel(W, decimal("5.60")), (rel(W, k * x ** 2),),
     lambda w: {"k": 4.0, "x": 1.4, "W": 7.84}),
    ("worked_function", "N", rel(N, decimal("8.66")), rel(N, decimal("5.00")), (rel(N, 10 * cos(θ)),),
     lambda w: {"θ": math.acos(0.866), "N": 8.66}),
    ("quotient_rule", "A t k", rel(d(v), (A * k) / (k + t) ** 2), rel(d(v), A), (rel(v, A * t / (k + t)),),
     lambda w: {"v": w["A"] * w["t"] / (w["k"] + w["t"]), "v'": w["A"] * w["k"] / (w["k"] + w["t"]) ** 2}),
    ("logarithm", "m x k T", rel(g, ln(T_)), rel(g, T_), (rel(ln(T_), k * x),),
     lambda w: {"g": math.log(w["T"])}),
    ("product_rule", "m k v y v' y'", rel(d(L), k * (d(v) * y ** 2 + 2 * v * y * d(y))),
     rel(d(L), 2 * k * d(v) * y * d(y)), (rel(L, k * v * y ** 2), rel(m, d(v) + d(y))),
     lambda w: {"L": w["k"] * w["v"] * w["y"] ** 2,
                "L'": w["k"] * (w["v'"] * w["y"] ** 2 + 2 * w["v"] * w["y"] * w["y'"])}),
    ("unusual_factor", "m R", rel(I, 7 * m * R ** 2 / 5), rel(I, m * R ** 2), (),
     lambda w: {"I": 1.4 * w["m"] * w["R"] ** 2}),
]


@pytest.mark.parametrize(
    ("kind", "names_of", "right", "wrong", "premises", "more"), MEASURED, ids=[row[0] for row in MEASURED])
def test_what_is_missing_is_found_by_its_value(
    kind: str, names_of: str, right: Relation, wrong: Relation, premises: tuple[Relation, ...], more: Any,
) -> None:
    known = worlds(lambda r: {**(w := free(names_of)(r)), **more(w)}, count=12)
    around = look_around(wrong, premises, measure=measure_in(known))

    slip = find_slip(Statement("claim", wrong), holds_in(known), around=around, effort=3000)

    assert (slip.found, slip.kind) == ("one", kind)
    assert holds_in(known)(right) and holds_in(known)(slip.edits[0].claim)


def test_every_kind_is_shown_by_a_row_and_has_its_words() -> None:
    assert {k.name for k in KINDS} == {row[0] for row in (*ROWS, *MEASURED)}
    assert [k.name for k in KINDS if len(MESSAGES.get(f"slip.{k.name}", ())) < 2] == []


def test_kinds_are_listed_from_the_commonest_to_the_rarest() -> None:
    assert [k.cost for k in KINDS] == sorted(k.cost for k in KINDS)


def test_edits_come_commonest_first_and_each_claim_once() -> None:
    found = list(edits(rel(v ** 2, v0 ** 2 + 2 * a * s), look_around(rel(v, u), PREMISES, MOVING)))

    assert [e.cost for e in found] == sorted(e.cost for e in found)
    assert len({e.claim for e in found}) == len(found) > 50


def test_the_side_copied_from_the_line_above_is_never_edited() -> None:
    carried = Relation((tree(m * a), tree(F - Q)), ("=",), carries_on=True)

    assert all(e.claim.sides[0] == tree(m * a) for e in edits(carried))  # type: ignore[union-attr]


def test_a_long_line_gives_no_more_edits_than_the_bound() -> None:
    long = rel(s, T(Product(tuple(tree(x + i) for i in range(200)))))

    assert len(list(edits(long, most=300))) <= 300
