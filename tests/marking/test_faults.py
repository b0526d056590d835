"""One bad file costs nothing but itself: it comes back for a person, and every other working is marked."""

import csv
import errno
import io
import os

import pytest

from derive.marking import pool, working
from derive.marking.batch import SHEET, Asked, mark_class
from derive.marking.pool import Entry, Limits, marked_files
from derive.marking.scheme import read_scheme
from tests.marking.made import folder_of, winch
from tests.marking.test_batch import RIGHT, Here
from tests.marking.workers import hang_grow_or_die

ODD = {
    "folder": lambda path: path.mkdir(),
    "broken link": lambda path: path.symlink_to("nowhere"),
    "link to itself": lambda path: path.symlink_to(path.name),
    "pipe that would be waited at": os.mkfifo,
    "binary": lambda path: path.write_bytes(bytes(range(256)) * 50),
    "empty": lambda path: path.write_bytes(b""),
    "no working": lambda path: path.write_text("Exercise: winch\n"),
    "fifty megabytes": lambda path: (path.write_bytes(b"Working:"), os.truncate(path, 50_000_000)),
    "one endless line": lambda path: path.write_text("Working:\n" + "a = (" * 40_000),
    "deep brackets": lambda path: path.write_text("Working:\na = " + "(" * 3000 + "1" + ")" * 3000),
    "tower of powers": lambda path: path.write_text("Working:\na = 9^9^9^9^9^9\n"),
    "markup": lambda path: path.write_text("Working:\n<script>alert(1)</script> = [bold]x\n"),
}


@pytest.mark.parametrize("what", ODD)
def test_an_odd_file_is_for_a_person_and_the_others_are_marked(tmp_path, what):
    folder = folder_of(tmp_path / "class", a=RIGHT, z=RIGHT.replace("g)", "g )"))
    ODD[what](folder / "m.txt")
    outcome = mark_class(winch(), Asked(folder, tmp_path / "out", engine=Here()))
    by_name = {w.name: w for w in outcome.sheet.workings}
    assert (by_name["a"].total, by_name["z"].total) == (5, 5)
    assert by_name["m"].flagged
    assert "Traceback" not in " ".join(by_name["m"].looks)
    page = (tmp_path / "out" / "pages" / "m.html").read_text()
    assert "<script" not in page


def test_a_file_without_permission_is_for_a_person(tmp_path):
    folder = folder_of(tmp_path / "class", a=RIGHT, z=RIGHT)
    (folder / "a.txt").chmod(0)
    marker = working.Marker(winch())
    assert not marker.file(str(folder / "z.txt"), "z", 10_000).flagged
    found = as_anybody(lambda: marker.file(str(folder / "a.txt"), "a", 10_000))
    assert found.flagged
    assert "You may not read" in found.looks[0]
    assert [p.open for p in found.points] == [True] * 4


def as_anybody(ask):
    """The answer without the rights of root, who may read everything."""
    mine = os.geteuid()
    try:
        if mine == 0:
            os.seteuid(65534)
        return ask()
    finally:
        os.seteuid(mine)


def test_a_file_that_cannot_be_opened_says_so_and_is_no_failure(tmp_path, monkeypatch):
    folder = folder_of(tmp_path / "class", a=RIGHT)
    monkeypatch.setattr("pathlib.Path.open", lambda *_: (_ for _ in ()).throw(PermissionError(errno.EACCES, "denied")))
    assert working.content(str(folder / "a.txt"), 10_000).code == "file.denied"


def test_a_name_that_could_be_a_formula_is_no_formula_in_the_sheet(tmp_path):
    folder = folder_of(tmp_path / "class", **{"=cmd()": RIGHT, "@x": RIGHT + "# -\n"})
    mark_class(winch(), Asked(folder, tmp_path / "out", engine=Here()))
    text = (tmp_path / "out" / SHEET).read_text(encoding="utf-8-sig")
    assert [row[0] for row in csv.reader(io.StringIO(text))][1:] == ["'=cmd()", "'@x"]


@pytest.mark.parametrize("when", ["fsync", "replace"])
def test_a_full_disk_stops_the_run_keeps_the_old_sheet_and_the_next_run_goes_on(tmp_path, monkeypatch, when):
    folder = folder_of(tmp_path / "class", a=RIGHT)
    mark_class(winch(), Asked(folder, tmp_path / "out", engine=Here()))
    before = (tmp_path / "out" / SHEET).read_bytes()
    folder_of(folder, b=RIGHT.replace("= R", "=R"))
    with monkeypatch.context() as patched:
        patched.setattr(os, when, lambda *_: (_ for _ in ()).throw(OSError(errno.ENOSPC, "No space left on device")))
        with pytest.raises(OSError, match="No space"):
            mark_class(winch(), Asked(folder, tmp_path / "out", engine=Here()))
    assert (tmp_path / "out" / SHEET).read_bytes() == before
    outcome = mark_class(winch(), Asked(folder, tmp_path / "out", engine=Here()))
    assert [w.total for w in outcome.sheet.workings] == [5, 5]


def test_a_file_that_hangs_grows_or_kills_its_worker_is_given_up_and_the_others_are_marked(tmp_path, monkeypatch):
    folder = folder_of(tmp_path / "class", a=RIGHT, hang=RIGHT, grow=RIGHT, die=RIGHT, z=RIGHT)
    monkeypatch.setattr(pool, "mark_one", hang_grow_or_die)
    entries = [Entry(p.stem, str(p)) for p in sorted(folder.iterdir())]
    exercise = winch()
    results = dict(marked_files(entries, exercise, read_scheme(exercise), Limits(seconds=8, workers=2)))
    by_name = {e.name: m for e, m in results.items()}
    assert {n: m.looks for n, m in by_name.items() if n in "az"} == {"a": (), "z": ()}
    assert "8 s" in by_name["hang"].looks[0]
    assert "twice" in by_name["die"].looks[0]
    assert "too much" in by_name["grow"].looks[0]
