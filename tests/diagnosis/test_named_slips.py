"""Slips in the workings of the step corpus and of the exercises: how many are named rightly, wrongly, or not at all."""

from __future__ import annotations

from collections import Counter

import pytest

from .slipped import outcome, slipped_workings

# Every third working is as telling as all of them, and takes a third of the time.
EVERY = 3
SAID = ("rightly", "otherwise", "wrongly", "unnamed", "elsewhere")


def test_most_slips_are_named_rightly_and_hardly_any_wrongly(capsys: pytest.CaptureFixture[str]) -> None:
    counted: dict[str, Counter[str]] = {}
    for place, slipped in enumerate(slipped_workings()):
        if place % EVERY == 0:
            counted.setdefault(slipped.group, Counter())[outcome(slipped)] += 1

    every = sum(counted.values(), Counter())
    seen = every.total() - every["elsewhere"]
    with capsys.disabled():
        print(f"\n{'':<28}" + "".join(f"{said:>11}" for said in SAID))
        for group, found in (*counted.items(), ("together", every)):
            print(f"{group:<28}" + "".join(f"{found[said]:>11}" for said in SAID))
    assert seen > 100
    assert every["rightly"] + every["otherwise"] >= 0.85 * seen
    assert every["wrongly"] <= 0.03 * seen
