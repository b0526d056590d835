"""Products written as short as they are; nothing else about a term is changed."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.reader import read_expression
from derive.terms.calculus import derivative
from derive.terms.lowering import lower
from derive.terms.term import ONE, ZERO, Term, Var
from derive.terms.tidying import tidied
from derive.terms.world import World
from derive.terms.writing import written


def term(text: str) -> Term:
    found = lower(read_expression(text, Scope(quick=True)), World())  # type: ignore[arg-type]
    assert isinstance(found, Term)
    return found


@pytest.mark.parametrize(("typed", "short"), [
    ("a b/(b c)", "a/c"), ("(1/(T/T_1)) (u/T_1)", "u/T"), ("ω A ω", "ω^2 A"), ("-2 (x/2)", "-x"),
    ("cos(ω t) ω B", "ω B cos(ω t)"), ("2 x g/(2 u^2)", "x g/u^2"), ("(a + b) c/(a + b)", "c"), ("√x √x", "x"),
    ("1/(a/b)^2", "b^2/a^2"), ("a - b", "a - b"), ("(a + b)^2", "(a + b)^2"),
])
def test_what_cancels_in_a_product_is_cancelled(typed: str, short: str) -> None:
    assert written(term(typed)) == short


def test_a_rate_found_by_rule_is_written_as_a_person_would() -> None:
    rate = derivative(term("(F/b) (1 - e^(-b t/m))"), lambda v: ONE if v == Var("t") else ZERO)

    assert written(rate) == "F e^(-b t/m)/m"


def test_a_tidied_term_stays_as_it_is() -> None:
    once = tidied(term("a b sin(x y/x)/(b c)"))

    assert tidied(once) is once
