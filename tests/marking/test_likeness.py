"""Workings that begin alike stand next to each other, and a worker has a stretch of neighbours."""

from derive.marking.likeness import likeness
from derive.marking.pool import Entry, _stretches

NEAT = b"Working:\n(1)  a = R w'      [from (a)]\n(2)  so F = m (a + g)\n"


def test_labels_reasons_spacing_greek_and_opening_words_make_no_difference():
    other = "Working:\n1. a=R*w'\n\nhence F  =  m·(a + g)   -- from (c)\n".encode()
    assert likeness(NEAT) == likeness(other) == ("a=Rw'", "F=m(a+g)")
    assert likeness("Working:\nω = 2π/T\n".encode()) == likeness(b"Working:\nomega = 2 pi/T\n")


def test_what_is_said_does_make_one():
    assert likeness(NEAT) != likeness(NEAT.replace(b"+ g", b"- g"))


def test_whatever_a_file_holds_it_is_looked_at_briefly_and_never_raises():
    for data in (b"", b"\x00\xff" * 500, bytes(range(256)), b"Working:\na = (" * 200_000):
        assert len(likeness(data)) <= 40


def test_the_stretches_hold_every_file_once_in_order_and_differ_by_one_at_most():
    for size in range(1, 12):
        entries = [Entry(str(k), "") for k in range(size)]
        for workers in range(1, 6):
            parts = _stretches(entries, workers)
            assert [e for part in parts for e in part] == entries
            assert max(map(len, parts)) - min(map(len, parts)) <= 1
