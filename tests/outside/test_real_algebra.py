"""An independent solver agrees with every polynomial step of the shipped workings (see `real_algebra`)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

import pytest

from derive.check import check_document
from derive.notation import tree as n
from derive.records import Check, LineVerdict, Standing, Symbol, Verdict
from tests.exercises.table import Expected, exercise_document, expected, working_document
from tests.sampling import some

z3 = pytest.importorskip("z3")

from .real_algebra import Algebra, NotPolynomial  # noqa: E402  (it needs the solver)

# Every sixth working and every second solution by default; THENCE_ALL=1 takes them all.
ROWS = some([pytest.param(row, id=f"{row.exercise}/{row.working}") for row in expected()], 6)
SOLUTIONS = some(sorted({row.exercise for row in expected()}), 2)
IN_HAND = (Standing.FOLLOWS, Standing.TAKEN)  # what later lines may rest on
DECIDED = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.FAILS)


@dataclass(frozen=True)
class Step:
    """A claim, what stood in hand before it, and what was said of it. `whole`: all that stood before it is here."""

    number: int
    claim: n.Claim
    before: tuple[n.Claim, ...]
    standing: Standing
    whole: bool


def steps(check: Check) -> Iterator[Step]:
    """The claims of a working that have a polynomial form, each with the polynomial claims before it."""
    before: list[n.Claim] = []
    whole = True
    for line in (*check.givens, *check.lines):
        for verdict, claim in links(line):
            said = verdict.statement
            if said is None or claim is None:
                whole = whole and verdict.standing is Standing.REMARK
                continue
            plain = said.where is None and said.role in ("claim", "let", "operation") and is_polynomial(
                check.document.symbols, claim)
            if plain and verdict.standing in DECIDED:
                yield Step(line.line.number, claim, tuple(before), verdict.standing, whole)
            if plain and verdict.standing in IN_HAND:
                before.append(claim)
            else:
                whole = False


def links(line: LineVerdict) -> Iterator[tuple[Verdict, n.Claim | None]]:
    """The verdicts on a line, each with what it is of: where `a = b = c` is decided link by link, one link."""
    for statement, together in groupby(line.verdicts, lambda v: v.statement):
        verdicts, claim = list(together), statement and statement.claim
        if isinstance(claim, n.Relation) and len(verdicts) == len(claim.signs):
            for k, verdict in enumerate(verdicts):
                yield verdict, n.Relation(claim.sides[k : k + 2], claim.signs[k : k + 1])
        else:
            yield from ((verdict, claim) for verdict in verdicts)


def is_polynomial(symbols: tuple[Symbol, ...], claim: n.Claim) -> bool:
    try:
        Algebra(symbols).claim(claim)
    except NotPolynomial:
        return False
    return True


def agreed(check: Check, step: Step) -> bool | None:
    """Whether the solver says of a step what the engine says of it; None where it has no answer.

    Where something of what stood before has no polynomial form, a step that holds may rest on that; a step that
    fails must fail all the more without it.
    """
    algebra = Algebra(check.document.symbols)
    context = [algebra.claim(claim) for claim in step.before]
    held = algebra.follows(context, algebra.claim(step.claim))
    if held is None or (held is False and not step.whole and step.standing is not Standing.FAILS):
        return None
    return held is (step.standing is Standing.FOLLOWS)


@pytest.mark.parametrize("row", ROWS)
def test_a_solver_of_real_algebra_agrees_with_every_polynomial_step(row: Expected) -> None:
    check = check_document(working_document(row), proofs=False)

    said = [(step, agreed(check, step)) for step in steps(check)]

    assert [step for step, agrees in said if agrees is False] == []


def test_most_polynomial_steps_are_answered_by_the_solver() -> None:
    """So that the agreement above is not an agreement about nothing."""
    counted: Counter[str] = Counter()
    for name in SOLUTIONS:
        check = check_document(exercise_document(name), proofs=False)
        counted.update(str(agreed(check, step)) for step in steps(check))

    assert counted["True"] >= 2.5 * len(SOLUTIONS)
    assert counted["False"] == 0
