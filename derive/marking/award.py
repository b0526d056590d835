"""Which points a working meets, and why: the order in which the rooms around this one are asked.

`heard` sorts what the working says; `found` looks for one point in it; `costs` settles what a slip spoils and what
points need of each other; `implied` finds what was put in without being written down; `unnamed` leaves right numbers
without a name to a person.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from derive.marking.costs import Awards, attempted, charged, spoiled, with_needs
from derive.marking.found import Award, Found, carried_for, found
from derive.marking.heard import Heard, heard, touched, undone
from derive.marking.implied import behind_results, by_another_road, put_in
from derive.marking.judging import Judged, Key, kept
from derive.marking.pieces import Piece
from derive.marking.resting import Reheard, Rehearing
from derive.marking.scheme import Scheme
from derive.marking.unnamed import numbers_alone

__all__ = ["Award", "Awarding", "Found", "awarded"]

# Stands for the first line that could not be read, in awards that are shared.
_UNREAD = -1


@dataclass(slots=True)
class Awarding:
    """Awards for workings of one exercise. Those that say the same, and break by the same slip, earn the same."""

    scheme: Scheme
    rehearing: Rehearing = field(default_factory=Rehearing)
    _known: OrderedDict[Key, tuple[Award, ...]] = field(default_factory=OrderedDict)

    def of(self, judged: Judged) -> tuple[Award, ...]:
        """The award of every point, with the writer's own line by which it was earned, lost or left open."""
        unread = next((x.line.number for x in judged.check.lines if x.unreadable is not None), 0)
        places = {number: place + 1 for number, place in judged.places.items()} | {0: 0}
        if unread:
            places[unread] = _UNREAD
        own = {place: number for number, place in places.items()}
        shared = kept(self._known, (judged.key, undone(judged), touched(judged), bool(unread)), lambda: tuple(
            replace(a, line=places[a.line]) for a in awarded(judged, self.scheme, self.rehearing)))
        return tuple(replace(a, line=own[a.line]) for a in shared)


def awarded(judged: Judged, scheme: Scheme, rehearing: Rehearing) -> tuple[Award, ...]:
    """The award of every point, in the order of the scheme."""
    again = rehearing.of(judged)
    h = heard(judged, scheme, again.lead_to)
    awards = _from_lines(scheme, h)
    for goal in h.copied:
        h, awards = _led_to_by_needs(goal, scheme, h, awards, again)
    awards = behind_results(scheme.points, awards, h, again)
    awards = put_in(scheme.points, awards, h, again)
    awards = charged(scheme.points, awards, h, again)
    awards = with_needs(scheme.points, awards, h)
    awards = numbers_alone(scheme.points, by_another_road(scheme.points, awards, h), h)
    return tuple(attempted(scheme.points, awards, h).values())


def _from_lines(scheme: Scheme, h: Heard) -> Awards:
    return {p.label: spoiled(p, found(p, h), h) for p in scheme.points}


def _led_to_by_needs(
    goal: Piece, scheme: Scheme, h: Heard, awards: Awards, again: Reheard
) -> tuple[Heard, Awards]:
    """A goal written out bare is led to where all that its point needs has been met without it; or followed through
    from a slip that makes no difference to the goal."""
    trusting = h.earning_again(goal)
    after = _from_lines(scheme, trusting)
    gained = [p for p in scheme.points if after[p.label].earned and not awards[p.label].earned]
    if gained and all(p.row.needs and _lead(p.row.needs, goal, scheme, h, awards, again) for p in gained):
        return trusting, after
    return h, awards


def _lead(
    needs: Sequence[str], goal: Piece, scheme: Scheme, h: Heard, awards: Awards, again: Reheard
) -> bool:
    """Are all needs met, or does the goal follow from what their writer has in the place of those followed through?"""
    if not all(n in awards and awards[n].earned for n in needs):
        return False
    followed = [p for p in scheme.points if p.label in needs and awards[p.label].found is Found.FOLLOWED]
    if not followed:
        return True
    wanted = [(w, p) for p in followed for w in p.aims[0]]
    own = tuple(c.claim for w, p in wanted for c in [carried_for(w, p, h)] if c is not None)
    return bool(own) and again.shows_instead((goal.claim,), tuple(w.claim for w, _ in wanted), own)
