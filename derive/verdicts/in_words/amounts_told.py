"""A value at a head by its unit alone: `at 100 km/h: s = 56 m`, `with 300 kg more: d = 0.38 m`, where a v or an m has
been told, or is what the rest hangs on."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.names import TIME, Scope, canonical
from derive.notation.reader import read_expression
from derive.notation.tree import Claim, Name, Num, Product, Relation, names_in
from derive.quantities.units import UnreadUnit, parse_unit_text
from derive.quantities.usual import is_usual
from derive.records import Dimension
from derive.states.context import tied_names
from derive.states.setting import Setting
from derive.states.sizes import ANGLES
from derive.states.states import freedom
from derive.states.yielding import is_value
from derive.terms.lowering import lower
from derive.terms.term import Term, Var
from derive.verdicts.in_words.shares import hangs_on
from derive.verdicts.pairs.multiples import LESS, MORE

_HEADS = frozenset(("at", "for", "with", "if", "when", "after", "over"))
_MOST = 5  # words of such a head


def amount_told(typed: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """That the one name whose unit it is has that value; None where none has been told another, or several."""
    typed = _from_its_number(typed)
    if not 1 < len(typed) < _MOST:
        return None
    added = 1 if typed[-1] in MORE else -1 if typed[-1] in LESS else 0
    typed = typed[:-1] if added else typed
    unit = parse_unit_text(" ".join(typed[1:]))
    asked = claim.sides[0] if isinstance(claim, Relation) else None
    if isinstance(unit, UnreadUnit) or not isinstance(claim, Relation) or not isinstance(asked, Name):
        return None
    told = {p.sides[0].value.name: p.sides[1] for p in setting.context.premises if is_value(p) and p.sides is not None}
    spoken = names_in(replace(claim, sides=claim.sides[1:], signs=claim.signs[1:]))
    measured = [n for n in spoken if _measured(n, unit[0], setting)]
    measured = [n for n in measured if n not in told] if len(measured) > 1 else measured
    if len(measured) == 1 and measured[0] not in (asked.ident, TIME) and not added:
        return _valued(measured[0], typed)  # `power at 0.4 m/s: P = F v`
    if asked.ident not in tied_names(setting.context):
        return None
    named = sorted(n for n in told.keys() - {asked.ident} if canonical(n) == n and _measured(n, unit[0], setting))
    if not named and not added:
        return _of_one_untold(" ".join(typed), unit[0], asked.ident, setting)
    claimed = _valued(named[0], typed) if len(named) == 1 else None
    if claimed is None or not hangs_on(asked.ident, named[0], setting):
        return None
    if not added:
        return claimed
    amount, before = lower(claimed.sides[1], setting.context.world), told[named[0]]
    if not isinstance(amount, Term) or amount.op != "num" or before.op != "num":
        return None
    return replace(claimed, sides=(Name(named[0]), Num(Fraction(before.value + added * amount.value))))


def _from_its_number(typed: list[str]) -> list[str]:
    """`0.4 m/s` of `power at 0.4 m/s`, without what is said behind the claim."""
    typed = typed[:typed.index("…")] if "…" in typed else typed
    at = max((k + 1 for k, word in enumerate(typed) if word.lower() in _HEADS), default=0)
    if at >= len(typed) or not typed[at][0].isdigit():
        return []
    first = typed[at]
    return [first[:-1], "°", *typed[at + 1:]] if first.endswith("°") and len(first) > 1 else typed[at:]


def _valued(name: str, typed: list[str]) -> Relation | None:
    """`v = 0.4 m/s`"""
    value = read_expression(" ".join(typed), Scope())
    return Relation((Name(name), value), ("=",)) if isinstance(value, Product) and not names_in(value) else None


def _of_one_untold(typed: str, kind: Dimension, asked: str, setting: Setting) -> Claim | None:
    """`at 60 rpm: T = 39 N` below `T = m ω² r`, which no line has given an ω: it is of what the asked one hangs on."""
    named = sorted(n for n in tied_names(setting.context) - {asked, TIME} if canonical(n) == n and _measured(
        n, kind, setting) and _settles(n, asked, setting))
    if "rpm" in typed and len(named) > 1:
        named = [n for n in named if n[0] in "ωΩ"]  # `ω = 2π n`: both are told
    return _valued(named[0], typed.split()) if len(named) == 1 else None


def _settles(name: str, asked: str, setting: Setting) -> bool:
    """Is one quantity open, and settled by another, with g where that is one of them?"""
    context, free = setting.context, Var("g")
    given = [Var(name), free] if "g" in tied_names(context) - {asked, name} and freedom(
        context, [free], (), setting.states) == 1 else [Var(name)]
    return freedom(context, [Var(asked)], (), setting.states) == 1 and all(
        freedom(context, some, (), setting.states) == len(given) for some in (given, [*given, Var(asked)]))


def _measured(name: str, dimension: Dimension, setting: Setting) -> bool:
    if not any(dimension.powers):
        return name.partition("_")[0] in ANGLES  # in degrees
    symbol = setting.context.world.symbols.get(name)
    declared = symbol.dimension if symbol is not None and symbol.declared else None
    return declared == dimension if declared is not None else is_usual(name, dimension)
