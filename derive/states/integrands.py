"""What goes along with the variable of an integral: the ω of `∫_r^r0 T dr` below `T = m r ω²`, where `L = m r² ω` stays
what it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Claim, Integral, Name, names_in, walk
from derive.states.context import Context
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.sizes import constant_sizes
from derive.states.states import States
from derive.terms.term import ZERO, Term, Var, div, neg, var, variables
from derive.terms.world import TIME

_START, _CONSTANT = "_0", "const"
_MOST = 12  # names that are looked through


def with_integrands_along(context: Context, claim: Claim, states: States) -> Context:
    """The context in which the names under a claim's integrals that some line ties to the variable and to nothing but
    what stays are given by it."""
    for whole in (n for n in walk(claim) if isinstance(n, Integral) and n.lower is not None):
        if not isinstance(whole.wrt, Name) or whole.wrt.ident == TIME:
            continue
        along = Var(whole.wrt.ident)
        for name in _under(names_in(whole.body), context):
            given = next(_given(Var(name), along, context, states), None)
            if name != along.name and given is not None and not _reaches(name, along, context):
                context = _given_by(name, given, context)
    return context


def _given_by(name: str, given: Term, context: Context) -> Context:
    """The context in which a name is short for a term; what that term speaks of is short for it no more."""
    own, world = {v.name for v in variables(given)}, context.world
    kept = {n: t for n, t in world.definitions.items() if n not in own or Var(name) not in variables(t)}
    return replace(context, world=replace(world, definitions={**kept, name: given}))


def _under(names: tuple[str, ...], context: Context) -> list[str]:
    """The names under an integral, and those that they are short for."""
    found = list(names)
    for name in found:
        short = context.world.definitions.get(name, ZERO)
        found += [v.name for v in variables(short) if v.name not in found and len(found) < _MOST]
    return found


def _reaches(name: str, along: Var, context: Context) -> bool:
    return along in variables(context.world.definitions.get(name, ZERO))


def _given(v: Var, along: Var, context: Context, states: States) -> Iterator[Term]:
    if context.world.is_changing(v) or _stays(v, context, states):
        return
    for p in context.premises:
        if p.sign != "=" or not p.always or not {v, along} <= set(variables(p.term)):
            continue
        others = [u for u in variables(p.term) if u not in (v, along)]
        split = linear(p.term, v)
        if split is not None and split[0] is not ZERO and all(_stays(u, context, states) for u in others):
            yield neg(div(split[1], split[0]))


def _stays(v: Var, context: Context, states: States) -> bool:
    """A mass, what it was at first, or what has been said to be constant?"""
    plain = not v.order and not v.at and not context.world.is_changing(v)
    told = v.name.endswith(_START) or v.name in constant_sizes((v.name,), context.world)
    return plain and (told or _is_said_to_stay(v, context, states))


def _is_said_to_stay(v: Var, context: Context, states: States) -> bool:
    own = context.resolved(var(v))
    for constant in {u for p in context.premises for u in variables(p.term) if u.name.startswith(_CONSTANT)}:
        cloud = states.of(context, (own, var(constant)))
        if cloud.size and weigh(own, var(constant), "=", cloud).all_hold:
            return True
    return False
