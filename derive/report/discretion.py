"""What of a verdict may be told at a grade of help: nothing that would hand over what is still to be found.

Every report asks here before it shows the facts or the state behind a break, so that no layout can tell more
than another. Lines that hold are the writer's own work; of them nothing is kept back.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from derive.records import Standing, Verdict

HelpGrade = Literal["place", "kind", "edit"]

# Facts of a break that are the answer itself: only who may see the change that mends a line may see them.
_ANSWERS = ("exact",)


def told(verdict: Verdict, grade: HelpGrade) -> Verdict:
    """The verdict as it may be shown. At `place` a break is only pointed to; below `edit` a number that would
    have been right is left out, and so is a state with what is settled by what is given: its values are the results
    that the working is to find."""
    if grade == "edit":
        return verdict
    if verdict.state is not None and verdict.state.settled:
        verdict = replace(verdict, state=None)
    if verdict.standing is not Standing.FAILS:
        return verdict
    if grade == "place":
        return replace(verdict, state=None, code="", facts=(), strength="", note="")
    return replace(verdict, facts=tuple((name, value) for name, value in verdict.facts if name not in _ANSWERS))
