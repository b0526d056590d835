"""What the search says when one, several or no small edits would mend a line, and how long it may take."""

from __future__ import annotations

from derive.check import check_text
from derive.diagnosis.alike import alike, empty
from derive.diagnosis.explain import SEARCH_BUDGET, explain
from derive.diagnosis.hints import hints
from derive.diagnosis.search import MOST_EFFORT, find_slip
from derive.messages import sentence
from derive.notation.tree import Claim, Name, Quotient, Relation, Span, Statement, Sum
from derive.terms.allowance import allowance

from .trees import cos, holds_in, names, rel, sin, sqrt, tree

a, b, c, g, h, k, m, t, u, v, x, N, Q = names("a b c g h k m t u v x N Q")
θ, μ = names("θ μ")


def text(node: object) -> str:
    return type(node).__name__


def test_no_edit_that_mends_the_line_leaves_it_unnamed() -> None:
    slip = find_slip(Statement("claim", rel(v, a * t)), lambda _: False)

    assert (slip.found, slip.edits) == ("none", ())
    assert slip.tried > 0


def test_edits_that_differ_and_would_both_do_are_not_told_apart() -> None:
    # In these worlds u and b happen to be equal, so either of two signs could be the wrong one.
    same = [{"s": 1.0 + i, "a": 1.0 + i, "u": 2.0 + i, "b": 2.0 + i} for i in range(3)]
    s, = names("s")

    slip = find_slip(Statement("claim", rel(s, a + u + b)), holds_in(same))

    assert slip.found == "several"
    assert slip.kind == "sign"


def test_a_proof_decides_between_edits_that_hold_alike_at_the_points() -> None:
    s, = names("s")
    same = [{"s": 1.0 + i, "a": 1.0 + i, "u": 2.0 + i, "b": 2.0 + i} for i in range(3)]
    wanted = rel(s, a - u + b)

    slip = find_slip(Statement("claim", rel(s, a + u + b)), holds_in(same), prove=lambda c: alike(c, wanted))

    assert (slip.found, slip.proved) == ("one", True)
    assert alike(slip.edits[0].claim, wanted)


def test_edits_that_come_to_the_same_count_once() -> None:
    right = rel(v ** 2, 2 * g * h)

    slip = find_slip(Statement("claim", rel(v, 2 * g * h)), lambda c: alike(c, right))

    assert (slip.found, len(slip.edits)) == ("one", 1)


def test_an_edit_that_makes_the_line_say_nothing_is_no_answer() -> None:
    assert empty(rel(a, a)) and empty(rel(a + b, b + a)) and not empty(rel(a, b))

    slip = find_slip(Statement("claim", rel(a, a + b)), lambda c: empty(c))

    assert slip.found == "none"


def test_a_claim_whose_dimensions_do_not_fit_is_no_answer() -> None:
    assert find_slip(Statement("claim", rel(v, a * t)), lambda _: True, fits=lambda _: False).found == "none"


def test_the_search_stops_after_what_it_may_cost_and_says_that_not_all_was_tried() -> None:
    long = rel(v, sum((x * i for i in range(2, 30)), a * t))
    asked: list[Claim] = []

    def dear(claim: Claim) -> bool:
        asked.append(claim)
        return False

    plain = find_slip(Statement("claim", long), lambda _: False)
    costly = find_slip(Statement("claim", long), dear, spent=lambda: 50 * len(asked))

    assert (plain.found, plain.tried, plain.all_tried) == ("none", MOST_EFFORT, False)
    assert (costly.tried, costly.all_tried) == (MOST_EFFORT // 50, False)


def test_the_search_stops_where_its_seconds_of_computing_are_used_up() -> None:
    right = rel(v ** 2, 2 * g * h)

    with allowance(-1):
        slip = find_slip(Statement("claim", rel(v, 2 * g * h)), lambda c: alike(c, right))

    assert (slip.found, slip.tried, slip.all_tried) == ("none", 0, False)


def test_a_search_is_given_three_tenths_of_a_second_with_its_preparation() -> None:
    check = check_text("v = u + a t\nu = 0\nv = a t^2\n")

    named, out_of_time = explain(check), explain(check, seconds=-1)

    assert SEARCH_BUDGET == 0.3
    assert [e.slip.found for e in named] == ["one"]
    assert [e.slip.found for e in out_of_time] == ["none"]


def test_a_statement_without_a_claim_or_of_enormous_size_has_no_slip() -> None:
    enormous = Relation((tree(v), Sum(tuple(Name("x") for _ in range(5000)))), ("=",))

    assert find_slip(Statement("regime", None), lambda _: True).found == "none"
    assert find_slip(Statement("claim", enormous), lambda _: True).found == "none"


def typed_line() -> Relation:
    """`N = m g sin θ` with the place of its function as a reader would give it."""
    wrong = sin(θ).node
    return rel(N, m * g * type(θ)(type(wrong)("sin", θ.node, span=Span(8, 13))))


def test_each_grade_tells_more_and_only_the_last_shows_what_should_have_stood() -> None:
    right = rel(N, m * g * cos(θ))
    slip = find_slip(Statement("claim", typed_line()), lambda c: alike(c, right))
    said = {
        grade: [sentence(hint.code, hint.facts) for hint in hints(slip, grade, "N = m g sin θ", lambda _: "cos θ")]
        for grade in ("place", "kind", "edit")
    }

    assert said["place"] == ["Look again at “sin θ”."]
    assert said["kind"][0].startswith("Another function is needed in “sin θ”.")
    assert said["edit"][1] == "“sin θ” should read cos θ."
    assert not any("cos" in s for grade in ("place", "kind") for s in said[grade])


def test_nothing_is_made_up_where_no_slip_was_found() -> None:
    slip = find_slip(Statement("claim", rel(v, a * t)), lambda _: False)

    assert [hint.code for hint in hints(slip, "edit", "v = a t", text)] == ["slip.unclear"]


def test_of_several_the_lower_grades_say_what_they_share_and_the_highest_shows_them_all() -> None:
    same = [{"v": 1.0 + i, "a": 1.0 + i, "u": 2.0 + i, "b": 2.0 + i} for i in range(3)]
    slip = find_slip(Statement("claim", rel(v, a + u + b)), holds_in(same))

    assert [h.code for h in hints(slip, "place", "", text)] == ["slip.several"]
    assert [h.code for h in hints(slip, "kind", "", text)] == ["slip.sign"]
    assert [h.code for h in hints(slip, "edit", "", text)] == ["slip.sign", "slip.edit_sign", "slip.edit_sign"]


def test_a_piece_is_quoted_with_the_bracket_that_belongs_to_it() -> None:
    right, wrong = rel(v, sqrt(k / m)), Quotient(m.node, k.node, span=Span(6, 10))
    slip = find_slip(Statement("claim", rel(v, sqrt(wrong))), lambda c: alike(c, right))

    (hint,) = hints(slip, "place", "v = √(m/(k))", text)

    assert dict(hint.facts)["term"] == "m/(k)"


def test_an_inequality_that_positive_things_satisfy_anyway_says_nothing() -> None:
    assert empty(rel(v ** 2, "≥", -(g * h)))
    assert not empty(rel(v ** 2, "≥", g * h))


def test_forms_that_say_the_same_are_alike_and_others_are_not() -> None:
    assert alike(rel(v, sqrt(2 * g * h)), rel(v ** 2, 2 * g * h))
    assert alike(rel(m * a, m * g), rel(a, g))
    assert alike(rel(a - b, c), rel(a, b + c))
    assert not alike(rel(a, b), rel(a, -b))
    assert not alike(rel(a, "<", b), rel(a, ">", b))
    assert alike(rel(a, "<", b), rel(b, ">", a)) and alike(rel(-a, "<", -b), rel(a, ">", b))
    assert not alike(rel(a, "≤", b), rel(a, "<", b))
    assert not alike(rel(v, k * x), rel(v, k * x ** 2))
