"""Workings of one exercise judged so that what begins alike is judged once.

A line is decided in what stands before it; two workings that say the same up to a line, however they spell it,
share that decision. What is shared never shows: places, numbers and quotations are always the writer's own.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field, replace

from derive.check import Stages
from derive.diagnosis.explain import Explained, explain
from derive.marking.own_words import Places, own_line, places_of
from derive.marking.sameness import Ground, Memory, ground_of
from derive.marking.scheme import Scheme
from derive.opening import opened
from derive.page import Page
from derive.records import Check, Document, LineVerdict, Problem, RawLine, Reading, Unreadable
from derive.states.states import States

# Pages kept in one process; a class of a few hundred with common beginnings needs fewer.
_KEPT = 1500

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """A checked working, the slip of its first break, and the ground its lines are compared on."""

    check: Check
    slip: Explained | None
    ground: Ground


@dataclass(slots=True)
class _Ending:
    lines: tuple[LineVerdict, ...]
    check: Check
    slips: tuple[Explained, ...]


@dataclass(slots=True)
class Judging:
    """Judges workings of one exercise one after the other, and remembers."""

    scheme: Scheme
    memory: Memory = field(default_factory=Memory)
    _pages: OrderedDict[Key, Page] = field(default_factory=OrderedDict)
    _endings: OrderedDict[Key, _Ending] = field(default_factory=OrderedDict)

    def judged(self, document: Document) -> Judged:
        """The check of a working that has been joined with the exercise."""
        page, key = self._begun(document)
        pages: list[Page] = []
        readings: list[Reading | None] = []
        for ordinal, line in enumerate(document.working, 1):
            pages.append(page)
            page, key, reading = self._after(page, key, replace(line, number=ordinal), document)
            readings.append(reading)
        ending = self._ended(page, key, pages, document)
        return self._owned(ending, page, document, readings)

    def _begun(self, document: Document) -> tuple[Page, Key]:
        if document.symbols == self.scheme.exercise.symbols:
            return _quiet(self.scheme.page), ()
        key: Key = ("symbols", document.symbols)
        return self._kept(key, lambda: _quiet(opened(replace(document, working=(), solution=()), proofs=False))), key

    def _after(
        self, page: Page, key: Key, line: RawLine, document: Document
    ) -> tuple[Page, Key, Reading | None]:
        own = replace(page, document=document)
        if line.remark:
            here: object = ("remark", line.text.strip())
            found: list[Reading] | Unreadable = []
        else:
            found = own.readings(line)
            here = ("unreadable", line.text) if isinstance(found, Unreadable) else tuple(_said(r) for r in found)
        key = (key, line.label, line.reason, line.cites, here)
        after = self._kept(key, lambda: _fresh(own).after(line))
        taken = after.lines[-1].reading
        reading = None
        if taken is not None and not isinstance(found, Unreadable):
            reading = next((r for r in found if _said(r) == _said(taken)), taken)
        return after, key, reading

    def _kept(self, key: Key, make: object) -> Page:
        page = self._pages.get(key)
        if page is None:
            page = self._pages[key] = make()  # type: ignore[operator]
            if len(self._pages) > _KEPT:
                self._pages.popitem(last=False)
        else:
            self._pages.move_to_end(key)
        return page

    def _ended(self, page: Page, key: Key, pages: list[Page], document: Document) -> _Ending:
        found = self._endings.get(key)
        if found is None:
            last = _fresh(replace(page, document=document)).looked_back()
            lines = tuple(last.lines)
            check = Check(
                last.document, last.outcome(), lines, tuple(last.givens), last.judged_goal(),
                last.first_break(), (), Stages(pages))
            renumbered = tuple(replace(x, number=k) for k, x in enumerate(document.working, 1))
            check = replace(check, document=replace(document, working=renumbered))
            found = self._endings[key] = _Ending(lines, check, explain(check, 1))
            if len(self._endings) > _KEPT:
                self._endings.popitem(last=False)
        return found

    def _owned(self, ending: _Ending, page: Page, document: Document, readings: list[Reading | None]) -> Judged:
        """What is shared, in the writer's own lines, numbers and places."""
        places = places_of(ending.lines, document.working, readings)
        lines = tuple(own_line(x, places) for x in ending.lines)
        broken = places.number(ending.check.first_break)
        goal = tuple(own_line(x, places, own=False) for x in ending.check.goal)
        check = replace(
            ending.check, document=document, lines=lines, goal=goal, first_break=broken,
            problems=self._own_problems(document, page), stages=())
        slip = _own_slip(ending.slips, places) if ending.slips else None
        seed = self.scheme.exercise.title + self.scheme.exercise.statement
        return Judged(check, slip, ground_of(page.setting, page.givens, seed, self.memory))

    def _own_problems(self, document: Document, page: Page) -> tuple[Problem, ...]:
        """What is to be mended in the working: the exercise's own faults are not its writer's business."""
        exercise = {*self.scheme.exercise.problems, *self.scheme.page.problems}
        return tuple(p for p in (*document.problems, *page.problems) if p not in exercise)


def _quiet(page: Page) -> Page:
    """A page on which a lost case is told by its condition: a state for each would cost an eighth of all time."""
    return replace(page, setting=replace(page.setting, losses=False))


def _own_slip(slips: tuple[Explained, ...], places: Places) -> Explained:
    return places.slip(slips[0])


def _fresh(page: Page) -> Page:
    """The page with states of its own to add to: what another working finds must not change this one's answers."""
    states = page.setting.states
    own = States(dict(states.kept), dict(states.views))
    return replace(page, setting=replace(page.setting, states=own))


def _said(reading: Reading) -> object:
    return reading.statements, reading.words, reading.reason, reading.cites
