"""When a working arrives at what was to be shown."""

from __future__ import annotations

from derive.check import check_text


def reached(head: str, show: str, *typed: str) -> list[str]:
    """The codes of the goal's verdicts."""
    text = head.strip("\n") + f"\n\nShow:\n  {show}\n\nWorking:\n" + "".join(f"  {t}\n" for t in typed)
    return [v.code for x in check_text(text).goal for v in x.verdicts]


SLOPE = """
Symbols:
  m, g : 1, positive
  θ : rad, 0 < θ < π/2
  a, N : 1
Given:
  m a = m g sin θ
"""


def test_a_line_that_gives_the_quantity_reaches_the_goal() -> None:
    assert reached(SLOPE, "a = g sin θ", "m a = m g sin θ", "a = g sin θ") == ["goal.reached"]
    assert reached(SLOPE, "a = g sin θ", "g sin θ = a") == ["goal.reached"]


def test_a_line_from_which_it_could_be_worked_out_does_not() -> None:
    assert reached(SLOPE, "a = g sin θ", "m a = m g sin θ") == ["goal.not_reached"]


def test_names_of_the_writers_own_are_seen_through() -> None:
    lines = ("let s = sin θ", "a = g s")
    assert reached(SLOPE, "a = g sin θ", *lines) == ["goal.reached"]


def test_what_an_earlier_line_found_a_name_to_be_is_in_hand() -> None:
    head = """
Symbols:
  x, b, v, w, k, m, τ : 1, positive
Given:
  k b² = m v²
  x = b τ
"""
    assert reached(head, "x = v √(m/k) τ", "b = v √(m/k)", "x = b τ") == ["goal.reached"]


def test_a_chain_of_rounded_numbers_reaches_its_last_one() -> None:
    head = """
Symbols:
  d, a, τ : 1, positive
Given:
  a = 1.5/90
  τ = 90
  d = ½ a τ²
"""
    assert reached(head, "d = 67.5", "a = 0.01667", "d = 0.5*0.01667*90^2 = 67.5") == ["goal.reached"]


def test_a_broken_statement_reaches_nothing_but_its_neighbour_may() -> None:
    assert reached(SLOPE, "a = g sin θ", "a = g cos θ") == ["goal.not_reached"]
    assert reached(SLOPE, "a = g sin θ", "m a = m g cos θ, a = g sin θ") == ["goal.reached"]


SPRING = "Symbols:\n  x(t) : m\n  m, k : positive\n  E(t) : J\nGiven:\n  m x'' = -k x\n  E = ½ m x'² + ½ k x²\n"


def test_a_chain_over_several_lines_reaches_the_goal_by_its_two_ends() -> None:
    chain = ("dE/dt = m x' x'' + k x x'", "= x' (m x'' + k x)", "= 0")
    assert reached(SPRING, "dE/dt = 0", *chain) == ["goal.reached"]
    assert reached(SPRING, "dE/dt = 0", *chain[:2]) == ["goal.not_reached"]
    assert reached(SPRING, "dE/dt = 0", "dE/dt = m x' x'' + k x x'", "= x' (m x'' - k x)", "= 0") == [
        "goal.not_reached"]


def test_what_is_to_stay_is_reached_by_what_is_said_to_stay_whatever_the_constant_is() -> None:
    head = "Symbols:\n  r(t) : m, positive\n  θ(t) : rad\nGiven:\n  r θ'' + 2 r' θ' = 0\n"
    assert reached(head, "r² θ' = const", "r² θ' = const") == ["goal.reached"]
    assert reached(head, "r² θ' = const", "½ r² θ' = const") == ["goal.reached"]
    assert reached(head, "r² θ' = const", "d/dt(r² θ') = 0") == ["goal.reached"]
    assert reached(head, "r² θ' = const", "θ'' = -2 r' θ'/r") == ["goal.not_reached"]
    assert reached(head, "r θ' = const", "r² θ' = const") == ["fails.goal_not_reached"]


def test_a_vector_that_stays_may_be_the_goal() -> None:
    head = "Symbols:\n  r(t), v(t), L(t) : vector\n  m : positive\nGiven:\n  L = m r × v\n  v = dr/dt\n  dv/dt = -r\n"
    assert reached(head, "L = const", "dL/dt = m r × dv/dt = 0", "L = const") == ["goal.reached"]
