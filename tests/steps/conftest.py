"""What these tests tell is found of a line, not whether a busy machine finds it in time."""

from __future__ import annotations

import pytest

from derive import check, guarding


@pytest.fixture(autouse=True)
def _unhurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Half as long again as a line and a page have."""
    monkeypatch.setattr(guarding, "LINE", 1.5 * guarding.LINE)
    monkeypatch.setattr(check, "PAGE", 1.5 * guarding.PAGE)
