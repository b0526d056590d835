"""A file as a document: its kind, its sections, and every fault of form located."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from derive.notation.tree import Span
from derive.records import Document
from derive.text.document import read_document

EXERCISE = """\
Exercise: A buoy bobbing at its mooring

A buoy of mass m floats upright in still water.
It is pushed down a little and let go.

Symbols:
  m      : kg, positive         -- mass of the buoy
  y(t)   : m                    -- depth below the resting position

Given:
  (a)  F = -k y                 -- net force
  (b)  F = m y''                -- Newton's second law

Show:
  T = 2π √(m/k)

Solution:
  (1)  m y'' = -k y             [from (a) and (b)]
  (2)  y'' = -(k/m) y           [divide (1) by m]

Marks:
  (p1)  M2   m y'' = -k y
  (p2)  A1   y'' = -(k/m) y     -- needs p1
"""


def read(text: str) -> Document:
    return read_document(text, "working.txt")


def bodies(lines) -> list[str]:
    return [line.text[line.body.start:line.body.end] for line in lines]


def codes(document: Document) -> list[str]:
    return [found.code for found in document.problems]


def test_an_exercise_is_read_section_by_section():
    found = read(EXERCISE)

    assert found.kind == "exercise"
    assert found.title == "A buoy bobbing at its mooring"
    assert found.exercise == ""
    assert found.statement == "A buoy of mass m floats upright in still water.\nIt is pushed down a little and let go."
    assert [(s.name, s.unit, s.of, s.note) for s in found.symbols] == [
        ("m", "kg", None, "mass of the buoy"), ("y", "m", "t", "depth below the resting position"),
    ]
    assert bodies(found.given) == ["F = -k y", "F = m y''"]
    assert bodies(found.show) == ["T = 2π √(m/k)"]
    assert bodies(found.solution) == ["m y'' = -k y", "y'' = -(k/m) y"]
    assert [line.cites for line in found.solution] == [("a", "b"), ("1",)]
    assert [point.label for point in found.marks] == ["p1", "p2"]
    assert found.problems == ()


def test_lines_are_numbered_as_in_the_file():
    found = read(EXERCISE)

    assert [line.number for line in found.given + found.show] == [11, 12, 15]


@pytest.mark.parametrize(("text", "kind", "exercise", "title"), [
    ("F = m a\na = F/m\n", "quick", "", ""),
    ("Exercise: buoy\n\nWorking:\n  F = m a\n", "working", "buoy", ""),
    ("exercise : buoy\nF = m a\n", "working", "buoy", ""),              # the heading was left out
    ("Exercise:\n  buoy\nWorking:\nF = m a", "working", "buoy", ""),
    ("Exercise: buoy\nName: s014\n\nWorking:\nF = m a", "working", "buoy", ""),
    ("Exercise: buoy\nSymbols:\n  A : m\nWorking:\nF = m a", "working", "buoy", ""),
    ("Exercise: buoy\nSolution:\nF = m a", "working", "buoy", ""),      # a student's word for it
    ("Exercise: buoy\nGiven:\nF = m a\nShow:\na = F/m\nWorking:\na = F/m", "working", "", "buoy"),
    ("Working:\nF = m a", "working", "", ""),
    ("Exercise: buoy\nGiven:\nF = m a\nShow:\na = F/m\n", "exercise", "", "buoy"),
    ("Exercise: buoy\nGiven:\nF = m a\nShow:\na = F/m\nSolution:\na = F/m", "exercise", "", "buoy"),
], ids=lambda value: value.replace("\n", "|") if isinstance(value, str) else value)
def test_the_kind_of_a_text_is_told_by_its_headings(text, kind, exercise, title):
    found = read(text)

    assert (found.kind, found.exercise, found.title) == (kind, exercise, title)
    assert codes(found) == []


@pytest.mark.parametrize("heading", [
    "Working:", "working:", "WORKING:", "  Working :  ", "Working:\t", "Workings:", "Working\uff1a", "\u00a0Working:",
    "## Working:", "**Working:**",
])
def test_a_heading_is_known_however_it_is_set(heading):
    found = read(f"{heading}\nF = m a")

    assert bodies(found.working) == ["F = m a"]
    assert found.kind == "working"
    assert codes(found) == []


@pytest.mark.parametrize(("typed", "meant", "section"), [
    ("Symbls:", "Symbols", "symbols"), ("Woking:", "Working", "working"), ("Gvien:", "Given", "given"),
    ("Shwo:", "Show", "show"),
])
def test_a_mistyped_heading_is_taken_as_meant_and_reported(typed, meant, section):
    row = "x : m" if section == "symbols" else "x = 3"
    found = read(f"Given:\nx = y\n{typed}\n{row}\nWorking:\nx = 3")

    assert len(getattr(found, section)) >= 1
    assert ("heading.meant", 3) in [(p.code, p.line) for p in found.problems]
    assert any(f"{meant}:" in p.message for p in found.problems)


def test_lines_under_a_heading_that_is_none_are_reported_and_nowhere_taken_in():
    found = read("Given:\nF = m a\nPictures:\nx = 3\nWorking:\na = F/m")

    assert bodies(found.given) == ["F = m a"]
    assert bodies(found.working) == ["a = F/m"]
    assert [(p.code, p.line, p.span) for p in found.problems] == [("heading.unknown", 3, Span(0, 8))]
    assert "Working" in found.problems[0].message


def test_words_before_a_colon_within_a_working_are_a_line_of_it_and_no_heading():
    found = read("Working:\nEnergy:\n½ m v² = m g h\nAt the top:\nv = 0")

    assert bodies(found.working) == ["Energy:", "½ m v² = m g h", "At the top:", "v = 0"]
    assert codes(found) == []


def test_a_given_or_a_goal_on_the_line_of_its_heading_is_that_one_line():
    found = read("Given: F = m a\nShow: a = F/m\nF/m = a\na = F/m")

    assert bodies(found.given) == ["F = m a"]
    assert bodies(found.show) == ["a = F/m"]
    assert bodies(found.working) == ["F/m = a", "a = F/m"]
    assert found.given[0].text == "Given: F = m a"


def test_a_line_within_a_working_does_not_become_a_premise_by_a_word_before_it():
    found = read("Working:\nF = m a\nGiven: a = 3\n")

    assert found.given == ()
    assert bodies(found.working) == ["F = m a", "Given: a = 3"]


@pytest.mark.parametrize("text", ["Exercise: buoy\n", "Symbols:\nm : kg\n", "just words\n", "Working:\n"])
def test_a_file_without_a_working_says_where_to_put_it(text):
    found = read(text)

    assert "working.none" in codes(found)
    assert any("Working:" in p.message for p in found.problems)


def test_a_label_used_twice_matters_only_where_it_is_cited():
    twice = "Working:\n(1) F = m a\n(1) v = u\n(2) a = F/m {}\n"

    assert codes(read(twice.format(""))) == []
    found = read(twice.format("[from (1)]"))
    assert [(p.code, p.line) for p in found.problems] == [("label.twice", 3)]


def test_a_reason_in_the_working_cites_the_labels_of_the_givens_too():
    found = read("Given:\n(a) F = m a\nWorking:\n(1) a = F/m   [from (a)]")

    assert found.working[0].cites == ("a",)


def test_a_problem_with_a_row_of_symbols_is_located_in_the_file():
    found = read("Symbols:\n  m : kgg\nWorking:\nx = 3")

    assert [(p.code, p.line, p.span) for p in found.problems] == [("symbols.unit", 2, Span(6, 9))]


def test_tabs_and_non_breaking_spaces_stay_in_the_text_that_is_shown():
    found = read("Working:\r\n\t(1)\u00a0F\t= m a\r\n")

    assert found.working[0].text == "\t(1)\u00a0F\t= m a"
    assert bodies(found.working) == ["F\t= m a"]


headings = st.sampled_from(["Exercise: x", "Symbols:", "Given:", "Show:", "Working:", "Solution:", "Marks:", "Energy:"])
rows = st.sampled_from([
    "(1) F = m a [from (1)]", "m : kg, positive, about 40 -- mass",
    "(p1) M1 F = m a or a = F/m ft -- needs p1", "# words",
    "θ : deg, 0 < θ < 90", "k : > 0", "y(t) : m", "", "   ", "= 3", "let", ":", "m :", ": kg", "(p2) A1", "or x = 3",
]) | st.text(max_size=30)


@given(st.lists(headings | rows, max_size=25))
@settings(max_examples=250, deadline=None)
def test_any_mixture_of_lines_is_a_document_that_accounts_for_all_of_them(lines):
    text = "\n".join(lines)
    found = read(text)

    assert all(p.message and 0 <= p.line <= len(text.splitlines()) + 2 for p in found.problems)
    seen = {line.number for part in (found.given, found.show, found.working, found.solution) for line in part}
    assert len(seen) == sum(len(p) for p in (found.given, found.show, found.working, found.solution))
