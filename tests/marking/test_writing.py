"""Outputs are whole or absent, and no cell of a sheet acts as a formula."""

import csv
import errno
import io
import os

import pytest

from derive.marking.writing import cell_text, csv_text, file_name, safe_cell, sweep, write_whole

FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "\ufeff=1", "＝1", "|x", "%x", "'=1"]


@pytest.mark.parametrize("text", FORMULAS)
def test_a_cell_that_a_spreadsheet_might_compute_begins_with_an_apostrophe(text):
    assert safe_cell(text).startswith("'")


@pytest.mark.parametrize("text", ["", "s014", "T = 2π/ω", "a-b", "3.5", "it's"])
def test_an_ordinary_cell_is_left_as_it_is(text):
    assert safe_cell(text) == text
    assert cell_text(text) == text


def test_a_cell_is_read_back_as_it_was():
    for text in ("=1+1", "'quoted", "plain", "-x"):
        assert cell_text(safe_cell(text)) == text


def test_quotes_commas_and_line_ends_stay_in_their_cell():
    (row,) = csv.reader(io.StringIO(csv_text([['a"b', "c,d", "e\nf", 3]])))
    assert row == ['a"b', "c,d", "e f", "3"]


def test_a_file_is_replaced_whole_and_nothing_else_is_left(tmp_path):
    path = tmp_path / "deep" / "sheet.csv"
    write_whole(path, "one")
    write_whole(path, "two")
    assert path.read_text() == "two"
    assert os.listdir(path.parent) == ["sheet.csv"]


@pytest.mark.parametrize("broken", ["fsync", "replace"])
def test_when_the_disk_is_full_the_old_file_stays_and_no_part_is_left(tmp_path, monkeypatch, broken):
    path = tmp_path / "sheet.csv"
    write_whole(path, "old")

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, broken, full)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, "new")
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["sheet.csv"]


def test_parts_left_by_a_killed_run_are_swept_away(tmp_path):
    (tmp_path / ".writing-abc.part").write_text("half")
    (tmp_path / "kept.txt").write_text("whole")
    sweep(tmp_path)
    assert os.listdir(tmp_path) == ["kept.txt"]


def test_names_of_workings_make_different_files_and_never_leave_the_folder():
    names = ["s1", "../s1", "/s1", ".s1", "x" * 400, "x" * 401, "a/b", "a_b", "\udcff", "s\0"]
    made = [file_name(n) for n in names]
    assert len(set(made)) == len(names)
    assert not any("/" in m or "\0" in m or m.startswith(".") or len(m.encode()) > 230 for m in made)
    assert made[0] == "s1"
