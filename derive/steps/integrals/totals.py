"""The whole of an element: `F = ∫_0^H p w dh` below `dF = p w dh` is what the element adds up to, and a constant.

`I = ∫ r² dm` is meant over the whole body; where that lies only the limits of a later integral say, and what stands
under it is settled by `dm = σ 2π r dr`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from derive.notation.tree import Integral, Name, walk
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.steps.customs import customary
from derive.steps.letters.defining import with_definition
from derive.terms.claims import Pair, lower_pair, without_limits
from derive.terms.term import (
    HALF,
    ONE,
    ZERO,
    Term,
    Var,
    integral,
    mul,
    num,
    postorder,
    substitute,
    var,
    variables,
)
from derive.terms.tidying import reciprocal, tidied
from derive.terms.writing import is_negative, written


def total(m: Matter) -> Decision | None:
    """The name of an element that lines above give by differentials, as its integral between constant limits."""
    name, world, right = _of_elements(m), m.context.world, m.lowered.parts[0][1]
    if not name:
        return None
    element = _element(right)
    if element is None or world.changes(right):
        return None
    return _whole(m, name, var(Var(name, role="differential")), element) or _of_another_element(m, name, right)


def _of_another_element(m: Matter, name: str, right: Term) -> Decision | None:
    """`F = ∫_0^h ρ g b dy` below `dF = ρ g y b dy`: between these ends its elements come to something else."""
    spelt = _integrand(right)
    whole = next((t for t in postorder(right) if t.op == "int"), None)
    rate = _slope(name, spelt[1].name, m.context.world.rates) if spelt is not None else None
    if spelt is None or whole is None or rate is None:
        return None
    dummy = Var(spelt[1].name, role="dummy")
    meant = integral(substitute(rate, {var(spelt[1]): var(dummy)}), dummy, *whole.args[1:])
    found = weigh(meant, right, "=", m.setting.states.of(m.context, [meant, right]))
    return _off(m, rate, *spelt) if found.all_fail else None


def _slope(name: str, along: str, rates: Mapping[Var, Term], links: int = 3) -> Term | None:
    """How a name goes with another, also through one between: dτ/dy below `dτ = (h - y) dF`, `dF = ρ g y b dy`."""
    for v, rate in rates.items() if links else ():
        further = ONE if v.wrt == along else _slope(v.wrt, along, rates, links - 1)
        if v.name == name and v.order == 1 and further is not None:
            return mul(rate, further)
    return None


def _off(m: Matter, meant: Term, added: Term, along: Var) -> Decision | None:
    """The break of a line that adds up other elements than are meant, where a state shows it."""
    state = shown_state(m.setting, meant, added, "=")
    if state is None:
        return None
    facts = (("found", written(added)), ("wanted", written(meant)), ("along", along.name))
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.element", facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def stated_total(m: Matter) -> Decision | None:
    """`m = λ L` below `dm = λ dx`: what the elements add up to from one end to the other, where an end is named (and is
    more than nothing, as in `A = π R²/2` below `dA = 2 √(R² - y²) dy`)."""
    found = _between_ends(m)
    inside = customary.with_sizes(m) if found is None and _of_elements(m) else None
    with_sizes = _between_ends(inside) if inside is not None else None
    return customary.said(with_sizes, inside) if with_sizes is not None and inside is not None else found


def _between_ends(m: Matter) -> Decision | None:
    name, world, right = _of_elements(m), m.context.world, m.lowered.parts[0][1]
    if not name:
        return None
    rates = [(v, t) for v, t in world.rates.items() if v.name == name and v.order == 1]
    if world.changes(right) or len(rates) != 1 or any(v.name == name for v in variables(right)):
        return None
    (slope, rate), ends = rates[0], [var(v) for v in variables(right) if v.role == "value" and not v.order]
    for lower, upper in (pair for end in ends for pair in ((ZERO, end), (mul(num(-1), HALF, end), mul(HALF, end)))):
        along, dummy = Var(slope.wrt), Var(slope.wrt, role="dummy")
        found = _whole(m, name, right, integral(substitute(rate, {var(along): var(dummy)}), dummy, lower, upper))
        if found is not None:
            return found
    return None


def _of_elements(m: Matter) -> str:
    """The name on the left of an equation that has only been met by its elements (dm); '' where it is no such name."""
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    world = m.context.world
    whole = m.pair.sign == "=" and len(m.lowered.parts) == 1 and name in world.varying and name not in world.moving
    return name if whole else ""


def _whole(m: Matter, name: str, left: Term, right: Term) -> Decision | None:
    """The whole of an element, where two terms that would make it so are equal."""
    world = m.context.world
    left, right = m.context.resolved(left), m.context.resolved(right)
    cloud = m.setting.states.of(m.context, [left, right])
    if not cloud.size or not weigh(left, right, "=", cloud).all_hold:
        return None
    verdict = Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.plain")
    proof = proof_of(m.context, [(left, right)], "=", cloud=cloud) if m.setting.proofs else None
    context = m.context.knowing(replace(world, varying=world.varying - {name}))
    after = with_definition(context.adding(*m.premises(implied=False, kind="definition")), m)
    return Decision(with_proof(verdict, proof, m.cites), m.setting.within(after))


def over_the_body(m: Matter) -> Decision | None:
    """`I = ∫_0^R r² σ 2π r dr` below `I = ∫ r² dm`, or beside it in a chain: both add up the same elements, or not."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return None
    spelt = _integrand(m.lowered.parts[0][1])
    meant = _meant(m, spelt[1]) if spelt is not None else None
    if spelt is None or meant is None or any(v.name in m.fresh for v in variables(spelt[0])):
        return None
    meant = _of_the_way(meant, spelt[1], m)
    meant, added = m.context.resolved(meant), m.context.resolved(spelt[0])
    cloud = m.setting.states.of(m.context, [meant, added])
    found = weigh(meant, added, "=", cloud)
    if cloud.size and found.all_hold:
        verdict = Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.plain")
        proof = proof_of(m.context, [(meant, added)], "=") if m.setting.proofs else None
        after = m.context.adding(*m.premises(implied=False, kind="definition"))
        return Decision(with_proof(verdict, proof, m.cites), m.setting.within(with_definition(after, m)))
    return _off(m, meant, added, spelt[1]) if found.all_fail else None


def _of_the_way(meant: Term, along: Var, m: Matter) -> Term:
    """`r² λ` of `I = ∫ r² dm` and `dm = λ dx` along x: how far from the axis, by the letter of the way."""
    if along in variables(meant):
        return meant
    spoken = [v for p in m.context.premises for v in set(variables(p.term))]
    loose = [v for v in variables(meant) if v.name in _DISTANCES and v not in spoken
             and not m.context.world.is_declared(v.name)]
    return substitute(meant, {var(loose[0]): var(along)}) if len(loose) == 1 else meant


# What a distance from an axis is called (common practice, no source).
_DISTANCES = frozenset(("r", "s", "x", "y", "d"))


def told_over_the_body(m: Matter) -> Decision | None:
    """`∫ r² dm = ∫_0^L r² (M/L) dr` where nothing above says how dm goes with dr: the line says so itself, and as much
    as its elements come to together."""
    pair = m.pair
    if pair.sign != "=" or len(m.lowered.parts) != 1 or not isinstance(pair.left, Integral) or not without_limits(
            pair.left):
        return None
    left, right = m.lowered.parts[0]
    meant, spelt = _integrand(left, dict(m.lowered.primitives)), _integrand(right)
    if meant is None or spelt is None or right.op != "int" or meant[1] == spelt[1] or meant[1].order:
        return None
    (body, whole), (added, along) = meant, spelt
    rate = tidied(mul(added, reciprocal(body)))
    if any(f.op == "pow" and along in variables(f) and is_negative(f.args[1]) for f in postorder(rate)):
        return None  # `∫ r (M/L) dr`: nothing has an element that grows beyond bounds
    dummy = Var(along.name, role="dummy")
    together = integral(substitute(rate, {var(along): var(dummy)}), dummy, right.args[1], right.args[2])
    cloud = m.setting.states.of(m.context, [together, var(whole)])
    settled = whole in variables(rate) or m.setting.strict
    if settled and not (cloud.size and weigh(together, var(whole), "=", cloud).all_hold):
        return None
    world = m.context.world
    rates = {**world.rates, Var(whole.name, 1, along.name): rate}
    verdict = Verdict(
        Standing.TAKEN, code="taken.start", facts=(("name", f"d{whole.name}"),), introduces=(whole.name,))
    still = {whole.name, *(n for n, t in world.definitions.items() if left in postorder(t))}
    known = m.context.knowing(replace(world, rates=rates, varying=world.varying - still))
    after = with_definition(known.adding(*m.premises(implied=False, kind="definition")), m)
    return Decision(verdict, m.setting.within(after))


def _meant(m: Matter, along: Var) -> Term | None:
    """What the integral without limits that a pair is about adds up along some variable, where the lines above say how
    its element goes with that."""
    own = m.pair if any(isinstance(n, Integral) and without_limits(n) for n in walk(m.pair.left)) else None
    named = isinstance(m.pair.left, Name)
    said = [p.pair for p in m.context.premises if named and isinstance(p.pair, Pair) and p.pair.left == m.pair.left]
    for pair in (own, *said):
        if pair is None:
            continue
        lowered = lower_pair(pair, m.context.world)
        found = _integrand(lowered.parts[0][0 if pair is own else 1], dict(lowered.primitives))
        rate = m.context.world.rates.get(Var(found[1].name, 1, along.name)) if found is not None else None
        if found is not None and rate is not None:
            return mul(found[0], rate)
    return None


def _element(t: Term) -> Term | None:
    """`p w dh` of `∫ p w dh`."""
    found = _integrand(t)
    return mul(found[0], var(found[1]._replace(role="differential"))) if found is not None else None


def _integrand(t: Term, open_ended: Mapping[Var, tuple[Term, Var]] = MappingProxyType({})) -> tuple[Term, Var] | None:
    """`p w` and h of `∫ p w dh`, a factor before the integral put in."""
    factors = t.args if t.op == "mul" else (t,)
    whole = [f for f in factors if f.op == "int" or f.value in open_ended]
    if len(whole) != 1:
        return None
    if whole[0].op == "int":
        bound, body = whole[0].value, whole[0].args[0]
        assert isinstance(bound, Var)
        along = Var(bound.name, bound.order)
        body = substitute(body, {var(bound): var(along)})
    else:
        body, along = open_ended[whole[0].value]
    others = mul(*(f for f in factors if f is not whole[0])) if len(factors) > 1 else ONE
    return mul(others, body), along
