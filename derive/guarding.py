"""What is said of a line at which the program itself gives up: that it did, at that line alone, and the rest goes on.

A person's mistake is a value and never gets here. What does is work beyond its allowance, and defects of our own:
those are written to the log, for whoever mends them, and leave the line to a person instead of ending the check.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import TypeVar

import numpy as np

from derive.terms.allowance import TooLarge, allowance, spent

# Seconds of computing. The slowest lines of the corpus take a tenth of the first; a page of eighty such lines
# stays below the second.
LINE, PAGE = 3.0, 12.0

log = logging.getLogger("derive")

T = TypeVar("T")


def guarded(work: Callable[[], T], otherwise: Callable[[str], T], line: int) -> T:
    """What some work on a line gives; where it gives up, what `otherwise` makes of the code that says why."""
    if spent():
        return otherwise("undecided.page")
    try:
        with allowance(LINE), np.errstate(all="ignore"):  # a number too large is met as one that is not finite
            return work()
    except TooLarge:
        return otherwise("undecided.budget")
    except Exception:
        log.exception("gave up at line %d", line)
        return otherwise("undecided.defect")
