"""How a context gives way to what is supposed: without ranges, values, divisors, or the extreme picked out above."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from derive.states.context import EXTREME, Context, Premise
from derive.terms.term import Term, Var, postorder, var, variables


def loosened(context: Context, names: Collection[str]) -> Context:
    """Without what is declared, said or taken for granted of the ranges of some names, or of their not vanishing."""
    if not names:
        return context
    symbols = {
        n: replace(s, sign="real", bounds=()) if n in names else s for n, s in context.world.symbols.items()}
    premises = tuple(
        p for p in context.premises
        if not (p.kind == "range" or p.sign == "≠" or (p.kind == "custom" and p.sign == ">") or is_bound(p))
        or not any(v.name in names for v in variables(p.term)))
    return replace(context, world=replace(context.world, symbols=symbols), premises=premises)


def forgetting(context: Context, name: str) -> Context:
    """Without what gives a name outright and what was drawn since: `for a hoop, I = m R²` below `I = ½ m R²`."""
    own = var(Var(name))
    giving = {p for p in context.premises if p.sign == "=" and p.sides is not None and p.sides[0] is own}
    if not giving:
        return context
    kept = tuple(p for p in context.premises if p not in giving and not p.implied and p.kind != "reckoned")
    definitions = {n: t for n, t in context.world.definitions.items() if n != name}
    return replace(context, world=replace(context.world, definitions=definitions), premises=kept)


def is_bound(p: Premise) -> bool:
    """`m1 > m2`, brought in by a line."""
    return p.kind == "start" and p.sign in ("<", ">")


def is_value(p: Premise) -> bool:
    """`m = 2 kg`: a name given in numbers."""
    return p.sides is not None and p.sign == "=" and p.sides[0].op == "var" and not variables(p.sides[1])


def unvalued(context: Context) -> Context:
    """Without the values in numbers that names have been given: what the relations alone leave open."""
    kept = tuple(p for p in context.premises if not is_value(p))
    if len(kept) == len(context.premises):
        return context
    definitions = {n: t for n, t in context.world.definitions.items() if variables(t)}
    return replace(context, world=replace(context.world, definitions=definitions), premises=kept)


def without_values_of(context: Context, names: Collection[str]) -> Context:
    """Without the values in numbers that some names have been given, and what lines have drawn with them."""
    gone = {p for p in context.premises if is_value(p) and not {v.name for v in variables(p.term)}.isdisjoint(names)}
    if not gone:
        return context
    kept = tuple(p for p in context.premises if p not in gone and not (p.implied and not {
        v.name for v in variables(p.term)}.isdisjoint(names)))
    definitions = {n: t for n, t in context.world.definitions.items() if n not in names or variables(t)}
    return replace(context, world=replace(context.world, definitions=definitions), premises=kept)


def undivided(context: Context) -> Context:
    """Without what lines took not to vanish, nor those that divide by it: where it does they say nothing."""
    taken = frozenset(p.term for p in context.premises if p.sign == "≠" and p.kind != "given")
    premises = tuple(p for p in context.premises if p.term not in taken and not taken & _divisors(p.term))
    return replace(context, premises=premises) if taken else context


def elsewhere(context: Context) -> Context:
    """Away from the extreme that a line has picked out (`dR/dα = 0`): without that, and what was drawn since."""
    picked = next((p for p in context.premises if p.kind == EXTREME), None)
    if picked is None:
        return context
    return replace(context, premises=tuple(
        p for p in context.premises if p.kind != EXTREME and not (p.implied and p.source >= picked.source)))


def _divisors(t: Term) -> frozenset[Term]:
    """What stands below a line in it."""
    return frozenset(s.args[0] for s in postorder(t) if s.op == "pow" and s.args[1].op == "num" and s.args[1].value < 0)
