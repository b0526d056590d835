"""The comparison with kept reports fails where it should, and rewrites them only when asked to."""

from pathlib import Path

import pytest

from tests.golden import SWITCH, check_against


def test_a_report_that_differs_from_its_file_fails_and_leaves_the_file_alone(tmp_path: Path, monkeypatch):
    monkeypatch.delenv(SWITCH, raising=False)
    kept = tmp_path / "kept.txt"
    kept.write_text("as it was", encoding="utf-8")
    with pytest.raises(AssertionError):
        check_against(kept, "as it is now")
    assert kept.read_text(encoding="utf-8") == "as it was"


def test_a_report_without_a_file_fails(tmp_path: Path, monkeypatch):
    monkeypatch.delenv(SWITCH, raising=False)
    with pytest.raises(AssertionError, match="not there yet"):
        check_against(tmp_path / "new.txt", "anything")


def test_the_switch_rewrites_the_file(tmp_path: Path, monkeypatch):
    monkeypatch.setenv(SWITCH, "1")
    kept = tmp_path / "deep" / "kept.txt"
    check_against(kept, "as it is now")
    monkeypatch.delenv(SWITCH)
    check_against(kept, "as it is now")
