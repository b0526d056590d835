"""A letter that is used again for something else: a constant of integration once it has been found (`C = 0`, then
`x = 3 t² - t³/3 + C`), and the T of `T = 2 π √(L/g)` where T was a tension."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.tree import Claim, Constant, Name, Num, Product, Quotient, Relation, Sum
from derive.states.context import Context, Premise
from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, substitute, var, variables

# What a constant of integration is called (common practice, no source).
_LETTERS = frozenset(("C", "K", "c", "k"))


def with_constant_renewed(context: Context, claim: Claim | None) -> Context:
    """The context in which the constant that ends a claim is free again, if it was found for another quantity than the
    one on the left: what has been said of it is kept with its value in its place."""
    name = constant_renewed(context, claim)
    value = _found(name, context) if name else None
    if value is None:
        return context
    change = {var(Var(name)): value}
    premises = tuple(q for p in context.premises if (q := _changed(p, change)) is not None)
    world = replace(
        context.world, functions={n: substitute(t, change) for n, t in context.world.functions.items()},
        definitions={n: substitute(t, change) for n, t in context.world.definitions.items() if n != name})
    return replace(context, premises=premises, world=world)


def constant_renewed(context: Context, claim: Claim | None) -> str:
    """The constant that a claim brings in again; '' for none."""
    name = _added(claim)
    if not name or context.world.is_declared(name) or _found(name, context) is None:
        return ""
    spoken = [p for p in context.premises if Var(name) in variables(p.term)]
    left = Var(claim.sides[0].ident)  # type: ignore[union-attr]
    return name if len(spoken) > 1 and not any(left in variables(p.term) for p in spoken) else ""


def _found(name: str, context: Context) -> Term | None:
    """What a constant was found to be."""
    return next((
        t for p in context.premises if p.sign == "=" for v, t in isolated(p.term)
        if v == Var(name) and not any(u.order or u.at or context.world.is_changing(u) for u in variables(t))), None)


def _added(claim: Claim | None) -> str:
    """The C of `x = ½ a t² + C`; '' for none."""
    if not isinstance(claim, Relation) or set(claim.signs) != {"="} or not isinstance(claim.sides[0], Name):
        return ""
    last = claim.sides[-1]
    ends = last.terms[-1] if isinstance(last, Sum) else None
    return ends.ident if isinstance(ends, Name) and ends.ident.partition("_")[0] in _LETTERS else ""


def period_anew(claim: Claim | None) -> str:
    """The T of `T = 2 π/ω`, `T = 2 π √(L/g)`, by its look; '' for none."""
    if not isinstance(claim, Relation) or claim.signs[0] != "=" or not isinstance(claim.sides[0], Name):
        return ""
    name, given = claim.sides[0].ident, claim.sides[1]
    above = given.num if isinstance(given, Quotient) else given
    turn = above.factors[:2] if isinstance(above, Product) else ()
    return name if name.partition("_")[0] == "T" and turn == (Num(Fraction(2)), Constant("π")) else ""


def with_name_anew(context: Context, name: str) -> Context:
    """The context in which a name is free again, and what was said by it is said by one that nobody can type."""
    old = f"{name} before"

    def seen(t: Term) -> Term:
        return substitute(t, {var(v): var(v._replace(name=old)) for v in variables(t) if v.name == name})

    def named(names: frozenset[str]) -> frozenset[str]:
        return frozenset(old if n == name else n for n in names)

    def told(table: dict[str, Term]) -> dict[str, Term]:
        return {old if n == name else n: seen(t) for n, t in table.items()}

    world = context.world
    symbols = {old if n == name else n: symbol for n, symbol in world.symbols.items()}
    known = replace(
        world, functions=told(world.functions), definitions=told(world.definitions), squares=told(world.squares),
        symbols=symbols, moving=named(world.moving), varying=named(world.varying), constants=named(world.constants))
    premises = tuple(
        replace(p, term=seen(p.term), sides=p.sides and (seen(p.sides[0]), seen(p.sides[1])), pair=None, sloping=None)
        if any(v.name == name for v in variables(p.term)) else p for p in context.premises)
    return replace(context, premises=premises, world=known)


def _changed(p: Premise, change: dict[Term, Term]) -> Premise | None:
    """A premise with the value put in; None where nothing is left of it."""
    term = substitute(p.term, change)
    if not variables(term):
        return None
    sides = tuple(substitute(t, change) for t in p.sides) if p.sides is not None else None
    return replace(p, term=term, sides=sides)  # type: ignore[arg-type]
