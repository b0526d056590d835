"""The labels of the shipped workings, shown by numbers: right lines are true, and the break is false.

Every line up to the break is evaluated in worlds that satisfy the exercise's givens (tests/exercises/
worlds.py). What the engine thinks of the workings is another file's matter.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import mpmath as mp
import pytest

from derive.notation import tree as n
from derive.notation.names import Scope
from derive.notation.reader import read_line
from derive.records import Document, RawLine, Reading, Symbol, Unreadable

from .by_numbers import Judge, NoNumber, Point, WrongReading
from .table import EXERCISES, Expected, exercise_document, expected, working_document
from .worlds import Setting, world

ROWS = expected()
ALL = [pytest.param(row, id=f"{row.exercise}/{row.working}") for row in ROWS]


@dataclass
class Reader:
    """Reads lines one after another, keeping the names that came in, and binds definitions in a setting."""

    setting: Setting
    symbols: dict[str, Symbol]
    labels: frozenset[str]
    previous: n.Expr | None = None

    def truth(self, line: RawLine) -> bool | None:
        """Whether a line is true in one of its readings; None where it says nothing that has a number."""
        scope = Scope(self.symbols, self.labels, free=True, previous=self.previous)
        readings = read_line(line, scope)
        assert not isinstance(readings, Unreadable), f"{line.text}: expected {readings.expected}"
        found = [self._truth(reading) for reading in readings]
        best = next((r for r, truth in zip(readings, found, strict=True) if truth), readings[0])
        self._keep(best)
        told = [truth for truth in found if truth is not None]
        return any(told) if told else None

    def _truth(self, reading: Reading) -> bool | None:
        said: list[bool] = []
        at: Point = {}
        letting = False
        for statement in _outside_cases(reading.statements):
            if statement.role in ("try", "regime", "range") or statement.claim is None:
                continue
            letting = statement.role == "let" or (letting and statement.word in (",", "and"))
            try:
                if letting and self._bind(statement.claim):
                    said.append(True)
                    continue
            except NoNumber:
                continue
            except WrongReading:
                return False
            if self._is_instant(statement.claim):  # `t = 0, v = 0: …` says where the rest is said of
                at = self._solved(statement.claim, self.setting.places[0])
                continue
            for place in ({**p, **at} for p in self.setting.places):
                try:
                    said.append(self._holds(statement, place))
                except NoNumber:
                    continue
                except WrongReading:
                    return False
        return all(said) if said else None

    def _is_instant(self, claim: n.Claim) -> bool:
        return isinstance(claim, n.Relation) and claim.sides[0] == n.Name(self.setting.variable) == n.Name("t")

    def _holds(self, statement: n.Statement, place: Point) -> bool:
        judges = [Judge(self.setting.values, self.setting.variable, upper) for upper in (True, False)]
        if statement.role == "limit":
            place = {**place, self.setting.variable: mp.mpf("1e7")}
        elif isinstance(statement.where, n.Relation) and statement.where.signs == ("=",):
            place = {**place, **self._solved(statement.where, place)}
        return any(judge.holds(statement.claim, place, self.setting.tolerance) for judge in judges)  # type: ignore[arg-type]

    def _solved(self, where: n.Relation, place: Point) -> Point:
        """Where a condition such as `t = t_1` or `Ω t = π/2` holds: the value of the variable there."""
        judge = Judge(self.setting.values, self.setting.variable)
        left, right = where.sides
        if isinstance(left, n.Name) and left.ident in place:
            return {left.ident: judge.value(right, place)}
        key = self.setting.variable

        def gap(s: Any) -> Any:
            return judge.value(left, {**place, key: s}) - judge.value(right, {**place, key: s})

        return {key: mp.findroot(gap, place[key])}

    def _bind(self, claim: n.Claim) -> bool:
        """Give a name of the writer's own the value of its definition (`let ω² = …` the positive root).

        Says whether there was a name to give one to."""
        bound = False
        for part in claim.parts if isinstance(claim, n.Both) else (claim,):
            if not isinstance(part, n.Relation):
                continue
            left, right = part.sides[0], part.sides[-1]
            power = 1
            if isinstance(left, n.Power) and isinstance(left.exponent, n.Num):
                left, power = left.base, int(left.exponent.value)
            if isinstance(left, n.Name) and left.ident not in self.setting.values:
                judge = Judge(self.setting.values, self.setting.variable)
                judge.value(right, self.setting.places[0])
                self.setting.values[left.ident] = _definition(judge, right, power)
                self.symbols.setdefault(left.ident, Symbol(left.ident, declared=False))
                bound = True
        return bound

    def _keep(self, reading: Reading) -> None:
        for statement in reading.statements:
            for name in n.names_in(statement):
                self.symbols.setdefault(name, Symbol(name, declared=False))
            claim = statement.claim
            if isinstance(claim, n.Relation):
                self.previous = claim.sides[-1]


def _outside_cases(statements: tuple[n.Statement, ...]) -> Iterator[n.Statement]:
    """The statements that are said outright: not those of a case (`w = u - V gives v_2 = 0`)."""
    following = [*(s.word for s in statements[1:]), ""]
    for statement, after in zip(statements, following, strict=True):
        if statement.role != "suppose" and "gives" not in (statement.word, after):
            yield statement


def _definition(judge: Judge, right: n.Expr, power: int) -> Any:
    return lambda at: judge.value(right, at) ** (mp.mpf(1) / power)


def read_through(
    lines: tuple[RawLine, ...], document: Document, setting: Setting
) -> Iterator[tuple[RawLine, bool | None]]:
    """Each line in order with whether it is true in the setting's world."""
    labels = frozenset(line.label for line in (*document.given, *lines) if line.label)
    reader = Reader(setting, {symbol.name: symbol for symbol in document.symbols}, labels)
    for line in lines:
        if not line.remark:
            yield line, reader.truth(line)


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", sorted({row.exercise for row in ROWS}))
def test_the_givens_and_the_solution_of_an_exercise_are_true_in_its_world(name: str, seed: int) -> None:
    document = exercise_document(name)
    assert not document.problems

    for part in (document.given, document.solution, document.show):
        for line, truth in read_through(part, document, world(name, "", seed)):
            assert truth is not False, f"{name}: {line.text}"


@pytest.mark.parametrize("row", ALL)
def test_the_lines_before_the_break_are_true_and_the_break_is_false(row: Expected) -> None:
    document = working_document(row)
    assert not document.problems
    numbers = [line.number for line in document.working]
    assert row.broken_at == 0 or row.broken_at in numbers

    for line, truth in read_through(document.working, document, world(row.exercise, row.working, seed=1)):
        if line.number == row.broken_at:
            assert truth is False, f"true after all, or nothing to tell: {line.text}"
            return
        assert truth is not False, f"false: {line.text}"


def test_every_exercise_has_workings_of_both_kinds_and_every_file_is_listed() -> None:
    files = {f"{path.parent.name}/{path.stem}" for path in EXERCISES.glob("*/*.txt")}
    names = {path.stem for path in EXERCISES.glob("*.txt")} - {"expected", "marked"}

    assert files == {f"{row.exercise}/{row.working}" for row in ROWS}
    assert names == {row.exercise for row in ROWS}
    for name in names:
        broken = [row.broken_at > 0 for row in ROWS if row.exercise == name]
        assert len(broken) >= 5
        assert 2 <= sum(broken) <= len(broken) - 2
