"""An exercise looked over before it goes out: each fault is found where it stands, and right ones have none."""

from itertools import takewhile

import pytest

from derive.marking.vet import subject_of, vetted
from derive.marking.vet_report import say_vetting
from derive.marking.vet_slips import slips_tried
from derive.text.document import read_document
from tests.marking.made import WINCH, shipped, winch
from tests.marking.test_sheet import NAMES
from tests.sampling import some


def faults(text):
    found = vetted(subject_of(read_document(text, "winch.txt")))
    return [(f.line, f.said) for f in found if f.weight == "fault"]


def tried_up_to(line, text):
    """The slips in the lines of the solution up to one: those after it are not made."""
    return list(takewhile(lambda t: t.line <= line, slips_tried(subject_of(read_document(text, "w")))))


def test_a_whole_exercise_has_nothing_to_mend():
    assert faults(WINCH) == []


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("  g    : m/s^2, positive\n", "", "“g” is used here and not declared"),
        ("  R    : m, positive", "  R    : positive", "has no unit"),
        ("(d)  P = F v", "(d)  P = F v²", "dimensions do not fit"),
        ("(d)  P = F v", "(d)  P = = F", "could not be read"),
        ("(d)  P = F v", "(d)  P = F v\n  (e)  P = m (R w' + g) R w", "already say it"),
        ("(d)  P = F v", "(d)  P = F v\n  (e)  v = R if F > P/v", "not understood as a given"),
        ("(c)  m a = F - m g", "(c)  m a = F - m g\n  (e)  F = -F - m g\n  (f) F = 2 m g", "contradict"),
        ("(2)  F = m (a + g)             [", "(2)  F = m (a - g)             [", "does not follow"),
        ("  (4)  P = m (R w' + g) R w      [from (d)]\n", "", "arrives at"),
        ("(p3)  A1   F = m (R w' + g)", "(p3)  A1   F = m (R w' - g)", "Point p3 is not met"),
        ("(p3)  A1   F = m (R w' + g)", "(p3)  A1   P = F R w", "Point p3 is not met"),
        ("-- needs p1", "-- needs p9", "p9"),
        ("-- needs p1", "-- needs p3", "needs itself"),
        ("(p1)  M1   a = R w'\n", "(p1)  M1   a = R w'   -- needs p3\n", "p3"),
        ("(p2)  B1   F = m (a + g)", "(p2)  Z1   F = m (a + g)", "the kind of mark"),
        ("(p1)  M1   a = R w'", "(p1)  M1   a = R q'", "“q” is used here and not declared"),
        ("(p4)  A2   P = m (R w' + g) R w", "(p4)  A2   P = m (R w' + g) R", "dimensions do not fit"),
        ("(p2)  B1   F = m (a + g)   or", "(p2)  B1   F = = a   or", "could not be read"),
        ("-- needs p1", "-- needs p4", "Put (p4) first"),
        ("The skip's speed", "[8 marks] The skip's speed", "speaks of 8 marks"),
        ("Show:\n  P = m (R w' + g) R w\n", "", "nothing under “Show:”"),
    ],
)  # fmt: skip
def test_a_fault_is_found(was, now, says):
    assert was in WINCH
    assert [said for _, said in faults(WINCH.replace(was, now)) if says in said]


def test_a_fault_says_the_line_of_the_file_it_stands_in():
    text = WINCH.replace("(p3)  A1   F = m (R w' + g)", "(p3)  A1   F = m (R w' - g)")
    number = next(k for k, row in enumerate(text.splitlines(), 1) if "(p3)" in row)
    assert number in [line for line, _ in faults(text)]


def test_givens_at_odds_are_named_and_nothing_is_said_of_what_hangs_on_them():
    text = WINCH.replace("(d)  P = F v", "(d)  P = F v\n  (e)  F = m a")
    assert [said for _, said in faults(text)] == [
        "The givens contradict each other: no state satisfies (c) and (e) together, so nothing can be said to follow "
        "from them."]


def test_a_point_that_needs_a_later_one_is_said_once():
    text = WINCH.replace("-- needs p1", "-- needs p4")
    assert len([said for _, said in faults(text) if "p4" in said]) == 1


def test_points_that_nobody_has_apart_are_noticed():
    text = WINCH.replace("(p3)  A1   F = m (R w' + g)", "(p3)  A1   a = w' R")
    found = [f.said for f in vetted(subject_of(read_document(text, "w"))) if f.weight == "notice"]
    assert [s for s in found if "p1 and p3 say the same" in s]


def test_what_an_integral_runs_over_needs_no_declaration():
    assert faults(WINCH.replace("(d)  P = F v", "(d)  P = F v\n  (e)  F = ∫_0^m (a + g) dμ")) == []


def test_a_slip_in_a_line_that_no_point_asks_for_costs_the_point_that_it_leads_to():
    text = WINCH.replace("  (p2)  B1   F = m (a + g)   or   F - m a = m g\n", "")
    tried = tried_up_to("(2)", text)
    assert {t.costs.points for t in tried if t.line == "(2)"} == {("p3",)}
    assert all(t.costs.further for t in tried if t.line == "(2)")


def test_a_slip_costs_also_what_needs_the_point_and_is_not_followed_through():
    text = WINCH.replace("(R w' + g)   ft        -- needs p1", "(R w' + g)             -- needs p1")
    assert {t.costs.points for t in tried_up_to("(1)", text)} == {("p1", "p3")}


def test_slips_on_purpose_are_found_in_every_line_and_cost_the_points_first_met_there():
    subject = subject_of(winch())
    tried = list(slips_tried(subject))
    assert {t.line for t in tried} == {"(1)", "(2)", "(3)", "(4)"}
    assert [t for t in tried if t.outcome == "through"] == []
    assert {t.line: t.costs.points for t in tried} == {"(1)": ("p1",), "(2)": ("p2",), "(3)": ("p3",), "(4)": ("p4",)}
    said = []
    say_vetting(subject, vetted(subject), tried, said.append)
    assert "Nothing to mend." in said
    assert [s for s in said if "(2)" in s and "costs p2" in s]


def test_a_slip_that_the_context_cannot_contradict_gets_through_and_is_listed():
    text = WINCH.replace("  (a)  v = R w\n", "").replace("[from (a) and (b)]", "").replace("[from (d)]", "")
    assert [t for t in tried_up_to("(1)", text) if t.outcome != "found"]


# Every sixth exercise by default; THENCE_ALL=1 takes them all.
@pytest.mark.parametrize("name", some(NAMES, 6, 3))
def test_every_shipped_exercise_has_nothing_to_mend(name):
    assert [f for f in vetted(subject_of(shipped(name))) if f.weight == "fault"] == []


FLARE = """\
Exercise: A flare goes up

A flare is fired straight up with speed u. Find how high it goes.

Symbols:
  u : m/s, positive, about 30
  g : m/s^2, positive, about 9.81
  t : s, t ≥ 0
  y(t) : m
  H : m, positive, about 45

Given:
  (a)  y'' = -g
  (b)  y(0) = 0, y'(0) = u
  (c)  y = H when y' = 0

Show:
  H = u²/(2 g)

Solution:
  (1)  y' = u - g t
  (2)  at the top: y' = 0, so t = u/g
  (3)  y = u t - ½ g t²
  (4)  at t = u/g: y = u²/g - u²/(2 g)
  (5)  H = u²/(2 g)

Marks:
  (p1)  M1   y' = u - g t
  (p2)  A1   H = u²/(2 g)   ft
"""


def test_a_condition_is_chosen_and_no_slip_is_made_in_it_but_in_what_is_said_under_one():
    tried = list(slips_tried(subject_of(read_document(FLARE, "w"))))
    assert {t.line for t in tried} == {"(1)", "(2)", "(3)", "(4)", "(5)"}
    assert {t.outcome for t in tried} == {"found"}
    assert not [t for t in tried if t.line == "(2)" and "y'" in t.written]


def test_what_comes_of_several_givens_is_not_called_one_of_them():
    assert vetted(subject_of(read_document(FLARE, "w"))) == ()
