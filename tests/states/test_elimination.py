"""Unknowns taken out of a system exactly: it has the same states, and nothing is divided by that may vanish."""

from __future__ import annotations

import numpy as np
import pytest

from derive.states.elimination import cancels, linear, reduced
from derive.terms.tape import Tape
from derive.terms.term import ZERO, Var, add, mul, sub, var, variables
from tests.states.test_points import SYSTEMS
from tests.systems import POSITIVE, REAL, off, priors, states, system
from tests.typed import term


def test_a_chain_of_equations_that_give_one_unknown_each_leaves_nothing_to_search() -> None:
    s = system("F = -k*y", "F = m*y_tt", "E = m*y_t^2/2 + k*y^2/2")
    left = reduced(s.equations, (), priors("m k"))

    assert left.equations == ()
    assert {v.name for v, _ in left.given} == {"F", "y", "E"}


@pytest.mark.parametrize("name", SYSTEMS)
def test_what_is_given_satisfies_the_equations_it_came_from(name: str) -> None:
    s, prior = SYSTEMS[name]
    left = reduced(s.equations, s.positive, prior)
    cloud = states(s, prior)

    assert all(off(cloud, sub(var(v), value)) < 1e-9 for v, value in left.given)
    assert not {v for v, _ in left.given} & set(variables(*left.equations))


def test_an_unknown_below_the_line_is_given_where_it_has_a_sign() -> None:
    s = system("e = P/Q", "e = 1/2", "P = 3")

    assert reduced(s.equations, (), priors("e P Q")).equations == ()


def test_an_unknown_is_not_divided_out_by_what_may_vanish() -> None:
    s = system("u*v = w*v")

    assert reduced(s.equations, (), priors()).given == ()


def test_it_is_where_the_factor_has_a_sign() -> None:
    left = reduced(system("u*v = w*v").equations, (), lambda v: POSITIVE if v.name == "v" else REAL)

    assert [v.name for v, _ in left.given] == ["u"]


def test_a_positive_unknown_is_taken_out_only_for_something_positive() -> None:
    prior = priors("a b c")

    assert [v.name for v, _ in reduced(system("a = b*c").equations, (), prior).given] == ["a"]
    assert reduced(system("a - b + sin(x)").equations, (), prior).given == ()
    assert [v.name for v, _ in reduced(system("a + b*x").equations, (), prior).given] == ["x"]


def test_plain_contradictions_are_seen_before_any_search() -> None:
    assert reduced(system("x = 3", "x = 4").equations, (), priors()).impossible


def test_complex_systems_are_left_alone() -> None:
    s = system("x = i*y")

    assert reduced(s.equations, (), priors()).equations == s.equations


@pytest.mark.parametrize(("text", "factor", "rest"), [
    ("a*x + b", "a", "b"), ("m*(x + y) - x", "m - 1", "m*y"), ("3*x", "3", "0"), ("y", "0", "y"),
])
def test_a_term_is_split_by_an_unknown_it_is_linear_in(text: str, factor: str, rest: str) -> None:
    split = linear(term(text), Var("x"))

    assert split is not None
    env = {Var(n): np.array([value]) for n, value in zip("abmxy", (2.0, 3.0, 5.0, 7.0, 11.0), strict=True)}
    found = Tape([*split, term(factor), term(rest)]).run(env)
    assert found[0] == pytest.approx(found[2])
    assert found[1] == pytest.approx(found[3])


@pytest.mark.parametrize("text", ["x^2", "sin(x)", "x*(x + 1)", "1/x"])
def test_a_term_that_is_not_linear_is_not_split(text: str) -> None:
    assert linear(term(text), Var("x")) is None


def test_terms_that_cancel_one_by_one_are_seen_to() -> None:
    x, y = term("x"), term("y")

    assert cancels(add(mul(x, y), sub(x, mul(y, x)), sub(ZERO, x)))
    assert not cancels(add(x, y))
