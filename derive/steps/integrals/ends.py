"""Integrals between ends that are only named: `ln(T2/T1) = μ φ` after `dT/T = μ dφ`.

T1 and T2 are what T is at the two ends, φ how far they are apart. With T put for the later end such a line is an
integral with T1 as its constant; and where the ends are one, it must say nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Context
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.steps.changing import motion
from derive.steps.changing.misfits import changes_otherwise
from derive.terms.term import ZERO, Term, Var, substitute, var, variables
from derive.terms.world import TIME


def between_ends(m: Matter) -> Decision | None:
    """The pair as an integral between named ends of what changes: right, or the break of one that is not."""
    ends = _ends(m)
    if not ends or not _nothing_where_ends_meet(m, ends):
        return None
    change: dict[Term, Term] = {var(names[-1]): var(Var(base)) for base, names in ends.items()}
    parts = tuple((substitute(a, change), substitute(b, change)) for a, b in m.lowered.parts)
    running = replace(m, lowered=replace(m.lowered, parts=parts))
    slopes = [motion.slope(m.context.resolved(r), m.context.world) for r in running.residuals]
    if any(s is ZERO for s in slopes):
        return None
    named = [v for names in ends.values() for v in names]
    there = m.context.adding(*running.premises(implied=False, always=False))  # `T2 = T1 e^(μ φ)`, solved for one end
    if not all(motion.zero_everywhere(s, m, m.context) or motion.zero_everywhere(s, m, there) for s in slopes):
        return changes_otherwise(running) if _says_nothing_else(m, named) else None
    verdict = Verdict(Standing.FOLLOWS, code="follows.plain", support="tested", points=40, premises=m.cites)
    context = motion.with_constants(m.context, named)
    return Decision(verdict, m.setting.within(context.adding(*m.premises(implied=False, always=False))))


def later_ends(m: Matter) -> dict[str, str]:
    """The quantity that each name of a later end is the value of: {T_2: T}; nothing where no two ends are named."""
    return {names[-1].name: base for base, names in _ends(m).items()}


def _says_nothing_else(m: Matter, ends: Collection[Var]) -> bool:
    """Is all that the line speaks of, but the ends, in one equation between rates or differentials above?"""
    own = {v for v in m.unknowns if v not in ends}
    return any(
        own <= {v._replace(order=0, wrt="", role="value") for v in variables(p.term)}
        and any(v.order or v.role == "differential" for v in variables(p.term)) for p in m.context.premises)


def _ends(m: Matter) -> dict[str, list[Var]]:
    """The named ends, the first one first, of each quantity that changes and does not stand in the line itself; none
    where no quantity has two."""
    if m.pair.sign != "=" or m.lowered.primitives:
        return {}
    here = [v for v in m.unknowns if v.role == "value" and not v.order and not v.at]
    found: dict[str, list[Var]] = {}
    for v in sorted(here, key=lambda v: v.name):
        base, _, index = v.name.partition("_")
        if index.isdigit() and _changes(base, m.context) and Var(base) not in here and not _moves(v, m.context):
            found.setdefault(base, []).append(v)
    ends = {base: names for base, names in found.items() if len(names) <= 2}
    return ends if any(len(names) == 2 for names in ends.values()) else {}


def _changes(name: str, context: Context) -> bool:
    return name == TIME or context.world.is_changing(Var(name)) or name in context.world.fields.values()


def _moves(v: Var, context: Context) -> bool:
    """Does a line above say of a named end more than its value?"""
    return context.world.is_changing(v) or any(
        v in (here := variables(p.term)) and any(context.world.is_changing(u) for u in here) for p in context.premises)


def _nothing_where_ends_meet(m: Matter, ends: Mapping[str, list[Var]]) -> bool:
    """With both ends in one place, and what runs from nothing at nothing, does the line hold of itself?"""
    change: dict[Term, Term] = {var(names[1]): var(names[0]) for names in ends.values() if len(names) == 2}
    changing = [v for v in m.unknowns if v.role == "value" and (v.name == TIME or m.context.world.is_changing(v))]
    change.update({var(v): ZERO for v in changing})
    terms = [m.context.resolved(substitute(r, change)) for r in m.residuals]
    cloud = m.setting.states.of(m.context, terms)
    return bool(cloud.size) and all(weigh(t, ZERO, "=", cloud).all_hold for t in terms)
