"""What has to vanish for sines and cosines of one phase to come to nothing at all times."""

import pytest

from derive.states.phases import wave_of
from derive.terms.term import Var, fun, mul, neg, num, power, sub, var

T, A, B, W, D = (var(Var(n)) for n in ("t", "A", "B", "ω", "δ"))
PHASE = mul(W, T)


def vanishing(*terms):
    wave = wave_of(sub(*terms) if len(terms) > 1 else terms[0], Var("t"))
    assert wave is not None
    return set(wave.parts())


def test_what_stands_before_the_sine_and_the_cosine_is_nothing_each():
    wave = sub(mul(A, fun("cos", PHASE)), mul(B, fun("sin", PHASE)))

    assert vanishing(wave) == {A, neg(B)}


def test_a_phase_at_the_start_is_taken_apart():
    assert vanishing(mul(A, fun("cos", sub(PHASE, D))), mul(B, fun("cos", PHASE))) == {
        sub(mul(A, fun("cos", D)), B), mul(A, fun("sin", D))}


def test_what_does_not_wave_is_nothing_too():
    assert vanishing(mul(A, fun("sin", PHASE)), B) == {A, neg(B)}


@pytest.mark.parametrize("odd", [
    sub(mul(A, fun("cos", PHASE)), mul(B, fun("cos", mul(D, T)))),
    sub(power(fun("cos", PHASE), num(2)), A),
    mul(fun("cos", PHASE), fun("sin", PHASE)),
    sub(fun("cos", mul(W, power(T, num(2)))), A),
])
def test_of_two_rates_or_products_of_waves_nothing_is_said(odd):
    assert wave_of(odd, Var("t")) is None
