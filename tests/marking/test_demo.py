"""A made-up class is marked as it deserves: every row that nobody has to look at has its true marks."""

import random

import pytest

from derive.marking.working import Marker
from tests.marking.demo import demo_class
from tests.marking.demo_hands import in_another_hand
from tests.marking.demo_slips import can_slip, with_slip
from tests.marking.made import shipped
from tests.marking.test_sheet import NAMES
from tests.sampling import WHOLE

# The shortest exercises by default; THENCE_ALL=1 takes all of them and larger classes, the bench one of 300.
EXERCISES, SIZE = (NAMES, 40) if WHOLE else (("capstan", "drone", "lantern"), 12)


@pytest.mark.parametrize("name", EXERCISES)
def test_marks_are_the_true_ones_on_every_row_that_is_not_flagged(name):
    marker = Marker(shipped(name))
    most = [p.row.marks for p in marker.scheme.points]
    flagged = 0
    for w in demo_class(name, most, SIZE, seed=5, unreadable=0.1):
        result = marker.text(w.text, w.name)
        if result.flagged:
            flagged += w.marks is not None
        else:
            assert (w.name, w.text, w.marks) == (w.name, w.text, tuple(p.marks for p in result.points))
    assert flagged <= 0.03 * SIZE


def test_a_class_is_the_same_for_the_same_seed_and_another_for_another():
    assert demo_class("buoy", [2, 1, 1, 2, 2], 30, 1) == demo_class("buoy", [2, 1, 1, 2, 2], 30, 1)
    assert demo_class("buoy", [2, 1, 1, 2, 2], 30, 1) != demo_class("buoy", [2, 1, 1, 2, 2], 30, 2)


def test_a_class_has_right_ones_slips_ascii_greek_and_a_few_unreadable():
    made = demo_class("buoy", [2, 1, 1, 2, 2], 300, 3)
    assert len({w.text for w in made}) > 200
    assert 100 < sum(w.marks == (2, 1, 1, 2, 2) for w in made) < 260
    assert sum(w.marks is None for w in made) == 4
    assert any("ρ" in w.text for w in made)
    assert any("rho" in w.text and "ω" not in w.text for w in made)


def test_slips_are_put_into_every_part_of_a_side():
    rng = random.Random(1)
    row = "(4)  a = g sin θ - μ g cos θ     [divide by m]"
    made = {with_slip(row, rng) for _ in range(60)}
    assert can_slip(row)
    assert row not in made
    assert all(m.startswith("(4)  a = ") and m.endswith("[divide by m]") for m in made)
    sides = {m.split("=")[1].split("[")[0].strip() for m in made}
    assert {"g sin θ + μ g cos θ", "g sin θ", "-(g sin θ - μ g cos θ)"} <= sides


def test_nothing_is_no_side_to_slip_in():
    assert can_slip("N - m g = W")
    assert not can_slip("N - m g = 0")


def test_another_hand_turns_sides_about_puts_signs_between_factors_and_talks():
    lines = ["(1)  N = m g cos θ     [from (b)]", "(2)  so f = μ m g cos θ"]
    made = "".join(in_another_hand(lines, random.Random(k)) for k in range(80))
    for piece in ("m g cos θ = N", "m*g*cos θ", "Now put this in.", "mu m g cos theta", "\r\n", "\tN"):
        assert piece in made


def test_lines_that_are_cited_keep_their_labels():
    lines = ["(1)  u = v", "(2)  w = v", "(3)  (2)/(1): w/u = 1"]
    for k in range(20):
        made = in_another_hand(lines, random.Random(k)).split()
        assert {"(1)", "(2)"} <= set(made)


def test_a_differential_stays_one_in_ascii():
    made = "".join(in_another_hand(["dF/F = μ dφ"], random.Random(k)) for k in range(10))
    assert "mu dphi" in made
    assert "d phi" not in made
