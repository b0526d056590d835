"""Numbers on the way to a right one: `s = 4·14.1 = 56 m` of an s of 56.2 m, where 14.1 had lost a figure before.

What is put in between need only lead to the number that the chain ends with, and that one is held to its figures.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from derive.notation.tree import Claim, Relation, names_in
from derive.records import Standing, Verdict
from derive.states.said import Outcome
from derive.states.setting import Decision
from derive.terms.claims import Pair
from derive.terms.numbers import bare_number

_HOLDS = (Standing.FOLLOWS, Standing.APPROXIMATES)
_OFF = frozenset(("fails.number", "fails.contradicts"))


def led_on_by(claim: Claim, verdicts: Sequence[Verdict], judged: Callable[[Pair], Decision]) -> Outcome | None:
    """The verdicts and the setting after a chain `name = reckoned = … = number` whose first step alone is off."""
    if not isinstance(claim, Relation) or len(claim.sides) < 3 or set(claim.signs) != {"="} or (
            verdicts[0].code not in _OFF):
        return None
    first, reckoned, *_, last = claim.sides
    plain = names_in(first) and not names_in(replace(claim, sides=claim.sides[1:], signs=claim.signs[1:]))
    if not plain or bare_number(reckoned) is not None or bare_number(last) is None or not all(
            v.standing in _HOLDS for v in verdicts[1:]):
        return None
    decision = judged(Pair(first, last, "=", claim.span))
    if decision.verdict.standing not in _HOLDS:
        return None
    led = replace(decision.verdict, standing=Standing.APPROXIMATES, code="approximates.rounded", span=verdicts[0].span)
    return (led, *verdicts[1:]), decision.after
