"""A folder marked as a whole: what is written, that it can be stopped and started again, and decisions that last."""

import csv
import io
import os
import signal
import subprocess
import sys
import time
from functools import lru_cache
from pathlib import Path

import pytest

from derive.loading import exercise_in
from derive.marking.batch import DECISIONS, LOOK, PAGES, SHEET, SLIPS, Asked, mark_class
from derive.marking.journal import FOLDER
from derive.marking.lists import changes
from derive.marking.pool import Limits
from derive.marking.records import from_text
from derive.marking.working import Marker
from derive.marking.writing import BYTE_ORDER_MARK
from tests.marking.made import WINCH, folder_of

RIGHT = "Working:\na = R w'\nF = m (a + g)\nF = m (R w' + g)\nP = m (R w' + g) R w\n"
SLIP = "Working:\na = R w'\nF = m (a - g)\nP = m (R w' - g) R w\n"
SAME_SLIP = "Working:\nlet c = a\na = R w'\nF + m g = m c\n"
UNREAD = "Working:\na = R w'\nF = = (\n"


marker_of = lru_cache(maxsize=4)(Marker)  # what it remembers spares these tests most of their time


class Here:
    """An engine that marks in this process, and counts what it was asked for."""

    def __init__(self, stop_after=None):
        self.asked, self.stop_after = [], stop_after

    def __call__(self, entries, exercise, scheme, limits):
        marker = marker_of(exercise)
        for k, e in enumerate(entries):
            if self.stop_after is not None and k == self.stop_after:
                raise KeyboardInterrupt
            self.asked.append(e.name)
            yield e, marker.file(e.path, e.name, limits.largest)


@pytest.fixture
def exercise(tmp_path):
    path = tmp_path / "winch.txt"
    path.write_text(WINCH, encoding="utf-8")
    return exercise_in(str(path))


@pytest.fixture
def folder(tmp_path):
    spaced = RIGHT.replace("a = R w'", "a=R*w'")
    return folder_of(tmp_path / "class", s1=RIGHT, s2=SLIP, s3=SAME_SLIP, s4=UNREAD, s5=spaced)


def asked(folder, engine=None, **more):
    return Asked(folder, folder.parent / "out", engine=engine or Here(), **more)


def rows(folder):
    text = (folder.parent / "out" / SHEET).read_bytes().decode("utf-8-sig")
    return {row[0]: row for row in csv.reader(io.StringIO(text))}


def test_the_sheet_has_a_row_a_working_a_column_a_point_and_open_marks_apart(exercise, folder):
    mark_class(exercise, asked(folder))
    sheet = rows(folder)
    assert sheet["working"][:6] == ["working", "p1 (M1)", "p2 (B1)", "p3 (A1 ft)", "p4 (A2 ft)", "total (of 5)"]
    assert sheet["s1"][1:7] == ["1", "1", "1", "2", "5", "0"]
    assert sheet["s2"][1:3] == ["1", "0"]
    assert sheet["s4"][1:7] == ["1", "?", "?", "?", "1", "4"]


def test_equal_slips_are_one_group_however_they_are_written(exercise, folder):
    outcome = mark_class(exercise, asked(folder))
    (group,) = [g for g in outcome.groups if len(g.members) > 1]
    assert [name for name, _ in group.members] == ["s2", "s3"]
    text = (folder.parent / "out" / SLIPS).read_text()
    assert text.count(f"slip {group.name}") == 1
    assert rows(folder)["s2"][9] == rows(folder)["s3"][9] == group.name


def test_workings_that_are_the_same_but_for_spacing_are_listed(exercise, folder):
    assert mark_class(exercise, asked(folder)).same == (("s1", "s5"),)
    assert "s1, s5" in (folder.parent / "out" / SLIPS).read_text()


def test_what_needs_a_person_is_listed_with_why(exercise, folder):
    mark_class(exercise, asked(folder))
    text = (folder.parent / "out" / LOOK).read_text()
    assert "s4" in text
    assert "F = = (" in text
    assert "s1" not in text


def test_every_working_has_a_page_and_a_text(exercise, folder):
    mark_class(exercise, asked(folder))
    names = sorted(os.listdir(folder.parent / "out" / PAGES))
    assert names == sorted(f"s{k}.{e}" for k in range(1, 6) for e in ("html", "txt"))


def test_a_decision_about_a_group_reaches_its_members_survives_and_what_changed_is_told(exercise, folder):
    group = next(g for g in mark_class(exercise, asked(folder)).groups if len(g.members) > 1)
    with (folder.parent / "out" / DECISIONS).open("a") as file:
        file.write(f"slip {group.name}: p2 = 1 -- only a sign\n")
    outcome = mark_class(exercise, asked(folder))
    assert sorted(c.split(":")[0] for c in outcome.changed) == ["s2", "s3"]
    assert all("p2 (B1) was 0, is 1; " in c for c in outcome.changed)
    assert all(c.endswith("decided was —, is p2 = 1: only a sign.") for c in outcome.changed)
    again = mark_class(exercise, asked(folder, afresh=True))
    assert again.changed == ()
    assert rows(folder)["s2"][2] == "1"


def test_workings_that_changed_alike_are_told_in_one_sentence_and_none_is_left_out():
    head = "working,p1 (M1),total (of 1)\r\n"
    before = BYTE_ORDER_MARK + head + "a,0,0\r\nb,0,0\r\nc,1,1\r\ngone,1,1\r\n"
    after = BYTE_ORDER_MARK + head + "a,1,1\r\nb,1,1\r\nc,0,0\r\nnew,1,1\r\n"
    assert changes(before, after) == (
        "gone is no longer in the folder.", "new is new.",
        "a, b: p1 (M1) was 0, is 1; total (of 1) was 0, is 1.",
        "c: p1 (M1) was 1, is 0; total (of 1) was 1, is 0.")
    assert changes(after, after) == changes("", after) == ()


def test_a_decision_still_holds_when_others_join_the_group_later(exercise, folder):
    group = next(g for g in mark_class(exercise, asked(folder)).groups if len(g.members) > 1)
    with (folder.parent / "out" / DECISIONS).open("a") as file:
        file.write("".join(f"slip {name}: p2 = 1 -- only a sign\n" for name in group.names[:1]))
    for k, line in enumerate(("m a = F + m g", "F/m = a - g", "a m - F = g m", "-g = F/m - a")):
        folder_of(folder, **{f"late{k}": f"Working:\na = R w'\n{line}\n"})
    mark_class(exercise, asked(folder))
    assert [rows(folder)[f"late{k}"][2] for k in range(4)] == ["1"] * 4


def test_marking_again_marks_only_what_is_new_and_again_marks_all(exercise, folder):
    mark_class(exercise, asked(folder))
    before = (folder.parent / "out" / SHEET).read_bytes()
    engine = Here()
    mark_class(exercise, asked(folder, engine))
    assert engine.asked == []
    assert (folder.parent / "out" / SHEET).read_bytes() == before
    (folder / "s2.txt").write_text(RIGHT, encoding="utf-8")
    mark_class(exercise, asked(folder, engine))
    assert engine.asked == []  # the same to the letter as s1
    mark_class(exercise, asked(folder, engine, afresh=True))
    assert "s1" in engine.asked


def test_a_change_to_the_exercise_marks_all_anew(exercise, folder, tmp_path):
    mark_class(exercise, asked(folder))
    (tmp_path / "winch.txt").write_text(WINCH.replace("M1   a", "M3   a"), encoding="utf-8")
    engine = Here()
    mark_class(exercise_in(str(tmp_path / "winch.txt")), asked(folder, engine))
    assert len(engine.asked) == 5
    assert rows(folder)["s1"][1] == "3"


def test_other_code_marks_all_anew(exercise, folder, monkeypatch):
    mark_class(exercise, asked(folder))
    monkeypatch.setattr("derive.marking.journal._code", lambda: "other")
    engine = Here()
    mark_class(exercise, asked(folder, engine))
    assert len(engine.asked) == 5


@pytest.mark.parametrize("stop_after", range(5))
def test_a_run_stopped_anywhere_goes_on_and_gives_the_same_sheet(exercise, folder, stop_after):
    with pytest.raises(KeyboardInterrupt):
        mark_class(exercise, asked(folder, Here(stop_after)))
    assert not (folder.parent / "out" / SHEET).exists()
    engine = Here()
    mark_class(exercise, asked(folder, engine))
    assert len(engine.asked) == 5 - stop_after
    resumed = (folder.parent / "out" / SHEET).read_bytes()
    mark_class(exercise, Asked(folder, folder.parent / "whole", engine=Here()))
    assert (folder.parent / "whole" / SHEET).read_bytes() == resumed


def test_a_record_of_an_earlier_run_that_is_not_whole_is_marked_anew(exercise, folder):
    mark_class(exercise, asked(folder))
    for path in (folder.parent / "out" / FOLDER).glob("*.json"):
        path.write_text(path.read_text()[:100])
    engine = Here()
    mark_class(exercise, asked(folder, engine))
    assert len(engine.asked) == 5
    assert from_text("{}") is None


def test_no_file_outside_the_sheet_or_page_of_a_working_speaks_of_the_others(exercise, folder):
    mark_class(exercise, asked(folder))
    page = (folder.parent / "out" / PAGES / "s1.html").read_text()
    assert not any(f">s{k}<" in page for k in (2, 3, 4))


def test_a_run_killed_outright_is_taken_up_again(exercise, folder, tmp_path):
    for k in range(5):
        folder_of(folder, **{f"x{k}": f"Working:\na = R w'\nF = {k + 2} m (a + g)\n"})
    command = [sys.executable, "-m", "derive.cli", "mark", str(tmp_path / "winch.txt"), str(folder), "--workers", "1"]
    root = Path(__file__).parents[2]
    running = subprocess.Popen(command, cwd=root, stdout=subprocess.DEVNULL, start_new_session=True)
    out = folder.parent / "class-marked"
    limit = time.monotonic() + 60
    while len(list(out.glob(f"{FOLDER}/*.json"))) < 2 and running.poll() is None and time.monotonic() < limit:
        time.sleep(0.02)
    os.killpg(running.pid, signal.SIGKILL)
    running.wait()
    assert not (out / SHEET).exists()
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, timeout=120)
    assert "kept from an earlier run" in done.stdout
    mark_class(exercise, asked(folder))
    assert (out / SHEET).read_bytes() == (folder.parent / "out" / SHEET).read_bytes()
    assert Limits().hands >= 1
