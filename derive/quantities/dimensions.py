"""Whether a claim can be homogeneous, given what is known of the dimensions of its names.

Declared names have theirs; the others' are inferred, exactly, from the lines that were accepted. A claim
is refused only where no dimensions of the undeclared names could make it fit. Truth is not looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from derive.notation.tree import (
    Apply,
    Claim,
    Constant,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Span,
    Sum,
    Unit,
    names_in,
    walk,
)
from derive.quantities.appraisal import Appraisal
from derive.quantities.dimension_words import in_words
from derive.quantities.exponents import Equations, Exponents, as_dimension, of_dimension
from derive.quantities.measures import Misfit, Place
from derive.quantities.typed_numbers import as_number, numbers_with_unit, only_of_a_formula
from derive.quantities.unit_table import dimension
from derive.quantities.weights import weighs_in_numbers
from derive.records import Dimension, Symbol

_GRAVITY = Relation(
    (Name("g"), Product((Num(Fraction(981, 100)), Quotient(Unit("m"), Power(Unit("s"), Num(Fraction(2))))))), ("=",))


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
        self._told: frozenset[Fraction] = frozenset()
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

    def renew(self, name: str) -> None:
        """From here on a name stands for something else."""
        self._known.pop(name, None)
        self._equations = self._equations.with_name_free(name)

    def copy(self) -> Dimensions:
        """One that can learn without this one changing."""
        other = Dimensions(declared=self._declared)
        other._known = dict(self._known)
        other._depends_on = dict(self._depends_on)
        other._equations = self._equations.copy()
        other._numbers_in_play, other._told = self._numbers_in_play, self._told
        return other

    def with_gravity(self) -> Dimensions:
        """What is known where g, of which nothing is, is an acceleration."""
        other = self.copy()
        if self.of(Name("g")) is None:
            other.adopt(_GRAVITY)
        return other

    def examine(self, claim: Claim) -> Mismatch | None:
        """The place that makes the claim inhomogeneous, or None. Nothing is learned from it.

        Numbers that people have put in for quantities without their units are let pass (see
        `plain_numbers`): whether such a line is right is a matter of values, not of dimensions."""
        strict = self.examine_strictly(claim)
        if not self._declared and any(map(_is_divided_through, walk(claim))):
            return None
        if strict is None or (self._may_hold_values(claim) and self._misfit(claim, numbers_are_values=True) is None):
            return self._value_of_a_formula_off(claim) if strict is not None else None
        return strict

    def _value_of_a_formula_off(self, claim: Claim) -> Mismatch | None:
        """The 25.6 m³/s² of `v² = 2 a s = 2×1.6×8 = 25.6 m³/s²`: no number of the formula can be short of a unit."""
        if not self._declared or not isinstance(claim, Relation) or not is_a_value_with_unit(claim.sides[-1]):
            return None
        named = [side for side in claim.sides[:-1] if names_in(side)]
        formulas = [side for side in named if not isinstance(side, Name | Power)]
        if set(claim.signs) - {"=", "≈"} or not formulas or not all(
                only_of_a_formula(side, self._told) for side in formulas):
            return None
        found = self._misfit(Relation((*named, claim.sides[-1]), claim.signs[:1] * len(named), span=claim.span))
        return found if found is not None and found.node == claim.sides[-1] else None

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

    def adopt(self, claim: Claim, values: bool = False) -> bool:
        """Learn the dimensions of undeclared names from an accepted claim; False if it taught nothing
        because it does not fit what is known. values: its numbers are those of quantities."""
        if not self._declared and any(map(_is_divided_through, walk(claim))):
            return True
        values = values or (not self._declared and any(
            _adds_number(n) or _adds_to_a_value(n) or _mixes_powers(n) or _gives_a_power(n) or shifts_a_time(n)
            or _is_of_figures(n) or weighs_in_numbers(n)
            for n in walk(claim)))
        for numbers_are_values in (True,) if values else (False, True) if self._may_hold_values(claim) else (False,):
            appraisal = self._appraisal(numbers_are_values=numbers_are_values)
            try:
                appraisal.claim(claim)
            except Misfit:
                continue
            self._equations = appraisal.equations.without_anonymous()
            self._told |= set(_told(claim))
            self._numbers_in_play |= values or any(_mixes_powers(n) for n in walk(claim)) or any(
                _puts_number_in(r) for r in walk(claim) if isinstance(r, Relation))
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
        named, or where a decimal stands alone or powers of a letter are added (formulas have neither)."""
        return self._numbers_in_play or _has_bare_decimal(claim) or any(
            _mixes_powers(n) or _adds_to_a_value(n)
            or (not self._declared and (shifts_a_time(n) or weighs_in_numbers(n))) for n in walk(claim))

    def _appraisal(self, *, numbers_are_values: bool = False) -> Appraisal:
        equations = self._equations.copy()
        return Appraisal(self._known, self._depends_on, equations, numbers_are_values=numbers_are_values,
                         of_one_kind=not self._declared, told=self._told)

    def _misfit(self, claim: Claim, *, numbers_are_values: bool = False) -> Mismatch | None:
        try:
            self._appraisal(numbers_are_values=numbers_are_values).claim(claim)
        except Misfit as misfit:
            return Mismatch(misfit.node, misfit.place, misfit.found, misfit.expected)
        return None


def is_a_value_with_unit(node: object) -> bool:
    """`0.314 s`, `2·9.8/10 m/s²`: numbers and a unit, and no name."""
    return isinstance(node, Product | Quotient | Neg) and not names_in(node) and any(
        isinstance(n, Unit) for n in walk(node))


def _told(claim: Claim) -> Iterator[Fraction]:
    """The 2 of `r = 2 m`, `r = 2`."""
    for relation in walk(claim):
        last = relation.sides[-1] if isinstance(relation, Relation) and isinstance(relation.sides[0], Name) else None
        number = last.factors[0] if isinstance(last, Product) else last.num if isinstance(last, Quotient) else last
        if isinstance(number, Num):
            yield number.value


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


_TIMES = ("t", "T")


def shifts_a_time(node: object) -> bool:
    """`T - 1`, `t + 2`: so many seconds sooner or later."""
    terms = [t.arg if isinstance(t, Neg) else t for t in node.terms] if isinstance(node, Sum) else []
    times = [t for t in terms if isinstance(t, Name) and t.ident.partition("_")[0] in _TIMES]
    return len(terms) == 2 and len(times) == 1 and any(isinstance(t, Num) for t in terms)


def _adds_to_a_value(node: object) -> bool:
    """`300 N + 2 v²`: beside a value with its unit, what is counted in so many of something else."""
    terms = [t.arg if isinstance(t, Neg) else t for t in node.terms] if isinstance(node, Sum) else []
    counted = [part for part in map(_numbered_power, terms) if part is not None]
    return any(map(is_a_value_with_unit, terms)) and any(name and number not in (1, -1) for number, name, _ in counted)


_OF_MOTION = frozenset(["t", "x", "y", "z", "s", "v"])


def _mixes_powers(node: object) -> bool:
    """`3 t - 0.25 t²`: powers of one letter with numbers before them, which are values of other quantities."""
    parts = [_numbered_power(term) for term in node.terms] if isinstance(node, Sum) else []
    found = [part for part in parts if part is not None]
    names, powers = {name for _, name, _ in found if name}, {power for *_, power in found}
    if len(found) < len(parts) or len(names) != 1 or len(powers) < 2:
        return False
    # a plain name goes with a 1 or alone: `1 - 2 e²`, `n² + n`; where something is, or how fast, is none in `4 x - x²`
    of_motion = names == {"t"} or (names <= _OF_MOTION and 0 not in powers)
    return of_motion or all(number not in (1, -1) for number, *_ in found)


def _is_of_figures(node: object) -> bool:
    """`300 e^(-x/2)`, `2 sin(3 x)`: what no formula has but for the time, whose figures are then so many a second."""
    argument = node.exponent if isinstance(node, Power) and node.base == Constant("e") else (
        node.arg if isinstance(node, Apply) and node.function in ("exp", "sin", "cos") else None)
    number, name, power = (argument is not None and _numbered_power(argument)) or (Fraction(1), "", Fraction(0))
    return name in _OF_MOTION and power == 1 and number not in (1, -1)


def _is_divided_through(node: object) -> bool:
    """`t² + t - 6`: where the numbers of two powers are gone, one second a square second is left between them, and
    nothing is told of t."""
    if not isinstance(node, Sum) or not _mixes_powers(node):
        return False
    parts = [part for part in map(_numbered_power, node.terms) if part is not None]
    return len({power for number, name, power in parts if name and number in (1, -1)}) > 1


def _gives_a_power(node: object) -> bool:
    """`D = 0.6 v²`, `P = D v = 0.6 v³`, `h = 5 t²`: what no formula makes of one letter alone."""
    if not isinstance(node, Relation) or set(node.signs) != {"="} or not isinstance(node.sides[0], Name):
        return False
    return any(_is_power_by_number(side, node.sides[0].ident) for side in node.sides[1:])


def _is_power_by_number(side: Expr, head: str) -> bool:
    number, name, power = _numbered_power(side) or (Fraction(1), "", Fraction(1))
    decimal = any(isinstance(n, Num) and n.last_digit is not None for n in walk(side))
    return name not in ("", head) and number not in (1, -1) and (name == "t" or (decimal and power != 1))


_ABOUT_PI = Fraction(22, 7)  # it is a number like another here, and no plain one


def _numbered_power(term: Expr) -> tuple[Fraction, str, Fraction] | None:
    """Number, letter and power of `0.25 t²`, `t/4`, `3`; None for anything else."""
    number, name, power = Fraction(1), "", Fraction(0)
    for factor, below in _factors(term):
        base = factor.base if isinstance(factor, Power) else factor
        exponent = as_number(factor.exponent) if isinstance(factor, Power) else Fraction(1)
        value = as_number(base)
        if isinstance(base, Name) and exponent is not None and name in ("", base.ident) and not below:
            name, power = base.ident, power + exponent
        elif base == Constant("π") and exponent == 1:
            number *= _ABOUT_PI if not below else 1 / _ABOUT_PI
        elif value is not None and exponent == 1 and (value or not below):
            number *= 1 / value if below else value
        else:
            return None
    return number, name, power


def _factors(term: Expr) -> Iterator[tuple[Expr, bool]]:
    """The factors of a term, each with whether it stands below the fraction line; a sign is left out."""
    if isinstance(term, Neg):
        yield from _factors(term.arg)
    elif isinstance(term, Product):
        for factor in term.factors:
            yield from _factors(factor)
    elif isinstance(term, Quotient):
        yield from _factors(term.num)
        yield from ((factor, not below) for factor, below in _factors(term.den))
    else:
        yield term, False
