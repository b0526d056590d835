"""The whole of checking one working, in the order in which it happens: text → tree → statements → verdicts.

`check_text` reads and checks; `check_document` is the recipe. Nothing is raised for what a person typed.
"""

from __future__ import annotations

from derive.guarding import PAGE
from derive.opening import opened
from derive.page import Page
from derive.records import Check, Document
from derive.terms.allowance import allowance
from derive.text.document import read_document


def check_text(text: str, source: str = "") -> Check:
    """Check a working given as text."""
    return check_document(read_document(text, source))


def check_document(document: Document, proofs: bool = True) -> Check:
    """Read and decide every line of a document's working, one after the other."""
    if not (document.working or document.solution or document.given):
        return Check(document, "unread", problems=document.problems)
    with allowance(PAGE):
        page = opened(document, proofs)
        stages = []
        for line in document.working or document.solution:
            stages.append(page)
            page = page.after(line)
        page = page.looked_back()
        goal = page.judged_goal()
    return Check(
        document, page.outcome(), tuple(page.lines), tuple(page.givens), goal, page.first_break(), page.problems,
        Stages(stages))


class Stages(tuple["Page", ...]):
    """The page before each line of a check. Left behind when a check is sent elsewhere: states are heavy."""

    __slots__ = ()

    def __reduce__(self) -> tuple[type[Stages], tuple[()]]:
        return Stages, ()
