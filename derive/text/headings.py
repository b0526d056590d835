"""Which lines are headings: `Given:`, `## Working`, `To find: a`, and those typed nearly so.

The plain words are taken as headings nearly everywhere; the others only where no line of a working could be meant.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from typing import Literal

from derive.notation.lists.word_lists import words
from derive.notation.names import canonical
from derive.notation.tree import Span
from derive.problems import problem
from derive.records import Problem
from derive.text.rows import Row

Heading = Literal["symbols", "given", "show", "working", "solution", "marks"]

SPELLINGS: dict[str, Heading] = {
    "symbols": "symbols", "symbol": "symbols",
    "given": "given", "givens": "given",
    "show": "show", "to show": "show", "show that": "show",
    "working": "working", "workings": "working",
    "solution": "solution", "marks": "marks",
}
# Other words for the same. Among the lines of a working they are words like any others.
_ALSO: dict[str, Heading] = {
    **dict.fromkeys(("variables", "variable", "quantities", "notation"), "symbols"),
    **dict.fromkeys(("known", "knowns", "data", "known values", "assumptions", "constants", "facts", "we know"),
                    "given"),
    **dict.fromkeys(("goal", "goals", "find", "to find", "need to find", "want", "wanted", "prove", "prove that",
                     "to prove", "required", "aim", "determine", "unknown", "unknowns"), "show"),
    **dict.fromkeys(("steps", "work", "derivation", "proof", "answer", "answers", "ans", "calculation", "calculations",
                     "sol", "soln"), "working"),
}
# Around the word of a heading these say no more: `Given data:`, `My working:`, `Symbols and units:`.
_FILLING = words(
    "the my our data values quantities information used and units out that following are is to for of part question")
_HEADINGS = ("Exercise", "Symbols", "Given", "Show", "Working", "Solution", "Marks")
_ALONE = re.compile(
    r"\s*(?P<mark>#+\s+|[*=_]+\s*)?(?P<word>[^\W\d_]{2,}(?: [^\W\d_]{2,}){0,2})\.?"
    r"(?P<part>\s*\(?(?:\d{1,2}|[a-e])\)?)?\s*(?P<colon>[:\uff1a])?\s*[*=_#]*\s*\Z"
)
_WITH_TEXT = re.compile(r"\s*(?P<word>[^\W\d_]{2,}(?: [^\W\d_]{2,}){0,2})\s*[:\uff1a]\s*(?=\S)")
# `Show that a = F/m`, `Find T`: below a table or what is given, that is what is to be shown, and no part of it.
_ASKS = re.compile(r"\s*(?:to\s+)?(?:(?:show|prove)\s+that|show|prove|find|determine)\b[:,]?\s*(?=\S)", re.IGNORECASE)
_ASKED_BELOW = ("symbols", "given")
_LONGEST_HEADING = 200  # characters
# Under these a person writes words before a colon (`Energy:`), so only a near miss is called a heading.
HOLDS_LINES = ("working", "solution")
# Where a colon after a word is no heading: `given: …` in a working stays words, so that no line of it
# becomes a premise by how it is introduced.
_ROWS_WITH_COLONS = (*HOLDS_LINES, "marks")


@dataclass(frozen=True, slots=True)
class Alone:
    """A heading on a line of its own."""

    heading: str
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Inline:
    """A heading with its text on the same line, which begins at `start`."""

    heading: Heading
    start: int
    problems: tuple[Problem, ...] = ()


def heading_of(row: Row, here: str, underway: bool) -> Alone | Inline | None:
    """The heading that a row is or begins with. `here`: the heading it stands under; `underway`: a working without
    headings has begun, so that no word but the plain ones is taken for one."""
    text = row.text
    if len(text) > _LONGEST_HEADING and not text[:_LONGEST_HEADING].strip():
        return None
    alone = _ALONE.match(text) if len(text) <= _LONGEST_HEADING else None
    if alone and alone["colon"]:
        return _heading_alone(alone, row.number, here, underway)
    if alone:  # `Given`, `## Solution`: without its colon a word is a heading only where no line could be meant
        line = here in HOLDS_LINES or underway or (alone["part"] and not alone["mark"])
        bare = None if line else SPELLINGS.get(alone["word"].lower())
        return Alone(bare) if bare else None
    asks = _ASKS.match(text) if here in _ASKED_BELOW else None
    if asks:
        return Inline("show", asks.end())
    with_text = _WITH_TEXT.match(text) if here not in _ROWS_WITH_COLONS else None
    heading = _meant(with_text["word"], here, underway=False) if with_text else None
    if with_text is None or heading is None:
        return None
    other = with_text["word"].lower() not in SPELLINGS
    if (heading in HOLDS_LINES and other) or (here == "symbols" and heading not in ("given", "show")):
        return None  # `Answer: a = F/m` is a line with a word before it
    return Inline(heading, with_text.end())


def _meant(typed: str, here: str, underway: bool) -> Heading | None:
    """The heading that a word or a few are, but for words that add nothing."""
    typed = typed.lower()
    phrases = (typed, " ".join(w for w in typed.split() if w not in _FILLING))
    known = SPELLINGS if here in HOLDS_LINES or underway else SPELLINGS | _ALSO
    return next((known[p] for p in phrases if p in known), None)


def _heading_alone(found: re.Match[str], number: int, here: str, underway: bool) -> Alone | None:
    word = found["word"].lower()
    meant = _meant(word, here, underway)
    if meant is not None:
        return Alone(meant)
    if found["part"]:  # `Part (b):`
        return None
    span = Span(*found.span("word"))
    near = difflib.get_close_matches(word, SPELLINGS, n=1, cutoff=0.75)
    if near:
        meant = SPELLINGS[near[0]]
        return Alone(meant, (problem("heading.meant", number, span, typed=found["word"], meant=meant.capitalize()),))
    if here in HOLDS_LINES or here == "opening" or " " in word or (here == "symbols" and len(canonical(word)) == 1):
        return None
    listed = ", ".join(_HEADINGS)
    return Alone("unknown", (problem("heading.unknown", number, span, typed=found["word"], headings=listed),))
