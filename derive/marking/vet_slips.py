"""Slips made on purpose in a reference solution: which are found, which would get through, what each line is worth.

The ways of slipping are those that the diagnosis knows; each is put in the place of the right line and judged as a
student's line would be.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from derive.diagnosis.around import look_around
from derive.diagnosis.edits import Edit, slips
from derive.diagnosis.opening import trial_of
from derive.diagnosis.trial import TOO_MUCH
from derive.marking.vet import Subject
from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Statement
from derive.opening import opened
from derive.page import Page
from derive.records import LineVerdict, Standing
from derive.report.naming import line_name
from derive.states.said import source_of
from derive.verdicts.statements import decide

# Of each kind of slip one in a statement: more of the same tell an instructor nothing new.
EACH_KIND = 1


@dataclass(frozen=True, slots=True)
class Worth:
    """What a slip in a line costs: its points, and whether they are first met there or only further on."""

    points: tuple[str, ...]
    further: bool = False


@dataclass(frozen=True, slots=True)
class Tried:
    """A slip in a line: how it was made, what was then written, and the verdict: found, open, or got through."""

    line: str
    number: int
    kind: str
    written: str
    outcome: str
    costs: Worth


def slips_tried(subject: Subject) -> Iterator[Tried]:
    """Every likely slip in every statement of the reference solution."""
    page = opened(replace(subject.exercise, working=(), solution=()), proofs=False)
    pages: list[tuple[Page, LineVerdict]] = []
    for line in subject.exercise.solution:
        before, page = page, page.after(line)
        pages.append((before, page.lines[-1]))
    for before, x in pages:
        if x.reading is None or x.line.remark:
            continue
        costs = worth(subject, x)
        for statement in x.reading.statements:
            if _can_be_slipped_in(statement, x):
                yield from _in_statement(before, page, x, statement, costs)
                before = _past(before, statement, x)


def _can_be_slipped_in(statement: Statement, x: LineVerdict) -> bool:
    """Does a statement say what is worked out? A condition under which others hold (`at the top: y' = 0`) is chosen."""
    chosen = all(v.code == "taken.case" for v in x.verdicts if v.statement == statement)
    said = statement.role in ("claim", "operation") or (statement.role == "at" and statement.claim != statement.where)
    return statement.claim is not None and said and not chosen


def _in_statement(
    before: Page, after: Page, x: LineVerdict, statement: Statement, costs: Worth
) -> Iterator[Tried]:
    assert statement.claim is not None
    premises = [v.statement.claim for y in (*before.givens, *before.lines) for v in y.verdicts
                if v.statement is not None and v.statement.claim is not None]
    seen: Counter[str] = Counter()
    for slip in slips(statement.claim, look_around(statement.claim, premises[-14:])):
        if seen[slip.kind] >= EACH_KIND or _true(slip.claim, statement, after, x):
            continue  # a line that still holds is no slip
        outcome = _outcome(slip, statement, before, x)
        if outcome:
            seen[slip.kind] += 1
            yield Tried(line_name(x), x.line.number, slip.kind, as_text(slip.claim), outcome, costs)


def _true(claim: Claim, statement: Statement, page: Page, x: LineVerdict) -> bool:
    """Does the changed line hold all the same, by all that the solution has shown?"""
    trial = trial_of(replace(statement, claim=claim), page.setting, source_of(x.line, x.reading), page.dimensions)
    return trial is not None and trial.holds(claim)


def _outcome(slip: Edit, statement: Statement, page: Page, x: LineVerdict) -> str:
    """What becomes of a wrong line; '' where it turns out to say less, but nothing wrong."""
    claim = slip.claim
    if page.dimensions.examine(claim) is not None:
        return "found"
    try:
        verdicts, _ = decide(replace(statement, claim=claim), page.setting, source_of(x.line, x.reading))
    except TOO_MUCH:
        return "open"
    standings = {v.standing for v in verdicts}
    if Standing.FAILS in standings:
        return "found"
    if Standing.UNDECIDED in standings:
        return "open"
    return "" if standings <= {Standing.FOLLOWS} else "through"


def _past(page: Page, statement: Statement, x: LineVerdict) -> Page:
    """The page after one statement of a line."""
    _, setting = decide(statement, page.setting, source_of(x.line, x.reading))
    return replace(page, setting=setting)


def worth(subject: Subject, x: LineVerdict) -> Worth:
    """The points that a line is the first to meet, or else the first that it leads to; and with them those that need
    them and are not followed through."""
    ordinals = {line.number: k for k, line in enumerate(subject.exercise.solution)}
    own = subject.judged.check.lines[ordinals[x.line.number]].line.number
    here = [a.label for a in subject.awards if a.line == own]
    later = sorted((a for a in subject.awards if a.line > own), key=lambda a: a.line)
    spoiled = here or [a.label for a in later[:1]]
    for point in subject.scheme.points:
        if point.label not in spoiled and not point.row.follow_through and set(point.row.needs) & set(spoiled):
            spoiled.append(point.label)
    return Worth(tuple(spoiled), not here)
