"""The search for a slip: which small edits of a line that does not follow would make it follow?

Whether an edited claim holds is asked of the caller, at points first and by proof for the few that pass.
One clear answer names the slip; several that do not come to the same name only what they share; none, nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from derive.diagnosis.alike import alike, empty
from derive.diagnosis.around import Around
from derive.diagnosis.edits import Edit, edits
from derive.diagnosis.sites import size
from derive.notation.tree import Claim, Expr, Span, Statement, relations
from derive.terms import allowance

# An edit this much less common than the best one is not a rival to it. Measured on injected slips: see
# tests/diagnosis/test_injected.py, which prints how many are named rightly and wrongly.
CLEAR = 0.35
# Counted in looks at the states (see trial.py), so that the same line gets the same answer on every machine; on an
# ordinary one it comes to some 0.3 s. Past the seconds of computing that a caller allows (see allowance) it stops too.
MOST_EFFORT = 600
# Where time runs out before every rival was tried, only a slip this common is named without a proof.
LIKELY = 2.0
LARGEST = 400  # nodes; a longer claim is no line of a working
MOST_CLASSES = 6

Holds = Callable[[Claim], bool]


@dataclass(frozen=True, slots=True)
class Slip:
    """What can be said of the slip in a line.

    found:  'one' (named), 'several' (edits that differ would all do), 'none'.
    edits:  the best edit of each sort that would make the line follow, likeliest first.
    proved: the named edit's claim was proved and not only found to hold at points.
    tried:  how many edited claims were tested.
    all_tried: no likely edit was left out for want of time.
    """

    found: Literal["one", "several", "none"]
    edits: tuple[Edit, ...] = ()
    proved: bool = False
    tried: int = 0
    all_tried: bool = True

    @property
    def kind(self) -> str:
        """The kind of slip that all rivals share (that of the likeliest, for kinds of one family), or ''."""
        families = {e.family for e in self.edits}
        return self.edits[0].kind if len(families) == 1 else ""

    @property
    def span(self) -> Span | None:
        """The smallest stretch of the line that all rivals touch, or None."""
        spans = [e.span for e in self.edits]
        if not spans or any(s is None for s in spans):
            return None
        found = sorted((s for s in spans if s is not None), key=lambda s: s.end - s.start)
        widest = found[-1]
        inside = all(widest.start <= s.start and s.end <= widest.end for s in found)
        return widest if inside else None


NOTHING = Slip("none")


def find_slip(
    statement: Statement, holds: Holds, *, around: Around | None = None, prove: Holds | None = None,
    fits: Holds | None = None, ruled_out: Holds | None = None, spent: Callable[[], float] | None = None,
    effort: int = MOST_EFFORT,
) -> Slip:
    """Search the edits of a statement's claim for those that make it follow.

    holds:  does a claim hold at the engine's points?     prove: is it proved as well?
    fits:   are its dimensions right?          ruled_out: can it be told at a glance that it does not hold?
    spent:  what the search has cost so far, where some questions cost more than others.
    effort: what it may cost; after that the search stops with what it has.
    """
    claim = statement.claim
    if claim is None or size(claim) > LARGEST:
        return NOTHING
    around = around or Around()
    limit = _limit(spent, effort)
    sorts, tried, complete = _edits_that_hold(claim, edits(claim, around), holds, fits, ruled_out, limit)
    if not sorts:
        return Slip("none", tried=tried, all_tried=complete)
    return replace(_judged(sorts, prove, tried, complete), all_tried=complete)


def _limit(spent: Callable[[], float] | None, effort: int) -> Callable[[int], bool]:
    """Is the search to stop, after so many tests?"""
    begun = spent() if spent is not None else 0
    return lambda tried: (tried if spent is None else spent() - begun) >= effort or allowance.spent()


def _edits_that_hold(
    claim: Claim, candidates: Iterable[Edit], holds: Holds, fits: Holds | None, ruled_out: Holds | None,
    over: Callable[[int], bool],
) -> tuple[list[Edit], int, bool]:
    """The likeliest edit of each sort that holds; how many were tested; whether no likely one was left out."""
    sorts: list[Edit] = []
    tried = 0
    sides = [side for r in relations(claim) for side in r.sides]
    for edit in candidates:
        if sorts and edit.cost > sorts[0].cost + CLEAR:
            return sorts, tried, True
        if len(sorts) >= MOST_CLASSES or over(tried):
            return sorts, tried, False
        if ruled_out is not None and ruled_out(edit.claim):
            continue
        tried += 1
        if (
            (fits is None or fits(edit.claim)) and holds(edit.claim) and not empty(edit.claim)
            and not any(_one_slip(edit, other, sides) for other in sorts)
        ):
            sorts.append(edit)
    return sorts, tried, not over(tried)


def _one_slip(a: Edit, b: Edit, sides: Sequence[Expr]) -> bool:
    """Two edits that come to the same: claims alike, or the same piece mended in the same way.

    What one piece must be for the line to hold is settled, so that two ways of writing it are equal in context;
    and a term may be missing from one side or, with its other sign, from the other.
    """
    if a.family != b.family:
        return alike(a.claim, b.claim)
    same_piece = a.before == b.before and a.span == b.span
    return same_piece or (a.family == "term" and a.before in sides and b.before in sides) or alike(a.claim, b.claim)


def _bounds(claim: Claim) -> bool:
    return any(sign not in ("=", "≈") for r in relations(claim) for sign in r.signs)


def _judged(sorts: list[Edit], prove: Holds | None, tried: int, complete: bool) -> Slip:
    """Name the slip where one sort stands clear of the others, or is the only one that can be proved."""
    rivals = [e for e in sorts if e.cost <= sorts[0].cost + CLEAR]
    if len(rivals) == 1 and (complete or rivals[0].cost <= LIKELY) and not (prove and _bounds(rivals[0].claim)):
        return Slip("one", (rivals[0],), False, tried)
    proved = [e for e in sorts[:3] if prove(e.claim)] if prove is not None else []
    if prove is not None and _bounds(rivals[0].claim):
        # Points cannot show a bound as they show an equation, and a weaker bound holds as well: only a proof names.
        rivals = [e for e in rivals if e in proved]
        return Slip("one", tuple(rivals), True, tried) if len(rivals) == 1 else Slip("none", tried=tried)
    if len(rivals) == 1 and rivals[0] in proved:
        return Slip("one", (rivals[0],), True, tried)
    if len(proved) == 1 and proved[0] is rivals[0]:
        return Slip("one", (proved[0],), True, tried)
    return Slip("several", tuple(rivals), False, tried)
