"""The labels of the step corpus are shown right by numbers, without our reader and engine."""

from __future__ import annotations

from random import Random

import mpmath
import pytest

from .corpus import Case, Line, Slip, Truth, World, all_cases, cases, named

WORLDS = 4
# Right lines are evaluated from closed forms and numerical derivatives or integrals good to ten figures
# or so; a slip that changes a side by less than a thousandth in every world is not worth a case.
SAME, DIFFERENT = 1e-6, 1e-3


def apart(left: object, right: object) -> float:
    """The difference of two sides relative to the larger, or to 1e-9 where both vanish."""
    a, b = mpmath.mpmathify(left), mpmath.mpmathify(right)
    return float(abs(a - b) / max(abs(a), abs(b), mpmath.mpf("1e-9")))


def gap(truth: Truth, world: World) -> float:
    """How far a line is from true in a world; 0 or 1 where it can only hold or not."""
    said = truth(world)
    if isinstance(said, bool):
        return 0.0 if said else 1.0
    pairs = [said] if isinstance(said, tuple) else said
    assert pairs, "a truth must compare something"
    return max(apart(left, right) for left, right in pairs)


def worlds_of(case: Case) -> list[World]:
    return [case.worlds(Random(seed)) for seed in range(WORLDS)]


RIGHT, BROKEN = named(slipped=False), named(slipped=True)


WITH_PREMISES = [
    pytest.param(case, id=f"{row}: {case.name}") for row, case in all_cases()
    if case.premises is not None and case.broken_at is None
]


@pytest.mark.parametrize("case", WITH_PREMISES)
def test_the_worlds_satisfy_the_givens_and_so_do_those_of_lost_cases(case: Case) -> None:
    assert case.premises is not None
    for world in worlds_of(case) + [line.lost(Random(1)) for _, line in case.lines if line.lost]:
        assert gap(case.premises, world) < SAME


@pytest.mark.parametrize("case", RIGHT)
def test_every_line_of_a_right_working_holds_in_worlds_that_satisfy_its_givens(case: Case) -> None:
    for world in worlds_of(case):
        for _, line in case.lines:
            if line.truth is not None:
                assert gap(line.truth, world) < SAME, line.typed


@pytest.mark.parametrize("case", BROKEN)
def test_the_line_with_the_slip_fails_in_a_world_that_satisfies_the_givens(case: Case) -> None:
    truth, typed = next((line.truth, line.typed) for number, line in case.lines if number == case.broken_at)
    assert truth is not None
    assert max(gap(truth, world) for world in worlds_of(case)) > DIFFERENT, typed


@pytest.mark.parametrize("case", BROKEN)
def test_lines_before_the_slip_hold(case: Case) -> None:
    for world in worlds_of(case):
        for number, line in case.lines:
            if line.truth is not None and number < (case.broken_at or 0):
                assert gap(line.truth, world) < SAME, line.typed


CONDITIONAL = [
    pytest.param(line, id=f"{row}: {case.name}: {line.typed}")
    for row, case in all_cases() for _, line in case.lines if line.lost is not None and case.broken_at is None
]


@pytest.mark.parametrize("line", CONDITIONAL)
def test_a_line_that_holds_only_under_a_condition_fails_in_the_lost_case(line: Line) -> None:
    assert line.lost is not None and line.truth is not None
    assert gap(line.truth, line.lost(Random(1))) > DIFFERENT


def test_a_slip_takes_the_place_of_its_line_and_later_lines_carry_on_from_it() -> None:
    made = cases(
        "a weight", [("(1)", "F = m g", None), ("(2)", "F/m = g", None), ("(3)", "2 F/m = 2 g", None)],
        lambda _: World(), symbols="m : kg, positive", given="F = m g",
        slips=[Slip("(2)", "F/m = 2 g", lambda w: False, then={"(3)": "2 F/m = 4 g"})],
    )

    assert [case.broken_at for case in made] == [None, 9]
    assert made[1].text.splitlines()[6:] == ["Working:", "  (1)  F = m g", "  (2)  F/m = 2 g", "  (3)  2 F/m = 4 g"]


def test_every_row_has_enough_right_and_slipped_workings_and_no_two_texts_alike() -> None:
    per_row: dict[str, list[Case]] = {}
    for row, case in all_cases():
        per_row.setdefault(row, []).append(case)

    for row, found in per_row.items():
        assert sum(c.broken_at is None for c in found) >= 6, row
        assert sum(c.broken_at is not None for c in found) >= 12, row
    texts = [case.text for _, case in all_cases()]
    assert len(set(texts)) == len(texts)
