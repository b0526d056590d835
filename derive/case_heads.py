"""Which statements of a line say a case, of which the others are said: what stands before a colon, an arrow or `gives`.

Truth is not looked at here: a page says what it knows and what it ties.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace

from derive.notation.heads import ARROWS
from derive.notation.tree import (
    Apply,
    Both,
    Claim,
    Either,
    Name,
    Num,
    Product,
    Quotient,
    Relation,
    names_in,
    walk,
)
from derive.notation.vocabulary import GIVING
from derive.readings import gives_a_value
from derive.records import LineVerdict, Reading

_FUNCTIONS_OF_ANGLES = frozenset(("sin", "cos", "tan", "cot"))


def taken_up(
    reading: Reading, above: Sequence[LineVerdict], sizes: Collection[str] = (),
    untied: Callable[[Claim], bool] = lambda claim: False,
) -> Reading:
    """`v = 0 gives u = w`: what a case gives is said of the case alone. `w = u - V gives v_2 = 0` is one as well after
    `w = u - V or w = V - u`: an alternative taken up is no claim. `M = 2 m: a = g/3` is one of the `sizes` that are
    about, and `h = 3 r: N = m g` where nothing above ties the two (`untied`)."""
    if _names_a_coincidence(reading):
        first, *rest = reading.statements
        met = (replace(s, role="suppose", where=first.claim) if s.role == "claim" else s for s in rest)
        return replace(reading, statements=(replace(first, role="suppose"), *met))
    reading, compared = _with_heads_joined(reading, sizes, untied)
    if not _gives(reading) and not compared and not _heads(reading, above):
        return reading
    first, following, *rest = reading.statements
    if first.role == "claim" and first.claim is not None and (compared or _was_alternative(first.claim, above)):
        first = replace(first, role="suppose")
    if first.role != "suppose" or first.where is not None or following.role != "claim":
        return reading
    following = replace(following, role="suppose", where=first.claim)
    return replace(reading, statements=(first, following, *rest))


def _names_a_coincidence(reading: Reading) -> bool:
    """`resonance ω² = k/m: A = …`, `critical damping: b² = 4 m k`: where two things meet that need not."""
    first = reading.statements[0] if reading.statements else None
    claim = first.claim if first is not None and first.role == "claim" and first.where is None else None
    said = set(reading.words.lower().replace(",", " ").replace(":", " ").split())
    return isinstance(claim, Relation) and set(claim.signs) == {"="} and bool(
        {"resonance", "critical", "critically"} & said)


def _heads(reading: Reading, above: Sequence[LineVerdict]) -> bool:
    """`ω² = k/m: A = B` below `ω² = k/m or ω² = 3k/m`."""
    if len(reading.statements) < 2 or not reading.statements[1].word.endswith(":"):
        return False
    first = reading.statements[0].claim
    return first is not None and _was_alternative(first, above)


def _with_heads_joined(
    reading: Reading, sizes: Collection[str], untied: Callable[[Claim], bool]
) -> tuple[Reading, bool]:
    """The reading with all that stands before a colon, an arrow or `gives` as one condition, where that compares what
    is about: `m1 = m2:`, `l = L/2:`, `u2 = 0, M = 2 m => …`, `μ = tan θ gives …`. Nobody claims it."""
    said = reading.statements
    end = next((k for k, s in enumerate(said) if k and _gives_what_stands_before(s.word)), 0)
    heads = [s.claim for s in said[:end] if s.role == "claim" and s.claim is not None]
    compared = [c for c in heads if _compares(c) and (set(names_in(c)) <= set(sizes) or untied(c))]
    if not end or len(heads) < end or not compared or not all(c in compared or gives_a_value(c) for c in heads):
        return reading, False
    whole = heads[0] if end == 1 else Both(tuple(heads), span=said[0].span)
    return replace(reading, statements=(replace(said[0], claim=whole), *said[end:])), True


def _gives_what_stands_before(word: str) -> bool:
    return word.endswith(":") or word.strip() in ARROWS or not GIVING.isdisjoint(word.lower().split()[-1:])


def _compares(claim: Claim) -> bool:
    """`m1 = m2`, `M = 2 m`, `l = L/2` between masses, lengths and the like; `μ = tan θ`."""
    if not isinstance(claim, Relation) or claim.signs != ("=",):
        return False
    numbers = [n for n in walk(claim) if isinstance(n, Num)]
    plain = all(isinstance(n, Name | Num | Product | Quotient | Relation) or _of_an_angle(n) for n in walk(claim))
    named = isinstance(claim.sides[0], Name) or _of_an_angle(claim.sides[0])
    return plain and named and len(names_in(claim)) == 2 and len(numbers) < 2


def _of_an_angle(node: object) -> bool:
    return isinstance(node, Apply) and node.function in _FUNCTIONS_OF_ANGLES and isinstance(node.arg, Name)


def _was_alternative(claim: Claim, above: Sequence[LineVerdict]) -> bool:
    earlier = [s.claim for x in above if x.reading is not None for s in x.reading.statements]
    return any(isinstance(c, Either) and claim in c.parts for c in earlier)


def opens_and_closes(reading: Reading) -> bool:
    """Does a line open a case only to say what it gives?"""
    first, *rest = reading.statements
    said_of_it = bool(rest) and rest[0].where is not None and rest[0].where == first.claim
    return first.role == "suppose" and (said_of_it or _gives(reading))


def _gives(reading: Reading) -> bool:
    words = reading.statements[1].word.lower().split() if len(reading.statements) > 1 else []
    return bool(words) and words[-1] in (*GIVING, "then")  # `if m1 = m2 then a = 0`
