"""What a working says, piece by piece, sorted by what it is good for when points are awarded.

What the question itself gives away earns nothing by being copied out: a given as it stands, or a goal to which no
line leads.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from derive.marking.form import Form, form_of, gives, lone_side, typed
from derive.marking.judging import Judged
from derive.marking.pieces import Piece, pieces_of_claim, pieces_of_line
from derive.marking.sameness import TOO_MUCH, Ground, lacks_the_number, same, to_work_out
from derive.marking.scheme import Point, Scheme
from derive.notation.tree import Expr, Name, Product, Quotient
from derive.records import ESTABLISHED, Check, LineVerdict, Standing

# A trial or a definition that a scheme asks for is met by being written down.
_TAKEN = ("taken.trial", "taken.definition", "taken.shorthand", "taken.initial")


@dataclass(frozen=True, slots=True)
class Heard:
    """The pieces of one working.

    good:     established, or taken where a trial or definition may be asked for.
    copied:   goals as the question gives them away, to which nothing leads.
    leading:  those of the good ones that are neither a given nor a goal written out: the writer's own steps.
    bare:     goals written out with no step towards them in their own line, led to or not.
    slipped, carried, unsure: what does not follow, what follows from that, what was not decided.
    arrived:  unbroken, sure of every line, and at all goals, by steps of the writer's own.
    undone:   the first broken line as it would read without its slip, where one slip was found in it.
    """

    judged: Judged
    scheme: Scheme
    good: tuple[Piece, ...]
    copied: tuple[Piece, ...]
    leading: tuple[Piece, ...]
    bare: frozenset[Piece]
    slipped: tuple[Piece, ...]
    carried: tuple[Piece, ...]
    unsure: tuple[Piece, ...]
    unread: tuple[LineVerdict, ...]
    arrived: bool
    undone: Piece | None

    @property
    def check(self) -> Check:
        return self.judged.check

    @property
    def ground(self) -> Ground:
        return self.judged.ground

    @property
    def lost(self) -> frozenset[str]:
        """The symbol that the slip of the first break has left out (`v² = 2 g H` for `v² = 2 g (H - h)`). Where it is
        more than one, the slip may have made the rest too easy."""
        if self.undone is None or not self.slipped:
            return frozenset()
        left_out = self.form(self.undone).names - self.form(self.slipped[0]).names
        return left_out if len(left_out) == 1 else frozenset()

    def form(self, piece: Piece) -> Form:
        return form_of(piece, self.ground, self.scheme)

    def earning_again(self, piece: Piece) -> Heard:
        """The same working with a copied goal allowed to earn after all."""
        return replace(self, good=(*self.good, piece), copied=tuple(p for p in self.copied if p != piece))


Leads = Callable[[Piece, Sequence[Piece]], bool]


def heard(judged: Judged, scheme: Scheme, leads: Leads) -> Heard:
    """The pieces of a working. `leads`: does one of some own steps lead to a goal that stands bare?"""
    check, ground = judged.check, judged.ground
    said = [p for x in check.lines for p in pieces_of_line(x)]
    given = [p for x in check.givens for p in pieces_of_line(x)]
    copies = _copies(given, scheme, ground)
    goals = [p for x in check.goal for p in pieces_of_line(x)]
    good = [p for p in said if _counts(p) and not copies(p)]
    at_goal = {p for p in good if any(_states(p, g, ground, scheme) for g in goals)}
    as_given = {_content(g, ground) for g in goals} - {None}
    outright = {p for p in at_goal if _content(p, ground) in as_given}
    leading = [p for p in good if p.standing in ESTABLISHED and p not in at_goal]
    arrived = bool(leading) and _arrived(check, good, goals, ground)
    bare = frozenset(p for p in at_goal if not _stepwise(p, outright) and not _in_two_lines(p, at_goal, outright))
    restated = [p for p in said if _counts(p) and p not in good]
    tried = any(p not in at_goal and not copies(p) for p in said)
    copied = [] if arrived else [
        p for p in good if p in bare and not _turned(p, restated, ground)
        and not (tried and turns(p, given, ground)) and not leads(p, _before(p, leading, said))]
    return Heard(
        judged, scheme, tuple(p for p in good if p not in copied), tuple(copied), tuple(leading), bare,
        tuple(p for p in said if p.standing is Standing.FAILS),
        tuple(p for p in said if p.standing is Standing.CARRIED),
        tuple(p for p in said if p.standing is Standing.UNDECIDED or p.code == "taken.start"),
        tuple(x for x in check.lines if x.unreadable is not None), arrived, undone(judged))


def undone(judged: Judged) -> Piece | None:
    """The first broken line as it would read without its slip, where one slip was found in it."""
    explained = judged.slip
    if explained is None or explained.slip.found != "one":
        return None
    pieces = pieces_of_claim(explained.slip.edits[0].claim)
    return pieces[0] if len(pieces) == 1 else None


def touched(judged: Judged) -> frozenset[str]:
    """The symbols in what the slip of the first break changed."""
    edits = judged.slip.slip.edits[:1] if judged.slip is not None else ()
    return frozenset(name for e in edits for name in _changed(e.before, e.after))


def _changed(before: Expr | None, after: Expr | None) -> frozenset[str]:
    """The symbols of two pieces, without those that both have alike: of `b v0/m` for `m v0/b` v0 is none."""
    ways = [_exponents(e) for e in (before, after)]
    kept = {n for n, e in ways[0].items() if ways[1].get(n) == e}
    return frozenset(name for e in (before, after) for name in typed(e)) - kept


def _exponents(e: Expr | None) -> dict[str, int]:
    """The names that stand as plain factors above and below a line, with how often."""
    if isinstance(e, Name):
        return {e.ident: 1}
    found: dict[str, int] = {}
    parts = [(f, 1) for f in e.factors] if isinstance(e, Product) else [(e.num, 1), (e.den, -1)] if isinstance(
        e, Quotient) else []
    for part, sign in parts:
        for name, times in _exponents(part).items():
            found[name] = found.get(name, 0) + sign * times
    return found


def _counts(piece: Piece) -> bool:
    return piece.standing in ESTABLISHED or (piece.standing is Standing.TAKEN and piece.code in _TAKEN)


def _copies(given: Sequence[Piece], scheme: Scheme, ground: Ground) -> Callable[[Piece], bool]:
    """What tells a given that is copied out. A given that a point asks for is none; one that a point asks for in other
    units (`v = 1.5 m/s` where v = 5.4 km/h is given) is one only as it is given."""
    asked = {w.claim for p in scheme.points for aim in p.aims for w in aim}
    in_units = {_content(w, ground) for p in scheme.points for aim in p.aims for w in aim}
    others = [p for p in given if p.claim not in asked]
    contents = {_content(p, ground) for p in others} - {None, *in_units}
    as_typed = {p.claim for p in others}
    return lambda p: p.claim in as_typed or _content(p, ground) in contents


def _content(piece: Piece, ground: Ground) -> object:
    """What a piece says as it is written, whichever side comes first; None where that cannot be had."""
    try:
        parts = piece.parts(ground.context.world)
    except TOO_MUCH:
        return None
    return tuple(frozenset(part) for part in parts)


def _states(piece: Piece, goal: Piece, ground: Ground, scheme: Scheme) -> bool:
    """Is a piece the goal itself: the same quantity given, by the same symbols?"""
    side = lone_side(goal)
    if side is None:
        return _content(piece, ground) == _content(goal, ground)
    alike = form_of(piece, ground, scheme).like(form_of(goal, ground, scheme))
    return alike and side in getattr(piece.claim, "sides", ()) and same(piece, goal, ground)


def _stepwise(piece: Piece, outright: set[Piece]) -> bool:
    """Does a chain come to the goal over a side that is not the goal as it stands (`F = k v √(m/k) = v √(k m)`)?"""
    side = lone_side(piece)
    return piece.steps > 1 and not any(
        p.line == piece.line and p.steps == 1 and gives(p, side) for p in outright)


def _in_two_lines(piece: Piece, at_goal: set[Piece], outright: set[Piece]) -> bool:
    """Is a goal written out next to a line that has it not yet as it stands (`Y = W + P - (½ W + q P)`)? That is the
    chain of both."""
    side = lone_side(piece)
    return any(p.line < piece.line and p not in outright and gives(p, side) for p in at_goal)


def _before(piece: Piece, leading: Sequence[Piece], said: Sequence[Piece]) -> list[Piece]:
    """The writer's own steps that stand before a piece and after any break before it, the nearest first: what
    stands before a break leads elsewhere."""
    place = said.index(piece)
    breaks = [k for k, p in enumerate(said[:place]) if p.standing is Standing.FAILS]
    return [p for p in reversed(said[max(breaks, default=0) : place]) if p in leading]


def _turned(goal: Piece, restated: Sequence[Piece], ground: Ground) -> bool:
    """Has its writer put down the one given that is only to be solved for a goal? Nothing more could lead to it."""
    return any(p.line <= goal.line and same(p, goal, ground) for p in restated)


def turns(piece: Piece, givens: Sequence[Piece], ground: Ground) -> bool:
    """Is a piece one of the givens as it is typed, in another arrangement? To write it down is all there is to do for
    it. Where a given has still to be differentiated, integrated or put into another there is more."""
    own = typed(piece.claim)
    return any(own <= typed(g.claim) and not to_work_out(g) and same(g, piece, ground) for g in givens)


def _arrived(check: Check, good: Sequence[Piece], goals: Sequence[Piece], ground: Ground) -> bool:
    """A goal may be reached in pieces (`b = …`, then `x = b sin ωt`): a line that gives its quantity is enough. A line
    about something else in which the quantity stands as well is not."""
    return check.outcome == "unbroken" and bool(goals) and all(
        any(_gives(p, g, ground) or (not _gives_another(p, g) and same(p, g, ground)) for p in reversed(good))
        for g in goals)


def _gives(piece: Piece, goal: Piece, ground: Ground) -> bool:
    return goal.subject is not None and piece.subject == goal.subject and not lacks_the_number(piece, goal, ground)


def _gives_another(piece: Piece, goal: Piece) -> bool:
    return goal.subject is not None and piece.subject is not None and piece.subject != goal.subject


def led_to_all(h: Heard) -> Iterator[bool]:
    """For each goal, in the order in which the working comes to them: has it a step of its own before it? A goal that
    is a point by itself, with no method asked for, needs none."""
    apart = {w.claim for p in h.scheme.points if p.row.kind == "B" for aim in p.aims for w in aim}
    goals = [p for x in h.check.goal for p in pieces_of_line(x) if p.claim not in apart]
    places = []
    for goal in goals:
        stated = [p for p in h.good if _states(p, goal, h.ground, h.scheme)]
        found = stated or [p for p in h.good if _gives(p, goal, h.ground)][-1:]
        if found:
            at = min(found, key=lambda p: (p.line, -p.steps))
            places.append((at.line, at.steps > 1 or any(p not in h.bare for p in stated)))
    last = 0
    for line, stepwise in sorted(places):
        yield stepwise or any(last < p.line <= line for p in h.leading)
        last = line - 1 if stepwise else line


def is_goal(point: Point, h: Heard) -> bool:
    """Does a point ask for what was to be shown?"""
    goals = {p.claim for x in h.check.goal for p in pieces_of_line(x)}
    return any(w.claim in goals for aim in point.aims for w in aim)
