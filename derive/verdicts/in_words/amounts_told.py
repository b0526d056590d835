"""A value at a head by its unit alone: `at 100 km/h: s = 56 m`, where a v has been told."""

from __future__ import annotations

from derive.notation.names import Scope, canonical
from derive.notation.reader import read_expression
from derive.notation.tree import Claim, Name, Product, Relation, names_in
from derive.quantities.units import UnreadUnit, parse_unit_text
from derive.quantities.usual import could_be
from derive.states.context import tied_names
from derive.states.setting import Setting
from derive.states.yielding import is_value

_HEADS = frozenset(("at", "for", "with", "if", "when"))
_MOST = 5  # words of such a head


def amount_told(typed: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """That the one name whose unit it is has that value; None where none has been told another, or several."""
    if not 2 < len(typed) <= _MOST or typed[0].lower() not in _HEADS or not typed[1][0].isdigit():
        return None
    unit = parse_unit_text(" ".join(typed[2:]))
    asked = claim.sides[0] if isinstance(claim, Relation) else None
    if isinstance(unit, UnreadUnit) or not isinstance(asked, Name) or asked.ident not in tied_names(setting.context):
        return None
    symbols = setting.context.world.symbols
    told = {p.sides[0].value.name for p in setting.context.premises if is_value(p) and p.sides is not None}

    def measured(name: str) -> bool:
        symbol = symbols.get(name)
        declared = symbol.dimension if symbol is not None and symbol.declared else None
        return declared == unit[0] if declared is not None else could_be(name, unit[0])

    named = sorted(n for n in told - {asked.ident} if canonical(n) == n and measured(n))
    value = read_expression(" ".join(typed[1:]), Scope()) if len(named) == 1 else None
    if not isinstance(value, Product) or names_in(value):
        return None
    return Relation((Name(named[0]), value), ("=",))
