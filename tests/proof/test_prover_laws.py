"""Laws: a true step stays proved when it is rewritten, and nothing false is ever proved."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from derive.proof.certificate import recheck
from derive.proof.prover import prove
from derive.proof.records import Facts, Premise
from derive.terms.tape import Tape
from derive.terms.term import PI, Term, Var, add, div, fun, mul, neg, num, power, sub, substitute, var, variables
from tests.proof.textbook import STEPS
from tests.sampling import WHOLE
from tests.typed import facts, term

NAMES = ("a", "b", "c", "x", "y")
POSITIVE = Facts(lambda v: "positive" if v.name in "abc" else "real")
FAST = settings(
    max_examples=80 if WHOLE else 40, deadline=None, derandomize=True, phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)

_variables = st.sampled_from([var(Var(n)) for n in NAMES])
_numbers = st.integers(-4, 4).filter(bool).map(num) | st.sampled_from([num(Fraction(1, 2)), num(Fraction(-2, 3))])


def _larger(inner: st.SearchStrategy[Term]) -> st.SearchStrategy[Term]:
    return st.one_of(
        st.tuples(inner, inner).map(lambda p: add(*p)),
        st.tuples(inner, inner).map(lambda p: mul(*p)),
        st.tuples(inner, st.integers(2, 3)).map(lambda p: power(p[0], num(p[1]))),
        inner.map(neg),
        inner.map(lambda t: div(t, add(power(term("x"), num(2)), num(1)))),
    )


plain = st.recursive(_variables | _numbers, _larger, max_leaves=4)
# A wave of a wave of a number may be read in several ways, none of which settles: nobody writes those.
waves = st.tuples(st.sampled_from(["sin", "cos"]), plain.filter(lambda t: len(variables(t)) > 0)).map(lambda p: fun(*p))
terms = st.recursive(_variables | _numbers | waves, _larger, max_leaves=5)
equations = [s for s in STEPS.values() if "=" in s.shown and not any(r in s.shown for r in (" > ", " >= ", " != "))]
steps = st.sampled_from([s for s in equations if not any(g.startswith("always") for g in s.given)])


@FAST
@given(terms, terms, terms)
def test_expanding_and_reordering_is_proved(a: Term, b: Term, c: Term) -> None:
    left = mul(a, add(b, c))
    right = add(mul(c, a), mul(b, a))
    assert prove(sub(left, right), (), POSITIVE, 30) is not None


_multiples = st.sampled_from([Fraction(1), Fraction(-1), Fraction(2), Fraction(3), Fraction(1, 2)]).map(num)
_pieces = _variables | st.tuples(_variables, _variables).map(lambda p: mul(*p)) | st.just(PI)
angles = st.lists(st.tuples(_multiples, _pieces).map(lambda p: mul(*p)), min_size=1, max_size=2).map(lambda p: add(*p))


@FAST
@given(angles, angles)
def test_sines_and_cosines_of_sums_expand(a: Term, b: Term) -> None:
    left = fun("cos", sub(a, b))
    right = add(mul(fun("cos", a), fun("cos", b)), mul(fun("sin", a), fun("sin", b)))
    assert prove(sub(left, right), (), POSITIVE, 30) is not None


@FAST
@given(steps, st.sampled_from([2, -3, Fraction(1, 7)]), st.integers(0, 3))
def test_a_true_step_stays_proved_when_scaled_and_its_premises_turned_round(step, number, turn) -> None:  # type: ignore[no-untyped-def]
    given_ = [Premise(f"({k})", mul(num(number), neg(term(text)))) for k, text in enumerate(step.given)]
    turn %= max(1, len(given_))
    found = prove(mul(num(number), term(step.shown)), given_[turn:] + given_[:turn], facts(step.signs, step.known), 30)
    assert found is not None
    assert recheck(found)


@FAST
@given(steps, st.sampled_from(["Q", "λ", "h_0"]))
def test_a_true_step_stays_proved_under_other_names(step, name) -> None:  # type: ignore[no-untyped-def]
    everything = [term(step.shown), *map(term, step.given)]
    base = facts(step.signs, step.known)
    assume(not step.known and variables(*everything))
    old = variables(*everything)[0]
    change = {var(old): var(Var(name))}
    shown, *premises = (substitute(t, change) for t in everything)
    renamed = Facts(lambda v: base.sign_of(old) if v.name == name else base.sign_of(v))
    assert prove(shown, [Premise(str(k), t) for k, t in enumerate(premises)], renamed, 30) is not None


@FAST
@given(terms, plain, st.sampled_from(NAMES))
def test_a_name_may_be_replaced_by_what_it_equals(a: Term, b: Term, name: str) -> None:
    v = var(Var(name))
    assume(Var(name) not in variables(b) and Var(name) in variables(a))
    given_ = (Premise("(1)", sub(v, b)),)
    assert prove(sub(a, substitute(a, {v: b})), given_, POSITIVE, 30) is not None


@FAST
@given(terms, terms)
def test_what_differs_somewhere_is_not_proved(a: Term, b: Term) -> None:
    """The points are the judge here: where two terms differ at some state, there must be no certificate."""
    found = prove(sub(a, b), (), POSITIVE, 30)
    if found is not None:
        assert _largest(sub(a, b)) < 1e-6


@FAST
@given(terms, terms, terms)
def test_what_does_not_follow_from_a_premise_is_not_proved(a: Term, b: Term, c: Term) -> None:
    """With a = b as the only premise and a name of its own solved for, c fails wherever it is not 0."""
    fresh = var(Var("z"))
    target = sub(mul(fresh, b), c)
    found = prove(target, (Premise("(1)", sub(fresh, a)),), POSITIVE, 30)
    if found is not None:
        assert _largest(substitute(target, {fresh: a})) < 1e-6


def _largest(t: Term) -> float:
    """The largest size of a term at random states, relative to that of its parts."""
    rng = np.random.default_rng(7)
    env = {Var(n): rng.uniform(0.3, 2.0, 25) * (1 if n in "abc" else rng.choice([-1, 1], 25)) for n in NAMES}
    tape = Tape([t])
    (value,), (size,) = tape.run(env), tape.magnitudes(env)
    with np.errstate(all="ignore"):
        relative = np.abs(value) / np.maximum(np.abs(size), 1e-30)
    finite = np.atleast_1d(relative)[np.isfinite(np.atleast_1d(relative))]
    return float(finite.max()) if finite.size else 0.0
