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
    ("Given\nF = m a\nTo find: a\nSteps:\na = F/m", "working", "", ""),
    ("Known:\nF = m a\nGoal:\na = F/m\nProof:\na = F/m", "working", "", ""),
    ("## Given\nF = m a\n## Solution\na = F/m", "working", "", ""),
    ("== Given ==\nF = m a\n== Solution (b) ==\na = F/m", "working", "", ""),
    ("Given:\nF = m a\nShow that a = F/m\nSol.:\na = F/m", "working", "", ""),
    ("Given:\nF = m a\nFind a\nSolution to part (b):\na = F/m", "working", "", ""),
    ("Variables:\nm : kg\nGiven data:\nm = 3 kg\nMy working:\nm g = F", "working", "", ""),
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


@pytest.mark.parametrize(("text", "given", "show", "working"), [
    ("Given: F = m a\n       N = m g\nShow: a = F/m\na = F/m", ["F = m a", "N = m g"], ["a = F/m"], ["a = F/m"]),
    ("Given: F = m a\nN = m g\nWorking:\na = F/m", ["F = m a", "N = m g"], [], ["a = F/m"]),
    ("Symbols: m : kg\nF : N\nGiven: F = m a\nShow: a = F/m\na = F/m", ["F = m a"], ["a = F/m"], ["a = F/m"]),
    ("Symbols:\n  m : kg\nGiven: F = m a\na = F/m", ["F = m a"], [], ["a = F/m"]),
    ("Given:\n  F = m a\nWorking: a = F/m\nm = F/a", ["F = m a"], [], ["a = F/m", "m = F/a"]),
    ("F = m a\nAnswer: a = F/m\nm = F/a", [], [], ["F = m a", "Answer: a = F/m", "m = F/a"]),
    ("F = m a\nsteps\nm = F/a", [], [], ["F = m a", "steps", "m = F/a"]),
])
def test_a_text_on_the_line_of_its_heading_takes_along_what_stands_below_it(text, given, show, working):
    found = read(text)

    assert (bodies(found.given), bodies(found.show), bodies(found.working)) == (given, show, working)


@pytest.mark.parametrize(("text", "working"), [
    ("Given:\n  F = m a\nShow:\n  a = F/m\n\nF - m a = 0\na = F/m", ["F - m a = 0", "a = F/m"]),
    ("Given:\nF = m a\nN = m g\n\na = F/m", ["a = F/m"]),
    ("Given:\n  F = m a\n\n  N = m g\na = F/m", ["a = F/m"]),
    ("Given:\n   F = m a\n  N = m g\n\na = F/m", ["a = F/m"]),
    ("Symbols:\n  m : kg\n\n  F : N\n\nF = m a\na = F/m", ["F = m a", "a = F/m"]),
    ("Given:\n  F = m a\nGoal: a\n\nBy Newton:\na = F/m", ["By Newton:", "a = F/m"]),
])
def test_a_working_without_its_heading_begins_where_the_last_block_ends_and_is_told_of(text, working):
    found = read(text)

    assert bodies(found.working) == working
    assert codes(found) == ["read.working"]
    assert text.split("\n")[found.problems[0].line - 1] == working[0]


def test_names_with_their_units_at_the_head_of_a_file_are_its_symbols():
    found = read("m, M : kg, positive\nv(t) : m/s\n\nm v' = -M v\nv = u")

    assert [s.name for s in found.symbols] == ["m", "M", "v"]
    assert bodies(found.working) == ["m v' = -M v", "v = u"]


@pytest.mark.parametrize("text", ["energy : m g h\nE = m g h", "F = m a\nm : kg\na = F/m"])
def test_words_before_a_colon_and_what_stands_within_a_working_declare_nothing(text):
    assert read(text).symbols == ()


@pytest.mark.parametrize("text", [
    "Given:\n  F = m a\n\nShow:\n  a = F/m\n\n  m = F/a\n",
    "Given:\n  F = m a\nShow:\n  a = F/m\n\nWith thanks to the harbour master.\n",
    "Given:\nF = m a\nShow:\na = F/m\n\nSolution:\na = F/m\n\nMarks:\n(p1) M1 a = F/m\n",
])
def test_an_exercise_without_a_working_gets_none(text):
    found = read(text)

    assert (found.kind, found.working) == ("exercise", ())


@pytest.mark.parametrize("goal", ["a", "the speed v of the barge", "when it stops"])
def test_a_goal_that_only_names_what_is_to_be_found_is_words(goal):
    found = read(f"Given: F = m a\nFind: {goal}\na = F/m")

    assert [line.remark for line in found.show] == [True]


@pytest.mark.parametrize("bullet", ["-", "–", "*", "•", ">"])
def test_bullets_are_taken_off_where_every_line_of_a_section_has_one(bullet):
    rows = "\n".join(f"{bullet} {row}" for row in ("F = m a", "N = m g"))
    found = read(f"Given:\n{rows}\nWorking:\n{bullet} N/m = g")

    assert bodies(found.given) == ["F = m a", "N = m g"]
    assert bodies(found.working) == ["N/m = g"]
    assert found.given[0].text == f"{bullet} F = m a"
    assert codes(found) == (["read.bullets"] if bullet in "-–" else [])


def test_a_dash_is_a_minus_sign_where_other_lines_have_none():
    found = read("m a = F\n- k x = m a\n- (k/m) x = a")

    assert bodies(found.working) == ["m a = F", "- k x = m a", "- (k/m) x = a"]
    assert codes(found) == []


@pytest.mark.parametrize(("typed", "body"), [
    ("**F = m a**", "F = m a"), ("*F = m a*", "F = m a"), ("`F = m a`", "F = m a"), ("**(1)** F = m a", "F = m a"),
    ("2. **F = m a**", "F = m a"),
    ("\\boxed{F = m a}", "F = m a"), ("(1) $\\boxed{F = m a}$.", "F = m a"),
])
def test_marks_of_bold_and_code_around_a_line_are_no_mathematics(typed, body):
    found = read(f"Working:\n{typed}\na = F/m")

    assert bodies(found.working) == [body, "a = F/m"]
    assert found.working[0].text == typed


@pytest.mark.parametrize("typed", ["(a)", "b)", "Q1.", "Q2", "(iii)", "3."])
def test_the_name_of_a_part_alone_on_its_line_is_a_remark(typed):
    assert [line.remark for line in read(f"{typed}\nF = m a").working] == [True, False]


def test_fences_and_whole_lines_of_comment_are_remarks():
    found = read("```\nF = m a\n// divide\n% and go on\na = F/m\n```")

    assert [line.remark for line in found.working] == [True, False, True, True, False, True]


def test_values_and_equations_among_the_symbols_are_given():
    found = read("Symbols:\n  m = 2 kg\n  F : N\n  F = m a\nGiven:\n  a = 3 m/s^2\nWorking:\n  F = 6 N")

    assert [(s.name, s.unit) for s in found.symbols] == [("m", "kg"), ("F", "N")]
    assert bodies(found.given) == ["m = 2 kg", "F = m a", "a = 3 m/s^2"]
    assert codes(found) == ["read.given"]


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
