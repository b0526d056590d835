"""Every command in the README is run here and prints what the README says (`.ci/run` runs the two that install)."""

import io
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from derive.check import check_text
from tests.golden import SWITCH

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
BLOCK = re.compile(r"```console\n\$ ([^\n]+)\n(.*?)```\n", re.DOTALL)
BLOCKS = BLOCK.findall(README.read_text(encoding="utf-8"))


def printed(command: str, place: Path) -> str:
    """What the command prints in a place that holds the exercises and nothing else, with `thence` being the one under
    test."""
    command = re.sub(r"\bthence\b", f"{shlex.quote(sys.executable)} -m derive.cli", command)
    environment = os.environ | {"COLUMNS": "80", "NO_COLOR": "1", "PYTHONPATH": str(ROOT)}
    (place / "exercises").symlink_to(ROOT / "exercises")
    done = subprocess.run(
        ["bash", "-c", command], cwd=place, capture_output=True, text=True, timeout=300, env=environment
    )
    assert done.stderr == ""
    return done.stdout.removeprefix("\ufeff")  # of a mark sheet; no screen shows it


def settled(report: str) -> str:
    """A report without what a slow machine may leave undone in its time: whether a line is proved or tested."""
    margin = report.replace("follows, tested", "follows        ")
    return re.sub(r"  What this rests on\n.*?\n\n", "", margin, flags=re.DOTALL)


@pytest.mark.parametrize(("command", "shown"), BLOCKS, ids=[command for command, _ in BLOCKS])
def test_each_command_prints_what_the_readme_shows(command, shown, tmp_path):
    output = printed(command, tmp_path)
    if os.environ.get(SWITCH) == "1":
        text = README.read_text(encoding="utf-8")
        README.write_text(text.replace(f"$ {command}\n{shown}```", f"$ {command}\n{output}```"), encoding="utf-8")
        return
    assert settled(output) == settled(shown)


def test_no_thence_command_stands_outside_a_tested_block():
    text = BLOCK.sub("", README.read_text(encoding="utf-8"))
    assert re.findall(r"^\$ ", text, re.MULTILINE) == []


def test_the_working_written_out_in_the_readme_is_unbroken():
    (working,) = re.findall(r"```\n(Symbols:.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert check_text(working).outcome == "unbroken"


def test_the_install_commands_are_those_that_ci_runs():
    lines = [line for line in io.StringIO(README.read_text(encoding="utf-8")) if line.startswith("python3 -m venv")]
    assert len(lines) == 2
    assert "thence check exercises/" in lines[0]
    assert "pytest" in lines[1]
    assert "^python3 -m venv" in (ROOT / ".ci/run").read_text(encoding="utf-8")


def test_every_path_that_the_guide_for_developers_names_exists():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    paths = set(re.findall(r"(?<![\w./])((?:derive|tests|grammar|exercises|\.ci)/[\w./]*)", guide))
    assert len(paths) > 10
    assert [p for p in sorted(paths) if not (ROOT / p).exists()] == []
