"""Extremes: `dR/dα = 0` said of the best angle is a condition, which picks states out and follows from nothing.

It holds where the quantity is greatest, least or in equilibrium and nowhere else, so it is taken for the lines
after it without being differentiated further. Rates in time are left alone: `v' = 0` is a claim about a motion.
"""

from __future__ import annotations

from collections.abc import Collection, Set
from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Derivative, Differential, Expr, Name, Quotient, Relation, is_zero
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import EXTREME, Context, Premise, given_by_time
from derive.states.evidence import weigh
from derive.states.setting import Case, Decision, Matter
from derive.terms.calculus import partial
from derive.terms.claims import Pair
from derive.terms.isolation import isolated
from derive.terms.term import ZERO, Term, Var, variables
from derive.terms.world import TIME, World


def is_slope(e: Expr, world: World) -> bool:
    """`dR/dα`, `dU/dx`: a first derivative by something other than time or a quantity that moves with it."""
    if isinstance(e, Derivative):
        return e.order == 1 and isinstance(e.wrt, Name) and not _moves(e.wrt, world)
    if isinstance(e, Quotient) and isinstance(e.num, Differential) and isinstance(e.den, Differential):
        return isinstance(e.den.body, Name) and not _moves(e.den.body, world)
    return False


def _moves(name: Name, world: World) -> bool:
    return name.ident == TIME or name.ident in world.moving


def slope_of_one_form(m: Matter) -> Decision | None:
    """`dA/dx = 2x - 4V/x²` below `A = x² + 4 x h` and `A = x² + 4V/x`: the form is differentiated that says what is
    held. The lines that give A by what then goes along with x are about values only from here on."""
    slope = m.pair.left
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or not is_slope(slope, m.context.world):
        return None
    if not isinstance(slope, Derivative) or not isinstance(slope.body, Name) or not isinstance(slope.wrt, Name):
        return None
    whole, along, claimed = Var(slope.body.ident), Var(slope.wrt.ident), m.lowered.parts[0][1]
    forms = [p for p in m.context.premises if p.sign == "=" and whole in variables(p.term) and not any(
        v.order or v.at for v in variables(p.term))]
    world = m.context.world
    declared = whole.name in world.symbols and world.symbols[whole.name].of == along.name
    for form in forms if len(forms) > 1 else ():
        rest = next((t for v, t in isolated(form.term) if v == whole and along in variables(t)), ZERO)
        if declared and any(world.fields.get(v.name) == along.name for v in variables(rest)):
            continue  # of what is declared to depend on b alone, what goes along with b is not held
        found = partial(rest, along)
        cloud = m.setting.states.of(m.context, (found, claimed))
        if rest is not ZERO and cloud.size and weigh(found, claimed, "=", cloud).all_hold:
            held = {v.name for v in variables(rest)} - {along.name}
            return _differentiated(m, found, _by_one_form(_itself(m.context, along), form, forms, held))
    return None


def _differentiated(m: Matter, found: Term, after: Context) -> Decision | None:
    if not m.setting.states.any(after).size:
        return None
    verdict = Verdict(Standing.FOLLOWS, points=24, code="follows.plain")
    proof = proof_of(m.context, [(found, m.lowered.parts[0][1])], "=") if m.setting.proofs else None
    return Decision(with_proof(verdict, proof, m.cites), m.setting.within(after.adding(*m.premises(implied=True))))


def _by_one_form(context: Context, form: Premise, forms: Collection[Premise], held: Set[str]) -> Context:
    """The context in which of some forms one is differentiated, and the others only hold."""
    premises = tuple(
        replace(p, always=p is form, implied=p.implied and p is not form) if p in forms else p
        for p in context.premises)
    return _holding(replace(context, premises=premises), held)


def _itself(context: Context, along: Var) -> Context:
    """The context in which a variable is no shorthand: x below `2x + y = L`, now that it is what is varied."""
    world = context.world
    definitions = {n: t for n, t in world.definitions.items() if n != along.name}
    return context.knowing(replace(world, definitions=definitions))


def _holding(context: Context, names: Set[str]) -> Context:
    """The context in which some names are constants, whatever lines give them by."""
    world = context.world
    return context.knowing(replace(
        world, fields={n: by for n, by in world.fields.items() if n not in names}, varying=world.varying - names,
        definitions={n: t for n, t in world.definitions.items() if n not in names}))


def of_chain(pair: Pair, claim: Relation, world: World) -> Pair:
    """`dR/dα = 2 v² cos 2α/g = 0`: the end of the chain is said of the slope it begins with."""
    if len(claim.sides) < 3 or pair.right is not claim.sides[-1] or pair.sign != "=":
        return pair
    return replace(pair, left=claim.sides[0]) if is_slope(claim.sides[0], world) and is_zero(pair.right) else pair


def is_condition(m: Matter) -> bool:
    """Does the pair say that a slope vanishes?"""
    left, right = m.pair.left, m.pair.right
    if is_zero(left):
        left, right = right, left
    return m.pair.sign == "=" and is_zero(right) and (is_slope(left, m.context.world) or _of_a_path(left, m))


def taken(m: Matter) -> Decision | None:
    """The condition for an extreme, where some state can meet it."""
    if not is_condition(m):
        return None
    if m.words.split()[-1:] in (["under"], ["at"]):  # `dR/dα = 0 at α = π/4` says where it is so
        return None
    condition = m.premises(implied=False, always=False, kind=EXTREME)
    if not m.setting.states.any(m.context, condition).size:
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.case")
    if any(_of_a_path(side, m) for side in (m.pair.left, m.pair.right)):
        # The top is a place on the way, which the lines go on from.
        case = Case(as_text(m.pair.relation()), premises=condition, line=m.number, where=m.pair.relation())
        return Decision(verdict, m.setting.opening(case))
    return Decision(verdict, m.setting.within(m.context.adding(*condition)))


def _of_a_path(e: Expr, m: Matter) -> bool:
    """`dy/dx` where both places are given by t: level at the top, and no claim about the motion."""
    if not (isinstance(e, Derivative) and e.order == 1 and isinstance(e.body, Name) and isinstance(e.wrt, Name)):
        return False
    return {e.body.ident, e.wrt.ident} <= {v.name for v in given_by_time(m.context)}


def said_of_extreme(m: Matter) -> bool:
    """Is the pair about the very place that a condition has picked out? `tan α = μ` below `dR/dα = 0` gives μ there,
    and must not be put for μ where R is differentiated."""
    slopes = {v for p in m.context.premises if not p.always for v in variables(p.term) if v.order and not v.at}
    picked = {v.wrt for v in slopes} - {TIME}
    return bool(picked & {v.name for v in m.unknowns})
