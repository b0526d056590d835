"""One feedback page a working: self-contained HTML without scripts, and the same as plain text."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from derive.marking.decisions import Applied
from derive.marking.records import Marked, MarkedLine
from derive.messages import sentence
from derive.report.cells import COLUMNS, paragraph, visible

_BEFORE_WHY = 30


@lru_cache(maxsize=8)
def template(name: str) -> Template:
    """A page's template; everything put into one is escaped unless it was built as elements."""
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=False)
    return environment.from_string(files("derive.marking").joinpath(name).read_text(encoding="utf-8"))


def page_of(marked: Marked, applied: Applied, exercise: str, most: int) -> str:
    """The page as HTML."""
    lines = [
        {"place": x.place, "shown": visible(x.text.strip()), "standing": x.standing, "sentence": x.sentence,
         "mathematics": Markup(x.mathml)}  # noqa: S704  built as elements by derive.notation.printed.mathml, never as text
        for x in marked.lines
    ]
    return template("page.html").render(
        title=sentence("title.feedback", {"title": exercise, "name": visible(marked.name)}), exercise=exercise,
        name=visible(marked.name), marks=_marks(applied, most), headline=marked.headline, comments=applied.comments,
        points=applied.points, lines=lines, account=marked.account, closing=sentence("feedback.closing"))


def text_of(marked: Marked, applied: Applied, exercise: str, most: int) -> str:
    """The page as plain text."""
    out = [exercise, visible(marked.name), "", _marks(applied, most), *paragraph(marked.headline, COLUMNS)]
    for comment in applied.comments:
        out += ["", *paragraph(comment, COLUMNS)]
    out += ["", "Marks"]
    for p in applied.points:
        earned = "?" if p.open else str(p.marks)
        first, *more = paragraph(p.why, COLUMNS - _BEFORE_WHY) or [""]
        out.append(f"  {f'{p.name:14} {earned:>3} of {p.most}':{_BEFORE_WHY - 2}}{first}")
        out += [" " * _BEFORE_WHY + row for row in more]
    if marked.lines:
        out += ["", "Line by line"]
        places = [_place(x) for x in marked.lines]
        width = max(len(x.standing) for x in marked.lines)
        before = width + 4 + max(map(len, places)) + (2 if any(places) else 0)
        for x, place in zip(marked.lines, places, strict=True):
            out.append(f"{f'  {x.standing:{width}}  {place}':{before}}{visible(x.text.strip())}")
            if x.sentence:
                out += [" " * before + row for row in paragraph(x.sentence, COLUMNS - before)]
    for heading, said in marked.account:
        out += ["", heading, *(row for s in said for row in _indented(s))]
    out += ["", *paragraph(sentence("feedback.closing"), COLUMNS)]
    return "\n".join(row.rstrip() for row in out) + "\n"


def _place(x: MarkedLine) -> str:
    """What a line is called, where it does not begin with that itself."""
    return "" if x.text.strip().startswith(x.place) else x.place


def _marks(applied: Applied, most: int) -> str:
    facts = {"marks": str(applied.total), "most": str(most), "open": str(applied.open_marks)}
    return sentence("piece.marks_open" if applied.open_marks else "piece.marks", facts)


def _indented(text: str) -> list[str]:
    return ["  " + row for row in paragraph(text, COLUMNS - 2)]
