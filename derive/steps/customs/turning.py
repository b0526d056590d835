"""What goes round: `T² = 4π² r³/(G M)` below `v² = G M/r` is the time of one turn, 2π r/v, or 2π/ω.

A T may be a tension or an energy as well: where the line is no number of times that, nothing is said of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from derive.notation.tree import Name, Power
from derive.states.context import Premise, tied_names
from derive.states.evidence import weigh
from derive.states.setting import Matter
from derive.states.yielding import unvalued
from derive.terms.term import PI, TWO, Term, Var, div, mul, sub, var, variables

TURN = "T being the time of a turn"
_CALLED = frozenset(("period", "turn", "revolution", "orbit", "round", "circle"))
_SAME, _FEW = 1e-9, 6


def views(m: Matter) -> Iterator[Matter]:
    """The matter where a T that nobody has met is the time of one turn."""
    left = m.pair.left.base if isinstance(m.pair.left, Power) else m.pair.left
    if not isinstance(left, Name) or left.ident not in m.fresh or left.ident.partition("_")[0] != "T" or (
            m.setting.strict or m.pair.sign not in ("=", "≈")):
        return
    for turn in _turns(left.ident.partition("_")[2], m):
        told = sub(var(Var(left.ident)), turn)
        if told in m.residuals or not variables(turn):
            continue  # which says what T is
        premise = Premise(TURN, told, "=", False, False, m.number, "custom")
        yield replace(m, setting=m.setting.within(m.context.adding(premise)),
                      fresh=tuple(n for n in m.fresh if n != left.ident))


def binding(inside: Matter) -> bool:
    """Is the line so many times a turn, whatever the sizes are, or said to be the number of seconds of one?"""
    (left, right), *others = inside.lowered.parts
    if others or not variables(right):
        return not others and not _CALLED.isdisjoint(inside.words.lower().replace(":", " ").split())
    context = unvalued(inside.context)
    cloud = inside.setting.states.of(context, (left, right))
    found = weigh(left, right, "=", cloud)
    if cloud.size < _FEW or np.iscomplexobj(found.left) or np.iscomplexobj(found.right):
        return False
    with np.errstate(all="ignore"):
        ratio = found.left / found.right
    varies = np.ptp(found.right) > _SAME * np.abs(found.right).max()
    return bool(varies and np.isfinite(ratio).all() and np.ptp(ratio) < _SAME * np.abs(ratio).max())


def _turns(mark: str, m: Matter) -> Iterator[Term]:
    tied, world = tied_names(m.context), m.context.world
    ω, v, *radii = (var(Var(f"{n}_{mark}" if mark else n)) for n in ("ω", "v", "r", "R"))

    def stays(t: Term) -> bool:
        return t.value.name in tied and not world.is_changing(t.value)

    if stays(ω):
        yield div(mul(TWO, PI), ω)
    yield from (div(mul(TWO, PI, r), v) for r in radii if stays(r) and stays(v))
