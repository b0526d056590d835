"""Slips made on purpose in right lines: how many are named rightly, wrongly, or honestly left unnamed.

A slip is named rightly when the edit named gives back what the right line says. Every way of slipping that
the search knows is tried at every place where it makes the line wrong, up to the rarer ones.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest

from derive.diagnosis.alike import alike, empty
from derive.diagnosis.around import look_around
from derive.diagnosis.edits import Edit, slips
from derive.diagnosis.search import find_slip
from derive.notation.tree import Statement
from tests.sampling import WHOLE

from .lines import LINES, Line
from .trees import holds_in, measure_in, worlds

# Every tenth of them by default; THENCE_ALL=1 takes every third, which is as telling as all.
EVERY = 3 if WHOLE else 10
# Slips up to this cost: every kind but the odd ones (a factor 8, a number read wrongly).
ORDINARY = 1.75


def wrong_lines(line: Line) -> Iterator[Edit]:
    holds = holds_in(worlds(line.worlds))
    for slip in slips(line.right, look_around(line.right, line.premises)):
        if slip.cost <= ORDINARY and not holds(slip.claim) and not empty(slip.claim):
            yield slip


def outcome(line: Line, slip: Edit) -> str:
    holds = holds_in(worlds(line.worlds))
    around = look_around(slip.claim, line.premises, measure=measure_in(worlds(line.worlds)))
    found = find_slip(Statement("claim", slip.claim), holds, around=around, effort=3000)
    if found.found != "one":
        return "unnamed"
    return "rightly" if alike(found.edits[0].claim, line.right) else "wrongly"


@pytest.mark.parametrize("line", LINES.values(), ids=list(LINES))
def test_the_lines_and_what_stands_before_them_hold_in_their_worlds(line: Line) -> None:
    holds = holds_in(worlds(line.worlds))

    assert holds(line.right) and all(map(holds, line.premises))


def test_nearly_every_slip_is_named_rightly_and_hardly_any_wrongly(capsys: pytest.CaptureFixture[str]) -> None:
    counted: dict[str, Counter[str]] = {}
    for line in LINES.values():
        for number, slip in enumerate(wrong_lines(line)):
            if number % EVERY == 0:
                counted.setdefault(slip.kind, Counter())[outcome(line, slip)] += 1

    every = sum(counted.values(), Counter())
    with capsys.disabled():
        print(f"\n{every.total()} slips made on purpose: {dict(every)}")
        for kind, found in counted.items():
            print(f"  {kind:18} {dict(found)}")
    assert every.total() > 60
    assert every["rightly"] >= 0.9 * every.total()
    assert every["wrongly"] <= 0.01 * every.total()
