"""A budget that loops look at, since nothing here may be interrupted from outside.

It is counted in steps of work, so that what is proved on one machine is proved on every other; time of the
thread is only the last guard, for the rare step that is much slower than the usual.
"""

from __future__ import annotations

from derive.terms.allowance import Deadline

# Measured over the step corpus on a slow core: a step takes a tenth of a millisecond, a proof that succeeds at
# most 640 of them. The guard is far enough away that a slow or busy machine does not meet it first.
_STEPS_A_SECOND = 8000
_GUARD = 8


class OutOfTime(Exception):
    """The budget of a proof is spent."""


class Clock:
    """Runs out after the work of some seconds; `check` raises then."""

    def __init__(self, seconds: float) -> None:
        self.left = int(seconds * _STEPS_A_SECOND)
        self.until = Deadline.in_seconds(seconds * _GUARD)

    def check(self) -> None:
        self.left -= 1
        if self.left < 0 or self.until.is_past():
            raise OutOfTime
