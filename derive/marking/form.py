"""The form of a piece: which quantity it gives, and in terms of which symbols.

Used to follow a slip through: a carried line is compared with a point by what it is about, never by its value.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from derive.marking.pieces import Piece
from derive.marking.sameness import TOO_MUCH, Ground
from derive.marking.scheme import Scheme
from derive.notation.printed.printing import as_text
from derive.notation.tree import Apply, Derivative, Expr, Name, Relation, walk
from derive.terms.term import variables


@dataclass(frozen=True, slots=True)
class Form:
    """subject: what stands alone on one side, '' for nothing: a name, also where it is squared, or `sin(β)`.

    symbols: what else is spoken of, the writer's own names seen through; rates by name and order.
    names:   the symbols of both sides.
    """

    subject: str
    symbols: frozenset[str]
    inequality: bool
    names: frozenset[str]

    def like(self, other: Form) -> bool:
        """The same quantity in terms of the same symbols."""
        return self == other

    def renamed(self, other: Form, declared: frozenset[str]) -> bool:
        """The same symbols but for names that nobody declared, of which there are as many as are missing."""
        strange = self.names - other.names
        return (bool(strange) and not strange & declared and len(strange) == len(other.names - self.names)
                and self.inequality == other.inequality)

    def within(self, other: Form) -> bool:
        """The same quantity in terms of some of the same symbols: a person should look."""
        return self.same_subject(other) and self.symbols < other.symbols and self.inequality == other.inequality

    def beyond(self, other: Form, more: frozenset[str]) -> bool:
        """The same quantity in terms of the same symbols and others that a slip has brought in."""
        return (self.same_subject(other) and self.inequality == other.inequality
                and other.symbols < self.symbols and self.symbols - other.symbols <= more)

    def short_of(self, other: Form, less: frozenset[str]) -> bool:
        """The same quantity in terms of the same symbols but for some that a slip has lost."""
        return self.within(other) and other.symbols - self.symbols <= less

    def speaks_as(self, other: Form) -> bool:
        """The same symbols, wherever they stand."""
        return self.names == other.names and self.inequality == other.inequality

    def speaks_for(self, other: Form, bare: bool) -> bool:
        """All the symbols of another and maybe more, and no quantity given bare but the other's."""
        elsewhere = bare and bool(self.subject and other.subject) and self.subject != other.subject
        return other.names <= self.names and self.inequality == other.inequality and not elsewhere

    def comparable(self, other: Form) -> bool:
        """The same quantity in terms of fewer symbols or more, numbers alone apart."""
        return (self.same_subject(other) and self.inequality == other.inequality
                and bool(self.symbols) == bool(other.symbols) and bool(self.symbols)
                and (self.symbols <= other.symbols or other.symbols <= self.symbols))

    def same_subject(self, other: Form) -> bool:
        return bool(self.subject) and self.subject == other.subject


def form_of(piece: Piece, ground: Ground, scheme: Scheme) -> Form:
    """The form of a piece as its writer's definitions make it."""
    known = ground.memory.forms
    key = (piece.claim, piece.sign, ground.number)
    if key not in known:
        known[key] = _form(piece, ground, scheme)
    return known[key]


def _form(piece: Piece, ground: Ground, scheme: Scheme) -> Form:
    claim = piece.claim
    inequality = piece.sign != "="
    if isinstance(claim, Relation) and len(claim.sides) == 2:
        left, right = (_spoken_of(side, ground, scheme) for side in claim.sides)
        for side, own, other in ((claim.sides[0], left, right), (claim.sides[1], right, left)):
            if len(typed(side)) == 1 and len(own) == 1 and not own & other:
                return Form(_as_subject(side, *own), other, inequality, left | right)
        return Form("", left | right, inequality, left | right)
    spoken = _spoken_of(claim, ground, scheme)
    return Form("", spoken, inequality, spoken)


def _as_subject(side: Expr, name: str) -> str:
    """`v²` gives v; `sin β` and `cos β` are not the same quantity."""
    return as_text(side) if any(isinstance(n, Apply) for n in walk(side)) else name


def lone_side(piece: Piece) -> Expr | None:
    """The side on which one quantity stands alone, maybe squared or in a function: what the piece gives."""
    return next(_lone_sides(piece), None)


def gives(piece: Piece, side: Expr | None) -> bool:
    """Does a piece give what stands on a side, None for nothing? `2π/n = T` gives n as well as T."""
    return side in _lone_sides(piece) if side is not None else lone_side(piece) is None


def _lone_sides(piece: Piece) -> Iterator[Expr]:
    claim = piece.claim
    if not isinstance(claim, Relation) or len(claim.sides) != 2:
        return
    left, right = claim.sides
    for side, other in ((left, right), (right, left)):
        own = typed(side)
        if len(own) == 1 and not own & typed(other):
            yield side


def typed(node: object) -> frozenset[str]:
    """The symbols in a tree as they stand there, rates with a dash for each order."""
    rates = {id(n.body): n for n in walk(node) if isinstance(n, Derivative) and isinstance(n.body, Name)}
    plain = {n.ident for n in walk(node) if isinstance(n, Name) and id(n) not in rates}
    plain -= {n.wrt.ident for n in rates.values() if isinstance(n.wrt, Name) and n.wrt.ident == "t"}
    return frozenset(plain | {f"{n.body.ident}{chr(39) * n.order}" for n in rates.values() if isinstance(n.body, Name)})


def _spoken_of(node: object, ground: Ground, scheme: Scheme) -> frozenset[str]:
    """The symbols in a tree, with the writer's own names replaced by what defines them."""
    names = typed(node)
    rates = frozenset(s for s in names if s.endswith("'"))
    return frozenset(_untried(_seen_through(set(names - rates), ground, scheme), ground, scheme)) | rates


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
