"""Gaps that vanish: approximations and limits proved by series with a bounded rest, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from derive.proof.certificate import Certificate, explain, recheck
from derive.proof.prover import prove_vanishing
from derive.proof.records import Facts, Premise
from derive.terms.term import ONE, TWO, ZERO, Term, Var, add, div, fun, mul, neg, num, power, sub, var
from tests.workings import verdicts

X, A, B, T = (Var(n) for n in "xabt")
x, a, b, t = (var(v) for v in (X, A, B, T))
HALF = num(Fraction(1, 2))

SIGNS = Facts(lambda v: "positive" if v in (A, B) else "real")


def gap(left: Term, right: Term, order: int, weight: int = 1, of: Var = X) -> Certificate | None:
    return prove_vanishing(sub(left, right), [(of, weight)], order, [], SIGNS)


@pytest.mark.parametrize(("left", "right", "order"), [
    (fun("sin", x), x, 3),
    (fun("cos", x), sub(ONE, mul(HALF, power(x, TWO))), 4),
    (fun("exp", mul(a, x)), add(ONE, mul(a, x)), 2),
    (power(add(ONE, x), HALF), add(ONE, mul(HALF, x)), 2),
    (power(add(power(a, TWO), x), HALF), a, 1),
    (fun("ln", add(ONE, x)), x, 2),
    (div(a, add(b, x)), div(a, b), 1),
])
def test_a_series_cut_short_is_off_by_the_next_power_and_not_by_one_more(left: Term, right: Term, order: int) -> None:
    found = gap(left, right, order)

    assert found is not None
    assert recheck(found)
    assert gap(left, right, order + 1) is None
    assert not recheck(replace(found, order=order + 1))


@pytest.mark.parametrize(("left", "right"), [
    (div(sub(x, a), add(x, a)), ONE),
    (div(mul(a, x), add(x, b)), a),
    (power(div(mul(a, x), add(x, b)), HALF), power(a, HALF)),
    (mul(b, sub(ONE, fun("exp", neg(mul(a, x))))), b),
])
def test_what_comes_together_far_out_is_proved_to(left: Term, right: Term) -> None:
    found = gap(left, right, 1, -1)

    assert found is not None
    assert recheck(found)


@pytest.mark.parametrize(("left", "right"), [
    (div(sub(x, a), add(x, a)), neg(ONE)),
    (mul(b, sub(ONE, fun("exp", mul(a, x)))), b),
    (mul(b, sub(ONE, fun("exp", neg(mul(t, x))))), b),
    (div(a, sub(b, a)), ZERO),
    (fun("sin", x), x),
])
def test_what_does_not_is_not(left: Term, right: Term) -> None:
    assert gap(left, right, 1, -1) is None


def test_a_divisor_that_may_vanish_with_what_is_small_proves_nothing() -> None:
    assert gap(div(x, add(x, sub(a, b))), ZERO, 1) is None


def test_what_is_held_is_not_put_in() -> None:
    premise = Premise("(1)", sub(a, mul(x, b)))

    assert prove_vanishing(a, [(X, 1)], 1, [premise], SIGNS) is not None
    assert prove_vanishing(a, [(X, 1)], 1, [premise], SIGNS, held=frozenset((A,))) is None


def test_a_certificate_says_what_was_written_as_a_series() -> None:
    found = gap(fun("sin", x), x, 3)

    assert found is not None
    assert explain(found) == [
        "Write sin(x) as its series.", "The difference of the two sides then vanishes at least as fast as x^3."]
    assert not recheck(replace(found, series=()))
    assert not recheck(replace(found, small=()))
    assert not recheck(replace(found, small=((X, -1),)))


DEPTH = """
Symbols:
  g0, R, h, g : 1, positive
Given:
  g = g0 R²/(R + h)²
Working:
  for h ≪ R: g ≈ g0 (1 - 2 h/R)
  as h → ∞: g → 0
"""


def test_approximations_and_limits_of_a_working_are_proved() -> None:
    ((near,), (far,)) = verdicts(DEPTH)

    assert (near.standing.value, near.support) == ("approximates", "proved")
    assert (far.standing.value, far.support) == ("follows", "proved")
    assert near.premises == far.premises == ("given line 5",)
