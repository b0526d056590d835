"""Whole pages as students type them, without a declaration: what is found of every line.

Each page in `pages.txt` says before every line what it is to be found to be, decided by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.workings import lines, word

BLOCKS = (Path(__file__).parent / "pages.txt").read_text(encoding="utf-8").strip().split("\n\n")
PAGES = {head.removeprefix("# "): rest for head, *rest in (block.split("\n") for block in BLOCKS)}


@pytest.mark.parametrize("name", PAGES)
def test_every_line_of_a_page_is_found_to_be_what_it_is(name: str) -> None:
    expected = [tuple(part.strip() for part in row.split("|", 1)) for row in PAGES[name]]

    found = [(word(x), x.line.text.strip()) for x in lines("\n".join(typed for _, typed in expected))]

    assert found == expected
