"""Claims taken apart into the single equations or inequalities that may be compared with each other.

`T = 2π/ω = 2π √(m/k)` says three things: each of its two steps, and that its first side equals its last. A
piece is one of them, with the standing of the steps that it rests on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from derive.notation.tree import Claim, Derivative, Expr, Name, Relation, names_in, relations
from derive.records import ESTABLISHED, LineVerdict, Standing, Verdict
from derive.terms.claims import Pair, alternatives, lower_pair, pairs
from derive.terms.term import ZERO, Term
from derive.terms.world import World
from derive.verdicts.claims.branching import product_of

# A chain with more sides than this is compared step by step only.
_LONGEST_CHAIN = 8

# The weakest of several steps speaks for what rests on all of them.
_WEAKEST_FIRST = (
    Standing.UNREADABLE, Standing.FAILS, Standing.UNDECIDED, Standing.CARRIED, Standing.TAKEN,
    Standing.FOLLOWS_IF, Standing.APPROXIMATES, Standing.FOLLOWS, Standing.REMARK,
)


@dataclass(frozen=True, slots=True)
class Piece:
    """One comparable statement: its trees, the sign between its sides, and how far it was established.

    claim: what it says as a tree, for showing.    line: number of the line it stands in, 0 for none.
    steps: how many steps of a chain it reaches over.
    """

    claim: Claim
    sign: str
    standing: Standing = Standing.FOLLOWS
    code: str = ""
    line: int = 0
    steps: int = 1

    @property
    def subject(self) -> Expr | None:
        """The quantity it gives: a bare name or rate alone on one side."""
        if not isinstance(self.claim, Relation) or len(self.claim.sides) != 2 or self.sign != "=":
            return None
        left, right = self.claim.sides
        for side, other in ((left, right), (right, left)):
            bare = isinstance(side, Name) or (isinstance(side, Derivative) and isinstance(side.body, Name))
            if bare and not set(names_in(side)) <= set(names_in(other)):
                return side
        return None

    def parts(self, world: World) -> tuple[tuple[Term, Term], ...]:
        """Its sides as terms, one pair a component; alternatives as one product that vanishes."""
        options = alternatives(self.claim)
        if len(options) > 1:
            return ((product_of([[lower_pair(p, world) for p in pairs(o)] for o in options]), ZERO),)
        return tuple(part for p in pairs(options[0]) for part in lower_pair(p, world).parts)


def pieces_of_claim(claim: Claim) -> tuple[Piece, ...]:
    """What a claim says, one piece an equation, all of which hold together."""
    if len(alternatives(claim)) > 1:
        return (Piece(claim, "="),)
    return tuple(Piece(p.relation(), _plain(p.sign)) for p in pairs(claim))


def pieces_of_line(line: LineVerdict) -> tuple[Piece, ...]:
    """What a line of a working says, with the standing of each piece."""
    out: list[Piece] = []
    for statement in dict.fromkeys(v.statement for v in line.verdicts if v.statement is not None):
        if statement.claim is not None:
            own = [v for v in line.verdicts if v.statement == statement]
            out.extend(_pieces(statement.claim, own, line.line.number))
    return tuple(out)


def _pieces(claim: Claim, verdicts: Sequence[Verdict], number: int) -> Iterator[Piece]:
    if len(alternatives(claim)) > 1:
        v = _one(verdicts)
        yield Piece(claim, "=", v.standing, v.code, number)
        return
    steps = list(pairs(claim))
    of_step = list(verdicts) if len(verdicts) == len(steps) else [_one(verdicts)] * len(steps)
    for step, v in zip(steps, of_step, strict=True):
        yield Piece(step.relation(), _plain(step.sign), v.standing, v.code, number)
    yield from _spanning(claim, steps, of_step, number)


def _spanning(claim: Claim, steps: Sequence[Pair], verdicts: Sequence[Verdict], number: int) -> Iterator[Piece]:
    """The pieces that reach over several steps of a chain."""
    start = 0
    for relation in relations(claim):
        count = len(relation.signs)
        own, of_step = steps[start : start + count], verdicts[start : start + count]
        start += count
        if [(p.left, p.right) for p in own] != list(pairwise(relation.sides)):
            return  # a vector taken apart by components: its steps stand for themselves
        if len(relation.sides) > _LONGEST_CHAIN:
            continue
        for i in range(count):
            for j in range(i + 1, count):
                sign = _over([_plain(p.sign) for p in own[i : j + 1]])
                v = _of_chain(of_step[i : j + 1])
                if sign:
                    pair = Relation((own[i].left, own[j].right), (sign,))  # type: ignore[arg-type]
                    yield Piece(pair, sign, v.standing, v.code, number, j - i + 1)


def _plain(sign: str) -> str:
    return "=" if sign == "≈" else sign


def _over(signs: Sequence[str]) -> str:
    """What a chain of signs says of its ends: `a = b ≤ c` gives ≤; '' where it says nothing."""
    kinds = {s for s in signs if s != "="}
    if not kinds:
        return "="
    for strict, weak in (("<", "≤"), (">", "≥")):
        if kinds <= {strict, weak}:
            return strict if strict in kinds else weak
    return ""


def _of_chain(verdicts: Sequence[Verdict]) -> Verdict:
    """What speaks for several steps: their weakest. What a chain comes to after a slip by a step that holds is carried
    from it (`T = W sin θ - f = 47 N`)."""
    weakest, last = _one(verdicts), verdicts[-1]
    if weakest.standing is Standing.FAILS and last.standing in (*ESTABLISHED, Standing.CARRIED):
        return replace(last, standing=Standing.CARRIED)
    return weakest


def _one(verdicts: Sequence[Verdict]) -> Verdict:
    return min(verdicts, key=lambda v: _WEAKEST_FIRST.index(v.standing))
