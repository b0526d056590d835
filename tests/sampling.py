"""How much of a sweep is run: a sample by default, all of it where THENCE_ALL=1 is set."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TypeVar

WHOLE = os.environ.get("THENCE_ALL") == "1"
Case = TypeVar("Case")


def some(cases: Sequence[Case], every: int, first: int = 0) -> Sequence[Case]:
    """Every so many-th of the cases, from the `first` one on, or all of them."""
    return cases if WHOLE else cases[first::every]
