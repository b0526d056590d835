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
