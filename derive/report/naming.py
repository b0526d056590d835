"""How a report speaks of lines: by label or number, one by one or as a list."""

from __future__ import annotations

from collections.abc import Sequence

from derive.notation.tree import Span
from derive.records import Check, LineVerdict, Standing, Verdict

# The most telling standing of a line that holds several statements, most serious first.
WEIGHT = (
    Standing.FAILS, Standing.UNREADABLE, Standing.UNDECIDED, Standing.CARRIED, Standing.FOLLOWS_IF,
    Standing.APPROXIMATES, Standing.FOLLOWS, Standing.TAKEN, Standing.REMARK,
)  # fmt: skip


def standing_of(line: LineVerdict) -> Standing:
    """The one word for a line: the most serious of its statements'."""
    if line.unreadable is not None:
        return Standing.UNREADABLE
    return min((v.standing for v in line.verdicts), key=WEIGHT.index, default=Standing.REMARK)


def line_name(line: LineVerdict) -> str:
    """The writer's own label, `(4)`, else the number in the file, `line 12`."""
    return f"({line.line.label})" if line.line.label else f"line {line.line.number}"


def full_name(line: LineVerdict) -> str:
    """`line (4)` or `line 12`, for where a bare `(4)` would leave in doubt what is meant."""
    return f"line {line_name(line)}" if line.line.label else line_name(line)


def first_broken(check: Check) -> LineVerdict | None:
    """The line that the working breaks at first."""
    return next((line for line in check.lines if line.line.number == check.first_break), None)


def piece_of(line: LineVerdict, verdict: Verdict | None) -> str:
    """The stretch of the typed line that a verdict is about; without one, its mathematics."""
    span = stretch_of(verdict) if verdict else None
    span = span or line.line.body
    return line.line.text[span.start : span.end].strip() or line.line.text.strip()


def stretch_of(verdict: Verdict) -> Span | None:
    """Where the statement stands that a verdict is about; the verdict's own span may be a single term of it."""
    statement = verdict.statement.span if verdict.statement else None
    about_a_term = any(name == "term" for name, _ in verdict.facts)
    return (statement or verdict.span) if about_a_term else (verdict.span or statement)


def listed(lines: Sequence[LineVerdict], check: Check) -> str:
    """`(1), (2) and (5)`; four and more lines that stand next to each other become `(1) to (6)`."""
    place = {line.line.number: index for index, line in enumerate(check.lines)}
    runs: list[list[LineVerdict]] = []
    for line in lines:
        if runs and place[line.line.number] == place[runs[-1][-1].line.number] + 1:
            runs[-1].append(line)
        else:
            runs.append([line])
    words = []
    for run in runs:
        if len(run) >= 4:
            words.append(f"{line_name(run[0])} to {line_name(run[-1])}")
        else:
            words.extend(line_name(line) for line in run)
    return joined(words)


def joined(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def capital(text: str) -> str:
    """The same with a capital first letter, to open a sentence."""
    return text[:1].upper() + text[1:]
