"""How much of a slip to tell: the place, the kind with the term, or the edit itself.

The words are in `derive/messages/slips.py`. The two lower grades speak of nothing but what the writer typed, so that
a student's check cannot give away a line that is still to be found; only the grade for a marker may.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from derive.diagnosis.edits import Edit
from derive.diagnosis.kinds_terms import EXPRESSIONS
from derive.diagnosis.pieces import rounded
from derive.diagnosis.search import Slip
from derive.diagnosis.sites import span_of
from derive.notation.printed.quoting import with_its_brackets
from derive.notation.tree import Apply, Derivative, Differential, Integral, Name, Span, walk
from derive.terms.numbers import bare_number

Grade = Literal["place", "kind", "edit"]
Facts = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Hint:
    """One sentence about a line: a code of `derive/messages/slips.py` with its facts, and the stretch it speaks of."""

    code: str
    facts: Facts = ()
    span: Span | None = None


def hints(
    slip: Slip, grade: Grade, typed: str, as_text: Callable[[Any], str], number: bool = False, assumed: bool = False
) -> tuple[Hint, ...]:
    """The sentences about a slip at a grade. `typed` is the line as its writer typed it; of a `number` that does not
    come out there is little to say but to work it out again, and of what is `assumed` how to say so."""
    if slip.found == "none" and number:
        return (Hint("slip.number_unclear"),)
    if slip.found == "none" and assumed:
        return (Hint("slip.assumed"),)
    if slip.found == "none":
        return (Hint("slip.unclear" if slip.all_tried else "slip.not_all_tried"),)
    if slip.found == "several":
        return _of_several(slip, grade, typed, as_text)
    edit = slip.edits[0]
    term = _term(edit.span, typed)
    if grade == "place":
        return (Hint("slip.place", term, edit.span),)
    kind = Hint(f"slip.{_kind(edit)}", term, edit.span)
    return (kind,) if grade == "kind" else (kind, _in_full(edit, typed, as_text))


def _kind(edit: Edit) -> str:
    """A number that was worked out has none in front of it: there it is the result that is off."""
    if edit.kind == "function" and not _is_of_an_angle(edit):
        return "function_alone"
    if edit.family == "number" and isinstance(edit.before, EXPRESSIONS) and bare_number(edit.before) is not None:
        return "factor_of_result"
    return edit.kind


def _is_of_an_angle(edit: Edit) -> bool:
    """Does a side of a triangle decide between a sine and a cosine, and not a rate of change or the time?"""
    changing = any(isinstance(n, Derivative | Differential | Integral) or n == Name("t") for n in walk(edit.claim))
    return not changing and all(
        n.function in ("sin", "cos", "tan", "cot") for n in walk(edit.before) if isinstance(n, Apply))


def _of_several(slip: Slip, grade: Grade, typed: str, as_text: Callable[[Any], str]) -> tuple[Hint, ...]:
    """Only what all the edits that would do share; a marker sees each of them."""
    span = slip.span
    term = _term(span, typed)
    if grade == "place" or not slip.kind:
        shared = Hint("slip.place", term, span) if term else Hint("slip.several")
    else:
        shared = Hint(f"slip.{_kind(slip.edits[0])}", term, span)
    if grade != "edit":
        return (shared,)
    return (shared, *(_in_full(e, typed, as_text) for e in slip.edits))


def _in_full(edit: Edit, typed: str, as_text: Callable[[Any], str]) -> Hint:
    if edit.kind == "sign":
        return Hint("slip.edit_sign", _term(edit.span, typed), edit.span)
    span = span_of(edit.piece)
    before = dict(_term(span, typed)).get("term", "") or as_text(edit.piece)
    return Hint("slip.edit", (("before", before), ("after", as_text(rounded(edit.after)))), span)


def _term(span: Span | None, typed: str) -> Facts:
    piece = with_its_brackets(span, typed).strip() if span is not None else ""
    return (("term", piece),) if piece else ()
