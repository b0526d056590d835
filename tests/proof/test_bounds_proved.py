"""Inequalities proved: several known ones added up, ranges as they are declared, divisors of known sign."""

from __future__ import annotations

import pytest

from derive.proof.certificate import recheck
from tests.workings import verdicts

ORDERED = """
Symbols:
  a, b, c, d : 1, positive
Given:
  a < b
  b < c
  c < d
"""

SLIPWAY = """
Symbols:
  θ : rad, 0 < θ < π/2
  μ, m, g : 1, positive
  f, N : 1
Given:
  f = m g sin θ
  N = m g cos θ
  f ≤ μ N
"""

HOIST = """
Symbols:
  m1, m2, g : 1, positive
  a, T : 1
Given:
  m1 a = m1 g - T
  m2 a = T - m2 g
"""


@pytest.mark.parametrize(("head", "line"), [
    (ORDERED, "a < c"), (ORDERED, "a < d"), (ORDERED, "a + b < c + d"), (ORDERED, "1/a > 1/b"), (ORDERED, "a - d < 0"),
    (SLIPWAY, "m g sin θ ≤ μ m g cos θ"), (SLIPWAY, "sin θ ≤ μ cos θ"), (SLIPWAY, "sin θ > 0"), (SLIPWAY, "tan θ > 0"),
    (HOIST, "a < g"), (HOIST, "a > -g"),
])
def test_a_bound_that_follows_is_proved(head: str, line: str) -> None:
    ((verdict,),) = verdicts(f"{head}Working:\n  {line}\n")

    assert (verdict.standing.value, verdict.support) == ("follows", "proved")
    assert all(map(recheck, verdict.certificate))  # type: ignore[arg-type]


@pytest.mark.parametrize(("head", "line"), [
    (ORDERED, "a + d < b + c"), (ORDERED, "a c < b²"), (SLIPWAY, "sin θ ≤ ½ μ cos θ"), (HOIST, "a < g/2"),
])
def test_one_that_does_not_is_not(head: str, line: str) -> None:
    ((verdict,),) = verdicts(f"{head}Working:\n  {line}\n")

    assert verdict.standing.value != "follows"
    assert verdict.certificate is None
