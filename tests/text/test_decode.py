"""Every encoding that an editor writes is read; what is not text is refused with a way out."""

import codecs
import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from derive.records import Document, Problem
from derive.text.decode import LARGEST_FILE, MOST_LINES, decode, split_lines
from derive.text.document import read_document

TEXT = "Working:\n  (1)  m ÿ = −k y  — the ferry’s law\n  θ ≈ sin θ\n"
LATIN = "Working:\r\nv² = u² + 2 a s   – the ferry’s law, 30°\r\n"


@pytest.mark.parametrize(("data", "text"), [
    (TEXT.encode("utf-8"), TEXT),
    (TEXT.encode("utf-8-sig"), TEXT),
    (TEXT.encode("utf-16"), TEXT),
    (codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"), TEXT),
    (LATIN.encode("utf-16-le"), LATIN),
    (LATIN.encode("utf-16-be"), LATIN),
    (TEXT.encode("utf-32"), TEXT),
    (LATIN.encode("cp1252"), LATIN),
    (TEXT, TEXT),
    ("\ufeff" + TEXT, TEXT),
], ids=["utf-8", "utf-8 mark", "utf-16 mark", "utf-16 big mark", "utf-16 little", "utf-16 big", "utf-32", "cp1252",
        "text", "text with mark"])
def test_a_text_in_any_editors_encoding_is_read(data, text):
    assert decode(data) == text


@pytest.mark.parametrize(("data", "code"), [
    (b"", "file.empty"), (b" \r\n\t\n", "file.empty"), ("", "file.empty"), (codecs.BOM_UTF8, "file.empty"),
    (bytes(range(256)) * 8, "file.binary"), (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "file.binary"),
    (b"F = m a\x00", "file.binary"), (codecs.BOM_UTF16_LE + b"\x00\xd8\x41", "file.encoding"),
    (b"v = 3 \x81\x8d\x8f", "file.encoding"), (b"x" * (LARGEST_FILE + 1), "file.too_big"),
])
def test_what_cannot_be_read_is_a_problem_that_says_what_to_do(data, code):
    found = decode(data)

    assert isinstance(found, Problem)
    assert found.code == code
    assert len(found.message.split()) > 5


def test_the_limit_on_size_is_said_in_the_message():
    found = decode(b"x" * (LARGEST_FILE + 1))

    assert isinstance(found, Problem)
    assert "5 MB" in found.message


def test_half_a_surrogate_pair_in_given_text_is_replaced_so_that_it_can_be_printed():
    decode("F = m a \ud800").encode("utf-8")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\u2028", "\x85"])
def test_lines_end_as_any_system_ends_them(end):
    lines, problems = split_lines(end.join(["a = b", "", "b = c", ""]))

    assert lines == ["a = b", "", "b = c"]
    assert problems == []


def test_a_form_feed_or_vertical_tab_ends_no_line():
    assert split_lines("a\x0c= b\x0bc")[0] == ["a\x0c= b\x0bc"]


def test_lines_beyond_the_limit_are_reported_and_not_silently_dropped():
    lines, problems = split_lines("x = 1\n" * (MOST_LINES + 5))

    assert len(lines) == MOST_LINES
    assert [(p.code, p.line) for p in problems] == [("file.too_long", MOST_LINES + 1)]
    assert "10 000" in problems[0].message


@given(st.binary(max_size=400))
@settings(max_examples=400, deadline=None)
def test_no_bytes_make_the_reading_of_a_file_raise(data):
    assert isinstance(read_document(data, "x.txt"), Document)


@pytest.mark.parametrize("size", [1_000, 100_000])
def test_random_bytes_of_any_size_are_answered(size):
    assert isinstance(read_document(os.urandom(size), "x.txt"), Document)
