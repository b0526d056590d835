"""What runs in a limit, where to, and from which side: `m → ∞`, `θ → 0`, `m1/m2 → ∞`, `m ≫ M`; and what a line gives
a quantity by there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import mpmath

from derive.notation.tree import Claim, Relation
from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.states.precise import Values, values
from derive.terms.calculus import partial
from derive.terms.claims import pairs
from derive.terms.isolation import isolated, powers
from derive.terms.lowering import INFINITY, lower
from derive.terms.term import (
    HALF,
    ONE,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    div,
    fun,
    neg,
    postorder,
    power,
    substitute,
    var,
    variables,
)

_FUNCTION = "\u2220"  # the unknown that stands for a function of an angle
_EXPRESSION = "\u2192"  # the unknown that stands for an expression that runs (`m1/m2 → ∞`)


@dataclass(frozen=True, slots=True)
class Run:
    """The variable that runs, the end it runs to (None: infinity, with `side` as its sign), and how it reads.

    whole: the expression that runs where it is not a name; the variable then stands for it.
    side:  the side a finite end is reached from, 0 where the states must tell.
    """

    variable: Var
    end: Term | None
    side: int = 0
    whole: Term | None = None


def run_of(where: Claim | None, context: Context) -> Run | None:
    """What runs and where to, or None where the condition is not about a limit."""
    if not isinstance(where, Relation) or where.signs[0] not in ("→", "=", "≪", "≫"):
        return None
    pair = next(pairs(where))
    what, end = lower(pair.left, context.world), lower(pair.right, context.world)
    if not isinstance(what, Term) or not isinstance(end, Term):
        return None
    whole = None
    if what.op == "pow" and what.args[0].op == "var" and what.args[1] is TWO and end is not INFINITY and pair.sign in (
            "→", "="):
        what, end = what.args[0], power(end, HALF)  # `u² → 2 g R`, of a u that is taken for positive
    if what.op != "var":
        what, whole = var(Var(_EXPRESSION)), what
    v = what.value
    assert isinstance(v, Var)
    if end is INFINITY or pair.sign == "≫":
        return Run(v, None, 1, whole)
    if end.op == "mul" and INFINITY in end.args:
        return Run(v, None, -1, whole)
    if pair.sign == "≪":
        return Run(v, ZERO, 1, whole)
    return Run(v, end, 0, whole)


def place_of(run: Run, env: Values, exponent: int, side: int) -> Any:
    """The value of the running variable at a distance: 10^k far out, or within 10^-k of a finite end."""
    if run.end is None:
        return run.side * mpmath.mpf(10) ** exponent
    end = values([run.end], env)[0]
    return end + side * mpmath.mpf(10) ** -exponent * (abs(end) or 1)


def sides_of(run: Run, context: Context) -> tuple[int, ...]:
    """From which side a finite end may be reached: the likelier first."""
    if run.end is None or run.side:
        return (run.side,)
    prior = context.prior(run.variable)
    end = run.end.value if run.end.op == "num" else None
    if end is not None and float(end) >= prior.upper:
        return (-1,)
    if end is not None and float(end) <= prior.lower:
        return (1,)
    return (1, -1)


_DEEPEST = 3  # shorthands for shorthands


def written_out(t: Term, run: Run, context: Context, deep: int = 0) -> Term:
    """A quantity, or a rate of it, by the variable that runs and constants, where some line above gives it so."""
    world = context.world
    change: dict[Term, Term] = {}
    for v in variables(t):
        if v == run.variable:
            continue
        for p in reversed(context.premises) if world.is_changing(v) else ():
            course = _course(p, v, run, context) if p.sign == "=" else None
            if course is not None:
                change[var(v)] = course
                break
        else:
            meant = world.definitions.get(v.name) if world.is_changing(v) and not (v.order or v.at) else None
            square = power(var(v), TWO)
            whole = _squares_out(meant, run, context) if meant is not None and deep < _DEEPEST else None
            told = written_out(whole, run, context, deep + 1) if whole is not None else None
            if told is not None and not any(world.is_changing(u) for u in variables(told) if u != run.variable):
                change[var(v)] = told
            elif square in postorder(t) and (course := _square_of(v, run, context)) is not None:
                change[square] = course
    return substitute(t, change) if change else t


def _squares_out(t: Term, run: Run, context: Context) -> Term:
    """`w = v²` where v² is given by what runs."""
    squares = {power(var(v), TWO): course for v in variables(t) if (course := _square_of(v, run, context)) is not None}
    return substitute(t, squares)


def _square_of(v: Var, run: Run, context: Context) -> Term | None:
    """What a line gives the square of a changing quantity by, if by the running variable and constants alone."""
    for p in reversed(context.premises):
        here = variables(p.term) if p.sign == "=" else ()
        if run.variable in here and not any(context.world.is_changing(w) for w in here if w not in (v, run.variable)):
            for found in powers(p.term):
                if found.unknown == v and found.exponent == 2:
                    return div(neg(add(*found.rest)), substitute(found.term, {var(v): ONE}))
    return None


def as_root(t: Term, run: Run, context: Context) -> Term:
    """`v = √(2 K (1/x0 - 1/x)/m)` where v² is given by x and v is a size: it goes where the root does."""
    v = t.value
    if not isinstance(v, Var) or v.order or v.at or v == run.variable:
        return t
    symbol = context.world.symbols.get(v.name)
    if symbol is not None and symbol.declared and symbol.sign != "positive":
        return t
    square = _square_of(v, run, context)
    return power(square, HALF) if square is not None else t


_INVERSE = {"sin": "arcsin", "cos": "arccos", "tan": "arctan"}
_RIGHT_ANGLE = math.pi / 2 + 1e-9


def by_its_function(t: Term, run: Run, context: Context) -> Term:
    """`θ → π/2` as v → ∞ where a line gives tan θ by v: the acute angle that has this tangent."""
    change: dict[Term, Term] = {}
    for v in variables(t):
        found = _by_function(v, context) if v != run.variable and _is_acute(v, context) else None
        if found is not None and run.variable in variables(found[1]):
            name, value = found
            t = substitute(t, {fun(name, var(v)): value})
            change[var(v)] = fun(_INVERSE[name], value)
    return substitute(t, change) if change else t


def _is_acute(v: Var, context: Context) -> bool:
    """Is a constant an acute angle, as declared or, where nobody has said what it is, as everybody takes it?"""
    if v.role != "value" or v.order or v.at or context.world.is_changing(v):
        return False
    symbol, prior = context.world.symbols.get(v.name), context.prior(v)
    return symbol is None or not symbol.declared or (prior.lower >= 0 and prior.upper <= _RIGHT_ANGLE)


def _by_function(v: Var, context: Context) -> tuple[str, Term] | None:
    """The function of an angle that a line gives, and what it gives it by."""
    for p in reversed(context.premises):
        turned = [f for f in postorder(p.term) if f.op == "fun" and f.value in _INVERSE and f.args == (var(v),)]
        if p.sign != "=" or len(set(turned)) != 1:
            continue
        unknown = Var(_FUNCTION)
        split = linear(substitute(p.term, {turned[0]: var(unknown)}), unknown)
        if split is not None and v not in variables(*split):
            return str(turned[0].value), neg(div(split[1], split[0]))
    return None


def _course(p: Premise, v: Var, run: Run, context: Context) -> Term | None:
    """What a premise gives a changing quantity by, if by the running variable and constants alone."""
    for u, rest in isolated(p.term):
        slopes = v.order - u.order
        if (u.name, u.at, u.role) != (v.name, v.at, v.role) or slopes < 0 or (slopes and v.wrt != run.variable.name):
            continue
        if any(context.world.is_changing(w) and w != run.variable for w in variables(rest)):
            continue
        for _ in range(slopes):
            rest = partial(rest, run.variable)
        return rest
    return None
