"""`slack: cos θ = -2/3`, `loses contact when cos θ = 2/3`: what pulls or pushes is nothing there, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Name, Num, Relation, names_in
from derive.quantities.unit_table import dimension
from derive.states.context import Premise, tied_names
from derive.states.setting import Setting
from derive.states.states import freedom
from derive.terms.term import Var, var

_SLACK = words("slack slackens")
_LOST = words("lost loses lose losing leaves leave breaks")
_FORCE = dimension(kg=1, m=1, s=-2)
# Letters of what pulls and of what presses (common practice, no source).
_PULLS, _PRESSES = ("T", "S"), ("N", "R")


def where_let_go(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """T = 0 or N = 0, where the page has one such force and the claim does not speak of it."""
    heard = {*said}
    letters = _PULLS if heard & _SLACK else _PRESSES if "contact" in heard and heard & _LOST else ()
    if not letters or "not" in heard or not isinstance(claim, Relation) or claim.signs != ("=",):
        return None
    symbols, tied = setting.context.world.symbols, tied_names(setting.context)
    forces = [n for n in tied if n.partition("_")[0] in letters and n in symbols and symbols[n].dimension == _FORCE]
    if len(forces) != 1 or forces[0] in names_in(claim):
        return None
    own = [Var(n) for n in names_in(claim)]
    there = setting.context.adding(Premise("", var(Var(forces[0])), "=", always=False))
    free = [freedom(c, own, (), setting.states) for c in (setting.context, there)]
    if not 0 <= free[1] < free[0]:
        return None  # `if v0² = 3 g L it goes slack …` says of which case
    return Relation((Name(forces[0]), Num(Fraction(0))), ("=",))
