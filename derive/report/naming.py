"""How a report speaks of lines: by label or number, one by one or as a list, and of the pieces in them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from derive.notation.printed.quoting import with_its_brackets
from derive.notation.tree import Derivative, Name, Relation, Span, relations, walk
from derive.records import Check, LineVerdict, Standing, Verdict

# The most telling standing of a line that holds several statements, most serious first.
WEIGHT = (
    Standing.FAILS, Standing.UNREADABLE, Standing.UNDECIDED, Standing.CARRIED, Standing.FOLLOWS_IF,
    Standing.APPROXIMATES, Standing.FOLLOWS, Standing.TAKEN, Standing.REMARK,
)  # fmt: skip
_RUN = 3  # so many lines one under the other are named by the first and the last


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


def listed(lines: Sequence[LineVerdict], check: Check) -> str:
    """`(1), (2) and (5)`, `(1) to (6)` where they stand one under the other, `lines 4 and 7 to 9` without labels."""
    place = {line.line.number: index for index, line in enumerate((*check.givens, *check.lines))}
    words: list[tuple[bool, str]] = []
    for labelled, run in _runs(lines, place):
        names = [f"({x.line.label})" if labelled else str(x.line.number) for x in run]
        short = [f"{names[0]} to {names[-1]}"] if len(run) >= _RUN else names
        words += [(labelled, word) for word in short]
    plain = [word for labelled, word in words if not labelled]
    several = len([x for x in lines if not x.line.label]) > 1
    numbered = [("lines " if several else "line ") + joined(plain)] if plain else []
    return joined([word for labelled, word in words if labelled] + numbered)


def _runs(lines: Sequence[LineVerdict], place: dict[int, int]) -> Iterator[tuple[bool, list[LineVerdict]]]:
    """Lines that stand one under the other and are named alike, run by run."""

    def key(pair: tuple[int, LineVerdict]) -> tuple[int, bool]:
        index, line = pair
        return place[line.line.number] - index, bool(line.line.label)

    for (_, labelled), run in groupby(enumerate(lines), key):
        yield labelled, [line for _, line in run]


def joined(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def capital(text: str) -> str:
    """The same with a capital first letter, to open a sentence."""
    return text[:1].upper() + text[1:]


# --- pieces of a line ---------------------------------------------------------------------------------------


def stretch_of(verdict: Verdict) -> Span | None:
    """Where the statement stands that a verdict is about; the verdict's own span may be a single term of it."""
    statement = verdict.statement.span if verdict.statement else None
    about_a_term = any(name == "term" for name, _ in verdict.facts)
    return (statement or verdict.span) if about_a_term else (verdict.span or statement)


def piece_of(line: LineVerdict, verdict: Verdict | None) -> str:
    """The stretch of the typed line that a verdict is about; without one, its mathematics."""
    span = (stretch_of(verdict) if verdict else None) or line.line.body
    return with_its_brackets(span, line.line.text).strip() or line.line.text.strip()


# Breaks whose state shows the two sides of something else: rates, one component, or an equation that the line was put
# into.
_OF_OTHER_SIDES = (
    "fails.derivative", "fails.not_a_solution", "fails.antiderivative", "fails.element", "fails.component",
    "fails.no_extreme", "fails.other_extreme")


def sides_of(line: LineVerdict, verdict: Verdict) -> tuple[str, str]:
    """Both sides as typed of the equation a verdict is about, ('', '') where they cannot be told."""
    if verdict.code in _OF_OTHER_SIDES:
        return "", ""
    claim = verdict.statement.claim if verdict.statement else None
    pairs = [pair for relation in relations(claim) for pair in _neighbours(relation)]
    if verdict.code == "fails.alternatives":
        pairs = pairs[:1]
    elif len(pairs) > 1 and verdict.span is not None:
        pairs = [(a, b) for a, b in pairs if (a.start, b.end) == (verdict.span.start, verdict.span.end)]
    if len(pairs) != 1:
        return "", ""
    left, right = (with_its_brackets(span, line.line.text).strip() for span in pairs[0])
    return left, right


def _neighbours(relation: Relation) -> list[tuple[Span, Span]]:
    spans = [side.span for side in relation.sides]
    return [(a, b) for a, b in pairwise(spans) if a is not None and b is not None]


def quantities_in(verdict: Verdict) -> tuple[str, ...]:
    """The names of the quantities in a statement as a state lists them: `y''` for a second derivative of y."""
    names = []
    for node in walk(verdict.statement) if verdict.statement else ():
        if isinstance(node, Derivative) and isinstance(node.body, Name):
            names.append(node.body.ident + "'" * node.order)
        elif isinstance(node, Name):
            names.append(node.ident)
    return tuple(dict.fromkeys(names))
