"""In which order the statements of a line are decided: what a name means before what is said with it."""

from __future__ import annotations

from collections.abc import Sequence, Set

from derive.notation.names import Scope
from derive.notation.tree import Derivative, Name, Power, Relation, Statement, names_in, walk


def meanings_first(statements: Sequence[Statement], scope: Scope, tied: Set[str]) -> list[int]:
    """The order in which a line's statements are decided: `u = A cos(ω t) with ω² = k/m`, `λ = -γ ± i ω1, ω1 = √(ω0² -
    γ²)` say last what a name is that nothing before the line is said of (`tied` are the others); `tan θ = 1.32, θ =
    53°`, `tan θ = w/v, θ = 53°` say last what comes of the first."""
    order = list(range(len(statements)))
    told = _told_beside(statements, scope) or _told_behind(statements, scope, tied)
    if told:
        return sorted(order, key=lambda k: k not in told)
    last = statements[-1] if len(statements) > 1 else None
    if last is None or not isinstance(last.claim, Relation) or last.where is not None:
        return order
    side = last.claim.sides[0]
    named = side.base if isinstance(side, Power) else side
    if not isinstance(named, Name):
        return order
    said = last.word.strip(", ") in ("with", "where")
    if said and _counts(last.claim, statements[:-1], tied):
        return [order[-1], *order[:-1]]
    nearly = statements[0].role == "regime" and named.ident not in tied  # `small θ: θ'' ≈ -ω0² θ, ω0² = m g a/I`
    if scope.knows(named.ident) and not nearly and (scope.quick or named.ident in tied or named is not side):
        return order
    met = any(named.ident in names_in(s.claim) for s in statements[:-1] if s.claim is not None)
    rest = [n for side in last.claim.sides[1:] for n in names_in(side)]
    known = set() if rest else tied  # a number is what comes of `tan β = w/v` as well
    solved = any({*names_in(s.claim)} - known == {named.ident} for s in statements[:-1] if s.claim is not None)
    listed = not last.word.strip(", ") and met and not solved and all(map(scope.knows, rest))
    return [order[-1], *order[:-1]] if said or listed else order


def _told_behind(statements: Sequence[Statement], scope: Scope, tied: Set[str]) -> set[int]:
    """Several meanings behind a claim: `E1/E2 = m2/m1 with E1 = ½ m1 v1², E2 = ½ m2 v2²`."""
    first = next((k for k, s in enumerate(statements) if k and s.word.strip(", ") in ("with", "where")), 0)
    behind = range(first, len(statements)) if first else range(0)
    sides = [s.claim.sides[0] for s in statements[first:] if isinstance(s.claim, Relation) and s.where is None]
    named = [side.ident for side in sides if isinstance(side, Name)]
    above = [s.claim.sides[0] for s in statements[:first] if isinstance(s.claim, Relation)]
    new = all(n not in tied and not scope.knows(n) and Name(n) not in above for n in named)
    return set(behind) if len(behind) > 1 and len(named) == len(behind) and new else set()


def _counts(claim: Relation, others: Sequence[Statement], tied: Set[str]) -> bool:
    """`T = P e^(2π μ n), where φ = 2π n`: what is new on the line is told by a name that is not."""
    new = {n for side in claim.sides[1:] for n in names_in(side)} - tied
    used = {n for s in others if s.claim is not None for n in names_in(s.claim)}
    named = claim.sides[0]
    return bool(new & used) and claim.signs == ("=",) and isinstance(named, Name) and named.ident in tied


def _told_beside(statements: Sequence[Statement], scope: Scope) -> set[int]:
    """Statements that say what a function is of which another on the line takes partial derivatives: `U = x² y` beside
    `F_x = -∂U/∂x`."""
    taken = {
        n.body.ident for s in statements for n in walk(s)
        if isinstance(n, Derivative) and n.partial and isinstance(n.body, Name) and not scope.knows(n.body.ident)}
    return {
        k for k, s in enumerate(statements)
        if isinstance(s.claim, Relation) and isinstance(s.claim.sides[0], Name) and s.claim.sides[0].ident in taken}
