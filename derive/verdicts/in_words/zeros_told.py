"""`first zero: tan ωt = -h ω/u`, `passes the middle: t = π/(2ω)`, `turns: tan ωt = u/(h ω)`: where what goes with the
time is nothing, or its rate is, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Derivative, Name, Num, Relation, names_in
from derive.states.context import given_by_time, tied_names
from derive.states.setting import Setting
from derive.terms.world import TIME

_ZERO = words("zero zeros zeroes")
_PASSING = words("passes passing pass crosses crossing through")
_MIDDLE = words("middle centre center equilibrium origin zero axis")
_TURNING = words("turns turning reverses extreme extremes")
_TIMES = ("t", "T", "τ")


def where_it_vanishes(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """That the one place given by the time is nothing, or changes no more, where a claim on the time does not say so
    itself."""
    heard = {*said}
    told = heard & _ZERO or (heard & _PASSING and heard & _MIDDLE)
    if not (told or heard & _TURNING) or not isinstance(claim, Relation) or claim.signs[0] not in ("=", "≈"):
        return None
    own, context = set(names_in(claim)), setting.context
    timed = any(n == TIME or (n.partition("_")[0] in _TIMES and n not in tied_names(context)) for n in own)
    places = {v.name for v in given_by_time(context)} | context.world.functions.keys()
    if not timed or len(places) != 1 or places & own:
        return None
    (name,) = places
    place = Name(name)
    return Relation((place if told else Derivative(place, Name(TIME), 1), Num(Fraction(0))), ("=",))
