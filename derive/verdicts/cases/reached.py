"""`15 = 20 t - 4.9 t²` below `y = 20 t - 4.9 t²`: a value put in for what moves, which says which moment is meant."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name, Relation, Statement, names_in, walk
from derive.quantities.dimensions import shifts_a_time
from derive.records import Standing
from derive.states.context import given_by_time, tied_names
from derive.states.evidence import weigh
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.terms.lowering import lower
from derive.terms.term import Term, Var, var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.where import said_at_instant, supposed


def at_value_reached(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The statement as said of the moment at which what moves has the number on one of its sides."""
    claim, world = statement.claim, setting.context.world
    if not isinstance(claim, Relation) or claim.signs != ("=",) or statement.where is not None or not world.moving:
        return None
    for number, other in (claim.sides, claim.sides[::-1]):
        value, course = lower(number, world), lower(other, world)
        if not isinstance(value, Term) or not isinstance(course, Term) or variables(value):
            continue
        names = sorted(n for n in world.moving if _goes_as(n, setting.context.resolved(course), setting))
        if names:
            if isinstance(other, Name):  # `v = 34 m/s` alone: nothing is said of that moment yet
                return supposed(replace(statement, role="suppose", where=claim, claim=None), setting, source)
            where = Relation((Name(names[0]), number), ("=",), span=number.span)
            return said_at_instant(replace(statement, role="at", where=where), setting, source)
    return None


def moment_told(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`4 - 2 t = 0` below `v = 4 t - t²`, `cos ω t = 0` below `y = A cos ω t`: an equation for t, beside what stays,
    picks out a moment, and is not so at all times."""
    claim = statement.claim
    alone = isinstance(claim, Relation) and claim.signs == ("=",) and _is_for_the_time(claim, setting)
    if not alone or setting.strict or statement.where is not None or not given_by_time(setting.context):
        return None
    found = supposed(replace(statement, role="suppose", where=claim, claim=None), setting, source)
    return found if all(v.standing is Standing.TAKEN for v in found[0]) else None


def moment_by_a_shift(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`h/2 = ½ g (t - 1)²` below `h = ½ g t²`: a second sooner; so it is at one moment, and not at all times."""
    claim = statement.claim
    shifted = isinstance(claim, Relation) and claim.signs == ("=",) and any(
        shifts_a_time(n) and TIME in names_in(n) for n in walk(claim))
    names = {*names_in(claim)}
    goes = any(v.name in names for v in given_by_time(setting.context))
    if not shifted or not goes or setting.strict or statement.where is not None or not (
            names <= tied_names(setting.context)):
        return None
    found = supposed(replace(statement, role="suppose", where=claim, claim=None), setting, source)
    return found if all(v.standing is Standing.TAKEN for v in found[0]) else None


def _is_for_the_time(claim: Relation, setting: Setting) -> bool:
    names, context = {*names_in(claim)}, setting.context
    others, first = names - {TIME}, claim.sides[0]
    if isinstance(first, Name) and first.ident != TIME:
        return False  # `y = R sin ωt` says how y goes
    return TIME in names and others <= tied_names(context) and not any(
        context.world.is_changing(Var(n)) or n in context.world.fields for n in others)


def _goes_as(name: str, course: Term, setting: Setting) -> bool:
    """Is that how a name goes with time, by what is known of it?"""
    context = setting.context
    here = variables(course)
    if Var(TIME) not in here or any(v.at or v.order or (v.name != TIME and context.world.is_changing(v)) for v in here):
        return False
    own = context.resolved(var(Var(name)))
    cloud = setting.states.of(context, (own, course))
    return bool(cloud.size) and weigh(own, course, "=", cloud).all_hold
