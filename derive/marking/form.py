"""The form of a piece: which quantity it gives, and in terms of which symbols.

Used to follow a slip through: a carried line is compared with a point by what it is about, never by its value.
"""

from __future__ import annotations

from dataclasses import dataclass

from derive.marking.pieces import Piece
from derive.marking.sameness import TOO_MUCH, Ground
from derive.marking.scheme import Scheme
from derive.notation.tree import Derivative, Name, Relation, names_in, walk
from derive.terms.term import variables


@dataclass(frozen=True, slots=True)
class Form:
    """subject: the name that stands alone (or squared, or in a function) on one side, '' for none.

    symbols: what else is spoken of, the writer's own names seen through; rates by name and order.
    """

    subject: str
    symbols: frozenset[str]
    inequality: bool

    def like(self, other: Form) -> bool:
        """The same quantity in terms of the same symbols."""
        return self == other

    def within(self, other: Form) -> bool:
        """The same quantity in terms of some of the same symbols: a person should look."""
        return self.same_subject(other) and self.symbols < other.symbols and self.inequality == other.inequality

    def same_subject(self, other: Form) -> bool:
        return bool(self.subject) and self.subject == other.subject


def form_of(piece: Piece, ground: Ground, scheme: Scheme) -> Form:
    """The form of a piece as its writer's definitions make it."""
    claim = piece.claim
    inequality = piece.sign != "="
    if isinstance(claim, Relation) and len(claim.sides) == 2:
        left, right = (_spoken_of(side, ground, scheme) for side in claim.sides)
        typed = [names_in(side) for side in claim.sides]
        for own, names, other in ((left, typed[0], right), (right, typed[1], left)):
            if len(names) == 1 and len(own) == 1 and not own & other:
                return Form(next(iter(own)), other, inequality)
        return Form("", left | right, inequality)
    return Form("", _spoken_of(claim, ground, scheme), inequality)


def _spoken_of(node: object, ground: Ground, scheme: Scheme) -> frozenset[str]:
    """The symbols in a tree, rates with their order, and the writer's own names replaced by what defines them."""
    rates = {id(n.body): n for n in walk(node) if isinstance(n, Derivative) and isinstance(n.body, Name)}
    plain = {n.ident for n in walk(node) if isinstance(n, Name) and id(n) not in rates}
    plain -= {n.wrt.ident for n in rates.values() if isinstance(n.wrt, Name) and n.wrt.ident == "t"}
    moving = {f"{n.body.ident}{chr(39) * n.order}" for n in rates.values() if isinstance(n.body, Name)}
    return frozenset(_untried(_seen_through(plain, ground, scheme), ground, scheme) | moving)


def _untried(names: set[str], ground: Ground, scheme: Scheme) -> set[str]:
    """`Y cos(ω t)` stands for y where y = Y cos(ω t) is on trial: its constants are the writer's own."""
    declared = {s.name for s in scheme.exercise.symbols}
    for s in ground.shorthands:
        course = {v.name for v in variables(s.premise.term)} - {s.name}
        own = course - declared - {"t"}
        if s.premise.label == "trial" and own & names:
            names = (names - own - {"t"}) | {s.name}
    return names


def _seen_through(names: set[str], ground: Ground, scheme: Scheme) -> set[str]:
    declared = {s.name for s in scheme.exercise.symbols}
    try:
        definitions = [{v.name for v in variables(p.term)} for p in ground.context.premises if p.kind == "definition"]
    except TOO_MUCH:
        return names
    seen: set[str] = set()
    pending = list(names)
    while pending:
        name = pending.pop()
        if name in seen:
            continue
        seen.add(name)
        if name not in declared:
            pending.extend(n for defined in definitions if name in defined for n in defined)
    defined_names = {n for defined in definitions for n in defined} - declared
    return seen - defined_names
