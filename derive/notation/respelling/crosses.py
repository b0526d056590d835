"""An x typed for a cross: `2 x 9.8 x 5`, `8 m x 30 m`, and `r x F` of vectors.

No number is written behind a letter that it multiplies, and no x between vectors."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.names import Scope, canonical


def with_crosses(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with a sign of multiplication for each x that stands apart between a number, or a number and its
    unit, and another number, or between vectors."""
    return [
        replace(x, kind="times", text="×", value=None, places=())
        if _is_cross(lexemes, at) or _is_between_vectors(lexemes, at, scope) else x for at, x in enumerate(lexemes)]


def _is_between_vectors(lexemes: list[Lexeme], at: int, scope: Scope) -> bool:
    """`r x F`, `r x m v`, `dr/dt x p`, where x is no name itself."""
    here, row = lexemes[at], lexemes[at + 1:at + 3]
    if here.kind != "run" or here.text != "x" or not at or not here.spaced or scope.knows("x"):
        return False
    before = lexemes[at - 1].text
    if before == "dt" and at > 2 and lexemes[at - 2].kind == "slash":
        before = lexemes[at - 3].text
    return _is_vector(before, scope) and any(_is_vector(x.text, scope) for x in row if x.kind == "run")


def _is_vector(typed: str, scope: Scope) -> bool:
    plain = typed.rstrip("'\u0307\u0308")
    return scope.is_vector(canonical(plain)) or (plain[:1] == "d" and scope.is_vector(canonical(plain[1:])))


def _is_cross(lexemes: list[Lexeme], at: int) -> bool:
    here, after = lexemes[at], lexemes[at + 1] if at + 1 < len(lexemes) else None
    if here.kind != "run" or here.text not in ("x", "X") or after is None or after.kind != "number":
        return False
    before = at - 1
    if before > 0 and lexemes[before].kind in ("run", "unit") and (
            lexemes[before].kind == "unit" or unit_named(lexemes[before].text) is not None):
        before -= 1
    return before >= 0 and lexemes[before].kind == "number" and here.spaced and after.spaced
