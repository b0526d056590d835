"""Whether an equation keeps the terms of another in proportion."""

from __future__ import annotations

import pytest

from derive.notation.names import Scope
from derive.notation.reader import read_claim
from derive.notation.tree import Relation
from derive.terms.kinship import monomials, own_law
from derive.terms.lowering import lower
from derive.terms.term import Term, Var, add, num, power, sub, var
from derive.terms.world import World


def term(text: str) -> Term:
    claim = read_claim(text, Scope(quick=True))
    assert isinstance(claim, Relation)
    left, right = (lower(s, World()) for s in claim.sides)
    assert isinstance(left, Term) and isinstance(right, Term)
    return sub(left, right)


MOMENTUM = "m u = m v + M V"


@pytest.mark.parametrize("typed", ["½ m u² = ½ m v² + ½ M V²", "J ω = m v r + M V R"])
def test_a_law_of_its_own_keeps_no_proportion(typed: str) -> None:
    assert own_law(term(typed), [term(MOMENTUM)])


@pytest.mark.parametrize("typed", [
    "m (u - v) = M V", "u = v - M V/m", "m u = m v - M V", "m² u² = m² v² + M² V²", "2 m u + m v = M V",
    "u + v = w + V",
])
def test_a_step_with_or_without_a_slip_does(typed: str) -> None:
    assert not own_law(term(typed), [term(MOMENTUM)])


def test_two_terms_are_too_few_to_tell() -> None:
    assert not own_law(term("F = m a"), [term("p = m v")])


def test_a_long_product_of_sums_is_given_up_in_bounds() -> None:
    many = add(*(var(Var(f"x_{k}")) for k in range(30)))
    assert monomials(power(many, num(4))) is None
