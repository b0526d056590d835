"""What a name is that stands beside others: a momentum that they were given by, a density, the whole of components."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name
from derive.records import Standing, Symbol, Verdict
from derive.states.context import Premise, tied_names
from derive.states.setting import Decision, Matter
from derive.states.sizes import CONSTANT_SIZES, CONSTANTS
from derive.states.states import freedom
from derive.steps.letters.defining import defined_by, with_definition
from derive.terms.term import MINUS_ONE, TWO, Var, add, mul, postorder, power, substitute, var, variables
from derive.terms.world import TIME


def meaning_of_a_course(m: Matter, new: set[str]) -> Decision | None:
    """`p = m v` after `F = dp/dt`: what p is, as long as nothing above ties its course. It changes, so that what it is
    made of does too, but for what is a size by its letter."""
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    variable = m.context.world.variable_of(name) if name not in m.fresh else ""
    if m.setting.strict or not variable or not new or len(m.lowered.parts) != 1 or m.pair.sign != "=":
        return None
    if any(n.partition("_")[0] in CONSTANTS for n in new):  # `ω = const` is no meaning
        return None
    right = m.lowered.parts[0][1]
    course = [Var(name, order, variable if order else "") for order in range(3)]
    # Beside what it is made of: `U = ½ a x² + C` below `dU/dx = -a x` says nothing new of U.
    told = list(dict.fromkeys((*course, *(v for v in variables(right) if v.role == "value"))))
    if any(v.name in (TIME, name) for v in variables(right)) or freedom(
        m.context, told, (), m.setting.states) != len(told):
        return None
    world = m.context.world
    if variable == TIME and not world.changes(right):
        world = replace(world, moving=world.moving | {n for n in new if n.partition("_")[0] not in CONSTANT_SIZES})
    if not world.changes(right) and Var(variable) not in variables(right):
        return None
    context = m.context.knowing(world).adding(*m.premises(implied=False, kind="definition"))
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", name),), introduces=tuple(sorted(new)))
    return Decision(verdict, m.setting.within(with_definition(context, m)))


# In which directions people take something apart (common practice, no source).
_DIRECTIONS = (("x", "y", "z"), ("r", "θ"), ("r", "φ"), ("t", "n"))


def with_components(m: Matter) -> tuple[Matter, Var] | None:
    """The matter with v² = v_r² + v_θ² for a new v whose components are about, and v; `|v|` is v."""
    m = _without_bars(m)
    found = defined_by(m, set(m.fresh)) if m.fresh else None
    if found is None or "_" in found[0].name:
        return None
    name, tied = found[0], tied_names(m.context)
    about = ([n for axis in axes if (n := f"{name.name}_{axis}") in tied] for axes in _DIRECTIONS)
    parts = next((names for names in about if len(names) > 1), [])
    if not parts or any(v.name in parts for v in variables(found[1])):
        return None  # `v² = v_r² + v_θ²` says it
    square = add(power(var(name), TWO), *(mul(MINUS_ONE, power(var(Var(n)), TWO)) for n in parts))
    label = f"{name.name} having the components {' and '.join(parts)}"
    meant = Premise(label, square, "=", True, False, m.number, "custom")
    symbols = {**m.context.world.symbols, name.name: Symbol(name.name, sign="nonnegative", declared=False)}
    context = m.context.knowing(replace(m.context.world, symbols=symbols)).adding(meant)
    return replace(m, setting=m.setting.within(context), fresh=tuple(n for n in m.fresh if n != name.name)), name


def _without_bars(m: Matter) -> Matter:
    bars = {t: t.args[0] for part in m.lowered.parts for side in part for t in postorder(side)
            if t.op == "fun" and t.value == "abs" and t.args[0].op == "var" and t.args[0].value.name in m.fresh}
    if not bars:
        return m
    parts = tuple((substitute(a, bars), substitute(b, bars)) for a, b in m.lowered.parts)
    return replace(m, lowered=replace(m.lowered, parts=parts))


def density_along(m: Matter) -> Decision | None:
    """`λ = λ0 (1 + x/L)` below `dm = λ dx`: a factor of an element that lines above say nothing else of goes along."""
    world = m.context.world
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    if m.setting.strict or not name or name in m.fresh or world.is_changing(Var(name)) or name in world.definitions:
        return None
    changing = {v.name for part in m.lowered.parts for v in variables(part[1]) if world.is_changing(v)}
    beside = [
        p for p in m.context.premises
        if p.sign == "=" and Var(name) in variables(p.term) and any(
            v.role == "differential" and v.name in changing for v in variables(p.term))]
    if not changing <= world.varying or not beside:
        return None
    context = m.context.knowing(replace(world, varying=world.varying | {name}))
    context = with_definition(context.adding(*m.premises(implied=False, kind="definition")), m)
    if not m.setting.states.any(context).size:
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", name),), introduces=tuple(m.fresh))
    return Decision(verdict, m.setting.within(context))
