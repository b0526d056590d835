"""A check on the screen: the kept reports, every width, and nothing in a file that acts."""

import io
from pathlib import Path

import pytest
from rich.cells import cell_len
from rich.console import Console

from derive.check import check_text
from derive.records import Standing
from derive.report.account import closing
from derive.report.teaching import taught
from derive.report.terminal import SIGNS, render, report_rows
from tests.golden import check_against
from tests.report import samples

GOLDEN = Path(__file__).parent / "golden"


def printed(check, width=80, grade="kind", **more):
    out = io.StringIO()
    render(check, Console(file=out, width=width, legacy_windows=False, _environ={}, **more), grade)
    return out.getvalue()


@pytest.mark.parametrize("name", samples.ALL)
def test_a_report_in_80_columns_is_the_one_kept(name):
    check_against(GOLDEN / f"{name}.txt", printed(samples.ALL[name]))


def test_a_narrow_report_is_the_one_kept():
    check_against(GOLDEN / "broken_in_48_columns.txt", printed(samples.BROKEN, width=48))


def test_with_help_kept_to_the_place_the_report_is_the_one_kept():
    check_against(GOLDEN / "broken_place_only.txt", printed(samples.BROKEN, grade="place"))


@pytest.mark.parametrize("name", samples.ALL)
@pytest.mark.parametrize("width", [40, 57, 80, 132])
def test_no_row_is_wider_than_the_screen(name, width):
    assert all(cell_len(row.plain) <= width for row in report_rows(samples.ALL[name], width))


@pytest.mark.parametrize("name", samples.ALL)
def test_colour_adds_nothing_that_words_do_not_say(name):
    coloured = printed(samples.ALL[name], force_terminal=True, color_system="truecolor")
    plain = printed(samples.ALL[name])
    assert "\x1b[" in coloured
    assert "\x1b[" not in plain
    out = io.StringIO()
    without = Console(file=out, width=80, force_terminal=True, color_system="truecolor", _environ={"NO_COLOR": "1"})
    render(samples.ALL[name], without)
    assert "\x1b[31" not in out.getvalue()


def test_nothing_in_a_file_acts_as_markup_or_as_a_terminal_command():
    text = printed(samples.HOSTILE)
    assert not [c for c in text if ord(c) < 32 and c != "\n"]
    assert "\u202e" not in text
    assert "[link=file:///x]y[/link]" in text
    assert "␛]0;title␇" in text


def test_a_line_of_thousands_of_letters_says_how_much_of_it_is_not_shown():
    assert "(7765 more characters)" in " ".join(printed(samples.HOSTILE).split())


def test_every_standing_has_a_sign_of_one_cell_and_no_two_share_one():
    assert set(SIGNS) == set(Standing)
    assert len(set(SIGNS.values())) == len(SIGNS)
    assert {cell_len(sign) for sign in SIGNS.values()} == {1}


def test_the_reference_solution_is_never_printed():
    for check in samples.ALL.values():
        for grade in ("place", "kind", "edit"):
            assert samples.SECRET not in printed(check, grade=grade)


@pytest.mark.parametrize("name", samples.ALL)
def test_every_report_ends_by_saying_who_stands_above_it(name):
    ending = " ".join(printed(samples.ALL[name]).split())
    assert ending.endswith(closing())


def test_the_statement_that_breaks_is_told_apart_from_the_others_on_its_line():
    rows = printed(samples.SEVERAL_ON_A_LINE).splitlines()
    assert any("does not follow" in row and row.endswith("y'' = -(g/d) y") for row in rows)
    assert any("follows" in row and row.endswith("m = ρ A d") for row in rows)


def test_the_place_where_reading_stopped_is_marked_under_the_line_even_at_its_very_end():
    rows = printed(samples.UNSURE).splitlines()
    at = next(i for i, row in enumerate(rows) if row.endswith("F = m w a"))
    assert rows[at + 1].index("‾") == rows[at].index("w")
    at = next(i for i, row in enumerate(rows) if row.endswith("F = m a +"))
    assert rows[at + 1].rstrip().endswith("‾")
    assert len(rows[at + 1].rstrip()) > len(rows[at])


def test_a_quoted_line_keeps_its_closing_bracket():
    assert "“T = m (a - g)”" in taught_page("T - m g = m a\nT = m (a - g)\n")


def test_where_the_finding_names_the_factor_nothing_more_is_said_of_slips():
    page = taught_page("k = 25 N/m\nm = 250 g\nω = sqrt(k/m)\nω = 0.316 rad/s\n")

    assert "factor of √1000" in page
    assert "No single small slip" not in page


def taught_page(text):
    check = check_text(text)
    out = io.StringIO()
    console = Console(file=out, width=200, legacy_windows=False, _environ={})
    render(check, console, "kind", taught(check, "kind"))
    return out.getvalue()


def test_what_another_situation_begins_with_is_named_among_what_the_working_rests_on():
    page = "N sin θ = m v²/R\nN cos θ = m g\nv² = R g tan θ\nnow with friction: N sin θ + f cos θ = m v²/R"
    assert "Another situation is begun: line 4." in printed(check_text(page))
