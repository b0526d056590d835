"""Units that count turns or measure an angle, as the name at the head of the line tells."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from derive.notation.grouping.items import Builder
from derive.notation.tree import Expr, Neg, Num, Power, Unit, rebuilt, walk

_COUNTS: dict[str, Num | Power] = {
    "rev": Num(Fraction(1)), "turn": Num(Fraction(1)), "rpm": Power(Unit("min"), Neg(Num(Fraction(1))))}
_COUNTED = re.compile(
    r"\s*(?:\(\w+\)|\w+[.):])?\s*[nNfν](?:_?\w+)?\s*="
    r"|(?![^,;]*(?:[ωΩ]|omega)\w*\s*=).*[^\W\d_][\w']*\s*/\s*\(?\s*2\s*[*·]?\s*(?:π|pi\b)")


def turns_counted(units: Expr, b: Builder) -> Expr | None:
    """`n = 1500 rpm` counts turns, where `ω = 1500 rpm` is an angle a second: what comes first is told by the name
    that begins the line, or an angle divided by 2π; None for the angle."""
    change: dict[int, object] = {
        id(n): replace(_COUNTS[n.ident], span=n.span) for n in walk(units)
        if isinstance(n, Unit) and n.ident in _COUNTS}
    if not change or units.span is None:
        return None
    counted = bool(_COUNTED.match(b.line))
    taken = b.chooser.choose("turns", units.span, ["count", "angle"] if counted else ["angle", "count"])
    return rebuilt(units, change) if taken == "count" else None  # type: ignore[return-value]
