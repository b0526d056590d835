"""What a student gets: all of the exercise but its solution and marks, in three forms."""

import re
import shutil
import subprocess
from html.parser import HTMLParser

import pytest

from derive.marking.sheet import hand_out, sheet_html, sheet_latex, sheet_text
from derive.text.document import read_document
from derive.text.exercise_files import shipped_folder
from tests.marking.made import WINCH, shipped, winch

FORMS = (sheet_text, sheet_html, sheet_latex)
NAMES = sorted(p.stem for p in shipped_folder().glob("*.txt") if (shipped_folder() / p.stem).is_dir())
HOSTILE = WINCH.replace("The skip's speed is v", r"<script>x</script> \input{secret} $ % & # _ ~ ^ {")


@pytest.mark.parametrize("form", FORMS)
def test_nothing_of_the_solution_or_the_marks_is_in_the_sheet(form):
    text = WINCH.replace("[from (c)]", "[secret]").replace("B1   F = m (a + g)", "B1   F = m (a + g + 0 m/s^2)")
    made = form(hand_out(read_document(text, "w")))
    assert not re.search(r"secret|\bp1\b|\bB1\b|Marks|Solution", made)
    assert "winch" in made


@pytest.mark.parametrize("form", FORMS)
def test_statement_symbols_givens_and_goal_are_all_there(form):
    made = form(hand_out(winch()))
    for piece in ("drum of radius", "pull of the rope", "Given", "To show", "rad/s"):
        assert piece in made


@pytest.mark.parametrize("name", NAMES)
def test_brackets_and_environments_of_the_latex_source_close(name):
    made = sheet_latex(hand_out(shipped(name)))
    opened = [m[1] for m in re.finditer(r"\\begin\{(\w+)\}", made)]
    assert sorted(opened) == sorted(m[1] for m in re.finditer(r"\\end\{(\w+)\}", made))
    plain = re.sub(r"\\[{}\\]", "", made)
    assert plain.count("{") == plain.count("}")
    assert re.sub(r"\\\$", "", made).count("$") % 2 == 0
    assert [c for c in made if ord(c) > 0x17F] == []


@pytest.mark.skipif(shutil.which("pdflatex") is None, reason="no LaTeX is installed here")
def test_the_latex_source_compiles(tmp_path):
    exercises = [*map(shipped, NAMES[::7]), read_document(HOSTILE, "w")]
    for k, exercise in enumerate(exercises):
        (tmp_path / f"s{k}.tex").write_text(sheet_latex(hand_out(exercise)), encoding="utf-8")
        command = ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "-no-shell-escape", f"s{k}.tex"]
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, timeout=60)
        assert done.returncode == 0, done.stdout[-1500:]


class Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.seen = []

    def handle_starttag(self, tag, attrs):
        self.seen.append((tag, dict(attrs)))


def test_the_page_holds_no_script_and_asks_for_nothing_from_outside():
    tags = Tags()
    tags.feed(sheet_html(hand_out(read_document(HOSTILE, "w"))))
    assert "script" not in [t for t, _ in tags.seen]
    assert not [a for _, attrs in tags.seen for a in attrs if a in ("src", "href")]
    assert ("html", {"lang": "en"}) in tags.seen
    assert [t for t, _ in tags.seen if t == "math"]
