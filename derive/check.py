"""The whole of checking one working, in the order in which it happens: text → tree → statements → verdicts.

`check_text` reads and checks; `check_document` is the recipe. Nothing is raised for what a person typed.
"""

from __future__ import annotations

from derive.guarding import PAGE
from derive.opening import may_be_crossed, opened
from derive.page import Page
from derive.records import UNSURE, Check, Document, Standing
from derive.terms.allowance import allowance
from derive.text.document import read_document


def check_text(text: str, source: str = "") -> Check:
    """Check a working given as text."""
    return check_document(read_document(text, source))


def check_document(document: Document, proofs: bool = True) -> Check:
    """Read and decide every line of a document's working, one after the other. Where `M = r × F` may be meant of
    vectors or of their sizes, that of which more holds."""
    if not (document.working or document.solution or document.given):
        return Check(document, "unread", problems=document.problems)
    found = _checked(document, proofs)
    if found.outcome == "unbroken" or not may_be_crossed(document):
        return found
    crossed = _checked(document, proofs, crossed=True)
    return crossed if _goes_well(crossed) > _goes_well(found) else found


def _goes_well(check: Check) -> int:
    """How many lines a working goes on before one that does not stand."""
    bad = (Standing.FAILS, *UNSURE)
    return next((k for k, x in enumerate(check.lines) if any(v.standing in bad for v in x.verdicts)), len(check.lines))


def _checked(document: Document, proofs: bool, crossed: bool = False) -> Check:
    with allowance(PAGE):
        page = opened(document, proofs, crossed=crossed)
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
