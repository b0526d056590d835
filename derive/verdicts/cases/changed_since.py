"""A name used for what a quantity has become: `vy = 16.1 - 9.81·2 = -3.5 m/s` below `vy = v0 sin α = 16.1 m/s`."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from derive.notation.tree import Expr, Name, Num, Relation, Statement, Sum, names_in
from derive.records import Standing
from derive.states.evidence import weigh
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.terms.numbers import last_digit_of_result
from derive.terms.term import ZERO, Var, var
from derive.verdicts.cases.giving_way import without
from derive.verdicts.claims.claiming import decide_claim

_RIGHT = (Standing.TAKEN, Standing.FOLLOWS, Standing.APPROXIMATES)
_LENIENCE = 1.05


def changed_since(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The claim as the value of a later moment, where it is reckoned from what the page says the quantity is: nobody
    adds something to a value to find that same value."""
    claim = statement.claim
    first = claim.sides[0] if isinstance(claim, Relation) else None
    if setting.strict or not isinstance(claim, Relation) or not isinstance(first, Name) or len(claim.sides) < 3 or any(
            map(names_in, claim.sides[1:])) or not isinstance(claim.sides[1], Sum):
        return None
    if not any(_is_its_value(first.ident, t, setting) for t in claim.sides[1].terms):
        return None
    gone = [p for p in setting.context.premises if p.sides is not None and p.sides[0] is var(Var(first.ident))]
    world = setting.context.world
    freed = setting.context.knowing(replace(
        world, definitions={n: t for n, t in world.definitions.items() if n != first.ident}))
    verdicts, after = decide_claim(claim, replace(
        setting.within(without(freed, gone)), cases=(), limits=(), ends=(), situation=source.number), source)
    return (verdicts, after) if verdicts and all(v.standing in _RIGHT for v in verdicts) else None


def _is_its_value(name: str, term: Expr, setting: Setting) -> bool:
    """Is a number, to its figures, what the page says a quantity is?"""
    if not isinstance(term, Num) or not term.value:
        return False
    held = setting.context.resolved(var(Var(name)))
    cloud = setting.states.of(setting.context, [held])
    value = weigh(held, ZERO, "=", cloud).left
    half = _LENIENCE * 0.5 * 10.0 ** last_digit_of_result(term)
    return bool(cloud.size) and not np.iscomplexobj(value) and bool((np.abs(value - float(term.value)) <= half).all())
