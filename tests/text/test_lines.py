"""What a label is and what is not, where the mathematics stands, and what counts as a reason."""


import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from derive.records import RawLine
from derive.text.labels import cited
from derive.text.lines import read_row, read_rows, with_cites
from derive.text.rows import Row
from tests.effort import effort


def line(text: str, before: tuple[str, ...] = ()) -> RawLine:
    return read_row(Row(1, text), before)


def body(found: RawLine) -> str:
    return found.text[found.body.start:found.body.end]


@pytest.mark.parametrize(("typed", "label", "rest"), [
    ("(3) F = m a", "3", "F = m a"),
    ("  (3)\tF = m a  ", "3", "F = m a"),
    ("( 3 ) F = m a", "3", "F = m a"),
    ("3. F = m a", "3", "F = m a"),
    ("3) F = m a", "3", "F = m a"),
    ("3: F = m a", "3", "F = m a"),
    ("(3): F = m a", "3", "F = m a"),
    ("[3] F = m a", "3", "F = m a"),
    ("(a) F = m a", "a", "F = m a"),
    ("a) F = m a", "a", "F = m a"),
    ("a. F = m a", "a", "F = m a"),
    ("(3a) F = m a", "3a", "F = m a"),
    ("(p2) F = m a", "p2", "F = m a"),
    ("(ii) F = m a", "ii", "F = m a"),
    ("(*) F = m a", "*", "F = m a"),
    ("(2') F = m a", "2'", "F = m a"),
    ("2. F = ma", "2", "F = ma"),
    ("2.F = ma", "2", "F = ma"),
    ("(12) x = 1", "12", "x = 1"),
    ("(3) -x = 5", "3", "-x = 5"),
    ("(3) = ½ k a²", "3", "= ½ k a²"),            # a labelled line that carries on from the one above
    ("(4) (1) + (2): x = 3", "4", "(1) + (2): x = 3"),
    ("(2) (x + 1) y = 6", "2", "(x + 1) y = 6"),
    ("(1) let ω² = k/m", "1", "let ω² = k/m"),
    ("(1) so v = u", "1", "so v = u"),
    ("\u00a0(1)\u00a0v = u", "1", "v = u"),         # non-breaking spaces
    ("F = m a        (7)", "7", "F = m a"),        # numbered at the right, as in print
    ("F = m a\t(7)", "7", "F = m a"),
    ("= m a        (7)  [from (1)]", "7", "= m a"),
    ("F = m a ........ (7)", "7", "F = m a"),
    ("F = m a … (7)", "7", "F = m a"),
    ("F = m a ---- (7)", "7", "F = m a"),
    ("F = m a -- (7)", "7", "F = m a"),
    ("F = m a ---> (7)", "7", "F = m a"),
])
def test_a_label_is_taken_off_the_line(typed, label, rest):
    found = line(typed)

    assert (found.label, body(found)) == (label, rest)
    assert found.text == typed


@pytest.mark.parametrize("typed", [
    "(a + b) x = 2", "2.5 m = x", "12 000 N = F", "(1/2) m v² = E", "2 x = 3", "(v) = u + a t", "(3)(x + 1) = 6",
    "(1) + (2): x = 3", "(1) - (2): x = 3", "(1) − 2 (2): x = 3", "(1)² + (2)²: x = 3", "(3)/(1) gives x = 2",
    "(2) × cos β: x = 3", "(1) and (2) give x = 3", "(1) into (2): x = 3", "(1), (2) ⇒ x = 3", "(2)·m: x = 3",
    "x = 3 (7)", "v(0) = 3", "a = F/m", "(u, v) = (a, 0)", "½ m v² = E", "let x = 3", "at t = 0: y = 0",
    "m g sin(θ)", "(x)^2 = 4", "(m + M) a = F  (m + M)",
])
def test_mathematics_that_begins_or_ends_like_a_label_is_left_whole(typed):
    found = line(typed)

    assert found.label == ""
    assert body(found) == typed


def test_a_bracketed_letter_before_an_equals_sign_is_a_label_only_in_its_turn():
    assert line("(b) = 2 a", before=("a",)).label == "b"
    assert line("(b) = 2 a", before=("1",)).label == ""


def test_a_label_with_a_colon_names_the_line_once_and_is_cited_afterwards():
    assert line("(1): F = m a").label == "1"
    assert line("(1): a = F/m", before=("1",)).label == ""


@pytest.mark.parametrize(("typed", "rest", "reason"), [
    ("v = u + a t   [from (1) and (3)]", "v = u + a t", "from (1) and (3)"),
    ("v = u + a t [from (1)]", "v = u + a t", "from (1)"),
    ("v = u + a t [1]", "v = u + a t", "1"),
    ("v = u + a t [(1), (2)]", "v = u + a t", "(1), (2)"),
    ("v = u + a t [divide by m]", "v = u + a t", "divide by m"),
    ("v = u + a t [using F = m a]", "v = u + a t", "using F = m a"),
    ("v = u + a t [no drag here]", "v = u + a t", "no drag here"),
    ("v = u + a t    [Hooke]", "v = u + a t", "Hooke"),
    ("v = u + a t -- constant acceleration", "v = u + a t", "constant acceleration"),
    ("v = u + a t --- [as before]", "v = u + a t", "[as before]"),
    ("v = u + a t — by (2)", "v = u + a t", "by (2)"),
    ("v = u + a t --from (2)", "v = u + a t", "from (2)"),
    ("v = u + a t  # by (2)", "v = u + a t", "by (2)"),
    ("v = u + a t (from (2))", "v = u + a t", "from (2)"),
    ("x = [½ k x²]_0^d   [integrate (3)]", "x = [½ k x²]_0^d", "integrate (3)"),
    ("x = 2 a\u00a0\u00a0[cancel m]", "x = 2 a", "cancel m"),
    ("= ½ k a²   [from (3)]", "= ½ k a²", "from (3)"),
])
def test_a_reason_is_taken_off_the_end(typed, rest, reason):
    found = line(typed)

    assert (body(found), found.reason, found.maybe_reason) == (rest, reason, None)


@pytest.mark.parametrize("typed", [
    "x = [a + b]", "x = 2·[a + b]", "x = y - [a + b]", "x = y +   [a + b]", "v = 5 [m/s]", "x = 5 [m]", "x = 5  [m]",
    "E = [½ k x²]_0^d", "a - -b = c", "x = a – b", "x = y^[2 a]", "x = f(t)", "v = u + a (t)", "x = 2 a]",
])
def test_a_bracket_or_dash_that_belongs_to_the_mathematics_stays_in_it(typed):
    found = line(typed)

    assert (body(found), found.reason, found.maybe_reason) == (typed, "", None)


@pytest.mark.parametrize(("typed", "bracket"), [
    ("x = 2 [a + b]", "[a + b]"), ("x = m[a + b]", "[a + b]"), ("x = k [as + b [c]]", "[as + b [c]]"),
    ("F = m a [Hooke]", "[Hooke]"), ("a = F/m [m]", "[m]"),
])
def test_a_bracket_that_could_be_a_factor_is_left_to_the_reader(typed, bracket):
    found = line(typed)

    assert body(found) == typed
    assert found.reason == ""
    assert typed[found.maybe_reason.start:found.maybe_reason.end] == bracket


@pytest.mark.parametrize("typed", ["# a remark", "   #x = 3", "-----", "======", "* * *".replace(" ", "")])
def test_remarks_and_rules_are_shown_as_such(typed):
    assert line(typed).remark


@pytest.mark.parametrize("typed", ["x = 3 # three", "= 3", "== 3", "-x = 3", "...", "so x = 3"])
def test_a_line_with_something_to_read_is_no_remark(typed):
    assert line(typed).remark == (typed == "...")


@pytest.mark.parametrize(("reason", "labels"), [
    ("from (1) and (3)", ("1", "3")), ("(3), (1)", ("3", "1")), ("1", ("1",)), ("1, 3", ("1", "3")),
    ("by a, b", ("a", "b")), ("from (a)", ("a",)), ("using 1 and 3", ("1", "3")), ("put (1) into (3)", ("1", "3")),
    ("put 1 into 3", ("1", "3")), ("eq. 3", ("3",)), ("equation (3)", ("3",)), ("lines 1 and 3", ("1", "3")),
    ("(1, 3)", ("1", "3")), ("divide (3) by m", ("3",)), ("divide by 2", ()), ("because of a", ("a",)),
    ("Newton's second law", ()), ("from (9)", ()), ("a + b is constant", ()), ("from (1), from (1)", ("1",)),
    ("[3]", ("3",)), ("", ()), ("with a spring", ()), ("energy of a buoy", ()), ("by a and b", ("a", "b")),
    ("divide by 3", ()), ("divide by 3 m", ()), ("multiply both sides by 3", ()), ("divide by a", ()), ("in 3 s", ()),
    ("a stretch of 3 m", ()), ("by 3", ("3",)), ("sub into 3", ("3",)), ("divide (1) by 3", ("1",)),
    ("divide (3) by (1)", ("3", "1")),
])
def test_the_labels_that_a_reason_names_are_found_in_their_order(reason, labels):
    assert cited(reason, {"1", "3", "a", "b"}) == labels


def test_cites_are_of_labels_that_the_document_has():
    rows = read_rows([Row(1, "(1) F = m a"), Row(2, "(2) a = F/m [from (1) and (8)]")])

    assert [found.cites for found in with_cites(rows, ["1", "2"])] == [(), ("1",)]


@pytest.mark.parametrize("typed", [
    "(" * 50_000, "(1) + " + "(1)" * 6_000, "x = 1" + " " * 19_000 + "y", "[" * 9_000 + "]" * 9_000,
    "x = 3 -- " + "(1), " * 3_000, "x" * 4_000_000, "(1)" + "-" * 19_000 + ":",
])
def test_a_monstrous_line_is_passed_on_with_little_effort(typed):
    found = []

    assert effort(lambda: found.append(line(typed))) < 10_000
    assert found[0].text == typed


pieces = st.sampled_from([
    "(1)", "(a)", "[", "]", "(", ")", "--", "—", "=", "x", "3.", "#", "from", ":", " ", "  ", "\t",
])


@given(st.lists(pieces, max_size=12).map("".join) | st.text(max_size=60))
@settings(max_examples=400, deadline=None)
def test_a_body_always_lies_within_the_line_and_holds_no_outer_space(typed):
    found = line(typed.replace("\n", " "))

    assert 0 <= found.body.start <= found.body.end <= len(found.text)
    assert body(found) == body(found).strip()


def test_two_dashes_before_a_label_that_stands_above_are_a_reason():
    found = line("a = F/m -- (7)", before=("7",))

    assert (found.label, body(found), found.reason) == ("", "a = F/m", "(7)")


@pytest.mark.parametrize(("typed", "rest", "reason"), [
    ("a = F/m  // divide by m", "a = F/m", "divide by m"), ("a = F/m //by (1)", "a = F/m", "by (1)"),
    ("a = F/m    - dividing by m", "a = F/m", "dividing by m"), ("a = F/m <-- from (1)", "a = F/m", "from (1)"),
    ("a = F/m ← using (1)", "a = F/m", "using (1)"), ("a = F  - m", "a = F  - m", ""), ("a = F//m", "a = F//m", ""),
    ("a <- 3", "a <- 3", ""), ("a = F/m - dividing by m", "a = F/m", "dividing by m"),
    ("a = F - drag", "a = F - drag", ""), ("a = F/m  <-- second law", "a = F/m", "second law"),
])
def test_a_comment_a_dash_or_an_arrow_back_opens_a_reason_where_words_follow(typed, rest, reason):
    found = line(typed)

    assert (body(found), found.reason) == (rest, reason)


@pytest.mark.parametrize(("typed", "before", "label", "rest"), [
    ("f = μ N (1)", (), "1", "f = μ N"),
    ("F - f = m a (2)", ("1",), "2", "F - f = m a"),
    ("F = ½ m a (2)", (), "", "F = ½ m a (2)"),
    ("y = f (2)", ("1", "2"), "", "y = f (2)"),
])
def test_the_number_next_in_order_behind_a_line_is_its_label(
    typed: str, before: tuple[str, ...], label: str, rest: str
) -> None:
    found = line(typed, before)

    assert (found.label, body(found)) == (label, rest)


@pytest.mark.parametrize("work", ["(1)+(2)", "(1) - (2)", "(2)/(1)"])
def test_what_was_done_with_lines_above_is_a_reason_far_right(work: str) -> None:
    assert (line(f"F = (M + m) a    {work}", ("1", "2")).reason, line(f"F = a    {work}").reason) == (work, "")


def test_a_percent_sign_before_words_opens_a_remark_behind_a_line() -> None:
    assert (line("F = m a   % Newton").reason, line("F = m a % see above").reason) == ("Newton", "see above")
    assert line("η = 80 % of the input").reason == ""


@pytest.mark.parametrize("typed", ["Name: A. Student", "Date: 3 May", "Course: Mechanics I", "Homework no. 3: cranes"])
def test_what_stands_at_the_head_of_a_sheet_is_a_remark(typed: str) -> None:
    assert line(typed).remark and not line("section: v = 3 m/s").remark


@pytest.mark.parametrize(("typed", "label"), [("ii) a = F/m", "ii"), ("iv) a = F/m", "iv"), ("v) a = F/m", "v")])
def test_roman_numbers_before_a_bracket_are_labels(typed: str, label: str) -> None:
    assert (line(typed).label, body(line(typed))) == (label, "a = F/m")


@pytest.mark.parametrize(("typed", "labels"), [
    (["m u = m v + M w (A)", "w - v = e u (B)"], ["A", "B"]),
    (["T - m g = m a   (i)", "M g - T = M a   (ii)"], ["i", "ii"]),
    (["m u = m v   (A)", "v = u"], ["A", ""]),
    (["x = 2 (A)", "y = 3 x"], ["", ""]),
    (["F = k (b)", "G = k (a)"], ["", ""]),
    (["the first crate (A)", "the second crate (B)"], ["", ""]),
])
def test_letters_in_order_behind_lines_are_their_labels(typed: list[str], labels: list[str]) -> None:
    assert [x.label for x in read_rows([Row(k, text) for k, text in enumerate(typed, start=1)])] == labels
