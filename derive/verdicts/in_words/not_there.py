"""What words say is not there: `no friction: tan β = v²/(r g)`, `without drag: v' = g`."""

from __future__ import annotations

from fractions import Fraction

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Name, Num, Relation, names_in
from derive.states.context import tied_names
from derive.states.setting import Setting

_NONE = words("no without zero neglecting neglect ignoring ignore negligible frictionless smooth")
# What is not there, by the letter of its coefficient, else by those of the force (common practice, no source).
_FRICTION = (("μ",), ("f", "F_f", "F_fr", "F_r"))
_COEFFICIENTS = {
    "friction": _FRICTION, "frictionless": _FRICTION, "smooth": _FRICTION, "gravity": (("g",),),
    "damping": (("γ", "β", "b", "c"),), "drag": (("b", "c"), ("D",)), "resistance": (("b", "c"), ("R",)),
}


def without(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`no friction: d = u √(m/k)`: μ = 0, where one μ is about and the claim does not speak of it; else f = 0."""
    called = next((_COEFFICIENTS[w] for w in said if w in _COEFFICIENTS), ())
    if _NONE.isdisjoint(said) or claim is None:
        return None
    tied = tied_names(setting.context)
    about = next((found for letters in called if (found := [
        n for n in tied if n in letters or (len(letters) == 1 and n.partition("_")[0] in letters)])), [])
    if len(about) != 1 or about[0] in names_in(claim):
        return None
    return Relation((Name(about[0]), Num(Fraction(0))), ("=",))
