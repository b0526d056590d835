"""Every node knows the columns it was typed in, whatever was folded on the way."""

from __future__ import annotations

import pytest

from derive.notation.reader import read_line
from derive.notation.tree import Apply, Derivative, Name, Num, Power, Product, Quotient, Relation, Span, Sum, Unit, walk
from derive.records import RawLine, Unreadable
from tests.notation.trees import QUICK, read

# Typed, the kind of node, and the columns of its first occurrence as text.
PLACES = (
    ("F = m a", Product, "m a"),
    ("F = −m·g sin θ", Apply, "sin θ"),
    ("x = ½ a t²", Power, "t²"),
    ("a = (b + c)/d", Sum, "b + c"),
    ("y = \\frac{a}{b} c", Quotient, "\\frac{a}{b}"),
    ("ẍ = 3", Derivative, "ẍ"),
    ("x\u0308 = 3", Derivative, "x\u0308"),
    ("v = \\dot{x} + u", Derivative, "\\dot{x}"),
    ("x’’ = 2", Derivative, "x’’"),
    ("mgsinθ = F", Apply, "sinθ"),
    ("m = 0.40 kg", Unit, "kg"),
    ("m\u00a0=\u00a012\u202f000", Num, "12\u202f000"),
    ("ｘ = ２", Num, "２"),
    ("d²y/dt² = a", Derivative, "d²y/dt²"),
    ("so\ty = √(k/m)", Apply, "√(k/m)"),
)


@pytest.mark.parametrize(("typed", "kind", "text"), PLACES)
def test_a_node_knows_where_it_was_typed(typed: str, kind: type, text: str) -> None:
    statement = read(typed)[0].statements[0]
    node = next(node for node in walk(statement.claim) if isinstance(node, kind))
    span = node.span  # type: ignore[attr-defined]

    assert typed[span.start:span.end] == text


def test_columns_count_from_the_start_of_the_line_and_not_of_its_body() -> None:
    found = read_line(RawLine(4, "  (3)  F = m a   [from (1)]", body=Span(7, 14)), QUICK)
    assert not isinstance(found, Unreadable)
    claim = found[0].statements[0].claim

    assert isinstance(claim, Relation)
    assert claim.span == Span(7, 14)
    assert [n.span for n in walk(claim) if isinstance(n, Name)] == [Span(7, 8), Span(11, 12), Span(13, 14)]


def test_a_statement_of_several_has_its_own_place() -> None:
    typed = "F = m a, so a = F/m at t = 0"
    spans = [s.span for s in read(typed)[0].statements]

    assert [typed[s.start:s.end] for s in spans if s is not None] == ["F = m a", "a = F/m at t = 0"]


def test_an_unreadable_place_is_counted_in_typed_columns() -> None:
    found = read_line(RawLine(1, "½ m v² = \\alpha +", body=Span(0, 17)), QUICK)

    assert isinstance(found, Unreadable)
    assert found.span == Span(16, 17)
