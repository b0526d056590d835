"""An edit points to a piece of a line and says what it should have been: read so, the line is the one meant."""

from __future__ import annotations

import pytest

from derive.diagnosis.alike import alike
from derive.diagnosis.around import look_around
from derive.diagnosis.edits import Edit, edits
from derive.diagnosis.sites import put, sites
from derive.notation.tree import Claim

from .lines import LINES, Line
from .trees import measure_in, worlds


def _as_said(claim: Claim, edit: Edit) -> bool:
    """Does putting what an edit shows in the place it points to give the claim that it stands for?"""
    places = [s for s in sites(claim) if s.node is edit.piece]
    return any(alike(put(claim, s.path, edit.after), edit.claim) for s in places)


@pytest.mark.parametrize("line", LINES.values(), ids=list(LINES))
def test_what_an_edit_shows_is_the_change_it_makes(line: Line) -> None:
    around = look_around(line.right, line.premises, measure=measure_in(worlds(line.worlds)))

    made = list(edits(line.right, around))

    assert len(made) > 20
    assert [e.cost for e in made] == sorted(e.cost for e in made)
    assert {(e.kind, e.piece, e.after) for e in made if not _as_said(line.right, e)} == set()
