"""`-L²/(12 d²) + 1 = 0` below `T is smallest where L²/(12 d) + d is smallest`: what is so where a slope is nothing,
told without the slope of the quantity itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Name, Power, Relation, Statement, names_in
from derive.records import Standing, Verdict
from derive.states.context import EXTREME, Context, Premise, tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Case, Setting
from derive.states.sizes import all_positive
from derive.states.states import freedom
from derive.terms.calculus import partial
from derive.terms.term import ZERO, Term, Var, variables
from derive.terms.writing import written
from derive.verdicts.cases.extremes import EXTREMES
from derive.verdicts.claims.claiming import decide_claim

_ABOVE = 3  # lines
_MOST_TRIED = 4  # quantities of lines above, by what they hang on


def where_it_turns(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The claim as said of where a quantity that a line above gives is greatest or least, which words tell; None where
    it does not hold there."""
    claim, number = statement.claim, source.number
    above = " ".join(words for k, words in source.headed.items() if number - _ABOVE <= k < number)
    heard = f"{source.words} {statement.word} {source.heading} {above}"
    said = heard.lower().replace(",", " ").replace(":", " ").split()
    if not isinstance(claim, Relation) or set(claim.signs) != {"="} or all(
            its.isdisjoint(said) for its in EXTREMES.values()):
        return None
    outside, regime = setting, setting.regime
    if regime is not None:  # `T = 2π √(…)` of small swings
        setting = replace(setting.within(regime.context), regime=None)
    named = {*names_in(claim)}
    if not named <= tied_names(setting.context):
        return None
    subject = claim.sides[0].base if isinstance(claim.sides[0], Power) else claim.sides[0]
    looked_for = {subject.ident} if isinstance(subject, Name) else named  # `ω² = ω0² - 2γ²` says at which ω
    for name, along, slope in _slopes(looked_for, setting):
        words = f"d{written(name)}/d{along.name} = 0"
        case = Case(words, premises=(Premise(words, slope, "=", False, False, number, EXTREME),), line=number)
        there = setting.context.adding(*case.premises)
        there = all_positive(there, variables(slope)) or there
        if not setting.states.any(there).size:
            continue
        found, _ = decide_claim(claim, replace(setting.within(there), cases=()), source)
        if found and all(v.standing is Standing.FOLLOWS for v in found):
            return tuple(_in_case(v, words) for v in found), outside.opening(case)
    return None


def _in_case(v: Verdict, words: str) -> Verdict:
    return replace(v, code="follows.in_case", facts=(("case", words),))


def _slopes(named: set[str], setting: Setting) -> Iterator[tuple[Term, Var, Term]]:
    """What lines above give, what it is looked at along, and its slope, where nothing ties what it hangs on."""
    context, tried = setting.context, 0
    for p in reversed(context.premises):
        name, whole = p.sides if p.sides is not None and p.sign == "=" else (ZERO, ZERO)
        if not isinstance(name.value, Var) or not _is_plain(p, context) or tried >= _MOST_TRIED:
            continue
        whole = context.world.seen_through(context.resolved(whole), {name.value.name})
        own = variables(whole)
        if name.value in own or freedom(context, own, (), setting.states) != len(own):
            continue
        tried += 1
        for along in own:
            slope = _what_vanishes(partial(whole, along)) if along.name in named else ZERO
            if along in variables(slope):
                yield name, along, slope


def _what_vanishes(slope: Term) -> Term:
    """The one factor of a slope that can be nothing: a sum, and not one that is divided by."""
    sums = [f for f in (slope.args if slope.op == "mul" else (slope,)) if f.op == "add"]
    return sums[0] if len(sums) == 1 else ZERO


def _is_plain(p: Premise, context: Context) -> bool:
    """Only of constants, and no value in numbers."""
    own = variables(p.term)
    return len(own) > 2 and all(
        v.role == "value" and not v.order and not v.at and not context.world.is_changing(v) for v in own)
