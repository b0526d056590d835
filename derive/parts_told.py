"""`complementary function: A cos ω0 t + B sin ω0 t`, `try C cos ωt`: a part of a solution told by its words and what it
comes to, of the one thing that moves as an equation says."""

from __future__ import annotations

import re
from dataclasses import replace

from derive.notation.names import Scope
from derive.notation.reader import read_expression
from derive.notation.tree import Apply, Expr, Name, Power, Quotient, Relation, Span, Statement, walk
from derive.records import LineVerdict, RawLine, Reading, Standing, Unreadable, Verdict
from derive.states.context import Context
from derive.terms.term import variables
from derive.terms.world import TIME

# What the parts are called (common practice, no source), and the index that their name gets.
_KIND = r"(?: (?:function|integral|solution|part))"
_CALLED = (
    (re.compile(r"(?:the )?(?:complementary|homogeneous)" + _KIND + r"?\s*(?::|=|\bis\b)?\s*", re.I), "h"),
    (re.compile(r"C\.?F\.?\s*(?::|=|\bis\b)\s*"), "h"),
    (re.compile(r"(?:the )?particular" + _KIND + r"?\s*(?::|=|\bis\b)?\s*(?:try )?", re.I), "p"),
    (re.compile(r"P\.?I\.?\s*(?::|=|\bis\b)\s*(?:try )?"), "p"),
    (re.compile(r"(?:try|trial(?: solution| function)?|guess)\s*:?\s*", re.I), ""),
)
_RELATES = re.compile(r"[=<>≤≥≈~∝→≠]")


_PARTS = frozenset(("h", "c", "hom", "p", "part"))


def part_told(line: RawLine, scope: Scope, context: Context) -> list[Reading] | None:
    """The line as `x_h = …`, `x_p = …` or a trial of x; None where it is nothing of the kind."""
    typed = line.text[line.body.start:line.body.end]
    moving = {v.name for p in context.premises for v in variables(p.term) if v.order > 0 and v.wrt == TIME}
    moving = {n for n in moving if n.partition("_")[2] not in _PARTS}
    if len(moving) != 1 or _RELATES.search(typed):
        return None
    (name,) = moving
    for called, index in _CALLED:
        head = called.match(typed)
        course: Expr | Unreadable | None = read_expression(
            typed[head.end():], replace(scope, free=True)) if head else None
        if head and course is not None and not isinstance(course, Unreadable) and _reckons(course):
            part = Name(f"{name}_{index}" if index else name)
            claim = Relation((part, course), ("=",), span=line.body)
            said = Statement("claim" if index else "try", claim, span=line.body)
            return [Reading((said,), words=head.group().strip(" :="))]
    return None


_HEAD = re.compile(r"[^\W\d_][^:=<>]*?[^\W\d_]{3,}[^:=<>]*:\s*")


def past_an_expression(line: RawLine, scope: Scope) -> RawLine | None:
    """What a line goes on with behind what words say of an expression: `ratio of maxima: e^(γ T), T = 2π/ω`."""
    typed = line.text[line.body.start:line.body.end]
    head, comma = _HEAD.match(typed), typed.find(",")
    told = typed[head.end():comma] if head is not None and comma > head.end() else ""
    if not told or _RELATES.search(told) or not _RELATES.search(typed[comma:]):
        return None
    said = read_expression(told, replace(scope, free=True))
    if isinstance(said, Unreadable) or not _reckons(said):
        return None
    return replace(line, body=Span(line.body.start + comma + 1, line.body.end))


def with_what_is_only_said(found: LineVerdict, line: RawLine, rest: RawLine) -> LineVerdict:
    """The verdicts on a line with the part before `rest` told apart, of which nothing is decided."""
    said = Verdict(
        Standing.REMARK, span=Span(line.body.start, rest.body.start - 1), note=line.text[:rest.body.start - 1].strip())
    return replace(found, line=line, verdicts=(said, *found.verdicts))


def _reckons(course: Expr) -> bool:
    """`C cos ωt`, `F/k`, and not the letters of `try it`, `particular case`."""
    return any(isinstance(n, Apply | Power | Quotient) for n in walk(course))
