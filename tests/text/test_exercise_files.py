"""Finding the exercise that a working names, and what of it a working gets."""

import os
from pathlib import Path

import pytest

from derive.records import Document
from derive.text.document import read_document
from derive.text.exercise_files import find_exercise, nearest_exercise, shipped_folder, with_exercise

CRANE = """\
Exercise: A crane at the quay
Symbols:
  m : kg, positive -- the load
  a : m/s^2
  F : N
Given:
  (a) F = m a
Show:
  a = F/m
Solution:
  (1) a = F/m
Marks:
  (p1) M1 a = F/m
"""


@pytest.fixture
def quay(tmp_path: Path) -> Path:
    (tmp_path / "crane").mkdir()
    (tmp_path / "crane.txt").write_text(CRANE, encoding="utf-8")
    (tmp_path / "crane" / "s1.txt").write_text("Exercise: crane\nWorking:\na = F/m\n", encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("name", [
    "crane", "Crane", " crane ", "crane.txt", "A crane at the quay", "a  CRANE at the quay",
])
@pytest.mark.parametrize("near", ["crane/s1.txt", "crane", "."])
def test_an_exercise_is_found_by_file_name_or_title_beside_the_working_or_above_it(quay, name, near):
    found = find_exercise(name, quay / near)

    assert found is not None
    assert found.read_text(encoding="utf-8") == CRANE


def test_an_exercise_that_lies_elsewhere_is_not_found(quay, tmp_path_factory):
    assert find_exercise("crane", quay) == quay / "crane.txt"
    assert find_exercise("crane", tmp_path_factory.mktemp("elsewhere")) is None


def test_every_shipped_exercise_is_found_by_its_name_and_by_its_title():
    folder = shipped_folder()
    assert folder is not None

    for path in folder.glob("*.txt"):
        document = read_document(path.read_bytes(), path.name)
        if document.kind == "exercise":
            assert find_exercise(path.stem) == path
            assert find_exercise(document.title) == path


@pytest.mark.parametrize("name", [
    "", "   ", "../crane", "/etc/passwd", "crane/s1", "..", ".", "*", "crane\x00", "~", "x" * 100_000, "s1", "%s",
    "crane/",
])
def test_a_name_is_compared_with_names_and_never_becomes_a_path(quay, name):
    assert find_exercise(name, quay / "crane" / "s1.txt") is None


def test_somebodys_working_of_the_same_name_is_not_taken_for_the_exercise(quay):
    (quay / "crane" / "crane.txt").write_text("Exercise: crane\nSymbols:\nb : m\nWorking:\na = 1\n", encoding="utf-8")

    assert find_exercise("crane", quay / "crane" / "s1.txt") == quay / "crane.txt"


def test_what_stands_in_the_way_in_a_folder_is_passed_over(quay):
    (quay / "a_folder.txt").mkdir()
    (quay / "broken.txt").symlink_to(quay / "nowhere")
    (quay / "binary.txt").write_bytes(bytes(range(256)) * 4)
    os.mkfifo(quay / "pipe.txt")

    assert find_exercise("A crane at the quay", quay) == quay / "crane.txt"


def test_the_exercise_that_was_probably_meant_is_suggested(quay):
    assert nearest_exercise("crain", quay) == "crane"
    assert nearest_exercise("zzzzzz", quay) == ""


# --- joining ----------------------------------------------------------------------------------------------


def join(working: str) -> Document:
    return with_exercise(read_document(working, "s1.txt"), read_document(CRANE, "crane.txt"))


def test_a_working_gets_symbols_givens_and_goal_and_nothing_of_the_solution_or_the_marks():
    found = join("Exercise: crane\nWorking:\n(1) a = F/m   [from (a)]\n")

    assert [symbol.name for symbol in found.symbols] == ["m", "a", "F"]
    assert [line.label for line in found.given] == ["a"]
    assert len(found.show) == 1
    assert found.solution == ()
    assert found.marks == ()
    assert found.title == "A crane at the quay"
    assert found.working[0].cites == ("a",)
    assert found.problems == ()


def test_a_writers_own_symbols_are_added():
    found = join("Exercise: crane\nSymbols:\n h : m, positive\n m : kg\nWorking:\na = F/m\n")

    assert [symbol.name for symbol in found.symbols] == ["m", "a", "F", "h"]
    assert found.symbols[0].sign == "positive"
    assert found.problems == ()


@pytest.mark.parametrize("row", ["m : m", "m : g", "F : N, vector", "a : m/s^2, positive"])
def test_a_symbol_declared_otherwise_than_in_the_exercise_is_a_clash(row):
    found = join(f"Exercise: crane\nSymbols:\n {row}\nWorking:\na = F/m\n")

    assert [p.code for p in found.problems] == ["exercise.clash"]
    assert [symbol.name for symbol in found.symbols] == ["m", "a", "F"]


def test_a_given_of_the_writers_own_is_no_premise_but_a_copied_one_is_welcome():
    copied = join("Exercise: crane\nGiven:\n F=m a\nWorking:\na = F/m\n")
    invented = join("Exercise: crane\nGiven:\n a = 7\nShow:\n m = 3\nWorking:\na = F/m\n")

    assert copied.problems == ()
    assert [(p.code, p.line) for p in invented.problems] == [("exercise.given_added", 3), ("exercise.show_added", 5)]
    assert [line.label for line in invented.given] == ["a"]
