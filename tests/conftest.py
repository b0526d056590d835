"""Which tests stay with one worker: those of one file, so that what they share is made once.

The files named here hold many tests that take long and share little; these are spread over all workers.
"""

from __future__ import annotations

from pathlib import Path

import pytest

TESTS = Path(__file__).parent
SPREAD = frozenset((
    "exercises/test_exercises_checked.py", "marking/test_by_hand.py", "outside/test_published_results.py",
    "outside/test_real_algebra.py", "steps/test_corpus.py", "steps/test_pages.py", "steps/test_quick_workings.py",
))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        file = item.path.relative_to(TESTS).as_posix()
        if file not in SPREAD:
            item.add_marker(pytest.mark.xdist_group(file))
