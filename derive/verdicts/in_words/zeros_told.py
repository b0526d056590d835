"""`first zero: tan ωt = -h ω/u`, `passes the middle: t = π/(2ω)`, `turns: tan ωt = u/(h ω)`: where what goes with the
time is nothing, or its rate is, in words; and `constant speed: N = m g`, where an acceleration is;
`to keep it moving: F ≥ …`, where it is no less."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Derivative, Name, Num, Relation, names_in
from derive.states.context import given_by_time, tied_names
from derive.states.setting import Setting
from derive.states.yielding import is_value
from derive.terms.term import Var, var, variables
from derive.terms.world import TIME
from derive.verdicts.in_words.shares import SHARES, hangs_on

_ZERO = words("zero zeros zeroes")
_PASSING = words("passes passing pass crosses crossing through")
_MIDDLE = words("middle centre center equilibrium origin zero axis")
_TURNING = words("turns turning reverses extreme extremes")
_EMPTY = words("empty empties emptied drained dry")
_LEVELS = frozenset("hyzVmM")  # of what runs empty: how high, how much
_TIMES = ("t", "T", "τ")


def where_it_vanishes(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """That the one place given by the time is nothing, or changes no more, where a claim on the time does not say so
    itself."""
    heard = {*said}
    empty = heard & _EMPTY and SHARES.keys().isdisjoint(heard)  # not `half empty`
    told = empty or heard & _ZERO or (heard & _PASSING and heard & _MIDDLE)
    if not (told or heard & _TURNING) or not isinstance(claim, Relation) or claim.signs[0] not in ("=", "≈"):
        return None
    own, context = set(names_in(claim)), setting.context
    timed = any(n == TIME or (n.partition("_")[0] in _TIMES and n not in tied_names(context)) for n in own)
    places = {v.name for v in given_by_time(context)} | context.world.functions.keys()
    if empty:  # of a level that only its root is given for
        places |= context.world.moving & {v.name for p in context.premises for v in variables(p.term)}
        places = {n for n in places if n.partition("_")[0] in _LEVELS}
    if not timed or len(places) != 1 or places & own:
        return None
    (name,) = places
    place = Name(name)
    return Relation((place if told else Derivative(place, Name(TIME), 1), Num(Fraction(0))), ("=",))


_STEADY = words("constant const steady uniform")


def unaccelerated(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`constant speed: N = 687 N` below `N - m g = m a`, `a = 1.5 m/s²`: a = 0, of what hangs on it."""
    steady = any(one in _STEADY and other in ("speed", "velocity", "motion") for one, other in pairwise(said))
    first = claim.sides[0] if isinstance(claim, Relation) else None
    valued = any(is_value(p) and p.sides is not None and p.sides[0] == var(Var("a")) for p in setting.context.premises)
    if not steady or not valued or not isinstance(first, Name) or "a" in names_in(claim) or not (
            hangs_on(first.ident, "a", setting)):
        return None
    return Relation((Name("a"), Num(Fraction(0))), ("=",))


_KEEPING = words("keep keeps keeping kept just barely")
_GOING = words("moving going sliding moves slides move slide")


def kept_going(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`to keep it moving: F ≥ μ m g`, `F_min = μ m g to keep it going` below `m a = F - μ m g`: a is no less than
    nothing, and just nothing for the least force."""
    told = not _KEEPING.isdisjoint(said) and not _GOING.isdisjoint(said)
    if not told or not isinstance(claim, Relation) or len(claim.signs) != 1 or "a" in names_in(claim) or (
            "a" not in tied_names(setting.context)):
        return None
    sign = claim.signs[0]
    return Relation((Name("a"), Num(Fraction(0))), (sign,)) if sign in ("=", ">", "≥") else None
