"""Trees written out in one short line each, and the scopes that the tests of this room read in."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from derive.notation import tree as n
from derive.notation.names import Scope
from derive.notation.reader import read_line
from derive.records import Dimension, RawLine, Reading, Symbol, Unreadable

QUICK = Scope(quick=True)


def declared(names: str, vectors: str = "", labels: str = "", **more: object) -> Scope:
    """A scope with these names: `y(t)` is a function of t; θ, φ, α and β are angles, ω is not."""
    symbols: dict[str, Symbol] = {}
    for word in names.split():
        name, _, variable = word.removesuffix(")").partition("(")
        angle = name[:1] in "θφαβ"
        symbols[name] = Symbol(name, variable or None, dimension=Dimension() if angle else None)
    symbols.update((name, Symbol(name, vector=True)) for name in vectors.split())
    return Scope(symbols, frozenset(labels.split()), **more)  # type: ignore[arg-type]


def line(text: str, maybe_reason: n.Span | None = None) -> RawLine:
    """A typed line that is all body."""
    return RawLine(1, text, body=n.Span(0, len(text)), maybe_reason=maybe_reason)


def read(text: str, scope: Scope = QUICK) -> list[Reading]:
    """The readings of a line that can be read."""
    found = read_line(line(text), scope)
    assert not isinstance(found, Unreadable), f"{text!r}: {found}"
    return found


def refused(text: str, scope: Scope = QUICK) -> Unreadable:
    """Why a line cannot be read."""
    found = read_line(line(text), scope)
    assert isinstance(found, Unreadable), f"{text!r}: {[dump(r) for r in found]}"
    return found


def dumps(text: str, scope: Scope = QUICK) -> list[str]:
    """Every reading of a line, written out."""
    return [dump(reading) for reading in read(text, scope)]


def dump(node: object) -> str:
    """One line for a tree: `F = (* m a)`."""
    match node:
        case Reading(statements=statements):
            return "; ".join(map(dump, statements))
        case n.Statement(role, claim, where, small):
            said = [] if claim is None else [dump(claim)]
            said += [f"when {dump(where)}"] if where is not None else []
            said += [f"small {_all(small)}"] if small else []
            return " ".join(([] if role == "claim" else [f"{role}:"]) + said)
        case n.Relation(sides, signs, carries_on):
            text = dump(sides[0])
            for sign, side in zip(signs, sides[1:], strict=True):
                text += f" {sign} {dump(side)}"
            return ("… " if carries_on else "") + text
        case n.Both(parts):
            return " and ".join(map(dump, parts))
        case n.Either(parts):
            return " or ".join(map(dump, parts))
    return _expression(node)


def _all(nodes: Iterable[object]) -> str:
    return " ".join(map(_expression, nodes))


def _expression(node: object) -> str:  # noqa: C901 - one case a node type, read as a table
    match node:
        case n.Num(value, digit):
            return _number(value, digit)
        case n.Name(ident):
            return ident
        case n.Constant(ident):
            return f"#{ident}"
        case n.Unit(ident):
            return f"[{ident}]"
        case n.Sum(terms):
            return f"(+ {_all(terms)})"
        case n.Neg(arg):
            return f"(- {dump(arg)})"
        case n.PlusMinus(arg, upper):
            return f"({'±' if upper else '∓'} {dump(arg)})"
        case n.Product(factors):
            return f"(* {_all(factors)})"
        case n.Quotient(top, bottom):
            return f"(/ {dump(top)} {dump(bottom)})"
        case n.Power(base, exponent):
            return f"(^ {dump(base)} {dump(exponent)})"
        case n.Apply(function, arg):
            return f"({function} {dump(arg)})"
        case n.Value(function, args):
            return f"(at {dump(function)} {_all(args)})"
        case n.Derivative(body, wrt, order, partial):
            times = str(order) if order > 1 else ""
            return f"({'P' if partial else 'D'}{times} {dump(body)} {dump(wrt)})"
        case n.Differential(body):
            return f"(d {dump(body)})"
        case n.Integral(body, wrt, lower, upper):
            limits = "" if lower is None else f" {dump(lower)} {dump(upper)}"
            return f"(∫ {dump(body)} {dump(wrt)}{limits})"
        case n.Between(body, lower, upper, wrt):
            variable = "" if wrt is None else f" {dump(wrt)}"
            return f"([] {dump(body)} {dump(lower)} {dump(upper)}{variable})"
        case n.Vector(components):
            return f"(vec {_all(components)})"
        case n.UnitVector(axis):
            return f"^{axis}"
        case n.Dot(left, right):
            return f"(dot {dump(left)} {dump(right)})"
        case n.Cross(left, right):
            return f"(cross {dump(left)} {dump(right)})"
        case n.Component(vector, axis):
            return f"{dump(vector)}.{axis}"
    raise TypeError(node)


def _number(value: Fraction, digit: int | None) -> str:
    """A decimal shows its last written digit: 9.81 is `981e-2`; exact numbers stand as they are."""
    if digit is None:
        return str(value)
    return f"{value / Fraction(10) ** digit}e{digit}"
