"""From the name of a file to its document, joined with the exercise it names."""

from pathlib import Path

import pytest

from derive.loading import exercise_named, load
from derive.records import Document, Problem

EXERCISE = (
    "Exercise: Raising a bell\n\nSymbols:\n  m : kg, positive\n  F : N\n  g : m/s^2\n"
    "Given:\n  (a)  F = m g\nShow:\n  m = F/g\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "raising.txt").write_text(EXERCISE, encoding="utf-8")
    return tmp_path


def test_a_working_that_names_its_exercise_gets_its_symbols_givens_and_goal(folder):
    working = folder / "s001.txt"
    working.write_text("Exercise: raising\n\nWorking:\n  m = F/g\n", encoding="utf-8")
    document = load(str(working))
    assert [s.name for s in document.symbols] == ["m", "F", "g"]
    assert (len(document.given), len(document.show), len(document.working)) == (1, 1, 1)


def test_an_exercise_that_is_handed_over_is_used_even_where_none_is_named(folder):
    working = folder / "s002.txt"
    working.write_text("m = F/g\n", encoding="utf-8")
    exercise = exercise_named("raising", folder)
    assert isinstance(exercise, Document)
    assert [s.name for s in load(str(working), exercise).symbols] == ["m", "F", "g"]


def test_an_exercise_that_nobody_knows_is_a_problem_that_names_the_nearest(folder):
    working = folder / "s003.txt"
    working.write_text("Exercise: rasing\n\nWorking:\n  m = F/g\n", encoding="utf-8")
    (problem,) = load(str(working)).problems
    assert problem.code == "exercise.unknown"
    assert "raising" in problem.message


@pytest.mark.parametrize("name", ["../../etc/passwd", "/etc/passwd", "raising/../raising", "", "\0", "x" * 5000])
def test_a_name_in_a_working_never_becomes_a_path(folder, name):
    assert isinstance(exercise_named(name, folder), Problem)


@pytest.mark.parametrize("name", ["none.txt", ".", "odd\0name", "x" * 5000])
def test_a_file_that_cannot_be_had_is_a_problem_not_an_exception(folder, name):
    document = load(str(folder / name))
    assert document.working == ()
    assert document.problems[0].code.startswith("file.")
