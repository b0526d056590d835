"""What words say further of a result, and names with an index or a place behind them."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.printed.printing import as_text
from derive.notation.reader import read_expression, read_line
from derive.records import RawLine, Span, Symbol, Unreadable

QUICK = Scope(quick=True)


def read(typed: str, scope: Scope) -> list[tuple[str, str]]:
    """The claims of the first reading of a line, and of what they are said."""
    found = read_line(RawLine(1, typed, body=Span(0, len(typed))), scope)
    assert not isinstance(found, Unreadable), found
    return [(as_text(s.claim) if s.claim else "", as_text(s.where) if s.where else "") for s in found[0].statements]


def below(previous: str, *known: str, ratio: bool = False) -> Scope:
    """Below a line that ends in an expression, with some names met."""
    expression = read_expression(previous, QUICK)
    assert not isinstance(expression, Unreadable)
    return Scope({n: Symbol(n, declared=False) for n in known}, quick=True, previous=expression, ratio=ratio)


@pytest.mark.parametrize(("typed", "claim", "where"), [
    ("that is 20 % of L", "= (20 %)·L", ""),
    ("for μ = 0.25 that is 20 % of L", "= (20 %)·L", "μ = 0.25"),
    ("with μ = 0.25 that is 3 m", "= 3 m", ""),
    ("largest, 1, for m = M", "= 1", "m = M"),
    ("maximum, L/2, at μ = 1", "= L/2", "μ = 1"),
])
def test_words_go_on_from_the_last_side_above(typed: str, claim: str, where: str) -> None:
    assert read(typed, below("μ L/(1 + μ)", "μ", "L"))[-1] == (claim, where)


def test_a_share_without_a_whole_is_one_of_a_ratio_alone() -> None:
    assert read("that is 10.5 %", below("0.105", ratio=True)) == [("= 10.5 %", "")]
    assert read("that is 10.5 %", below("1.5", ratio=False)) == []


def test_a_number_in_a_case_goes_on_from_no_number() -> None:
    assert read("for v = 20 m/s that is 40 kW", below("30 kW", "v")) != [("= 40 kW", "v = 20 m/s")]


@pytest.mark.parametrize(("typed", "claim"), [
    ("v = 25 m/s, that is 90 km/h", "v = 25 m/s = 90 km/h"),
    ("loss = 9 J, 60 % of E0", "loss = 9 J = (60 %)·E_0"),
])
def test_what_a_value_is_besides_stands_behind_it(typed: str, claim: str) -> None:
    assert read(typed, Scope({"E_0": Symbol("E_0", declared=False)}, quick=True)) == [(claim, "")]


def test_of_a_share_of_nothing_the_message_asks_for_the_whole() -> None:
    typed = "loss = 9 J, 60 %"
    found = read_line(RawLine(1, typed, body=Span(0, len(typed))), QUICK)
    assert isinstance(found, Unreadable)
    assert "60 % of E" in found.expected


@pytest.mark.parametrize(("typed", "claim"), [
    ("(x')_max = 3", "x'_max = 3"),
    ("|x''|_max = 3", "x''_max = 3"),
    ("(dx/dt)_max = 3", "x'_max = 3"),
    ("(ẋ)_max = 3", "x'_max = 3"),
])
def test_an_index_behind_a_bracket_is_one_of_the_name_within(typed: str, claim: str) -> None:
    assert read(typed, QUICK) == read(claim, QUICK)


@pytest.mark.parametrize(("typed", "said"), [
    ("v at bottom = √(2 g h)", "at bottom: v = √(2 g h)"),
    ("N at the top = 0", "at the top: N = 0"),
])
def test_a_place_behind_a_name_is_where_it_is_said(typed: str, said: str) -> None:
    assert read(typed, QUICK) == read(said, QUICK)


def test_a_figure_over_letters_is_a_logarithm_of_the_figure_alone() -> None:
    assert read("t = ln 10/c", QUICK) == [("t = ln(10)/c", "")]
    assert read("t = ln 10/3", QUICK) == [("t = ln(10/3)", "")]


def test_a_label_that_is_a_known_mass_may_be_a_factor() -> None:
    line = RawLine(1, "(m) a = m g", "m", Span(4, 11))
    found = read_line(line, Scope({n: Symbol(n, declared=False) for n in "mag"}, quick=True))
    assert not isinstance(found, Unreadable)
    assert [as_text(r.statements[0].claim) for r in found if r.statements[0].claim][-1] == "m a = m g"
