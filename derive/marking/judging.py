"""Workings of one exercise judged so that what begins alike is judged once.

A line is decided in what stands before it; two workings that say the same up to a line, however they spell it, number
it, explain it and talk between, share that decision. What is shared never shows: places, numbers, labels and quotations
are always the writer's own.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from derive.check import Stages
from derive.diagnosis.explain import Explained, explain
from derive.marking.bare import bare_line, bare_readings
from derive.marking.own_words import Places, own_line, places_of
from derive.marking.sameness import Ground, Memory, ground_of
from derive.marking.scheme import Scheme
from derive.opening import opened
from derive.page import Page
from derive.records import Check, Document, LineVerdict, Problem, RawLine, Reading, Standing, Unreadable
from derive.states.states import States

# Seconds after which a search for a slip hangs rather than works.
HANGING = 6.0
# Pages kept in one process; a class of a few hundred with common beginnings needs fewer.
KEPT = 1500

Key = tuple[object, ...]
T = TypeVar("T")


@dataclass(frozen=True, slots=True, eq=False)
class _Begun:
    """A page up to some line. Each is its own key for what goes on from it: to compare all that was said would take
    longer the longer a working is."""

    page: Page


@dataclass(frozen=True, slots=True)
class Judged:
    """A checked working, the slip of its first break, and the ground its lines are compared on.

    shared: its lines that say something, as all who say the same share them.    places: where among those a line of
    the check stands, by its number.    key: the same for workings that say the same.
    """

    check: Check
    slip: Explained | None
    ground: Ground
    shared: tuple[LineVerdict, ...] = ()
    places: dict[int, int] = field(default_factory=dict)
    key: object = None


@dataclass(frozen=True, slots=True)
class _Step:
    """A line that says something, in its writer's words, and what stands before it."""

    line: RawLine
    reading: Reading | None
    before: _Begun


@dataclass(frozen=True, slots=True)
class _Ending:
    lines: tuple[LineVerdict, ...]
    goal: tuple[LineVerdict, ...]
    ground: Ground


@dataclass(slots=True)
class Judging:
    """Judges workings of one exercise one after the other, and remembers."""

    scheme: Scheme
    memory: Memory = field(default_factory=Memory)
    _begun: OrderedDict[Key, _Begun] = field(default_factory=OrderedDict)
    _endings: OrderedDict[Key, _Ending] = field(default_factory=OrderedDict)
    _slips: OrderedDict[Key, tuple[Explained, ...]] = field(default_factory=OrderedDict)

    def judged(self, document: Document) -> Judged:
        """The check of a working that has been joined with the exercise."""
        at = self._opened(document)
        steps: list[_Step] = []
        silent: dict[int, LineVerdict] = {}
        for line in document.working:
            own = replace(at.page, document=document)
            found = [] if line.remark else own.readings(replace(line, number=len(steps) + 1))
            if isinstance(found, Unreadable) or not any(r.statements for r in found):
                silent[line.number] = own.after(line).lines[-1]
            else:
                before = at
                at, reading = self._after(before, line, found)
                steps.append(_Step(line, reading, before))
        ending = kept(self._endings, (at,), lambda: self._ended(at.page, document))
        return replace(self._owned(ending, at.page, document, steps, silent), key=at)

    def _opened(self, document: Document) -> _Begun:
        if document.symbols == self.scheme.exercise.symbols:
            return kept(self._begun, (), lambda: _Begun(_quiet(self.scheme.page)))
        bare = replace(document, working=(), solution=())
        return kept(self._begun, (document.symbols,), lambda: _Begun(_quiet(opened(bare, proofs=False))))

    def _after(self, before: _Begun, line: RawLine, found: Sequence[Reading]) -> tuple[_Begun, Reading | None]:
        """The page with a line decided, and the reading that was taken, as its writer typed it."""
        page = before.page
        readings = bare_readings(found, page)
        shared = replace(bare_line(line), number=len(page.lines) + 1)
        key = (before, tuple(_said(r) for r in readings))
        after = kept(self._begun, key, lambda: _Begun(_fresh(page).after_reading(shared, readings)))
        taken = after.page.lines[-1].reading
        own = (page.taken_up(r) for r, b in zip(found, readings, strict=True)
               if taken is not None and _said(page.taken_up(b)) == _said(taken))
        return after, next(own, None)

    def _ended(self, page: Page, document: Document) -> _Ending:
        last = _fresh(replace(page, document=document)).looked_back()
        seed = self.scheme.exercise.title + self.scheme.exercise.statement
        return _Ending(last.lines, last.judged_goal(), ground_of(page.setting, page.givens, seed, self.memory))

    def _owned(
        self, ending: _Ending, page: Page, document: Document, steps: Sequence[_Step], silent: dict[int, LineVerdict]
    ) -> Judged:
        """What is shared, in the writer's own lines, numbers and places."""
        places = places_of(ending.lines, [s.line for s in steps], [s.reading for s in steps])
        saying = (own_line(x, places) for x in ending.lines)
        lines = tuple(silent[x.number] if x.number in silent else next(saying) for x in document.working)
        goal = tuple(own_line(x, places, own=False) for x in ending.goal)
        own = replace(page, document=document, lines=lines)
        check = Check(
            document, own.outcome(), lines, page.givens, goal, own.first_break(),
            self._own_problems(document, page))
        numbers = {s.line.number: k for k, s in enumerate(steps)}
        return Judged(check, self._slip(ending, steps, places), ending.ground, ending.lines, numbers)

    def _slip(self, ending: _Ending, steps: Sequence[_Step], places: Places) -> Explained | None:
        """The slip of the first break: what leads to a break, and what its writer says of it, decide."""
        found = next(
            (k for k, x in enumerate(ending.lines) if any(v.standing is Standing.FAILS for v in x.verdicts)), None)
        if found is None:
            return None
        said, above = steps[found], steps[:found]
        line = _explaining(ending.lines[found], said)
        labels = tuple((k, s.line.label) for k, s in enumerate(above) if s.line.label in line.line.cites)
        key = (said.before, line.verdicts, line.line.reason, line.line.cites, labels)

        def searched() -> tuple[Explained, ...]:
            before = said.before.page
            named = tuple(_named(x, s) for x, s in zip(before.lines, above, strict=True))
            page = replace(before, lines=named)
            # A class is marked alike on a busy machine and on a quiet one: the search is bounded by what it counts.
            return explain(Check(page.document, "broken", (line,), stages=Stages([page])), 1, seconds=HANGING)

        return places.slip(kept(self._slips, key, searched)[0])

    def _own_problems(self, document: Document, page: Page) -> tuple[Problem, ...]:
        """What is to be mended in the working: the exercise's own faults are not its writer's business."""
        exercise = {*self.scheme.exercise.problems, *self.scheme.page.problems}
        return tuple(p for p in (*document.problems, *page.problems) if p not in exercise)


def kept(shelf: OrderedDict[Key, T], key: Key, make: Callable[[], T], most: int = KEPT) -> T:
    """What was made before for a key, or is made now; what was not asked for longest makes room."""
    found = shelf.get(key)
    if found is None:
        found = shelf[key] = make()
        if len(shelf) > most:
            shelf.popitem(last=False)
    else:
        shelf.move_to_end(key)
    return found


def _named(shared: LineVerdict, step: _Step) -> LineVerdict:
    """A shared line under its writer's label."""
    return replace(shared, line=replace(shared.line, label=step.line.label))


def _explaining(shared: LineVerdict, step: _Step) -> LineVerdict:
    """A shared line with the reason that its writer gives."""
    reading = step.reading
    reason = (reading.reason if reading else "") or step.line.reason
    cites = (reading.cites if reading else ()) or step.line.cites
    line = replace(shared.line, label=step.line.label, reason=reason, cites=cites)
    own = replace(shared.reading, reason=reason, cites=cites) if shared.reading is not None else None
    return replace(shared, line=line, reading=own)


def _quiet(page: Page) -> Page:
    """A page on which a lost case is told by its condition: a state for each would cost an eighth of all time."""
    return replace(page, setting=replace(page.setting, losses=False))


def _fresh(page: Page) -> Page:
    """The page with states of its own to add to: what another working finds must not change this one's answers."""
    states = page.setting.states
    own = States(dict(states.kept), dict(states.views))
    return replace(page, setting=replace(page.setting, states=own))


def _said(reading: Reading) -> object:
    return reading.statements, reading.words, reading.cites
