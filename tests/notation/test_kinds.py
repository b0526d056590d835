"""The kinds of step that the notation page shows."""

from __future__ import annotations

import pytest

from derive.check import check_text
from derive.notation.kinds import A_FILE, KINDS
from derive.notation.page import notation_page


@pytest.mark.parametrize(("kind", "working"), KINDS, ids=[kind for kind, _ in KINDS])
def test_every_kind_of_step_on_the_page_is_decided_and_holds(kind: str, working: str) -> None:
    check = check_text(working)

    assert check.outcome == "unbroken"
    assert len(check.lines) == len(working.splitlines())


def test_the_page_shows_every_kind_with_its_working() -> None:
    page = notation_page()

    assert all(kind in page and line in page for kind, working in KINDS for line in working.splitlines())


def test_the_file_on_the_page_is_read_whole_and_holds() -> None:
    check = check_text(A_FILE)

    assert check.outcome == "unbroken"
    assert [(s.name, s.unit) for s in check.document.symbols] == [("m", "kg"), ("k", "N/m"), ("x", "m")]
    assert [len(part) for part in (check.givens, check.goal, check.lines)] == [1, 1, 4]
    assert all(line in notation_page() for line in A_FILE.splitlines())
