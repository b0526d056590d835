"""Names that stand for the number of a value in its own unit: `v = V/3.6` below `V = 90 km/h`.

Whether a claim holds so is for others to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Expr, Name, Num, Product, Quotient, Relation, names_in, rebuilt, walk
from derive.quantities.given_units import worth_of
from derive.records import Choice


def with_units_turned(claim: Claim | None, above: Iterable[Claim]) -> tuple[Claim, tuple[Choice, ...]] | None:
    """`ω = 2π n` of `ω = 2π n/60` below `n = 1500 rpm`: without the number that turns the unit of a value into that of
    the SI, and what was taken so; None where no number of the claim does."""
    if not isinstance(claim, Relation):
        return None
    worths = {name: worth for c in above for name, worth in _worths(c)}
    change: dict[int, object] = {}
    choices: list[Choice] = []
    for part in walk(claim):
        wanted = {worths[n] for n in names_in(part) if n in worths}
        left = _without(part, wanted) if wanted else None
        if left is not None and isinstance(part, Product | Quotient):
            change[id(part)] = left
            choices.append(Choice("given unit", as_text(part), as_text(left), part.span))
    return (rebuilt(claim, change), tuple(choices)) if change else None  # type: ignore[return-value]


def _worths(claim: Claim) -> Iterator[tuple[str, Fraction]]:
    """The names that a value is told for in a unit that is none of the SI, and what that is worth."""
    for relation in walk(claim):
        if isinstance(relation, Relation) and isinstance(name := relation.sides[0], Name):
            first = relation.sides[1]
            if isinstance(first, Product) and isinstance(first.factors[0], Num):
                worth = worth_of(first.factors[1:])
                if worth not in (0, 1):
                    yield name.ident, worth


def _without(part: object, wanted: set[Fraction]) -> Expr | None:
    """A product or a quotient without a number that is one of the worths; None where none is."""
    match part:
        case Quotient(num, Num(value=below)):
            if below and 1 / below in wanted:
                return num
            number, rest = _parted(num)
            return rest if below and rest is not None and number / below in wanted else None
        case Product(factors):
            for k, f in enumerate(factors):
                number, rest = _parted(f)
                if rest is None and number in wanted:
                    left = (*factors[:k], *factors[k + 1:])
                    return left[0] if len(left) == 1 else Product(left, span=part.span)
    return None


def _parted(e: Expr) -> tuple[Fraction, Expr | None]:
    """The numbers among the factors multiplied, and the rest; no rest where it is a number alone."""
    match e:
        case Num():
            return e.value, None
        case Quotient(Num() as above, Num() as below) if below.value:
            return above.value / below.value, None
        case Product(factors):
            number, rest = Fraction(1), tuple(f for f in factors if not isinstance(f, Num))
            for f in factors:
                number *= f.value if isinstance(f, Num) else 1
            return number, rest[0] if len(rest) == 1 else Product(rest, span=e.span) if rest else None
    return Fraction(1), e
