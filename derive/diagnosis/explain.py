"""From a finished check to what can be said beside its lines: the slip in a break, a reason that does not fit.

What was known before a line comes with the check. The words are chosen in `hints.py` and `derive/messages`;
nothing is printed here.
"""

from __future__ import annotations

import time
from collections.abc import Collection, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import islice, takewhile

from derive.diagnosis.around import Around, look_around
from derive.diagnosis.edits import edits
from derive.diagnosis.hints import Grade, Hint, hints
from derive.diagnosis.reasons import Said, explained, read_reason, remarks_on_right_line
from derive.diagnosis.search import NOTHING, Slip, find_slip
from derive.diagnosis.stage import Stage, stage_of
from derive.diagnosis.trial import TOO_MUCH, Trial
from derive.notation.printed.printing import as_text
from derive.notation.reader import read_expression
from derive.notation.tree import Claim, Expr, Name, Num, Relation, Span, Statement, relations
from derive.opening import opened
from derive.page import Page
from derive.records import ESTABLISHED, Check, LineVerdict, RawLine, Standing, Unreadable, Verdict
from derive.states.said import source_of
from derive.terms.allowance import allowance
from derive.verdicts.statements import decide

REMARKS_BUDGET = 0.3  # seconds for reading the reasons of lines that hold
SEARCH_BUDGET = 0.3  # seconds of computing that the search for a slip may add to a break, with its preparation
MOST_PREMISES = 14
MOST_CASES = 10  # the likeliest claims of which it is asked whether they hold but for a case, which is dear
PLAINER = 0.2  # how much likelier a slip has to be when the line mended would still lose a case


@dataclass(frozen=True, slots=True)
class Explained:
    """A broken statement, the slip found in it, and what its reason says was done.

    cited, before: the claims that the reason could speak of, for the grade that may work them out.
    enough: the finding itself names the slip, so that not having found another is not worth a word.
    number: what broke is a number that does not come out.
    assumed: it says no more than that one quantity is another, or on one side of it, which may be so.
    """

    line: RawLine
    statement: Statement
    slip: Slip
    said: Said | None = None
    cited: tuple[tuple[str, Claim], ...] = ()
    before: Claim | None = None
    enough: bool = False
    number: bool = False
    assumed: bool = False

    def told(self, grade: Grade) -> tuple[Hint, ...]:
        """The sentences about this break at a grade."""
        nothing_to_add = self.enough and (self.number or self.slip.found == "none")
        about = () if nothing_to_add else hints(
            self.slip, grade, self.line.text, as_text, self.number, self.assumed)
        return (*about, *explained(self.said, dict(self.cited), self.before, grade, as_text))


def explain(check: Check, most: int = 1, seconds: float = SEARCH_BUDGET) -> tuple[Explained, ...]:
    """The first breaks of a check (as many as asked for), each with the slip that the search finds in it.

    What a search may cost is counted (see search.py), so that it comes to the same on every machine.
    seconds: of computing that it may take besides, its preparation included.
    """
    wanted = [x for x in check.lines if any(v.standing is Standing.FAILS for v in x.verdicts)][:most]
    if not wanted:
        return ()
    numbers = {x.line.number for x in wanted}
    return tuple(_explained(page, line, seconds) for page, line in _pages(check, numbers))


def remarks(check: Check, budget: float = REMARKS_BUDGET) -> tuple[tuple[RawLine, Hint], ...]:
    """What to remark of the reasons beside lines that follow. Stops quietly when the time is up."""
    reasoned = {x.line.number for x in check.lines if _reason(x) and all(v.standing in ESTABLISHED for v in x.verdicts)}
    found: list[tuple[RawLine, Hint]] = []
    if not reasoned:
        return ()
    until = time.monotonic() + budget
    for page, line in _pages(check, reasoned):
        found.extend((line.line, hint) for hint in _remarks_on(page, line))
        if time.monotonic() > until:
            break
    return tuple(found)


def _pages(check: Check, wanted: Collection[int]) -> Iterator[tuple[Page, LineVerdict]]:
    """The page before each wanted line, with the line as it was judged in the check."""
    stages = check.stages if len(check.stages) == len(check.lines) else _gone_through_again(check)
    left = set(wanted)
    for page, line in zip(stages, check.lines, strict=False):
        if line.line.number in left and isinstance(page, Page):
            left.discard(line.line.number)
            yield page, line
        if not left:
            return


def _gone_through_again(check: Check) -> Iterator[Page]:
    """The page before each line, for a check that came from elsewhere and left its pages behind."""
    page = opened(check.document, proofs=False)
    for line in check.lines:
        yield page
        page = page.after(line.line)


def _explained(page: Page, line: LineVerdict, seconds: float) -> Explained:
    verdict = next(v for v in line.verdicts if v.standing is Standing.FAILS)
    statement = verdict.statement
    said, cited, before = _what_the_reason_speaks_of(page, line)
    if statement is None or line.reading is None:
        return Explained(line.line, Statement("claim", None), NOTHING)
    slip = NOTHING
    if statement.claim is not None and verdict.code not in UNSEARCHED:
        by = (said.by,) if said is not None and said.by is not None else ()
        with allowance(seconds):
            slip = _searched(page, line, verdict, _premises(page, cited), by)
    enough = verdict.code in SAYS_IT or any(name == "factor" for name, _ in verdict.facts)
    number = verdict.code == "fails.number"
    assumed = verdict.strength == "unsupported" and _compares(statement.claim)
    return Explained(line.line, statement, slip, said, tuple(cited.items()), before, enough, number, assumed)


def _compares(claim: Claim | None) -> bool:
    """`N ≥ 0`, `γ < ω0`, `v = 0`: nothing is worked out in it."""
    return isinstance(claim, Relation) and all(isinstance(s, Name | Num) for s in claim.sides)


def _searched(
    page: Page, line: LineVerdict, verdict: Verdict, premises: list[Claim], by: tuple[Expr, ...]
) -> Slip:
    """The slip in the part of a statement that broke: in what it says, else in the case it says it of."""
    assert verdict.statement is not None
    found = NOTHING
    with suppress(*TOO_MUCH):
        stage = _stage(page, line, verdict.statement, verdict.span)
        for found in () if stage is None else _found(page, stage, premises, by):
            if found.found != "none":
                break
    return found


def _found(page: Page, stage: Stage, premises: list[Claim], by: tuple[Expr, ...]) -> Iterator[Slip]:
    """What is found in answer to each question of a stage."""
    symbols = page.setting.context.world.symbols
    for trial, claim, holds, prove in stage.questions():
        around = look_around(claim, premises, symbols, by, trial.measure)
        met_before = holds == trial.holds_but_for_a_case  # of claims whose dimensions have been looked at
        found = find_slip(
            Statement("claim", claim), holds, around=around, prove=prove, fits=None if met_before else trial.fits,
            ruled_out=trial.glance(claim),
            spent=lambda t=trial: t.effort.spent)  # type: ignore[misc]
        yield found if found.found == "none" else _or_in_a_case(found, claim, around, trial)


def _or_in_a_case(found: Slip, claim: Claim, around: Around, trial: Trial) -> Slip:
    """What was found, unless a plainly likelier slip leaves a line that holds but for a case it loses: `t = √(2 s/a)`,
    where nobody has said that t is positive."""
    if not trial.perhaps:
        return found
    limit = found.edits[0].cost - PLAINER
    plainer = (e.claim for e in takewhile(lambda e: e.cost < limit, edits(claim, around)) if e.claim in trial.perhaps)
    if not any(map(trial.holds_but_for_a_case, islice(plainer, MOST_CASES))):
        return found
    other = find_slip(Statement("claim", claim), trial.holds_but_for_a_case, around=around)
    return other if other.found == "one" and other.edits[0].cost < limit else found


# Findings that say what is wrong: that no edit mends the line besides is not worth a word.
SAYS_IT = (
    "fails.dimension", "fails.unit", "fails.vector_scalar", "fails.redefined", "fails.constant_missing",
    "fails.too_few_constants", "fails.start", "fails.limit", "fails.scaled", "fails.order", "fails.component",
    "fails.no_extreme", "fails.other_extreme",
)
# Breaks whose finding says all there is to say: no edit of the line is wanted.
UNSEARCHED = (
    "fails.redefined", "fails.vector_scalar", "fails.constant_missing", "fails.too_few_constants", "fails.no_extreme",
    "fails.other_extreme", "fails.way", "fails.unit")


def _stage(page: Page, line: LineVerdict, wanted: Statement, span: Span | None) -> Stage | None:
    """Where one statement of a line was judged, or the part of it that stands at a span."""
    assert line.reading is not None
    source = source_of(line.line, line.reading)
    setting, dimensions = page.setting, page.dimensions.copy()
    for statement in line.reading.statements:
        if statement == wanted:
            return stage_of(statement, span, setting, source, dimensions)
        try:
            _, setting = decide(statement, replace(setting, proofs=False), source)
        except TOO_MUCH:
            return None
        if statement.claim is not None and dimensions.examine(statement.claim) is None:
            dimensions.adopt(statement.claim)
    return None


def _premises(page: Page, cited: dict[str, Claim]) -> list[Claim]:
    """The claims a line may have come from: those it cites, then the most recent, then the givens."""
    earlier = [s.claim for x in (*page.givens, *page.lines) if x.reading for s in x.reading.statements if s.claim]
    return list(dict.fromkeys((*cited.values(), *reversed(earlier))))[:MOST_PREMISES]


def _reason(line: LineVerdict) -> str:
    return (line.reading.reason if line.reading else "") or line.line.reason


def _what_the_reason_speaks_of(page: Page, line: LineVerdict) -> tuple[Said | None, dict[str, Claim], Claim | None]:
    reason = _reason(line)
    labelled = _labelled(page)
    cites = (line.reading.cites if line.reading else ()) or line.line.cites
    cited = {label: labelled[label] for label in cites if label in labelled}
    before = next((s.claim for x in reversed(page.lines) if x.reading for s in reversed(x.reading.statements)
                   if s.claim is not None and any(relations(s.claim))), None)

    def read_piece(text: str) -> Expr | None:
        piece = read_expression(text, page.scope())
        return None if isinstance(piece, Unreadable) else piece

    return (read_reason(reason, read_piece) if reason else None), cited, before


def _labelled(page: Page) -> dict[str, Claim]:
    """The claim of each labelled line so far (its last statement, which later lines usually mean)."""
    return {x.line.label: s.claim for x in (*page.givens, *page.lines) if x.line.label and x.reading
            for s in x.reading.statements if s.claim is not None}


def _remarks_on(page: Page, line: LineVerdict) -> tuple[Hint, ...]:
    statements = [s for s in line.reading.statements if s.claim is not None] if line.reading else []
    if len(statements) != 1 or statements[0].role != "claim" or statements[0].claim is None:
        return ()
    said, cited, before = _what_the_reason_speaks_of(page, line)
    stage = _stage(page, line, statements[0], None)
    if stage is None or (said is None and not cited):
        return ()
    others = [label for label in reversed(_labelled(page)) if label not in cited]
    return remarks_on_right_line(
        statements[0].claim, _reason(line), said, cited, before, stage.trial.follows_from, others)
