"""An x typed for a cross: `2 x 9.8 x 5`, `8 m x 30 m`. No number is written behind a letter that it multiplies."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import unit_named


def with_crosses(lexemes: list[Lexeme]) -> list[Lexeme]:
    """The lexemes with a sign of multiplication for each x that stands apart between a number, or a number and its
    unit, and another number."""
    return [
        replace(x, kind="times", text="×", value=None, places=()) if _is_cross(lexemes, at) else x
        for at, x in enumerate(lexemes)]


def _is_cross(lexemes: list[Lexeme], at: int) -> bool:
    here, after = lexemes[at], lexemes[at + 1] if at + 1 < len(lexemes) else None
    if here.kind != "run" or here.text not in ("x", "X") or after is None or after.kind != "number":
        return False
    before = at - 1
    if before > 0 and lexemes[before].kind in ("run", "unit") and (
            lexemes[before].kind == "unit" or unit_named(lexemes[before].text) is not None):
        before -= 1
    return before >= 0 and lexemes[before].kind == "number" and here.spaced and after.spaced
