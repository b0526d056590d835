"""What a student's check says of the shipped workings holds nothing of the reference: no line, no mark, no answer."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from functools import cache

import pytest
from rich.console import Console

from derive.check import check_document
from derive.notation.printed.printing import as_text
from derive.opening import opened
from derive.records import Check, Document, MarkPoint, RawLine, Reading, Standing, State
from derive.report.discretion import HelpGrade, told
from derive.report.structured import as_json
from derive.report.teaching import taught
from derive.report.terminal import render
from derive.text.document import read_document
from derive.text.exercise_files import with_exercise
from tests.exercises.table import Expected, exercise_document, expected, working_document
from tests.sampling import some

# A shorter piece (`F = 0`) may stand anywhere by chance.
TELLING = 7
ROWS = expected()
# Only a break is explained, so the workings with one are looked at, and the first of the others: every fifth of them by
# default, all with THENCE_ALL=1.
LOOKED_AT = some([row for row in ROWS if row.broken_at or row.working == "neat"], 5)


def plain(text: str) -> str:
    """Text without what two people would type differently: spaces, dots of products, brackets."""
    return re.sub(r"[\s·*()\[\]{}⋅]", "", text).casefold()


@cache
def checked(row: Expected) -> Check:
    return check_document(working_document(row), proofs=False)


@cache
def said(row: Expected, grade: HelpGrade = "kind") -> str:
    """All that comes out at a grade (a student's by default), on the screen and as data."""
    check, out = checked(row), io.StringIO()
    lesson = taught(check, grade)
    render(check, Console(file=out, width=1000, legacy_windows=False, _environ={}), grade, lesson)
    return out.getvalue() + json.dumps(as_json(check, grade, lesson), ensure_ascii=False)


@cache
def reference(exercise: str) -> tuple[str, ...]:
    """The lines of the solution and of the mark scheme, as typed and as Thence prints them."""
    document = exercise_document(exercise)
    lines = (*document.solution, *(claim for point in document.marks for claim in point.claims))
    pieces = [line.text[line.body.start : line.body.end] for line in lines if not line.remark]
    return tuple(dict.fromkeys(p for p in map(plain, (*pieces, *_printed(document, lines))) if len(p) >= TELLING))


def _printed(document: Document, lines: tuple[RawLine, ...]) -> list[str]:
    page = opened(document, proofs=False)
    readings = [r for line in lines for r in page.readings(line) if isinstance(r, Reading)]
    return [as_text(s.claim) for r in readings for s in r.statements if s.claim is not None]


def known_to_the_student(row: Expected) -> str:
    """What the student typed and what the exercise publishes."""
    document, check = working_document(row), checked(row)
    typed = [x.text for x in (*document.working, *document.given, *document.show)]
    own = [as_text(s.claim) for x in check.lines if x.reading for s in x.reading.statements if s.claim is not None]
    return plain(" ".join([*typed, *own, document.statement, document.title]))


@pytest.mark.parametrize("row", LOOKED_AT, ids=lambda row: f"{row.exercise}/{row.working}")
def test_no_line_of_the_reference_is_said_that_the_student_did_not_type(row: Expected) -> None:
    shown, known = plain(said(row)), known_to_the_student(row)

    assert [piece for piece in reference(row.exercise) if piece in shown and piece not in known] == []


@pytest.mark.parametrize("row", LOOKED_AT, ids=lambda row: f"{row.exercise}/{row.working}")
def test_neither_marks_nor_the_number_that_would_be_right_are_said(row: Expected) -> None:
    shown = said(row)
    points: tuple[MarkPoint, ...] = exercise_document(row.exercise).marks
    known = " ".join(x.text for x in (*working_document(row).working, *working_document(row).show))
    answers = [
        value for x in checked(row).lines for v in x.verdicts if v.standing is Standing.FAILS
        for name, value in v.facts if name == "exact" and value not in known
    ]

    assert points
    assert not [p.label for p in points if re.search(rf"\b{p.label}\b", shown) and p.label not in known]
    assert [answer for answer in answers if answer in shown] == []


def test_of_a_goal_that_no_line_arrives_at_nothing_says_from_which_lines_it_would_follow() -> None:
    check = check_document(working_document(next(row for row in ROWS if row.broken_at)), proofs=True)
    missed = [v for line in check.goal for v in line.verdicts if v.code == "goal.not_reached"]

    assert missed
    assert all((v.premises, v.support, v.state, v.certificate) == ((), "", None, None) for v in missed)


def test_a_state_in_which_all_is_settled_is_kept_from_whoever_may_not_see_the_answer() -> None:
    row = next(r for r in ROWS if (r.exercise, r.working) == ("tow", "slip_number"))
    verdict = next(v for x in checked(row).lines for v in x.verdicts if v.standing is Standing.FAILS)

    assert dict(verdict.facts)["exact"] in said(row, "edit")  # who may see it does
    assert isinstance(verdict.state, State) and verdict.state.settled
    assert told(verdict, "kind").state is None and "exact" not in dict(told(verdict, "kind").facts)
    assert told(verdict, "edit") == verdict
    assert told(verdict, "place").code == ""


def test_a_quantity_of_the_writers_own_does_not_bring_a_settled_result_to_light() -> None:
    own = read_document("Exercise: tow\nSymbols:\n  q : N, positive\nWorking:\n  F = 900 N + q\n", "own.txt")
    check = check_document(with_exercise(own, exercise_document("tow")), proofs=False)

    (verdict,) = check.lines[0].verdicts

    assert verdict.standing is Standing.FAILS and verdict.state is not None
    assert {q.name: q.value for q in verdict.state.values}["F"] == 500
    assert told(verdict, "kind").state is None
    assert told(verdict, "edit").state is not None


def test_the_state_of_a_lost_case_is_held_back_like_that_of_a_break() -> None:
    row = next(r for r in ROWS if (r.exercise, r.working) == ("tow", "slip_number"))
    verdict = next(v for x in checked(row).lines for v in x.verdicts if v.standing is Standing.FAILS)
    lost = replace(verdict, standing=Standing.FOLLOWS_IF)

    assert told(lost, "kind").state is None
    assert told(lost, "edit").state == verdict.state
