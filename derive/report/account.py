"""What there is to say about a check, in sentences: the same words for every kind of report.

Works out which line broke first, what to say of it and in which order, and what still holds; how that is
laid out on a screen or a page is for others. Adds no judgement to what the verdicts say.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from derive.messages import sentence
from derive.notation.tree import names_in
from derive.records import Check, LineVerdict, Quantity, Standing, State, Verdict
from derive.report.figures import quantity_text, telling_pair

HelpGrade = Literal["place", "kind", "edit"]

# The most telling standing of a line that holds several statements, most serious first.
WEIGHT = (
    Standing.FAILS, Standing.UNREADABLE, Standing.UNDECIDED, Standing.CARRIED, Standing.FOLLOWS_IF,
    Standing.APPROXIMATES, Standing.FOLLOWS, Standing.TAKEN, Standing.REMARK,
)  # fmt: skip

CLOSING = (
    "This report says only whether each line follows from those before it. What a working is worth, and how "
    "it should be set out, is for whoever marks it and for the rules of the course; they stand above this report."
)


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing said below the lines: a heading (may be ''), its sentences, and a state where one shows it."""

    heading: str
    sentences: tuple[str, ...]
    state: State | None = None
    first: tuple[str, ...] = ()  # the names to show first among the state's values


def standing_of(line: LineVerdict) -> Standing:
    """The one word for a line: the most serious of its statements'."""
    if line.unreadable is not None:
        return Standing.UNREADABLE
    return min((v.standing for v in line.verdicts), key=WEIGHT.index, default=Standing.REMARK)


def line_name(line: LineVerdict) -> str:
    """How the report speaks of a line: by the writer's own label, else by its number in the file."""
    return f"({line.line.label})" if line.line.label else f"line {line.line.number}"


def headline(check: Check) -> str:
    """The outcome in one sentence."""
    broken = first_broken(check)
    if check.outcome == "unread":
        return "This could not be read."
    if check.outcome == "broken":
        return f"The working breaks at {_at(broken)}." if broken else "The working is broken."
    if check.outcome == "unsure":
        return "No break was found, but a person has to look before this can be called unbroken."
    return "The working holds from its first line to its last."


def first_broken(check: Check) -> LineVerdict | None:
    return next((line for line in check.lines if line.line.number == check.first_break), None)


def account(check: Check, grade: HelpGrade = "kind") -> list[Remark]:
    """Everything to say below the lines, in reading order."""
    remarks = [_problems(check), *_broken_lines(check, grade), _after(check), *_for_a_person(check)]
    if check.outcome != "unread":
        remarks += [_conditions(check), _approximations(check), _held(check), _notes(check), _goal(check), _readings(check)]
    return [r for r in remarks if r is not None and (r.sentences or r.state)]


def sorted_values(state: State, first: Iterable[str]) -> list[Quantity]:
    """A state's values with the line's own quantities in front, in the order the line has them."""
    rank = {name: place for place, name in enumerate(first)}
    return sorted(state.values, key=lambda q: rank.get(q.name, len(rank)))


def state_sentences(state: State, first: Iterable[str] = ()) -> tuple[str, str]:
    """Where to look, and what is found there: `with m = 40 kg and …`, `the left side is …`."""
    values = [f"{q.name} = {quantity_text(q)}" for q in sorted_values(state, first)]
    left, right = telling_pair(state.left, state.right)
    return joined(values), f"the left side is {left} and the right side is {right}"


def joined(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


# --- the pieces, in the order they are read -----------------------------------------------------------


def _problems(check: Check) -> Remark | None:
    said = [f"Line {p.line}: {p.message}" if p.line else p.message for p in check.problems]
    return Remark("To mend in the file", tuple(dict.fromkeys(said)))


def _broken_lines(check: Check, grade: HelpGrade) -> list[Remark]:
    remarks = []
    for line in check.lines:
        for verdict in line.verdicts:
            if verdict.standing is Standing.FAILS:
                first = line.line.number == check.first_break and not remarks
                remarks.append(_broken(line, verdict, grade, first))
    return remarks


def _broken(line: LineVerdict, verdict: Verdict, grade: HelpGrade, first: bool) -> Remark:
    heading = f"Why {line_name(line)} does not follow" if first else f"{_capital(line_name(line))} is a break of its own"
    said = [_expected(line, verdict)]
    if grade == "place":
        return Remark(heading, tuple(said))
    if not (verdict.code == "fails.state" and verdict.state):  # the state itself says it better
        said.append(sentence(verdict.code, verdict.facts))
    if verdict.note:
        said.append(verdict.note)
    return Remark(heading, tuple(said), verdict.state, names_in(verdict.statement) if verdict.statement else ())


def _expected(line: LineVerdict, verdict: Verdict) -> str:
    piece = piece_of(line, verdict)
    if verdict.premises:
        return f"“{piece}” was expected to follow from {joined(verdict.premises)}."
    return f"“{piece}” was expected to follow from what stands before it."


def piece_of(line: LineVerdict, verdict: Verdict) -> str:
    """The stretch of the typed line that a verdict is about."""
    span = verdict.span or line.line.body
    return line.line.text[span.start : span.end].strip() or line.line.text.strip()


def _after(check: Check) -> Remark | None:
    if check.outcome != "broken":
        return None
    after = [line for line in check.lines if line.line.number > check.first_break]
    carried = [line for line in after if standing_of(line) is Standing.CARRIED]
    holding = [line for line in after if standing_of(line) in (Standing.FOLLOWS, Standing.APPROXIMATES)]
    said = []
    if carried:
        sources = dict.fromkeys(v.carried_from for line in carried for v in line.verdicts if v.carried_from)
        named = [line_name(b) for b in check.lines if b.line.number in sources]
        origin = joined(named) if named else "an earlier line"
        said.append(f"{_listed(carried)} {_verb(carried, 'follows', 'follow')} from {origin} as written: the same slip, no new one.")
    if holding:
        said.append(f"{_listed(holding)} {_verb(holding, 'holds', 'hold')} all the same.")
    return Remark("After the break", tuple(said))


def _for_a_person(check: Check) -> list[Remark]:
    remarks = []
    for line in check.lines:
        if line.unreadable is not None:
            stopped = line.unreadable
            typed = line.line.text[stopped.span.start : stopped.span.end].strip()
            said = sentence("unreadable.line", {"expected": stopped.expected, "nearest": stopped.nearest})
            where = f"Reading stopped at “{_shortened(typed)}”. " if typed else ""
            remarks.append(Remark(f"{_capital(line_name(line))} could not be read", (where + said,)))
        for verdict in line.verdicts:
            if verdict.standing is Standing.UNDECIDED:
                said = sentence(verdict.code or "undecided.budget", verdict.facts)
                remarks.append(Remark(f"{_capital(line_name(line))} is undecided", (said, *_noted(verdict))))
    return remarks


def _conditions(check: Check) -> Remark | None:
    said = []
    for line, verdict in _verdicts(check, Standing.FOLLOWS_IF):
        words = sentence("follows.if", [*verdict.facts, ("condition", verdict.condition)])
        said.append(f"{_capital(line_name(line))}: {_uncapital(words)}")
        if verdict.state:
            where, found = state_sentences(verdict.state)
            said.append(f"The case left out: with {where}, {found}." if where else f"In the case left out, {found}.")
    return Remark("Conditions", tuple(said))


def _approximations(check: Check) -> Remark | None:
    said = []
    for line, verdict in _verdicts(check, Standing.APPROXIMATES):
        if verdict.code:
            said.append(f"{_capital(line_name(line))}: {_uncapital(sentence(verdict.code, verdict.facts))}")
    return Remark("To the accuracy kept", tuple(said))


def _held(check: Check) -> Remark | None:
    if check.outcome not in ("unbroken", "unsure"):
        return None
    proved = _lines_with(check, "proved")
    tested = [line for line in _lines_with(check, "tested") if line not in proved]
    said = []
    if proved:
        said.append(f"Proved: {_listed(proved)}.")
    if tested:
        points = max(v.points for line in tested for v in line.verdicts)
        states = f" in up to {points} states" if points else ""
        said.append(f"Tested{states} and never found wrong, but not proved: {_listed(tested)}.")
    said += [_used(check)] if _used(check) else []
    return Remark("What this rests on", tuple(said))


def _used(check: Check) -> str:
    parts = []
    premises = dict.fromkeys(p for line in check.lines for v in line.verdicts for p in v.premises)
    own = {line_name(line) for line in check.lines}
    outside = [p for p in premises if p not in own]
    if outside:
        parts.append(f"Used besides the writer's own lines: {joined(outside)}.")
    introduced = [(line, v) for line, v in _verdicts(check, Standing.TAKEN) if v.code and line in check.lines]
    kinds = {"taken.definition": "definitions", "taken.trial": "trial solutions", "taken.initial": "conditions at an instant",
             "taken.regime": "small quantities", "taken.case": "cases", "taken.constant": "new constants"}  # fmt: skip
    for code, word in kinds.items():
        lines = list(dict.fromkeys(line_name(line) for line, v in introduced if v.code == code))
        if lines:
            parts.append(f"Taken without proof, as {word}: {joined(lines)}.")
    return " ".join(parts)


# Findings about a line that holds which are worth a sentence of their own.
_WORTH_SAYING = ("follows.general_solution", "follows.later_line", "follows.reason_differs")


def _notes(check: Check) -> Remark | None:
    said = []
    for line in check.lines:
        for verdict in line.verdicts:
            if verdict.standing in (Standing.FAILS, Standing.UNDECIDED, Standing.UNREADABLE):
                continue
            words = [sentence(verdict.code, verdict.facts)] if verdict.code.startswith("note.") else []
            words += [sentence(verdict.code, verdict.facts)] if verdict.code in _WORTH_SAYING else []
            words += _noted(verdict)
            said += [f"{_capital(line_name(line))}: {_uncapital(w)}" for w in words]
    return Remark("Remarks", tuple(dict.fromkeys(said)))


def _goal(check: Check) -> Remark | None:
    said = []
    for line in check.goal:
        typed = line.line.text[line.line.body.start : line.line.body.end].strip() or line.line.text.strip()
        standing = standing_of(line)
        if standing in (Standing.FOLLOWS, Standing.APPROXIMATES, Standing.FOLLOWS_IF):
            said.append(f"“{typed}” is reached.")
        elif standing is Standing.CARRIED:
            said.append(f"“{typed}” is reached only by way of a line that does not hold.")
        elif standing in (Standing.UNDECIDED, Standing.UNREADABLE):
            said.append(f"Whether “{typed}” is reached, a person has to see.")
        else:
            said.append(f"“{typed}” is not reached.")
    return Remark("What was to be shown", tuple(said))


def _readings(check: Check) -> Remark | None:
    said = []
    for line in check.lines:
        if line.reading is not None:
            for choice in line.reading.choices:
                words = sentence("note.reading", {"typed": choice.typed, "taken": choice.taken})
                said.append(f"In {line_name(line)} {words}")
    return Remark("How it was read", tuple(dict.fromkeys(said)))


def proofs(check: Check) -> list[Remark]:
    """How each proved line was proved, in words, from the certificates that the re-checker accepts."""
    from derive.proof.certificate import Certificate, explain

    remarks = []
    for line in check.lines:
        for verdict in line.verdicts:
            if isinstance(verdict.certificate, Certificate):
                steps = tuple(explain(verdict.certificate))
                remarks.append(Remark(f"Why {line_name(line)} holds", steps))
    return remarks


# --- small words ----------------------------------------------------------------------------------------


def _verdicts(check: Check, standing: Standing) -> list[tuple[LineVerdict, Verdict]]:
    return [(line, v) for line in check.lines for v in line.verdicts if v.standing is standing]


def _lines_with(check: Check, support: str) -> list[LineVerdict]:
    return [line for line in check.lines if any(v.support == support for v in line.verdicts)]


def _noted(verdict: Verdict) -> list[str]:
    return [verdict.note] if verdict.note else []


def _at(line: LineVerdict) -> str:
    return line_name(line) if line.line.label == "" else f"line {line_name(line)}"


def _listed(lines: Sequence[LineVerdict]) -> str:
    words = joined([line_name(line) for line in lines])
    return _capital(words)


def _verb(lines: Sequence[LineVerdict], one: str, many: str) -> str:
    return one if len(lines) == 1 else many


def _shortened(text: str, most: int = 40) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _uncapital(text: str) -> str:
    return text[:1].lower() + text[1:]
