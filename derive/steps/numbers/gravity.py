"""The g near the ground, where a line is about numbers and g is the one that is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import numpy as np

from derive.notation.tree import Name, Num, Product, Unit, walk
from derive.quantities.unit_table import dimension
from derive.records import Symbol
from derive.states.context import Premise, tied_names
from derive.states.setting import Matter
from derive.states.states import freedom
from derive.terms.term import Var, num, sub, var, variables

USUAL_G = "the usual g"
# As it is rounded on paper, the commonest first.
VALUES = (Fraction(981, 100), Fraction(98, 10), Fraction(10))
# A ten may be anything.
TELLING = VALUES[:2]

_G = Var("g")
# From a dwarf planet to a giant one; a time or a speed off by ten has g off by a hundred.
_ANYWHERE = (0.2, 60.0)
# A tenth of that near the ground is a slip of a power of ten; no moon that tasks are set on has it.
_A_TENTH = (0.97, 1.005)
# Between what a pendulum of the first year finds g to be (common practice, no source).
_MEASURED = (9.3, 10.3)
# What rounded values come to, where nobody measures it (common practice, no source).
_ROUGHLY = (9.6, 10.2)
_ROUNDED = 0.2


def near_the_ground(m: Matter) -> Iterator[Matter]:
    """`N = m g cos θ = 2·9.81·cos 30°` where nothing above gives g: the line is about numbers, and g is the one that
    is missing."""
    m = _without_what_is_reckoned(m)
    context = m.context
    if not counts_in_g(m) and ("g" not in tied_names(context) or set(m.unknowns) <= {_G} or not _about_numbers(m)):
        return
    if any(p.sides is not None and p.sides[0] is var(_G) for p in context.premises):
        return  # it is what the page works out
    if freedom(context, [_G], (), m.setting.states) != 1:
        return
    if _G not in m.unknowns and freedom(context, list(m.unknowns), (), m.setting.states) == 0:
        return  # `θ = 45°` after `2 v² cos 2θ/g = 0`: whatever g is
    if freedom(context, list(dict.fromkeys((_G, *m.unknowns))), (), m.setting.states) > 1:
        return  # `v = v0 - g t`: no number whatever g is
    for value in VALUES:
        sides = (var(_G), num(value))
        fixed = Premise(USUAL_G, sub(*sides), "=", False, False, m.number, "custom", sides)
        inside = replace(m, setting=m.setting.within(m.context.adding(fixed)), fresh=tuple(
            n for n in m.fresh if n != _G.name))
        if freedom(inside.context, list(m.unknowns), (), m.setting.states) == 0:
            yield inside


def counts_in_g(m: Matter) -> bool:
    """`a = 30 m/s² = 3.06 g`: how many times the usual g something is."""
    right = m.pair.right
    return isinstance(right, Product) and len(right.factors) == 2 and isinstance(right.factors[0], Num) and (
        right.factors[1] == Name("g"))


def _without_what_is_reckoned(m: Matter) -> Matter:
    """`R = u²/g = 2.55 m` below `h = u²/(2 g) = 1.27 m`, right with the usual g: to the letter 1.27 has another one."""
    kept = tuple(p for p in m.context.premises if p.kind != "reckoned")
    return m if len(kept) == len(m.context.premises) else replace(
        m, setting=m.setting.within(replace(m.context, premises=kept)))


def is_gravity(symbol: Symbol | None) -> bool:
    """Is g declared as an acceleration that its value near the ground could be one of?"""
    return symbol is not None and symbol.dimension == dimension(m=1, s=-2) and not symbol.of and (
        symbol.typical is None or abs(symbol.typical - float(VALUES[0])) < _ROUNDED)


def _about_numbers(m: Matter) -> bool:
    """Is one side without names, or has every name but g a value by now?"""
    return any(not variables(t) for part in m.lowered.parts for t in part) or _G in m.unknowns


def nowhere(m: Matter) -> bool:
    """Would a value (`v = 34 m/s`, unit and all) have g be what it is on no moon and no planet?"""
    if not any(isinstance(n, Unit) for n in walk(m.pair.relation())):
        return False  # lengths may have been given in centimetres
    (low, high), (least, most) = _ANYWHERE, _A_TENTH
    found = _found_by(m)
    return found is not None and bool(((found < low) | (found > high) | ((found > least) & (found < most))).all())


def far_from_the_ground(m: Matter, near: tuple[float, float] = _MEASURED) -> bool:
    """Would a value written out with its formula (`v = √(2 g h) = 19.9 m/s`) have another g than anybody measures?"""
    found = _found_by(m)
    return found is not None and bool(((found < near[0]) | (found > near[1])).all())


def is_drawn_at_a_head(m: Matter) -> bool:
    """Does a colon or an arrow, and no word, stand before the pair (`l = 0.5 m: T = 1.42 s`)?"""
    return m.words.strip() in (":", "→", "⇒")


def is_off_on_the_ground(m: Matter) -> bool:
    """`T = 2.86 s` below `T = 2π √(L/g)` and `L = 1.2 m`, on a page that speaks of no other g: is it a value, unit and
    all, that only another g would have?"""
    has_unit = any(isinstance(n, Unit) for n in walk(m.pair.relation()))
    bare = has_unit and not m.words.strip() and m.setting.grounded and not m.setting.broken
    return bare and far_from_the_ground(m, _ROUGHLY)


def _found_by(m: Matter) -> np.ndarray | None:
    """What g would have to be for the pair to hold, in the states there are; None where there are none, or where the
    pair leaves g open (`f = 0.6` of a share under water)."""
    context = m.context.adding(*m.premises(implied=False))
    found = m.setting.states.any(context).columns.get(_G)
    told = found is not None and found.size and not freedom(context, [_G], (), m.setting.states)
    return found if told else None
