"""What stands around a line and can explain a slip in it: names in reach, terms and factors of the premises.

A slip often leaves something out; what was left out is looked for here, in the lines the claim should have
followed from and in the names that were declared. Nothing is decided.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from derive.diagnosis.needed import Measure, Stock, Values, remembering
from derive.diagnosis.pieces import factors_of, number, power, product, quotient, terms_of
from derive.diagnosis.sites import bare
from derive.notation.tree import (
    Apply,
    Claim,
    Constant,
    Derivative,
    Differential,
    Expr,
    Integral,
    Name,
    Neg,
    Num,
    Power,
    Quotient,
    Sum,
    names_in,
    rebuilt,
    relations,
    walk,
)
from derive.records import Symbol

# Letters that are taken for one another on the page, beside those that differ in a subscript or in case.
LOOK_ALIKE = ({"v", "u", "ν"}, {"ω", "w"}, {"μ", "u"}, {"p", "ρ"}, {"θ", "φ", "α", "β"}, {"a", "α"}, {"l", "L"},
              {"k", "κ"}, {"x", "y", "z", "s"}, {"h", "H"}, {"r", "R"}, {"m", "M"}, {"T", "t"})
MOST_TERMS, MOST_FACTORS, MOST_NEIGHBOURS = 24, 16, 6


@dataclass(frozen=True, slots=True)
class Change:
    """One way to change a site.

    after:  what is put at the site.
    at:     the piece of the line to point to, where that is smaller or larger than the site.
    into:   what that piece itself should have been; None where that is not said of it but of the site.
    extra:  how much less common than its kind this change is.
    """

    after: Any
    at: Any = None
    into: Any = None
    extra: float = 0.0


@dataclass(frozen=True, slots=True)
class Around:
    """The surroundings of a line.

    terms:      terms of the premises' sums, most recent premise first: candidates for a dropped term.
    factors:    names, functions of angles and derivatives in reach: candidates for a forgotten factor.
    neighbours: for a name, the names it could have been mistaken for, likeliest first.
    said:       factors that the writer's reason names (`divide by m`).
    moving:     names that are functions of time.
    ways:       for a name, what the premises say it is.
    stock:      the same terms and factors with their values at states, where the caller can measure.
    calculus:   is anything differentiated or integrated hereabouts?
    logarithms: is a logarithm taken of anything?
    """

    terms: tuple[Expr, ...] = ()
    factors: tuple[Expr, ...] = ()
    neighbours: Mapping[str, tuple[str, ...]] | None = None
    said: tuple[Expr, ...] = ()
    moving: frozenset[str] = frozenset()
    ways: Mapping[str, tuple[Expr, ...]] = field(default_factory=dict)
    stock: Stock | None = None
    calculus: bool = False
    logarithms: bool = False

    def near(self, name: str) -> tuple[str, ...]:
        return (self.neighbours or {}).get(name, ())


Kind = Callable[[Any, Around], Iterator[Change]]


def look_around(
    claim: Claim, premises: Sequence[Claim] = (), symbols: Mapping[str, Symbol] | None = None,
    said: Sequence[Expr] = (), measure: Measure | None = None,
) -> Around:
    """Collect what stands around a claim. `premises` are given most recent first.

    measure: gives the values of an expression at some states of what stands before the claim.
    """
    known = dict(symbols or {})
    here = names_in(claim)
    reach = tuple(dict.fromkeys((*here, *(n for p in premises for n in names_in(p)), *known)))
    moving = {n for n, s in known.items() if s.of == "t"}
    for p in (claim, *premises):
        moving |= {n.body.ident for n in walk(p) if isinstance(n, Derivative) and isinstance(n.body, Name)
                   and n.wrt == Name("t")}
    measure = None if measure is None else remembering(measure)
    neighbours = {n: _neighbours(n, reach, known) for n in here}
    slopes = differentiated(premises, frozenset(moving)) if _speaks_of_change(claim) else ()
    found = _unique((
        *islice(slopes, 8), *_at_lower_limits(claim, premises),
        *islice(_terms(premises, known, claim), MOST_TERMS), *_like_its_own(claim, neighbours),
    ))
    # Nobody loses an integral in a line that has none.
    terms = tuple(t for t in found if _integrates(claim) or not _integrates(t))[: 2 * MOST_TERMS]
    factors = tuple(_unique(_factors((claim, *premises), reach)))[:MOST_FACTORS]
    return Around(
        terms=terms,
        factors=factors,
        neighbours=neighbours,
        said=tuple(said),
        moving=frozenset(moving),
        ways=_ways(premises),
        stock=None if measure is None else Stock(
            measure, *(_measured(pieces, measure) for pieces in (terms, factors, _atoms(premises, here)))),
        calculus=any(
            isinstance(n, (Derivative, Differential, Integral)) for p in (claim, *premises) for n in walk(p)),
        logarithms=any(isinstance(n, Apply) and n.function == "ln" for p in premises for n in walk(p)),
    )


def _ways(premises: Sequence[Claim]) -> Mapping[str, tuple[Expr, ...]]:
    found: dict[str, tuple[Expr, ...]] = {}
    for r in (r for p in premises for r in relations(p) if set(r.signs) == {"="}):
        if isinstance(r.sides[0], Name):
            found[r.sides[0].ident] = (*found.get(r.sides[0].ident, ()), *r.sides[1:])
    return found


def _measured(pieces: Sequence[Expr], measure: Measure) -> tuple[tuple[Expr, Values], ...]:
    return tuple((p, values) for p in pieces if (values := measure(p)) is not None)


def _unique(nodes: Iterable[Expr]) -> Iterator[Expr]:
    return iter(dict.fromkeys(bare(n) for n in nodes))


def _terms(premises: Sequence[Claim], symbols: Mapping[str, Symbol], claim: Claim) -> Iterator[Expr]:
    sides = [side for p in premises for r in relations(p) for side in r.sides]
    for side in sides:
        for node in walk(side):
            if isinstance(node, Sum):
                yield from (t.arg if isinstance(t, Neg) else t for t in node.terms)
    for side in sides:
        if not isinstance(side, (Sum, Num)):
            yield side.arg if isinstance(side, Neg) else side
    used = set(names_in(claim))
    yield from (Name(n) for n in symbols if n not in used)


def _like_its_own(claim: Claim, neighbours: Mapping[str, tuple[str, ...]]) -> Iterator[Expr]:
    """Terms like those of the claim with a neighbour in place of a name: `ln v_0` beside `ln v`."""
    for relation in relations(claim):
        for side in relation.sides:
            for term in terms_of(side):
                bare_term = term.arg if isinstance(term, Neg) else term
                for name in names_in(bare_term)[:4]:
                    for other in neighbours.get(name, ())[:3]:
                        yield rebuilt(bare_term, {  # type: ignore[misc]
                            id(n): Name(other) for n in walk(bare_term) if n == Name(name)})


def _at_lower_limits(claim: Claim, premises: Sequence[Claim]) -> Iterator[Expr]:
    """The claim's terms with the lower limit of an integral above in place of its upper one: `½ k a²` of `½ k b²`."""
    integrals = [n for p in premises for n in walk(p) if isinstance(n, Integral)]
    for integral in integrals[:4]:
        if integral.lower is None or integral.upper is None or not isinstance(integral.upper, Name):
            continue
        for term in (t for r in relations(claim) for side in r.sides for t in terms_of(side)):
            if integral.upper.ident in names_in(term):
                change: dict[int, object] = {id(n): integral.lower for n in walk(term) if n == integral.upper}
                yield rebuilt(term.arg if isinstance(term, Neg) else term, change)  # type: ignore[misc]


def _factors(claims: Sequence[Claim], reach: Sequence[str]) -> Iterator[Expr]:
    for claim in claims[:1]:
        yield from (Name(n) for n in names_in(claim) if n in reach)
    for claim in claims:
        for node in walk(claim):
            if isinstance(node, Apply) and node.function in ("sin", "cos", "tan") and names_in(node):
                yield node
    yield from (Name(n) for n in reach)
    for claim in claims:
        for node in walk(claim):
            if isinstance(node, Derivative) or (isinstance(node, Power) and isinstance(node.base, Name)):
                yield node


def _atoms(premises: Sequence[Claim], here: Sequence[str]) -> tuple[Expr, ...]:
    """What a term that the claim has lost may be made of: its names, and those, the functions of angles and the rates
    of change in the lines it may have come from."""
    found: dict[Expr, None] = dict.fromkeys(Name(n) for n in here)
    for node in (n for p in premises for n in walk(p)):
        rate = isinstance(node, Derivative) and isinstance(node.body, Name) and not node.partial
        if rate or (isinstance(node, Apply) and node.function in ("sin", "cos")):
            found[bare(node)] = None
    found |= dict.fromkeys(Name(n) for p in premises for n in names_in(p))
    return tuple(found)[:MOST_FACTORS]


def _neighbours(name: str, reach: Sequence[str], symbols: Mapping[str, Symbol]) -> tuple[str, ...]:
    """Names of the same dimension (where both are known), those that look alike first."""
    mine = symbols.get(name)

    def fits(other: str) -> bool:
        theirs = symbols.get(other)
        if mine is None or theirs is None or mine.dimension is None or theirs.dimension is None:
            return alike_to_the_eye(name, other)
        return mine.dimension == theirs.dimension

    found = [n for n in reach if n != name and fits(n)]
    found.sort(key=lambda n: not alike_to_the_eye(name, n))
    return tuple(found[:MOST_NEIGHBOURS])


def alike_to_the_eye(a: str, b: str) -> bool:
    """One letter in two sizes, with two subscripts, or two letters often taken for one another."""
    first, second = a.split("_")[0].rstrip("'"), b.split("_")[0].rstrip("'")
    return first.lower() == second.lower() or any({first, second} <= group for group in LOOK_ALIKE)


def _speaks_of_change(claim: Claim) -> bool:
    return any(isinstance(n, Derivative) for n in walk(claim))


def _integrates(piece: Claim | Expr) -> bool:
    return any(isinstance(n, Integral) for n in walk(piece))


def differentiated(premises: Sequence[Claim], moving: frozenset[str]) -> Iterator[Expr]:
    """The parts that the product rule makes of the premises' terms, one for each factor that changes in time."""
    around = Around(moving=moving)
    for premise in premises:
        for relation in relations(premise):
            for term in (t for side in relation.sides for t in terms_of(side)):
                factors = factors_of(term)
                for i, f in enumerate(factors):
                    for part in _changed(f, around):
                        yield product((*factors[:i], part, *factors[i + 1 :]))


def _changed(f: Expr, around: Around) -> Iterator[Expr]:
    """The derivative of one factor in time, sign aside, where it is of an everyday kind."""
    match f:
        case Apply("sin" | "cos" as name, arg):
            for inner in inner_derivative(arg, around):
                yield product((inner, Apply("cos" if name == "sin" else "sin", arg)))
        case Apply("exp", arg) | Power(Constant("e"), arg):
            for inner in inner_derivative(arg, around):
                yield product((inner, f))
        case Name("t"):
            yield number(1)
        case Name(ident) if ident in around.moving:
            yield Derivative(f, Name("t"))
        case Power(Name(ident) as base, Num(value)) if ident in around.moving:
            yield product((number(value), power(base, value - 1), Derivative(base, Name("t"))))
        case Derivative(Name() as body, Name("t") as wrt, order):
            yield Derivative(body, wrt, order + 1)


def inner_derivative(arg: Expr, around: Around) -> Iterator[Expr]:
    """What the chain rule brings out of an argument: `ω` of `ω t + φ`, `θ'` of `θ`, `-γ` of `-γ t`."""
    for term in terms_of(arg):
        minus = isinstance(term, Neg)
        parts = factors_of(term)
        if Name("t") in parts:
            rest = [p for p in parts if p != Name("t")]
            below = term.arg if isinstance(term, Neg) else term
            den = below.den if isinstance(below, Quotient) else None
            yield from _outside(rest, den, minus)
        elif len(parts) == 1 and isinstance(parts[0], Name) and parts[0].ident in around.moving:
            yield Derivative(parts[0], Name("t"))
        elif len(still := [p for p in parts if not _moving(p, around)]) < len(parts):
            yield from _outside(still, None, minus)


def _moving(piece: Expr, around: Around) -> bool:
    return isinstance(piece, Name) and piece.ident in around.moving


def _outside(rest: list[Expr], den: Expr | None, minus: bool) -> Iterator[Expr]:
    made = product(rest)
    made = made if den is None else quotient(made, den)
    if not isinstance(made, (Num, Constant)):
        yield Neg(made) if minus else made
