"""`together: a = A = F/(m + M)`, `sticking: a = F/(m + M)`: that two bodies speed up alike, in words."""

from __future__ import annotations

from collections.abc import Sequence

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Name, Relation, names_in
from derive.quantities.unit_table import dimension
from derive.states.context import tied_names
from derive.states.setting import Setting

_TOGETHER = words("together stick sticks sticking")
_ACCELERATION = dimension(m=1, s=-2)
_LETTERS = ("a", "A")  # of what speeds up, as g does not (common practice, no source)
_TWO = 2


def where_together(said: Sequence[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """a = A, where the page has two accelerations and the claim is about one of them or both."""
    if _TOGETHER.isdisjoint(said) or "not" in said or not isinstance(claim, Relation) or set(claim.signs) != {"="}:
        return None
    symbols, tied = setting.context.world.symbols, tied_names(setting.context)
    both = [n for n, s in symbols.items() if n in tied and s.dimension == _ACCELERATION
            and n.partition("_")[0] in _LETTERS]
    if len(both) != _TWO or not set(both) & {*names_in(claim)}:
        return None
    alone = len(claim.sides) == _TWO and {*claim.sides} == {*map(Name, both)}
    return claim if alone else Relation((Name(both[0]), Name(both[1])), ("=",))
