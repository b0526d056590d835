"""A working as far as it has been read, and how one more line is read and decided."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from derive.apart import with_functions_apart
from derive.case_ends import closed, gone_on_from
from derive.case_heads import names_compared, taken_up, told_at_heads
from derive.forking import condition_of, excluded, found_a_course, without_values_of_cases
from derive.going_on import (
    asked_for,
    called_by_time,
    is_gone_on_with,
    is_of_a_ratio,
    last_side,
    line_below,
    sign_left_above,
)
from derive.guarding import guarded
from derive.kinds_told import of_its_kind, with_values_apart
from derive.left_open import given_up, unread
from derive.meanings import meanings_first
from derive.not_fitting import does_not_fit, falls_by_dimension, mismatch_of
from derive.notation.names import Scope
from derive.notation.reader import read_alone, read_line
from derive.notation.tree import Apply, Claim, Constant, Expr, Relation, Span, Statement, walk
from derive.parts_told import part_told, past_an_expression, with_what_is_only_said
from derive.quantities.dimensions import Dimensions, Mismatch, is_a_value_with_unit
from derive.quantities.unit_table import dimension
from derive.quantities.usual import UsualDimensions, holds_values, impossible_unit
from derive.readings import likeliest_first, with_own_constant
from derive.records import (
    Document,
    LineVerdict,
    Problem,
    RawLine,
    Reading,
    Standing,
    Symbol,
    Unreadable,
    Verdict,
)
from derive.rereading import rereadings
from derive.states.context import tied_names
from derive.states.renewed import constant_renewed, period_anew, with_name_anew
from derive.states.said import Source, everywhere, source_of
from derive.states.setting import Setting
from derive.states.sizes import ANGLES, constant_sizes
from derive.states.states import freedom
from derive.states.yielding import unvalued
from derive.steps.changing.starting import starts_from_rest
from derive.taking_over import takes_over
from derive.terms.term import Var, var
from derive.terms.world import TIME
from derive.verdicts.goal import judge_goal
from derive.verdicts.hindsight import reconsidered
from derive.verdicts.statements import decide

# A line read in many ways is decided in the first few; more would only make a slow line slower.
_READINGS_DECIDED = 5
# Formulas that nothing above supports: these are held to what their letters usually stand for.
_BROUGHT_IN = ("taken.definition", "taken.start", "taken.law", "taken.bound")
_RIGHT = (Standing.FOLLOWS, Standing.APPROXIMATES)
_BAD = (Standing.FAILS, Standing.UNDECIDED, Standing.UNREADABLE)


@dataclass(frozen=True, slots=True)
class Page:
    """A working as far as it has been read: the setting after it, and the verdicts so far."""

    document: Document
    setting: Setting
    dimensions: Dimensions
    usual: UsualDimensions | None = None
    lines: tuple[LineVerdict, ...] = ()
    givens: tuple[LineVerdict, ...] = ()
    problems: tuple[Problem, ...] = ()
    previous: Expr | None = None
    apart: frozenset[str] = frozenset()  # names of Greek letters that spell products on this page
    indexed: frozenset[str] = frozenset()  # `vT`, a letter with an index
    euler: bool = False  # e has stood for the number
    fork: Page | None = None  # before the case in which a course was found

    # --- reading

    def scope(self) -> Scope:
        """What the reader may know here: declared names, and those met so far."""
        world = self.setting.context.world
        names = {*world.symbols, *world.varying, *tied_names(self.setting.context)}
        if self.setting.regime is not None:
            names |= tied_names(self.setting.regime.context)
        symbols = {n: world.symbols.get(n, Symbol(n, declared=False)) for n in names if n != TIME}
        if TIME in world.symbols:
            symbols[TIME] = world.symbols[TIME]
        labels = frozenset(x.label for x in (*self.document.given, *self.document.working, *self.document.solution))
        functions = {**dict.fromkeys((*world.moving, *called_by_time(self.lines)), TIME), **world.fields}
        return Scope(
            symbols, labels, not self.document.symbols, self.previous, asked_for(self.lines), is_of_a_ratio(self.lines),
            functions, apart=self.apart, indexed=self.indexed, euler=self.euler)

    def readings(self, line: RawLine) -> list[Reading] | Unreadable:
        """The readings of a line; undeclared names are let through, for the engine to say what they are."""
        rows = self.document.working
        scope = replace(
            self.scope(), sign=sign_left_above(line.number, rows), unended=bool(line_below(line.number, rows)))
        found = read_line(line, scope)
        if isinstance(found, Unreadable) and not (scope.quick or scope.free):
            freer = read_line(line, replace(scope, free=True))
            if not isinstance(freer, Unreadable):
                found = freer
        if isinstance(found, Unreadable):
            return found
        found = [with_functions_apart(reading, self.lines) for reading in found] if scope.quick else found
        declared = "const" in self.setting.context.world.symbols
        return found if declared else [with_own_constant(reading, line.number) for reading in found]

    # --- deciding

    def after(self, line: RawLine) -> Page:
        """The page with one more line read and decided."""
        if line.remark:
            verdict = Verdict(Standing.REMARK, note=line.text.strip())
            return replace(self, lines=(*self.lines, LineVerdict(line, (verdict,))))
        return guarded(lambda: self._read_and_decided(line), lambda code: self._left_open(line, code), line.number)

    def after_reading(self, line: RawLine, found: Sequence[Reading]) -> Page:
        """The page with one more line decided that has been read before."""
        return guarded(lambda: self._decided_as(line, found), lambda code: self._left_open(line, code), line.number)

    def _left_open(self, line: RawLine, code: str) -> Page:
        """The page after a line at which the program gave up."""
        return replace(self, lines=(*self.lines, given_up(line, code)))

    def _read_and_decided(self, line: RawLine) -> Page:
        found = self.readings(line)
        says = not isinstance(found, Unreadable) and any(r.statements for r in found)
        found = found if says else part_told(line, self.scope(), self.setting.context) or found
        rest = past_an_expression(line, self.scope()) if isinstance(found, Unreadable) else None
        found = self.readings(rest) if rest is not None else found
        gone_on = not says and is_gone_on_with(line, self.document.working)
        alone = read_alone(line, self.scope()) if gone_on else None
        if alone is not None:
            return self._begun_with(line, alone)
        if isinstance(found, Unreadable):
            return replace(self, lines=(*self.lines, unread(line, found)))
        page = self._decided_as(line, found)
        if rest is not None:
            page = replace(page, lines=(*page.lines[:-1], with_what_is_only_said(page.lines[-1], line, rest)))
        return self._begun_below_words(line, page) or page

    def _begun_below_words(self, line: RawLine, found: Page) -> Page | None:
        """`= ½ m u² - ½ (m + M) V²` below `energy lost`: of what the words say, and of another kind than the last side
        above them."""
        above, last = self.lines[-1:], found.lines[-1]
        worded = any(v.standing is Standing.REMARK for x in above for v in x.verdicts) and not self.document.symbols
        if not worded or not line.text.lstrip().startswith("=") or last.verdicts[0].code != "fails.dimension":
            return None
        start = line.text.index("=") + 1
        behind = replace(line, body=Span(start, max(start, line.body.end)))
        alone = read_alone(behind, self.scope())
        return self._begun_with(line, alone) if alone is not None else None

    def _begun_with(self, line: RawLine, expression: Expr) -> Page:
        """The page after the first side of a chain, on a line of its own."""
        said = LineVerdict(line, (Verdict(Standing.REMARK, note=line.text.strip()),))
        return replace(self, lines=(*self.lines, said), previous=expression)

    def _decided_as(self, line: RawLine, found: Sequence[Reading]) -> Page:
        """The page after a line in the first of its readings that holds, else in the likeliest."""
        best: Page | None = None
        scope = self.scope()
        readings = likeliest_first(found, self.dimensions, scope, self.lines)[:_READINGS_DECIDED]
        for reading in readings:
            # A further reading takes the place of the first only where it holds, by itself or from an earlier slip.
            hopeful = best is not None and not self.setting.broken
            taken = self.taken_up(reading)
            page = self._with(hopeful).as_read(line, taken)._with(False)
            verdicts = page.lines[-1].verdicts
            if best is None:
                best = page
                if not any(v.standing in _BAD for v in verdicts):
                    break
            elif takes_over(reading, readings[0], verdicts, self._constants() - page._fields(), scope.symbols):
                best = page
                break
        assert best is not None
        return self._read_otherwise(line, best) or best

    def _read_otherwise(self, line: RawLine, found: Page) -> Page | None:
        """The page after a line that did not hold, in another reading in which it does."""
        headed = None if self.setting.strict else lambda reading: self.taken_up(reading, given=True)
        vectors = {n for n, s in found.setting.context.world.symbols.items() if s.vector}
        declared = bool(self.document.symbols)
        for other in rereadings(found.lines[-1], (*self.givens, *self.lines), headed, vectors, declared):
            page = self.as_read(line, other.reading)
            if other.stands(page.lines[-1].verdicts, found.lines[-1].verdicts):
                return _without_notes(page) if other.in_units else page
        return None

    def taken_up(self, reading: Reading, given: bool = False) -> Reading:
        """A reading with the cases that it says as cases, on a page that has givens, or as it would be on one."""
        reading = with_values_apart(reading) if self.setting.strict else of_its_kind(reading, self.lines)
        return taken_up(reading, self.lines, self._sizes(), self._untied, given or self.setting.strict)

    def _sizes(self) -> set[str]:
        context = self.setting.context
        tied = tied_names(context)
        angles = {n for n in tied if n[:1] in ANGLES and not context.world.is_changing(Var(n))}
        return constant_sizes(tied, context.world) | angles

    def _untied(self, claim: Claim) -> bool:
        """Does the page know all that a claim compares, and say nothing of how they go together?"""
        setting = self.setting
        own = tuple(Var(n) for n in sorted(names_compared(claim)))
        known = tied_names(setting.context)
        return all(v.name in known for v in own) and freedom(
            unvalued(setting.context), own, (), setting.states) == len(own)

    def _constants(self) -> set[str]:
        """The names met so far that are known to hang on nothing that changes."""
        context = self.setting.context
        world = context.world
        return {n for n in tied_names(context) if not world.changes(world.seen_through(var(Var(n))))}

    def _fields(self) -> set[str]:
        """What a line may ask for at another place than that of the page."""
        return {*self.setting.context.world.fields}

    def _with(self, hopeful: bool) -> Page:
        return replace(self, setting=replace(self.setting, hopeful=hopeful))

    def as_read(self, line: RawLine, reading: Reading) -> Page:
        """The page after a line in one of its readings."""
        if starts_from_rest(reading.words) and not self.setting.from_rest:
            return replace(self, setting=replace(self.setting, from_rest=True)).as_read(line, reading)
        if not reading.statements:
            verdict = Verdict(Standing.REMARK, note=reading.words)
            return replace(self, lines=(*self.lines, LineVerdict(line, (verdict,), reading)))
        source = replace(
            source_of(line, reading), heading=self._sentence_above(), told=told_at_heads(self.lines), headed={
                x.line.number: x.reading.words for x in self.lines if x.reading is not None and x.reading.words})
        start = self._at_the_fork() if self.fork and excluded(reading, self.setting, source) else self
        page = start._read_from_here(line, reading, source)
        if start is self and self.fork and condition_of(reading) is not None and _is_bad(page):
            other = self._at_the_fork()._read_from_here(line, reading, source)
            solved = found_a_course(self.fork.setting, other.setting) and not _is_bad(other)
            page = other if solved else page
        return page

    def _read_from_here(self, line: RawLine, reading: Reading, source: Source) -> Page:
        page = replace(
            self, dimensions=self.dimensions.copy(), usual=self.usual.copy() if self.usual else None,
            setting=without_values_of_cases(reading, self.lines, self.setting))
        found: dict[int, tuple[Verdict, ...]] = {}
        for k in meanings_first(reading.statements, self.scope(), tied_names(self.setting.context)):
            page, found[k] = page._decided(reading.statements[k], source, line.text)
        verdicts = [v for k in sorted(found) for v in found[k]]
        last = last_side(reading)
        cases = gone_on_from(page.setting, reading, verdicts, line.number)
        page = replace(page, setting=closed(self.setting, cases, reading, line.number))
        if (condition_of(reading) is not None or not self.fork) and found_a_course(self.setting, page.setting):
            page = replace(page, fork=self)
        euler = page.euler or any(map(self._brings_euler, (n for s in reading.statements for n in walk(s))))
        return replace(
            page, euler=euler, lines=(*self.lines, LineVerdict(line, tuple(verdicts), reading)),
            previous=last if last is not None else self.previous)

    def _sentence_above(self) -> str:
        above = self.lines[-1] if self.lines else None
        return above.line.text if above and any(v.standing is Standing.REMARK for v in above.verdicts) else ""

    def _at_the_fork(self) -> Page:
        """The page where a course was found that another case may not have, with all that was said since."""
        assert self.fork is not None
        setting = replace(self.fork.setting, broken=self.setting.broken, hopeful=self.setting.hopeful)
        return replace(self.fork, setting=setting, lines=self.lines, problems=self.problems, previous=self.previous)

    def _brings_euler(self, node: object) -> bool:
        """Is it e^x, or the logarithm that undoes it, on a page on which e is no name (of a restitution)?"""
        logarithm = isinstance(node, Apply) and node.function == "ln"
        return node == Constant("e") or (logarithm and "e" not in tied_names(self.setting.context))

    def _decided(self, statement: Statement, source: Source, typed: str) -> tuple[Page, tuple[Verdict, ...]]:
        again = constant_renewed(self.setting.context, statement.claim)
        for known in (self.dimensions, self.usual) if again else ():
            if known is not None:
                known.renew(again)
        mismatch = mismatch_of(statement, self.dimensions, quick=bool(self.usual))
        verdicts, setting = decide(statement, self.setting, source)
        if mismatch is not None and all(v.code == "taken.trial" for v in verdicts) and (
                statement.claim is not None and self.dimensions.without_amplitude(statement.claim)):
            mismatch = None
        if mismatch is None and statement.claim is not None and self.usual and any(
                v.code in _BROUGHT_IN for v in verdicts):
            mismatch = self.usual.misfit(statement.claim)
        anew = period_anew(statement.claim) if mismatch is not None and self.usual else ""
        if anew in tied_names(self.setting.context):
            return self._with_name_anew(anew)._decided(statement, source, typed)
        if mismatch is None and self.usual and verdicts and all(v.standing in _RIGHT for v in verdicts):
            mismatch = impossible_unit(statement.claim, self.dimensions)
        # A page of plain numbers may give its results units.
        of_value = mismatch is not None and is_a_value_with_unit(mismatch.node) and not (
            self.usual and mismatch.expected == dimension())
        slipped = bool(self.setting.broken)
        if mismatch is not None and (of_value or any(falls_by_dimension(v, slipped) for v in verdicts)):
            broken = does_not_fit(statement, mismatch, verdicts, typed, quick=bool(self.usual))
            return self._before_its_unit(statement, mismatch, source, typed) or replace(
                self, setting=_as_own(self.setting, setting)), (broken,)
        if mismatch is None and statement.claim is not None and _learnable(verdicts):
            self.dimensions.adopt(statement.claim, values=bool(self.usual) and holds_values(statement.claim))
            if self.usual:
                self.usual.adopt(statement.claim)
        if statement.claim is not None and self.dimensions.plain_numbers(statement.claim):
            verdicts = tuple(v if v.note else replace(v, note="note.plain_numbers") for v in verdicts)
        return replace(self, setting=setting), verdicts

    def _with_name_anew(self, name: str) -> Page:
        """The page from which on a letter stands for something else."""
        for known in (self.dimensions, self.usual):
            if known is not None:
                known.renew(name)
        return replace(self, setting=everywhere(self.setting, lambda c: with_name_anew(c, name)))

    def _before_its_unit(self, statement: Statement, mismatch: Mismatch, source: Source, typed: str) -> Page | None:
        """The page with `E = p²/(2 m)` alone of `E = p²/(2 m) = 18 W`: only the unit at the end is wrong."""
        claim = statement.claim
        if not isinstance(claim, Relation) or len(claim.sides) < 3 or claim.sides[-1] != mismatch.node or not (
                is_a_value_with_unit(mismatch.node)):
            return None
        shorter = replace(claim, sides=claim.sides[:-1], signs=claim.signs[:-1])
        page, verdicts = self._decided(replace(statement, claim=shorter), source, typed)
        return page if all(v.standing in (Standing.TAKEN, *_RIGHT) for v in verdicts) else None

    # --- looking back

    def looked_back(self) -> Page:
        """Lines that only rest on something introduced further down are said to, not called broken."""
        if not any(v.standing in (Standing.FAILS, Standing.UNDECIDED) for x in self.lines for v in x.verdicts):
            return self
        lines = tuple(self._seen_from_the_end(x) for x in self.lines)
        return replace(self, lines=lines)

    def _seen_from_the_end(self, line: LineVerdict) -> LineVerdict:
        verdicts = guarded(
            lambda: tuple(reconsidered(v, line, self.setting) for v in line.verdicts), lambda _: line.verdicts,
            line.line.number)
        return replace(line, verdicts=verdicts)

    # --- concluding

    def judged_goal(self) -> tuple[LineVerdict, ...]:
        return tuple(
            guarded(lambda x=line: self._goal(x), lambda code, x=line: given_up(x, code), line.number)  # type: ignore[misc]
            for line in self.document.show)

    def _goal(self, line: RawLine) -> LineVerdict:
        found = self.readings(line)
        if isinstance(found, Unreadable):
            return unread(line, found)
        readings = likeliest_first(found, self.dimensions, self.scope(), self.lines)[:_READINGS_DECIDED]
        if not readings[0].statements:
            return LineVerdict(line, (Verdict(Standing.REMARK, note=readings[0].words),), readings[0])
        return LineVerdict(line, judge_goal(readings, self.setting, self.lines), readings[0])

    def first_break(self) -> int:
        return next((x.line.number for x in self.lines for v in x.verdicts if v.standing is Standing.FAILS), 0)

    def outcome(self) -> Literal["unbroken", "broken", "unsure"]:
        """'broken', 'unsure' or 'unbroken' (see records.Check)."""
        standings = {v.standing for x in self.lines for v in x.verdicts}
        if Standing.FAILS in standings:
            return "broken"
        unsure = {Standing.UNDECIDED, Standing.UNREADABLE} & standings
        unread = any(v.standing in _BAD for x in self.givens for v in x.verdicts)
        return "unsure" if unsure or unread or not self.lines else "unbroken"


def _without_notes(page: Page) -> Page:
    """What is read in the units given was not read as SI values."""
    last = page.lines[-1]
    said = tuple(replace(v, note="" if v.note == "note.plain_numbers" else v.note) for v in last.verdicts)
    return replace(page, lines=(*page.lines[:-1], replace(last, verdicts=said)))


def _as_own(before: Setting, after: Setting) -> Setting:
    """What an ill-fitting line would have brought in is kept as the writer's own, outside the context."""
    new = after.context.premises[len(before.context.premises):]
    return replace(before, broken=(*after.broken, *(replace(p, implied=False) for p in new)))


def _is_bad(page: Page) -> bool:
    return any(v.standing in _BAD for v in page.lines[-1].verdicts)


def _learnable(verdicts: tuple[Verdict, ...]) -> bool:
    return bool(verdicts) and all(v.standing not in (*_BAD, Standing.CARRIED) for v in verdicts)
