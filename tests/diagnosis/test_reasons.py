"""Reasons are read, compared with what was done, and used to explain a line only where that may be shown."""

from __future__ import annotations

import pytest

from derive.diagnosis.reasons import explained, read_reason, remarks_on_right_line
from derive.messages import sentence
from derive.notation.tree import Expr, Name, Relation

from .trees import T, d, names, rel, sqrt

a, b, F, g, h, k, m, v, x = names("a b F g h k m v x")


def piece(text: str) -> Expr | None:
    return Name(text) if text.isidentifier() else None


@pytest.mark.parametrize(("reason", "operation", "by"), [
    ("divide by m", "divide", "m"),
    ("dividing (1) by m", "divide", "m"),
    ("divide both sides by m, since m > 0", "divide", "m"),
    ("Multiply through by k", "multiply", "k"),
    ("added x to both sides", "add", "x"),
    ("subtract x from (2)", "subtract", "x"),
    ("square both sides", "square", None),
    ("squaring", "square", None),
    ("take the square root", "root", None),
])
def test_the_operation_of_a_reason_is_read(reason: str, operation: str, by: str | None) -> None:
    said = read_reason(reason, piece)

    assert said is not None
    assert (said.name, said.by) == (operation, None if by is None else Name(by))


@pytest.mark.parametrize("reason", ["from (1)", "Newton", "", "divide by the other one", "x" * 5000])
def test_words_that_name_no_operation_are_left_alone(reason: str) -> None:
    assert read_reason(reason, piece) is None


SOURCE = rel(m * a, F)


def codes(claim: Relation, reason: str, source: Relation = SOURCE) -> list[str]:
    said = read_reason(reason, piece)
    return [h.code for h in remarks_on_right_line(claim, reason, said, {}, source, lambda *_: True)]


@pytest.mark.parametrize(("claim", "reason", "source"), [
    (rel(a, F / m), "divide by m", SOURCE),
    (rel(F / m, a), "divide by m", SOURCE),
    (rel(a * k * m, F * k), "multiply by k", SOURCE),
    (rel(a, g), "divide by m", SOURCE),  # another line was used as well: not ours to blame
    (rel(v, sqrt(2 * g * h)), "take the root", rel(v ** 2, 2 * g * h)),
    (rel(v + x, a + x), "add x", rel(v, a)),
    (rel(v ** 2, a ** 2), "square", rel(v, a)),
    (rel(v ** 2, 2 * g * h), "multiply by 2", rel(m * v ** 2 / 2, m * g * h)),  # and m cancelled without a word
    (rel(F / m, a), "÷ m", SOURCE),
    (rel(d(v), a), "differentiate", rel(v, a * T(Name("t")))),
    (rel(v, a * T(Name("t"))), "integrate", rel(d(v), a)),
    (rel(m * a - F, 0), "subtract F", SOURCE),
])
def test_a_reason_that_fits_what_was_done_gets_no_remark(claim: Relation, reason: str, source: Relation) -> None:
    assert codes(claim, reason, source) == []


@pytest.mark.parametrize(("claim", "reason", "source"), [
    (rel(a, F / m), "divide by a", SOURCE),
    (rel(a, F / m), "multiply by m", SOURCE),
    (rel(F, m * a), "divide by m", SOURCE),
    (rel(v + x, a + x), "add b", rel(v, a)),
    (rel(2 * v, 2 * a), "square both sides", rel(v, a)),
    (rel(v ** 2, a ** 2), "take the root", rel(v, a)),
    (rel(v, a), "square", rel(v ** 2, a ** 2)),
    (rel(v, sqrt(2 * a / k)), "squaring", rel(k * v ** 2, 2 * a)),
    (rel(k * v ** 2, 2 * a), "take the root", rel(v, sqrt(2 * a / k))),
    (rel(v + x, a + x), "subtract x", rel(v, a)),
    (rel(a, F / m), "divide by F", rel(F, m * a)),
    (rel(2 * v, 2 * a), "times k", rel(v, a)),
    (rel(d(v), a), "integrate", rel(v, a * T(Name("t")))),
    (rel(v, a * T(Name("t"))), "differentiate", rel(d(v), a)),
    (rel(k * v, k * a), "differentiate", rel(v, a)),
])
def test_a_right_line_that_was_got_otherwise_gets_a_remark(claim: Relation, reason: str, source: Relation) -> None:
    assert codes(claim, reason, source) == ["reason.operation"]


CITED = {"1": SOURCE, "2": SOURCE}


def test_a_right_line_that_comes_from_another_line_than_the_one_cited_gets_a_remark() -> None:
    found = remarks_on_right_line(
        rel(a, g), "from (1) and (2)", None, CITED, None, lambda _, labels: labels == ("3",), others=("4", "3"))

    said = [sentence(h.code, h.facts) for h in found]
    assert said == ["The line is right, but it comes from (3) rather than from (1) and (2)."]


def test_a_right_line_for_which_one_of_two_lines_is_cited_wrongly_gets_a_remark() -> None:
    found = remarks_on_right_line(
        rel(a, g), "from (1) and (2)", None, CITED, None, lambda _, labels: labels == ("2", "3"), others=("4", "3"))

    said = [sentence(h.code, h.facts) for h in found]
    assert said == ["The line is right, but it comes from (2) and (3) rather than from (1) and (2)."]


def test_a_reason_that_only_names_too_few_lines_gets_no_remark() -> None:
    assert remarks_on_right_line(rel(a, g), "from (1)", None, CITED, None, lambda *_: False, others=("3",)) == ()


def test_what_the_reason_would_have_given_is_shown_only_at_the_highest_grade() -> None:
    said = read_reason("dividing (1) by m", piece)
    results: list[object] = []

    def as_text(node: object) -> str:
        results.append(node)
        return "a = F/m"

    low = [explained(said, {"1": SOURCE}, None, grade, as_text) for grade in ("place", "kind")]
    (high,) = explained(said, {"1": SOURCE}, None, "edit", as_text)

    assert low == [(), ()]
    assert sentence(high.code, high.facts) == "“dividing (1) by m” done to (1) gives a = F/m."
    assert results == [rel(a, F / m)]
