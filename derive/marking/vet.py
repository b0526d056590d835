"""An exercise looked over before it goes out: is it whole, consistent, solvable as its reference says, and markable?

The checks are plain functions in a named tuple, each with one signature; what they find is a fault, which has to
be mended, or a notice, which an instructor may want to know. Slips on purpose are tried in `vet_slips`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from derive.marking.award import Award, awarded
from derive.marking.found import still_to_solve
from derive.marking.heard import turns
from derive.marking.judging import Judged, Judging
from derive.marking.pieces import Piece, pieces_of_line
from derive.marking.resting import Rehearing
from derive.marking.sameness import Ground, same
from derive.marking.scheme import Scheme, read_scheme
from derive.messages import sentence
from derive.notation.tree import Integral, names_in, walk
from derive.page import Page
from derive.records import UNSURE, Document, LineVerdict, RawLine, Standing
from derive.report.naming import line_name

_SAID_TOTAL = re.compile(r"\b(\d{1,3})\s+marks?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Finding:
    """Something about an exercise: its weight, where it stands in the file (0: as a whole), and a sentence."""

    weight: Literal["fault", "notice"]
    line: int
    said: str


@dataclass(frozen=True, slots=True)
class Subject:
    """An exercise with its reference solution judged and marked by its own scheme."""

    exercise: Document
    scheme: Scheme
    judged: Judged
    awards: tuple[Award, ...]

    @property
    def page(self) -> Page:
        return self.scheme.page

    @property
    def ground(self) -> Ground:
        return self.judged.ground


Check = Callable[[Subject], Iterable[Finding]]


def subject_of(exercise: Document) -> Subject:
    """The exercise with its solution judged as a working of it would be."""
    scheme = read_scheme(exercise)
    judged = Judging(scheme).judged(replace(exercise, working=exercise.solution, solution=()))
    return Subject(exercise, scheme, judged, awarded(judged, scheme, Rehearing()))


def vetted(subject: Subject) -> tuple[Finding, ...]:
    """Everything found by the checks, in their order."""
    return tuple(dict.fromkeys(f for check in CHECKS for f in check(subject)))


def _fault(code: str, line: int = 0, /, **facts: str) -> Finding:
    return Finding("fault", line, sentence(code, facts))


def _notice(code: str, line: int = 0, /, **facts: str) -> Finding:
    return Finding("notice", line, sentence(code, facts))


# --- the checks -------------------------------------------------------------------------------------------------


def form(s: Subject) -> Iterator[Finding]:
    """What is wrong with the file itself, and what parts it lacks."""
    for p in dict.fromkeys((*s.exercise.problems, *s.scheme.problems, *s.page.problems)):
        yield Finding("notice" if p.code.startswith("read.") else "fault", p.line, p.message)
    for part, there in (("Given:", s.exercise.given), ("Show:", s.exercise.show), ("Solution:", s.exercise.solution)):
        if not there:
            yield _fault("vet.part_missing", part=part)


def declared(s: Subject) -> Iterator[Finding]:
    """Names without a declaration, and symbols without a unit or a use."""
    known = {x.name for x in s.exercise.symbols} | {"t"}
    known |= {f"{x.name}_{axis}" for x in s.exercise.symbols if x.vector for axis in "xyz"}
    brought = {n for x in s.judged.check.lines for v in x.verdicts for n in v.introduces}
    used: set[str] = set()
    for where, line, names in _names(s):
        used |= names
        for name in sorted(names - known - (brought if where == "marks" else set())):
            yield _fault("vet.undeclared", line, name=name)
    for x in s.exercise.symbols:
        if x.dimension is None:
            yield _fault("vet.no_unit", name=x.name)
    solution = {n for x in s.judged.check.lines for n in _names_of(x)}
    for name in sorted({x.name for x in s.exercise.symbols} - used - solution - {"t"}):
        yield _notice("vet.unused", name=name)


def homogeneous(s: Subject) -> Iterator[Finding]:
    """Statements whose dimensions do not fit."""
    for _, number, text, claim in _claims(s):
        if s.page.dimensions.examine(claim) is not None:  # type: ignore[arg-type]
            yield _fault("vet.dimensions", number, text=text)


def givens(s: Subject) -> Iterator[Finding]:
    """Givens that could not be read or taken, and goals that a given already says."""
    for x in s.page.givens:
        if x.unreadable is not None:
            yield _fault("vet.unreadable", x.line.number, expected=x.unreadable.expected)
        for v in x.verdicts:
            if v.standing not in (Standing.TAKEN, Standing.REMARK):
                yield _fault("vet.given_not_taken", x.line.number, text=_body(x.line))
    given = _given(s)
    for goal in s.judged.check.goal:
        for piece in pieces_of_line(goal):
            text, number = goal.line.text.strip(), goal.line.number
            if s.ground.sure(piece) or _written_among_givens(piece, s):
                yield _fault("vet.goal_given", number, text=text)
            elif turns(piece, given, s.ground):
                yield _notice("vet.goal_in_a_given", number, text=text)


def _written_among_givens(goal: Piece, s: Subject) -> bool:
    """Does a given say the goal, and give the same quantity by it? Only to be solved for it would be a step."""
    return any(
        (p.claim == goal.claim or (p.subject is not None and p.subject == goal.subject)) and same(p, goal, s.ground)
        for p in _given(s))


def _at_odds(s: Subject) -> bool:
    """Do the givens contradict each other? Then nothing follows from them, which is said once."""
    return any(p.code == "context.contradiction" for p in s.page.problems)


def reference(s: Subject) -> Iterator[Finding]:
    """The reference solution: unbroken, sure of every line, and at its goal."""
    if _at_odds(s):
        return
    for x in s.judged.check.lines:
        for v in x.verdicts:
            if v.standing in (Standing.FAILS, Standing.CARRIED):
                yield _fault("vet.line_breaks", x.line.number, line=line_name(x))
            elif v.standing in UNSURE:
                yield _fault("vet.line_unsure", x.line.number, line=line_name(x))
            elif v.standing is Standing.FOLLOWS_IF:
                yield _notice("vet.line_condition", x.line.number, line=line_name(x), condition=v.condition)
    said = [p for x in s.judged.check.lines for p in pieces_of_line(x)]
    for goal in s.judged.check.goal:
        if goal.unreadable is not None:
            yield _fault("vet.unreadable", goal.line.number, expected=goal.unreadable.expected)
        elif not all(any(same(p, g, s.ground) for p in said) for g in pieces_of_line(goal)):
            yield _fault("vet.goal_not_reached", goal.line.number, text=goal.line.text.strip())


def points(s: Subject) -> Iterator[Finding]:
    """Every point met by the reference, and reachable by itself."""
    for p, a in zip(s.scheme.points, s.awards, strict=True):
        if a.code != "award.met" and p.aims and not _at_odds(s):
            yield _fault("vet.point_not_met", p.row.line, point=p.label)
    yield from _points_alike(s)


def _points_alike(s: Subject) -> Iterator[Finding]:
    """Points that nobody can have one without the other, and points that a given hands out."""
    given = _given(s)
    for k, p in enumerate(s.scheme.points):
        for q in s.scheme.points[k + 1 :]:
            alike = [(a[0], b[0]) for a in p.aims for b in q.aims
                     if len(a) == len(b) == 1 and same(a[0], b[0], s.ground)]
            if alike:
                to_solve = any(still_to_solve(a, b, q) for a, b in alike)
                yield _notice("vet.points_alike_solved" if to_solve else "vet.points_alike", q.row.line,
                              point=p.label, other=q.label)
        if any(all(s.ground.sure(w) or turns(w, given, s.ground) for w in aim) for aim in p.aims):
            yield _notice("vet.point_given", p.row.line, point=p.label)


def _given(s: Subject) -> list[Piece]:
    return [p for x in s.page.givens for p in pieces_of_line(x)]


def total(s: Subject) -> Iterator[Finding]:
    """The marks add up to what the statement says, where it says so."""
    for said in _SAID_TOTAL.findall(f"{s.exercise.title}\n{s.exercise.statement}")[:1]:
        if int(said) != s.scheme.total:
            yield _fault("vet.total", said=said, total=str(s.scheme.total))


CHECKS: tuple[Check, ...] = (form, declared, homogeneous, givens, reference, points, total)


# --- what is looked at -----------------------------------------------------------------------------------------


def _claims(s: Subject) -> Iterator[tuple[str, int, str, object]]:
    """Every claim of givens, goal and marks: the part, line number, text, tree."""
    rows: Sequence[tuple[str, Sequence[LineVerdict]]] = (
        ("given", s.page.givens), ("show", s.judged.check.goal), ("marks", _mark_lines(s)))
    for part, lines in rows:
        for x in lines:
            for statement in x.reading.statements if x.reading else ():
                if statement.claim is not None:
                    yield part, x.line.number, _body(x.line), statement.claim


def _mark_lines(s: Subject) -> list[LineVerdict]:
    return [s.page.after(claim).lines[-1] for p in s.scheme.points for claim in p.row.claims]


def _names(s: Subject) -> Iterator[tuple[str, int, set[str]]]:
    for part, number, _, claim in _claims(s):
        run_over = {name for n in walk(claim) if isinstance(n, Integral) for name in names_in(n.wrt)}
        yield part, number, set(names_in(claim)) - run_over


def _names_of(x: LineVerdict) -> set[str]:
    return {n for st in (x.reading.statements if x.reading else ()) if st.claim is not None for n in names_in(st.claim)}


def _body(line: RawLine) -> str:
    return line.text[line.body.start : line.body.end].strip()
