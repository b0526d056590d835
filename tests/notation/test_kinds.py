"""The kinds of step that the notation page shows."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.notation.kinds import KINDS
from derive.notation.page import notation_page


@pytest.mark.parametrize(("kind", "working"), KINDS, ids=[kind for kind, _ in KINDS])
def test_every_kind_of_step_on_the_page_is_decided_and_holds(kind: str, working: str) -> None:
    check = check_text(working)

    assert check.outcome == "unbroken"
    assert len(check.lines) == len(working.splitlines())


def test_the_page_shows_every_kind_with_its_working() -> None:
    page = notation_page()

    assert all(kind in page and line in page for kind, working in KINDS for line in working.splitlines())
