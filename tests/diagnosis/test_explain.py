"""A break in a typed working is explained from the engine's own states, and nothing is given away too early."""

from __future__ import annotations

import pickle

import pytest

from derive.check import check_text
from derive.diagnosis.explain import Explained, explain, remarks
from derive.diagnosis.results import observations
from derive.messages import sentence

INCLINE = """Symbols:
  m : kg, positive
  a : m/s^2
  g : m/s^2, positive
  N : N, positive
  f : N, positive
  μ : 1, positive -- friction
  θ : rad, 0 < θ < π/2
Given:
  (a)  m a = m g sin θ - f
  (b)  N = m g cos θ
  (c)  f = μ N
Working:
"""
SWING = """Symbols:
  m : kg, positive
  k : N/m, positive
  T : s, positive
  ω : rad/s, positive
  y(t) : m
Given:
  (a)  m y'' = -k y
  (b)  ω² = k/m
  (c)  T = 2π/ω
Working:
"""


def explained(head: str, *lines: str) -> Explained:
    (found,) = explain(check_text(head + "\n".join(f"  {line}" for line in lines) + "\n"))
    return found


@pytest.mark.parametrize(("head", "line", "kind", "term"), [
    (INCLINE, "m a = m g sin θ + μ m g cos θ", "slip.sign", "μ m g cos θ"),
    (INCLINE, "m a = m g cos θ - f", "slip.function", "cos θ"),
    (INCLINE, "a = g sin θ - μ m g cos θ", "slip.forgotten_factor", "μ m g cos θ"),
    (INCLINE, "m a = m g sin θ - 2 μ m g cos θ", "slip.factor", "2 μ m g cos θ"),
    (INCLINE, "m a = m g sin θ", "slip.missing_term", "m g sin θ"),
    (SWING, "T = 2π √(k/m)", "slip.upside_down", "k/m"),
    (SWING, "T = √(m/k)", "slip.circle", "√(m/k)"),
    (SWING, "T = 2π √(k/m) = 2.1 s", "slip.upside_down", "k/m"),
    (SWING, "T = 2π m/k", "slip.root", "2π m/k"),
    (SWING, "y'' = (k/m) y", "slip.sign", "(k/m) y"),
    (SWING, "y'' = -ω y", "slip.power", "ω"),
])
def test_the_kind_of_slip_and_the_term_are_named_in_the_writers_own_words(
    head: str, line: str, kind: str, term: str
) -> None:
    (hint,) = explained(head, f"(1)  {line}").told("kind")

    family = {"slip.dropped_term": "slip.missing_term"}
    assert (family.get(hint.code, hint.code), dict(hint.facts)["term"]) == (kind, term)


def test_only_the_grade_for_a_marker_shows_what_should_stand_there_or_what_the_reason_would_give() -> None:
    found = explained(INCLINE, "(1)  a = g sin θ + f/m   [divide (a) by m]")

    said = {
        grade: " ".join(sentence(h.code, h.facts) for h in found.told(grade)) for grade in ("place", "kind", "edit")
    }

    assert said["place"] == "Look again at “f/m”."
    assert said["kind"] == "The sign of “f/m” does not fit."
    assert "should have the other sign" in said["edit"]
    assert "“divide (a) by m” done to (a) gives" in said["edit"]


def test_an_unbroken_working_has_nothing_to_explain() -> None:
    assert explain(check_text(SWING + "  T = 2π √(m/k)\n")) == ()


def test_a_right_line_with_a_wrong_reason_gets_a_remark_and_one_with_a_right_reason_none() -> None:
    rows = ("(1)  m a = m g sin θ - μ N   [from (a) and (c)]", "(2)  m g cos θ = N   [from (c)]",
            "(3)  f/m = μ N/m   [divide (c) by m]", "(4)  N/m = g cos θ   [divide (b) by g]")

    found = remarks(check_text(INCLINE + "\n".join(f"  {row}" for row in rows)), budget=5)

    assert [(line.label, sentence(hint.code, hint.facts)) for line, hint in found] == [
        ("2", "The line is right, but it comes from (b) rather than from (c)."),
        ("4", "The line is right, but “divide (b) by g” is not what was done."),
    ]


def test_a_check_sent_elsewhere_is_explained_as_well() -> None:
    check = check_text(SWING + "  (1)  y'' = (k/m) y\n")
    sent = pickle.loads(pickle.dumps(check))

    assert sent == check and sent.stages == ()
    assert [h.code for h in explain(sent)[0].told("kind")] == ["slip.sign"]


def test_a_final_result_is_looked_at_where_it_is_given_by_symbols() -> None:
    found = observations(check_text(SWING + "  (1)  T = 2π √(m/k)\n"))

    assert found is not None
    assert [sentence(seen.code, seen.facts) for seen in found[1]] == [
        "T comes out as a time (s), as it should.", "As m goes to 0, so does T.",
        "As m grows very large, T grows without bound.",
    ]


@pytest.mark.parametrize(("line", "said"), [
    ("f > N", "slip.assumed"), ("μ < 1", "slip.assumed"), ("f > m g", "slip.unclear"), ("a > g", "slip.direction"),
])
def test_of_a_bare_assumption_it_is_said_how_to_make_one(line: str, said: str) -> None:
    assert explained(INCLINE, line).told("kind")[0].code == said
