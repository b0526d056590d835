"""Integrals between limits that are worked out at sight are what a quadrature makes of them."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from derive.terms.sweeping import swept
from derive.terms.tape import Tape
from derive.terms.term import MINUS_ONE, ONE, TWO, ZERO, Term, Var, add, fun, integral, mul, num, power, var

X = Var("x", role="dummy")
A, B, K = var(Var("a")), var(Var("b")), var(Var("k"))
AT = {Var("a"): np.array([0.5, 2.0]), Var("b"): np.array([1.5, 7.0]), Var("k"): np.array([3.0, -2.0])}


@pytest.mark.parametrize("body", [
    ONE, K, var(X), mul(K, power(var(X), TWO)), power(var(X), MINUS_ONE), mul(K, power(var(X), num(Fraction(-3, 2)))),
    add(mul(TWO, var(X)), K, power(var(X), MINUS_ONE)),
])
def test_a_sum_of_powers_is_integrated(body: Term) -> None:
    whole = integral(body, X, A, B)

    assert swept(whole).op != "int"
    assert np.allclose(Tape([swept(whole)]).run(AT)[0], Tape([whole]).run(AT)[0], rtol=1e-9)


@pytest.mark.parametrize(("body", "lower"), [(fun("sin", var(X)), A), (power(var(X), MINUS_ONE), ZERO)])
def test_what_is_no_sum_of_powers_or_has_no_value_is_left(body: Term, lower: Term) -> None:
    whole = integral(body, X, lower, B)

    assert swept(whole) is whole
