"""Vectors with rounded numbers: each component is right to its own figures, `F1 + F2 = (8163, -290)`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from derive.notation.tree import Component, Expr, Neg, Num, Product, Quotient, Sum, UnitVector, Vector
from derive.records import Standing
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter, Rule
from derive.steps.numbers.numeric import from_rounded_values, right_to_its_figures
from derive.terms.claims import lower_pair

_AXES = "xyz"


def right_to_their_figures(m: Matter) -> Decision | None:
    """`F1 + F2 = (8163, -290)` where the context gives (8162.6, -289.9)."""
    return _each(m, right_to_its_figures) or _each(m, from_rounded_values)


def _each(m: Matter, rule: Rule) -> Decision | None:
    """The weakest that is found of the components, where each of them holds or is right by a rule."""
    written = _taken_apart(m.pair.right)
    if m.fresh or m.pair.sign not in ("=", "≈") or len(m.lowered.parts) < 2 or not written:
        return None
    setting, found = m.setting, None
    for axis, number in zip(_AXES, written, strict=True):
        head = Component(m.pair.head, axis) if m.pair.head is not None else None
        pair = replace(m.pair, left=Component(m.pair.left, axis), right=number, head=head)
        one = replace(m, setting=setting, pair=pair, lowered=lower_pair(pair, m.context.world))
        parts = [m.context.resolved(t) for t in one.lowered.parts[0]]
        cloud = m.setting.states.of(m.context, parts)
        if cloud.size and weigh(parts[0], parts[1], "=", cloud).all_hold:
            continue
        decision = rule(one)
        if decision is None or decision.verdict.standing is not Standing.APPROXIMATES:
            return None
        found, setting = decision.verdict, decision.after
    return Decision(replace(found, facts=()), setting) if found is not None else None


_Parts = tuple[Expr | None, ...]


def _taken_apart(side: Expr) -> tuple[Expr, ...]:
    """The components of `(8163, -290) N`, `1.5 i - 4.5 j`, as they are written; () of anything else."""
    found = _parts(side)
    return tuple(Num(Fraction(0)) if c is None else c for c in found) if found is not None else ()


def _parts(e: Expr) -> _Parts | None:
    """The three components, with None for nothing; None where it is no vector written out."""
    match e:
        case Vector(components, "cartesian"):
            return (*components, *(None,) * (3 - len(components)))
        case UnitVector(axis) if axis in _AXES:
            return tuple(Num(Fraction(1)) if axis == a else None for a in _AXES)
        case Neg(arg):
            return _each_of(arg, Neg)
        case Quotient(num, den):
            return _each_of(num, lambda c: Quotient(c, den))
        case Sum(terms):
            several = [_parts(t) for t in terms]
            columns = [[c for c in column if c is not None] for column in zip(*(p for p in several if p), strict=True)]
            if any(p is None for p in several) or any(len(column) > 1 for column in columns):
                return None
            return tuple(column[0] if column else None for column in columns)
        case Product(factors):
            rest = tuple(f for f in factors if _parts(f) is None)
            own = [f for f in factors if _parts(f) is not None]
            return _each_of(own[0], lambda c: _times(c, rest)) if len(own) == 1 else None
    return None


def _each_of(e: Expr, change: Callable[[Expr], Expr]) -> _Parts | None:
    found = _parts(e)
    return None if found is None else tuple(None if c is None else change(c) for c in found)


def _times(c: Expr, rest: tuple[Expr, ...]) -> Expr:
    row = rest if c == Num(Fraction(1)) and rest else (c, *rest)
    return row[0] if len(row) == 1 else Product(row)
