"""Expansions about a place: `near r0: U ≈ U(r0) + ½ k (r - r0)²`, right to the order that is written of r - r0."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import (
    Claim,
    Constant,
    Name,
    Neg,
    Quotient,
    Relation,
    Statement,
    Sum,
    rebuilt,
    walk,
)
from derive.records import Standing, Verdict
from derive.states.context import tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Decision, Matter, Setting
from derive.steps.small import smallness
from derive.steps.small.orders import shrinking
from derive.terms.claims import pairs
from derive.terms.term import Term, Var, add, substitute, var
from derive.terms.world import TIME, World
from derive.verdicts.pairs.refuting import fails

# A gap that shrinks by less than this power does not shrink.
_TOGETHER = 0.5


def near_a_place(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The verdict on an expansion about a place, whether or not a line says that it is near there; None for anything
    else."""
    claim = statement.claim
    if not isinstance(claim, Relation) or claim.signs != ("≈",):
        return None
    found = _about(claim.sides[-1], setting.context.world)
    if found is None:
        return None
    v, place = found
    if _is_far_out(statement, v, setting):
        return None
    decision = _expanded(claim, v, place, setting, source)
    return ((replace(decision.verdict, span=claim.span),), decision.after) if decision is not None else None


def _is_far_out(statement: Statement, v: Name, setting: Setting) -> bool:
    """`for t ≫ τ: x ≈ w (t - τ)`, `as t → ∞: x ≈ …`: what is left of a course in the long run is not told near τ."""
    where = statement.where
    runs = isinstance(where, Relation) and where.sides[0] == v and where.signs[-1] in ("→", "≫", ">")
    endless = isinstance(where, Relation) and Constant("∞") in [*walk(where.sides[-1])]
    small = any(isinstance(e, Quotient) and v in [*walk(e.den)] for e in statement.small)
    late = v.ident == TIME and setting.regime is not None and setting.regime.late
    return (runs and (endless or where.signs[-1] != "→")) or small or late  # type: ignore[union-attr]


def _about(side: object, world: World) -> tuple[Name, Name] | None:
    """The r and the r0 of the r - r0 in a side, where r changes, or others do with it, and r0 stays."""
    for node in walk(side):
        terms = node.terms if isinstance(node, Sum) else ()
        if len(terms) != 2 or not isinstance(terms[0], Name) or not isinstance(terms[1], Neg):
            continue
        v, place = terms[0], terms[1].arg
        if isinstance(place, Name) and not world.is_changing(Var(place.ident)) and (
                world.is_changing(Var(v.ident)) or v.ident in world.fields.values()):
            return v, place
    return None


def _expanded(claim: Relation, v: Name, place: Name, setting: Setting, source: Source) -> Decision | None:
    """The claim with a small name of its own for r - r0."""
    taken = {*tied_names(setting.context), *setting.context.world.symbols}
    small = next(n for n in (f"δ{v.ident}", f"δ{v.ident}_{place.ident}", "δδ") if n not in taken)
    apart = {id(n): Name(small, span=n.span) for n in walk(claim)
             if isinstance(n, Sum) and n.terms == (v, Neg(place))}
    said: Claim = rebuilt(claim, dict(apart))  # type: ignore[assignment]
    (pair,) = pairs(said)
    m = matter(pair, replace(setting, regime=None, cases=()), source)
    if set(m.fresh) - {small}:
        return None
    near = _seen_from(m, Var(v.ident), add(var(Var(place.ident)), var(Var(small))))
    decision = smallness.to_order(near, [small]) or (fails(near) if _goes_apart(near, small) else None)
    if decision is None:
        return None
    own = matter(next(iter(pairs(claim))), setting, source).premises(implied=False)
    wrong = decision.verdict.standing is Standing.FAILS
    after = replace(setting, broken=(*setting.broken, *own)) if wrong else setting
    return Decision(_named(decision.verdict, small, f"({as_text(v)} - {as_text(place)})"), after)


def _goes_apart(m: Matter, small: str) -> bool:
    """Are the sides not the same to leading order, as far as states can be followed?"""
    (left, right), = m.lowered.parts
    found = shrinking(left, right, [small], m.context, m.setting.states)
    return found is not None and not found.exact and found.power < _TOGETHER


def _seen_from(m: Matter, v: Var, place: Term) -> Matter:
    """The pair with what its names are given by written out, and a place put for one of them."""
    change = {var(v): place}
    parts = tuple((substitute(m.context.resolved(a), change), substitute(m.context.resolved(b), change))
                  for a, b in m.lowered.parts)
    return replace(m, lowered=replace(m.lowered, parts=parts))


def _named(verdict: Verdict, small: str, apart: str) -> Verdict:
    """What is dropped, in the letters of the line."""
    return replace(verdict, facts=tuple((key, value.replace(small, apart)) for key, value in verdict.facts))
