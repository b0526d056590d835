"""Words that tell which of two situations is meant: `wet road`, `second part`, `upstream`, `then friction 8 N`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from derive.notation.lists.vocabulary import JOINING, OPENING, PROSE
from derive.notation.lists.word_lists import words
from derive.quantities.units import UnreadUnit, parse_unit_text

ANNOUNCING = words("""
    with without including adding now instead if case part second third other another next suppose again considering
    allowing neglecting ignoring neglect ignore only
""")
LITTLE = words("a an the of and in for is are be we there it at on to")
# Where or when else things move otherwise.
STAGES = words("""
    water air mud sand oil sea river harbour ice snow grass deck ground rough smooth surface patch stretch section phase
    stage part way down up back landing impact collision braking brakes braked ascent descent fall engine motor cable
""")
# Known words that tell which of two situations is meant; the other known ones say what a relation is (`momentum`,
# `vertical`, `squared`), and so does the beginning of one (`horiz`).
_WHICH = STAGES | words("""
    upward upwards downward downwards uphill downhill taut slack elastic inelastic pull push lift lower slide slides
    sliding slip slips slipping roll rolls rolling float floats floating launch bounce falls rises open closed light
    heavy slow parallel abreast series wet dry icy oily man men woman boy girl child dog car cart box van bus boat ship
    ferry tug direction directions opposite towards toward away head-on
""")
_KNOWN = PROSE | JOINING | frozenset(OPENING)


def telling_which(said: str) -> set[str]:
    """The words of a head that say which situation is meant."""
    return {w for w in content(spoken(said)) if w in _WHICH or not (
        w in _KNOWN or (len(w) > 2 and any(known.startswith(w) for known in _KNOWN)) or not w.isalpha())}


def amounts(said: str) -> set[str]:
    """`8 N` of `then friction 8 N: a = …`, which no line above has told."""
    return {f"{number} {unit}" for number, unit in pairwise(said.split())
            if number.replace(".", "", 1).isdigit() and not isinstance(parse_unit_text(unit), UnreadUnit)}


def spoken(said: str) -> list[str]:
    """The words of what is said, without its signs; what stands side by side is at no side of anything."""
    return said.lower().replace("side by side", "abreast").replace(",", " ").replace(":", " ").replace("…", " ").split()


def content(heard: Sequence[str]) -> list[str]:
    """The words that say more than that something else is so."""
    return [w for w in heard if w not in ANNOUNCING and w not in LITTLE]
