"""Pieces of a line quoted back to its writer keep their brackets."""

from __future__ import annotations

import pytest

from derive.notation.printed.quoting import with_its_brackets
from derive.notation.tree import Span


@pytest.mark.parametrize(("typed", "start", "end", "quoted"), [
    ("T = m(a - g)", 0, 11, "T = m(a - g)"),
    ("(m + M) a = F", 1, 9, "(m + M) a"),
    ("a = (u² - v²)/(2 s)", 5, 18, "(u² - v²)/(2 s)"),
    ("v = 3", 0, 5, "v = 3"),
    ("x = ((a + b)", 0, 11, "x = ((a + b)"),
])
def test_a_bracket_is_followed_to_its_fellow(typed: str, start: int, end: int, quoted: str) -> None:
    assert with_its_brackets(Span(start, end), typed) == quoted
