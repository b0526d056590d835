"""What is said of the lines of a short typed working, for the tests of the engine's rooms."""

from __future__ import annotations

from derive.check import check_text
from derive.records import LineVerdict, Standing, Verdict


def lines(text: str) -> list[LineVerdict]:
    """The line verdicts of a working (without its givens)."""
    return list(check_text(text).lines)


def verdicts(text: str) -> list[tuple[Verdict, ...]]:
    return [x.verdicts for x in lines(text)]


def said(head: str, *typed: str) -> list[str]:
    """For each typed line, after a head of symbols and givens, what it is found to be: the weakest word of it."""
    text = head.strip("\n") + "\n\nWorking:\n" + "\n".join(f"  {t}" for t in typed) + "\n"
    return [word(x) for x in lines(text)]


_WEAKEST_FIRST = (
    Standing.UNREADABLE, Standing.FAILS, Standing.UNDECIDED, Standing.CARRIED, Standing.FOLLOWS_IF,
    Standing.APPROXIMATES, Standing.TAKEN, Standing.FOLLOWS, Standing.REMARK,
)


def word(line: LineVerdict) -> str:
    here = {v.standing for v in line.verdicts}
    return next(s for s in _WEAKEST_FIRST if s in here).value
