"""What a marker is told on the screen after a run."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from statistics import mean

from derive.marking.batch import Outcome
from derive.messages import sentence
from derive.records import Problem
from derive.report.cells import set_in, visible

_CHANGES_SHOWN = 40
_GROUPS_SHOWN = 5


def say_outcome(outcome: Outcome, say: Callable[[str], object]) -> None:
    """The run in a few lines: how many, what is open, equal slips, what changed, where it was written."""
    folder = visible(str(next(iter(outcome.written.values())).parent))
    last = (sentence("mark.written", {"folder": folder}), sentence("mark.closing"))
    told = (map(_placed, outcome.problems), _marks(outcome), _slips(outcome), _changes(outcome), last)
    for text in (text for some in told for text in some):
        lead = text[: len(text) - len(text.lstrip())]
        for row in set_in(text.lstrip(), lead, "  " if lead else ""):
            say(row)


def _marks(outcome: Outcome) -> Iterator[str]:
    totals = [a.total for a in outcome.applied.values()]
    looks = [n for n, a in outcome.applied.items() if a.looks]
    most = outcome.sheet.most
    yield sentence("mark.done", {"count": str(len(totals)), "title": visible(outcome.sheet.title)})
    if not totals:
        yield sentence("mark.nothing")
    elif most:
        yield sentence("mark.mean", {"mean": f"{mean(totals):.1f}", "most": str(most)})
    if outcome.resumed:
        yield sentence("mark.resumed", {"count": str(outcome.resumed)})
    if looks:
        yield sentence("mark.looks", {"count": str(len(looks))})
    elif totals and most:
        yield sentence("mark.sure")


def _slips(outcome: Outcome) -> Iterator[str]:
    shared = [g for g in outcome.groups if len(g.members) > 1][:_GROUPS_SHOWN]
    if shared:
        yield sentence("title.shared_slips")
        width = max(len(str(len(g.members))) for g in shared)
        yield from (f"  {len(g.members):{width}}  slip {g.name}  {visible(g.ways[0])}" for g in shared)
    if outcome.same:
        yield sentence("mark.same", {"count": str(len(outcome.same))})


def _changes(outcome: Outcome) -> Iterator[str]:
    if outcome.changed:
        yield sentence("title.changed")
        yield from (f"  {c}" for c in outcome.changed[:_CHANGES_SHOWN])
    if len(outcome.changed) > _CHANGES_SHOWN:
        yield "  " + sentence("piece.more_changes", {"count": str(len(outcome.changed) - _CHANGES_SHOWN)})


def _placed(p: Problem) -> str:
    """A problem with where it stands: in the exercise, or in the file that holds the marker's decisions."""
    if not p.line:
        return p.message
    code = "piece.decision_line" if p.code.startswith("decision.") else "piece.exercise_line"
    return f"{sentence(code, {'line': str(p.line)})}: {p.message}"
