"""A deadline that loops look at, since nothing here may be interrupted from outside."""

from __future__ import annotations

from time import monotonic


class OutOfTime(Exception):
    """The budget of a proof is spent."""


class Clock:
    """Runs out after some seconds; `check` raises then."""

    def __init__(self, seconds: float) -> None:
        self.until = monotonic() + seconds

    def check(self) -> None:
        if monotonic() > self.until:
            raise OutOfTime
