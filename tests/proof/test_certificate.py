"""A certificate says what it shows, survives being stored, and is refused when anything in it was changed."""

from __future__ import annotations

import json
import pickle
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from derive.proof.certificate import explain, recheck, to_json
from derive.proof.records import Certificate, Derived, Facts, Premise, Reading, Source, Step
from derive.terms.signs import Known
from derive.terms.term import ONE, Term, Var, add, fun, mul, sub, var
from tests.proof.textbook import STEPS
from tests.typed import facts, premises, proof, term


@cache
def certificate(name: str) -> Certificate | None:
    step = STEPS[name]
    return proof(step.shown, *step.given, signs=step.signs, known=step.known, moving=step.moving)


@pytest.mark.parametrize("name", STEPS)
def test_a_certificate_holds_after_a_pickle_round_trip(name: str) -> None:
    made = certificate(name)
    assert made is not None
    again = pickle.loads(pickle.dumps(made))
    assert again == made
    assert recheck(again)


_JARGON = ("ideal", "groebner", "residual", "polynomial", "cofactor")


@pytest.mark.parametrize("name", STEPS)
def test_a_certificate_is_plain_json_and_says_something_in_words(name: str) -> None:
    made = certificate(name)
    assert made is not None
    data = json.loads(json.dumps(to_json(made)))
    assert data["relation"] == made.relation
    assert len(data["steps"]) == len(made.steps)
    words = explain(made)
    assert words
    assert all(line.endswith(".") and line.strip() for line in words)
    assert not any(word in " ".join(words).lower() for word in _JARGON)


# --- changed certificates ---------------------------------------------------------------------------

_MEANT = {"label", "move", "about", "how"}  # words for the reader: they carry no part of the proof


def _changes(value: object) -> Iterator[object]:
    """Values that differ from one in a single place, however deep it lies."""
    if isinstance(value, tuple):
        for k, item in enumerate(value):
            yield (*value[:k], *value[k + 1:])
            for changed in _changes(item):
                yield (*value[:k], changed, *value[k + 1:])
    elif is_dataclass(value) and not isinstance(value, Var):
        for f in fields(value):
            if f.name not in _MEANT:
                for changed in _changes(getattr(value, f.name)):
                    yield replace(value, **{f.name: changed})  # type: ignore[type-var]
    else:
        yield from _others(value)


def _others(value: object) -> list[object]:
    if isinstance(value, Term):
        return [add(value, ONE)]
    if isinstance(value, Fraction):
        return [value + 1, -value]
    if isinstance(value, int) and not isinstance(value, bool):
        return [value + 1, -1 - value]
    return ["nothing known"] if isinstance(value, str) else []


_PROOF_FIELDS = ("target", "relation", "quotients", "steps", "premises", "goal")
_SMALL = ("divide by the mass", "energy to speed", "period", "double angle", "elastic, u ≠ v", "incline with friction",
          "drag solved for the speed", "angle of the bank", "frequency put into a cosine", "work of a spring")


@pytest.mark.parametrize("name", _SMALL)
def test_a_certificate_changed_in_one_place_of_its_proof_is_refused(name: str) -> None:
    made = certificate(name)
    assert made is not None
    tried = 0
    for field in _PROOF_FIELDS:
        for changed in _changes(getattr(made, field)):
            other = replace(made, **{field: changed})
            tried += 1
            if recheck(other):
                assert _says_less(made, other), (field, changed)
    assert tried >= 3


def _says_less(made: Certificate, other: Certificate) -> bool:
    """Is it another true proof of the same target (a denominator's sign turned, a lemma's spare reading left out)?"""
    return other.target is made.target and other.relation == made.relation and set(other.premises) <= set(made.premises)


@pytest.mark.parametrize("name", _SMALL)
def test_a_certificate_for_something_else_is_refused(name: str) -> None:
    made = certificate(name)
    assert made is not None
    x = var(Var("stray"))
    for target in (add(made.target, ONE), mul(made.target, x, add(x, ONE)), sub(x, ONE), fun("sin", made.target)):
        changed = recheck(replace(made, target=target))
        assert not changed or target is mul(made.target, x, add(x, ONE))


@pytest.mark.parametrize("name", [n for n in STEPS if STEPS[n].given])
def test_a_certificate_without_one_of_its_premises_is_refused(name: str) -> None:
    made = certificate(name)
    assert made is not None
    for k in range(len(made.premises)):
        without = made.premises[:k] + made.premises[k + 1:]
        assert not recheck(replace(made, premises=without))
        swapped = (*made.premises[:k], Premise("(1)", term("other = 0")), *made.premises[k + 1:])
        assert not recheck(replace(made, premises=swapped))


def test_signs_that_are_used_must_be_among_the_facts() -> None:
    made = certificate("energy to speed")
    assert made is not None
    assert recheck(made, facts("m v g h positive"))
    assert not recheck(made, facts("m g h positive"))
    weaker = tuple((v, "real") for v, _ in made.signs)
    assert not recheck(replace(made, signs=weaker))


def test_inequalities_that_are_used_must_be_among_the_facts() -> None:
    made = certificate("elastic, u ≠ v")
    assert made is not None
    step = STEPS["elastic, u ≠ v"]
    assert recheck(made, facts(step.signs, step.known))
    assert not recheck(made, facts(step.signs))
    assert not recheck(replace(made, known=()))


def test_what_is_said_to_hold_because_a_term_exists_must_be_needed_for_that() -> None:
    made = proof("a = F/m", "m*a = F")
    assert made is not None
    assert Known(term("m"), "≠", "domain") in made.known
    forged = replace(made, known=(*made.known, Known(term("F"), "≠", "domain")))
    assert not recheck(forged)


# --- single rules of the re-checker ---------------------------------------------------------------------


def _bare(target: str, **more: object) -> Certificate:
    """A certificate without any steps: right only where the target is 0 as it is read."""
    from derive.proof.records import Quotient

    t = term(target)
    return Certificate(t, "=", (), quotients=(Quotient(()),), **more)  # type: ignore[arg-type]


POSITIVE_A = ((Var("a"), "positive"), (Var("b"), "positive"))
REAL_A = ((Var("a"), "real"), (Var("b"), "real"))


def _read(kind: str, of: str, parts: str = "", numbers: str = "") -> Reading:
    """`a; b` and `1; 1/2` for the parts and numbers of a reading."""
    return Reading(
        kind, term(of), tuple(term(p) for p in parts.split(";") if p),  # type: ignore[arg-type]
        tuple(Fraction(n.strip()) for n in numbers.split(";") if n))


def _by_primitive(integral: str, primitive: Term) -> Reading:
    return Reading("integrated", term(integral), (primitive,))


_LN_X = fun("ln", var(Var("x", role="dummy")))
_OF_PRODUCT = _read("product", "a*b", "a; b", "1; 1")
_OF_SQUARE = _read("product", "a^2", "a", "2")
_OF_INVERSE = "integral(1/x, x, a, b)"


@pytest.mark.parametrize(("target", "reading", "signs", "holds"), [
    ("sqrt(a*b) - sqrt(a)*sqrt(b)", _OF_PRODUCT, POSITIVE_A, True),
    ("sqrt(a*b) - sqrt(a)*sqrt(b)", _OF_PRODUCT, REAL_A, False),
    ("sqrt(a^2) - a", _OF_SQUARE, POSITIVE_A, True),
    ("sqrt(a^2) - a", _OF_SQUARE, REAL_A, False),
    ("sqrt(a) - sqrt(b)", _read("product", "a", "b", "1"), POSITIVE_A, False),
    ("ln(a^2) - 2*ln(a)", _OF_SQUARE, POSITIVE_A, True),
    ("ln(a^2) - 2*ln(a)", _OF_SQUARE, REAL_A, False),
    ("sin(2*a) - 2*sin(a)*cos(a)", _read("angle", "2*a", "a", "2; 0"), REAL_A, True),
    ("sin(2*a) - 2*sin(a)*cos(a)", _read("angle", "3*a", "a", "2; 0"), REAL_A, False),
    ("sin(a/2)^2 - sin(a)", _read("angle", "a/2", "a", "1/2; 0"), REAL_A, False),
    ("sin(a + pi) + sin(a)", _read("angle", "a + pi", "a", "1; 1"), REAL_A, True),
    ("sin(a + pi) - sin(a)", _read("angle", "a + pi", "a", "1; 1"), REAL_A, False),
    ("exp(a + b) - exp(a)*exp(b)", _read("exponent", "a + b", "a; b", "1; 1"), REAL_A, True),
    ("exp(a + b) - exp(a)*exp(b)", _read("exponent", "a + b", "a; a", "1; 1"), REAL_A, False),
    ("arctan(a + b) - arctan(b + a)", _read("same", "arctan(b + a)", "arctan(a + b)", "1"), REAL_A, True),
    ("arctan(a) - arctan(b)", _read("same", "arctan(b)", "arctan(a)", "1"), REAL_A, False),
    ("arccos(-a) + arccos(a)", _read("same", "arccos(-a)", "arccos(a)", "-1"), REAL_A, False),
    (_OF_INVERSE + " - ln(b) + ln(a)", _by_primitive(_OF_INVERSE, _LN_X), POSITIVE_A, True),
    (_OF_INVERSE + " - ln(b) + ln(a)", _by_primitive(_OF_INVERSE, _LN_X), REAL_A, False),
    (_OF_INVERSE + " - b + a", _by_primitive(_OF_INVERSE, var(Var("x", role="dummy"))), POSITIVE_A, False),
])
def test_a_reading_is_used_only_where_it_is_true(
    target: str, reading: Reading, signs: tuple[tuple[Var, str], ...], holds: bool
) -> None:
    assert recheck(_bare(target, readings=(reading,), signs=signs)) is holds


def test_a_reading_that_leads_back_to_itself_is_refused() -> None:
    loop = (
        Reading("same", term("arctan(a)"), (term("arctan(b)"),), (Fraction(1),)),
        Reading("same", term("arctan(b)"), (term("arctan(a)"),), (Fraction(1),)),
    )
    assert not recheck(_bare("arctan(a) - arctan(b)", readings=loop))
    itself = (Reading("product", term("a"), (fun("abs", term("a")),), (Fraction(1),)),)
    assert not recheck(_bare("sqrt(a) - sqrt(abs(a))", readings=itself))


def test_a_step_may_not_rest_on_itself_or_on_a_later_one() -> None:
    one = ((Fraction(1), ()),)
    bad = Step(((Fraction(1), ((0, 1),)),), (), ((Source("step", 0), one),))
    made = replace(_bare("a"), atoms=(term("a"),), steps=(bad,))
    from derive.proof.records import Quotient

    made = replace(made, quotients=(Quotient(((Fraction(1), ((0, 1),)),)),))
    assert not recheck(made)


def test_a_derivative_is_derived_again() -> None:
    moving = facts(moving="y")
    origin = term("y^2 = x")
    right = Premise("(1)", term("2*y*y_t"), "d/dt", origin)
    wrong = Premise("(1)", term("2*y"), "d/dt", origin)
    from derive.proof.prover import prove

    assert prove(term("6*y*y_t"), (right,), moving, 30) is not None
    assert prove(term("2*y"), (wrong,), moving, 30) is None


def test_only_what_holds_always_is_put_at_an_instant() -> None:
    given = "k*A*cos(w*t) = m*w^2*A*cos(w*t)"
    assert proof("w^2 = k/m", "always: " + given, signs="k m w A positive") is not None
    assert proof("w^2 = k/m", given, signs="k m w A positive") is None
    assert proof("w^2 = k/m", "always: " + given, signs="k m w A positive", moving="k") is None


def test_an_instant_is_not_chosen_where_the_frequency_may_be_nothing() -> None:
    assert proof("B = 0", "always: B*sin(w*t) = 0", signs="w nonnegative") is None
    assert proof("B = 0", "always: B*sin(w*t) = 0", signs="w positive") is not None


@pytest.mark.parametrize("nonsense", [
    {"steps": (1,)}, {"quotients": ()}, {"premises": (None,)}, {"derived": (Derived("exp", 9, ()),)}, {"atoms": (1, 2)},
    {"signs": ((1, 2),)}, {"goal": ("x",)}, {"lemmas": ("x",)}, {"bounds": ((0, ()),), "relation": ">"},
])
def test_nonsense_is_refused_without_raising(nonsense: dict[str, object]) -> None:
    made = certificate("energy to speed")
    assert made is not None
    assert not recheck(replace(made, **nonsense))  # type: ignore[arg-type]


def test_the_re_checker_stands_without_the_prover_and_without_sympy() -> None:
    code = ("import sys, derive.proof.recheck; "
            "print(sorted(m for m in sys.modules if 'algebra' in m or 'prover' in m or m.startswith('sympy')))")
    root = Path(__file__).resolve().parents[2]
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=root, check=True)
    assert out.stdout.strip() == "[]"


# --- words ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("shown", "given", "signs", "said"), [
    ("a = F/m", ("m*a = F",), "m positive", "It is (1) divided by m."),
    ("m*a = F", ("a = F/m",), "m positive", "It is (1) multiplied by m."),
    ("m*a - F = 0", ("F = m*a",), "", "It is (1), rearranged."),
    ("(x + 1)^2 = x^2 + 2*x + 1", (), "", "Both sides are the same when multiplied out."),
    ("v = sqrt(2*g*h)", ("v^2 = 2*g*h",), "v g h positive", "Compare the squares of both sides; the signs are known."),
    ("sin(x)^2 + cos(x)^2 = 1", (), "", "Use: sin² + cos² = 1 of x."),
])
def test_what_was_done_is_said_in_words(shown: str, given: tuple[str, ...], signs: str, said: str) -> None:
    made = proof(shown, *given, signs=signs)
    assert made is not None
    assert said in explain(made)


def test_facts_and_premises_are_plain_records() -> None:
    assert premises("x = 1")[0] == Premise("(1)", term("x - 1"))
    assert Facts(lambda _: "real", (term("x"),)).inequalities() == (Known(term("x"), "≥"),)
