"""Errors of measurement, which add up in size: `error: Δg/g = Δl/l + 2 ΔT/T` below `g = 4π² l/T²`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from derive.notation.lists.word_lists import words
from derive.notation.tree import Differential, Neg, Relation, Statement, Sum, walk
from derive.records import Standing, Verdict
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.verdicts.claims.claiming import decide_claim

_ERRORS = words("error errors uncertainty uncertainties inaccuracy")
_MOST_TERMS = 4


def errors_added(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`error: Δg/g = Δl/l + 2 ΔT/T`, where ΔT itself lessens g: right for sizes, and nothing that g does."""
    for claim in _signs(statement, f"{source.words} {statement.word}"):
        found, _ = decide_claim(claim, setting.asking(), source)
        if all(v.standing is Standing.FOLLOWS for v in found):
            verdict = Verdict(Standing.FOLLOWS, support="tested", points=found[0].points, code="follows.errors",
                              premises=found[0].premises, span=claim.span)
            return (verdict,), setting
    return None


def _signs(statement: Statement, said: str) -> Iterator[Relation]:
    """The claim with each sign before its terms that the errors themselves may have, where words say that it is of
    errors and all of them are added."""
    claim = statement.claim
    told = not _ERRORS.isdisjoint(said.lower().replace(":", " ").replace(",", " ").split())
    total = claim.sides[-1] if isinstance(claim, Relation) and told and len(claim.sides) == 2 else None
    if not isinstance(claim, Relation) or not isinstance(total, Sum) or len(total.terms) > _MOST_TERMS:
        return
    changes = all(any(isinstance(n, Differential) for n in walk(t)) and not isinstance(t, Neg) for t in total.terms)
    for signs in product((False, True), repeat=len(total.terms)) if changes else ():
        terms = tuple(Neg(t, span=t.span) if less else t for t, less in zip(total.terms, signs, strict=True))
        yield replace(claim, sides=(claim.sides[0], replace(total, terms=terms)))
