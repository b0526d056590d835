"""Which conditions name an instant or a place that others change along: `t = 0`, `x = L` of v(x), `v = 0`."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Name, Product, Quotient, Relation, names_in, walk
from derive.states.context import Context, Premise, tied_names
from derive.states.said import Source, everywhere
from derive.states.setting import Setting
from derive.terms.lowering import lower
from derive.terms.placing import instant_key
from derive.terms.term import Term, Var, sub, var, variables
from derive.terms.world import TIME


def runs_along(where: Claim | None, setting: Setting) -> bool:
    """Does a condition name a time or a place that others change along (`t = 0`, `x = L` of v(x))? The other conditions
    hold at a moment that is to be found (`v = 0`)."""
    name = where.sides[0].ident if isinstance(where, Relation) and isinstance(where.sides[0], Name) else ""
    return name == TIME or name in setting.context.world.fields.values()


def with_its_place(where: Claim | None, claim: Claim, setting: Setting) -> bool:
    """`just moves (a = 0): F = μ m g/(cos φ + μ sin φ)`, where a goes with φ: the angle at which it is so, any that
    there may be, is a part of what is said. So it is of the `for φ = 0: …` that this is worked out for."""
    fields, names = setting.context.world.fields, names_in(where)[:1] if where is not None else ()
    working = bool(setting.cases and setting.cases[-1].premises and not setting.cases[-1].left)
    told = {side.ident for n in walk(claim) if isinstance(n, Relation) for side in n.sides if isinstance(side, Name)}
    inside = {*names_in(claim)} - {TIME, *told}  # `v = 0: y = h` tells the place
    return any(fields.get(n, TIME) in inside or (working and n in fields.values()) for n in names)


def hangs_on_its_place(where: Claim | None, claim: Claim, setting: Setting) -> bool:
    """`at x = d: v² = u² - 2 k d²` below `½ m v² + ½ k x² = ½ m u²`, where nobody has called v a function of x: what it
    is with that x, and not what it always is."""
    context, names = setting.context, {*names_in(claim)}
    place = names_in(where)[:1] if where is not None else ()
    if not place or place[0] in names or place[0] not in context.world.fields.values() or any(
            context.world.is_changing(Var(n)) or n == TIME for n in names):
        return False
    said = ({v.name for v in variables(p.term)} for p in context.premises if p.kind != "range" and not p.implied)
    return any(place[0] in here and here & names for here in said)


def instant_of(where: Claim | None, setting: Setting) -> tuple[str, Term] | None:
    """The key and value of `t = 0`, `x = L` for a name that changes; None for any other condition."""
    if not isinstance(where, Relation) or where.signs != ("=",) or not isinstance(where.sides[0], Name):
        return None
    world = setting.context.world
    v = Var(where.sides[0].ident)
    value = lower(where.sides[1], world)
    runs = world.is_changing(v) or v.name in world.fields.values()
    if not runs or not isinstance(value, Term) or any(map(world.is_changing, variables(value))):
        return None  # `rolls when v = ω R`: a condition on two that change
    return instant_key(v, value), value


def timed(where: Claim | None, setting: Setting) -> Claim | None:
    """`t = π/ω` of the condition `ω t = π`, with an ω that does not change."""
    left = where.sides[0] if isinstance(where, Relation) and where.signs == ("=",) else None
    factors = left.factors if isinstance(left, Product) else ()
    others = tuple(f for f in factors if f != Name(TIME))
    inside = {n for e in (*others, *(where.sides[1:] if isinstance(where, Relation) else ())) for n in names_in(e)}
    changing = TIME in inside or any(setting.context.world.is_changing(Var(n)) for n in inside)
    if not isinstance(where, Relation) or len(others) != len(factors) - 1 or changing:
        return where
    over = others[0] if len(others) == 1 else Product(others)
    time = Name(TIME, span=left.span if left else None)
    return replace(where, sides=(time, Quotient(where.sides[1], over, span=where.sides[1].span)))


def with_its_time(claim: Claim, key: str, setting: Setting, source: Source) -> Setting:
    """`at the top v = 0: e^(b t1/m) = 1 + b u/(m g)`: a new name for a time, in what is said of one moment, is when
    that is. (Where the line gives its value, `t1 = …`, that is worked out.)"""
    known = tied_names(setting.context) | setting.context.world.symbols.keys()
    times = [n for n in dict.fromkeys(names_in(claim)) if n.startswith(f"{TIME}_") and n not in known]
    given = isinstance(claim, Relation) and isinstance(claim.sides[0], Name)
    if len(times) != 1 or given or TIME in names_in(claim):
        return setting
    when = var(Var(TIME, at=key))
    said = Premise(source.label, sub(var(Var(times[0])), when), "=", False, False, source.number, "definition")

    def naming(context: Context) -> Context:
        world = context.world
        named = replace(world, definitions={**world.definitions, times[0]: when})
        return context.knowing(named).adding(said)

    return everywhere(setting, naming)
