"""Conditions: said only where a quantity that the context leaves open tells where a line holds."""

from __future__ import annotations

from tests.workings import said, verdicts

FOLLOWS, FAILS, IF = "follows", "does not follow", "follows if"


def condition(head: str, typed: str) -> str:
    ((verdict,),) = verdicts(head.strip() + f"\n\nWorking:\n  {typed}\n")
    return verdict.condition


def test_dividing_a_bound_by_what_may_be_negative_asks_for_its_sign() -> None:
    head = "Symbols:\n  a, x : 1\n  b : 1, positive\nGiven:\n  a x > b"
    assert said(head, "x > b/a") == [IF]
    assert condition(head, "x > b/a") == "a > 0"


def test_dividing_by_what_may_vanish_asks_that_it_does_not() -> None:
    head = "Symbols:\n  u, v, w : 1\nGiven:\n  u v = u w"
    assert said(head, "v = w") == [IF]
    assert condition(head, "v = w") == "u ≠ 0"


def test_one_root_of_a_square_asks_for_a_sign() -> None:
    head = "Symbols:\n  x : 1\n  a : 1, positive\nGiven:\n  x² = a²"
    assert said(head, "x = a") == [IF]


def test_a_bound_is_not_its_own_condition() -> None:
    head = """
Symbols:
  m1, m2, g : 1, positive
  a : 1
Given:
  a = (m1 - m2) g/(m1 + m2)
"""
    assert said(head, "a > 0", "m1 > m2") == [FAILS, "carried"]
    assert said(head, "when m1 > m2: a > 0") == [FOLLOWS]


def test_a_line_true_only_of_a_trivial_root_does_not_follow() -> None:
    head = """
Symbols:
  m, M, u : 1, positive
  v, w : 1
Given:
  m (u - v) = M w
  m (u² - v²) = M w²
"""
    assert said(head, "u - v = w") == [FAILS]
    assert said(head, "u + v = w") == [IF]


def test_an_alternative_may_be_taken_up_as_a_case() -> None:
    head = "Symbols:\n  u, v, w : 1, positive\nGiven:\n  (v - u) (v - w) = 0"
    assert said(head, "v = u or v = w", "v = u gives (v - w)/(u - w) = 1") == [FOLLOWS, "taken"]


def test_a_case_that_no_state_allows_is_a_false_claim() -> None:
    head = "Symbols:\n  u, v, w : 1, positive\nGiven:\n  v = 2 u"
    assert said(head, "v = u gives w = 0")[0] == FAILS


HOOP = """
Symbols:
  m, g, R, ω, N : 1, positive
  θ : rad, {range}
Given:
  N sin θ = m ω² R sin θ
"""


def test_a_case_lost_at_an_end_that_belongs_to_a_range_is_seen() -> None:
    closed = HOOP.format(range="0 ≤ θ < π/2")
    assert said(closed, "N = m ω² R") == [IF]
    assert condition(closed, "N = m ω² R") == "θ ≠ 0"
    assert said(HOOP.format(range="0 < θ < π/2"), "N = m ω² R") == [FOLLOWS]


def test_what_may_be_nothing_is_not_cancelled_silently() -> None:
    head = "Symbols:\n  t : 1, nonnegative\n  u, g : 1, positive\nGiven:\n  u t = ½ g t²"
    assert said(head, "t = 2 u/g") == [IF]
    assert condition(head, "t = 2 u/g") == "t ≠ 0"


def test_an_end_excluded_further_up_loses_nothing() -> None:
    closed = HOOP.format(range="0 ≤ θ < π/2")
    assert said(closed, "for θ > 0: N = m ω² R") == [FOLLOWS]
    assert said(closed, "θ ≠ 0", "N = m ω² R") == ["taken", FOLLOWS]
    assert said(closed, "θ > 0, so N = m ω² R") == ["taken"]
    assert said(closed, "sin θ > 0") == [IF]


COLLISION = """
Symbols:
  m, n : kg, positive
  u, v : m/s
  w : m/s{declared}
Given:
  (a)  m (u - v) = n w
  (b)  m (u - v) (u + v) = n w²{given}
"""


def test_what_is_declared_or_given_not_to_vanish_is_no_condition_again() -> None:
    assert said(COLLISION.format(declared="", given=""), "u + v = w") == [IF]
    assert said(COLLISION.format(declared=", w ≠ 0", given=""), "u + v = w") == [FOLLOWS]
    assert said(COLLISION.format(declared="", given="\n  (c)  u ≠ v"), "u + v = w") == [FOLLOWS]


def test_a_condition_that_the_writer_states_is_taken_and_used() -> None:
    head = COLLISION.format(declared="", given="")
    assert said(head, "w ≠ 0", "u + v = w") == ["taken", FOLLOWS]
    assert said(head, "since u ≠ v, u + v = w") == ["taken"]  # the weakest word of a line that takes and follows


def test_a_condition_that_nothing_can_meet_is_no_condition() -> None:
    head = "Symbols:\n  x : 1\nGiven:\n  x² + 1 = 1"
    assert said(head, "x ≠ 0") == [FAILS]


def test_a_condition_is_not_asked_again_of_a_denominator_that_vanishes_with_it() -> None:
    head = "Symbols:\n  m, k, F, Ω, w : 1, positive\n  Y : 1\nGiven:\n  (k - m Ω²) Y = F\n  w² = k/m"
    assert said(head, "Y = F/(k - m Ω²)", "Y = (F/m)/(w² - Ω²)") == [IF, FOLLOWS]


def test_unknowns_of_different_kinds_make_no_condition_together() -> None:
    head = """
Symbols:
  m : kg, positive
  g : m/s², positive
  μ : 1, positive
  r, v : 1, positive
  f : N
Given:
  m = 1800 kg
  g = 9.81 m/s²
  μ = 0.40
  r = 25
  f = m v²/r
  f ≤ μ m g
"""
    assert all(condition(head, f"v² ≤ μ g/r   [try {k}]") != "v < μ" for k in range(6))


def test_an_integrand_is_no_denominator_that_has_been_answered_for() -> None:
    head = "Symbols:\n  v, u, g, t : 1, positive\nGiven:\n  v < u\n  ∫_0^v dv/(1 - v²/u²) = g t"
    assert said(head, "(u/2) ln((u + v)/(u - v)) = g t") == [FOLLOWS]
