"""Kinds told apart by words: `sphere I = 2/5 m r², hoop I = m r²`, then `sphere: v = √(10 g h/7)`.

A name that one line gives two values, each with words of its own, has neither on the page: each is a case, and a line
with such words at its head is said of it. Where a line each tells them (`on the slope: N = m g cos θ`, then `on the
flat: N = m g`) the last one told is in force, and a line that goes back to another is said of that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lists.vocabulary import OPENING, STARTS
from derive.notation.tree import Claim, Name, Relation, names_in
from derive.readings import gives_a_value
from derive.records import LineVerdict, Reading, Standing
from derive.verdicts.cases.which_case import LITTLE, spoken

Told = list[tuple[frozenset[str], Claim]]


def of_its_kind(reading: Reading, above: Sequence[LineVerdict]) -> Reading:
    """A reading that tells kinds, or is said of one told above, with these as cases."""
    if _kinds(reading):
        return replace(reading, statements=tuple(replace(s, role="range") for s in reading.statements))
    if any(s.role != "claim" or s.claim is None for s in reading.statements):
        return reading
    told = _told_in_one_line(reading, above) or _gone_back_to(reading, above)
    if told is None:
        return reading
    return replace(reading, statements=tuple(replace(s, role="suppose", where=told) for s in reading.statements))


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
