"""Reports kept as plain text files, and the switch that rewrites them: THENCE_REFRESH=1 pytest …"""

from __future__ import annotations

import os
from pathlib import Path

SWITCH = "THENCE_REFRESH"


def check_against(path: Path, text: str) -> None:
    """Fail unless the file holds exactly this text; with the switch set, make it so instead."""
    if os.environ.get(SWITCH) == "1":
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return
    assert path.exists(), f"{path.name} is not there yet; run the test once with {SWITCH}=1 and read the file it writes"
    assert path.read_text(encoding="utf-8") == text
