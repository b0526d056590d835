"""Feedback pages: whole, readable by everybody, and nothing in them but what was meant."""

import re
import shutil
import subprocess
from html.parser import HTMLParser

import pytest

from derive.marking.decisions import Applied
from derive.marking.feedback import page_of, text_of
from tests.marking.made import WINCH, marked, marker

BROWSER = next((b for b in ("chromium", "chromium-browser", "google-chrome") if shutil.which(b)), None)
HOSTILE = ("a = R w'", "<img src=x onerror=alert(1)> = {{ 7*7 }}", "F = m (a - g)  [<script>alert(2)</script>]")


class Page(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.tags, self.open, self.text = [], [], ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "br", "img", "link"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text += data


def page(*lines):
    result = marked(*lines, name="s<1>")
    return page_of(result, Applied(result.points, result.looks, ("Mind the <b>sign</b>.",)), "A winch & more", 5)


def test_every_element_closes_and_the_language_and_title_are_told():
    made = Page(page("a = R w'", "F = m (a - g)"))
    assert made.open == []
    assert ("html", {"lang": "en"}) in made.tags
    assert [t for t, _ in made.tags].count("title") == 1


def test_in_plain_text_every_line_has_the_name_by_which_the_page_speaks_of_it():
    def rows(*lines):
        result = marked(*lines)
        text = text_of(result, Applied(result.points, result.looks, ()), "A winch", 5)
        return [row.strip() for row in text.split("Line by line")[1].split("\n\n")[0].splitlines() if row.strip()]

    assert rows("a = R w'", "F = m (a - g)") == [
        "follows          line 2  a = R w'", "does not follow  line 3  F = m (a - g)"]
    assert rows("(1) a = R w'") == ["follows  (1) a = R w'"]


def test_what_is_wrong_in_the_exercise_is_not_told_to_those_who_work_it():
    scheme = WINCH.replace("R    : m, positive", "R    : m, positive, rather quite large")
    assert marker(scheme).exercise.problems
    assert "To mend in the file" not in [heading for heading, _ in marked("a = R w'", scheme=scheme).account]


def test_tables_have_captions_and_headings_for_a_screen_reader():
    made = Page(page("a = R w'", "F = m (a - g)"))
    names = [t for t, _ in made.tags]
    assert names.count("caption") == names.count("table") == 2
    assert all(a.get("scope") in ("col", "row") for t, a in made.tags if t == "th")
    assert names.index("h1") < names.index("h2")


def test_the_mathematics_is_shown_as_mathematics():
    assert [t for t, _ in Page(page("a = R w'")).tags].count("math") == 1


def test_nothing_typed_becomes_markup_and_nothing_is_fetched():
    made = Page(page(*HOSTILE))
    names = {t for t, _ in made.tags}
    assert not names & {"script", "img", "iframe", "link", "b"}
    assert not [a for _, attrs in made.tags for a in attrs if a in ("src", "href") or a.startswith("on")]
    assert "{{ 7*7 }}" in made.text
    assert "default-src 'none'" in page("a = R w'")


def test_the_plain_text_says_the_same_marks_and_whose_word_counts():
    result = marked("a = R w'", "F = m (a - g)")
    text = text_of(result, Applied(result.points, result.looks), "A winch", 5)
    assert "1 of 5 marks" in text
    assert "What the marker decides and the rules of the course stand above it" in " ".join(text.split())
    assert "does not follow" in text
    assert max(map(len, text.splitlines())) <= 100


def test_open_marks_are_shown_as_open():
    result = marked("a = R w'", "F = = (")
    assert "4 more that a person has yet to decide" in text_of(result, Applied(result.points, result.looks), "x", 5)


@pytest.mark.skipif(BROWSER is None, reason="no browser is installed here")
def test_a_browser_shows_the_page_without_complaint(tmp_path):
    path = tmp_path / "page.html"
    path.write_text(page(*HOSTILE), encoding="utf-8")
    done = subprocess.run(
        [BROWSER, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path}/profile",
         "--enable-logging=stderr", "--dump-dom", path.as_uri()],
        capture_output=True, text=True, timeout=90)  # fmt: skip
    assert re.search(r"<h1>A winch &amp; more</h1>", done.stdout)
    assert "<math" in done.stdout
    assert "<script" not in done.stdout
    assert "CONSOLE" not in done.stderr
