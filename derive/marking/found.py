"""What the lines of a working say of one point: met, followed through, for a person to look at, or nothing.

A line that was not decided and a line that could not be read never cost a mark: the point is left open.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum

from derive.marking.aiming import tries, unlikeness
from derive.marking.form import Form, gives, lone_side
from derive.marking.heard import Heard, is_goal
from derive.marking.pieces import Piece
from derive.marking.sameness import same
from derive.marking.scheme import Point
from derive.notation.tree import Name, rebuilt, walk


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

    @property
    def earned(self) -> bool:
        return self.found in (Found.MET, Found.FOLLOWED)

    def as_found(self, found: Found, code: str, line: int = 0, /, **facts: str) -> Award:
        """The same point found otherwise."""
        marks = self.most if found in (Found.MET, Found.FOLLOWED) else 0
        return replace(self, marks=marks, found=found, line=line or self.line, code=code, facts=tuple(facts.items()))


def found(point: Point, h: Heard) -> Award:
    """What the lines say of a point by itself."""
    best = Award(point.label, point.row.marks, 0, Found.NOT, code="award.not_met")
    if not point.aims:
        return best.as_found(Found.OPEN, "award.point_unread")
    met = said_by(point, h)
    if met:
        return best.as_found(Found.MET, "award.met", met[-1].line)
    doubtful = _doubtful(point, h, best)
    if doubtful is not None:
        return doubtful
    wrong, followed = tries(point, h.slipped, h), _from_a_slip(point, h, best)
    if wrong and not (followed is not None and _used_before(wrong[0], point, followed)):
        return best.as_found(Found.NOT, "award.spoiled", wrong[0].line)
    return followed or _perhaps(point, h, best)


def _used_before(wrong: Piece, point: Point, followed: Award) -> bool:
    """Was a method followed through before a line that goes wrong with it? A method that was used stays used."""
    return point.row.kind == "M" and followed.found is Found.FOLLOWED and followed.line < wrong.line


def said_by(point: Point, h: Heard) -> list[Piece]:
    """The pieces by which a point is met, in the order of their lines; none where it is not."""
    for aim in point.aims:
        pieces = [_saying(wanted, [p for p in h.good if not still_to_solve(p, wanted, point)], h) for wanted in aim]
        if all(pieces):
            return sorted((p for p in pieces if p is not None), key=lambda p: p.line)
    return []


def still_to_solve(piece: Piece, wanted: Piece, point: Point) -> bool:
    """Is a piece an equation that is still to be solved for the result that a point asks for, which stands in it more
    than once (`0 = h + u t - ½ g t²`)? It says the same, and yet not what the result is."""
    result = wanted.subject
    return point.row.kind == "A" and isinstance(result, Name) and (
        sum(isinstance(n, Name) and n.ident == result.ident for n in walk(piece.claim)) > 1)


def _saying(wanted: Piece, pieces: Iterable[Piece], h: Heard) -> Piece | None:
    """The piece that says what is wanted: one that says it in the same form before one in another arrangement. A goal
    that only stands there is no arrangement of what comes before it."""
    ordered = sorted(((unlikeness(p, wanted, h), k, p) for k, p in enumerate(pieces)), key=lambda x: x[:2])
    side = lone_side(wanted)
    return next((
        p for _, _, p in ordered
        if (p not in h.bare or gives(p, side)) and same(p, wanted, h.ground)), None)


# --- from a slip --------------------------------------------------------------------------------------------


def _from_a_slip(point: Point, h: Heard, best: Award) -> Award | None:
    """The point by lines carried from the writer's own slip: the same quantity in the same symbols."""
    for aim in point.aims:
        hits = [carried_for(w, point, h) for w in aim]
        if all(hits):
            at = max(p.line for p in hits if p is not None)
            right = all(p is not None and same(p, w, h.ground) for p, w in zip(hits, aim, strict=True))
            if right or point.row.follow_through:
                return best.as_found(Found.FOLLOWED, "award.followed", at)
    if not point.row.follow_through:
        return None
    wanted = [h.form(w) for aim in point.aims for w in aim]
    near = next((p for p in h.carried if any(_falls_short(h.form(p), w, point) for w in wanted)), None)
    return best.as_found(Found.OPEN, "award.nearly_followed", near.line) if near is not None else None


def carried_for(wanted: Piece, point: Point, h: Heard) -> Piece | None:
    """A carried piece that gives what is wanted, as its writer's slip makes it. An inequality that says less than
    what is wanted may hold all the same. Where the symbol that a slip has lost leaves no dimensions that fit, its
    writer could have seen it."""
    form = h.form(wanted)
    brought = frozenset(s for p in h.slipped for s in h.form(p).names)
    lost = h.lost
    start = min((p.line for p in h.slipped), default=0)
    weaker = [p for p in h.good if start and p.line > start and h.form(p).inequality]
    for p in (*h.carried, *weaker):
        own = h.form(p)
        short = own.short_of(form, lost) and h.scheme.page.dimensions.examine(p.claim) is None
        if own.like(form) or own.beyond(form, brought) or short or same(p, wanted, h.ground):
            return p
        if point.row.kind == "M" and (own.speaks_as(form) or _adds(own, form, brought)):
            return p
    return None


def _adds(own: Form, form: Form, brought: frozenset[str]) -> bool:
    """The symbols of a form and some that a slip has brought in, wherever they stand."""
    return own.inequality == form.inequality and form.names < own.names and own.names - form.names <= brought


def _falls_short(own: Form, form: Form, point: Point) -> bool:
    """The same quantity by fewer symbols; of a method, a line that lacks but one."""
    if own.within(form):
        return True
    lacking = form.names - own.names
    return point.row.kind == "M" and own.names < form.names and len(lacking) == 1 and bool(own.symbols)


# --- what leaves a point open -------------------------------------------------------------------------------


def _doubtful(point: Point, h: Heard, best: Award) -> Award | None:
    """A line that says the point itself, in its own terms, and was not found to follow; a goal is easily copied."""
    if is_goal(point, h):
        return None
    for aim in point.aims:
        said = [
            next((p for p in (*h.good, *h.unsure, *h.slipped)
                  if unlikeness(p, w, h) < 2 and same(p, w, h.ground)), None) for w in aim]
        doubtful = next((p for p in said if p is not None and p not in h.good), None)
        if all(said) and doubtful is not None:
            return best.as_found(Found.OPEN, "award.doubtful", doubtful.line)
    return None


def _perhaps(point: Point, h: Heard, best: Award) -> Award:
    """A line that was not decided or not read and may have met the point keeps it open."""
    wanted = [h.form(w) for aim in point.aims for w in aim]
    declared = frozenset(s.name for s in h.check.document.symbols)
    for p in h.unsure:
        own = h.form(p)
        # A name that nobody declared (`cos th`) may be meant for any of the symbols.
        strange = p.code == "unknown.name"
        vague = not own.symbols or strange
        if any(own.like(w) or own.comparable(w) or (own.same_subject(w) and vague)
               or (strange and own.renamed(w, declared)) for w in wanted):
            return best.as_found(Found.OPEN, "award.undecided", p.line)
    if h.unread:
        return best.as_found(Found.OPEN, "award.unreadable", h.unread[0].line.number)
    other = next((p for p in h.good for w in sum(point.aims, ()) if _of_another_name(p, w, h)), None)
    if other is not None:
        return best.as_found(Found.OPEN, "award.other_name", other.line)
    if any(same(p, w, h.ground) for p in h.copied for aim in point.aims for w in aim):
        return best.as_found(Found.NOT, "award.copied")
    return best


def _of_another_name(piece: Piece, wanted: Piece, h: Heard) -> bool:
    """Does a piece give the same of a name that differs by its index: `r = 2 A/B` where r_0 is wanted?"""
    own, asked = piece.subject, wanted.subject
    if not (isinstance(own, Name) and isinstance(asked, Name)) or own == asked or (
            own.ident.partition("_")[0] != asked.ident.partition("_")[0]):
        return False
    change: dict[int, object] = {id(n): asked for n in walk(piece.claim) if n == own}
    return same(replace(piece, claim=rebuilt(piece.claim, change)), wanted, h.ground)  # type: ignore[arg-type]
