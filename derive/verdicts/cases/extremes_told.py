"""`largest for α = 45°`, `η is largest for m = M`: where a quantity is greatest or least, told of what gives it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.names import canonical
from derive.notation.tree import (
    Constant,
    Expr,
    Name,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    Unit,
    is_zero,
    walk,
)
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import Context, tied_names
from derive.states.evidence import weigh
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.showing import shown_state
from derive.states.sizes import all_positive
from derive.states.states import freedom
from derive.terms.calculus import partial
from derive.terms.term import ZERO, Term, Var, neg, variables
from derive.terms.writing import written
from derive.verdicts.cases.extremes import EXTREMES
from derive.verdicts.claims.suppositions import case_of, inside_case

# Where a way, or a range of angles, ends: what changes on may well be greatest there.
_LENGTHS = frozenset("RrLlhHdDaAsSxyz")
_ENDS = (90, 180, 360)
# A line between may say what the slope is.
_ABOVE = 3


def extreme_told(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The quantity changes no more there and bends the right way, or it does not; None where nothing tells which
    quantity is meant, or how it goes."""
    where = statement.where if statement.where is not None else statement.claim
    said = source.words.lower().replace(",", " ").replace(":", " ").split()
    extreme = next((name for name, its in EXTREMES.items() if not its.isdisjoint(said)), "")
    if not extreme or not isinstance(where, Relation) or where.signs != ("=",):
        return None
    run = where.sides[0].base if isinstance(where.sides[0], Power) else where.sides[0]  # `largest for Ω² = …`
    if not isinstance(run, Name):
        return None
    along = Var(run.ident)
    given = _given_by(along, source, setting.context)
    if given is None or setting.context.world.is_changing(along):
        return None
    name, whole = given
    slope = partial(whole, along)
    own = variables(whole)
    if slope is ZERO or freedom(setting.context, own, (), setting.states) != len(own):
        return None
    inside = inside_case(where, setting, source)
    context = all_positive(inside.context, own) or inside.context
    bend = partial(slope, along) if extreme == "max" else neg(partial(slope, along))
    facts = (("name", written(name)), ("along", along.name), ("case", case_of(where, setting, source).words))
    found = _weighed(slope, bend, where, inside.within(context), facts)
    if found is None:
        return None
    after = setting.opening(case_of(where, setting, source)) if found.standing is Standing.FOLLOWS else setting
    return (replace(found, span=where.span),), after


def _weighed(
    slope: Term, bend: Term, where: Relation, inside: Setting, facts: tuple[tuple[str, str], ...]
) -> Verdict | None:
    """Is a slope nothing there, and does it bend the right way?"""
    cloud = inside.states.of(inside.context, (slope, bend))
    if not cloud.size:
        return None
    still, bent = weigh(slope, ZERO, "=", cloud), weigh(bend, ZERO, "≤", cloud)
    if still.all_hold and bent.all_hold:
        proof = proof_of(inside.context, ((slope, ZERO),), "=", cloud=cloud) if inside.proofs else None
        verdict = Verdict(
            Standing.FOLLOWS, points=cloud.size, support="tested", code="follows.in_case", facts=facts[2:])
        return with_proof(verdict, proof, (dict(facts)["case"],))
    turned = still.all_hold and bent.all_fail
    if not turned and (not still.all_fail or _may_be_an_end(where.sides[1])):
        return None
    state = shown_state(inside, bend, ZERO, "≤") if turned else shown_state(inside, slope, ZERO, "=")
    code = "fails.other_extreme" if turned else "fails.no_extreme"
    return None if state is None else Verdict(
        Standing.FAILS, strength="contradicts", code=code, facts=facts, state=state)


def _given_by(along: Var, source: Source, context: Context) -> tuple[Term, Term] | None:
    """The quantity that is meant, and what the page gives it by: the one that words name, else the last one that goes
    along."""
    named = {canonical(w) for w in source.words.split()} & tied_names(context)
    for p in reversed(context.premises):
        if p.sides is None or p.sign != "=" or along not in variables(p.sides[1]):
            continue
        quantity = variables(p.sides[0])
        near = named & {v.name for v in quantity} or (not named and source.number - p.source <= _ABOVE)
        if near and quantity and not {*quantity} & {*variables(p.sides[1])} and all(
                v.role == "value" and not v.order and not v.at for v in variables(*p.sides)):
            return p.sides
    return None


def _may_be_an_end(value: Expr) -> bool:
    """`x = L`, `θ = 90°`, `y = 2 R`, `x = 0`."""
    if is_zero(value) or isinstance(value, Name):
        return True
    names = [n.ident for n in walk(value) if isinstance(n, Name)]
    numbers = [n.value for n in walk(value) if isinstance(n, Num)]
    if not names:
        turned = any(isinstance(n, Unit | Constant) for n in walk(value))
        return turned and (any(n in _ENDS for n in numbers) or _is_right_angle(value))
    return all(isinstance(n, Name | Num | Product | Quotient) for n in walk(value)) and any(
        n.partition("_")[0] in _LENGTHS for n in names)


def _is_right_angle(value: Expr) -> bool:
    """π, π/2."""
    return value == Constant("π") or value == Quotient(Constant("π"), Num(Fraction(2)))
