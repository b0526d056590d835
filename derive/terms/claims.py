"""Claims taken apart into what can be decided one at a time: pairs of sides, with their alternatives.

`a = b = c` is two pairs, a vector equation one pair a component, and a line with ± two alternatives.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from derive.notation.tree import (
    Both,
    Claim,
    Dot,
    Either,
    Expr,
    Integral,
    Neg,
    Num,
    PlusMinus,
    Relation,
    Span,
    Vector,
    is_zero,
    rebuilt,
    walk,
)
from derive.terms.lowering import Lowered, Meaningless, lower
from derive.terms.term import Term, Var
from derive.terms.world import World


@dataclass(frozen=True, slots=True)
class Pair:
    """One relation between two sides, as trees. `head` is the first side of its chain, where that is another."""

    left: Expr
    right: Expr
    sign: str
    span: Span | None = None
    head: Expr | None = None

    def relation(self) -> Relation:
        return Relation((self.left, self.right), (self.sign,), span=self.span)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class LoweredPair:
    """A pair as terms: one (left, right) a component; the opaque integrals and the instants it introduced."""

    parts: tuple[tuple[Term, Term], ...]
    sign: str
    primitives: tuple[tuple[Var, tuple[Term, Var]], ...] = ()
    instants: tuple[tuple[str, Term], ...] = ()


def pairs(claim: Claim) -> Iterator[Pair]:
    """The pairs of a claim without alternatives, left to right."""
    if isinstance(claim, Relation):
        for left, sign, right in zip(claim.sides, claim.signs, claim.sides[1:], strict=False):
            yield from _by_components(left, right, sign, claim)
    else:
        for part in claim.parts:
            yield from pairs(part)


def _by_components(left: Expr, right: Expr, sign: str, claim: Relation) -> Iterator[Pair]:
    """`(u, v) = (a, 0)` names scalars side by side, each a claim of its own; `r ⊥ v` says r·v = 0."""
    if sign == "⊥":
        span = Span(left.span.start, right.span.end) if left.span and right.span else claim.span
        yield Pair(Dot(left, right, span=span), Num(Fraction(0)), "=", span)
    elif (
        isinstance(left, Vector) and isinstance(right, Vector) and left.frame == right.frame
        and len(left.components) == len(right.components)
    ):
        for a, b in zip(left.components, right.components, strict=True):
            yield Pair(a, b, sign, claim.span)
    else:
        span = claim.span
        if left.span is not None and right.span is not None:
            span = Span(left.span.start, right.span.end)
        head = claim.sides[0] if left is not claim.sides[0] and set(claim.signs) <= {"=", "≈"} else None
        yield Pair(left, right, sign, span, head)


def without_bare_integrals(claim: Claim, world: World) -> Claim:
    """`M x_c = ∫ x dm = ∫_0^L λ x dx`: an integral without limits between sides that do not vary is meant over
    the whole body, as the next side spells out; it asserts nothing of its own."""
    if not isinstance(claim, Relation) or len(claim.sides) < 3 or set(claim.signs) != {"="}:
        return claim
    kept = [s for s in claim.sides if not without_limits(s)]
    if len(kept) == len(claim.sides) or len(kept) < 2:
        return claim
    try:
        terms = [lower(s, world) for s in kept]
    except Meaningless:
        return claim
    if any(not isinstance(t, Term) or world.changes(t) for t in terms):
        return claim
    return Relation(tuple(kept), claim.signs[: len(kept) - 1], claim.carries_on, span=claim.span)


def without_limits(e: Expr | Claim) -> bool:
    """Does an integral without limits stand in it?"""
    inner = [n for n in walk(e) if isinstance(n, Integral)]
    return bool(inner) and any(n.lower is None for n in inner)


def alternatives(claim: Claim) -> tuple[Claim, ...]:
    """The alternatives of a claim: one for a plain one, two for ±, those of an `or`."""
    if isinstance(claim, Either):
        return tuple(a for part in claim.parts for a in alternatives(part))
    if isinstance(claim, Relation) and any(isinstance(n, PlusMinus) for n in walk(claim)):
        return (_with_sign(claim, True), _with_sign(claim, False))
    if isinstance(claim, Both):
        options = [alternatives(p) for p in claim.parts]
        if sum(len(o) > 1 for o in options) == 1:  # `u = a, v = ±b`: the one that branches decides
            whole: list[Claim] = []
            for k, option in enumerate(options):
                if len(option) > 1:
                    whole = [Both((*claim.parts[:k], o, *claim.parts[k + 1 :]), span=claim.span) for o in option]
            return tuple(whole)
    return (claim,)


def _with_sign(claim: Claim, upper: bool) -> Claim:
    change: dict[int, object] = {}
    for n in walk(claim):
        if isinstance(n, PlusMinus):
            change[id(n)] = n.arg if n.upper == upper else Neg(n.arg, span=n.span)
    return rebuilt(claim, change)  # type: ignore[return-value]


def lower_pair(pair: Pair, world: World) -> LoweredPair:
    """Both sides as terms. Raises Meaningless where one side is a vector and the other is not."""
    found: dict[Var, tuple[Term, Var]] = {}
    instants: dict[str, Term] = {}
    left, right = lower(pair.left, world, found, instants), lower(pair.right, world, found, instants)
    return LoweredPair(tuple(_matched(pair, left, right)), pair.sign, tuple(found.items()), tuple(instants.items()))


def _matched(pair: Pair, left: Lowered, right: Lowered) -> list[tuple[Term, Term]]:
    if isinstance(left, Term) and isinstance(right, Term):
        return [(left, right)]
    if isinstance(left, Term) or isinstance(right, Term):
        scalar_side = pair.left if isinstance(left, Term) else pair.right
        if is_zero(scalar_side):
            vector = right if isinstance(left, Term) else left
            zero = left if isinstance(left, Term) else right
            return [(c, zero) for c in vector]  # type: ignore[union-attr, misc]
        raise Meaningless("fails.vector_scalar", scalar_side)
    return [(a, b) for a, b in zip(left, right, strict=True) if a is not b] or [(left[0], right[0])]
