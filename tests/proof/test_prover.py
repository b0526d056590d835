"""Textbook steps are proved, their wrong twins are not, and it is fast."""

from __future__ import annotations

from statistics import median

import pytest

from derive.proof.certificate import recheck
from derive.proof.prover import prove
from derive.terms.term import ONE, add, fun, num, power
from tests.effort import effort
from tests.proof.textbook import STEPS, Step
from tests.typed import facts, premises, proof, term


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS.keys())
def test_a_textbook_step_is_proved_from_its_premises(step: Step) -> None:
    found = proof(step.shown, *step.given, signs=step.signs, known=step.known, moving=step.moving)
    assert found is not None
    assert recheck(found, facts(step.signs, step.known, step.moving))


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS.keys())
def test_its_wrong_twin_is_not(step: Step) -> None:
    assert proof(step.wrong, *step.given, signs=step.signs, known=step.known, moving=step.moving) is None


@pytest.mark.parametrize("step", [s for s in STEPS.values() if s.given], ids=[n for n, s in STEPS.items() if s.given])
def test_a_step_is_not_proved_without_its_premises(step: Step) -> None:
    assert proof(step.shown, signs=step.signs, known=step.known, moving=step.moving) is None


def test_what_may_be_nothing_is_not_divided_by() -> None:
    assert proof("a = F/m", "m*n*a = F*n") is None
    assert proof("a = F/m", "m*n*a = F*n", known="n != 0") is not None


def test_a_denominator_that_is_written_is_not_nothing() -> None:
    """`F/m` has a value only where m is not 0."""
    assert proof("a = F/m", "m*a = F") is not None


def test_a_root_of_unknown_sign_is_not_taken_with_one_sign() -> None:
    assert proof("v = sqrt(2*g*h)", "v^2 = 2*g*h", signs="g h positive") is None


def test_only_the_premises_that_were_needed_are_named() -> None:
    found = proof("a = F/m", "P = q*v", "m*a = F", "E = m*v^2/2", "p = m*v")
    assert found is not None
    assert found.labels == ("(2)",)


def test_irrelevant_premises_do_not_hinder() -> None:
    noise = [f"x{k}^2*y{k} + z{k} = x{k}*w{k} + {k}" for k in range(9)]
    found = proof("v = sqrt(2*g*h)", *noise, "m*v^2/2 = m*g*h", signs="m v g h positive")
    assert found is not None
    assert found.labels == ("(10)",)


def test_contradictory_premises_prove_nothing_that_was_not_asked_of_them() -> None:
    """From x = 1 and x = 2 everything follows; what matters is that the certificate says from what."""
    found = proof("y = 7", "x = 1", "x = 2")
    assert found is None or set(found.labels) == {"(1)", "(2)"}


def test_the_budget_is_kept() -> None:
    wide = " + ".join(f"a{k}*b{k}^3" for k in range(12))
    given = premises(*(f"({wide})^2 = c{k}*d{k}^5 + e{k}*({wide})" for k in range(12)))

    assert effort(lambda: prove(term("u = v*w"), given, facts(), 0.2)) < 8_000_000


@pytest.mark.parametrize("shown", [
    fun("inf"),
    add(power(num(9), power(num(9), power(num(9), num(9)))), ONE),
    power(add(term("x"), term("y")), num(10**6)),
    power(term("x + y + z + u + v + w"), num(60)),
    power(power(power(num(9), num(50)), num(60)), num(60)),
], ids=["an infinity", "a tower", "a huge power", "a power of a sum", "powers of powers"])
def test_enormous_or_infinite_terms_are_given_up_at_once(shown: object) -> None:
    found: list[object] = []

    assert effort(lambda: found.append(prove(shown, (), facts(), 0.5))) < 8_000_000  # type: ignore[arg-type]
    assert found == [None]


def test_deep_terms_do_not_exhaust_the_stack() -> None:
    t = term("x")
    for _ in range(5000):
        t = fun("sin", add(t, ONE))
    assert prove(add(t, term("-x")), (), facts(), 0.5) is None


def test_the_median_textbook_step_takes_little_effort() -> None:
    """Counted, not timed: about a millisecond for every ten thousand calls."""
    made = [
        effort(lambda s=step: proof(s.shown, *s.given, signs=s.signs, known=s.known, moving=s.moving))  # type: ignore[misc]
        for step in STEPS.values()]

    assert median(made) < 40_000
