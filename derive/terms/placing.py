"""Terms at an instant or a place, and terms written by the variable they are integrated over."""

from __future__ import annotations

from derive.terms.calculus import derivative
from derive.terms.term import ONE, ZERO, Term, Var, num, postorder, power, show, substitute, var, variables
from derive.terms.world import TIME, World


def is_primitive(v: Var) -> bool:
    """Is this the unknown that stands for an integral without known integrand?"""
    return v.role == "constant" and v.name[:1] in "∫∮"


def instant_key(variable: Var, at: Term) -> str:
    return f"{variable.name}={show(at)}"


def taken_at(world: World, body: Term, variable: Var, at: Term) -> Term:
    """A term with its variable set to a value: explicit functions by substitution, others as unknowns there."""
    if at is var(variable):
        return body
    key = instant_key(variable, at)
    change: dict[Term, Term] = {var(variable): at}
    for v in variables(body):
        defined = world.functions.get(v.name)
        if defined is not None and not v.at:
            whole = defined
            for _ in range(v.order):
                whole = derivative(whole, lambda u: ONE if u == variable else ZERO)
            change[var(v)] = substitute(whole, {var(variable): at})
        elif (world.is_changing(v) or is_primitive(v)) and v != variable:
            change[var(v)] = var(v._replace(at=key))
    return substitute(body, change)


def depends_on(world: World, v: Var, bound: Var) -> bool:
    """Does a quantity change with the variable that is integrated over?"""
    if bound.name == TIME:
        return v.name in world.moving or v.order > 0
    return world.fields.get(v.name) == bound.name or v.order > 0 or (
        v.name in world.moving and bound.name in world.moving)


def in_terms_of(world: World, body: Term, bound: Var) -> Term:
    """Write out the names that the context gives by the integration variable: `F` where F = -k x, and v where v = x'
    says what it is and its course has been found, or y where `y = ω² x²/(2 g) + C` solves `dy/dx = ω² x/g`."""
    for _ in range(6):
        change = {var(v): world.rates[v] for v in variables(body) if v in world.rates}
        for v in variables(body):
            if v.order or v.at or v == bound:
                continue
            runs = world.fields.get(v.name, TIME) == bound.name
            ways = (world.definitions.get(v.name), world.functions.get(v.name) if runs else None)
            known = next((t for t in ways if t is not None and _reaches(world, t, bound, v)), None)
            if known is not None:
                change[var(v)] = known
        change.update(_squares_in(world, body, bound))
        if not change:
            return body
        body = substitute(body, change)
    return body


def _squares_in(world: World, body: Term, bound: Var) -> dict[Term, Term]:
    """The y² and y⁴ of `∫ π y² dz` where `y² = R² - z²`: whatever its sign, y goes along with z."""
    found: dict[Term, Term] = {}
    for s in postorder(body) if world.squares else ():
        if s.op != "pow" or s.args[0].op != "var" or s.args[1].op != "num":
            continue
        v, half = s.args[0].value, s.args[1].value / 2
        square = world.squares.get(v.name) if v.role == "value" and not v.order and not v.at else None
        if square is not None and half.denominator == 1 and v.name not in world.moving and _reaches(
                world, square, bound, v):
            found[s] = power(square, num(half))
    return found


def _reaches(world: World, t: Term, bound: Var, start: Var) -> bool:
    """Does a definition lead, perhaps through others, to the integration variable (and not back to itself)?"""
    seen, pending = {start}, list(variables(t))
    found = False
    while pending:
        v = pending.pop()
        if v == start:
            return False
        found = found or v == bound
        if v not in seen:
            seen.add(v)
            if v.name in world.definitions and not v.order:
                pending.extend(variables(world.definitions[v.name]))
    return found
