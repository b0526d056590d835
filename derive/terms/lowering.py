"""From trees to terms: what a typed expression means in a world.

Vectors become tuples of component terms. What has no meaning (a vector added to a number, a derivative by
something that is not a variable) is raised as `Meaningless` with the node, and becomes a verdict of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from derive.notation import tree
from derive.notation.tree import Expr, Name, names_in, walk
from derive.quantities.units import unit
from derive.terms.axes import Vector, dot_terms, polar_axes
from derive.terms.calculus import derivative
from derive.terms.parts import PARTS, is_open, of_a_name, parts_of
from derive.terms.placing import depends_on, in_terms_of, instant_key, taken_at
from derive.terms.slopes import partial_by, slope_by, through_definitions, written_out
from derive.terms.term import (
    HALF,
    IMAGINARY,
    MINUS_ONE,
    ONE,
    PI,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    div,
    fun,
    integral,
    mul,
    neg,
    num,
    power,
    show,
    sub,
    substitute,
    var,
    variables,
)
from derive.terms.world import TIME, World

Lowered = Term | Vector
INFINITY = fun("inf")


class Meaningless(Exception):
    """An expression that reads but means nothing; `code` names the message, `node` the place."""

    def __init__(self, code: str, node: object) -> None:
        super().__init__(code)
        self.code, self.node = code, node


@dataclass(frozen=True, slots=True)
class Lowering:
    """One expression's translation. `found` collects the opaque integrals it had to introduce, `instants` the
    instants it named (key -> value of the variable there)."""

    world: World
    found: dict[Var, tuple[Term, Var]]
    instants: dict[str, Term]

    def scalar(self, e: Expr) -> Term:
        t = self.any(e)
        if not isinstance(t, Term):
            raise Meaningless("fails.vector_scalar", e)
        return t

    def any(self, e: Expr) -> Lowered:
        return _RULES[type(e)](self, e)


def lower(
    e: Expr, world: World, found: dict[Var, tuple[Term, Var]] | None = None, instants: dict[str, Term] | None = None
) -> Lowered:
    """The term (or component terms) of an expression. Raises Meaningless."""
    return Lowering(world, {} if found is None else found, {} if instants is None else instants).any(e)


# --- plain arithmetic ---------------------------------------------------------------------------------------


def _num(_: Lowering, e: tree.Num) -> Term:
    return num(e.value)


def _name(low: Lowering, e: Name) -> Lowered:
    symbol = low.world.symbols.get(e.ident)
    if symbol is not None and symbol.vector:
        return tuple(var(Var(f"{e.ident}_{axis}")) for axis in "xyz")
    return var(Var(e.ident)) if e.ident not in low.world.parted else of_a_name(e.ident)


def _constant(_: Lowering, e: tree.Constant) -> Term:
    return {"π": PI, "e": fun("exp", ONE), "i": IMAGINARY, "∞": INFINITY}[e.ident]


def _unit(_: Lowering, e: tree.Unit) -> Term:
    info = unit(e.ident)
    if info is None:
        raise Meaningless("unreadable.unit", e)
    if e.ident in ("°", "deg", "degree", "degrees"):
        return div(PI, num(180))
    return num(Fraction(info.scale))


def _sum(low: Lowering, e: tree.Sum) -> Lowered:
    parts = [low.any(t) for t in e.terms]
    if all(isinstance(p, Term) for p in parts):
        return add(*parts)  # type: ignore[arg-type]
    for part, node in zip(parts, e.terms, strict=True):
        if isinstance(part, Term) and part is not ZERO:
            raise Meaningless("fails.vector_scalar", node)
    vectors = [p for p in parts if not isinstance(p, Term)]
    return tuple(add(*c) for c in zip(*vectors, strict=True))


def _neg(low: Lowering, e: tree.Neg) -> Lowered:
    return _each(neg, low.any(e.arg))


def _each(f: object, value: Lowered) -> Lowered:
    return f(value) if isinstance(value, Term) else tuple(f(c) for c in value)  # type: ignore[operator]


def _product(low: Lowering, e: tree.Product) -> Lowered:
    scalars: list[Term] = []
    vector: Vector | None = None
    for node in e.factors:
        part = low.any(node)
        if isinstance(part, Term):
            scalars.append(part)
        elif vector is None:
            vector = part
        else:
            raise Meaningless("fails.vector_product", node)
    factor = mul(*scalars) if scalars else ONE
    return factor if vector is None else tuple(mul(factor, c) for c in vector)


def _quotient(low: Lowering, e: tree.Quotient) -> Lowered:
    if isinstance(e.num, tree.Differential) and isinstance(e.den, tree.Differential):
        derived = tree.Derivative(e.num.body, e.den.body)
        if isinstance(e.den.body, Name):
            return low.any(derived)
    below = low.scalar(e.den)
    return _each(lambda t: div(t, below), low.any(e.num))


def _power(low: Lowering, e: tree.Power) -> Term:
    base, exponent = low.any(e.base), low.scalar(e.exponent)
    if not isinstance(base, Term):
        if exponent is TWO:
            return dot_terms(base, base)
        raise Meaningless("fails.vector_power", e)
    if isinstance(e.base, tree.Constant) and e.base.ident == "e":
        return fun("exp", exponent)
    return power(base, exponent)


def _apply(low: Lowering, e: tree.Apply) -> Term:
    arg = low.any(e.arg)
    if not isinstance(arg, Term):
        if e.function == "abs":
            return power(dot_terms(arg, arg), HALF)
        raise Meaningless("fails.vector_scalar", e.arg)
    if e.function == "sqrt":
        return power(arg, HALF)
    if e.function == "cbrt":
        return power(arg, num(Fraction(1, 3)))
    if e.function in PARTS:
        return _of_parts(low, e, arg)
    return fun(e.function, arg)


def _of_parts(low: Lowering, e: tree.Apply, arg: Term) -> Term:
    found = parts_of(arg, low.world) if not is_open(arg, low.world) else None
    if found is None:
        raise Meaningless("undecided.parts", e.arg)
    return PARTS[e.function](found)


# --- vectors --------------------------------------------------------------------------------------------------


def _vector(low: Lowering, e: tree.Vector) -> Vector:
    parts = [low.scalar(c) for c in e.components]
    if e.frame == "polar":
        radial, across = polar_axes()
        return tuple(add(mul(parts[0], r), mul(parts[1], a)) for r, a in zip(radial, across, strict=True))
    return tuple(parts + [ZERO] * (3 - len(parts)))


def _unit_vector(_: Lowering, e: tree.UnitVector) -> Vector:
    if e.axis in "xyz":
        return tuple(ONE if axis == e.axis else ZERO for axis in "xyz")
    return polar_axes()[0 if e.axis == "r" else 1]


def _dot(low: Lowering, e: tree.Dot) -> Lowered:
    a, b = low.any(e.left), low.any(e.right)
    if isinstance(a, Term) or isinstance(b, Term):
        return _product(low, tree.Product((e.left, e.right), span=e.span))
    return dot_terms(a, b)


def _cross(low: Lowering, e: tree.Cross) -> Lowered:
    a, b = low.any(e.left), low.any(e.right)
    if isinstance(a, Term) or isinstance(b, Term):
        return _product(low, tree.Product((e.left, e.right), span=e.span))
    return tuple(sub(mul(a[i], b[j]), mul(a[j], b[i])) for i, j in ((1, 2), (2, 0), (0, 1)))


def _component(low: Lowering, e: tree.Component) -> Term:
    if isinstance(e.vector, Name) and e.axis in "xyz":
        return var(Var(f"{e.vector.ident}_{e.axis}"))
    whole = low.any(e.vector)
    if isinstance(whole, Term):
        raise Meaningless("fails.vector_scalar", e)
    return dot_terms(whole, _unit_vector(low, tree.UnitVector(e.axis)))


# --- derivatives ------------------------------------------------------------------------------------------------


def _derivative(low: Lowering, e: tree.Derivative) -> Lowered:
    body = low.any(e.body)
    if not isinstance(body, Term):
        return tuple(_slope_of(low, c, e) for c in body)
    return _slope_of(low, body, e)


def _slope_of(low: Lowering, body: Term, e: tree.Derivative) -> Term:
    for _ in range(min(e.order, 8)):
        body = _slope_once(low, body, e)
    return body


def _slope_once(low: Lowering, body: Term, e: tree.Derivative) -> Term:
    world = low.world
    by = low.any(e.wrt)
    if not isinstance(by, Term) or by.op != "var":
        raise Meaningless("fails.derivative_variable", e.wrt)
    v = by.value
    assert isinstance(v, Var)
    if e.partial:
        return partial_by(world, body, v)
    if v.name == TIME and not v.order:
        return derivative(through_definitions(world, body), world.along_time)
    if body.op == "var" and world.fields.get(body.value.name) != v.name:
        body = written_out(world, body)
    return slope_by(world, body, v)


def _differential(low: Lowering, e: tree.Differential) -> Lowered:
    body = low.any(e.body)
    if not isinstance(body, Term):
        return tuple(derivative(c, low.world.total) for c in body)
    t = derivative(body, low.world.total)
    if t is ZERO and variables(body):
        raise Meaningless("fails.nothing_varies", e)
    return t


# --- values, integrals ------------------------------------------------------------------------------------------


def _value(low: Lowering, e: tree.Value) -> Lowered:
    """`y(0)`, `U(R + h)`: a function's own term with the argument put in, or its value at an instant."""
    if len(e.args) != 1:
        raise Meaningless("unreadable.arguments", e)
    at = low.scalar(e.args[0])
    body = low.any(e.function)
    if not isinstance(body, Term):
        return tuple(_taken(low, c, _variable_of(low.world, e.function, at), at) for c in body)
    return _taken(low, body, _variable_of(low.world, e.function, at), at)


def _taken(low: Lowering, body: Term, variable: Var, at: Term) -> Term:
    t = taken_at(low.world, body, variable, at)
    if any(v.at for v in variables(t)):
        low.instants[instant_key(variable, at)] = at
    return t


def _variable_of(world: World, function: Expr, at: Term) -> Var:
    for n in walk(function):
        if isinstance(n, Name):
            symbol = world.symbols.get(n.ident)
            of = symbol.of if symbol is not None else None
            place = _varying_beside(world, n.ident) or _place_of(world, n.ident, at)
            return Var(world.fields.get(n.ident) or of or place or TIME)
    return Var(TIME)


def _place_of(world: World, name: str, at: Term) -> str:
    """r for the U of `U(r0)`, where U is short for what r and constants make: r0 is one of its values."""
    moving = {v.name for v in variables(world.definitions.get(name, ZERO)) if v.name in world.moving and not v.order}
    stems = {v.name.partition("_")[0] for v in variables(at)}
    return next(iter(moving)) if len(moving) == 1 and moving <= stems else ""


def _varying_beside(world: World, name: str) -> str:
    """φ for the T of `dT = μ T dφ`, the one other quantity there that runs; '' where there is none, or several."""
    others = world.varying - {name}
    return next(iter(others)) if name in world.varying and name not in world.moving and len(others) == 1 else ""


def _integral(low: Lowering, e: tree.Integral) -> Lowered:
    body = low.any(e.body)
    if not isinstance(body, Term):
        return tuple(_integral_of(low, c, e) for c in body)
    wrt = low.any(e.wrt)
    if not isinstance(wrt, Term):  # ∫ F·dr typed with a vector of differentials is a Dot in the body
        raise Meaningless("fails.vector_scalar", e.wrt)
    return _integral_of(low, body, e)


def _integral_of(low: Lowering, body: Term, e: tree.Integral) -> Term:
    wrt = low.scalar(e.wrt)
    if wrt.op != "var":
        raise Meaningless("fails.integral_variable", e.wrt)
    bound = wrt.value
    assert isinstance(bound, Var)
    body = in_terms_of(low.world, body, bound)
    if e.lower is None or e.upper is None:
        return _primitive(low, body, bound, e)
    lower, upper = low.scalar(e.lower), low.scalar(e.upper)
    along = low.world.element_along(body, bound, upper)
    if along is not None:
        body, bound, wrt = mul(body, low.world.rates[along]), Var(along.wrt), var(Var(along.wrt))
    opaque = [v for v in variables(body) if v != bound and low.world.is_changing(v) and depends_on(low.world, v, bound)]
    if opaque:
        p = _primitive(low, body, bound, e)
        return sub(_taken(low, p, bound, upper), _taken(low, p, bound, lower))
    dummy = Var(f"{bound.name}", bound.order, role="dummy")
    inside = substitute(body, {wrt: var(dummy)})
    if lower is INFINITY:  # `-∫_∞^r F dr`: read from the end that has a value
        return neg(integral(inside, dummy, upper, lower))
    return integral(inside, dummy, lower, upper)


def _primitive(low: Lowering, body: Term, bound: Var, e: tree.Integral) -> Term:
    """An integral without limits: an unknown of its own whose slope is the integrand."""
    kind = "∫" if e.lower is None else "∮"
    v = Var(f"{kind}({show(body)})d{bound.name}", role="constant")
    low.found[v] = (body, bound)
    return var(v)


def _between(low: Lowering, e: tree.Between) -> Lowered:
    body, lower, upper = low.any(e.body), low.scalar(e.lower), low.scalar(e.upper)
    v = _between_variable(low, e)
    def ends(t: Term) -> Term:
        t = in_terms_of(low.world, t, v)
        return sub(substitute(t, {var(v): upper}), substitute(t, {var(v): lower}))
    return _each(ends, body)


def _between_variable(low: Lowering, e: tree.Between) -> Var:
    """The variable the limits are of: named, else the one name of the body that can be it."""
    if isinstance(e.wrt, Name):
        return Var(e.wrt.ident)
    names = names_in(e.body)
    world = low.world
    changing = [n for n in names if n in world.varying] or [n for n in names if world.is_changing(Var(n))]
    new = [n for n in names if n not in world.symbols]  # `[ln(m0 - q s)]_0^t`, where only s is not declared
    candidates = changing or [n for n in names if n == TIME] or new or list(names)
    if len(candidates) != 1:
        at_ends = set(names_in(e.lower)) | set(names_in(e.upper))
        first = [n for n in candidates if n in at_ends] or [n for n in candidates if n not in at_ends]
        candidates = first[:1] or candidates
    if not candidates:
        return Var(TIME)
    return Var(candidates[0])


def _plus_minus(low: Lowering, e: tree.PlusMinus) -> Lowered:
    # Statements are split into their two signs before lowering; alone, the upper sign is meant.
    inner = low.any(e.arg)
    return inner if e.upper else _each(neg, inner)


_RULES: dict[type, Callable[[Lowering, Any], Lowered]] = {
    tree.Num: _num, tree.Name: _name, tree.Constant: _constant, tree.Unit: _unit, tree.Sum: _sum, tree.Neg: _neg,
    tree.PlusMinus: _plus_minus, tree.Product: _product, tree.Quotient: _quotient, tree.Power: _power,
    tree.Apply: _apply, tree.Value: _value, tree.Derivative: _derivative, tree.Differential: _differential,
    tree.Integral: _integral, tree.Between: _between, tree.Vector: _vector, tree.UnitVector: _unit_vector,
    tree.Dot: _dot, tree.Cross: _cross, tree.Component: _component,
}

__all__ = ["INFINITY", "MINUS_ONE", "Lowered", "Lowering", "Meaningless", "Vector", "lower"]
