"""Numbers enclosed: what is surely above or below 0, and proofs that a value is right to its figures."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from derive.proof.certificate import Certificate, recheck
from derive.terms.enclosure import above_or_below
from derive.terms.term import ONE, PI, Term, Var, add, fun, mul, num, power, sub, var
from tests.workings import verdicts

THROW = """
Symbols:
  k : N/m
  m : kg
  ω : rad/s
  g : m/s²
  v : m/s
  α : rad
  R : m
Given:
  k = 320 N/m
  m = 1.4 kg
  ω = √(k/m)
  g = 9.81 m/s²
  v = 14.0 m/s
  α = 35°
  R = v² sin(2α)/g
Working:
"""


@pytest.mark.parametrize(("number", "side"), [
    (sub(PI, num(Fraction(355, 113))), -1),
    (sub(PI, num(Fraction(314, 100))), 1),
    (sub(power(num(2), num(Fraction(1, 2))), num(Fraction(141, 100))), 1),
    (sub(fun("sin", mul(num(Fraction(7, 18)), PI)), num(Fraction(94, 100))), -1),
    (sub(fun("exp", fun("ln", num(3))), num(3)), 0),
    (sub(add(ONE, ONE), num(2)), 0),
    (power(sub(PI, PI), num(-1)), 0),
    (power(num(-2), num(Fraction(1, 2))), 0),
    (fun("exp", power(num(10), num(9))), 0),
    (var(Var("x")), 0),
])
def test_a_number_is_above_or_below_nothing_only_where_that_is_sure(number: Term, side: int) -> None:
    assert above_or_below([(1, [(number, 1)])]) == side


def certificates(line: str) -> tuple[Certificate, ...]:
    ((verdict,),) = verdicts(THROW + f"  {line}\n")
    assert verdict.standing.value == "approximates"
    return verdict.certificate or ()  # type: ignore[return-value]


@pytest.mark.parametrize("line", ["k/m = 229 s^-2", "ω = 15.1 rad/s", "2π/ω = 0.416 s", "R = 18.8 m"])
def test_a_value_right_to_its_figures_is_proved_from_the_values_given(line: str) -> None:
    found = certificates(line)

    assert len(found) == 2
    assert all(map(recheck, found))


def test_a_narrower_allowance_than_was_shown_is_refused() -> None:
    above, below = certificates("ω = 15.1 rad/s")

    closer = sub(above.target, num(Fraction(1, 10)))

    assert not recheck(replace(above, target=closer))
    assert not recheck(replace(below, lemmas=()))
    assert not recheck(replace(below, premises=()))
