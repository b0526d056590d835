"""What the lines of a working rest on: the working heard again with a given or a trial left out.

A line that still follows without a given does not rest on it. Where a point's own statement is put in that given's
place and the line follows once more, the point has been put into the line, though nobody wrote it down.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from derive.guarding import guarded
from derive.marking.judging import Judged, Key, kept
from derive.marking.pieces import Piece, pieces_of_line
from derive.notation.tree import Claim, Relation, Statement, names_in
from derive.opening import opened
from derive.page import Page
from derive.records import ESTABLISHED, Document, LineVerdict, RawLine, Reading, Standing, Verdict
from derive.states.said import Source as Label
from derive.verdicts.premises import given_premises

# Statements that later ones stand on without being able to show them.
_OPENING = ("try", "regime", "suppose")
_GIVEN_UP = ("undecided.page", "undecided.defect")
_MOST_PAGES = 4000
_MOST_STEPS = 3  # that are tried for whether they lead to a goal
_MOST_LINES = 40  # of a working; a longer one is left to be read


@dataclass(frozen=True, slots=True)
class Source:
    """What lines may rest on: a given of the exercise or an opening line of the working, by its place there."""

    part: str
    at: int


@dataclass(frozen=True, slots=True)
class Change:
    """How a working is heard again: without a source, and with claims taken as they stand in its place."""

    without: tuple[Source, ...] = ()
    instead: tuple[Claim, ...] = ()


UNCHANGED = Change()


@dataclass(slots=True)
class Rehearing:
    """Workings of one exercise heard again; what begins alike is decided once."""

    _pages: OrderedDict[Key, Page] = field(default_factory=OrderedDict)

    def of(self, judged: Judged) -> Reheard:
        return Reheard(self, judged.check.document, judged.shared, judged.places)

    def page(self, key: Key, make: Callable[[], Page]) -> Page:
        return kept(self._pages, key, make, _MOST_PAGES)


@dataclass(frozen=True, slots=True)
class Reheard:
    """One working, to be heard again as its lines were read.

    lines: those that say something, as they are shared; places: where among them a line stands, by its number.
    """

    memory: Rehearing
    document: Document
    lines: tuple[LineVerdict, ...]
    places: dict[int, int]

    @property
    def sources(self) -> tuple[Source, ...]:
        given = [Source("given", k) for k, line in enumerate(self.document.given) if not line.remark]
        own = [Source("line", k) for k, x in enumerate(self.lines[:_MOST_LINES]) if _opens(x)]
        return (*given, *own)

    def stands(self, piece: Piece, change: Change = UNCHANGED) -> bool | None:
        """Is a piece of the working established there? None where that could not be decided."""
        place = self.places.get(piece.line)
        if place is None or place >= _MOST_LINES:
            return None
        heard = pieces_of_line(self._after(place, change).lines[place])
        again = [p for p in heard if p.claim == piece.claim]
        return _established(again[:1])

    def needed_for(self, claims: tuple[Claim, ...]) -> set[Source]:
        """The givens that claims rest on by themselves, before anything is written; none where they do not follow."""
        givens = [s for s in self.sources if s.part == "given"]
        if not self._shown(claims, UNCHANGED):
            return set()
        return {s for s in givens if not self._shown(claims, Change((s,)))}

    def rests_on(self, claims: tuple[Claim, ...], point: tuple[Claim, ...]) -> bool:
        """Do claims, of the question alone, rest on all that a point rests on, and does the point stand in for a given
        among it?"""
        needed = self.needed_for(point)
        return bool(needed) and needed <= self.needed_for(claims) and any(
            self._shown(claims, Change((s,), point)) for s in needed)

    def shows_instead(self, claims: tuple[Claim, ...], point: tuple[Claim, ...], own: tuple[Claim, ...]) -> bool:
        """Do claims follow from a writer's own version of a point, without what the point itself rests on?"""
        return self._shown(claims, Change(tuple(s for s in self.sources if s in self.needed_for(point)), own))

    def lead_to(self, goal: Piece, steps: Sequence[Piece]) -> bool:
        """Does one of some own steps lead to a goal: does it stand in for a given that the goal rests on? To a formula
        numbers lead hardly ever (`300 N - 107 N = 193 N`), and a line may hold many: they are tried last."""
        ordered = steps if _in_numbers(goal) else sorted(steps, key=_in_numbers)
        return any(self._leads_to(goal, step) for step in ordered[:_MOST_STEPS])

    def _leads_to(self, goal: Piece, step: Piece) -> bool:
        """From the question alone where that is enough; else, with what the writer brought in, from the working."""
        end, own = (goal.claim,), (step.claim,)
        if self._shown(end, UNCHANGED) and self._shown(own, UNCHANGED):
            both = self.needed_for(end) & self.needed_for(own)
            return any(self._shown(end, Change((s,), own)) for s in both)
        return any(
            self.stands(step, Change((s,))) is False and self.stands(goal, Change((s,))) is False
            and bool(self.stands(goal, Change((s,), own))) for s in self.sources)

    def _shown(self, claims: tuple[Claim, ...], change: Change) -> bool:
        """Do claims follow from the question alone?"""
        page = self._after(-1, change)
        said = Reading(tuple(Statement("claim", c) for c in claims))
        after = self.memory.page(
            ("asked", *self._key(-1, change), claims), lambda: _heard(page, RawLine(1, ""), said))
        return bool(_established(pieces_of_line(after.lines[-1])))

    # --- hearing

    def _after(self, place: int, change: Change) -> Page:
        """The working up to and with a line, under a change."""
        key = self._key(place, change)
        if place < 0:
            return self.memory.page(key, lambda: self._begun(change))
        before = self._after(place - 1, change)
        return self.memory.page(key, lambda: self._read_on(before, place, change))

    def _key(self, place: int, change: Change) -> Key:
        left = tuple(s.at for s in change.without if s.part == "given")
        key: Key = (self.document.symbols, left, change.instead)
        for k, x in enumerate(self.lines[: place + 1]):
            gone = Source("line", k) in change.without or not _stood(x)
            key = (key, x.reading.statements if x.reading is not None and not gone else ())
        return key

    def _begun(self, change: Change) -> Page:
        kept = tuple(g for k, g in enumerate(self.document.given) if Source("given", k) not in change.without)
        bare = replace(self.document, given=kept, show=(), working=(), solution=())
        page = opened(bare, proofs=False, letters=not change.without)  # these would say what the given did
        setting = replace(page.setting.asking(), strict=True)
        for claim in change.instead:
            _, setting = given_premises(Reading((Statement("claim", claim),)), setting, Label("instead", 0))
        return replace(page, setting=setting)

    def _read_on(self, before: Page, place: int, change: Change) -> Page:
        """A line that stood and does not stand now brings in nothing."""
        x = self.lines[place]
        line = replace(x.line, number=place + 1)
        if x.reading is None or Source("line", place) in change.without or not _stood(x):
            return replace(before, lines=(*before.lines, LineVerdict(line, (Verdict(Standing.REMARK),))))
        after = _heard(before, line, x.reading)
        if _stood(after.lines[-1]):
            return after
        return replace(before, lines=after.lines)


def _in_numbers(piece: Piece) -> bool:
    """Is one of its sides a number, or worked out with nothing but numbers?"""
    return isinstance(piece.claim, Relation) and not all(names_in(side) for side in piece.claim.sides)


def _opens(x: LineVerdict) -> bool:
    return x.reading is not None and any(s.role in _OPENING for s in x.reading.statements)


def _stood(x: LineVerdict) -> bool:
    return all(v.standing in ESTABLISHED or (v.standing is Standing.TAKEN and v.code != "taken.start")
               for v in x.verdicts)


def _heard(page: Page, line: RawLine, reading: Reading) -> Page:
    def given_up(code: str) -> Page:
        return replace(page, lines=(*page.lines, LineVerdict(line, (Verdict(Standing.UNDECIDED, code=code),))))

    return guarded(lambda: page.as_read(line, reading), given_up, line.number)


def _established(pieces: Sequence[Piece]) -> bool | None:
    if not pieces or any(p.code in _GIVEN_UP for p in pieces):
        return None
    return all(p.standing in ESTABLISHED for p in pieces)
