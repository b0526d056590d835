"""Which statements of a line say a case, of which the others are said: what stands before a colon, an arrow or `gives`.

Truth is not looked at here: a page says what it knows and what it ties.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from itertools import pairwise

from derive.notation.lists.vocabulary import GIVING, STARTS
from derive.notation.sentences.heads import ARROWS
from derive.notation.tree import (
    Apply,
    Both,
    Claim,
    Differential,
    Either,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    Sum,
    is_zero,
    names_in,
    walk,
)
from derive.readings import gives_a_value
from derive.records import LineVerdict, Reading

_COMPARING = (("=",), ("<",), (">",), ("≤",), ("≥",))
_FUNCTIONS_OF_ANGLES = frozenset(("sin", "cos", "tan", "cot"))


def taken_up(
    reading: Reading, above: Sequence[LineVerdict], sizes: Collection[str] = (),
    untied: Callable[[Claim], bool] = lambda claim: False, given: bool = False,
) -> Reading:
    """`v = 0 gives u = w`: what a case gives is said of the case alone. `w = u - V gives v_2 = 0` is one as well after
    `w = u - V or w = V - u`: an alternative taken up is no claim. `M = 2 m: a = g/3` is one of the `sizes` that are
    about, and `h = 3 r: N = m g` where nothing above ties the two (`untied`). given: the page has givens."""
    one = _one_of_several(reading, above)
    if one is not None:
        return one
    if _names_a_coincidence(reading):
        first, *rest = reading.statements
        met = (replace(s, role="suppose", where=first.claim) if s.role == "claim" else s for s in rest)
        return replace(reading, statements=(replace(first, role="suppose"), *met))
    reading = _with_its_limit(_with_one_discarded(reading, above))
    reading, compared = _with_heads_joined(reading, above, sizes, untied, given)
    if not _gives(reading) and not compared and not _heads(reading, above):
        return reading
    first, following, *rest = reading.statements
    if first.role == "claim" and first.claim is not None and (
            compared or _was_alternative(first.claim, above) or (given and _goes_on_to_nothing(first.claim))):
        first = replace(first, role="suppose")
    if first.role != "suppose" or first.where is not None or following.role != "claim":
        return replace(reading, statements=(first, following, *rest))  # `h = b: it slides if μ < 1/2`
    following = replace(following, role="suppose", where=first.claim)
    return replace(reading, statements=(first, following, *rest))


def _with_one_discarded(reading: Reading, above: Sequence[LineVerdict]) -> Reading:
    """`v1 = 3 means no collision, so v1 = 1` below `v1 = 1 or v1 = 3`: the first is only looked at."""
    if len(reading.statements) < 2 or reading.statements[1].word.endswith(":"):
        return reading
    first, second, *rest = reading.statements
    if first.role != "claim" or second.role != "claim" or not (isinstance(first.claim, Relation) and isinstance(
            second.claim, Relation)):
        return reading
    same = first.claim.sides[0] == second.claim.sides[0] and first.claim != second.claim
    if not same or not _was_alternative(first.claim, above) or len(second.word.split()) < 2:
        return reading
    return replace(reading, statements=(replace(first, role="range"), second, *rest))


def _goes_on_to_nothing(claim: Claim) -> bool:
    """`= 0 gives x = √(b/a)` below `d/dx (a x + b/x) = a - b/x²`: where that is nothing."""
    return isinstance(claim, Relation) and claim.carries_on and claim.signs == ("=",) and is_zero(claim.sides[-1])


# Which of several is spoken of, and what is said of it (common practice, no source).
_WHICH = {"first": 0, "former": 0, "second": 1, "third": 2, "latter": -1, "last": -1}
_SAID_OF_IT = frozenset((
    "needs", "requires", "exists", "holds", "solution", "root", "one", "case", "is", "only", "possible", "means",
    "mode", "gives", "yields"))


def _one_of_several(reading: Reading, above: Sequence[LineVerdict]) -> Reading | None:
    """`the second needs Ω² ≥ g/R` below `sin θ = 0 or cos θ = g/(R Ω²)`: said of that one alone."""
    if not reading.statements or reading.statements[0].role != "claim":
        return None
    said = f"{reading.words} {reading.statements[0].word}".lower().replace(",", " ").replace(":", " ").split()
    which = next((_WHICH[a] for a, b in pairwise(said) if a in _WHICH and b in _SAID_OF_IT), None)
    if which is None and _goes_through_them(above):
        which = _WHICH.get(said[-1]) if said else None
    if which is None:
        return None
    several = next((
        s.claim.parts for x in reversed(above) if x.reading is not None for s in reversed(x.reading.statements)
        if isinstance(s.claim, Either)), ())
    if not -len(several) <= which < len(several):
        return None
    first, *rest = reading.statements
    if first.where is not None or first.claim in several:
        return None
    return replace(reading, statements=(replace(first, role="suppose", where=several[which]), *rest))


def _goes_through_them(above: Sequence[LineVerdict]) -> bool:
    """Do alternatives stand next above, or what is said of one of them (`first: A = B`, then `second: A = -B`)?"""
    last = above[-1].reading if above else None
    return last is not None and any(
        isinstance(s.claim, Either) or (s.role == "suppose" and s.where is not None) for s in last.statements)


def _with_its_limit(reading: Reading) -> Reading:
    """`if m → ∞: a → g` is said as `as m → ∞: a → g` is."""
    first, *rest = reading.statements or (None,)
    where = first.claim if first is not None and rest and first.role == "suppose" and first.where is None else None
    if not isinstance(where, Relation) or where.signs != ("→",) or any(
            s.role not in ("claim", "limit") or s.where is not None for s in rest):
        return reading
    return replace(reading, statements=tuple(replace(s, role="limit", where=where) for s in rest))


def _names_a_coincidence(reading: Reading) -> bool:
    """`resonance ω² = k/m: A = …`, `critical damping: b² = 4 m k`, where two things meet that need not; and what a line
    calls a case: `case 1: γ < ω0, x = …`."""
    first = reading.statements[0] if reading.statements else None
    claim = first.claim if first is not None and first.role == "claim" and first.where is None else None
    said = reading.words.lower().replace(",", " ").replace(":", " ").split()
    if isinstance(claim, Relation) and claim.signs in _COMPARING and said[:1] == ["case"]:
        return True
    return isinstance(claim, Relation) and set(claim.signs) == {"="} and bool(
        {"resonance", "critical", "critically"}.intersection(said))


def _heads(reading: Reading, above: Sequence[LineVerdict]) -> bool:
    """`ω² = k/m: A = B` below `ω² = k/m or ω² = 3k/m`."""
    if len(reading.statements) < 2 or not reading.statements[1].word.endswith(":"):
        return False
    first = reading.statements[0].claim
    return first is not None and _was_alternative(first, above)


def _with_heads_joined(
    reading: Reading, above: Sequence[LineVerdict], sizes: Collection[str], untied: Callable[[Claim], bool], given: bool
) -> tuple[Reading, bool]:
    """The reading with all that stands before a colon, an arrow or `gives` as one condition, where that compares what
    is about (`m1 = m2:`, `l = L/2:`, `u2 = 0, M = 2 m => …`, `μ = tan θ gives …`) or has another value than above
    (`with t = 4 s: …`). Nobody claims it."""
    said = reading.statements
    end = next((k for k, s in enumerate(said) if k and _gives_what_stands_before(s.word)), 0)
    end = end or _values_supposed(said) or _left_out(said, sizes, untied) or _sizes_met(reading, sizes, given)
    picked = _picked_out(reading, above)
    end = end or picked
    heads = [
        s.claim for s in said[:end] if s.claim is not None and s.where is None and (
            s.role == "claim" or (s.role == "suppose" and end > 1) or (s.role == "let" and s.word.lower() == "with"))]
    compared = [
        c for c in heads
        if ((_compares(c) or _adds_up(c)) and (names_compared(c) <= set(sizes) or untied(c)))
        or ((given or _names_a_rate(c)) and _is_a_product(c) and untied(c)) or (
            end and (_valued_otherwise(c, above) or _without(c, sizes) or _is_a_share(c)
                     or (picked and c is said[0].claim) or _is_a_place(c, said[end:], above)))]
    if not end or len(heads) < end or not compared or not all(c in compared or gives_a_value(c) for c in heads):
        return reading, False
    whole = heads[0] if end == 1 else Both(tuple(heads), span=said[0].span)
    return replace(reading, statements=(replace(said[0], role="claim", claim=whole), *said[end:])), True


def _values_supposed(said: Sequence[Statement]) -> int:
    """How many values a line supposes at its head: two in `if a = 3 and t = 4, v = 12`."""
    if not said or said[0].role != "suppose":
        return 0
    count = next((k for k, s in enumerate(said) if s.claim is None or not gives_a_value(s.claim)), len(said) - 1)
    return count if 1 < count < len(said) else 0


def _left_out(said: Sequence[Statement], sizes: Collection[str], untied: Callable[[Claim], bool]) -> int:
    """One for `with b = 0, v² = (4/3) F0 d/m`, where b is about: what comes out without it."""
    if len(said) < 2 or said[0].role != "let" or said[0].word.lower() != "with" or said[1].role != "claim":
        return 0
    head, claim = said[0].claim, said[1].claim
    nothing = isinstance(head, Relation) and head.signs == ("=",) and isinstance(head.sides[0], Name) and is_zero(
        head.sides[1])
    about = nothing and head is not None and (_without(head, sizes) or untied(head))
    return 1 if about and claim is not None and not gives_a_value(claim) else 0


def _sizes_met(reading: Reading, sizes: Collection[str], given: bool) -> int:
    """`low orbit: r ≈ R, v ≈ √(g R)`: one, where words name a case in which two sizes are the same. Without givens
    `equal masses: m1 = m2, …` may be so on the whole page."""
    first, *rest = reading.statements or (None,)
    claim = first.claim if first is not None and rest and first.role == "claim" and reading.words else None
    met = isinstance(claim, Relation) and _compares(claim) and all(
        isinstance(side, Name) and side.ident in sizes for side in claim.sides)
    told = met and not STARTS.search(reading.words.lower())  # `released from rest at d: A = d` is what comes of it
    return int(told and isinstance(claim, Relation) and (given or claim.signs == ("≈",)))


def _picked_out(reading: Reading, above: Sequence[LineVerdict]) -> int:
    """One for `quickest: θ = 0, t = w/v`, where a superlative says that of all θ above one is looked at."""
    first, *rest = reading.statements or (None,)
    claim = first.claim if first is not None and rest and first.role == "claim" else None
    if not isinstance(claim, Relation) or not gives_a_value(claim) or rest[0].role != "claim" or not any(
            w.endswith("est") and w not in _NO_SUPERLATIVE for w in reading.words.lower().replace(":", " ").split()):
        return 0
    met = {n for x in above if x.reading is not None for s in x.reading.statements for n in names_in(s)}
    return int({*names_in(claim.sides[0])} <= met)


_NO_SUPERLATIVE = frozenset(("rest", "test", "west", "crest", "chest", "nest", "interest", "request", "suggest"))


def _gives_what_stands_before(word: str) -> bool:
    return word.endswith(":") or word.strip() in ARROWS or not GIVING.isdisjoint(word.lower().split()[-1:])


def _compares(claim: Claim) -> bool:
    """`m1 = m2 = m3`, `M = 2 m`, `l = L/2`, `m2 < m1` between masses, lengths and the like; `μ = tan θ`."""
    if not isinstance(claim, Relation):
        return False
    if set(claim.signs) <= {"=", "≈"} and all(isinstance(s, Name) for s in claim.sides):
        return True
    *several, last = claim.sides  # `α = β = 30°`
    if set(claim.signs) == {"="} and len(several) > 1 and all(isinstance(s, Name) for s in several) and (
            not names_in(last)):
        return True
    numbers = [n for n in walk(claim) if isinstance(n, Num)]
    plain = all(isinstance(n, Name | Num | Neg | Product | Quotient | Relation) or _of_an_angle(n) for n in walk(claim))
    named = isinstance(claim.sides[0], Name) or _of_an_angle(claim.sides[0])
    return claim.signs in _COMPARING and plain and named and len(names_in(claim)) == 2 and len(numbers) < 2


def _adds_up(claim: Claim) -> bool:
    """`α + β = π/2`: two quantities that come to a number together."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or names_in(claim.sides[1]):
        return False
    total = claim.sides[0]
    return isinstance(total, Sum) and len(total.terms) == 2 and all(isinstance(n, Name) for n in total.terms)


def _is_a_product(claim: Claim) -> bool:
    """`I = m h²`, `Ω² = k/m`, of quantities that nothing above ties."""
    return isinstance(claim, Relation) and claim.signs == ("=",) and isinstance(_base(claim.sides[0]), Name) and all(
        isinstance(n, Name | Num | Product | Quotient | Power) or (isinstance(n, Apply) and n.function == "sqrt")
        for n in walk(claim.sides[1])) and len(names_in(claim.sides[1])) > 1


def _names_a_rate(claim: Claim) -> bool:
    """`Ω = √(k/m)`, `u² = g R`: at which rate something is driven, or how fast it starts, where without givens another
    letter might bring in a law."""
    named = _base(claim.sides[0]) if isinstance(claim, Relation) else None
    return isinstance(named, Name) and (
        named.ident in ("u", "V", "v_0", "u_0") or named.ident.partition("_")[0] in ("ω", "Ω"))


def _base(side: Expr) -> Expr:
    return side.base if isinstance(side, Power) else side


def _without(claim: Claim, sizes: Collection[str]) -> bool:
    """`m2 = 0 → a = g`, `μ = 0: a = g sin θ`, of a size that is about: what comes out without it."""
    return isinstance(claim, Relation) and claim.signs == ("=",) and isinstance(claim.sides[0], Name) and (
        claim.sides[0].ident in sizes and is_zero(claim.sides[1]))


def names_compared(claim: Claim) -> set[str]:
    """The names that are compared; the m of `m1 = m2 = m` may be a new one for both."""
    sides = claim.sides if isinstance(claim, Relation) else ()
    one_for_all = len(sides) > 2 and all(isinstance(s, Name) for s in sides)
    return {n for side in (sides[:-1] if one_for_all else sides) for n in names_in(side)}


_PLACES = frozenset("xyzsrhθφ")


def _is_a_place(claim: Claim, said: Sequence[Statement], above: Sequence[LineVerdict]) -> bool:
    """`x = d: v_w = √(u² - 2 μ g d)`: a new name for the x of which the rest is said."""
    sides = claim.sides if isinstance(claim, Relation) and claim.signs == ("=",) else ()
    names = [side.ident for side in sides if isinstance(side, Name)]
    if len(names) != 2 or names[0] not in _PLACES or names[1] == names[0].upper():
        return False
    met = {n for x in above if x.reading is not None for s in x.reading.statements for n in names_in(s)}
    named = {n for s in said for n in names_in(s)}
    return names[0] in met - named and names[1] in named - met


def _is_a_share(claim: Claim) -> bool:
    """`dv/v = 3 %`: by how much of itself a quantity is changed."""
    share = claim.sides[0] if isinstance(claim, Relation) and claim.signs in (("=",), ("≈",)) else None
    return isinstance(share, Quotient) and isinstance(share.num, Differential) and share.num.body == share.den and (
        not names_in(claim.sides[1]))  # type: ignore[union-attr]


def _valued_otherwise(claim: Claim, above: Sequence[LineVerdict]) -> bool:
    """Has a line above told another value of what is given one, or said something for another?"""
    if not gives_a_value(claim):
        return False
    said = [s for x in above if x.reading is not None for s in x.reading.statements]
    earlier = [s.claim if s.role in ("claim", "let") else s.where for s in said]
    return any(
        c is not None and gives_a_value(c) and c.sides[0] == claim.sides[0] and (  # type: ignore[union-attr]
            c.sides[1:] != claim.sides[1:])  # type: ignore[union-attr]
        for c in earlier)


def told_for_a_case(reading: Reading, above: Sequence[LineVerdict]) -> set[str]:
    """The names whose value stood at the head of a line above (`a = 2 m/s², m = 60 kg: N = …`) and is another at the
    head of this one (`a = 3 m/s²: N = …`, `a = -g: N = 0`): that is what it was there, and no value for the page."""
    heads = [s.where for s in reading.statements if s.role == "suppose" and isinstance(s.where, Relation)]
    told = [c for x in above for c in _told_at_head(x)]
    return {
        head.sides[0].ident for head in heads if head.signs == ("=",) and isinstance(head.sides[0], Name) and any(
            c.sides[0] == head.sides[0] and c.sides[1:] != head.sides[1:] for c in told)}


def _told_at_head(line: LineVerdict) -> list[Relation]:
    """The values that stand before a colon."""
    said = line.reading.statements if line.reading is not None else ()
    colon = next((k for k, s in enumerate(said) if k and s.word.endswith(":")), 0)
    told = [s.where if s.where is not None else s.claim for s in said[:colon or 1]] if colon or (
        said and said[0].where is not None) else []
    return [c for c in told if isinstance(c, Relation) and gives_a_value(c)]


def told_in_a_case(reading: Reading, above: Sequence[LineVerdict]) -> set[str]:
    """The names that a line above gave a value where another name has one (`F = 12 N at x = 3 cm`) that is another here
    (`at x = 5 cm: F = 20 N`)."""
    heads = [where for where, _ in _told_under(reading)]
    earlier = (pair for x in above if x.reading is not None for pair in _told_under(x.reading))
    return {
        told.sides[0].ident for where, told in earlier for head in heads  # type: ignore[union-attr]
        if gives_a_value(told) and where.sides[0] == head.sides[0] and where.sides[1:] != head.sides[1:]}


def _told_under(reading: Reading) -> list[tuple[Relation, Claim]]:
    """What a line says where a name has a value, beside that: `F = 12 N at x = 3 cm`, `with m = 2 kg: T = 1.2 s`."""
    said = reading.statements
    head = said[0].claim if len(said) > 1 and said[1].word.endswith(":") else None
    pairs = [(s.where if s.where is not None else head, s.claim) for s in said]
    return [(where, claim) for where, claim in pairs
            if isinstance(where, Relation) and gives_a_value(where) and claim is not None and claim is not where]


def told_at_heads(above: Sequence[LineVerdict]) -> frozenset[str]:
    """The v of `v = 20 m/s: F = P/v = 3 kN`."""
    first = (x.reading.statements[0].claim for x in above if x.reading is not None and _has_a_head(x))
    return frozenset(c.sides[0].ident for c in first if c is not None and gives_a_value(c))  # type: ignore[union-attr]


def _has_a_head(line: LineVerdict) -> bool:
    said = line.reading.statements if line.reading is not None else ()
    return len(said) > 1 and said[1].word.endswith(":")


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
    """`v = 0 gives …`, `if k1 = k2 then …`."""
    words = reading.statements[1].word.lower().split() if len(reading.statements) > 1 else []
    return bool(words) and (words[-1] in GIVING or (words[-1] == "then" and reading.statements[0].role == "suppose"))
