"""Every shipped working is worth what was found by hand, before it was marked by the program."""

from functools import lru_cache

import pytest

from derive.marking.working import Marker
from derive.text.exercise_files import shipped_folder
from tests.marking.demo import TRUTHS
from tests.marking.made import shipped
from tests.marking.test_sheet import NAMES
from tests.sampling import WHOLE

# Of each exercise one working, of the next one the next, by default; THENCE_ALL=1 takes them all.
FOLDER = shipped_folder()
assert FOLDER is not None


@lru_cache(maxsize=1)
def by_hand():
    """For each working its marks by point, `?` where a person should look, and the lines that meet them if known."""
    out = {}
    for row in (FOLDER / TRUTHS).read_text(encoding="utf-8").splitlines():
        path, *rest = row.split() or [""]
        if path and not path.startswith("#"):
            out[path] = (rest[1:], None) if rest[0] == "marks" else (None, rest)
    return out


def test_every_shipped_working_was_marked_by_hand():
    assert set(by_hand()) == {f"{p.parent.name}/{p.name}" for p in FOLDER.glob("*/*.txt")}


def paths_of(name):
    found = [path for path in by_hand() if path.startswith(f"{name}/")]
    return found if WHOLE else [found[NAMES.index(name) % len(found)]]


@pytest.mark.parametrize("name", NAMES)
def test_the_marks_are_those_found_by_hand(name):
    marker = Marker(shipped(name))
    most = [str(p.row.marks) for p in marker.scheme.points]
    got, wanted = {}, {}
    for path in paths_of(name):
        result = marker.text((FOLDER / path).read_bytes(), path)
        wanted[path] = by_hand()[path][0] or most
        got[path] = ["?" if p.open else str(p.marks) for p in result.points]
    assert got == wanted
