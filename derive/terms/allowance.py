"""How long one line may take, as a last resort.

Every stage has bounds of its own that an ordinary line never meets; a line made to hurt may still pass under all
of them a thousand times. Whoever opens an allowance says how many seconds of computing may be spent inside it,
and the loops that all work goes through look at it. Time of the thread, not of the wall: a busy machine must not
change an answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from math import inf
from time import thread_time


class TooLarge(Exception):
    """A term with more distinct parts than a line of mathematics can need."""


class Spent(TooLarge):
    """The allowance is used up: whatever else was to be tried here is too much."""


_until: ContextVar[float] = ContextVar("_until", default=inf)


@contextmanager
def allowance(seconds: float) -> Iterator[None]:
    """Let what is done inside take so many seconds; never longer than what is open around it allows."""
    before = _until.set(min(_until.get(), thread_time() + seconds))
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
    until = _until.get()
    return until is not inf and thread_time() > until
