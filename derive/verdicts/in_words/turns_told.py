"""`after half a turn: t = π/Ω`: how far something has turned, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Constant, Expr, Name, Num, Product, Relation, names_in
from derive.states.context import Context, given_by_time, tied_names
from derive.states.setting import Setting
from derive.states.sizes import ANGLES
from derive.terms.term import Var
from derive.terms.world import TIME

_TURNS = words("turn turns revolution revolutions lap laps")
_WHEN = words("after at when")
_COUNTS = {
    "quarter": Fraction(1, 4), "half": Fraction(1, 2), "one": Fraction(1), "a": Fraction(1), "two": Fraction(2),
    "three": Fraction(3), "four": Fraction(4), "five": Fraction(5), "ten": Fraction(10)}
_BESIDE = words("full whole complete of the it")
_RATES = ("ω", "Ω")


def turned(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """Where the one angle that goes with the time has that value; or, where a rate alone is about, when it comes."""
    count = _count(said)
    if count is None or claim is None:
        return None
    context, own = setting.context, set(names_in(claim))
    angle = Product((Num(2 * count), Constant("π")))
    timely = {v.name for v in given_by_time(context)} | context.world.moving | context.world.functions.keys()
    angles = sorted(n for n in tied_names(context) & timely if n[:1] in ANGLES)
    if len(angles) == 1:
        return _where(Name(angles[0]), angle) if angles[0] not in own else None
    rates = [n for n in tied_names(context) if n.partition("_")[0] in _RATES and _stays(n, context)]
    if angles or len(rates) != 1:
        return None
    return _where(Product((Name(rates[0]), Name(TIME))), angle)


def _stays(name: str, context: Context) -> bool:
    return not context.world.is_changing(Var(name))


def _where(left: Expr, angle: Expr) -> Relation:
    return Relation((left, angle), ("=",))


def _count(said: Sequence[str]) -> Fraction | None:
    """Of `after one full turn`, and of no sentence that only speaks of turns."""
    at = next((k for k, w in enumerate(said) if w in _TURNS), 0)
    if not at or said[0] not in _WHEN or set(said[at + 1:]) - _BESIDE:
        return None
    told = [w for w in said[1:at] if w not in _BESIDE]
    if not told or any(w not in _COUNTS for w in told):
        return None
    return min((_COUNTS[w] for w in told), default=None) if "a" in told else (
        _COUNTS[told[0]] if len(told) == 1 else None)
