"""Terms made numeric: their values against mpmath, their gradients against differences, integrals by quadrature."""

from __future__ import annotations

import math

import mpmath
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from derive.terms.tape import Tape, TooLarge
from derive.terms.term import Term, Var, add, num, postorder, var, variables
from tests.typed import term

VALUES = {"x": 0.37, "y": 1.9, "m": 2.3, "k": 0.8}

TYPED = (
    "m*x^2/2 + k*y",
    "sin(x)*cos(y) + tan(x)/y",
    "sqrt(k/m)*exp(-x*y)",
    "ln(1 + x^2) - arctan(y/x)",
    "cosh(x) - sinh(y)*tanh(x)",
    "(x + y)^3/(m - k)^2",
    "arcsin(x)*arccos(x/2) + arcsinh(y)",
    "x^y + y^(1/3)",
    "abs(x - y) + cbrt(m)",
    "integral(x^2*m, x, 0, y)",
    "integral(exp(-k*x)*sin(x), x, k, y)",
    "integral(1/x, x, k, m*y)",
    "integral(integral(x*y^2, y, 0, 2), x, 0, k)",
    "integral(integral(x^2*sin(y), y, 1, 2), x, 0, m)",
)


def env(**more: float) -> dict[Var, np.ndarray]:
    return {Var(n): np.array([v]) for n, v in {**VALUES, **more}.items()}


def by_mpmath(t: Term, values: dict[str, mpmath.mpf]) -> mpmath.mpf:
    """The value of a term by another library, integrals by its own quadrature."""
    args = t.args
    if t.op == "num":
        return mpmath.mpf(t.value.numerator) / t.value.denominator
    if t.op == "var":
        return values[f"{t.value.role}:{t.value.name}"]
    if t.op == "int":
        lower, upper = by_mpmath(args[1], values), by_mpmath(args[2], values)
        name = f"dummy:{t.value.name}"
        return mpmath.quad(lambda x: by_mpmath(args[0], {**values, name: x}), [lower, upper])
    inner = [by_mpmath(a, values) for a in args]
    if t.op == "add":
        return mpmath.fsum(inner)
    if t.op == "mul":
        return mpmath.fprod(inner)
    if t.op == "pow":
        return inner[0] ** inner[1]
    names = {"arcsin": "asin", "arccos": "acos", "arctan": "atan", "arcsinh": "asinh", "abs": "fabs"}
    name = str(t.value)
    return getattr(mpmath, names.get(name, name))(*inner) if inner else mpmath.pi


def exact(t: Term, **more: float) -> float:
    values = {f"value:{n}": mpmath.mpf(v) for n, v in {**VALUES, **more}.items()}
    return float(by_mpmath(t, values))


@pytest.mark.parametrize("typed", TYPED)
def test_a_tape_has_the_values_that_another_library_finds(typed: str) -> None:
    t = term(typed)

    assert Tape([t]).run(env())[0][0] == pytest.approx(exact(t), rel=1e-9)


@pytest.mark.parametrize("typed", TYPED)
def test_a_gradient_is_what_differences_come_to(typed: str) -> None:
    t = term(typed)
    by = list(variables(t))
    _, slopes = Tape([t]).jacobian(env(), by)
    h = 1e-5
    for k, v in enumerate(by):
        at = VALUES[v.name]
        difference = (exact(t, **{v.name: at + h}) - exact(t, **{v.name: at - h})) / (2 * h)

        assert slopes[0][k][0] == pytest.approx(difference, rel=1e-6, abs=1e-8)


def test_what_the_factors_of_a_product_lose_adds_up_and_does_not_multiply() -> None:
    tape = Tape([term("cosh(x)^3*cosh(y)^(-3)*cosh(y)^5*cosh(x)^(-5)*cosh(x)^7*cosh(y)^(-7)*m^2*k^(-2)")])

    value, size = tape.run(env())[0][0], tape.magnitudes(env())[0][0]

    assert size <= 100 * abs(value)


def test_magnitudes_are_measured_before_parts_cancel() -> None:
    t = term("1000000*x - 1000000*x + y")
    tape = Tape([t])

    assert tape.run(env())[0][0] == pytest.approx(VALUES["y"], rel=1e-9)
    assert tape.magnitudes(env())[0][0] >= 2e6 * VALUES["x"]


def test_states_stand_side_by_side_in_columns() -> None:
    t = term("x*y")
    columns = {Var("x"): np.array([1.0, 2.0, 3.0]), Var("y"): np.array([4.0, 5.0, 6.0])}

    assert Tape([t]).run(columns)[0] == pytest.approx([4, 10, 18])


def test_a_negative_base_keeps_its_sign_under_an_odd_root() -> None:
    assert Tape([term("x^(1/3)")]).run(env(x=-8.0))[0][0] == pytest.approx(-2)


def test_an_integral_to_infinity_is_found() -> None:
    from derive.terms.lowering import INFINITY
    from derive.terms.term import integral, mul, power

    bound = Var("x", role="dummy")
    t = integral(mul(var(Var("k")), power(var(bound), num(-2))), bound, var(Var("m")), INFINITY)

    assert Tape([t]).run(env())[0][0] == pytest.approx(VALUES["k"] / VALUES["m"], rel=1e-9)


def test_a_value_outside_a_function_is_no_number_rather_than_an_error() -> None:
    assert math.isnan(Tape([term("sqrt(x)")]).run(env(x=-1.0))[0][0])


def test_a_term_with_more_parts_than_mathematics_needs_is_refused() -> None:
    t = add(*(term(f"x^{k}") for k in range(2, 6000)))

    with pytest.raises(TooLarge):
        Tape([t])


NAMES = st.sampled_from(["x", "y", "m", "k"]).map(lambda n: var(Var(n)))
LEAVES = st.one_of(NAMES, st.integers(1, 5).map(num))


def grown(inner: st.SearchStrategy[Term]) -> st.SearchStrategy[Term]:
    from derive.terms.term import fun, mul

    pairs = st.tuples(inner, inner)
    return st.one_of(
        pairs.map(lambda p: add(*p)), pairs.map(lambda p: mul(*p)),
        st.tuples(st.sampled_from(["sin", "cos", "arctan"]), inner).map(lambda p: fun(*p)))


@settings(max_examples=60, deadline=None)
@given(st.recursive(LEAVES, grown, max_leaves=12))
def test_any_term_made_of_sums_products_and_waves_has_the_same_value_by_both(t: Term) -> None:
    found = np.broadcast_to(Tape([t]).run(env())[0], (1,))[0]

    size = max(abs(exact(s)) for s in postorder(t))
    assert found == pytest.approx(exact(t), rel=1e-9, abs=1e-11 * size)
