"""The commands for markers and instructors as a person meets them."""

import csv
import io
import subprocess
import sys
from pathlib import Path

import pytest

from derive.cli import main
from derive.marking import cluster

ROOT = Path(__file__).parents[2]


def run(*arguments: str, capsys) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as left:
        main(list(arguments))
    out, err = capsys.readouterr()
    return left.value.code, out, err


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    """A small class, marked once by the command itself."""
    place = tmp_path_factory.mktemp("slipway")
    folder = place / "handed_in"
    folder.mkdir()
    for path in (ROOT / "exercises/slipway").glob("*.txt"):
        (folder / path.name).write_bytes(path.read_bytes())
    done = subprocess.run(
        [sys.executable, "-m", "derive.cli", "mark", "slipway", str(folder)], cwd=ROOT, capture_output=True, text=True,
        timeout=120)  # fmt: skip
    return done, place / "handed_in-marked"


def test_mark_writes_the_sheet_beside_the_folder_and_says_what_it_found(marked):
    done, into = marked
    assert done.stderr == ""
    assert "Workings of “A boat slides down a slipway” marked: 6." in done.stdout
    rows = list(csv.reader(io.StringIO((into / "mark_sheet.csv").read_text(encoding="utf-8-sig"))))
    assert [row[0] for row in rows[1:]] == ["energy", "hasty", "neat", "slip_function", "slip_one_term", "slip_sign"]
    assert {p.suffix for p in (into / "pages").iterdir()} == {".html", ".txt"}


def test_mark_leaves_with_2_where_somebody_has_to_look(marked):
    done, into = marked
    needs = "?" in (into / "mark_sheet.csv").read_text(encoding="utf-8")
    assert done.returncode == (2 if needs else 0)


def test_class_shows_the_figures_of_the_sheet_and_writes_a_page(marked, tmp_path, capsys):
    _, into = marked
    page = tmp_path / "class.html"
    code, out, err = run("class", str(into / "mark_sheet.csv"), "--pass", "4", "--usual", "20", "--html", str(page),
                         capsys=capsys)  # fmt: skip
    assert (code, err) == (0, "")
    assert "Below the pass line of 4 marks" in out
    assert "where 20 % is usual" in out
    assert "<svg" in page.read_text(encoding="utf-8")


def test_class_refuses_another_file_in_words(tmp_path, capsys):
    (tmp_path / "x.csv").write_text("a,b\n")
    code, _, err = run("class", str(tmp_path / "x.csv"), capsys=capsys)
    assert code == 64
    assert "is not a mark sheet" in err


@pytest.mark.parametrize("form", ["text", "html", "latex"])
def test_sheet_prints_the_students_part_and_no_more(form, capsys):
    code, out, _ = run("sheet", "slipway", "--form", form, capsys=capsys)
    assert code == 0
    assert "coefficient" in out or "friction" in out
    assert "Marks" not in out


def test_vet_leaves_with_0_where_nothing_is_to_mend_and_with_1_where_something_is(tmp_path, capsys):
    code, out, _ = run("vet", "slipway", "--no-slips", capsys=capsys)
    assert (code, "Nothing to mend." in out) == (0, True)
    broken = (ROOT / "exercises/slipway.txt").read_text(encoding="utf-8").replace("(p3)  M1   m a", "(p3)  M1   2 m a")
    (tmp_path / "odd.txt").write_text(broken, encoding="utf-8")
    code, out, _ = run("vet", str(tmp_path / "odd.txt"), "--no-slips", capsys=capsys)
    assert (code, "Point p3 is not met" in out) == (1, True)


@pytest.mark.parametrize("command", ["mark", "vet", "sheet"])
def test_an_exercise_that_is_not_there_is_named(command, tmp_path, capsys):
    more = [str(tmp_path)] if command == "mark" else []
    code, _, err = run(command, "slippway", *more, capsys=capsys)
    assert code == 64
    assert "slippway" in err


def test_a_scheduler_that_does_not_answer_is_named(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(cluster, "PATIENCE", 0.5)
    pytest.importorskip("distributed", reason="the extra “cluster” is not installed")
    (tmp_path / "class").mkdir()
    (tmp_path / "class" / "a.txt").write_text("N = m g cos θ\n", encoding="utf-8")
    code, _, err = run("mark", "slipway", str(tmp_path / "class"), "--scheduler", "tcp://127.0.0.1:9", capsys=capsys)
    assert code == 64
    assert "127.0.0.1:9" in err


def test_mark_that_cannot_write_says_so_and_leaves_with_3(tmp_path, capsys):
    (tmp_path / "class").mkdir()
    (tmp_path / "taken").write_text("a file where the folder should be")
    code, out, err = run("mark", "slipway", str(tmp_path / "class"), "--into", str(tmp_path / "taken" / "out"),
                         capsys=capsys)  # fmt: skip
    assert (code, out) == (3, "")
    assert "could not be read or written" in err
    assert "start the same command again" in err


def test_an_empty_folder_is_said_to_be_empty_and_no_mark_of_it_sure(tmp_path, capsys):
    (tmp_path / "class").mkdir()
    code, out, _ = run("mark", "slipway", str(tmp_path / "class"), capsys=capsys)
    assert code == 0
    assert "Nothing in the folder could be a working" in out
    assert "sure" not in out
