"""Workings that begin alike are judged once, and each still reads about itself in its own words."""

from derive.marking.judging import Judging
from derive.marking.scheme import read_scheme
from derive.text.document import read_document
from derive.text.exercise_files import with_exercise
from tests.marking.made import marker, shipped, winch

NEAT = "Working:\n(1) a = R w'\n(2) F = m (a + g)\n(3) P = m (R w' + 2 g) R w\n"
ODD = "# mine\n\nWorking:\n\n(1)   a=R*w'\n\n(2)  F  = m*(a+g)\n(3) P = m*(R*w' + 2*g)*R*w\n"


def judged(judging, text):
    return judging.judged(with_exercise(read_document(text, "w"), winch()))


def test_what_is_shared_between_spellings_is_told_in_each_writers_own_places():
    judging = Judging(read_scheme(winch()))
    one, other = judged(judging, NEAT), judged(judging, ODD)
    assert (one.check.first_break, other.check.first_break) == (4, 8)
    line = other.check.lines[-1]
    verdict = next(v for v in line.verdicts if v.span)
    assert line.line.text[verdict.span.start : verdict.span.end].startswith("P = m*(R*w'")


def test_judging_one_working_does_not_depend_on_those_judged_before_it():
    alone = judged(Judging(read_scheme(winch())), ODD).check
    judging = Judging(read_scheme(winch()))
    judged(judging, NEAT)
    after = judged(judging, ODD).check
    assert [x.verdicts for x in alone.lines] == [x.verdicts for x in after.lines]


def test_two_workings_that_say_the_same_are_the_same_in_shape_and_others_are_not():
    one, other = (marker().text(t, "w").shape for t in (NEAT, ODD))
    assert one == other
    assert marker().text("Working:\na = R w'\n", "w").shape != one


def test_own_names_make_no_difference_to_the_shape_but_declared_ones_do():
    k, q = (marker().text(f"Working:\nlet {n} = R w'\nF = m ({n} + g)\n", "w").shape for n in "kq")
    assert k == q
    assert marker().text("Working:\nF = m g\n", "w").shape != marker().text("Working:\nF = m a\n", "w").shape


def test_a_check_made_for_marking_has_the_verdicts_of_a_check_made_alone():
    from derive.check import check_document

    exercise = shipped("slipway")
    judging = Judging(read_scheme(exercise))
    text = "Working:\nN = m g cos θ\nf = μ N = μ m g cos θ\nm a = m g sin θ + μ m g cos θ\na = g (sin θ + μ cos θ)\n"
    document = with_exercise(read_document(text, "w"), exercise)
    ours = judging.judged(document).check
    alone = check_document(document, proofs=False)
    assert [[v.standing for v in x.verdicts] for x in ours.lines] == [
        [v.standing for v in x.verdicts] for x in alone.lines]


def test_labels_reasons_and_talk_between_change_no_verdict_and_are_shared():
    judging = Judging(read_scheme(winch()))
    judged(judging, "Working:\na = R w'\nF = m (a + g)\n")
    begun = len(judging._begun)
    other = judged(
        judging, "Working:\n1. a = R w'  [from (a)]\n# now put it in\n2. so F = m (a + g)  [from 1 and (b)]\n")
    assert len(judging._begun) == begun
    assert [x.line.label for x in other.check.lines] == ["1", "", "2"]
    assert [x.line.number for x in other.check.lines] == [2, 3, 4]


def test_premises_are_named_as_each_writer_labels_and_cites_them():
    judging = Judging(read_scheme(winch()))
    judged(judging, "Working:\na = R w'\nF = m (a + g)\n")
    line = judged(judging, "Working:\n(i) a = R w'\n(ii) F = m (a + g)   [from (i)]\n").check.lines[-1]
    alone = Judging(read_scheme(winch()))
    told = judged(alone, "Working:\n(i) a = R w'\n(ii) F = m (a + g)   [from (i)]\n").check.lines[-1]
    assert [v.premises for v in line.verdicts] == [v.premises for v in told.verdicts] == [("(i)",)]


def test_what_a_slip_should_read_is_quoted_from_each_writers_own_line():
    judging = Judging(read_scheme(winch()))
    judged(judging, "Working:\nF = 2 m (R w' + g)\n")
    other = judged(judging, "Working:\n(1)    F   =   2 * m*(R*w' + g)\n")
    said = [text for hint in other.slip.told("edit") for name, text in hint.facts if name == "before"]
    assert said == ["2 * m*(R*w' + g)"]
