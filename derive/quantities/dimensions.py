"""Whether a claim can be homogeneous, given what is known of the dimensions of its names.

Declared names have theirs; the others' are inferred, exactly, from the lines that were accepted. A claim
is refused only where no dimensions of the undeclared names could make it fit. Truth is not looked at.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from derive.notation.tree import Claim, Expr, Name, Neg, Num, Relation, Span, Sum, names_in, walk
from derive.quantities.appraisal import Appraisal
from derive.quantities.dimension_words import in_words
from derive.quantities.exponents import Equations, Exponents, as_dimension, of_dimension
from derive.quantities.measures import Misfit, Place
from derive.quantities.typed_numbers import numbers_with_unit
from derive.quantities.unit_table import dimension
from derive.records import Dimension, Symbol


@dataclass(frozen=True, slots=True)
class Mismatch:
    """The node that does not fit, what it has and what was expected there (None: not fully known)."""

    node: Expr
    place: Place
    found: Dimension | None
    expected: Dimension | None

    @property
    def span(self) -> Span | None:
        return self.node.span

    @property
    def found_words(self) -> str:
        return in_words(self.found) if self.found is not None else "another dimension"

    @property
    def expected_words(self) -> str:
        return in_words(self.expected) if self.expected is not None else "the dimension of the other terms"


class Dimensions:
    """What is known of every name's dimension. Only `adopt` and `declare` change it."""

    def __init__(self, symbols: Iterable[Symbol] = (), declared: bool = True) -> None:
        self._declared = declared  # where nothing is, letters with subscripts are of the kind of the letter
        self._known: dict[str, Exponents] = {}
        self._depends_on: dict[str, str] = {}
        self._equations = Equations()
        self._numbers_in_play = False
        for symbol in symbols:
            self.declare(symbol)

    def declare(self, symbol: Symbol) -> None:
        """Take a declaration: its dimension, and the variable it is a function of."""
        if symbol.dimension is not None:
            self._known[symbol.name] = of_dimension(symbol.dimension)
        if symbol.of is not None:
            self._depends_on[symbol.name] = symbol.of
            if symbol.of == "t":
                self._known.setdefault("t", of_dimension(dimension(s=1)))

    def copy(self) -> Dimensions:
        """One that can learn without this one changing."""
        other = Dimensions(declared=self._declared)
        other._known = dict(self._known)
        other._depends_on = dict(self._depends_on)
        other._equations = self._equations.copy()
        other._numbers_in_play = self._numbers_in_play
        return other

    def examine(self, claim: Claim) -> Mismatch | None:
        """The place that makes the claim inhomogeneous, or None. Nothing is learned from it.

        Numbers that people have put in for quantities without their units are let pass (see
        `plain_numbers`): whether such a line is right is a matter of values, not of dimensions."""
        strict = self.examine_strictly(claim)
        if strict is None or (self._may_hold_values(claim) and self._misfit(claim, numbers_are_values=True) is None):
            return None
        return strict

    def examine_strictly(self, claim: Claim) -> Mismatch | None:
        """The same with every number taken as a plain one: to explain a line that is known to be wrong."""
        return self._misfit(claim)

    def plain_numbers(self, claim: Claim) -> bool:
        """Whether the claim fits only if some of its plain numbers are read as values in SI units."""
        appraisal = self._appraisal()
        try:
            appraisal.claim(claim)
        except Misfit:
            return self.examine(claim) is None
        return appraisal.numbers_for_values

    def without_amplitude(self, claim: Claim) -> bool:
        """`y = e^(λ t)` for a length y, as a trial: the equation is linear, and any size will do."""
        if not isinstance(claim, Relation) or len(claim.sides) != 2:
            return False
        left, right = claim.sides
        return isinstance(left, Name) and not isinstance(right, Num) and self.of(right) == dimension()

    def adopt(self, claim: Claim) -> bool:
        """Learn the dimensions of undeclared names from an accepted claim; False if it taught nothing
        because it does not fit what is known."""
        values = not self._declared and any(_adds_number(n) for n in walk(claim))
        for numbers_are_values in (True,) if values else (False, True) if self._may_hold_values(claim) else (False,):
            appraisal = self._appraisal(numbers_are_values=numbers_are_values)
            try:
                appraisal.claim(claim)
            except Misfit:
                continue
            self._equations = appraisal.equations.without_anonymous()
            self._numbers_in_play |= values or any(_puts_number_in(r) for r in walk(claim) if isinstance(r, Relation))
            return True
        return False

    def of(self, expression: Expr) -> Dimension | None:
        """The dimension of an expression, or None where it is not known or not one."""
        appraisal = self._appraisal()
        try:
            measure = appraisal.expression(expression)
        except Misfit:
            return None
        return as_dimension(appraisal.equations.reduced(measure.exponents))

    def free(self, expression: object) -> tuple[str, ...]:
        """The names in an expression or claim whose dimension is not known."""
        return tuple(name for name in names_in(expression) if self.of(Name(name)) is None)

    def _may_hold_values(self, claim: Claim) -> bool:
        """Whether a number of the claim may be a quantity's value without its unit: once values have been
        named, or where a decimal stands alone (formulas have none)."""
        return self._numbers_in_play or _has_bare_decimal(claim)

    def _appraisal(self, *, numbers_are_values: bool = False) -> Appraisal:
        equations = self._equations.copy()
        return Appraisal(self._known, self._depends_on, equations, numbers_are_values=numbers_are_values,
                         of_one_kind=not self._declared)

    def _misfit(self, claim: Claim, *, numbers_are_values: bool = False) -> Mismatch | None:
        try:
            self._appraisal(numbers_are_values=numbers_are_values).claim(claim)
        except Misfit as misfit:
            return Mismatch(misfit.node, misfit.place, misfit.found, misfit.expected)
        return None


def _has_bare_decimal(claim: Claim) -> bool:
    nodes = list(walk(claim))
    with_unit = {id(number) for node in nodes for number in numbers_with_unit(node)}
    return any(isinstance(node, Num) and node.last_digit is not None and id(node) not in with_unit for node in nodes)


def _puts_number_in(relation: Relation) -> bool:
    """`v = 3`, `m = 40 kg`: a name set equal to a value that is not 0."""
    bare = [not names_in(side) for side in relation.sides]
    numbers = any(
        isinstance(node, Num) and node.value != 0
        for side, is_bare in zip(relation.sides, bare, strict=True) if is_bare
        for node in walk(side)
    )
    return numbers and any(isinstance(side, Name) for side in relation.sides)


def _adds_number(node: object) -> bool:
    """`15 - 5 t`, `15 = 20 t - 5 t²`: a number that no formula adds to a quantity, or equates to a sum, is a value."""
    if isinstance(node, Relation):
        beside: tuple[Expr, ...] = node.sides if any(isinstance(side, Sum) for side in node.sides) else ()
    else:
        beside = node.terms if isinstance(node, Sum) else ()
    terms = [t.arg if isinstance(t, Neg) else t for t in beside]
    return any(isinstance(t, Num) and t.value > 2 for t in terms) and any(names_in(t) for t in terms)
