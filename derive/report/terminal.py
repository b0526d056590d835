"""A check on one screen, laid out like a page of an exercise book.

The writer's lines stand as typed; to their left, in the margin, a sign and a word for each; below, in
plain paragraphs, what there is to say. Text from a file is only ever handed to the console as `Text`, after
`cells.visible`: nothing in it can act as markup or as a terminal command. Words carry the meaning; colour
only repeats it.
"""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Console
from rich.text import Text

from derive.messages import sentence
from derive.notation.printed.quoting import with_its_brackets
from derive.records import Check, LineVerdict, Span, Standing, State, Verdict
from derive.report.account import Remark, account, closing, headline, sorted_values
from derive.report.cells import folded, glyphs_of, paragraph, visible, width_of
from derive.report.discretion import HelpGrade
from derive.report.figures import quantity_text, telling_pair
from derive.report.naming import standing_of, stretch_of
from derive.report.teaching import NOTHING, Taught

# A sign of its own for each word, all one cell wide in every terminal. `∴` is "thence" itself.
SIGNS = {
    Standing.FOLLOWS: "∴", Standing.FOLLOWS_IF: "†", Standing.TAKEN: "·", Standing.APPROXIMATES: "≈",
    Standing.FAILS: "»", Standing.CARRIED: "↓", Standing.UNDECIDED: "?", Standing.UNREADABLE: "¿",
    Standing.REMARK: " ",
}  # fmt: skip
STYLES = {
    Standing.FAILS: "bold red", Standing.CARRIED: "yellow", Standing.FOLLOWS_IF: "cyan",
    Standing.UNDECIDED: "magenta", Standing.UNREADABLE: "magenta", Standing.REMARK: "dim", Standing.TAKEN: "dim",
}  # fmt: skip

_WORD = 15      # "does not follow", the longest of the words
_INDENT = "  "
_NOTE = "    "
_READABLE = 92  # paragraphs wider than this tire the eye
_LEAST_ROOM = 12
_NARROWEST = 40  # below this the margin alone would fill the screen; lines then run on

Margin = tuple[str, str]


def render(
    check: Check, console: Console, help_grade: HelpGrade = "kind", taught: Taught = NOTHING, show_proof: bool = False
) -> None:
    """Print the whole report."""
    width = max(console.width, _NARROWEST)
    for row in report_rows(check, width, help_grade, taught, show_proof):
        console.print(row, soft_wrap=True, highlight=False)


def report_rows(
    check: Check, width: int, help_grade: HelpGrade = "kind", taught: Taught = NOTHING, show_proof: bool = False
) -> Iterator[Text]:
    """The report as rows of at most `width` cells."""
    yield from _title(check, width)
    shown = [*_givens_worth_showing(check), *check.lines]
    numbered = any(not line.line.label for line in shown if standing_of(line) is not Standing.REMARK)
    digits = max((len(str(line.line.number)) for line in shown), default=0) if numbered else 0
    for line in shown:
        yield from _line(line, width, digits)
    if shown:
        yield Text("")
    style = STYLES.get(Standing.FAILS, "") if check.outcome == "broken" else "bold"
    for row in paragraph(headline(check), min(width, _READABLE) - len(_INDENT)):
        yield Text(_INDENT).append(row, style)
    remarks = account(check, help_grade, taught)
    if show_proof:
        from derive.report.proofs import proofs  # the re-checker is loaded only where it is asked for

        remarks += proofs(check)
    for remark in remarks:
        yield Text("")
        yield from _remark(remark, min(width, _READABLE))
    yield Text("")
    for row in paragraph(closing(), min(width, _READABLE) - len(_INDENT)):
        yield Text(_INDENT).append(row, "dim")


# --- the page -------------------------------------------------------------------------------------------


def _title(check: Check, width: int) -> Iterator[Text]:
    title = check.document.title or check.document.exercise
    source = check.document.source if check.document.source != "-" else ""
    for name, style in ((title, "bold"), (source, "dim")):
        for row in paragraph(name, width - len(_INDENT)) if name else ():
            yield Text(_INDENT).append(row, style)
    if title or source:
        yield Text("")


def _givens_worth_showing(check: Check) -> list[LineVerdict]:
    """Givens are known to the writer; they are repeated only where something is the matter with them."""
    quiet = (Standing.TAKEN, Standing.REMARK)
    return [line for line in check.givens if standing_of(line) not in quiet]


def _line(line: LineVerdict, width: int, digits: int) -> Iterator[Text]:
    standing = standing_of(line)
    apart = _told_apart(line)
    margin = (" ", "") if apart else _margin(line, standing)
    number = str(line.line.number).rjust(digits) + "  " if digits else ""
    yield from _typed(line, margin, "" if apart else STYLES.get(standing, ""), number, width, _marked(line, apart))
    if apart:
        for verdict in line.verdicts:
            yield from _statement(line, verdict, width, " " * len(number))


def _told_apart(line: LineVerdict) -> bool:
    """Several statements get a row each only where one of them is in trouble and the others are not."""
    trouble = {Standing.FAILS, Standing.CARRIED, Standing.UNDECIDED, Standing.FOLLOWS_IF}
    standings = {v.standing for v in line.verdicts}
    return line.unreadable is None and len(standings) > 1 and bool(standings & trouble)


def _margin(line: LineVerdict, standing: Standing) -> Margin:
    only_tested = any(v.support == "tested" for v in line.verdicts if v.standing is standing)
    return SIGNS[standing], _word(standing, only_tested)


def _word(standing: Standing, only_tested: bool) -> str:
    if standing is Standing.FOLLOWS and only_tested:
        return "follows, tested"
    return "" if standing is Standing.REMARK else standing.value


def _marked(line: LineVerdict, apart: bool) -> Span | None:
    """The stretch to mark under the line: where reading stopped, or the one statement that breaks it."""
    if line.unreadable is not None:
        return line.unreadable.span
    broken = [v for v in line.verdicts if v.standing is Standing.FAILS and v.span is not None]
    if apart or not broken or len(line.verdicts) < 2:
        return None
    return broken[0].span


def _typed(
    line: LineVerdict, margin: Margin, style: str, number: str, width: int, marked: Span | None
) -> Iterator[Text]:
    text = line.line.text.rstrip()
    start = len(text) - len(text.lstrip())
    head = f"{_INDENT}{margin[0]} {margin[1].ljust(_WORD)}  {number}"
    room = max(width - width_of(head), _LEAST_ROOM)
    for row in folded(glyphs_of(text[start:], start), room):
        yield Text(head, style).append(row.text.rstrip(), "dim" if style == "dim" else "")
        head = " " * width_of(head)
        if marked is not None:
            begin, end = row.stretch(marked.start, max(marked.end, marked.start + 1))
            if end > begin:
                yield Text(head + " " * begin).append("‾" * (end - begin), "bold")
    if marked is not None and marked.start >= len(text):  # the line ends where more was expected
        yield Text(head + " " * width_of(visible(text[start:]))).append("‾", "bold")


def _statement(line: LineVerdict, verdict: Verdict, width: int, number: str) -> Iterator[Text]:
    span = stretch_of(verdict) or line.line.body
    sign, word = SIGNS[verdict.standing], _word(verdict.standing, verdict.support == "tested")
    head = f"{_INDENT}{sign} {word.ljust(_WORD)}  {number}    "
    piece = with_its_brackets(span, line.line.text).strip()
    for row in folded(glyphs_of(piece), max(width - width_of(head), _LEAST_ROOM)):
        yield Text(head, STYLES.get(verdict.standing, "")).append(row.text.rstrip())
        head = " " * width_of(head)


# --- the paragraphs below ---------------------------------------------------------------------------------


def _remark(remark: Remark, width: int) -> Iterator[Text]:
    yield Text(_INDENT).append(visible(remark.heading), "bold")
    for said in remark.sentences:
        for row in paragraph(said, width - len(_NOTE)):
            yield Text(_NOTE + row)
    if remark.state is not None:
        yield from _state(remark.state, remark.first, width)


def _state(state: State, first: tuple[str, ...], width: int) -> Iterator[Text]:
    """The values that show a break, then both sides under each other."""
    values = [f"{visible(q.name)} = {visible(quantity_text(q))}" for q in sorted_values(state, first)]
    names = [visible(side.name) for side in (state.left, state.right)]
    named = all(names) and not any("side" in name for name in names)
    sides = [f"left side   {names[0]}", f"right side  {names[1]}"] if named else ["left side", "right side"]
    room = min(max(width_of(side) for side in sides), width // 2)
    results = []
    for side, value in zip(sides, telling_pair(state.left, state.right), strict=True):
        results += paragraph(f"{side}{' ' * (room - width_of(side))}  is  {visible(value)}", width - 2 * len(_NOTE))
    said = [(_NOTE, sentence("piece.state_opening" if values else "piece.state_bare"))]
    said += [(_NOTE * 2, row) for row in _flowing(values, width - 2 * len(_NOTE))]
    said += [(_NOTE, sentence("piece.state_turn"))] if values else []
    said += [(_NOTE * 2, row) for row in results]
    if state.sign != "=":
        said.append((_NOTE, sentence("piece.state_sign", {"sign": state.sign})))
    for indent, words in said:
        yield from (Text(indent + row) for row in paragraph(words, width - len(indent)))


def _flowing(words: list[str], width: int) -> list[str]:
    """Short pieces side by side, a row as full as it gets."""
    rows: list[str] = []
    for word in words:
        if rows and width_of(rows[-1]) + 3 + width_of(word) <= width:
            rows[-1] += "   " + word
        else:
            rows.append(word)
    return rows
