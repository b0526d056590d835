"""Small changes by the letter Δ: `ΔF/F ≈ 2 Δv/v` is said of differentials, where nothing else has been said of ΔF."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import (
    Claim,
    Differential,
    Name,
    Quotient,
    Relation,
    Statement,
    names_in,
    rebuilt,
    walk,
)
from derive.states.context import tied_names
from derive.states.setting import Setting
from derive.terms.term import variables

_CHANGE = "Δ"


def as_differentials(statement: Statement, setting: Setting) -> Statement:
    """The statement with dv for Δv, where it says how small changes go together: to the first order, or by which share
    (`Δv/v = 3 %`). `Δp = m v - m u` is a change of any size, and so is what a line above says of Δp."""
    claim, where = (_with_differentials(c, setting) for c in (statement.claim, statement.where))
    same = claim is statement.claim and where is statement.where
    return statement if same else replace(statement, claim=claim, where=where)


def _with_differentials(claim: Claim | None, setting: Setting) -> Claim | None:
    found = [n for n in walk(claim) if isinstance(n, Name) and n.ident.startswith(_CHANGE)] if claim else []
    if not found or not isinstance(claim, Relation) or not set(claim.signs) <= {"=", "≈"}:
        return claim
    tied = tied_names(setting.context)
    told = any(n.ident in tied or n.ident in setting.context.world.symbols or n.ident[1:] not in tied for n in found)
    small = _to_first_order(claim) or _shares(claim) == len(found) or (
        _of_changes(claim) and any(_said_small(n.ident[1:], setting) for n in found))
    if told or not small:
        return claim
    change: dict[int, object] = {id(n): Differential(replace(n, ident=n.ident[1:]), span=n.span) for n in found}
    return rebuilt(claim, change)  # type: ignore[return-value]


def _to_first_order(claim: Relation) -> bool:
    """Is every side with a name in it one of changes, and the sign `≈`?"""
    return "≈" in claim.signs and _of_changes(claim)


def _of_changes(claim: Relation) -> bool:
    named = [side for side in claim.sides if names_in(side)]
    return len(named) > 1 and all(any(n.startswith(_CHANGE) for n in names_in(side)) for side in named)


def _said_small(name: str, setting: Setting) -> bool:
    """Has a line above spoken of the differential of a name: `Δv/v = 2 %`, then `Δp = m Δv`?"""
    return any(
        v.name == name and v.role == "differential" for p in setting.context.premises for v in variables(p.term))


def _shares(claim: Claim) -> int:
    """How many changes stand over what is changed: `Δv/v`, `2 Δv/v`."""
    return sum(
        isinstance(n, Quotient) and isinstance(n.den, Name) and names_in(n.num) == (_CHANGE + n.den.ident,)
        for n in walk(claim))
