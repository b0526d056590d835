"""A made-up class of any size with marks that are known: for trying out marking, and for measuring it.

Built from the shipped workings whose worth `exercises/marked.txt` states, never from what marking finds. A working is
given another hand (see `demo_hands`). Some stop at a line into which a slip was put (see `demo_slips`), so that what is
met before it counts and nothing after it; a few hold a line that nobody can read.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from derive.text.exercise_files import shipped_folder
from tests.marking.demo_hands import in_another_hand
from tests.marking.demo_slips import can_slip, with_slip

TRUTHS = "marked.txt"
_BROKEN = 0.2  # share of the class that hands in one of the shipped workings with a slip
_UNREADABLE = ("??? see the sketch on the back = (", "so that = = then", "m ( y'' = - [ ρ", "= see ( above")


@dataclass(frozen=True, slots=True)
class Truth:
    """A shipped working: its lines, and for each point either the number of the line that meets it or its marks."""

    path: str
    lines: tuple[tuple[int, str], ...]
    met_at: tuple[int, ...] = ()
    marks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class DemoWorking:
    """A working of the class: its name, its text, its true marks by point (None where a line is unreadable)."""

    name: str
    text: str
    marks: tuple[int, ...] | None


def truths(exercise: str) -> tuple[Truth, ...]:
    """The shipped workings of an exercise whose worth is known."""
    folder = shipped_folder()
    assert folder is not None
    found = []
    for row in (folder / TRUTHS).read_text(encoding="utf-8").splitlines():
        words = row.split()
        if not words or words[0].startswith("#") or not words[0].startswith(f"{exercise}/") or "?" in words:
            continue
        lines = tuple(_working_lines((folder / words[0]).read_text(encoding="utf-8")))
        if words[1] == "marks":
            found.append(Truth(words[0], lines, marks=tuple(map(int, words[2:]))))
        else:
            found.append(Truth(words[0], lines, met_at=tuple(map(int, words[1:]))))
    return tuple(found)


def _working_lines(text: str) -> list[tuple[int, str]]:
    rows = list(enumerate(text.splitlines(), 1))
    start = next(k for k, row in rows if row.strip().casefold() == "working:")
    return [(k, row) for k, row in rows if k > start and row.strip()]


def demo_class(
    exercise: str, most: Sequence[int], size: int, seed: int, unreadable: float = 0.015
) -> list[DemoWorking]:
    """A class of `size` workings of a shipped exercise whose points are worth `most`, the same for the same seed."""
    rng = random.Random(f"{exercise} {seed}")
    bases = truths(exercise)
    # A working that meets the points in another order than the scheme's may lose, by a slip, what they need.
    ordered = [t for t in bases if t.met_at and list(t.met_at) == sorted(t.met_at)]
    right = [t for t in ordered if any(can_slip(row) for _, row in t.lines[1:])]
    spoiled = set(rng.sample(range(1, size + 1), int(size * unreadable)))
    return [_one(rng, bases, right, most, f"w{k:04d}", k in spoiled) for k in range(1, size + 1)]


def _one(
    rng: random.Random, bases: Sequence[Truth], right: Sequence[Truth], most: Sequence[int], name: str,
    spoiled: bool,
) -> DemoWorking:
    broken = [t for t in bases if t.marks and sum(t.marks) < sum(most)]
    truth = rng.choice(broken if broken and rng.random() < _BROKEN else [t for t in bases if t not in broken])
    lines = [row for _, row in truth.lines]
    if truth.marks:
        marks: tuple[int, ...] | None = truth.marks
    elif right and rng.random() < 0.45:
        truth = rng.choice(right)
        lines, marks = _slipped(rng, truth, most)
    else:
        marks = tuple(most)
    if spoiled:
        lines.insert(rng.randrange(len(lines) + 1), rng.choice(_UNREADABLE))
        marks = None
    return DemoWorking(name, in_another_hand(lines, rng), marks)


def _slipped(rng: random.Random, truth: Truth, most: Sequence[int]) -> tuple[list[str], tuple[int, ...]]:
    """The working up to a line with a slip in its last side; points met before that line, by another line, count."""
    places = [k for k, (_, row) in enumerate(truth.lines) if k and can_slip(row)]
    at = rng.choice(places)
    number, row = truth.lines[at]
    lines = [r for _, r in truth.lines[:at]] + [with_slip(row, rng)]
    return lines, tuple(m if met < number else 0 for m, met in zip(most, truth.met_at, strict=True))
