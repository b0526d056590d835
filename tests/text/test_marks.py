"""Mark schemes: what a row says, and what is wrong with one."""

import pytest

from derive.text.marks import MOST_POINTS, read_marks
from derive.text.rows import Row


def scheme(*rows: str):
    return read_marks([Row(number, text) for number, text in enumerate(rows, start=1)])


def claims(point) -> list[str]:
    return [claim.text[claim.body.start:claim.body.end] for claim in point.claims]


def test_the_scheme_of_the_manual_is_read():
    found = scheme(
        "  (p1)  M2   m y'' = -ρ g S y                 -- Newton's second law used",
        "  (p2)  A1   y'' = -(ρ g S/m) y               -- needs p1",
        "  (p3)  B1   ω² = ρ g S/m",
        "  (p4)  A2   T = 2π √(m/(ρ g S))   ft         -- needs p3",
    )

    assert found.problems == ()
    assert [(p.label, p.kind, p.marks, p.follow_through, p.needs, p.line) for p in found.points] == [
        ("p1", "M", 2, False, (), 1), ("p2", "A", 1, False, ("p1",), 2), ("p3", "B", 1, False, (), 3),
        ("p4", "A", 2, True, ("p3",), 4),
    ]
    assert [claims(p) for p in found.points] == [
        ["m y'' = -ρ g S y"], ["y'' = -(ρ g S/m) y"], ["ω² = ρ g S/m"], ["T = 2π √(m/(ρ g S))"],
    ]


@pytest.mark.parametrize(("row", "expected"), [
    ("(1) M1 F = m a", ["F = m a"]),
    ("p1. M1 F = m a", ["F = m a"]),
    ("p1: M1 F = m a", ["F = m a"]),
    ("(p1) M 1 F = m a", ["F = m a"]),
    ("(p1) M1 F = m a or a = F/m", ["F = m a", "a = F/m"]),
    ("(p1) M1 F = m a  or  a = F/m  or  m = F/a", ["F = m a", "a = F/m", "m = F/a"]),
    ("(p1) M1 F_or = m a", ["F_or = m a"]),
    ("(p1) M1 F = (a or b)", ["F = (a or b)"]),
    ("(p1) M1 F = m a # by Newton", ["F = m a"]),
    ("(p1) M1 F = m a — by Newton", ["F = m a"]),
    ("(p1)\tM1\tF = m a - b", ["F = m a - b"]),
])
def test_the_claims_of_a_point_are_what_stands_between_its_marks_and_its_note(row, expected):
    found = scheme(row)

    assert found.problems == ()
    assert claims(found.points[0]) == expected


@pytest.mark.parametrize("row", [
    "(p1) A1 F = m a ft", "(p1) A1ft F = m a", "(p1) A1 ft F = m a", "(p1) A1 F = m a  (ft)", "(p1) A1 F = m a FT",
    "(p1) A1 F = m a or a = F/m   ft  -- note",
])
def test_follow_through_is_seen_wherever_it_is_put(row):
    assert scheme(row).points[0].follow_through


def test_letters_that_only_end_in_ft_are_no_follow_through():
    point = scheme("(p1) A1 F = m lift").points[0]

    assert not point.follow_through
    assert claims(point) == ["F = m lift"]


def test_alternatives_may_stand_on_rows_of_their_own():
    point, = scheme("(p1) A1 F = m a", "   or a = F/m  ft").points

    assert claims(point) == ["F = m a", "a = F/m"]
    assert [claim.number for claim in point.claims] == [1, 2]
    assert point.follow_through


@pytest.mark.parametrize("note", ["needs p1, p2", "needs p1 and p2", "Newton; needs p1 and p2.", "Needs (p1), (p2)"])
def test_a_note_names_the_points_that_have_to_be_met_first(note):
    found = scheme("(p1) M1 a = b", "(p2) M1 b = c", f"(p3) A1 a = c -- {note}")

    assert found.points[2].needs == ("p1", "p2")
    assert found.problems == ()


@pytest.mark.parametrize(("rows", "code", "line"), [
    (["F = m a"], "marks.no_label", 1),
    (["(p1) F = m a"], "marks.no_kind", 1),
    (["(p1) C2 F = m a"], "marks.no_kind", 1),
    (["(p1) M0 F = m a"], "marks.count", 1),
    (["(p1) M999 F = m a"], "marks.count", 1),
    (["(p1) M1"], "marks.no_claim", 1),
    (["(p1) M1  -- only a note"], "marks.no_claim", 1),
    (["(p1) M1 a = b", "or"], "marks.no_claim", 2),
    (["(p1) M1 a = b", "(p1) M1 b = c"], "marks.twice", 2),
    (["(p1) M1 a = b -- needs p1"], "marks.needs_itself", 1),
    (["(p1) M1 a = b -- needs p7"], "marks.needs_unknown", 1),
    (["(p1) M1 a = b -- needs p2", "(p2) M1 b = c"], "marks.needs_later", 1),
])
def test_a_fault_in_a_scheme_is_located_and_says_what_to_type(rows, code, line):
    found = scheme(*rows)

    assert [(p.code, p.line) for p in found.problems] == [(code, line)]
    assert len(found.problems[0].message.split()) > 5


def test_one_bad_row_does_not_take_the_others_with_it():
    found = scheme("(p1) M1 a = b", "nonsense", "# a remark", "(p3) A1 c = d")

    assert [p.label for p in found.points] == ["p1", "p3"]
    assert [p.line for p in found.problems] == [2]


def test_points_beyond_the_limit_are_reported_and_not_silently_dropped():
    found = scheme(*(f"(p{n}) M1 a = {n}" for n in range(MOST_POINTS + 2)))

    assert len(found.points) == MOST_POINTS
    assert [(p.code, p.line) for p in found.problems] == [("marks.too_many", MOST_POINTS + 1)]


def test_ft_may_stand_before_an_or_and_is_no_part_of_the_claim():
    (point,) = scheme("(p4)  M1   x = a t   ft   or   v = a").points
    assert point.follow_through
    assert claims(point) == ["x = a t", "v = a"]
