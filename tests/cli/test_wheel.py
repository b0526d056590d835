"""What ships: the built wheel, unpacked away from the checkout, holds everything the checkout has."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory) -> Path:
    place = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)],
        cwd=ROOT, check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    (wheel,) = place.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place / "unpacked")
    return place / "unpacked"


def test_grammars_exercises_and_the_schema_are_in_it(unpacked):
    for folder, inside in (("grammar", "grammar_files"), ("exercises", "exercise_files")):
        here = {p.relative_to(ROOT / folder) for p in (ROOT / folder).rglob("*") if p.is_file()}
        carried = unpacked / "derive" / inside
        there = {p.relative_to(carried) for p in carried.rglob("*") if p.is_file()}
        assert here
        assert here == there
    assert (unpacked / "derive/report/check.schema.json").exists()
    assert (unpacked / "derive/py.typed").exists()


def test_a_working_of_a_shipped_exercise_is_checked_from_the_wheel_alone(unpacked, tmp_path):
    script = (
        f"import sys; sys.path.insert(0, {str(unpacked)!r})\n"
        "import derive\nassert derive.__file__.startswith(sys.path[0]), derive.__file__\n"
        "from derive.cli import main\nmain(['check', '-'])"
    )
    working = (ROOT / "exercises/buoy/neat.txt").read_bytes()
    done = subprocess.run([sys.executable, "-c", script], input=working, capture_output=True, cwd=tmp_path, timeout=60)
    assert done.stderr == b""
    assert done.returncode == 0
