"""Workings rewritten line by line: what keeps a right line right, and what makes it wrong.

A line is rewritten on the tree that it was read as and typed again by the printer, so that every law is one of
the notation, the engine and the printer together. Only plain equations are rewritten: a line with one claim.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from derive.notation import tree as n
from derive.notation.printed.printing import as_text
from derive.records import Check, Document, LineVerdict, RawLine, Standing, Symbol

Change = Callable[[n.Relation], n.Relation]
TWO, THREE = n.Num(Fraction(2)), n.Num(Fraction(3))
ZERO = n.Num(Fraction(0))


# --- what keeps a line right


def the_other_way_round(relation: n.Relation) -> n.Relation:
    return n.Relation(tuple(reversed(relation.sides)), tuple(reversed(relation.signs)))


def three_times(relation: n.Relation) -> n.Relation:
    return n.Relation(tuple(n.Product((THREE, side)) for side in relation.sides), relation.signs)


def on_one_side(relation: n.Relation) -> n.Relation:
    """`a = b` as `a - b = 0`; of a chain the two ends."""
    return n.Relation((n.Sum((relation.sides[0], n.Neg(relation.sides[-1]))), ZERO), ("=",))


def with_signs_turned(relation: n.Relation) -> n.Relation:
    return n.Relation(tuple(n.Neg(side) for side in relation.sides), relation.signs)


def with_something_added(relation: n.Relation) -> n.Relation:
    """The first side added to both."""
    return n.Relation(tuple(n.Sum((side, relation.sides[0])) for side in relation.sides), relation.signs)


RIGHT: tuple[Change, ...] = (
    the_other_way_round, three_times, on_one_side, with_signs_turned, with_something_added,
)


# --- what makes it wrong, unless both sides are nothing


def with_a_factor_on_one_side(relation: n.Relation) -> n.Relation:
    return replace(relation, sides=(*relation.sides[:-1], n.Product((TWO, relation.sides[-1]))))


def with_a_sign_lost(relation: n.Relation) -> n.Relation:
    return replace(relation, sides=(*relation.sides[:-1], n.Neg(relation.sides[-1])))


def with_a_side_squared(relation: n.Relation) -> n.Relation:
    return replace(relation, sides=(*relation.sides[:-1], n.Power(relation.sides[-1], TWO)))


WRONG: tuple[Change, ...] = (with_a_factor_on_one_side, with_a_sign_lost, with_a_side_squared)


# --- lines and documents


def claimed(row: LineVerdict) -> n.Relation | None:
    """The one equation of a line that follows, and is not a definition or an opening; None for other lines."""
    if row.reading is None or len(row.reading.statements) != 1:
        return None
    (statement,) = row.reading.statements
    if statement.role != "claim" or statement.where is not None or not isinstance(statement.claim, n.Relation):
        return None
    relation = statement.claim
    plain = not relation.carries_on and set(relation.signs) == {"="} and not row.reading.words
    signed = any(isinstance(node, n.PlusMinus | n.Differential) for node in n.walk(relation))
    follows = all(v.standing is Standing.FOLLOWS and v.code != "follows.general_solution" for v in row.verdicts)
    nothing = any(side == ZERO for side in relation.sides)
    return relation if plain and follows and not signed and not nothing else None


def changeable(check: Check) -> list[LineVerdict]:
    """The lines of a checked working that can be rewritten by themselves."""
    carried_on = {
        before.line.number for before, row in zip(check.lines, check.lines[1:], strict=False)
        if row.reading is not None and any(
            isinstance(s.claim, n.Relation) and s.claim.carries_on for s in row.reading.statements)}
    return [row for row in check.lines if row.line.number not in carried_on and claimed(row) is not None]


def retyped(line: RawLine, text: str) -> RawLine:
    """A line with its mathematics typed anew; label and reason stay."""
    return replace(line, text=text, body=n.Span(0, len(text)), maybe_reason=None)


def rewritten(document: Document, row: LineVerdict, change: Change) -> Document:
    """A document with one line of its working changed."""
    relation = claimed(row)
    assert relation is not None
    text = as_text(change(relation))
    lines = document.working or document.solution
    return replace(document, solution=(), working=tuple(
        retyped(line, text) if line.number == row.line.number else line for line in lines))


def said_twice(document: Document, row: LineVerdict) -> Document:
    """A document with one line of its working repeated right below, without its label."""
    lines = document.working or document.solution
    again = replace(row.line, label="", number=row.line.number)
    return replace(document, solution=(), working=tuple(
        new for line in lines for new in ((line, again) if line.number == row.line.number else (line,))))


def renamed(document: Document, check: Check) -> Document | None:
    """A document with every name but t another; None where its lines cannot be typed anew by themselves."""
    rows = {row.line: row for row in (*check.givens, *check.lines, *check.goal)}
    said = [s for row in rows.values() if row.reading is not None for s in row.reading.statements]
    if any(s.vector for s in document.symbols) or any(s.role == "suppose" or s.claim is None for s in said):
        return None
    names = {s.name for s in document.symbols} | {name for s in said for name in n.names_in(s)}
    new = {name: f"q_{k}" for k, name in enumerate(sorted(names - {"t"}), start=10)}

    def over(line: RawLine) -> RawLine:
        reading = rows[line].reading
        if reading is None or not reading.statements:
            return line
        return retyped(line, ", ".join(as_text(_with_names(s, new)) for s in reading.statements))

    return replace(
        document, symbols=tuple(_symbol(s, new) for s in document.symbols), solution=(),
        given=tuple(map(over, document.given)), show=tuple(map(over, document.show)),
        working=tuple(map(over, document.working or document.solution)))


def _symbol(symbol: Symbol, new: dict[str, str]) -> Symbol:
    return replace(
        symbol, name=new.get(symbol.name, symbol.name), of=new.get(symbol.of, symbol.of) if symbol.of else symbol.of,
        bounds=tuple(_with_names(b, new) for b in symbol.bounds))


def _with_names(node: object, new: dict[str, str]) -> object:
    change = {id(x): replace(x, ident=new[x.ident]) for x in n.walk(node) if isinstance(x, n.Name) and x.ident in new}
    return n.rebuilt(node, change)
