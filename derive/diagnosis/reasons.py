"""Is the reason given beside a line what was done? And what would it have given?

A reason never makes a line right or wrong. Where it names an operation on a line (`divide (1) by m`), the
operation is done here on the tree and compared; where it cites lines, the caller is asked whether those give
the line. Words that are not understood are left alone: silence, not blame.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

from derive.diagnosis.hints import Grade, Hint
from derive.diagnosis.not_done import was_not_done
from derive.diagnosis.pieces import ONE, negated, over, power, product, terms_of, total
from derive.diagnosis.sites import bare, size
from derive.notation.tree import Claim, Expr, Relation, relations

FollowsFrom = Callable[[Claim, tuple[str, ...]], bool]
LONGEST = 300  # characters of a reason that are looked at; a longer one is an essay, not an operation
LARGEST = 300  # nodes of a line
MOST_OTHERS = 6  # lines that are tried in the place of one that was cited


class Operation(NamedTuple):
    """A way to work on both sides of a line.

    said:  how a reason names it; the group `by`, where there is one, is the piece it works with.
    does:  what becomes of a side; None where that is not worked out here.
    """

    name: str
    said: re.Pattern[str]
    does: Callable[[Expr, Expr], Expr] | None


_BY = r"(?P<by>[^,;]+?)\s*(?=$|[,;]|\b(?:and|then|so|on both|in|from|to)\b)"
_WHAT = r"(?:\s+(?:both|each|the|sides?|line|equation|through(?:out)?|it|this|[\[(]\w+'?[\])]))*"


def _said(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


def _times(side: Expr, by: Expr) -> Expr:
    return product((by, side))


def _plus(side: Expr, by: Expr) -> Expr:
    return total((side, by))


def _minus(side: Expr, by: Expr) -> Expr:
    return total((side, *map(negated, terms_of(by))))


def _root(side: Expr, _: Expr) -> Expr:
    return power(side, Fraction(1, 2))


def _square(side: Expr, _: Expr) -> Expr:
    return power(side, 2)


OPERATIONS: tuple[Operation, ...] = (
    Operation("divide", _said(rf"(?:\bdivi(?:de|ded|ding|sion){_WHAT}\s+by\s+|^\s*÷\s*){_BY}"), over),
    Operation("multiply", _said(
        rf"(?:\bmultipl(?:y|ied|ying){_WHAT}\s+(?:by|with)\s+|^\s*(?:times|×)\s+){_BY}"), _times),
    Operation("add", _said(rf"\badd(?:ed|ing)?\s+{_BY}"), _plus),
    Operation("subtract", _said(rf"\bsubtract(?:ed|ing)?\s+{_BY}"), _minus),
    Operation("root", _said(r"\broots?\b"), _root),
    Operation("square", _said(r"\bsquar(?:e|ed|ing)\b(?!\s+roots?)"), _square),
    Operation("differentiate", _said(r"\bdifferentiat(?:e|ed|ing|ion)\b"), None),
    Operation("integrate", _said(r"\bintegrat(?:e|ed|ing|ion)\b"), None),
)


@dataclass(frozen=True, slots=True)
class Said:
    """An operation that a reason names, with the piece it works with (None for a square or a root)."""

    name: str
    by: Expr | None
    words: str

    def done_to(self, line: Relation) -> Relation | None:
        """The line that the operation gives, worked out on both sides as they stand."""
        does = next(o.does for o in OPERATIONS if o.name == self.name)
        if does is None:
            return None
        by = self.by if self.by is not None else ONE
        return Relation(tuple(bare(does(s, by)) for s in line.sides), line.signs)


def read_reason(reason: str, read_piece: Callable[[str], Expr | None]) -> Said | None:
    """The operation that a reason names, or None. `read_piece` reads mathematics; it may fail with None."""
    if len(reason) > LONGEST:
        return None
    for operation in OPERATIONS:
        found = operation.said.search(reason)
        if found is None:
            continue
        if "by" not in operation.said.groupindex:
            return Said(operation.name, None, found.group().strip())
        by = read_piece(found.group("by").strip())
        if by is not None and size(by) <= LARGEST:
            return Said(operation.name, by, found.group().strip())
    return None


def remarks_on_right_line(
    claim: Claim, reason: str, said: Said | None, cited: Mapping[str, Claim], before: Claim | None,
    follows_from: FollowsFrom, others: Sequence[str] = (),
) -> tuple[Hint, ...]:
    """What to remark of the reason of a line that follows: lines cited in error, an operation that was not done.

    cited:  the claims of the labels that the reason cites.  before: the line just above, worked on where the
            reason cites none.  others: labels that the reason does not cite. A reason that names too few lines
            is no fault; one that names a line in place of the one that gives the claim is.
    """
    if cited and not follows_from(claim, tuple(cited)):
        rather = _lines_that_give(claim, tuple(cited), follows_from, others)
        if rather:
            return (Hint("reason.lines", (("cited", _listed(cited)), ("found", _listed(rather)))),)
        return ()
    source = _source(cited, before)
    if said is None or source is None or not isinstance(claim, Relation):
        return ()
    not_done = size(claim) <= LARGEST and was_not_done(said.name, said.by, source, claim)
    return (Hint("reason.operation", (("reason", reason.strip()),)),) if not_done else ()


def _lines_that_give(
    claim: Claim, cited: tuple[str, ...], follows_from: FollowsFrom, others: Sequence[str]
) -> tuple[str, ...]:
    """One line that gives a claim by itself, or one that gives it in the place of one of those cited."""
    for other in others:
        if follows_from(claim, (other,)):
            return (other,)
    for other in others[:MOST_OTHERS] if len(cited) == 2 else ():
        for kept in cited:
            if follows_from(claim, (kept, other)):
                return tuple(sorted((kept, other)))
    return ()


def explained(
    said: Said | None, cited: Mapping[str, Claim], before: Claim | None, grade: Grade,
    as_text: Callable[[Any], str],
) -> tuple[Hint, ...]:
    """What the operation of a reason would have given, for a line that does not follow.

    That may well be the next right line, so only the grade that shows edits shows it.
    """
    source = _source(cited, before)
    if grade != "edit" or said is None or source is None:
        return ()
    result = said.done_to(source)
    if result is None:
        return ()
    facts = (("reason", said.words), ("label", _listed(cited)), ("result", as_text(result)))
    return (Hint("reason.would_give", facts),)


def _listed(cited: Iterable[str]) -> str:
    return " and ".join(f"({label})" for label in cited)


def _source(cited: Mapping[str, Claim], before: Claim | None) -> Relation | None:
    """The one plain equation that a reason works on, or None where that is not clear."""
    lines = list(cited.values()) if cited else [before] if before is not None else []
    found = [r for line in lines for r in relations(line)]
    return found[0] if len(found) == 1 and set(found[0].signs) == {"="} and size(found[0]) <= LARGEST else None
