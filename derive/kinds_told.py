"""Kinds told apart by words: `sphere I = 2/5 m r², hoop I = m r²`, then `sphere: v = √(10 g h/7)`.

A name that one line gives two values, each with words of its own, has neither on the page: each is a case, and a line
with such words at its head is said of it. Where a line each tells them (`on the slope: N = m g cos θ`, then `on the
flat: N = m g`) the last one told is in force, and a line that goes back to another is said of that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeGuard

from derive.notation.lists.vocabulary import OPENING, STARTS
from derive.notation.tree import Claim, Either, Name, Relation, is_zero, names_in
from derive.readings import gives_a_value
from derive.records import LineVerdict, Reading, Standing
from derive.verdicts.cases.which_case import LITTLE, spoken

Told = list[tuple[frozenset[str], Claim]]


def of_its_kind(reading: Reading, above: Sequence[LineVerdict]) -> Reading:
    """A reading that tells kinds, or is said of one told above, with these as cases."""
    reading = with_values_apart(reading)
    if _kinds(reading):
        return replace(reading, statements=tuple(replace(s, role="range") for s in reading.statements))
    if any(s.role != "claim" or s.claim is None for s in reading.statements):
        return reading
    told = _told_in_one_line(reading, above) or _gone_back_to(reading, above)
    if told is None:
        return reading
    return replace(reading, statements=tuple(replace(s, role="suppose", where=told) for s in reading.statements))


# Of what there may be several (common practice, no source).
_SEVERAL = frozenset((
    "equilibria", "positions", "points", "roots", "solutions", "zeros", "zeroes", "extrema", "maxima", "minima",
    "places"))


def with_values_apart(reading: Reading) -> Reading:
    """`F = 0: x = 0, x = k/b`, `equilibrium at x = 0 and x = k/b`: one name has both values, each at its own place."""
    said = reading.statements
    if len(said) == 1 and said[0].role == "at" and reading.words:
        both = (said[0].where, said[0].claim)
        apart = (replace(said[0], role="claim", where=None, claim=Either(both)),) if _values_of_one(both) else said
        return replace(reading, statements=apart)
    first, *rest = said or (None,)
    if first is None or not rest or any(
            (s.role, s.where) != (first.role, first.where) or s.role not in ("claim", "at", "suppose") for s in rest):
        return reading
    parts = tuple(s.claim for s in said)
    if not _values_of_one(parts) or (first.where is None and _SEVERAL.isdisjoint(reading.words.lower().split())):
        return reading
    return replace(reading, statements=(replace(first, claim=Either(parts)),))


def _values_of_one(parts: Sequence[Claim | None]) -> TypeGuard[tuple[Claim, ...]]:
    """Do some claims give one name values of which no more than one can be: none at all, and others?"""
    given = [p.sides for p in parts if isinstance(p, Relation) and p.signs == ("=",)]
    names, values = {sides[0] for sides in given}, {sides[1] for sides in given}
    one = len(names) == 1 and all(isinstance(n, Name) for n in names)
    return one and len(given) == len(parts) == len(values) > 1 and any(map(is_zero, values))


def _told_in_one_line(reading: Reading, above: Sequence[LineVerdict]) -> Claim | None:
    """What one of several kinds is that a single line has told, where a head is of one of them alone."""
    head = _content(reading.words)
    for x in reversed(above) if head else ():
        meant = [claim for said, claim in (_kinds(x.reading) if x.reading is not None else ()) if head <= said]
        if meant:
            return meant[0] if len(meant) == 1 else None
    return None


def _gone_back_to(reading: Reading, above: Sequence[LineVerdict]) -> Claim | None:
    """What a line with the same words gave, where a later one with others gave the same otherwise."""
    head = _content(reading.words)
    if not head or "…" in reading.words:
        return None
    valued = {_subject(s.claim) for s in reading.statements if gives_a_value(s.claim)}
    later: dict[object, Claim] = {}
    for x in reversed(above):
        claim = _law_told(x)
        if claim is None or x.reading is None:
            continue
        own, subject = _content(x.reading.words), _subject(claim)
        since = later.get(subject)
        if own == head and since is not None and since != claim and subject not in valued:
            return claim
        if own:
            later.setdefault(subject, claim)
    return None


def _subject(claim: Claim | None) -> object:
    """What a relation is about: k of `1/k = 1/k1 + 1/k2`; else its left side."""
    side = claim.sides[0] if isinstance(claim, Relation) else None
    names = names_in(side) if side is not None else ()
    return names[0] if len(names) == 1 else side


def _law_told(line: LineVerdict) -> Relation | None:
    """The one relation of a line that was taken as it stands."""
    said = line.reading.statements if line.reading is not None else ()
    claim = said[0].claim if len(said) == 1 and said[0].role == "claim" and said[0].where is None else None
    taken = all(v.standing is Standing.TAKEN for v in line.verdicts)
    plain = isinstance(claim, Relation) and claim.signs == ("=",) and names_in(claim)
    return claim if taken and plain else None  # type: ignore[return-value]


def _kinds(reading: Reading) -> Told:
    """What a line gives one name for each of several words; nothing where it does not."""
    heads = [_content(part) for part in reading.words.split("…")]
    said = [s.claim for s in reading.statements if s.role in ("claim", "range") and s.where is None]
    given = [c for c in said if isinstance(c, Relation) and c.signs == ("=",) and isinstance(c.sides[0], Name)]
    if len(given) < 2 or not len(given) == len(reading.statements) == len(heads) or not all(heads):
        return []
    apart = len({c.sides[0] for c in given}) == 1 and len({c.sides[1] for c in given}) == len({*heads}) == len(given)
    plain = all(len(w) > 2 and w not in OPENING and not STARTS.search(w) for head in heads for w in head)
    return list(zip(heads, given, strict=True)) if apart and plain else []


def _content(said: str) -> frozenset[str]:
    return frozenset(w for w in spoken(said) if w not in LITTLE)
