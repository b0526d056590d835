"""Workings without givens: what their writer may bring in on the way, and what tampers with the lines above."""

from __future__ import annotations

from pathlib import Path

import pytest

from derive.check import check_text
from derive.records import Standing

GOOD = {Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.TAKEN, Standing.APPROXIMATES}

BREAK = "» "  # stands before the line at which a slipped working breaks


def pages(name: str) -> dict[str, str]:
    """Workings by what they are about, from a file in which each begins with `# ` and that."""
    blocks = (Path(__file__).parent / name).read_text(encoding="utf-8").rstrip().split("\n\n")
    return dict(block.removeprefix("# ").split("\n", 1) for block in blocks)


UNBROKEN, BROKEN = pages("quick_unbroken.txt"), pages("quick_broken.txt")


@pytest.mark.parametrize("name", UNBROKEN)
def test_what_nothing_above_settles_may_be_brought_in(name: str) -> None:
    check = check_text(UNBROKEN[name])

    assert {v.standing for line in check.lines for v in line.verdicts} <= GOOD, [
        (line.line.text.strip(), [v.code for v in line.verdicts]) for line in check.lines]


@pytest.mark.parametrize("name", BROKEN)
def test_what_the_lines_above_settle_may_not_be_changed(name: str) -> None:
    typed = BROKEN[name].splitlines()
    (number,) = (n for n, line in enumerate(typed, 1) if line.startswith(BREAK))

    assert check_text("\n".join(line[len(BREAK):] for line in typed)).first_break == number


def test_that_a_mass_is_not_nothing_is_said_once_and_is_no_condition() -> None:
    """Whoever writes m without a word means a mass, and who writes a root for a speed means that root."""
    lines = check_text("1/2 m v^2 = m g h\nv^2 = 2 g h\nv = sqrt(2gh)").lines

    assert [line.verdicts[0].condition for line in lines] == ["", "", ""]
    assert "v being positive" in lines[2].verdicts[0].premises
    assert any("m being positive" in p or "m being" in p for p in lines[1].verdicts[0].premises)


def test_no_state_with_a_negative_mass_is_shown_where_there_is_another() -> None:
    state = check_text("m1 u = m1 v + m2 w\nv = u + m2 w/m1").lines[1].verdicts[0].state

    assert state is not None
    assert all(complex(q.value).real > 0 for q in state.values if q.name.startswith("m"))


def test_values_put_in_are_said_to_have_been_given_nowhere() -> None:
    """The report names what the line was taken for, and which number stands for which name."""
    first = check_text("v = u + 6 t = 4 + 6*5 = 34").lines[0].verdicts

    taken = [dict(v.facts)["values"] for v in first if v.code == "taken.put_in"]
    assert taken == ["u = 4, t = 5"]
