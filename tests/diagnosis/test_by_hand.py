"""Workings with one slip as people make them, written by hand: how many are named rightly, wrongly, or not at all."""

from __future__ import annotations

from collections import Counter

import pytest

from derive.check import check_document
from tests.sampling import WHOLE

from .by_hand import ByHand, workings_by_hand
from .slipped import outcome

# Every eighth one by default: THENCE_ALL=1 takes them all, and then 95 in a hundred are named rightly and none wrongly.
EVERY = 1 if WHOLE else 8
WORKINGS = list(workings_by_hand())[::EVERY]


@pytest.mark.parametrize("working", WORKINGS, ids=lambda w: w.name)
def test_with_its_right_line_the_working_holds(working: ByHand) -> None:
    assert check_document(working.mended(), proofs=False).outcome == "unbroken"


def test_nine_in_ten_slips_are_named_rightly_and_hardly_any_wrongly(capsys: pytest.CaptureFixture[str]) -> None:
    found = {w.name: outcome(w.slipped()) for w in WORKINGS}
    counted = Counter(found.values())

    with capsys.disabled():
        print(f"\nslips written by hand: {dict(counted)}")
    assert len(WORKINGS) > 30
    assert {name for name, said in found.items() if said == "elsewhere"} == set()
    assert counted["rightly"] + counted["finding"] >= 0.9 * len(WORKINGS)
    assert counted["wrongly"] <= 0.01 * len(WORKINGS)
