"""How long one line may take, as a last resort.

Every stage has bounds of its own that an ordinary line never meets; a line made to hurt may still pass under all
of them a thousand times. Whoever opens an allowance says how many seconds of computing may be spent inside it,
and the loops that all work goes through look at it. Time of the thread, not of the wall: a busy machine must not
change an answer. But no thread has worked longer than the wall shows, and that is told without asking the system.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from math import inf
from time import perf_counter, thread_time
from typing import NamedTuple


class TooLarge(Exception):
    """A term with more distinct parts than a line of mathematics can need."""


class Spent(TooLarge):
    """The allowance is used up: whatever else was to be tried here is too much."""


class Deadline(NamedTuple):
    """When some seconds of computing are over: not before the wall shows the first, then as the thread's time says."""

    wall: float
    thread: float

    @staticmethod
    def in_seconds(seconds: float) -> Deadline:
        return Deadline(perf_counter() + seconds, thread_time() + seconds)

    def is_past(self) -> bool:
        return perf_counter() > self.wall and thread_time() > self.thread


_NEVER = Deadline(inf, inf)
_until: ContextVar[Deadline] = ContextVar("_until", default=_NEVER)


@contextmanager
def allowance(seconds: float) -> Iterator[None]:
    """Let what is done inside take so many seconds; never longer than what is open around it allows."""
    around, own = _until.get(), Deadline.in_seconds(seconds)
    before = _until.set(own if own.thread < around.thread else around)
    try:
        yield
    finally:
        _until.reset(before)


def look() -> None:
    """Raise Spent where the allowance is used up."""
    if spent():
        raise Spent


def spent() -> bool:
    """Is the allowance used up already?"""
    return _until.get().is_past()
