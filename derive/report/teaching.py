"""What the diagnosis has to say beside the lines of a check, as sentences by line.

Asks `derive.diagnosis` once for a check; how much it tells depends on the grade of help alone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from derive.guarding import guarded
from derive.messages import sentence
from derive.records import Check
from derive.report.discretion import HelpGrade

if TYPE_CHECKING:
    from derive.diagnosis.hints import Hint

# The first breaks of a page are explained; a page with more has one trouble, not many.
_EXPLAINED = 3


@dataclass(frozen=True, slots=True)
class Taught:
    """Sentences by the number of the line they belong to: on breaks, on reasons beside lines that hold, and what a
    mechanic would see in the final result."""

    breaks: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    reasons: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    result: Mapping[int, tuple[str, ...]] = field(default_factory=dict)


NOTHING = Taught()


def taught(check: Check, grade: HelpGrade) -> Taught:
    """Look for the slips in a check's first breaks, and for reasons that do not fit."""
    # The engine is not needed to print a finished check.
    from derive.diagnosis.explain import explain, remarks
    from derive.diagnosis.results import observations

    if check.outcome == "unread":
        return NOTHING

    def broken() -> dict[int, tuple[str, ...]]:
        return {e.line.number: _said(e.told(grade)) for e in explain(check, _EXPLAINED)}

    def reasoned() -> dict[int, tuple[str, ...]]:
        reasons: dict[int, list[Hint]] = defaultdict(list)
        for line, hint in remarks(check):
            reasons[line.number].append(hint)
        return {number: _said(found) for number, found in reasons.items()}

    def looked_at() -> dict[int, tuple[str, ...]]:
        found = observations(check)
        if found is None:
            return {}
        line, seen = found
        # With help kept to the place, nothing hints at what is amiss.
        return {line.line.number: tuple(sentence(o.code, o.facts) for o in seen if o.fits or grade != "place")}

    # A verdict stands without its explanation: where none can be had, the check is still shown.
    return Taught(*(guarded(work, lambda _: {}, check.first_break) for work in (broken, reasoned, looked_at)))


def _said(hints: Iterable[Hint]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(sentence(hint.code, hint.facts) for hint in hints))
