"""Approximations as they are opened: what is small in `for small θ`, `m ≪ M`, and the context kept to its order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from derive.notation.tree import (
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Sign,
    Statement,
    walk,
)
from derive.states.context import Context, Premise
from derive.states.setting import Regime, Setting
from derive.steps.small.orders import degree
from derive.terms.calculus import derivative
from derive.terms.expansion import kept_to
from derive.terms.term import ZERO, Term, Var, postorder, substitute, var, variables
from derive.terms.world import TIME, World


def expanded_premise(p: Premise, small: Sequence[str], order: int) -> Premise:
    """A premise kept to an order."""
    return replace(p, term=kept_to(p.term, small, order)) if p.sign == "=" else p


def opened(setting: Setting, statement: Statement) -> Setting:
    """The setting after `for small θ`, `ε ≪ 1`, `for x ≪ L`. What is large in it is small no more, as M is in `m ≫ M`
    below `M ≫ m`."""
    world = setting.context.world
    if setting.regime is not None and {v.name for v in setting.regime.small}.intersection(_large(statement)):
        setting = replace(setting, regime=None)
    names = tuple(dict.fromkeys(n for e in _small_expressions(statement) for n in _carried_by(e, world)))
    if not names and statement.claim is not None:
        names = _angles_met(setting)
    names = tuple(dict.fromkeys((*names, *_values_of(names, setting.context))))
    opened_so = with_small(setting, names, _degree_claimed(statement, names)) if names else setting
    large = (*_compared(statement, "≫"), *(e.den for e in statement.small if isinstance(e, Quotient)))
    late = Name(TIME) in large
    regime = opened_so.regime
    return replace(opened_so, regime=replace(regime, late=True)) if late and regime is not None else opened_so


def _values_of(names: tuple[str, ...], context: Context) -> Iterator[str]:
    """What a small quantity is somewhere is small: the α of `θ(0) = α`."""
    for p in context.premises:
        there, value = p.sides if p.sides is not None and p.sign == "=" else (ZERO, ZERO)
        at = there.value if there.op == "var" else None
        if isinstance(at, Var) and at.at and not at.order and at.name in names and value.op == "var":
            yield value.value.name


def _angles_met(setting: Setting) -> tuple[str, ...]:
    """Of what the page takes sines and cosines, for `small angles: …`: what swings, where anything does."""
    context = setting.context
    met = [
        v for p in context.premises for t in postorder(p.term)
        if t.op == "fun" and t.value in ("sin", "cos", "tan") for v in variables(t.args[0])
        if v.role == "value" and not v.at and v.name != TIME]
    swings = [v.name for v in met if context.world.is_changing(v)]
    return tuple(dict.fromkeys(swings or [v.name for v in met]))


def with_small(setting: Setting, names: tuple[str, ...], claimed: int) -> Setting:
    base = setting.regime.context if setting.regime else setting.context
    if setting.regime:
        names = tuple(dict.fromkeys((*(v.name for v in setting.regime.small), *names)))
    order = max(1, claimed, setting.regime.order if setting.regime else 1)
    kept = _context_kept_to(base, names, order)
    if not setting.states.any(kept).size:
        seen = _context_kept_to(_with_courses_put_in(base, names), names, order)
        kept = seen if setting.states.any(seen).size else kept
    if not setting.states.any(kept).size:  # what was drawn exactly need not go with what is kept to an order
        told = tuple(p for p in base.premises if not p.implied and p.kind not in ("line", "instant"))
        begun = _context_kept_to(replace(base, premises=told, instants=()), names, order)
        kept = begun if setting.states.any(begun).size else kept
    regime = Regime(tuple(Var(n) for n in names), order, kept, ", ".join(names))
    return replace(setting, regime=regime)


def _context_kept_to(base: Context, names: tuple[str, ...], order: int) -> Context:
    """Every premise and every course kept to an order. At early times that is so at an instant alone: of `z ≈ 0` and
    `v ≈ g t` neither tells the rate of the other."""
    if TIME in names:
        early = ((p, expanded_premise(p, names, order)) for p in base.premises)
        premises = tuple(p if q == p else replace(q, always=False) for p, q in early)
        return replace(base, premises=premises, world=replace(base.world, functions={}))
    premises = tuple(expanded_premise(p, names, order) for p in base.premises)
    courses = {n: kept_to(f, names, order) for n, f in base.world.functions.items()}
    return replace(base, premises=premises, world=replace(base.world, functions=courses))


def _with_courses_put_in(base: Context, small: tuple[str, ...]) -> Context:
    """The context with what is given by small quantities written out: `ln(T/T0) = μ φ` and T = T0 e^(μ φ) agree, and
    to the first order of μ they would not, were they taken each by itself."""
    premises = list(base.premises)
    for k, p in enumerate(base.premises):
        sides = p.sides if p.sides is not None and p.sign == "=" and p.always else (ZERO, ZERO)
        v, course = sides[0].value, variables(sides[1])
        if not isinstance(v, Var) or v.at or v.order or v.name in small or v in course or not any(
            u.name in small for u in course
        ):
            continue
        change = _course_and_rates(v, sides[1], base.world)
        premises = [
            q if i == k else replace(q, term=substitute(q.term, change), sides=None) for i, q in enumerate(premises)]
    return replace(base, premises=tuple(premises))


def _course_and_rates(v: Var, course: Term, world: World) -> dict[Term, Term]:
    change = {var(v): course}
    by = world.variable_of(v.name)
    for order in (1, 2) if by else ():
        course = derivative(course, world.along(by))
        change[var(Var(v.name, order, by))] = course
    return change


def _small_expressions(statement: Statement) -> Iterator[Expr]:
    yield from statement.small
    if statement.role == "regime" and not statement.small:
        yield from _compared(statement, "≪")


def _large(statement: Statement) -> Iterator[str]:
    for e in (*_compared(statement, "≫"), *(e.den for e in statement.small if isinstance(e, Quotient))):
        yield from _carriers(e)


def _compared(statement: Statement, sign: Sign) -> Iterator[Expr]:
    """What a statement says to be ≪, or ≫, beside something else."""
    for part in (statement.claim, statement.where):
        if isinstance(part, Relation):
            for left, between, right in zip(part.sides, part.signs, part.sides[1:], strict=False):
                if between in "≪≫":
                    yield left if between == sign else right


def _carried_by(e: Expr, world: World) -> list[str]:
    """What is small where an expression is. Of `b t/m` that is b alone, at any time t: a product is small once."""
    names = list(_carriers(e))
    constant = [n for n in names if n != TIME and not (world.is_changing(Var(n)) or n in world.fields.values())]
    return constant if len(constant) == 1 else names


def _carriers(e: Expr) -> Iterator[str]:
    """The names that carry the smallness: those above the line in `x/L`."""
    if isinstance(e, Name):
        yield e.ident
    elif isinstance(e, Quotient):
        yield from _carriers(e.num)
    elif isinstance(e, Product):
        for f in e.factors:
            yield from _carriers(f)
    elif isinstance(e, Power):
        yield from _carriers(e.base)
    elif isinstance(e, Neg):
        yield from _carriers(e.arg)
    elif not isinstance(e, Num):
        yield from (n.ident for n in walk(e) if isinstance(n, Name))


def _degree_claimed(statement: Statement, small: Sequence[str]) -> int:
    """The highest power of a small name written in the opening claim (`cos θ ≈ 1 - θ²/2` keeps two)."""
    return max((degree(e, small) for e in _sides(statement)), default=0)


def _sides(statement: Statement) -> Iterator[Expr]:
    if isinstance(statement.claim, Relation):
        yield from statement.claim.sides
