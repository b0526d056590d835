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


def led_on_by(claim: Claim, verdicts: Sequence[Verdict], judged: Callable[[int, Pair], Decision]) -> Outcome | None:
    """The verdicts and the setting after a chain `… = formula = reckoned = … = number`, of which the step to what is
    reckoned is off and nothing else. judged: a pair, in the setting before so many others."""
    off = next((k for k, v in enumerate(verdicts) if v.code in _OFF), None)
    if off is None or not isinstance(claim, Relation) or set(claim.signs) != {"="} or len(claim.sides) < off + 3:
        return None
    formula, reckoned, *_, last = claim.sides[off:]
    plain = names_in(formula) and not names_in(replace(claim, sides=claim.sides[off + 1:], signs=claim.signs[off + 1:]))
    if not plain or bare_number(reckoned) is not None or bare_number(last) is None or any(
            v.standing not in (*_HOLDS, Standing.TAKEN) for v in verdicts[:off]) or any(
            v.standing not in _HOLDS for v in verdicts[off + 1:]):
        return None
    decision = judged(off, Pair(formula, last, "=", claim.span))
    if decision.verdict.standing not in _HOLDS:
        return None
    led = replace(
        decision.verdict, standing=Standing.APPROXIMATES, code="approximates.rounded", span=verdicts[off].span)
    return (*verdicts[:off], led, *verdicts[off + 1:]), decision.after
