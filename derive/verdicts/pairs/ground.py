"""What the g of a task near the ground says of numbers."""

from __future__ import annotations

from dataclasses import replace

from derive.states.setting import Decision, Matter
from derive.steps.brought_in import quick
from derive.steps.numbers import gravity, numeric
from derive.terms.term import variables
from derive.verdicts.pairs.open_cases import inside_open_case


def side_near_the_ground(m: Matter) -> Decision | None:
    """`v = 6.6 m/s` after `v² = 5 g r` and r = 0.9 m."""
    return quick.side_of_a_root(m) if m.context.premises[-1].label == gravity.USUAL_G else None


def refuted_by_usual_g(m: Matter) -> Decision | None:
    """`if r = 0.9 m: v = 7.6 m/s` of a v that r and g fix: it is worked out, and no measurement of g. (Right ones are
    found by custom.)"""
    inside = inside_open_case(m, beside=True) if m.setting.cases and not m.setting.strict else None
    values = [p for p in inside.context.premises if p.sign == "=" and len(variables(p.term)) == 1] if inside else []
    if inside is None or not any(p not in m.context.premises for p in values):
        return None
    near = next(gravity.near_the_ground(inside), None)
    found = numeric.wrong_number(near) if near is not None else None
    if found is None:
        return None
    return replace(found, after=replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
