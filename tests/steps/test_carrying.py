"""After a break: one slip is one break, and a second slip is a second one."""

from __future__ import annotations

import pytest

from derive.check import check_text
from tests.workings import said

FAILS, CARRIED, FOLLOWS = "does not follow", "carried", "follows"

SLIPWAY = """\
Symbols:
  m, g, μ : 1, positive
  θ : rad, 0 < θ < π/2
  N, f, a : 1

Given:
  (a)  m a = m g sin θ - f
  (b)  f = μ N
  (c)  N = m g cos θ
"""

FALL = """\
Symbols:
  m, g, h, v : 1, positive

Given:
  m g h = ½ m v²
"""

SPRING = """\
Symbols:
  m : kg, positive
  k : N/m, positive
  y(t) : m
  Y : m, positive
  ω : rad/s, positive
  T : s, positive

Given:
  (a)  m y'' = -k y
  (b)  T = 2π/ω
"""

THROW = """\
Symbols:
  v_0 : m/s, positive
  g : m/s², positive
  α : rad, 0 < α < π/2
  R(α) : m

Given:
  R = 2 v_0² sin α cos α/g
"""

HALF_RING = """\
Symbols:
  R, M : 1, positive
  y_c : 1
  φ : rad

Given:
  M y_c = (M/π) R ∫_0^π sin φ dφ
"""


@pytest.mark.parametrize(("head", "typed"), [
    pytest.param(SLIPWAY, ("a = g sin θ + μ g cos θ", "a = g (sin θ + μ cos θ)"), id="rearranged"),
    pytest.param(SLIPWAY, ("f = μ m g sin θ", "m a = m g sin θ - μ m g sin θ", "a = g sin θ (1 - μ)"),
                 id="put into what was given"),
    pytest.param(FALL, ("v² = g h", "v = √(g h)", "h = v²/g"), id="solved both ways"),
    pytest.param(SPRING, ("try y = Y cos ωt", "y'' = -ω Y cos ωt", "so -m ω y = -k y", "ω = k/m"),
                 id="of the wrong dimension"),
    pytest.param(SPRING, ("try y = Y cos ωt", "-m ω² Y cos ωt = k Y cos ωt", "so -ω² - k/m = 0"),
                 id="that no state can satisfy by its signs"),
    pytest.param(THROW, ("R = 2 v_0² sin 2α/g", "dR/dα = 4 v_0² cos 2α/g"), id="differentiated"),
    pytest.param(HALF_RING, ("∫_0^π sin φ dφ = -2", "y_c = -2R/π"), id="a wrong number for an integral"),
    pytest.param(FALL, ("v² ≥ 3 g h", "v ≥ √(3 g h)"), id="an inequality"),
])
def test_lines_that_follow_from_a_slip_are_carried(head: str, typed: tuple[str, ...]) -> None:
    found = said(head, *typed)

    broken = found.index(FAILS)
    assert found.count(FAILS) == 1
    assert set(found[broken + 1:]) == {CARRIED}, found


def test_a_line_that_holds_anyway_follows_after_a_break() -> None:
    assert said(SLIPWAY, "a = g sin θ + μ g cos θ", "f = μ m g cos θ") == [FAILS, FOLLOWS]


@pytest.mark.parametrize(("head", "typed"), [
    pytest.param(SLIPWAY, ("a = g sin θ + μ g cos θ", "a = g (sin θ + 2 μ cos θ)"), id="rearranged wrongly"),
    pytest.param(FALL, ("v² = g h", "v = g h"), id="a root forgotten"),
    pytest.param(FALL, ("v² = g h", "h = g/v²"), id="upside down"),
    pytest.param(SPRING, ("try y = Y cos ωt", "y'' = -ω Y cos ωt", "so -m ω y = -k y", "ω = m/k"), id="solved wrongly"),
    pytest.param(THROW, ("R = 2 v_0² sin 2α/g", "dR/dα = 2 v_0² sin 2α/g"), id="differentiated wrongly"),
    pytest.param(HALF_RING, ("∫_0^π sin φ dφ = -2", "y_c = 2R/(3π)"), id="another number put in"),
    pytest.param(FALL, ("v² ≥ 3 g h", "v ≥ 3 √(g h)"), id="an inequality made stronger"),
])
def test_a_second_slip_is_a_break_of_its_own(head: str, typed: tuple[str, ...]) -> None:
    found = said(head, *typed)

    assert found.count(FAILS) == 2, found
    assert found[-1] == FAILS


def test_a_line_carried_says_from_which() -> None:
    check = check_text(f"{FALL}\nWorking:\n  (1)  v² = g h\n  (2)  v = √(g h)\n")
    broken, carried = check.lines[0], check.lines[1]

    assert carried.verdicts[0].carried_from == broken.line.number
    assert check.first_break == broken.line.number


def test_nothing_is_carried_by_making_a_quantity_one() -> None:
    """`a = g sin θ - f` fits `m a = m g sin θ - f` where m is 1: no ground for `m = 1`, nor for m² = m."""
    found = said(SLIPWAY, "a = g sin θ - f", "m a = m g sin θ - m² f")

    assert found == [FAILS, FAILS]


def test_a_broken_line_makes_no_page_on_which_everything_follows() -> None:
    found = said(FALL, "g h = -v²", "v = 17 h")

    assert found == [FAILS, FAILS]


def test_broken_lines_are_used_together() -> None:
    found = said(SLIPWAY, "f = 2 μ N", "N = m g sin θ", "f = 2 μ m g sin θ")

    assert found == [FAILS, FAILS, CARRIED]




def test_the_wrong_end_of_a_chain_is_what_the_chain_began_with() -> None:
    head = "Symbols:\n  m, g, h, s, F : 1, positive\n  v : 1, nonnegative\nGiven:\n  ½ m v² = m g h - F s"
    chain = ("v² = 2 (m g h - F s)/m", "= 2 g h - 2 F s/m", "= 2 (g h + F s/m)")
    assert said(head, *chain, "v = √(2 g h + 2 F s/m)") == [FOLLOWS, FOLLOWS, FAILS, CARRIED]
    assert said(head, *chain, "v = √(2 g h + 3 F s/m)")[-1] == FAILS
