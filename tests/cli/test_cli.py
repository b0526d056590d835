"""The command line as a person meets it: what it prints, and the code it leaves with."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from derive.cli import main
from derive.report.structured import schema

RIGHT = "v = u + a t\ns = (u + v) t/2\nso s = u t + a t²/2\n"
WRONG = "v = u + a t\ns = (u + v) t/2\nso s = u t + a t²\n"


def run(*arguments: str, capsys) -> tuple[int, str, str]:
    """Run in this process; the interpreter and the engine are started once for all tests."""
    with pytest.raises(SystemExit) as left:
        main(list(arguments))
    out, err = capsys.readouterr()
    return left.value.code, out, err


def started(*arguments: str, **more) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([sys.executable, "-m", "derive.cli", *arguments], capture_output=True, timeout=180, **more)


@pytest.fixture
def right(tmp_path: Path) -> str:
    path = tmp_path / "right.txt"
    path.write_text(RIGHT, encoding="utf-8")
    return str(path)


@pytest.fixture
def wrong(tmp_path: Path) -> str:
    path = tmp_path / "wrong.txt"
    path.write_text(WRONG, encoding="utf-8")
    return str(path)


def test_an_unbroken_working_leaves_with_0(right, capsys):
    code, out, err = run("check", right, capsys=capsys)
    assert (code, err) == (0, "")
    assert "holds from its first line to its last" in " ".join(out.split())


def test_a_broken_working_leaves_with_1_and_names_the_line(wrong, capsys):
    code, out, _ = run("check", wrong, capsys=capsys)
    assert code == 1
    assert "breaks first at line 3" in " ".join(out.split())


def test_a_working_with_an_unreadable_line_leaves_with_2(tmp_path, capsys):
    path = tmp_path / "stops.txt"
    path.write_text("F = m a\nF = m (a +\n", encoding="utf-8")
    code, out, _ = run("check", str(path), capsys=capsys)
    assert code == 2
    assert "unreadable" in out


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda path: None, "no file"),
        (lambda path: path.mkdir(), "is a folder"),
        (lambda path: path.write_bytes(b""), "nothing in this file"),
        (lambda path: path.write_bytes(bytes(range(256)) * 40), "not a text file"),
        (lambda path: path.write_bytes(b"x = 1\n" * 900_000), "larger than"),
    ],
)
def test_a_file_that_cannot_be_read_leaves_with_3_and_says_what_to_do(make, says, tmp_path, capsys):
    path = tmp_path / "odd.txt"
    make(path)
    code, out, err = run("check", str(path), capsys=capsys)
    assert code == 3
    assert out == ""
    assert says in err
    assert "Traceback" not in err


def test_a_name_no_file_can_have_is_refused_in_words(capsys):
    code, _, err = run("check", "odd\0name", capsys=capsys)
    assert code == 3
    assert "␀" in err


def test_of_several_files_each_is_reported_and_the_code_is_that_of_the_worst(right, wrong, tmp_path, capsys):
    code, out, _ = run("check", right, wrong, capsys=capsys)
    assert code == 1
    assert "right.txt" in "".join(out.split())
    assert "wrong.txt" in "".join(out.split())
    code, out, err = run("check", str(tmp_path / "none.txt"), right, capsys=capsys)
    assert code == 3
    assert "none.txt" in err
    assert "right.txt" in "".join(out.split())


def test_json_fits_the_shipped_schema(wrong, capsys):
    code, out, _ = run("check", "--json", wrong, capsys=capsys)
    assert code == 1
    data = json.loads(out)
    jsonschema.Draft202012Validator(schema()).validate(data)
    assert data["first_break"] == 3


def test_json_of_several_files_is_one_object_a_line_even_for_a_missing_file(right, tmp_path, capsys):
    code, out, err = run("check", "--json", right, str(tmp_path / "none.txt"), capsys=capsys)
    assert (code, err) == (3, "")
    first, second = map(json.loads, out.splitlines())
    assert (first["outcome"], second["outcome"]) == ("unbroken", "unread")
    jsonschema.Draft202012Validator(schema()).validate(second)


def test_with_hint_place_the_state_that_shows_the_break_is_not_given(wrong, capsys):
    _, told, _ = run("check", wrong, capsys=capsys)
    _, kept, _ = run("check", "--hint", "place", wrong, capsys=capsys)
    assert "right side" in told
    assert "right side" not in kept
    assert "breaks first at line 3" in kept


def test_show_proof_says_how_a_line_was_proved(right, capsys):
    _, out, _ = run("check", "--show-proof", right, capsys=capsys)
    assert "How line 3 was proved" in out


def test_the_width_asked_for_is_kept(wrong, capsys):
    _, out, _ = run("check", "--width", "50", wrong, capsys=capsys)
    assert max(map(len, out.splitlines())) <= 50


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["check"], "name a file"),
        (["check", "--hint", "all", "x"], "place"),
        (["check", "--width", "3", "x"], "40"),
        (["chek", "x"], "chek"),
        (["check", "--colour", "x"], "--colour"),
    ],
)
def test_a_command_not_understood_leaves_with_64_and_points_to_help(arguments, says, capsys):
    code, out, err = run(*arguments, capsys=capsys)
    assert (code, out) == (64, "")
    assert says in err.lower()
    assert "--help" in err


def test_thence_alone_shows_its_help(capsys):
    code, out, _ = run(capsys=capsys)
    assert code == 64
    assert "thence check" in out


def test_help_tells_of_every_exit_code_and_gives_an_example(capsys):
    code, out, _ = run("check", "--help", capsys=capsys)
    assert code == 0
    for word in ("unbroken", "broken", "needs a person", "could not be read", "Example:", "standard input"):
        assert word in out


def test_notation_prints_a_page(capsys):
    code, out, _ = run("notation", capsys=capsys)
    assert code == 0
    assert len(out.splitlines()) > 30


# --- as started from a shell -----------------------------------------------------------------------------


def test_standard_input_is_read_for_a_dash():
    done = started("check", "-", input=WRONG.encode())
    assert done.returncode == 1
    assert b"\x1b" not in done.stdout
    assert done.stderr == b""


def test_a_terminal_without_greek_gets_escapes_rather_than_a_failure():
    environment = os.environ | {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = started("check", "-", input="ω = 2π/T\n".encode(), env=environment)
    assert done.returncode == 0
    assert b"\\u03c9 = 2\\u03c0/T" in done.stdout
    assert done.stderr == b""


def test_a_reader_that_leaves_early_causes_no_complaint(tmp_path):
    path = tmp_path / "long.txt"
    path.write_text("# a remark\n" * 9000 + RIGHT, encoding="utf-8")
    command = [sys.executable, "-m", "derive.cli", "check", str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.readline()
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(60) == 141


def test_being_interrupted_says_so_and_leaves_with_130():
    # A shell that starts the tests in the background has told all that they start to ignore interrupts.
    heeding = "import signal\nsignal.signal(signal.SIGINT, signal.default_int_handler)\n"
    script = heeding + "from derive.cli import main\nprint('begun', flush=True)\nmain(['check', '-'])"
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen([sys.executable, "-c", script], **pipes) as process:
        assert process.stdout.readline() == b"begun\n"
        with pytest.raises(subprocess.TimeoutExpired):
            process.wait(0.5)  # it loads the engine, or waits for its input
        process.send_signal(signal.SIGINT)
        assert process.wait(60) == 130
        assert process.stderr.read() == b"Stopped.\n"


def test_help_does_not_wait_for_the_algebra_to_load():
    script = (
        "import sys\nfrom derive.cli import main\n"
        "try:\n    main(['check', '--help'])\nexcept SystemExit:\n"
        "    sys.exit(bool({'sympy', 'numpy', 'lark', 'rich', 'derive.check'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", script], capture_output=True, timeout=60).returncode == 0
