"""A function that shares its letter with a constant: `g(h) = g R²/(R + h)²`, where g is what g(h) is at the ground.

The function gets a name of its own, which is the way it is typed, in that line and in those below.
"""

from __future__ import annotations

from collections.abc import Sequence

from derive.notation.printed.printing import as_text
from derive.notation.tree import Name, Relation, Value, names_in, rebuilt, walk
from derive.records import LineVerdict, Reading


def with_functions_apart(reading: Reading, above: Sequence[LineVerdict]) -> Reading:
    """The reading with such functions as names."""
    calls = [n for s in reading.statements for n in walk(s) if isinstance(n, Value) and isinstance(n.function, Name)]
    if not calls:
        return reading
    known = {n.ident for x in above if x.reading is not None for s in x.reading.statements for n in walk(s)
             if isinstance(n, Name) and n.ident.endswith(")")}
    known |= {_called(n.sides[0]) for s in reading.statements for n in walk(s)
              if isinstance(n, Relation) and isinstance(n.sides[0], Value) and _shares_its_letter(n)}
    change: dict[int, object] = {id(n): Name(_called(n), span=n.span) for n in calls if _called(n) in known}
    if not change:
        return reading
    return Reading(
        tuple(rebuilt(s, change) for s in reading.statements),  # type: ignore[misc]
        reading.words, reading.choices, reading.reason, reading.cites)


def _shares_its_letter(relation: Relation) -> bool:
    """`T(θ0) = T (1 + θ0²/16)`, and not `v(0) = u`."""
    call = relation.sides[0]
    bare = {n for side in relation.sides[1:] for n in names_in(side)}
    return isinstance(call, Value) and isinstance(call.function, Name) and call.function.ident in bare and all(
        isinstance(a, Name) for a in call.args) and relation.signs[0] in ("=", "≈")


def _called(call: object) -> str:
    return as_text(call) if isinstance(call, Value) else ""
