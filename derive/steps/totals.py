"""The whole of an element: `F = ∫_0^H p w dh` below `dF = p w dh` is what the element adds up to, and a constant."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.steps.defining import with_definition
from derive.terms.term import ONE, Term, Var, mul, substitute, var


def total(m: Matter) -> Decision | None:
    """The name of an element that lines above give by differentials, as its integral between constant limits."""
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    world = m.context.world
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or name not in world.varying or name in world.moving:
        return None
    right = m.lowered.parts[0][1]
    element = _element(right)
    if element is None or world.changes(right):
        return None
    left = var(Var(name, role="differential"))
    cloud = m.setting.states.of(m.context, [left, element])
    if not cloud.size or not weigh(left, element, "=", cloud).all_hold:
        return None
    verdict = Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.plain")
    proof = proof_of(m.context, [(left, element)], "=", cloud=cloud) if m.setting.proofs else None
    context = m.context.knowing(replace(world, varying=world.varying - {name}))
    after = with_definition(context.adding(*m.premises(implied=False, kind="definition")), m)
    return Decision(with_proof(verdict, proof, m.cites), m.setting.within(after))


def _element(t: Term) -> Term | None:
    """`p w dh` of `∫ p w dh`, a factor before the integral put in."""
    factors = t.args if t.op == "mul" else (t,)
    whole = [f for f in factors if f.op == "int"]
    if len(whole) != 1:
        return None
    bound = whole[0].value
    assert isinstance(bound, Var)
    along = Var(bound.name, bound.order)
    body = substitute(whole[0].args[0], {var(bound): var(along)})
    others = mul(*(f for f in factors if f is not whole[0])) if len(factors) > 1 else ONE
    return mul(others, body, var(along._replace(role="differential")))
