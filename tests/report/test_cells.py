"""Other people's text in columns of cells: cut, folded and made visible, with nothing lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from derive.report.cells import folded, glyphs_of, paragraph, visible, width_of


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("F = m a", "F = m a"),
        ("\x1b[31m", "␛[31m"),
        ("\x07\x00", "␇␀"),
        ("\x7f", "⟨U+007F⟩"),
        ("\x9b31m", "⟨U+009B⟩31m"),        # an escape of one letter
        ("\u202eabc", "⟨U+202E⟩abc"),      # would turn the reading direction
        ("a\u200bb", "a⟨U+200B⟩b"),        # would hide between letters
        ("a\nb", "a␊b"),
        ("a\tb", "a    b"),
        ("a\u00a0b", "a b"),
        ("e\u0301", "e\u0301"),
        ("\ud800", "⟨U+D800⟩"),
    ],
)
def test_what_could_move_the_cursor_or_hide_is_made_visible(typed, shown):
    assert visible(typed) == shown


def test_wide_letters_take_two_cells_and_accents_none():
    assert width_of("力") == 2
    assert width_of("x\u0302") == 1


def without_blanks(pieces):
    return "".join("".join(pieces).split())


@given(st.text(max_size=300), st.integers(20, 100))
def test_rows_never_pass_the_width_and_lose_nothing_but_blanks(text, width):
    rows = folded(glyphs_of(text), width)
    assert without_blanks(row.text for row in rows) == without_blanks(g.shown for g in glyphs_of(text))
    assert all(sum(g.width for g in row.glyphs) <= width for row in rows)


@given(st.text(st.characters(codec="utf-8"), max_size=200), st.integers(20, 60))
def test_paragraphs_hold_no_control_characters(text, width):
    assert all(c.isprintable() for row in paragraph(text, width) for c in row)


def test_a_typed_stretch_is_found_again_in_the_cells_of_a_row():
    (row,) = folded(glyphs_of("力 = \tm a"), 80)
    assert row.stretch(5, 6) == (9, 10)


def test_a_row_is_cut_where_the_writer_left_a_gap():
    rows = folded(glyphs_of("y'' = -(k/m) y                  [divide by the mass]"), 40)
    assert [row.text.rstrip() for row in rows] == ["y'' = -(k/m) y", "[divide by the mass]"]


def test_an_accent_at_the_start_of_a_line_sits_on_a_ring_of_its_own():
    assert glyphs_of("\u0301x")[0].shown == "◌\u0301"
