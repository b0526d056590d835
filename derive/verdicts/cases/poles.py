"""`P → ∞ when tan θ = 1/μ`: where a quantity goes beyond all bounds, because what it is divided by vanishes there."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Relation, Statement
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import Context
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.sizes import all_positive
from derive.terms.lowering import INFINITY, lower
from derive.terms.term import ZERO, Term, Var, div, fun, mul, neg, postorder, substitute, variables
from derive.terms.tidying import reciprocal
from derive.verdicts.claims.suppositions import case_of, inside_case


def beyond_all_bounds(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """Decided by the reciprocal of the quantity: it is nothing in the case, or the quantity stays finite."""
    claim, where = statement.claim, statement.where
    if not isinstance(claim, Relation) or claim.signs != ("→",) or not isinstance(where, Relation) or (
            set(where.signs) != {"="}):
        return None
    world = setting.context.world
    quantity, value = (lower(side, world) for side in claim.sides)
    if value is not INFINITY or not isinstance(quantity, Term):
        return None
    whole = _worked_out(quantity, setting.context)
    if whole is quantity:
        return None
    others = _without({*variables(quantity)} - {*variables(whole)}, setting.context)
    case = case_of(where, setting.within(others), source)
    context = inside_case(where, setting.within(others), source).context
    context = all_positive(context, variables(whole)) or context
    inverse = reciprocal(_by_sines(whole))
    cloud = setting.states.of(context, (inverse,))
    found = weigh(inverse, ZERO, "=", cloud) if cloud.size else None
    if found is None or found.silent:
        return None
    facts = (("case", case.words),)
    if found.all_hold:
        verdict = Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.in_case", facts=facts)
        proof = proof_of(context, ((inverse, ZERO),), "=", cloud=cloud) if setting.proofs else None
        return (replace(with_proof(verdict, proof, (case.words,)), span=claim.span),), setting.opening(case)
    if not found.all_fail:
        return None
    failed = Verdict(Standing.FAILS, strength="contradicts", code="fails.finite", facts=facts, span=claim.span)
    return (failed,), setting


def _by_sines(t: Term) -> Term:
    """A term with each tangent as sine over cosine: it has a pole where that is nothing."""
    tangents = [f for f in postorder(t) if f.op == "fun" and f.value == "tan"]
    return substitute(t, {f: div(fun("sin", *f.args), fun("cos", *f.args)) for f in tangents}) if tangents else t


def _worked_out(quantity: Term, context: Context) -> Term:
    """What the page gives the quantity by: as a definition, or in the last line that can be solved for it."""
    whole = context.world.seen_through(context.resolved(quantity))
    if whole is not quantity:
        return whole
    v = quantity.value
    for p in reversed(context.premises) if isinstance(v, Var) else ():
        times, beside = (linear(p.term, v) if p.sign == "=" else None) or (ZERO, ZERO)
        if times is not ZERO:
            return mul(neg(beside), reciprocal(times))
    return whole


def _without(names: set[Var], context: Context) -> Context:
    """The context without what says what the quantity is, and what lines took not to vanish for it: where it has no
    value no state satisfies that."""
    kept = tuple(p for p in context.premises if p.sign != "≠" and not names & {
        *variables(p.term), *variables(context.resolved(p.term))})
    return replace(context, premises=kept)
