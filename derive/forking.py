"""Cases that exclude each other, each with a course of its own: `γ < ω0: x = …`, then `γ = ω0: x = …`.

The page goes on with what was found in the latest of them; the next is opened where the first one was.
"""

from __future__ import annotations

from collections.abc import Sequence

from derive.case_heads import told_for_a_case, told_in_a_case
from derive.notation.tree import Claim, Relation
from derive.records import LineVerdict, Reading
from derive.states.said import Source
from derive.states.setting import Setting
from derive.states.yielding import forgetting, without_values_of
from derive.verdicts.claims.suppositions import can_be, case_of
from derive.verdicts.statements import names_a_case


def condition_of(reading: Reading) -> Claim | None:
    """The case that a line opens at its head."""
    first = reading.statements[0] if reading.statements else None
    if first is None or (first.role not in ("suppose", "at") and not names_a_case(reading.words)):
        return None
    where = first.where if first.where is not None else first.claim
    return where if isinstance(where, Relation) else None


def found_a_course(before: Setting, after: Setting) -> bool:
    """Has a line found how something moves?"""
    known = before.context.world.functions
    return any(known.get(name) is not course for name, course in after.context.world.functions.items())


def excluded(reading: Reading, setting: Setting, source: Source) -> bool:
    """Can the case at the head of a line be no more, beside what has been found in another?"""
    where = condition_of(reading)
    return where is not None and not can_be(case_of(where, setting, source), setting)


def without_values_of_cases(reading: Reading, above: Sequence[LineVerdict], setting: Setting) -> Setting:
    """The setting without the values that names had in a case above and that this line has another for."""
    if setting.strict:
        return setting
    context = setting.context
    for name in sorted(told_for_a_case(reading, above)):
        context = forgetting(context, name)
    context = without_values_of(context, told_in_a_case(reading, above))
    return setting if context is setting.context else setting.within(context)
