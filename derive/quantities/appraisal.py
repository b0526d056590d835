"""What dimension each node of a tree has, and which nodes must agree.

One pass over a claim, leaves first and without recursion, against a set of equations that grows on the
way. The first place that cannot be homogeneous ends it. What is known beforehand, and whether anything is
learned from a pass, is the business of `dimensions`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from fractions import Fraction

from derive.notation import tree
from derive.quantities.exponents import NO_EXPONENTS, Equations, Exponents, as_dimension, of_dimension, plus, scaled
from derive.quantities.measures import PURE, LooseLog, Measure, Misfit, Place, any_dimension
from derive.quantities.typed_numbers import as_number, halves, numbers_with_unit
from derive.quantities.units import unit
from derive.records import Dimension

# A power beyond this says nothing about dimensions any more, and its exact arithmetic costs time.
_HIGHEST_POWER = 1000

_SECONDS: Exponents = {2: Fraction(1)}
_ROOTS = {"sqrt": Fraction(1, 2), "cbrt": Fraction(1, 3), **dict.fromkeys(("abs", "re", "im", "conj"), Fraction(1))}


def leaves_first(*roots: object) -> list[object]:
    """Every node below the roots and the roots themselves, children before parents."""
    order = [node for root in roots for node in tree.walk(root)]
    order.reverse()
    return order


class Appraisal:
    """The measures of all nodes of one claim, and the equations they give."""

    def __init__(self, known: Mapping[str, Exponents], depends_on: Mapping[str, str], equations: Equations,
                 *, numbers_are_values: bool = False, of_one_kind: bool = False,
                 told: Collection[Fraction] = ()) -> None:
        self.known = known
        self.depends_on = depends_on
        self.equations = equations
        self.of_one_kind = of_one_kind  # nothing is declared: `v_max` is of the kind of v
        self.told = told  # the numbers that names have been told
        self.numbers_are_values = numbers_are_values  # a number without a unit may have any dimension
        self.at: dict[int, Measure] = {}
        self.numbers_for_values = False  # a side of plain numbers stood for a quantity with a dimension
        self.with_unit: set[int] = set()  # numbers that have their unit beside them
        # Sides whose terms are compared with those of the other sides, so that all of them vote on
        # which term is the odd one out.
        self.open_sums: set[int] = set()

    # --- claims ------------------------------------------------------------------------------------

    def claim(self, claim: tree.Claim) -> None:
        """Appraise every relation of a claim; raises Misfit at the first place that does not fit."""
        for node in tree.walk(claim):
            if isinstance(node, tree.Relation):
                self._relation(node)

    def _relation(self, relation: tree.Relation) -> None:
        for run in _comparable_runs(relation):
            tuples = [side for side in run if isinstance(side, tree.Vector)]
            apart = len(tuples) == len(run) and len({len(side.components) for side in tuples}) == 1
            self.open_sums.update(id(side) for side in run if isinstance(side, tree.Sum) or apart)
            for side in run:
                self.expression(side)
            if apart:
                for components in zip(*(side.components for side in tuples), strict=True):
                    self._sides(components)
            else:
                self._sides(run)

    def _sides(self, sides: Sequence[tree.Expr]) -> None:
        """All terms of all sides agree; a side of plain numbers is taken as a value in SI units.

        Where the terms of a sum disagree, the terms of all sides vote on which of the sum's is the odd
        one; sides that are sound in themselves are compared as wholes."""
        read = [side for side in sides if not self.at[id(side)].plain]
        terms = [term for side in read for term in _terms(side)]
        unsound = next((_terms(side) for side in read if not self._could_agree(_terms(side))), ())
        if not unsound:
            self.agree(read, "term")
        self.agree(terms, "term", suspects=unsound)
        self._settle_logs(sides, terms)
        if read and len(read) < len(sides) and any(self.at[id(s)].plain and as_number(s) != 0 for s in sides):
            dimension = as_dimension(self.equations.reduced(self.at[id(terms[0])].exponents))
            self.numbers_for_values |= dimension is not None and dimension != Dimension()

    def expression(self, root: tree.Expr) -> Measure:
        """The measure of an expression, after all its nodes have been appraised."""
        nodes = leaves_first(root)
        self.with_unit.update(
            id(number) for node in nodes for number in (*numbers_with_unit(node), *halves(node, self.told)))
        for inner in (n for node in nodes if self._is_reckoned(node) for n in tree.walk(node)):
            self.at[id(inner)] = Measure(NO_EXPONENTS, plain=True)
        for node in nodes:
            if id(node) not in self.at:
                self.at[id(node)] = _HANDLERS[type(node)](self, node)
        return self.at[id(root)]

    def _is_reckoned(self, node: object) -> bool:
        """`∫_1^3 (4 x - x²) dx`, `[2 x² - x³/3]_1^3`: from number to number, of one letter and the values of others."""
        if not isinstance(node, tree.Integral | tree.Between) or node.lower is None or node.upper is None:
            return False
        names = set(tree.names_in(node))
        return len(names) == 1 and names.isdisjoint(self.known) and not any(
            tree.names_in(end) for end in (node.lower, node.upper)) and not any(
            isinstance(n, tree.Unit) for n in tree.walk(node))

    # --- agreement ---------------------------------------------------------------------------------

    def agree(self, nodes: Sequence[tree.Expr], place: Place, suspects: Sequence[tree.Expr] = ()) -> None:
        """All these have one dimension. Where they have not: the odd one out (among the suspects, if there
        are any), or the later of two."""
        trial = self.equations.copy()
        first = self.at[id(nodes[0])].exponents if nodes else NO_EXPONENTS
        clash = next((n for n in nodes[1:] if not trial.learn_equal(first, self.at[id(n)].exponents)), None)
        if clash is None:
            self.equations = trial
            return
        dimensions = [self.dimension(node) for node in nodes]
        counted = Counter(d for d in dimensions if d is not None)
        if len(counted) < 2:
            raise Misfit(clash, place, self.dimension(clash), dimensions[0])
        usual = counted.most_common(1)[0][0]
        odd = [node for node, d in zip(nodes, dimensions, strict=True) if d is not None and d != usual]
        suspected = {id(node) for node in suspects}
        node = next((node for node in odd if id(node) in suspected), odd[0])
        raise Misfit(node, place, self.dimension(node), usual)

    def dimension(self, node: tree.Expr) -> Dimension | None:
        return as_dimension(self.equations.reduced(self.at[id(node)].exponents))

    def _could_agree(self, nodes: Sequence[tree.Expr]) -> bool:
        trial = self.equations.copy()
        return all(trial.learn_equal(self.at[id(nodes[0])].exponents, self.at[id(n)].exponents) for n in nodes[1:])

    def has(self, node: tree.Expr, expected: Exponents, place: Place) -> None:
        """Let the node have that dimension."""
        exponents = self.at[id(node)].exponents
        if not self.equations.learn_equal(exponents, expected):
            reduced = self.equations.reduced
            raise Misfit(node, place, as_dimension(reduced(exponents)), as_dimension(reduced(expected)))

    def undeclared(self, *nodes: object) -> bool:
        return any(name not in self.known for node in nodes for name in tree.names_in(node))

    def _settle_logs(self, sides: Sequence[tree.Expr], terms: Sequence[tree.Expr]) -> None:
        """Logarithms of dimensional quantities: in the whole relation their dimensions must cancel.

        Where a constant of integration may hold the missing logarithm (an undeclared name, or a plain
        name as a term of its own) nothing can be said; where a coefficient is not a number, something only
        of a logarithm that stands alone."""
        total, logs = NO_EXPONENTS, []
        for position, side in enumerate(sides):
            for log in self.at[id(side)].logs:
                if log.times is None:
                    self._refuse_lone_log(sides, log)
                    return
                total = plus(total, log.exponents, log.times if position == 0 else -log.times)
                logs.append(log)
        total = self.equations.reduced(total)
        plain = any(self.at[id(side)].plain and as_number(side) != 0 for side in sides)
        bare = [term.arg if isinstance(term, tree.Neg) else term for term in terms]
        constant = any(isinstance(term, tree.Name) for term in bare) or self.undeclared(*terms)
        if logs and len(sides) == 2 and total and not plain and not constant and as_dimension(total) is not None:
            log = logs[0]
            raise Misfit(log.argument, "logarithm", as_dimension(self.equations.reduced(log.exponents)), Dimension())

    def _refuse_lone_log(self, sides: Sequence[tree.Expr], log: LooseLog) -> None:
        """`E = n k T ln V`: with one term a side there is no room for a second logarithm, nor for a constant
        that could hold one (an integral without limits could)."""
        alone = len(sides) == 2 and all(len(_terms(side)) == 1 for side in sides)
        others = sum(len(self.at[id(side)].logs) for side in sides) > 1
        unlimited = any(isinstance(n, tree.Integral) and n.lower is None for side in sides for n in tree.walk(side))
        found = as_dimension(self.equations.reduced(log.exponents))
        if alone and not others and not unlimited and not self.undeclared(*sides) and found is not None:
            raise Misfit(log.argument, "logarithm", found, Dimension())


def _terms(side: tree.Expr) -> tuple[tree.Expr, ...]:
    return side.terms if isinstance(side, tree.Sum) else (side,)


def _comparable_runs(relation: tree.Relation) -> list[tuple[tree.Expr, ...]]:
    """The chain cut where two sides need not have one dimension: at `∝` and `⊥`."""
    runs: list[tuple[tree.Expr, ...]] = []
    start = 0
    for position, sign in enumerate(relation.signs, start=1):
        if sign in ("∝", "⊥"):
            runs.append(relation.sides[start:position])
            start = position
    return [*runs, relation.sides[start:]]


# --- one function for each kind of node ------------------------------------------------------------


def _num(a: Appraisal, node: tree.Num) -> Measure:
    if node.value == 0:
        return Measure(any_dimension(), plain=True)
    if a.numbers_are_values and id(node) not in a.with_unit:
        return Measure(any_dimension(), plain=True)
    return Measure(NO_EXPONENTS, plain=True)


# Letters that stand for one kind of quantity throughout a working, whatever their subscripts say of it.
_OF_ONE_KIND = frozenset(["v", "u", "x", "y", "z", "s", "h", "r", "t", "m", "θ", "φ", "ω"])


def _name(a: Appraisal, node: tree.Name) -> Measure:
    stem = node.ident.partition("_")[0]
    name = stem if a.of_one_kind and stem in _OF_ONE_KIND else node.ident
    return Measure(a.known[name] if name in a.known else {name: Fraction(1)})


def _constant(a: Appraisal, node: tree.Constant) -> Measure:
    if a.numbers_are_values and node.ident == "π":
        return Measure(any_dimension(), plain=True)  # `sin(π t)`, a half turn a second
    return Measure(any_dimension()) if node.ident == "∞" else Measure(NO_EXPONENTS, plain=True)


def _unit(_: Appraisal, node: tree.Unit) -> Measure:
    found = unit(node.ident)
    return Measure(of_dimension(found.dimension) if found else any_dimension())


def _sum(a: Appraisal, node: tree.Sum) -> Measure:
    if id(node) not in a.open_sums:
        a.agree(node.terms, "term")
    parts = [a.at[id(term)] for term in node.terms]
    leading = next((p for p in parts if not p.plain), parts[0])
    return Measure(leading.exponents, all(p.plain for p in parts), tuple(log for p in parts for log in p.logs))


def _times(log: LooseLog, factor: Fraction | None) -> LooseLog:
    both = None if log.times is None or factor is None else log.times * factor
    return LooseLog(log.argument, log.exponents, both)


def _neg(a: Appraisal, node: tree.Neg) -> Measure:
    inner = a.at[id(node.arg)]
    return Measure(inner.exponents, inner.plain, tuple(_times(log, Fraction(-1)) for log in inner.logs))


def _plus_minus(a: Appraisal, node: tree.PlusMinus) -> Measure:
    inner = a.at[id(node.arg)]
    return Measure(inner.exponents, inner.plain, tuple(_times(log, None) for log in inner.logs))


def _product(a: Appraisal, node: tree.Product) -> Measure:
    parts = [a.at[id(factor)] for factor in node.factors]
    total = NO_EXPONENTS
    for part in parts:
        total = plus(total, part.exponents)
    with_logs = [i for i, part in enumerate(parts) if part.logs]
    logs: tuple[LooseLog, ...] = ()
    if len(with_logs) == 1:
        others = [factor for i, factor in enumerate(node.factors) if i != with_logs[0]]
        logs = tuple(_times(log, as_number(tree.Product(tuple(others)))) for log in parts[with_logs[0]].logs)
    return Measure(total, all(p.plain for p in parts), logs)


def _quotient(a: Appraisal, node: tree.Quotient) -> Measure:
    num, den = a.at[id(node.num)], a.at[id(node.den)]
    divisor = as_number(node.den)
    logs = () if den.logs else tuple(_times(log, 1 / divisor if divisor else None) for log in num.logs)
    return Measure(plus(num.exponents, den.exponents, -1), num.plain and den.plain, logs)


def _power(a: Appraisal, node: tree.Power) -> Measure:
    base = a.at[id(node.base)]
    plain = base.plain and a.at[id(node.exponent)].plain
    number = as_number(node.exponent)
    if number is not None and abs(number) <= _HIGHEST_POWER:
        return Measure(scaled(base.exponents, number), plain)
    a.has(node.exponent, NO_EXPONENTS, "exponent")
    if isinstance(node.base, tree.Constant):
        return Measure(_exponential(a, node.exponent), plain)
    known = as_dimension(a.equations.reduced(base.exponents))
    return Measure(NO_EXPONENTS if known == Dimension() else any_dimension(), plain)


def _exponential(a: Appraisal, argument: tree.Expr) -> Exponents:
    """`e^(-k t + C)` may hold the logarithm of anything in its constant."""
    terms = argument.terms if isinstance(argument, tree.Sum) else (argument,)
    bare = any(isinstance(term, tree.Name) for term in terms) and len(terms) > 1
    hidden = any(a.undeclared(term) for term in terms if not isinstance(term, tree.Product | tree.Quotient | tree.Neg))
    return any_dimension() if bare or hidden or a.at[id(argument)].logs else NO_EXPONENTS


def _apply(a: Appraisal, node: tree.Apply) -> Measure:
    inner = a.at[id(node.arg)]
    if node.function in _ROOTS:
        return Measure(scaled(inner.exponents, _ROOTS[node.function]), inner.plain)
    if node.function in ("sign", "arg"):
        return PURE
    if node.function in ("ln", "log10"):
        reduced = a.equations.reduced(inner.exponents)
        logs = (LooseLog(node.arg, reduced, Fraction(1)),) if reduced and not inner.plain else ()
        return Measure(NO_EXPONENTS, inner.plain, logs)
    a.has(node.arg, NO_EXPONENTS, "argument")
    plain = inner.plain or not tree.names_in(node.arg)  # cos 30° is a number like another
    return Measure(_exponential(a, node.arg) if node.function == "exp" else NO_EXPONENTS, plain)


def _value(a: Appraisal, node: tree.Value) -> Measure:
    name = next((n.ident for n in tree.walk(node.function) if isinstance(n, tree.Name)), "")
    variable = a.depends_on.get(name)
    if variable is not None and len(node.args) == 1 and not a.at[id(node.args[0])].plain:
        a.has(node.args[0], a.known.get(variable, {variable: Fraction(1)}), "argument")
    return Measure(a.at[id(node.function)].exponents)


def _derivative(a: Appraisal, node: tree.Derivative) -> Measure:
    # Where nothing is declared, time may be in units of its own (`v' = 1 - v²`).
    if a.known and "t" not in a.known and node.wrt == tree.Name("t"):
        a.equations.learn_equal({"t": Fraction(1)}, _SECONDS)
    return Measure(plus(a.at[id(node.body)].exponents, a.at[id(node.wrt)].exponents, -node.order))


def _differential(a: Appraisal, node: tree.Differential) -> Measure:
    return Measure(a.at[id(node.body)].exponents)


def _limits(a: Appraisal, variable: tree.Expr, *limits: tree.Expr) -> None:
    for limit in limits:
        if not a.at[id(limit)].plain:
            a.has(limit, a.at[id(variable)].exponents, "limit")


def _over_elements(a: Appraisal, node: tree.Integral, end: tree.Expr) -> bool:
    """`∫_0^h x² dm`: the ends are those of the x along which the element goes."""
    ends, body = a.dimension(end), (n for n in tree.walk(node.body) if isinstance(n, tree.Name))
    return a.dimension(node.wrt) != ends is not None and any(a.dimension(n) == ends for n in body)


def _integral(a: Appraisal, node: tree.Integral) -> Measure:
    if node.lower is not None and node.upper is not None and not _over_elements(a, node, node.upper):
        _limits(a, node.wrt, node.lower, node.upper)
    return Measure(plus(a.at[id(node.body)].exponents, a.at[id(node.wrt)].exponents))


def _between(a: Appraisal, node: tree.Between) -> Measure:
    if node.wrt is not None:
        _limits(a, node.wrt, node.lower, node.upper)
    return Measure(a.at[id(node.body)].exponents)


def _vector(a: Appraisal, node: tree.Vector) -> Measure:
    if id(node) not in a.open_sums:
        a.agree(node.components, "component")
    parts = [a.at[id(c)] for c in node.components]
    return Measure(parts[0].exponents, all(p.plain for p in parts))


def _unit_vector(_: Appraisal, __: tree.UnitVector) -> Measure:
    return PURE


def _paired(a: Appraisal, node: tree.Dot | tree.Cross) -> Measure:
    left, right = a.at[id(node.left)], a.at[id(node.right)]
    return Measure(plus(left.exponents, right.exponents), left.plain and right.plain)


def _component(a: Appraisal, node: tree.Component) -> Measure:
    return Measure(a.at[id(node.vector)].exponents)


_HANDLERS: Mapping[type, Callable[..., Measure]] = {
    tree.Num: _num, tree.Name: _name, tree.Constant: _constant, tree.Unit: _unit,
    tree.Sum: _sum, tree.Neg: _neg, tree.PlusMinus: _plus_minus,
    tree.Product: _product, tree.Quotient: _quotient, tree.Power: _power,
    tree.Apply: _apply, tree.Value: _value,
    tree.Derivative: _derivative, tree.Differential: _differential,
    tree.Integral: _integral, tree.Between: _between,
    tree.Vector: _vector, tree.UnitVector: _unit_vector, tree.Component: _component,
    tree.Dot: _paired, tree.Cross: _paired,
}
