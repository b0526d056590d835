"""Puts a step of a working to z3, a solver for polynomial relations between real numbers.

The solver has its own algorithms for this (cylindrical cells, after Jovanović & de Moura, "Solving non-linear
arithmetic", IJCAR 2012) and decides over all real numbers, where the engine looks at states and proves identities.
Only the tree types are shared. Roots, sines and cosines become names of their own with their side relations;
what cannot be said in polynomials raises `NotPolynomial`.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

import z3

from derive.notation import tree as n
from derive.records import Symbol

MILLISECONDS = 500  # for each question; nearly all that are answered take under 100
SIGNS = {
    "positive": lambda x: x > 0, "negative": lambda x: x < 0, "nonnegative": lambda x: x >= 0,
    "nonpositive": lambda x: x <= 0, "nonzero": lambda x: x != 0,
}
RELATIONS = {
    "=": lambda a, b: a == b, "≠": lambda a, b: a != b, "<": lambda a, b: a < b, ">": lambda a, b: a > b,
    "≤": lambda a, b: a <= b, "≥": lambda a, b: a >= b,
}


class NotPolynomial(Exception):
    """What is said here, or how it is said, has no polynomial form."""


class Algebra:
    """One translation into the solver's terms: each name, root and angle is one real unknown throughout."""

    def __init__(self, symbols: Iterable[Symbol]) -> None:
        self.unknowns: dict[object, Any] = {}
        self.side: list[Any] = []  # what holds of the unknowns and of the denominators met
        self.upper = True
        self.symbols = {s.name: s for s in symbols}
        for symbol in self.symbols.values():
            if symbol.sign == "complex" or symbol.vector:
                continue
            if symbol.sign in SIGNS:
                self.side.append(SIGNS[symbol.sign](self._unknown(symbol.name)))
            for bound in symbol.bounds:
                self._bound(bound)

    def _bound(self, bound: n.Relation) -> None:
        try:
            self.side.append(self.relation(bound))
        except NotPolynomial:
            return  # a range in radians; what it says of the sine and the cosine is said where they are met

    # --- relations

    def claim(self, claim: n.Claim) -> Any:
        """A claim as one formula; `±` stands for both of its signs, taken together."""
        if not any(isinstance(node, n.PlusMinus) for node in n.walk(claim)):
            return self._said(claim)
        both = []
        for self.upper in (True, False):
            both.append(self._said(claim))
        return z3.Or(*both)

    def _said(self, claim: n.Claim) -> Any:
        if isinstance(claim, n.Relation):
            return self.relation(claim)
        parts = [self._said(part) for part in claim.parts]
        return z3.And(*parts) if isinstance(claim, n.Both) else z3.Or(*parts)

    def relation(self, relation: n.Relation) -> Any:
        if any(sign not in RELATIONS for sign in relation.signs):
            raise NotPolynomial(relation.signs)
        sides = [self.value(side) for side in relation.sides]
        return z3.And(*(RELATIONS[s](a, b) for s, a, b in zip(relation.signs, sides, sides[1:], strict=False)))

    # --- expressions

    def value(self, node: n.Expr) -> Any:
        work = getattr(self, f"_{type(node).__name__.lower()}", None)
        if work is None:
            raise NotPolynomial(type(node).__name__)
        return work(node)

    def _unknown(self, key: object) -> Any:
        return self.unknowns.setdefault(key, z3.Real(f"v{len(self.unknowns)}"))

    def _num(self, node: n.Num) -> Any:
        if node.last_digit is not None:
            raise NotPolynomial("a rounded number")
        return z3.RealVal(str(node.value))

    def _name(self, node: n.Name) -> Any:
        if node.ident in self.symbols and self.symbols[node.ident].vector:
            raise NotPolynomial("a vector")
        return self._unknown(node.ident)

    def _sum(self, node: n.Sum) -> Any:
        return z3.Sum(*(self.value(term) for term in node.terms))

    def _neg(self, node: n.Neg) -> Any:
        return -self.value(node.arg)

    def _plusminus(self, node: n.PlusMinus) -> Any:
        value = self.value(node.arg)
        return value if node.upper == self.upper else -value

    def _product(self, node: n.Product) -> Any:
        return z3.Product(*(self.value(factor) for factor in node.factors))

    def _quotient(self, node: n.Quotient) -> Any:
        return self.value(node.num) / self._nonzero(self.value(node.den))

    def _nonzero(self, value: Any) -> Any:
        self.side.append(value != 0)
        return value

    def _power(self, node: n.Power) -> Any:
        exponent = _rational(node.exponent)
        base = self.value(node.base)
        if exponent.denominator == 2:
            base = self._root(base)
        elif exponent.denominator != 1:
            raise NotPolynomial("a higher root")
        if abs(exponent.numerator) > 8:
            raise NotPolynomial("a high power")
        if exponent < 0:
            base = 1 / self._nonzero(base)
        return z3.Product(*([base] * abs(exponent.numerator))) if exponent else z3.RealVal(1)

    def _root(self, of: Any) -> Any:
        key = ("root", of.get_id())
        known = key in self.unknowns
        root = self._unknown(key)
        if not known:
            self.side += [root >= 0, root * root == of]
        return root

    def _apply(self, node: n.Apply) -> Any:
        if node.function == "sqrt":
            return self._root(self.value(node.arg))
        if node.function == "abs":
            value = self.value(node.arg)
            return z3.If(value >= 0, value, -value)
        if node.function in ("sin", "cos", "tan"):
            sine, cosine = self._angle(node.arg)
            return {"sin": lambda: sine, "cos": lambda: cosine, "tan": lambda: sine / self._nonzero(cosine)}[
                node.function]()
        raise NotPolynomial(node.function)

    def _angle(self, angle: n.Expr) -> tuple[Any, Any]:
        if not isinstance(angle, n.Name):
            raise NotPolynomial("sums and multiples of angles")
        known = ("sin", angle.ident) in self.unknowns
        sine, cosine = self._unknown(("sin", angle.ident)), self._unknown(("cos", angle.ident))
        if not known:
            self.side.append(sine * sine + cosine * cosine == 1)
            if self._is_acute(angle.ident):
                self.side += [sine > 0, cosine > 0]
        return sine, cosine

    def _is_acute(self, name: str) -> bool:
        right = n.Quotient(n.Constant("π"), n.Num(Fraction(2)))
        acute = n.Relation((n.Num(Fraction(0)), n.Name(name), right), ("<", "<"))
        return name in self.symbols and acute in self.symbols[name].bounds

    # --- the question

    def follows(self, context: Iterable[Any], claim: Any) -> bool | None:
        """Whether no real values satisfy the context and not the claim; None where the solver gives up."""
        solver = z3.Solver()
        solver.set("timeout", MILLISECONDS)
        solver.add(*context, *self.side, z3.Not(claim))
        answer = solver.check()
        return None if answer == z3.unknown else answer == z3.unsat


def _rational(node: n.Expr) -> Fraction:
    if isinstance(node, n.Num):
        return node.value
    if isinstance(node, n.Neg):
        return -_rational(node.arg)
    if isinstance(node, n.Quotient):
        return _rational(node.num) / _rational(node.den)
    raise NotPolynomial("an exponent that is no number")
