"""The page of what can be typed: every example on it is read as promised."""

from __future__ import annotations

import pytest

from derive.notation import tree as n
from derive.notation.page import PARTS, notation_page
from tests.notation.trees import declared, dump, read

SCOPE = declared(
    "m a θ(t) T ω u k x(t) ρ A d g y(t) y_0 Y φ w ε s b c N μ h γ U(r) R L e q λ t0 x_0 v_max F_net Δp v' W M E v(t) B",
    "F r p", labels="1 2", previous=n.Name("W"),
)
EXAMPLES = [(part.title, row.what, typed) for part in PARTS for row in part.rows for typed in row.typed]
# What the rows are about, where a glance at the tree tells it.
KINDS = {
    "a new name": "let:", "a limit, a range": ("limit:", "range:"), "an approximation": "regime:",
    "by time": "(D", "by something else": ("(D", "(P"), "differentials": "(d ", "integral": "(∫", "evaluated": "([]",
    "root": "(sqrt", "work on labelled lines": "operation:", "at an instant or a place": ("at:", "(at"),
    "alternatives": (" or ", "(±"), "power": "(^", "going on from above": "…",
}


@pytest.mark.parametrize(("part", "what", "typed"), EXAMPLES)
def test_an_example_of_the_page_is_read_as_what_it_stands_for(part: str, what: str, typed: str) -> None:
    reading = read(typed, SCOPE)[0]
    expected = KINDS.get(what, "")

    assert reading.statements, part
    assert any(sign in dump(reading) for sign in ((expected,) if isinstance(expected, str) else expected))


def test_the_examples_of_one_row_of_relations_differ_and_of_one_name_agree() -> None:
    assert dump(read("x_0 = 0", SCOPE)[0]) == dump(read("x0 = 0", SCOPE)[0]) == dump(read("x₀ = 0", SCOPE)[0])
    assert dump(read("a ≤ b", SCOPE)[0]) == dump(read("a <= b", SCOPE)[0]) != dump(read("a < b", SCOPE)[0])


def test_the_page_shows_every_example_and_fits_eighty_columns() -> None:
    page = notation_page()

    assert all(typed in page for _, _, typed in EXAMPLES)
    assert max(map(len, page.splitlines())) <= 80
