"""Files made to hurt: each is answered within seconds, and says what was left out."""

import pytest

from derive.text.decode import MOST_LINES
from derive.text.document import read_document
from tests.effort import effort

HOSTILE = {
    "one line of five megabytes": "Working:\nx = " + "(" * 4_900_000,
    "thousands of labelled lines": "Working:\n" + "(1) F = m a [from (1)]\n" * 3000,
    "a hundred symbols with mistyped units":
        "Symbols:\n" + "".join(f"q_{i} : kgg, 0 < q_{i} < 3, about 3\n" for i in range(100)),
    "thousands of marks": "Marks:\n" + "".join(f"(p{i}) M1 x = {i} -- needs p{i + 5}, zz\n" for i in range(3000)),
    "thousands of headings": "Gven:\n" * 2000,
    "nothing but line ends": "\n" * 4_000_000,
    "long runs of spaces": "Working:\n" + (" " * 19_000 + "x\n") * 50,
    "nested brackets at the end": "Working:\n" + ("x " + "[a" * 6000 + "]" * 6000 + "\n") * 50,
    "labels upon labels": "Working:\n" + ("(1) " + " - (1" * 3000 + "\n") * 50,
    "names that are code": "Symbols:\n__import__('os') : kg\nWorking:\n[bold]x[/bold] = \x1b[31m3\n",
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_file_is_answered_with_bounded_effort(kind):
    found = []

    # With as many lines as are read, seconds in all; of rows with a unit to be guessed at, fewer are read.
    lines = min(HOSTILE[kind].count("\n"), MOST_LINES)
    calls = 40_000 if "units" in kind else 2000
    assert effort(lambda: found.append(read_document(HOSTILE[kind], "x.txt"))) < calls * (lines + 1)
    assert found[0].working or found[0].problems


def test_escapes_stay_what_was_typed_for_the_report_to_show_harmlessly():
    found = read_document(HOSTILE["names that are code"], "x.txt")

    assert found.working[0].text == "[bold]x[/bold] = \x1b[31m3"
    assert [p.code for p in found.problems] == ["symbols.no_name"]
