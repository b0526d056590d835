"""Opening a trial: the states and the setting in which other claims can be tried in the place of one that was typed.

A claim said of a case is tried where the case holds, one said of an instant at that instant, and one that is an
approximation over states that follow the small as it shrinks.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from derive.diagnosis.trial import TOO_MUCH, Trial
from derive.notation.tree import Expr, Relation, Statement, Sum, names_in, walk
from derive.quantities.dimensions import Dimensions
from derive.states.context import Context, tied_names
from derive.states.projection import Cloud
from derive.states.said import Source, matter
from derive.states.setting import Setting
from derive.steps.changing import motion
from derive.steps.changing.kinematics import linked
from derive.steps.changing.oscillation import with_meaning
from derive.steps.customs import customary
from derive.steps.small import orders, regimes
from derive.terms.claims import LoweredPair, alternatives, lower_pair, pairs
from derive.terms.term import sub, variables
from derive.terms.world import TIME
from derive.verdicts.cases.instants import instant_of
from derive.verdicts.claims.suppositions import inside_case

# A place follows from an acceleration by two integrations; more are rare in a first course.
DEEPEST = 2
_AT_REST = 1e-9


def trial_of(statement: Statement, setting: Setting, source: Source, dimensions: Dimensions) -> Trial | None:
    """A trial in the place of a statement; None where its own claim has no meaning that states could be found for."""
    if statement.claim is None:
        return None
    try:
        statement, setting, key = _inside(statement, setting, source)
        setting = _as_judged(setting, statement, source)
        context = setting.context if setting.regime is None else setting.regime.context
        claim = statement.claim
        assert claim is not None
        lowered = [lower_pair(p, context.world) for p in pairs(alternatives(claim)[0])]
        sides = [context.resolved(t) for low in lowered for part in low.parts for t in part]
        if key:
            sides = [context.resolved(context.placed(t, key)) for t in sides]
        told = _meant(statement, setting, source) if setting.regime is None and not key else setting
        cloud = setting.states.of(_tied(told.context if setting.regime is None else context, told), sides)
        deep: list[Cloud] = []
        changes = [context.resolved(sub(a, b)) for low in lowered for a, b in low.parts]
        moving = any(map(context.world.changes, changes))
        fresh = frozenset(names_in(claim)) - tied_names(context) - {TIME}
        # An equation of motion is what is integrated, not what an integral gives.
        integral = setting.regime is None and not key and all(v.order < 2 for v in variables(*changes))
        while integral and len(deep) < DEEPEST and any(map(context.world.changes, changes)):
            changes = [context.resolved(motion.slope(t, context.world)) for t in changes]
            deep.append(setting.states.of(context, changes))
        if any(map(_nothing_moves, deep)):
            moving, deep = False, []
        opened = regimes.opened(setting, statement) if statement.role == "regime" else setting
        shrunk = _shrunk(lowered, opened)
        regime = opened.regime
        small = () if regime is None else orders.small_with([v.name for v in regime.small], context)
        kept = max((_highest(p.right, small) for p in pairs(alternatives(claim)[0])), default=0)
        return Trial(
            statement, setting, source, dimensions, cloud, tuple(deep), shrunk, small, kept, key, fresh, moving)
    except TOO_MUCH:
        return None


def _nothing_moves(cloud: Cloud) -> bool:
    """Do the states leave everything where it is? So they do where x is a course and v, which x tells, is declared a
    constant; then no line can have come of integrating."""
    rates = [np.abs(a) for v, a in cloud.columns.items() if v.order and not v.at]
    return bool(rates) and max(float(np.max(a, initial=0.0)) for a in rates) < _AT_REST


def _as_judged(setting: Setting, statement: Statement, source: Source) -> Setting:
    """The setting with what goes without saying: no mass is nothing, Lagrange's equation holds, a period is that of
    the approximated motion."""
    pair = None if statement.claim is None else next(pairs(alternatives(statement.claim)[0]), None)
    if pair is None:
        return setting
    if setting.strict and setting.regime is None:
        law = customary.by_lagranges_equation(matter(pair, setting, source))
        return setting if law is None else law.setting
    if setting.regime is not None:
        linear = replace(setting.within(setting.regime.context), regime=None)
        inside = with_meaning(matter(pair, linear, source)) if statement.role == "claim" else None
        return setting if inside is None or not setting.states.any(inside.context).size else inside.setting
    m = matter(pair, setting, source)
    views = (customary.with_sizes(m), *(
        v for v in customary.views(m) if customary.binding(m, v) or customary.bounded_angle(m, v)))
    return next((v.setting for v in reversed(views) if v is not None), setting)


def _highest(side: Expr, small: tuple[str, ...]) -> int:
    """The highest power of the small that is written out beside lower ones; one that stands alone keeps no order."""
    sums = (n for n in walk(side) if isinstance(n, Sum))
    several = any(len({orders.degree(t, small) for t in n.terms}) > 1 for n in sums)
    return orders.degree(side, small) if several else 0


def _meant(statement: Statement, setting: Setting, source: Source) -> Setting:
    """The setting with what a period or a frequency in the claim means, where its states can be found."""
    assert statement.claim is not None
    pair = next(pairs(alternatives(statement.claim)[0]), None)
    inside = None if pair is None else with_meaning(matter(pair, setting, source))
    return setting if inside is None or not setting.states.any(inside.context).size else inside.setting


def _tied(context: Context, setting: Setting) -> Context:
    """The context with what uniform change ties together, where its states can be found."""
    tied = linked(context, setting)
    return context if tied is None or not setting.states.any(tied).size else tied


def _inside(statement: Statement, setting: Setting, source: Source) -> tuple[Statement, Setting, str]:
    """A claim said of a case or an instant, as a plain claim in the setting where the case holds; the instant."""
    where = statement.where
    if statement.role not in ("at", "suppose") or where is None or statement.claim is None:
        return statement, setting, ""
    if isinstance(where, Relation) and set("→≪≫") & set(where.signs):
        return statement, setting, ""
    instant = instant_of(where, setting)
    if instant is not None:
        context = setting.context.at_instant(*instant)
        return statement, setting.within(context), instant[0] if setting.regime is None else ""
    inside = inside_case(where, setting, source)
    if not setting.states.any(inside.context).size:
        return statement, setting, ""
    return replace(statement, role="claim", where=None), inside, ""


def _shrunk(lowered: list[LoweredPair], setting: Setting) -> tuple[tuple[Cloud, ...], ...]:
    """States that follow whatever may be small in an approximation as it shrinks; none where some are lost."""
    parts = [(setting.context.resolved(a), setting.context.resolved(b)) for low in lowered for a, b in low.parts]
    if setting.regime is not None:
        small = orders.small_with([v.name for v in setting.regime.small], setting.context)
        if not any(v.name in small for part in parts for v in variables(*part)):
            return ()  # `T = 2π √(ℓ/g)` holds of the motion to its order, with nothing in it to shrink
        choices = [small]
    elif any(low.sign == "≈" for low in lowered):
        names = dict.fromkeys(v.name for part in parts for v in variables(*part) if v.role == "value" and not v.order)
        choices = [orders.small_with([n], setting.context) for n in names]
    else:
        return ()
    sides = [t for part in parts for t in part]
    found = []
    for small in choices:
        clouds = list(orders.shrunk(sides[0], sides[1], small, setting.context, setting.states, sides[2:]))
        if None in clouds:
            return ()
        found.append(tuple(c for c in clouds if c is not None))
    return tuple(found)
