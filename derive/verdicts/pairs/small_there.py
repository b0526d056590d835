"""What a quantity is nearly at a moment, where something is small: `x0 ≪ L: v ≈ √(g L)` below `at x = L: v = …`."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Name, Relation
from derive.records import Standing
from derive.states.context import Context
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Setting
from derive.terms.claims import pairs
from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, substitute, var
from derive.verdicts.pairs.judge import judge


def near_what_it_was_there(claim: Claim, opened: Setting, source: Source) -> Outcome | None:
    """The claim as said of what the last moment that is spoken of gave its first side; None where nothing is small, or
    it does not hold so."""
    key = next((c.key for c in reversed(opened.cases) if c.key), "")
    if opened.regime is None or not key or not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name):
        return None
    value = _given_there(claim.sides[0].ident, key, opened.context)
    if value is None:
        return None
    change = {var(Var(claim.sides[0].ident)): value}
    verdicts = []
    for pair in pairs(claim):
        m = matter(pair, opened, source)
        parts = tuple((substitute(a, change), substitute(b, change)) for a, b in m.lowered.parts)
        decision = judge(replace(m, lowered=replace(m.lowered, parts=parts)))
        verdicts.append(replace(decision.verdict, span=pair.span))
    holds = (Standing.FOLLOWS, Standing.APPROXIMATES)
    return (tuple(verdicts), opened) if all(v.standing in holds for v in verdicts) else None


def _given_there(name: str, key: str, context: Context) -> Term | None:
    """What a line says a name is at an instant."""
    there = Var(name, at=key)
    return next((
        t for p in reversed(context.premises) if p.sign == "="
        for v, t in isolated(p.term) if v == there), None)
