"""Lines of which nothing could be decided: those that could not be read, and those that were given up."""

from __future__ import annotations

from derive.records import LineVerdict, RawLine, Standing, Unreadable, Verdict


def unread(line: RawLine, found: Unreadable) -> LineVerdict:
    """A line at which reading stopped, with what was expected there."""
    facts = (("expected", found.expected), *((("nearest", found.nearest),) if found.nearest else ()))
    verdict = Verdict(Standing.UNREADABLE, span=found.span, code="unreadable.line", facts=facts)
    return LineVerdict(line, (verdict,), unreadable=found)


def given_up(line: RawLine, code: str) -> LineVerdict:
    """A line at which the program gave up: undecided, with the code that says why."""
    return LineVerdict(line, (Verdict(Standing.UNDECIDED, code=code),))
