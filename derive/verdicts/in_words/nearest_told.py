"""`closest: t = u d/(u² + w²)` below a place by the time: where the distance changes no more, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Derivative, Dot, Name, Num, Relation, names_in
from derive.states.setting import Setting
from derive.terms.term import ZERO, variables
from derive.terms.world import TIME

_NEAREST = words("closest nearest farthest furthest")


def where_nearest(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """r·r' = 0 of the one vector that goes with the time, or of the one that is given by the others (`r = r2 - r1`),
    where a claim says when that is."""
    if _NEAREST.isdisjoint(said) or not isinstance(claim, Relation) or claim.signs[0] not in ("=", "≈"):
        return None
    own = names_in(claim)
    between = _between(setting)
    if TIME not in own or len(between) != 1 or between[0] in own:
        return None
    place = Name(between[0])
    return Relation((Dot(place, Derivative(place, Name(TIME), 1)), Num(Fraction(0))), ("=",))


def _between(setting: Setting) -> list[str]:
    """The vectors by the time that no other is given by, and that are given by the others where there are any."""
    world = setting.context.world
    vectors = [n for n, s in world.symbols.items() if s.vector and n in world.moving]
    by = {n: {v.name.rpartition("_")[0] for axis in "xyz" for v in variables(
        world.definitions.get(f"{n}_{axis}", ZERO))} & {*vectors} for n in vectors}
    return [n for n in vectors if by[n] or len(vectors) == 1]
