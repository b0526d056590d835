"""What a marker decides: read from one plain file, with reasons, for groups and for single workings."""

from derive.marking.decisions import HEAD, applied, checked, read_decisions
from tests.marking.made import marked

SLIPPED = ("a = R w'", "F = m (a - g)")
MOST = {"p1": 1, "p2": 1, "p3": 1, "p4": 2}


def decided(text, group="abc123"):
    decisions = checked(read_decisions(text), ["w", "odd: name"], ["abc123"], MOST)
    return applied(marked(*SLIPPED), group, decisions.made), decisions.problems


def test_the_head_of_a_new_file_decides_nothing_and_is_no_problem():
    assert read_decisions(HEAD).made == ()
    assert read_decisions(HEAD).problems == ()


def test_the_examples_in_the_head_are_decisions_once_their_sign_is_taken_away():
    rows = [row.lstrip("#").strip() for row in HEAD.splitlines() if row.startswith("#   ")]
    found = read_decisions("\n".join(rows))
    assert len(found.made) == len(rows) == 4
    assert found.problems == ()
    assert found.made[3].name == "s014: late"


def test_a_decision_about_a_working_sets_a_points_marks_and_keeps_the_reason():
    result, problems = decided("working w: p2 = 1 -- the sign is clear from the sketch\n")
    assert problems == ()
    assert [p.marks for p in result.points] == [1, 1, 0, 0]
    assert "the sign is clear from the sketch" in result.points[1].why
    assert result.notes == ("p2 = 1: the sign is clear from the sketch.",)


def test_a_decision_about_a_group_holds_for_its_members_only():
    text = "slip abc123: p2 = 1 -- a common one\n"
    assert decided(text)[0].total == 2
    assert decided(text, group="other")[0].total == 1


def test_a_decision_about_the_working_goes_before_that_about_its_group():
    result, _ = decided("working w: p2 = 0 -- not here\nslip abc123: p2 = 1 -- a common one\n")
    assert result.points[1].marks == 0


def test_a_comment_is_added_for_all_members():
    result, _ = decided("slip abc123: say Mind the sign of g. -- same words for all\n")
    assert result.comments == ("Mind the sign of g.",)


def test_what_cannot_be_applied_is_said_with_its_line():
    text = "slip abc123: p2 = 1\nnonsense\nworking nobody: p1 = 1 -- x\n"
    text += "working w: p9 = 1 -- x\nworking w: p1 = 7 -- x\n"
    result, problems = decided(text)
    assert [p.line for p in problems] == [1, 2, 3, 4, 5]
    assert "reason" in problems[0].message
    assert result.total == 1


def test_deciding_every_open_point_settles_the_second_look():
    unread = marked("a = R w'", "F = = m (")
    decisions = read_decisions("".join(f"working w: p{k} = 0 -- looked\n" for k in (2, 3, 4)))
    assert unread.looks
    assert applied(unread, "", decisions.made).looks == ()
    assert applied(unread, "", decisions.made[:1]).looks


def test_a_dash_that_an_editor_made_of_two_and_capitals_are_no_obstacle():
    for dash in ("--", "—", "–"):
        result, problems = decided(f"Working w: p2 = 1 {dash} clear\nSLIP abc123: say Mind g – it counts. -- all\n")
        assert problems == ()
        assert result.total == 2
        assert result.comments == ("Mind g – it counts.",)


def test_for_a_name_that_nobody_has_the_nearest_is_named():
    _, problems = decided("working odd name: p1 = 0 -- x\nslip abc132: p1 = 0 -- x\nworking w: P1 = 0 -- x\n")
    assert ["Was “odd: name” meant?" in problems[0].message, "Was “abc123” meant?" in problems[1].message,
            "Was “p1” meant?" in problems[2].message] == [True] * 3


def test_marks_that_are_no_whole_number_are_refused_with_the_form_to_write():
    for line in ("working w: p1 = 0.5 -- x", "working w: p1 = -1 -- x", "w: p1 = 1 -- x"):
        _, (found,) = decided(line + "\n")
        assert "working NAME: p2 = 1 -- reason" in found.message
