"""What single letters behind a number can be: units by the way they are used, names that somebody declared or met."""

from __future__ import annotations

from derive.notation.grammar import raw
from derive.notation.grouping.items import Builder
from derive.notation.lexemes.letters import split
from derive.notation.names import TIME

# Letters of litres, days and masses of atoms; and all one-letter units that in a mechanics course are far more often
# names.
LENGTHS = frozenset(("l", "L", "d", "u"))
RARELY_UNITS = frozenset(("g", "h", "t", "d", "u", "l", "L", "C", "V", "F", "T", "A", "K", "H", "S"))


def is_energy_like(part: raw.RawFactor | raw.RawJoined) -> bool:
    """N, J and W are the units that are multiplied by others: `5 N m`."""
    return isinstance(part, raw.RawLetters) and part.run.text in ("N", "J", "W")


def declared_all(part: raw.RawFactor | raw.RawJoined, b: Builder) -> bool:
    """Is every name in it one that somebody declared?"""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    while isinstance(factor, raw.RawPower):
        factor = factor.base
    if not isinstance(factor, raw.RawLetters):
        return False
    if factor.run.text == TIME and (b.scope.functions or any(s.of == TIME for s in b.scope.symbols.values())):
        return True  # where something moves, t is the time before it is a tonne
    pieces = split(factor.run.text, b.scope)
    symbols = [b.scope.symbols.get(p.ident) for p in pieces if p.kind == "name"]
    return bool(symbols) and all(s is not None and s.declared for s in symbols)


def unheard_of(part: raw.RawFactor | raw.RawJoined, b: Builder) -> bool:
    """Is it a letter that nobody has used as a name?"""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    while isinstance(factor, raw.RawPower):
        factor = factor.base
    return isinstance(factor, raw.RawLetters) and not any(
        b.scope.knows(p.ident) for p in split(factor.run.text, b.scope) if p.kind == "name")


def rare(part: raw.RawFactor | raw.RawJoined) -> bool:
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    while isinstance(factor, raw.RawPower):
        factor = factor.base
    return isinstance(factor, raw.RawLetters) and factor.run.text in RARELY_UNITS
