"""Relations that a line says of a place without a comma: `at the top N + m g = m v²/r` is a law and no case."""

from __future__ import annotations

from derive.notation.tree import Claim, Name, Power, Relation, Statement, names_in
from derive.records import Standing
from derive.states.context import tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.verdicts.claims.claiming import decide_claim

# What comes to pass when something is so, and is no place.
_WHEN = frozenset(("balance", "balanced", "equal", "critical", "stops", "stop", "starts", "slips", "tips", "topples"))


def law_of_a_place(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`at the top N + m g = m v²/r`, typed without a comma: a law, where it can stand as one, and no case. Nor is
    `at the bottom T = m g + m v²/r = 6 m g`, which works something out."""
    claim = statement.where
    if not isinstance(claim, Relation) or _WHEN & {*source.words.lower().split()}:
        return None
    if not source.words or set(claim.signs) != {"="} or len(names_in(claim)) < 3:
        return None
    if statement.claim is not None:
        return _laws_of_a_place(claim, statement.claim, setting, source)
    verdicts, after = decide_claim(claim, setting, source, statement.word)
    stands = all(v.standing in (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.TAKEN)
                 or v.code == "fails.restated" for v in verdicts)
    return (verdicts, after) if stands or len(claim.sides) > 2 else None


def _laws_of_a_place(first: Relation, second: Claim, setting: Setting, source: Source) -> Outcome | None:
    """`at the bottom u² = 2 g h and N = m g + m u²/R`: what u is there, where nothing above speaks of u."""
    named = first.sides[0].base if isinstance(first.sides[0], Power) else first.sides[0]
    if not isinstance(named, Name) or named.ident in tied_names(setting.context):
        return None
    told, after = decide_claim(first, setting, source)
    if any(v.standing is not Standing.TAKEN for v in told):
        return None
    verdicts, after = decide_claim(second, after, source)
    return (*told, *verdicts), after
