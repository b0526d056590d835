"""New names for values in a case: `dV/dr = 0 → r0 = l²/(m k)`, `y = 0: t1 = 2 u/g`.

The name tells of what it is the value: r0 is what r is there. So its value is decided by the case and not free.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Name, Relation
from derive.states.context import Context, Premise, given_by_time, tied_names
from derive.states.setting import Case, Matter, Setting
from derive.states.states import freedom
from derive.steps.defining import defined_by
from derive.terms.term import Term, Var, substitute, var, variables
from derive.terms.world import TIME


def as_value_there(m: Matter) -> tuple[Matter, Var] | None:
    """The pair with the quantity put for the new name of its value in the case spoken of, and that name."""
    case = next((c for c in reversed(m.setting.cases) if c.line in (0, m.number) or not c.left), None)
    found = defined_by(m, without_a_value(m)) if case is not None else None
    if case is None or found is None:
        return None
    name = found[0]
    stem = name.name.partition("_")[0]
    if stem == name.name or Var(stem) in variables(found[1]) or not (
            stem in _spoken_of(case, m) or _settled_there(case, name, found[1], m)):
        return None
    change: dict[Term, Term] = {var(name): var(Var(stem))}
    parts = tuple((substitute(a, change), substitute(b, change)) for a, b in m.lowered.parts)
    fresh = tuple(n for n in m.fresh if n != name.name)
    return replace(m, lowered=replace(m.lowered, parts=parts), fresh=fresh), name


def later_than_the_start(m: Matter) -> Matter:
    """The same where t has passed: of two times at which `y = 0`, the later one."""
    passed = Premise("t > 0", var(Var(TIME)), ">", always=False, kind="custom")
    return replace(m, setting=m.setting.within(m.context.adding(passed)))


def named_place(where: Claim | None, setting: Setting) -> bool:
    """`x0 = 2A/B` in `dU/dx = 0 at x0 = 2A/B`: a name that nothing above speaks of, for where something is so."""
    named = where.sides[0] if isinstance(where, Relation) and where.signs == ("=",) else None
    if not isinstance(named, Name) or named.ident in tied_names(setting.context):
        return False
    stem, _, index = named.ident.partition("_")
    world = setting.context.world
    return bool(index) and (world.is_changing(Var(stem)) or stem in world.fields.values())


def without_a_value(m: Matter) -> set[str]:
    """New names, and declared ones that nothing above speaks of."""
    declared = {n for n, s in m.context.world.symbols.items() if s.declared and not s.of}
    return set(m.fresh) | ({v.name for v in m.unknowns} & declared - tied_names(m.context))


# What the utmost values are called by, which a quantity has where something is about to come to pass.
_UTMOST = frozenset(("max", "min", "crit", "c", "lim", "limit"))


def _settled_there(case: Case, name: Var, value: Term, m: Matter) -> bool:
    """`v_max² = …` below `about to slip: f = μ N`: what v is by the names of the line, in the case and nowhere else."""
    stem, _, index = name.name.partition("_")
    if index not in _UTMOST or not case.premises or any(p.sign != "=" for p in case.premises):
        return False
    others, states = list(variables(value)), m.setting.states
    there = case.loosening(m.context).adding(*case.premises)

    def ties(context: Context) -> bool:
        alone = freedom(context, others, (), states)
        return alone >= 0 and freedom(context, [*others, Var(stem)], (), states) == alone

    return ties(there) and not ties(m.context)


def _spoken_of(case: Case, m: Matter) -> set[str]:
    """The quantities that a case can give a value: those of its condition, and at an instant all that move."""
    if case.key:
        name, world = case.key.split("=")[0], m.context.world
        return {name, TIME, world.fields.get(name, ""), *world.moving}
    own = variables(*(m.context.resolved(p.term) for p in case.premises))
    names = {v.name for v in own}
    if names & {v.name for v in given_by_time(m.context)}:
        names.add(TIME)
    return names | {v.wrt for v in own if v.order} | {m.context.world.fields.get(n, "") for n in names}
