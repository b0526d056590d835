"""Kinds told apart by a word: `sphere I = 2/5 m r², hoop I = m r²`, then `sphere: v = √(10 g h/7)`.

A name that one line gives two values, each with a word of its own, has neither on the page: each is a case, and a line
with that word at its head is said of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.lists.vocabulary import OPENING, STARTS
from derive.notation.tree import Claim, Name, Relation
from derive.records import LineVerdict, Reading


def of_its_kind(reading: Reading, above: Sequence[LineVerdict]) -> Reading:
    """A reading that tells kinds, or is said of one told above, with these as cases."""
    if _kinds(reading):
        return replace(reading, statements=tuple(replace(s, role="range") for s in reading.statements))
    kind = reading.words.lower().replace(":", " ").split()[-1:]
    told = next((claims[kind[0]] for x in reversed(above) if x.reading is not None
                 and (claims := _kinds(x.reading)) and kind and kind[0] in claims), None)
    if told is None or any(s.role != "claim" or s.claim is None for s in reading.statements):
        return reading
    return replace(reading, statements=tuple(replace(s, role="suppose", where=told) for s in reading.statements))


def _kinds(reading: Reading) -> dict[str, Claim]:
    """What a line gives one name for each of several words; nothing where it does not."""
    heads = [part.split()[-1:] for part in reading.words.lower().replace(":", " ").split("…")]
    said = [s.claim for s in reading.statements if s.role in ("claim", "range") and s.where is None]
    given = [c for c in said if isinstance(c, Relation) and c.signs == ("=",) and isinstance(c.sides[0], Name)]
    if len(given) < 2 or not len(given) == len(reading.statements) == len(heads) or not all(heads):
        return {}
    words = [head for (head,) in heads]
    apart = len({c.sides[0] for c in given}) == 1 and len({c.sides[1] for c in given}) == len({*words}) == len(given)
    plain = all(len(w) > 2 and w not in OPENING and not STARTS.search(w) for w in words)
    return dict(zip(words, given, strict=True)) if apart and plain else {}
