"""A file as a Document: what kind of text it is, its sections, and everything wrong with its form.

The stages in order: bytes → text → lines → sections → declarations, labelled lines, mark points. Nothing
mathematical is read here but the bounds of symbols; nothing is raised at what a person typed.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from derive.problems import problem
from derive.quantities.declarations import declared
from derive.records import Document, Problem, RawLine
from derive.text.decode import decode, split_lines
from derive.text.headings import Heading
from derive.text.lines import read_rows, with_cites
from derive.text.marks import read_marks
from derive.text.rows import Row
from derive.text.sections import Sections, split_sections

Kind = Literal["exercise", "working", "quick"]

_MATHEMATICAL = re.compile(r"[=<>≤≥≈~∝≠⇒→]|\\[a-z]|->|\bequals?\b")


def read_document(data: bytes | str, source: str) -> Document:
    """The document in a file's bytes (or in text already decoded). `source` is its name, for showing."""
    text = decode(data)
    if isinstance(text, Problem):
        return Document(source, "quick", problems=(text,))
    lines, too_many = split_lines(text)
    sections = split_sections(lines)
    under, kind = _arranged(sections)
    table = declared((row.number, " " * row.start + row.content) for row in under.get("symbols", ()))
    under["given"] = (*(Row(number, said) for number, said in table.given), *under.get("given", ()))
    scheme = read_marks(under.get("marks", ()))
    parts = {heading: read_rows(under.get(heading, ())) for heading in ("given", "show", "working", "solution")}
    parts["show"] = tuple(map(_naming, parts["show"]))
    labels = [line.label for part in parts.values() for line in part if line.label]
    cited = {heading: with_cites(part, labels) for heading, part in parts.items()}
    named = _names_exercise(sections, under, kind)
    missing = [] if under.get("working") or kind == "exercise" else [problem("working.none")]
    return Document(
        source, kind,
        title="" if named else sections.title,
        exercise=sections.title if named else "",
        statement="\n".join(row.text.strip() for row in _statement(sections, under)),
        symbols=table.symbols,
        given=cited["given"], show=cited["show"], working=cited["working"], solution=cited["solution"],
        marks=scheme.points,
        problems=(*sections.problems, *table.problems, *scheme.problems, *_ambiguous_labels(cited.values()),
                  *missing, *too_many),
    )


def _arranged(sections: Sections) -> tuple[dict[Heading, tuple[Row, ...]], Kind]:
    """The rows under each heading, and the kind of document they make.

    Without headings the bare lines are the working. A file with `Solution:` is an exercise, unless that
    is all it has: then a student called the working so."""
    under = dict(sections.under)
    if not sections.headed:
        rows = sorted((*sections.opening, *under.get("working", ())), key=lambda row: row.number)
        if any(_MATHEMATICAL.search(row.text) for row in rows):
            under["working"] = tuple(rows)
        return under, "working" if sections.title else "quick"
    if under.get("solution") and not under.keys() & {"working", "marks", "show"}:
        under["working"] = under.pop("solution")
    if "solution" in under or "marks" in under:
        return under, "exercise"
    complete = "show" in under and ("given" in under or "symbols" in under)
    return under, "exercise" if complete and "working" not in under else "working"


def _statement(sections: Sections, under: dict[Heading, tuple[Row, ...]]) -> Iterable[Row]:
    """The rows of the statement: those before the first heading that were not taken for the working."""
    working = {row.number for row in under.get("working", ())}
    return (row for row in sections.opening if row.number not in working)


def _names_exercise(sections: Sections, under: dict[Heading, tuple[Row, ...]], kind: Kind) -> bool:
    """Whether `Exercise: …` names one kept elsewhere: not in an exercise, nor in a working with its own
    givens and goal, or symbols."""
    own = bool(under.get("given")) and ("show" in under or "symbols" in under)
    return bool(sections.title) and kind != "exercise" and not own


def _naming(goal: RawLine) -> RawLine:
    """What only names the quantity to be found (`Find: the speed v`) is words: nothing could arrive at it."""
    return goal if _MATHEMATICAL.search(goal.text[goal.body.start:goal.body.end]) else replace(goal, remark=True)


def _ambiguous_labels(parts: Iterable[tuple[RawLine, ...]]) -> list[Problem]:
    """Labels that stand at two lines and are cited: nobody can tell which is meant."""
    lines = [line for part in parts for line in part]
    cited = {label for line in lines for label in line.cites}
    seen: Counter[str] = Counter()
    problems = []
    for line in lines:
        seen[line.label] += 1
        if seen[line.label] == 2 and line.label in cited:
            problems.append(problem("label.twice", line.number, label=line.label))
    return problems
