"""Another place of the way, told in words: `at the top: T + m g = m v²/R` below `at the bottom: T - m g = m u²/R`."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name, Relation, Statement, names_in
from derive.states.context import Premise
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Matter, Setting
from derive.terms.claims import pairs
from derive.terms.term import variables
from derive.verdicts.cases.giving_way import begun_in, relations, takes_its_place, without
from derive.verdicts.cases.waypoints import places_in

_SPEEDS = frozenset("vω")
_FORCES = frozenset("NTFSf")
# Where a relation holds all along a way, it says so with one of these.
_COORDINATES = frozenset("xyzsθφ")


def at_another_place(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`at the top: T + m g = m v²/R` below `at the bottom: T - m g = m u²/R`: by one letter another force."""
    claim, here = statement.claim, places_in(f"{source.words} {statement.word}")
    if not here or not isinstance(claim, Relation) or claim.signs != ("=",) or setting.strict:
        return None
    own, m = set(names_in(claim)), matter(next(pairs(claim)), setting, source)
    elsewhere = [
        p for p in relations(setting.context) if places_in(source.headed.get(p.source, "")).isdisjoint(here)]
    for p in reversed(elsewhere):
        # `at the side: N = m v²/R` below `N = m g + m v²/R`, said of the bottom without a word
        spoken_of = {v.name for v in variables(p.term)}
        if own & spoken_of and (places_in(source.headed.get(p.source, "")) or _silent_of_its_place(m, p, source)):
            gone = [q for q in elsewhere if q is p or _holds_there(q, _SPEEDS & own & spoken_of)]
            anew = replace(setting, situation=source.number)
            found = begun_in(without(setting.context, gone), claim, anew, source)
            if found is not None:
                return found
    return None


def _holds_there(p: Premise, speeds: frozenset[str]) -> bool:
    """Does a relation tell a force by the speed of the place? `ω = v/r` holds at any."""
    names = {v.name for v in variables(p.term)}
    return bool(names & speeds) and not _FORCES.isdisjoint(n.partition("_")[0] for n in names)


def _silent_of_its_place(m: Matter, p: Premise, source: Source) -> bool:
    """Is a relation that no word says the place of for the same force, or the same energy, with the same speed?"""
    names = {v.name for v in variables(p.term)}
    if p.source in source.headed or not _SPEEDS & names & {v.name for v in m.unknowns}:
        return False
    left = m.lowered.parts[0][0]
    if isinstance(m.pair.left, Name):
        return m.pair.left.ident not in _SPEEDS and takes_its_place(m, p)
    return left in (p.sides or ())[:1] and _COORDINATES.isdisjoint(names)
