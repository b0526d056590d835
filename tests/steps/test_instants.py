"""Values at two instants are those of one motion, although no line has integrated its equation."""

from __future__ import annotations

import pytest

from tests.workings import said

FOLLOWS, FAILS = "follows", "does not follow"

RISING = """
Symbols:
  v(t) : m/s
  g : m/s², positive
  w, v0 : m/s, positive
  t1 : s, positive
Given:
  v' = -g (1 + v²/w²)
  v(0) = v0
  v(t1) = 0
"""

SLOWING = """
Symbols:
  v(t) : m/s
  x(t) : m
  m : kg, positive
  c : kg/s, positive
  v0 : m/s, positive
  t1 : s, positive
  d : m, positive
Given:
  m v' = -c v
  x' = v
  v(0) = v0, x(0) = 0
  v(t1) = v0/2
  x(t1) = d
"""

PUSHED = """
Symbols:
  v(t) : m/s
  m : kg, positive
  F0 : N, positive
  τ : s, positive
  u : m/s
Given:
  m v' = F0 sin(π t/τ)
  v(0) = 0
  v(τ) = u
"""


@pytest.mark.parametrize(("head", "right", "wrong"), [
    (RISING, "t1 = (w/g) arctan(v0/w)", "t1 = (v0/g) arctan(v0/w)"),
    (RISING, "t1 < v0/g", "t1 > v0/g"),
    (SLOWING, "t1 = (m/c) ln 2", "t1 = 2 (m/c) ln 2"),
    (SLOWING, "d = m v0/(2 c)", "d = m v0/c"),
    (PUSHED, "u = 2 F0 τ/(π m)", "u = F0 τ/(π m)"),
])
def test_a_jump_over_the_integration_is_decided_by_the_motion(head: str, right: str, wrong: str) -> None:
    assert said(head, right) == [FOLLOWS]
    assert said(head, wrong) == [FAILS]


SHEDDING = """
Symbols:
  M(t) : kg, positive
  v(t) : m/s
  u : m/s, positive
  M0, M1 : kg, positive
  t1 : s, positive
  w : m/s
Given:
  M v' = -u M'
  v(0) = 0
  M(0) = M0
  v(t1) = w
  M(t1) = M1
"""


def test_two_quantities_that_change_by_each_other_are_tied_whatever_the_pace() -> None:
    assert said(SHEDDING, "w = u ln(M0/M1)") == [FOLLOWS]
    assert said(SHEDDING, "w = u ln(M1/M0)") == [FAILS]
