"""Lines made to hurt, in a process with little memory: each is answered, and the lines around it are still checked."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from derive.messages import sentence

from .lines import AFTER, BEFORE, LINES, page

ROOT = Path(__file__).parents[2]
SECONDS, MEGABYTES = 8.0, 400  # some three times what the worst of them takes on an idle machine

Answer = dict[str, Any]


@pytest.fixture(scope="module")
def answers() -> list[Answer]:
    """What was said of each page, as far as the process came."""
    asked = json.dumps([page(line) for _, line, _ in LINES])
    done = subprocess.run(
        [sys.executable, "-m", "tests.hostile.confined"], input=asked, capture_output=True, text=True, cwd=ROOT,
        timeout=400, check=False)
    assert done.stderr == ""
    return [json.loads(row) for row in done.stdout.splitlines()]


@pytest.fixture
def answer(request: pytest.FixtureRequest, answers: list[Answer]) -> Answer:
    place = [name for name, _, _ in LINES].index(request.param)
    assert place < len(answers), "the process did not live to see it"
    return answers[place]


every_line = pytest.mark.parametrize("answer", [name for name, _, _ in LINES], indirect=True)


def hurtful(found: list[list[str]]) -> list[list[str]]:
    """What stands between the lines of the ordinary working."""
    return found[len(BEFORE):-len(AFTER)]


@pytest.mark.parametrize(("answer", "allowed"), [(name, may) for name, _, may in LINES], indirect=["answer"],
                         ids=[name for name, _, _ in LINES])  # fmt: skip
def test_a_hostile_line_gets_a_verdict_that_is_true_of_it(answer: Answer, allowed: tuple[Any, ...]) -> None:
    said = {standing for line in hurtful(answer["lines"]) for standing in line}

    assert said
    assert said <= {standing.value for standing in allowed}, answer["codes"]


@every_line
def test_the_lines_around_a_hostile_one_are_checked_as_if_it_were_not_there(answer: Answer) -> None:
    assert answer["lines"][0] == ["taken"]
    assert answer["lines"][-2:] == [["follows"], ["does not follow"]]


@every_line
def test_a_hostile_line_is_answered_soon_and_in_little_memory(answer: Answer) -> None:
    assert answer["seconds"] < SECONDS
    assert answer["peak"] < MEGABYTES


@every_line
def test_nothing_of_a_hostile_line_reaches_the_screen_or_the_json_as_a_control(answer: Answer) -> None:
    assert not [c for c in answer["report"] if not c.isprintable() and c not in "\n\u0301"]
    assert answer["json"].isascii()
    assert answer["json"].isprintable()


@every_line
def test_what_is_said_of_a_hostile_line_is_a_whole_sentence(answer: Answer) -> None:
    undecided = {c for codes, said in zip(answer["codes"], answer["lines"], strict=True)
                 for c, s in zip(codes, said, strict=True) if s == "undecided"}  # fmt: skip
    shown = " ".join(answer["report"].split())

    assert all(sentence(code, ()) in shown for code in undecided)


def test_markup_stays_the_brackets_that_were_typed(answers: list[Answer]) -> None:
    place = [name for name, _, _ in LINES].index("markup")

    assert "[red]y[/red]" in answers[place]["report"]
