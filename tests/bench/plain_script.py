"""What somebody would write in an afternoon: a line is right when sympy makes the difference of its sides zero.

Earlier lines are solved for and substituted where that alone does not do. Nothing of the engine is used but the
tree that a line was read into, so that both are given the same. Only the bench imports this.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import sympy as sp

from derive.notation import tree
from derive.quantities.units import unit

FUNCTIONS = {
    "arcsin": sp.asin, "arccos": sp.acos, "arctan": sp.atan, "arcsinh": sp.asinh, "arccosh": sp.acosh,
    "arctanh": sp.atanh, "ln": sp.log, "log10": lambda x: sp.log(x, 10), "abs": sp.Abs,
}
CONSTANTS = {"π": sp.pi, "e": sp.E, "i": sp.I, "∞": sp.oo}
T = sp.Symbol("t", real=True)


class NotDone(Exception):
    """The script has nothing for this: vectors, differentials, limits, conditions."""


@dataclass
class Page:
    """The names and equations so far. `of` says of which variable a name is a function."""

    positive: frozenset[str]
    of: dict[str, str]
    equations: list[Any] = field(default_factory=list)
    courses: dict[Any, Any] = field(default_factory=dict)

    def name(self, ident: str) -> Any:
        if ident == "t":
            return T
        if ident in self.of:
            return sp.Function(ident, real=True)(self.name(self.of[ident]))
        return sp.Symbol(ident, positive=True) if ident in self.positive else sp.Symbol(ident, real=True)

    # --- reading

    def expression(self, e: Any) -> Any:  # noqa: C901 - one case for each kind of node
        """A tree as sympy has it."""
        match e:
            case tree.Num():
                return sp.Rational(e.value.numerator, e.value.denominator)
            case tree.Name():
                return self.name(e.ident)
            case tree.Constant():
                return CONSTANTS[e.ident]
            case tree.Unit():
                info = unit(e.ident)
                if info is None:
                    raise NotDone
                return sp.Rational(info.scale.numerator, info.scale.denominator)
            case tree.Sum():
                return sp.Add(*map(self.expression, e.terms))
            case tree.Neg():
                return -self.expression(e.arg)
            case tree.Product():
                return sp.Mul(*map(self.expression, e.factors))
            case tree.Quotient():
                return self.expression(e.num) / self.expression(e.den)
            case tree.Power():
                return self.expression(e.base) ** self.expression(e.exponent)
            case tree.Apply():
                return FUNCTIONS.get(e.function, getattr(sp, e.function, None))(self.expression(e.arg))
            case tree.Derivative() if isinstance(e.wrt, tree.Name) and not e.partial:
                return sp.diff(self.expression(e.body), self.name(e.wrt.ident), e.order)
            case tree.Integral() if isinstance(e.wrt, tree.Name):
                return self._integral(e)
            case tree.Value() if isinstance(e.function, tree.Name) and len(e.args) == 1:
                whole = self.name(e.function.ident)
                return whole.subs(self.name(self.of[e.function.ident]), self.expression(e.args[0]))
        raise NotDone

    def _integral(self, e: tree.Integral) -> Any:
        x = self.name(e.wrt.ident)  # type: ignore[union-attr]
        body = self.expression(e.body)
        if e.lower is None:
            return sp.integrate(body, x)
        return sp.integrate(body, (x, self.expression(e.lower), self.expression(e.upper)))

    # --- deciding

    def takes(self, claim: Any) -> None:
        """An earlier line: equations to be solved, and courses to be put in."""
        for left, sign, right in _pairs(claim):
            if sign in ("=", "≈"):
                a, b = self.expression(left), self.expression(right)
                if isinstance(a, sp.core.function.AppliedUndef) and not b.has(a.func):
                    self.courses[a] = b
                self.equations.append(a - b)

    def holds(self, claim: Any) -> bool:
        """Is every equation of the claim zero, alone or with the earlier ones solved and put in?"""
        return all(self._zero(left, sign, right) for left, sign, right in _pairs(claim))

    def _zero(self, left: Any, sign: str, right: Any) -> bool:
        if sign not in ("=", "≈"):
            raise NotDone
        difference = self.expression(left) - self.expression(right)
        if sp.simplify(difference) == 0:
            return True
        put = sp.simplify(difference.subs(self.courses).doit())
        if put == 0:
            return True
        own = _unknowns([self.expression(left)])
        return any(sp.simplify(put.subs(s).doit()) == 0 for s in self._solutions(own))

    def _solutions(self, left: Sequence[Any]) -> list[dict[Any, Any]]:
        """The earlier equations solved for as many unknowns as there are, those of the line's left side first."""
        equations = [e.subs(self.courses).doit() for e in self.equations]
        equations = [e for e in equations if e != 0]
        unknowns = [u for u in _unknowns(equations) if u in left] + [u for u in _unknowns(equations) if u not in left]
        return list(sp.solve(equations, unknowns[: len(equations)], dict=True)) if equations else []


def _unknowns(terms: Sequence[Any]) -> list[Any]:
    """Derivatives first, then functions, then plain names, magnitudes last: those are mostly what is given."""
    found: dict[Any, None] = {}
    for kind in (sp.Derivative, sp.core.function.AppliedUndef, sp.Symbol):
        for t in terms:
            found.update(dict.fromkeys(sorted(t.atoms(kind), key=sp.default_sort_key)))
    return sorted(found, key=lambda u: u.is_Symbol and bool(u.is_positive))


def _pairs(claim: Any) -> list[tuple[Any, str, Any]]:
    if isinstance(claim, tree.Relation):
        return list(zip(claim.sides, claim.signs, claim.sides[1:], strict=False))
    if isinstance(claim, tree.Both):
        return [p for part in claim.parts for p in _pairs(part)]
    raise NotDone


def decided(page: Page, statements: Sequence[tree.Statement], earlier: Sequence[tree.Statement]) -> bool | None:
    """Whether a line's statements hold by the script; None where it has nothing to say."""
    for s in earlier:
        try:
            if s.claim is not None and s.where is None and s.role in ("claim", "let", "try"):
                page.takes(s.claim)
        except (NotDone, Exception):  # noqa: BLE001 - whatever sympy cannot take is left out
            continue
    try:
        for s in statements:
            if s.claim is None or s.where is not None or s.role not in ("claim", "operation"):
                return None
            if not page.holds(s.claim):
                return False
            page.takes(s.claim)
    except Exception:  # noqa: BLE001 - a script falls over where its library does
        return None
    return True
