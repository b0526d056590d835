"""From "tested" to "proved": asks the prover for what the points have shown, and names the premises used."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from derive.proof.records import Facts
from derive.proof.records import Premise as Usable
from derive.proof.relevance import expected
from derive.records import Verdict
from derive.states.context import Context, Premise
from derive.states.projection import Cloud
from derive.terms.calculus import derivative
from derive.terms.declared import sign_of
from derive.terms.signs import Known
from derive.terms.term import Term, Var, neg, num, postorder, sub, variables

# In seconds of usual work for each part of a pair (see algebra.clock).
_BUDGET = 0.1


def proof_of(
    context: Context, parts: Sequence[tuple[Term, Term]], sign: str, extra: Sequence[Premise] = (),
    cloud: Cloud | None = None,
) -> tuple[object, ...] | None:
    """Certificates that every part's relation follows from the context, or None.

    cloud: states of the context at which the parts have values, to see by which premises are likely to be needed.
    """
    from derive.proof import prover  # the algebra is loaded only where something is to be proved

    facts = Facts(partial(sign_of, world=context.world), _known(context, extra), context.world.along_time)
    places = {v.at for part in parts for t in part for v in variables(t) if v.at}
    premises = _premises(context, extra, places)
    certificates: list[object] = []
    for left, right in parts:
        target = context.resolved(sub(left, right))
        if sign in ("=", "≈"):
            few = expected(target, premises, cloud) if cloud is not None else None
            found = None
            if few is not None and len(few) < len(premises):
                found = prover.prove(target, [premises[i] for i in few], facts, _BUDGET / 2)
            if found is None:
                found = prover.prove(target, premises, facts, _BUDGET)
        else:
            found = prover.prove_sign(target, sign, premises, facts, _BUDGET)
        if found is None:
            return None
        certificates.append(found)
    return tuple(certificates)


def proof_of_closeness(
    context: Context, parts: Sequence[tuple[Term, Term]], slack: float
) -> tuple[object, ...] | None:
    """Certificates that the sides of every part differ by less than an allowance, or None."""
    allowed = num(Fraction(slack))
    inside = [(bound, gap) for a, b in parts for gap in [sub(a, b)] for bound in (allowed, neg(allowed))]
    found = [
        proof_of(context, [(gap, bound)], "<" if bound is allowed else ">") for bound, gap in inside]
    return None if None in found else tuple(c for one in found if one for c in one)


def proof_of_vanishing(
    context: Context, parts: Sequence[tuple[Term, Term]], small: Sequence[tuple[Var, int]], order: int,
    held: frozenset[Var] = frozenset(),
) -> tuple[object, ...] | None:
    """Certificates that the sides of every part come together as a power of what becomes small, or None."""
    from derive.proof import prover

    facts = Facts(partial(sign_of, world=context.world), _known(context, ()), context.world.along_time)
    premises = _premises(context, (), {v.at for part in parts for t in part for v in variables(t) if v.at})
    gaps = (context.resolved(sub(left, right)) for left, right in parts)
    found = [prover.prove_vanishing(gap, small, order, premises, facts, _BUDGET, held) for gap in gaps]
    return None if None in found else tuple(found)


def without_integrals(context: Context, t: Term, positive: Collection[Var]) -> Term:
    """A term with its integrals between limits worked out where that can be done; some of its names are positive."""
    if not any(s.op == "int" for s in postorder(t)):
        return t
    from derive.proof.integrating import written_out

    facts = Facts(partial(sign_of, world=context.world), _known(context, ()))
    return written_out(t, facts, positive, _BUDGET)


def _known(context: Context, extra: Sequence[Premise]) -> tuple[Known, ...]:
    """Inequalities among the premises, each as a term above (or not at) zero."""
    out = []
    for p in (*context.premises, *extra):
        term = context.resolved(p.term)
        if p.sign in (">", "≥", "≠"):
            out.append(Known(term, p.sign, p.label))  # type: ignore[arg-type]
        elif p.sign in ("<", "≤"):
            out.append(Known(neg(term), ">" if p.sign == "<" else "≥", p.label))
    return tuple(out)


def _premises(context: Context, extra: Sequence[Premise], places: Collection[str]) -> list[Usable]:
    """Every equation that may be used, the most recent first, with derivatives along the motion behind it.

    A relation that holds at all times is also given as it reads at the instants that the target speaks of.
    """
    out: list[Usable] = []
    slopes: list[Usable] = []
    for p in reversed((*context.premises, *extra)):
        if p.sign != "=":
            continue
        term = context.resolved(p.term)
        at_all_times = p.always and context.timely(p.term)
        out.append(Usable(p.label, term, always=at_all_times))
        if at_all_times:
            placed = (context.placed(term, key) for key, _ in context.instants if key in places)
            out.extend(Usable(p.label, t) for t in placed if t is not term)
        if at_all_times and context.world.changes(term):
            slope = context.resolved(derivative(term, context.world.along_time))
            if slope.op != "num":
                slopes.append(Usable(p.label, slope, "d/dt", term))
    return out + slopes


def premise_labels(certificates: tuple[object, ...] | None, fallback: Sequence[str]) -> tuple[str, ...]:
    """The labels of what certificates use; without one, what the writer cites."""
    if not certificates:
        return tuple(fallback)
    labels = [label for c in certificates for label in getattr(c, "labels", ())]
    return tuple(dict.fromkeys(labels))


def with_proof(verdict: Verdict, certificates: tuple[object, ...] | None, fallback: Sequence[str]) -> Verdict:
    """The verdict as proved by certificates, or as tested only where there are none."""
    return replace(
        verdict, support="proved" if certificates is not None else "tested", certificate=certificates,
        premises=premise_labels(certificates, fallback),
    )
