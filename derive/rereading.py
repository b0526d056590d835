"""Yet other readings of a line whose likeliest does not hold: its bare numbers in the units that values were given in,
what stands before a colon as a case, what cannot be both as one or the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import dataclass, replace

from derive.notation.tree import (
    Apply,
    Both,
    Claim,
    Either,
    Expr,
    Name,
    Neg,
    Product,
    Relation,
    Statement,
    is_zero,
    names_in,
    rebuilt,
    walk,
)
from derive.quantities.given_units import in_given_units, in_gravities, in_unit_of_the_end
from derive.quantities.turned_units import with_units_turned
from derive.readings import gives_a_value
from derive.records import UNSURE, Choice, LineVerdict, Reading, Standing, Verdict
from derive.terms.world import TIME
from derive.verdicts.cases.which_case import telling_which

# How a line fails whose numbers lack a unit.
_OF_NUMBERS = frozenset(("fails.number", "fails.contradicts"))
_BAD = (Standing.FAILS, Standing.CARRIED, *UNSURE)


@dataclass(frozen=True, slots=True)
class Rereading:
    """Another reading of a line, and whether its bare numbers are in other units than those of the SI."""

    reading: Reading
    in_units: bool = False
    in_a_case: bool = False  # that the line does not open by itself

    def stands(self, verdicts: Sequence[Verdict], first: Sequence[Verdict]) -> bool:
        """May it take the place of the first? It says more that stands; with other units, or in a case of
        its own, something that holds."""
        if not (self.in_units or self.in_a_case):
            return not _bad(verdicts)
        holds = any(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in verdicts)
        return holds and (_bad(verdicts) < _bad(first) or not _bad(verdicts))


def rereadings(
    line: LineVerdict, above: Sequence[LineVerdict], headed: Callable[[Reading], Reading] | None, vectors: Set[str],
    declared: bool
) -> Iterator[Rereading]:
    """The other readings of a line that has been decided. headed: reads what stands before a colon as a case, where the
    page may leave that open. vectors: the names that are. declared: the page says so itself."""
    reading = line.reading
    codes = {v.code for v in line.verdicts}
    if reading is None or not (_bad(line.verdicts) or "taken.situation" in codes):
        return
    if codes & {"taken.situation", *_OF_NUMBERS} and (unsigned := _unsigned(reading, above)) is not None:
        yield Rereading(unsigned, in_a_case=True)
    if not _bad(line.verdicts):
        return
    for measured in _measured(reading, above) if codes & _OF_NUMBERS else ():
        yield Rereading(measured, in_units=True)
    if codes & {"fails.dimension", "fails.unit", *_OF_NUMBERS}:
        yield from (Rereading(r, in_units=True) for r in _with_all(reading, in_gravities))
    if "fails.vector_scalar" in codes and (sized := _with_sizes(reading, vectors)) != reading:
        yield Rereading(sized)
    alone = any(gives_a_value(s.claim) for s in reading.statements)  # `F = 5` below `F = (3, 4)`
    if codes & {"fails.vector_scalar", "fails.vector_power"} and not declared and not alone:
        yield Rereading(_with_sizes_throughout(reading, vectors))
    case = headed(reading) if headed is not None else reading
    if case != reading:
        yield Rereading(case)
    valued = _with_its_value_as_a_case(reading)
    if valued is not None:
        yield Rereading(valued, in_a_case=True)
    yield from (Rereading(r, in_a_case=True) for r in _with_nothing_as_a_case(reading))
    turned = _with_its_value_turned(reading)
    if turned is not None:
        yield Rereading(turned, in_a_case=True)
    either = _as_alternatives(reading)
    if either is not None:
        yield Rereading(either)


# What is said of the size of a vector (common practice, no source).
_OF_SIZES = frozenset(("speed", "magnitude", "size", "distance", "length", "modulus"))
_OF_ANGLES = frozenset(("sin", "cos", "tan"))


def _with_sizes(reading: Reading, vectors: Set[str]) -> Reading:
    """`x = r cos θ` below `r = (x, y)`, `speed: v = 5`: by hand the vector would be bold, and this its size."""
    said = bool(_OF_SIZES.intersection(reading.words.lower().replace(":", " ").split()))
    change: dict[int, object] = {}
    for n in (n for s in reading.statements for n in walk(s)):
        row = n.factors if isinstance(n, Product) else n.sides if isinstance(n, Relation) and said else ()
        turned = isinstance(n, Relation) or any(isinstance(f, Apply) and f.function in _OF_ANGLES for f in row)
        own = [f for f in row if isinstance(f, Name) and f.ident in vectors]
        if turned and len(own) == 1:
            change[id(own[0])] = Apply("abs", own[0], span=own[0].span)
    return replace(reading, statements=tuple(rebuilt(s, change) for s in reading.statements))  # type: ignore[misc]


def _with_sizes_throughout(reading: Reading, vectors: Set[str]) -> Reading:
    """`½ m r'² - k/r = E`, `r = m h²/k` below `r = (x, y)`: a line of sizes alone."""
    change: dict[int, object] = {
        id(n): Apply("abs", n, span=n.span) for s in reading.statements for n in walk(s)
        if isinstance(n, Name) and n.ident in vectors}
    return replace(reading, statements=tuple(rebuilt(s, change) for s in reading.statements))  # type: ignore[misc]


# Of what is counted positive upwards, forwards or to the right.
_BACKWARDS = frozenset(("down", "downward", "downwards", "falling", "left", "back", "backward", "backwards"))


def _unsigned(reading: Reading, above: Sequence[LineVerdict]) -> Reading | None:
    """`speed: v = 17 m/s`, `v = 17 m/s downwards` below `v = -17 m/s`: the size alone is told, or so much that way."""
    heard = {w for s in reading.statements for w in s.word.split()} | {*reading.words.split()}
    heard = {w.lower().strip(":,…") for w in heard}
    claim = reading.statements[0].claim if len(reading.statements) == 1 else None
    if not isinstance(claim, Relation) or reading.statements[0].role != "claim" or not gives_a_value(claim):
        return None
    name, *rest = claim.sides
    if not any(_is_below_nothing(s.claim, name) for x in above if x.reading for s in x.reading.statements):
        return None
    if heard & _OF_SIZES:
        name = Apply("abs", name, span=name.span)
    elif heard & _BACKWARDS:
        name = Neg(name, span=name.span)
    else:
        return None
    turned = replace(claim, sides=(name, *rest))
    return replace(reading, statements=(replace(reading.statements[0], claim=turned),))


def _is_below_nothing(claim: Claim | None, name: Expr) -> bool:
    """`v = -17 m/s`, `v = √(…) = -17 m/s`"""
    if not isinstance(claim, Relation) or claim.sides[0] != name or names_in(claim.sides[-1]):
        return False
    last = claim.sides[-1].factors[0] if isinstance(claim.sides[-1], Product) else claim.sides[-1]
    return isinstance(last, Neg)


def _measured(reading: Reading, above: Sequence[LineVerdict]) -> Iterator[Reading]:
    """`v = 3.6/0.5` below values in other units: its numbers are in these; or in that of their own chain's end; or
    with its names for numbers in theirs."""
    claims = [s.claim for x in above if x.reading for s in x.reading.statements if s.claim]
    yield from _with_all(reading, lambda claim: in_given_units(claim, claims))
    yield from _with_all(reading, in_unit_of_the_end)
    yield from _with_all(reading, lambda claim: with_units_turned(claim, claims))


def _with_all(
    reading: Reading, other: Callable[[Claim | None], tuple[Claim, tuple[Choice, ...]] | None]
) -> Iterator[Reading]:
    """The reading with each of its claims taken otherwise, where one can be."""
    found = [other(s.claim) for s in reading.statements]
    if any(found):
        yield replace(
            reading, choices=(*reading.choices, *(c for f in found if f for c in f[1])), statements=tuple(
                replace(s, claim=f[0]) if f else s for s, f in zip(reading.statements, found, strict=True)))


_DIRECTIONS = frozenset((
    "up", "upward", "upwards", "down", "downward", "downwards", "downhill", "descending", "falling", "slowing",
    "braking", "decelerating", "left", "back", "backward", "backwards"))


def _with_its_value_turned(reading: Reading) -> Reading | None:
    """`down a = 2 m/s²: N = m (g - 2)` where a is counted upwards: so much of it that way."""
    first, *others = reading.statements or (None,)
    claim = first.claim if first is not None else None
    if _DIRECTIONS.isdisjoint(reading.words.lower().replace(":", " ").split()):
        return None
    where = first.where if first is not None and not others and first.role in ("at", "suppose") else None
    if isinstance(where, Relation) and gives_a_value(where) and first is not None:  # `going down with a = 2: …`
        turned = replace(where, sides=(where.sides[0], Neg(where.sides[1], span=where.sides[1].span)))
        return replace(reading, statements=(replace(first, role="suppose", where=turned),))
    if not isinstance(claim, Relation) or not others or not gives_a_value(claim):
        return None
    turned = replace(claim, sides=(claim.sides[0], Neg(claim.sides[1], span=claim.sides[1].span)))
    if any(s.role not in ("claim", "suppose") or s.claim is None for s in reading.statements):
        return None
    return replace(reading, statements=tuple(replace(s, role="suppose", where=turned) for s in others))


def _with_its_value_as_a_case(reading: Reading) -> Reading | None:
    """`wet road: μ = 0.35, s = 28 m`, where μ was 0.7: words that tell which case is meant, its value, and what is so
    there."""
    first, *others = reading.statements or (None,)
    if first is None or not others or first.where is not None or not (
            gives_a_value(first.claim) and telling_which(reading.words)):
        return None
    if any(s.role != "claim" or s.claim is None or s.where is not None for s in reading.statements):
        return None
    return replace(reading, statements=tuple(replace(s, role="suppose", where=first.claim) for s in others))


def _with_nothing_as_a_case(reading: Reading) -> Iterator[Reading]:
    """`if u² = 4 g r: N = 0 gives cos θ = -2/3`, `…: N = 0 where cos θ = -2/3`: that N is nothing is no claim, but what
    is looked for in the case at the head."""
    first, *rest = reading.statements or (None,)
    if first is None or not isinstance(first.claim, Relation):
        return
    head, zero, told = first.claim, rest[0].claim if rest else None, rest[1:]
    before: list[Statement] = []
    if first.role == "at" and rest and _is_nothing(first.where) and not _is_nothing(head):
        zero, told = first.where, rest  # `for u² = 4 g r it leaves when N = 0, so …`
    elif first.role == "at" and isinstance(first.where, Relation) and rest and _is_nothing(head):
        if TIME in names_in(first.where) or any(
                isinstance(s.claim, Relation) and s.claim.sides[0] == first.where.sides[0] for s in rest):
            return  # `v = 0 at t = 0, 2` lists moments
        head, zero, told = first.where, head, rest
    elif first.role != "suppose" or first.where is not None or not rest:
        return
    elif _is_nothing(zero) and rest[0].role == "at" and rest[0].where is not None:
        told = [replace(rest[0], claim=rest[0].where), *told]
    elif isinstance(zero, Relation) and len(zero.sides) > 2 and zero.signs[-1] == "=" and is_zero(zero.sides[-1]):
        before = [replace(rest[0], role="suppose", where=head, claim=replace(
            zero, sides=zero.sides[:-1], signs=zero.signs[:-1]))]  # `N = m g (2 + 3 cos θ) = 0, cos θ = -2/3`
        zero = Relation((zero.sides[0], zero.sides[-1]), ("=",), span=zero.span)
    if not _is_nothing(zero) or not told or any(
            s.claim is None or s.role not in ("claim", "suppose", "at") for s in told):
        return
    both = Both((head, zero), span=first.span)  # type: ignore[arg-type]
    inside = (replace(s, role="suppose", where=both) for s in told)
    yield replace(reading, statements=(*before, *inside))


def _is_nothing(claim: Claim | None) -> bool:
    return isinstance(claim, Relation) and claim.signs == ("=",) and isinstance(claim.sides[0], Name) and is_zero(
        claim.sides[1])


def _as_alternatives(reading: Reading) -> Reading | None:
    """`ω² = k/m, ω² = 3 k/m`, of which no more than one can be."""
    said = reading.statements
    claims = [s.claim for s in said if s.role == "claim" and s.where is None and isinstance(s.claim, Relation)]
    if len(claims) < 2 or len(claims) < len(said) or any(
            c.signs != ("=",) or c.sides[0] != claims[0].sides[0] for c in claims):
        return None
    whole = replace(said[0], claim=Either(tuple(claims), span=said[0].span))
    return replace(reading, statements=(whole,))


def _bad(verdicts: Sequence[Verdict]) -> int:
    """How many statements do not stand."""
    return sum(v.standing in _BAD for v in verdicts)
