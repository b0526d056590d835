"""Which points a working meets, and why: met, followed through, not met, or for a person to look at.

A line that was not established, a line that could not be read and a right working by a road that the scheme does
not know never cost a mark: the point is then left open.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from derive.marking.form import Form, form_of
from derive.marking.pieces import Piece, pieces_of_line
from derive.marking.sameness import Ground, restates_a_given, same
from derive.marking.scheme import Aim, Point, Scheme
from derive.records import Check, LineVerdict, Standing


class Found(Enum):
    """What was found of a point. The values are the words in which it is said."""

    MET = "met"
    FOLLOWED = "followed through"
    OPEN = "second look"
    WITHHELD = "not without what it needs"
    NOT = "not met"


@dataclass(frozen=True, slots=True)
class Award:
    """A point with the marks that are sure, the line that earned or opened it, and a reason by its code."""

    label: str
    most: int
    marks: int
    found: Found
    line: int = 0
    code: str = ""
    facts: tuple[tuple[str, str], ...] = ()

    @property
    def open(self) -> int:
        """The marks that hang on a second look."""
        return self.most if self.found is Found.OPEN else 0


ESTABLISHED = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES)
# A trial or a definition that a scheme asks for is met by being written down.
_TAKEN = ("taken.trial", "taken.definition", "taken.shorthand", "taken.initial")


def awarded(check: Check, scheme: Scheme, ground: Ground) -> tuple[Award, ...]:
    """The award of every point, in the order of the scheme."""
    said = [p for line in check.lines for p in pieces_of_line(line)]
    unread = [x for x in check.lines if x.unreadable is not None]
    found = {p.label: _found(p, said, unread, ground, scheme) for p in scheme.points}
    attempted = {p.label for p in scheme.points if _attempted(p, said, ground, scheme)}
    out: dict[str, Award] = {}
    for point in scheme.points:
        out[point.label] = _with_needs(point, found[point.label], {**found, **out}, attempted)
    if reached(check, said, ground):
        out = {label: _by_another_road(a) for label, a in out.items()}
    return tuple(out.values())


def reached(check: Check, said: Sequence[Piece], ground: Ground) -> bool:
    """Is a working unbroken and does it arrive at all that was to be shown?

    A goal may be reached in pieces (`b = …`, then `x = b sin ωt`): a line that gives its quantity is enough here,
    for all that hangs on it is whether a person looks.
    """
    goals = [p for x in check.goal for p in pieces_of_line(x)]
    good = [p for p in reversed(said) if _counts(p)]
    return check.outcome == "unbroken" and bool(goals) and all(
        any(_gives(p, g, ground) or same(p, g, ground) for p in good) for g in goals)


def _gives(piece: Piece, goal: Piece, ground: Ground) -> bool:
    return goal.subject is not None and piece.subject == goal.subject and not restates_a_given(piece, ground)


# --- one point ----------------------------------------------------------------------------------------------


def _found(
    point: Point, said: Sequence[Piece], unread: Sequence[LineVerdict], ground: Ground, scheme: Scheme
) -> Award:
    """What the lines say of a point by itself."""
    best = Award(point.label, point.row.marks, 0, Found.NOT, code="award.not_met")
    if not point.aims:
        return replace(best, found=Found.OPEN, code="award.point_unread")
    by_aim = [_of_aim(aim, said, ground) for aim in point.aims]
    for lines in by_aim:
        if lines and all(p is not None and _counts(p) for p in lines):
            at = max(p.line for p in lines if p is not None)
            return replace(best, marks=point.row.marks, found=Found.MET, line=at, code="award.met")
    for lines in by_aim:
        doubtful = next((p for p in lines if p is not None and not _counts(p)), None)
        if doubtful is not None and all(p is not None for p in lines):
            if doubtful.standing is Standing.CARRIED and point.row.follow_through:
                return replace(best, marks=point.row.marks, found=Found.FOLLOWED, line=doubtful.line,
                               code="award.followed")
            return replace(best, found=Found.OPEN, line=doubtful.line, code="award.doubtful")
    return _followed(point, said, ground, scheme, best) or _perhaps(point, said, unread, ground, scheme, best)


def _counts(piece: Piece) -> bool:
    return piece.standing in ESTABLISHED or (piece.standing is Standing.TAKEN and piece.code in _TAKEN)


def _of_aim(aim: Aim, said: Sequence[Piece], ground: Ground) -> list[Piece | None]:
    """For each piece of an aim the line that says it: an established one before any other."""
    return [_said(wanted, said, ground) for wanted in aim]


def _said(wanted: Piece, said: Sequence[Piece], ground: Ground) -> Piece | None:
    ordered = [p for p in said if _counts(p)] + [p for p in said if not _counts(p)]
    return next((p for p in ordered if same(p, wanted, ground)), None)


def _followed(point: Point, said: Sequence[Piece], ground: Ground, scheme: Scheme, best: Award) -> Award | None:
    """The point by a line carried from the writer's own slip: the same quantity in the same symbols."""
    if not point.row.follow_through:
        return None
    carried = [p for p in said if p.standing is Standing.CARRIED]
    for aim in point.aims:
        wanted = [form_of(w, ground, scheme) for w in aim]
        forms = [(p, form_of(p, ground, scheme)) for p in carried]
        hits = [next((p for p, f in forms if f.like(w)), None) for w in wanted]
        if all(hits):
            at = max(p.line for p in hits if p is not None)
            return replace(best, marks=point.row.marks, found=Found.FOLLOWED, line=at, code="award.followed")
        near = next((p for p, f in forms for w in wanted if f.within(w)), None)
        if near is not None:
            return replace(best, found=Found.OPEN, line=near.line, code="award.nearly_followed")
    return None


def _perhaps(
    point: Point, said: Sequence[Piece], unread: Sequence[LineVerdict], ground: Ground, scheme: Scheme, best: Award
) -> Award:
    """A line that was not decided or not read and may have met the point keeps it open."""
    wanted = [form_of(w, ground, scheme) for aim in point.aims for w in aim]
    for p in said:
        unsure = p.standing is Standing.UNDECIDED or (p.standing is Standing.TAKEN and p.code == "taken.start")
        if unsure and any(_alike(form_of(p, ground, scheme), w) for w in wanted):
            return replace(best, found=Found.OPEN, line=p.line, code="award.undecided")
    if unread:
        return replace(best, found=Found.OPEN, line=unread[0].line.number, code="award.unreadable")
    return best


def _alike(one: Form, other: Form) -> bool:
    return one.like(other) or one.within(other) or one.same_subject(other)


# --- what points need of each other -------------------------------------------------------------------------


def _attempted(point: Point, said: Sequence[Piece], ground: Ground, scheme: Scheme) -> bool:
    """Did the writer go for the point and slip? Then what needs it is not lost a second time."""
    wanted = [form_of(w, ground, scheme) for aim in point.aims for w in aim]
    slipped = [p for p in said if p.standing in (Standing.FAILS, Standing.CARRIED)]
    return any(form_of(p, ground, scheme).like(w) for p in slipped for w in wanted)


def _with_needs(point: Point, award: Award, found: dict[str, Award], attempted: Iterable[str]) -> Award:
    if award.found not in (Found.MET, Found.FOLLOWED):
        return award
    for need in point.row.needs:
        before = found.get(need)
        if before is None or before.marks or need in attempted:
            continue
        facts = (("point", need),)
        if before.found is Found.OPEN:
            return replace(award, marks=0, found=Found.OPEN, code="award.need_open", facts=facts)
        return replace(award, marks=0, found=Found.WITHHELD, code="award.need_not_met", facts=facts)
    return award


def _by_another_road(award: Award) -> Award:
    """Of a working that holds and arrives, a point not met is a question to the scheme, not a mark lost."""
    if award.found not in (Found.NOT, Found.WITHHELD):
        return award
    return replace(award, found=Found.OPEN, code="award.another_road")
