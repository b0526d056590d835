"""What there is to say about a check, and in which order: the same for every kind of report.

Collects the first break and why, what holds after it, what needs a person, and for a working that holds what
that rests on. The words come from `derive.messages`, the layout from whoever prints it; no judgement is added
to what the verdicts say.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from derive.messages import MESSAGES, sentence
from derive.records import Check, Choice, LineVerdict, Problem, Quantity, Standing, State, Verdict
from derive.report.discretion import HelpGrade, told
from derive.report.figures import quantity_text, telling_pair
from derive.report.naming import (
    capital,
    first_broken,
    full_name,
    joined,
    line_name,
    listed,
    piece_of,
    quantities_in,
    sides_of,
    standing_of,
)
from derive.report.teaching import NOTHING, Taught


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing said below the lines: a heading, its sentences, and a state where one shows it."""

    heading: str
    sentences: tuple[str, ...]
    state: State | None = None
    first: tuple[str, ...] = ()  # the names to show first among the state's values


def headline(check: Check) -> str:
    """The outcome in one sentence."""
    broken = first_broken(check)
    return sentence(f"outcome.{check.outcome}", {"where": full_name(broken) if broken else ""})


def closing() -> str:
    """Who stands above the report; every report ends with it."""
    return sentence("report.closing")


def account(check: Check, grade: HelpGrade = "kind", taught: Taught = NOTHING) -> list[Remark]:
    """Everything to say below the lines, in reading order."""
    remarks = [
        _problems(check), *_broken_lines(check, grade, taught), _after(check), *_for_a_person(check),
        _conditions(check, grade), _held(check), _worth_saying(check, taught), _goal(check),
        *_result(check, taught), _readings(check),
    ]  # fmt: skip
    return [remark for remark in remarks if remark.sentences or remark.state]


def named_state(line: LineVerdict, verdict: Verdict) -> State | None:
    """A verdict's state with its sides called as they were typed."""
    state, (left, right) = verdict.state, sides_of(line, verdict)
    if state is None or not left or not right:
        return state
    return replace(state, left=replace(state.left, name=left), right=replace(state.right, name=right))


def told_state(line: LineVerdict, verdict: Verdict) -> State | None:
    """The same without derivatives of anything that the line does not speak of: they would only fill the page."""
    state = named_state(line, verdict)
    if state is None:
        return None
    spoken_of = quantities_in(verdict)
    return replace(state, values=tuple(q for q in state.values if q.name in spoken_of or "'" not in q.name))


def sorted_values(state: State, first: Iterable[str]) -> list[Quantity]:
    """A state's values with the line's own quantities in front, in the order the line has them."""
    rank = {name: place for place, name in enumerate(first)}
    return sorted(state.values, key=lambda q: rank.get(q.name, len(rank)))


def state_in_words(state: State, first: Iterable[str] = ()) -> str:
    """A state within a sentence, for where a table would be too much."""
    values = joined([f"{q.name} = {quantity_text(q)}" for q in sorted_values(state, first)])
    left, right = telling_pair(state.left, state.right)
    return sentence("piece.state", {"values": values, "left": left, "right": right})


# --- the pieces, in the order they are read -----------------------------------------------------------


# What a file's form was taken for, where nothing need be mended.
_HOW_READ = "read."


def _problems(check: Check) -> Remark:
    said = _said([p for p in check.problems if not p.code.startswith(_HOW_READ)])
    return Remark(sentence("title.problems"), _once(said))


def _said(problems: Iterable[Problem]) -> list[str]:
    return [
        sentence("piece.at_line", {"line": f"line {p.line}", "said": p.message}) if p.line else p.message
        for p in problems
    ]


def _broken_lines(check: Check, grade: HelpGrade, taught: Taught) -> list[Remark]:
    failing = [(line, v) for line, v in _verdicts(check) if v.standing is Standing.FAILS]
    remarks = []
    spoken_of: set[int] = set()
    for line, verdict in failing:
        slip = () if line.line.number in spoken_of else taught.breaks.get(line.line.number, ())
        remarks.append(_broken(line, verdict, grade, slip, first=not spoken_of))
        spoken_of.add(line.line.number)
    return remarks


# Findings that a state says better than their sentence does.
_A_STATE_SAYS = ("fails.state", "fails.contradicts")


def _broken(line: LineVerdict, verdict: Verdict, grade: HelpGrade, slip: tuple[str, ...], first: bool) -> Remark:
    heading = sentence("title.broken" if first else "title.broken_too", {"line": line_name(line)})
    expected = {"piece": piece_of(line, verdict), "premises": joined(verdict.premises)}
    said = [sentence("report.expected", expected)]
    verdict = told(verdict, grade)
    if verdict.code and (verdict.code not in _A_STATE_SAYS or verdict.state is None):
        said.append(sentence(verdict.code, verdict.facts))
    # Dimensions that do not fit are wrong in every state; one of them would add nothing.
    state = told_state(line, verdict) if verdict.code not in ("fails.dimension", "fails.unit") else None
    return Remark(heading, (*said, *_noted(verdict), *slip), state, quantities_in(verdict))


def _after(check: Check) -> Remark:
    after = [line for line in check.lines if check.first_break and line.line.number > check.first_break]
    carried = [line for line in after if standing_of(line) is Standing.CARRIED]
    origins = _origins(carried, check)
    origin = listed([line for line in check.lines if line.line.number in origins], check)
    holding = [line for line in after if standing_of(line) in (Standing.FOLLOWS, Standing.APPROXIMATES)]
    said = []
    if carried:
        said.append(sentence("report.carried", {"lines": capital(listed(carried, check)), "origin": origin}))
    if holding:
        said.append(sentence("report.still_holds", {"lines": listed(holding, check)}))
    return Remark(sentence("title.after"), tuple(said))


def _origins(carried: list[LineVerdict], check: Check) -> set[int]:
    """The numbers of the lines that do not hold and that the carried ones go back to, where that is known."""
    goes_back = {line.line.number: v.carried_from for line, v in _verdicts(check) if v.carried_from}
    found = set()
    for line in (x for x in carried if x.line.number in goes_back):
        number, steps = line.line.number, len(check.lines)
        while number in goes_back and steps:
            number, steps = goes_back[number], steps - 1
        found.add(number)
    return found


def _for_a_person(check: Check) -> list[Remark]:
    remarks = []
    for line in check.lines:
        if line.unreadable is not None:
            stopped = line.unreadable
            typed = _shortened(line.line.text[stopped.span.start : stopped.span.end].strip())
            facts = {"typed": typed, "expected": stopped.expected, "nearest": stopped.nearest}
            heading = sentence("title.unreadable", {"line": line_name(line)})
            remarks.append(Remark(heading, (sentence("unreadable.line", facts),)))
    return remarks + _undecided(check)


def _undecided(check: Check) -> list[Remark]:
    """Lines that are undecided for the same reason are spoken of together."""
    alike: dict[tuple[str, ...], list[LineVerdict]] = {}
    for line in (*check.givens, *check.lines):
        undecided = [v for v in line.verdicts if v.standing is Standing.UNDECIDED]
        said = [s for v in undecided for s in (sentence(v.code or "undecided.budget", v.facts), *_noted(v))]
        if said:
            alike.setdefault(_once(said), []).append(line)
    return [Remark(sentence("title.undecided", {"line": listed(lines, check)}), said) for said, lines in alike.items()]


def _conditions(check: Check, grade: HelpGrade) -> Remark:
    said: list[str] = []
    for line, verdict in _verdicts(check):
        if verdict.standing is Standing.FOLLOWS_IF:
            facts = dict(verdict.facts) | {"condition": verdict.condition}
            said += _of_lines([(line, sentence("follows.if", facts))], check)
            state = told_state(line, told(verdict, grade))
            if state is not None:
                said.append(sentence("report.lost_case", {"found": state_in_words(state, quantities_in(verdict))}))
    return Remark(sentence("title.conditions"), tuple(said))


def _held(check: Check) -> Remark:
    heading = sentence("title.rests_on")
    if check.outcome not in ("unbroken", "unsure"):
        return Remark(heading, ())
    tested = _lines_with(check, "tested")
    proved = [line for line in _lines_with(check, "proved") if line not in tested]
    said = []
    if proved:
        said.append(sentence("report.proved", {"lines": listed(proved, check)}))
    if tested:
        points = max(v.points for line in tested for v in line.verdicts)
        facts = {"lines": listed(tested, check), "points": str(points or "")}
        said.append(sentence("report.tested", facts))
    return Remark(heading, (*said, *_used(check)))


# What a line brings in without proof, by the code of its verdict, in the order it is spoken of.
_BROUGHT_IN = (
    "definition", "shorthand", "trial", "initial", "start", "value", "put_in", "bound", "law", "apart", "regime",
    "case", "situation",
)  # fmt: skip


_GIVEN = "given "


def _used(check: Check) -> list[str]:
    own = {line_name(line) for line in check.lines}
    premises = sorted({p for _, v in _verdicts(check) for p in v.premises if p not in own})
    givens = [p.removeprefix(_GIVEN) for p in premises if p.startswith(_GIVEN)]
    others = [p for p in premises if not p.startswith(_GIVEN)]
    named = [_GIVEN + joined(givens), *others] if givens else others
    said = [sentence("report.used", {"premises": joined(named)})] if named else []
    for kind in _BROUGHT_IN:
        lines = [line for line in check.lines if any(v.code == f"taken.{kind}" for v in line.verdicts)]
        if lines:
            said.append(sentence(f"brings.{kind}", {"lines": listed(lines, check)}))
    return said


# Findings about a line that holds which are worth a sentence of their own.
_WORTH_SAYING = (
    "follows.general_solution", "follows.later_line", "follows.reason_differs", "approximates.number",
    "approximates.order", "approximates.cut_off",
)  # fmt: skip


def _worth_saying(check: Check, taught: Taught) -> Remark:
    said: list[tuple[LineVerdict, str]] = []
    for line, verdict in _verdicts(check):
        if verdict.standing in (Standing.FAILS, Standing.UNDECIDED):
            continue  # their notes stand with their explanation
        says_more = verdict.code != "approximates.number" or "exact" in dict(verdict.facts)
        if (verdict.code in _WORTH_SAYING and says_more) or verdict.code.startswith("note."):
            said.append((line, sentence(verdict.code, verdict.facts)))
        said += [(line, note) for note in _noted(verdict)]
    for line in check.lines:
        said += [(line, remark) for remark in taught.reasons.get(line.line.number, ())]
    return Remark(sentence("title.remarks"), _of_lines(said, check))


_GOAL = {
    Standing.FOLLOWS: "goal.reached", Standing.TAKEN: "goal.reached", Standing.APPROXIMATES: "goal.reached",
    Standing.FOLLOWS_IF: "goal.reached_if", Standing.CARRIED: "goal.carried", Standing.UNDECIDED: "goal.undecided",
    Standing.UNREADABLE: "goal.unreadable", Standing.FAILS: "goal.missed",
}  # fmt: skip


def _goal(check: Check) -> Remark:
    """Each statement of the goal: reached and where, or not. A line of words only is none."""
    lines = {str(line.line.number): full_name(line) for line in check.lines}
    said = []
    for line in check.goal:
        if line.unreadable is not None and not line.verdicts:
            said.append(sentence("goal.unreadable", {"goal": piece_of(line, None)}))
        for verdict in line.verdicts:
            if verdict.standing is not Standing.REMARK:
                facts = dict(verdict.facts)
                code = "goal.not_reached" if verdict.code == "goal.not_reached" else _GOAL[verdict.standing]
                goal = piece_of(line, verdict if len(line.verdicts) > 1 else None)
                where = lines.get(facts.get("line", ""), "")
                said.append(sentence(code, {"goal": goal, "where": where, "condition": verdict.condition}))
    return Remark(sentence("title.goal"), _once(said))


def _result(check: Check, taught: Taught) -> list[Remark]:
    names = {line.line.number: line_name(line) for line in check.lines}
    return [
        Remark(sentence("title.result", {"line": names.get(number, "")}), said)
        for number, said in taught.result.items() if said
    ]


def _readings(check: Check) -> Remark:
    said = [
        (line, sentence(_read_as(choice), {"typed": choice.typed, "taken": choice.taken}))
        for line in check.lines if line.reading is not None
        for choice in line.reading.choices if choice.taken and not _goes_without_saying(choice, line)
    ]  # fmt: skip
    of_file = _said([p for p in check.problems if p.code.startswith(_HOW_READ)])
    return Remark(sentence("title.readings"), (*_once(of_file), *_of_lines(said, check)))


def _read_as(choice: Choice) -> str:
    if choice.kind == "call" and choice.plain:
        return "note.call"  # `x(0)` printed back is x(0)
    return "note.argument" if choice.kind == "argument" else "note.reading"


def _goes_without_saying(choice: Choice, line: LineVerdict) -> bool:
    """A slash read from left to right, a function of what stands next to it or its value, in a line that holds so; a
    letter that is no unit."""
    doubted = any(v.standing in (Standing.FAILS, Standing.UNDECIDED) for v in line.verdicts)
    return choice.plain and (choice.kind == "unit" or (choice.kind in ("slash", "argument", "call") and not doubted))


# --- small words ----------------------------------------------------------------------------------------


def _verdicts(check: Check) -> list[tuple[LineVerdict, Verdict]]:
    return [(line, verdict) for line in check.lines for verdict in line.verdicts]


def _lines_with(check: Check, support: str) -> list[LineVerdict]:
    return [line for line in check.lines if any(v.support == support for v in line.verdicts)]


def _of_lines(said: Sequence[tuple[LineVerdict, str]], check: Check) -> tuple[str, ...]:
    """Each sentence once, with all the lines that it is said of, in the order in which it is first said."""
    lines: dict[str, dict[int, LineVerdict]] = {}
    for line, what in said:
        lines.setdefault(what, {})[line.line.number] = line
    return tuple(
        sentence("piece.at_line", {"line": listed(tuple(of.values()), check), "said": what})
        for what, of in lines.items())


def _noted(verdict: Verdict) -> list[str]:
    """A note is the code of a sentence, or a sentence; that of a remark is the remark itself."""
    if not verdict.note or verdict.standing is Standing.REMARK:
        return []
    return [sentence(verdict.note, verdict.facts) if verdict.note in MESSAGES else verdict.note]


def _once(said: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(said))


_LONGEST_QUOTED = 40


def _shortened(text: str) -> str:
    return text if len(text) <= _LONGEST_QUOTED else text[: _LONGEST_QUOTED - 1] + "…"
