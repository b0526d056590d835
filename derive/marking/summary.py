"""What a marker is told on the screen after a run."""

from __future__ import annotations

from collections.abc import Callable
from statistics import mean

from derive.marking.batch import Outcome
from derive.messages import sentence
from derive.records import Problem
from derive.report.cells import visible

_CHANGES_SHOWN = 40
_GROUPS_SHOWN = 5


def say_outcome(outcome: Outcome, say: Callable[[str], object]) -> None:
    """The run in a few lines: how many, what is open, equal slips, what changed, where it was written."""
    for p in outcome.problems:
        say(visible(_placed(p)))
    totals = [a.total for a in outcome.applied.values()]
    looks = [n for n, a in outcome.applied.items() if a.looks]
    most = outcome.sheet.most
    say(sentence("mark.done", {"count": str(len(totals)), "title": visible(outcome.sheet.title)}))
    if totals:
        say(sentence("mark.mean", {"mean": f"{mean(totals):.1f}", "most": str(most)}))
    if outcome.resumed:
        say(sentence("mark.resumed", {"count": str(outcome.resumed)}))
    say(sentence("mark.looks", {"count": str(len(looks))}) if looks else sentence("mark.sure"))
    shared = [g for g in outcome.groups if len(g.members) > 1][:_GROUPS_SHOWN]
    if shared:
        say(sentence("title.shared_slips"))
        width = max(len(str(len(g.members))) for g in shared)
        for g in shared:
            say(f"  {len(g.members):{width}}  slip {g.name}  {visible(g.ways[0])}")
    if outcome.same:
        say(sentence("mark.same", {"count": str(len(outcome.same))}))
    if outcome.changed:
        say(sentence("title.changed"))
        for c in outcome.changed[:_CHANGES_SHOWN]:
            say(f"  {c}")
        left = len(outcome.changed) - _CHANGES_SHOWN
        if left > 0:
            say("  " + sentence("piece.more_changes", {"count": str(left)}))
    say(sentence("mark.written", {"folder": visible(str(next(iter(outcome.written.values())).parent))}))
    say(sentence("mark.closing"))


def _placed(p: Problem) -> str:
    """A problem with where it stands: in the exercise, or in the file that holds the marker's decisions."""
    if not p.line:
        return p.message
    code = "piece.decision_line" if p.code.startswith("decision.") else "piece.exercise_line"
    return f"{sentence(code, {'line': str(p.line)})}: {p.message}"
