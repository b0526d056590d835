"""Points that nobody wrote down and that a further line has put in all the same.

Four ways: a result implies the method it needs; a point that rests on another has it put in; so has a step that
follows from the point where it does not follow without a given; and a working that holds and arrives by steps of
its own does, by another road, what the points ask for.
"""

from __future__ import annotations

from collections.abc import Sequence

from derive.marking.aiming import gives_same, lacks_what_is_lost, says, tries
from derive.marking.costs import Awards
from derive.marking.form import typed
from derive.marking.found import Award, Found
from derive.marking.heard import Heard, is_goal, led_to_all, touched
from derive.marking.pieces import Piece
from derive.marking.resting import Change, Reheard
from derive.marking.scheme import Aim, Point
from derive.notation.tree import Claim
from derive.terms.term import variables
from derive.terms.world import TIME

# Own steps that are tried for what they have put in, the last first.
_MOST_STEPS = 4


def behind_results(points: Sequence[Point], awards: Awards, h: Heard, again: Reheard) -> Awards:
    """A point that is met, and not only as the question gives it away, implies the method that it needs and the
    points that it rests on. One that is followed through implies what lies between it and the slip."""
    out = dict(awards)
    for index in reversed(range(len(points))):
        point, award = points[index], out[points[index].label]
        perhaps = award.code == "award.undecided"
        if not perhaps and (not award.earned or not _shown(point, award, h)):
            continue
        for other in points[:index]:
            needed = other.label in point.row.needs and other.row.kind == "M"
            silent = _silent(other, out[other.label], h) or (needed and _only_its_number(out[other.label], award, h))
            if not silent or not (needed or _rests_on(point, other, h, again)):
                continue
            if perhaps:  # what the line would imply hangs on it as well
                out[other.label] = out[other.label].as_found(Found.OPEN, "award.undecided", award.line)
                continue
            lost = award.found is Found.FOLLOWED and _slip_is_within(other, h) and not _is_elsewhere(points, out, h)
            if lost and not _beyond_a_loss(other, points, out, h):
                continue
            if award.found is Found.MET or needed:
                found = Found.FOLLOWED if out[other.label].found is Found.OPEN else Found.MET
                out[other.label] = out[other.label].as_found(found, "award.implied", award.line)
            elif other.row.follow_through and _beyond_a_loss(other, points, out, h):
                out[other.label] = out[other.label].as_found(Found.FOLLOWED, "award.implied", award.line)
    return out


def _only_its_number(method: Award, result: Award, h: Heard) -> bool:
    """Is a method open for no more than the number that a result was followed through to, `T = W sin θ + f = 349 N`
    from a wrong f? That has it put in, as a right number would."""
    return (method.code == "award.nearly_followed" and result.found is Found.FOLLOWED and method.line == result.line
            and any(p.line == method.line and not h.form(p).symbols for p in h.carried))


def _is_elsewhere(points: Sequence[Point], awards: Awards, h: Heard) -> bool:
    """Does the first slip stand in a line that goes for another point, which it has cost?"""
    first = [p for p in h.slipped if p.line == h.slipped[0].line]
    lost = (p for p in points if awards[p.label].code in ("award.spoiled", "award.not_met"))
    return any(tries(p, first, h) or any(gives_same(x, p, h) for x in first) for p in lost)


def _shown(point: Point, award: Award, h: Heard) -> bool:
    """Does the point stand on a line of the writer's own, or on a goal that own steps lead to?"""
    if award.found is Found.FOLLOWED or award.code == "award.implied":
        return True
    return not h.arrived or any(p not in h.bare and says(p, point, h) for p in h.good)


def _rests_on(point: Point, other: Point, h: Heard, again: Reheard) -> bool:
    """Does a point rest on another, something of which has gone into it?"""
    return any(
        _goes_into(wanted, aim, h) and again.rests_on(_claims(aim), _claims(wanted))
        for aim in point.aims for wanted in other.aims)


def _goes_into(wanted: Aim, further: Sequence[Piece], h: Heard) -> bool:
    """Is something that is wanted spoken of no more further on? If not, it could still be to come."""
    return not all(any(h.form(w).names <= h.form(p).names for p in further) for w in wanted)


def _claims(aim: Aim) -> tuple[Claim, ...]:
    return tuple(w.claim for w in aim)


def _beyond_a_loss(point: Point, points: Sequence[Point], awards: Awards, h: Heard) -> bool:
    """Does a point need one that was tried for and lost, so that it lies beyond the slip?"""
    by_label = {p.label: p for p in points}
    return any(
        n in by_label and not awards[n].earned and bool(tries(by_label[n], h.slipped, h)) for n in point.row.needs)


def put_in(points: Sequence[Point], awards: Awards, h: Heard, again: Reheard) -> Awards:
    """Points that a further step rests on, as hearing the working again without a given shows."""
    out = dict(awards)
    silent = [p for p in points if _silent(p, out[p.label], h)]
    steps = _further(points, h) if silent else []
    for point in silent:
        for step in steps:
            if _has_put_in(step, point, again, h):
                out[point.label] = out[point.label].as_found(Found.MET, "award.implied", step.line)
                break
        else:
            trial = _trial_put_in(point, h)
            if trial is not None:
                out[point.label] = out[point.label].as_found(Found.MET, "award.implied", trial.line)
            elif _slipped_beyond(point, again, h):
                out[point.label] = out[point.label].as_found(Found.MET, "award.implied", h.slipped[0].line)
    return out


def _slip_is_within(point: Point, h: Heard) -> bool:
    """Did the slip change only what the point itself speaks of (a term of `∂L/∂r = …`, left out where it was put in)?
    Then what goes on from there has it put in wrongly."""
    changed = touched(h.judged)
    return bool(changed) and any(
        changed <= frozenset(name for w in aim for name in h.form(w).names) for aim in point.aims)


def _trial_put_in(point: Point, h: Heard) -> Piece | None:
    """The step that has the rates of a trial in it (`-A ω² cos ωt = -(g/ℓ) A cos ωt` for `θ'' = -ω² θ`): a point that
    speaks of nothing but the trial has been used there."""
    for s in h.ground.shorthands:
        if s.premise.label != "trial":
            continue
        own = {v.name for v in variables(s.premise.term)} - {s.name}
        rates = {s.name, f"{s.name}'", f"{s.name}''"}
        wanted = {n for aim in point.aims for w in aim for n in typed(w.claim)}
        if not wanted & (rates - {s.name}) or not wanted <= rates | own:
            continue
        for p in h.good:
            here = typed(p.claim)
            if p.sign == "=" and not here & rates and own - wanted - {TIME} <= here and not here <= own:
                return p
    return None


def _slipped_beyond(point: Point, again: Reheard, h: Heard) -> bool:
    """Is the first broken line a method with one symbol written out, and was the slip made in something that the method
    does not speak of (`(M + m) a = m g - μ M` for `(M + m) a = m g - f`)? Then the method was used."""
    if point.row.kind != "M" or h.undone is None:
        return False
    changed, claims = touched(h.judged), (h.undone.claim,)
    for aim in point.aims:
        names = frozenset(name for w in aim for name in h.form(w).names)
        if len(names - h.form(h.undone).names) == 1 and not changed <= names and (
            again.needed_for(_claims(aim)) < again.needed_for(claims) and again.rests_on(claims, _claims(aim))
        ):
            return True
    return False


def by_another_road(points: Sequence[Point], awards: Awards, h: Heard) -> Awards:
    """Of a working that holds and arrives, a point that no line says is met by the road that was taken. Where no step
    goes beyond the scheme's own, or a goal has no step of its own before it, a person should look."""
    missed = [p for p in points if awards[p.label].found in (Found.NOT, Found.WITHHELD)]
    if not h.arrived or not missed:
        return awards
    scheme = [p for p in points if not is_goal(p, h)]
    other = any(not any(says(step, p, h) for p in scheme) for step in h.leading)
    led = other and all(led_to_all(h))
    last = max((p.line for p in h.good), default=0)
    return {**awards, **{
        p.label: awards[p.label].as_found(Found.MET, "award.by_road", last) if led
        else awards[p.label].as_found(Found.OPEN, "award.another_road") for p in missed}}


def _silent(point: Point, award: Award, h: Heard) -> bool:
    """Did nobody go for the point, so that it can only be implied? A goal has to be written."""
    wrong = (*h.slipped, *h.carried)
    return (award.found is Found.NOT and award.code == "award.not_met" and bool(point.aims) and not is_goal(point, h)
            and not tries(point, wrong, h)
            and not any(gives_same(p, point, h) or lacks_what_is_lost(p, point, h) for p in wrong))


# --- what a step has put in ---------------------------------------------------------------------------------


def _further(points: Sequence[Point], h: Heard) -> list[Piece]:
    """Own steps that say no point, the last first, and none that may rest on a goal copied from the question."""
    until = min((p.line for p in h.copied), default=0)
    steps = [p for p in reversed(h.leading) if not until or p.line < until]
    return [p for p in steps if not any(says(p, point, h) for point in points)][:_MOST_STEPS]


def _has_put_in(step: Piece, point: Point, again: Reheard, h: Heard) -> bool:
    """Does a step rest on all that the point rests on and more, and does the point stand in for a given among it?"""
    step_on = {s for s in again.sources if again.stands(step, Change((s,))) is False}
    for aim in point.aims:
        needed = again.needed_for(_claims(aim))
        if needed and needed < step_on and _goes_into(aim, (step,), h) and any(
                again.stands(step, Change((s,), _claims(aim))) for s in again.sources if s in needed):
            return True
    return False
