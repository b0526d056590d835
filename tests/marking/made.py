"""A small exercise of the harbour with a scheme, and its workings marked: shared by the tests of marking."""

from functools import lru_cache
from pathlib import Path

from derive.loading import exercise_in
from derive.marking.records import Marked
from derive.marking.working import Marker
from derive.records import Document
from derive.text.document import read_document
from derive.text.exercise_files import shipped_folder

WINCH = """\
Exercise: A winch on the quay

A winch with a drum of radius R hauls a skip of mass m up a shaft. The skip's speed is v, the drum turns at w.

Symbols:
  m    : kg, positive
  g    : m/s^2, positive
  R    : m, positive
  w(t) : rad/s
  v(t) : m/s
  a(t) : m/s^2
  F(t) : N             -- pull of the rope
  P(t) : W             -- power of the winch

Given:
  (a)  v = R w
  (b)  a = v'
  (c)  m a = F - m g
  (d)  P = F v

Show:
  P = m (R w' + g) R w

Solution:
  (1)  a = R w'                  [from (a) and (b)]
  (2)  F = m (a + g)             [from (c)]
  (3)  F = m (R w' + g)
  (4)  P = m (R w' + g) R w      [from (d)]

Marks:
  (p1)  M1   a = R w'
  (p2)  B1   F = m (a + g)   or   F - m a = m g
  (p3)  A1   F = m (R w' + g)   ft        -- needs p1
  (p4)  A2   P = m (R w' + g) R w   ft    -- needs p3
"""


def winch() -> Document:
    return read_document(WINCH, "winch.txt")


@lru_cache(maxsize=8)
def marker(text: str = WINCH) -> Marker:
    return Marker(read_document(text, "winch.txt"))


def marked(*lines: str, scheme: str = WINCH, name: str = "w") -> Marked:
    """The lines of a working, marked."""
    return marker(scheme).text("Working:\n" + "\n".join(lines) + "\n", name)


def marks(*lines: str, scheme: str = WINCH) -> tuple[object, ...]:
    """The marks of each point, `?` for one that is open."""
    return tuple("?" if p.open else p.marks for p in marked(*lines, scheme=scheme).points)


def shipped(name: str) -> Document:
    folder = shipped_folder()
    assert folder is not None
    found = exercise_in(str(folder / f"{name}.txt"))
    assert isinstance(found, Document)
    return found


def folder_of(path: Path, **workings: str) -> Path:
    path.mkdir(parents=True, exist_ok=True)
    for name, text in workings.items():
        (path / f"{name}.txt").write_text(text, encoding="utf-8")
    return path
