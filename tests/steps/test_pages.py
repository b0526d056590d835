"""Whole pages as students type them: what is found of every line.

Each page in `pages.txt` (without a declaration) and `declared_pages.txt` says before every line what it is to be found
to be, decided by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sampling import some
from tests.workings import lines, word

FILES = [Path(__file__).parent / name for name in ("pages.txt", "declared_pages.txt")]
BLOCKS = [block for file in FILES for block in file.read_text(encoding="utf-8").strip().split("\n\n")]
PAGES = {head.removeprefix("# "): rest for head, *rest in (block.split("\n") for block in BLOCKS)}


# Every third page by default; THENCE_ALL=1 takes them all.
@pytest.mark.parametrize("name", some(list(PAGES), 3))
def test_every_line_of_a_page_is_found_to_be_what_it_is(name: str) -> None:
    declared = [row for row in PAGES[name] if " | " not in row]
    expected = [tuple(part.strip() for part in row.split("|", 1)) for row in PAGES[name] if row not in declared]
    typed = [line for _, line in expected]

    text = "\n".join([*declared, "Working:", *typed] if declared else typed)
    found = [(word(x), x.line.text.strip()) for x in lines(text)]

    assert found == expected
