"""What is held and what is worked out while something runs to its end, in the order in which a reader would choose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from derive.proof.support import without_integrals
from derive.states.context import Context, Premise
from derive.states.dependence import HELD, weights
from derive.states.evidence import weigh
from derive.states.precise import Chart, charted
from derive.states.projection import Cloud, Projector, System
from derive.states.setting import Setting
from derive.states.sizes import CONSTANT_SIZES
from derive.states.states import freedom, without_repeats
from derive.steps.limiting.running import Run
from derive.terms.functions import Array
from derive.terms.isolation import isolated
from derive.terms.term import MINUS_ONE, ZERO, Term, Var, mul, postorder, sub, var, variables
from derive.terms.world import TIME


def charts(
    left: Term, right: Term, run: Run, context: Context, setting: Setting
) -> Iterator[tuple[Chart, System, Cloud]]:
    """Ways to hold some quantities while the variable runs: the likeliest first."""
    extra: tuple[Premise, ...] = ()
    if run.whole is not None:
        above, below = _fraction(run.whole)
        extra = (Premise("", sub(mul(var(run.variable), below), above), "=", False),)
    system = context.system((left, right), extra)
    if run.variable.name == TIME and not run.variable.order:
        moving = [t for t in system.equations if context.world.changes(t)]
        if not any(context.world.is_changing(v) and v != run.variable for v in variables(left, right)):
            # The course is written out: the equations of motion have nothing to add at other times, nor have those
            # of its start where they leave the constants in it free.
            own = [v for v in variables(left, right) if v != run.variable]
            free = freedom(context, own, extra, setting.states)
            # `v = g t` between names of which none is said to move: v is still what t makes it.
            tied = freedom(context, [*own, run.variable], extra, setting.states) == free
            if not tied and run.variable in variables(left, right):
                left_over = () if free == len(own) else tuple(t for t in system.equations if t not in moving)
                system = System(left_over, ())
    cloud = setting.states.of(context, (left, right), extra, count=24)
    if not cloud.size:
        return
    system = without_repeats(_without_sums(_without_identities(system, cloud), context), cloud, context)
    env: dict[Var, Array] = {v: a.reshape(-1)[:1] for v, a in cloud.columns.items()}
    projector = Projector(system, context.prior, fixed=(run.variable,))
    end = () if run.end is None else variables(run.end)
    seen = set()
    for reverse in (False, True):
        order = worked_out_first(left, right, end, system, projector.free[::-1] if reverse else projector.free, context)
        if system.equations and projector.free:
            dependent = tuple(v for v, w in weights(projector, env, order).items() if w > HELD)
        else:
            dependent = ()
        if dependent in seen:
            continue
        seen.add(dependent)
        chart = charted(system.equations, dependent, env)
        if chart is not None:
            yield chart, system, cloud


def _fraction(t: Term) -> tuple[Term, Term]:
    """What stands above and below the line of a product, so that both can be worked out in closed form."""
    parts = t.args if t.op == "mul" else (t,)
    below = [p.args[0] for p in parts if p.op == "pow" and p.args[1] is MINUS_ONE]
    return mul(*(p for p in parts if not (p.op == "pow" and p.args[1] is MINUS_ONE))), mul(*below)


def _without_identities(system: System, cloud: Cloud) -> System:
    """Without equations that hold whatever the values are: a course put into its own equation of motion.

    The slopes of such an equation are rounding, and rounding must not choose what is worked out.
    """
    moved = {v: a * (1.1 + 0.05 * (k % 7)) + 0.01 * (k % 3) for k, (v, a) in enumerate(cloud.columns.items())}
    elsewhere = Cloud(moved, cloud.size)
    kept = tuple(t for t in system.equations if not weigh(t, ZERO, "=", elsewhere).all_hold)
    return System(kept, system.positive)


def _without_sums(system: System, context: Context) -> System:
    """With integrals worked out; without `x = ∫_0^t v dt` where that can't be done and x is also given in closed form:
    no quadrature reaches far enough out."""
    equations = tuple(without_integrals(context, t, ()) if swept(t) else t for t in system.equations)
    given = {v for t in equations if not swept(t) for v, _ in isolated(t)}
    kept = tuple(t for t in equations if not (swept(t) and any(v in given for v, _ in isolated(t)[:1])))
    return System(kept, system.positive)


def swept(t: Term) -> bool:
    """Does an integral stand in it?"""
    return any(s.op == "int" for s in postorder(t))


def worked_out_first(
    left: Term, right: Term, end: Sequence[Var], system: System, free: Sequence[Var], context: Context
) -> list[Var]:
    """The order in which unknowns are worked out rather than held.

    First the quantity spoken of, derivatives and values at instants, and what a line defines;
    magnitudes (and what is one by its letter) late, and the names of the right side last.
    """
    at_sight = {v for e in system.equations for v, _ in isolated(e)[:1]}
    kept = {*variables(right), *end}
    symbols = context.world.symbols

    def reluctance(v: Var) -> tuple[bool, ...]:
        symbol = symbols.get(v.name)
        declared = symbol is not None and symbol.declared
        magnitude = v.role == "constant" or (
            symbol.sign == "positive" if declared and symbol is not None
            else v.name.partition("_")[0] in CONSTANT_SIZES and not context.world.is_changing(v))
        held = v in kept or v.name.startswith("const_")
        return (held, variables(left) != (v,), not (v.order or v.at), magnitude, v not in at_sight)

    return sorted(free, key=reluctance)


__all__ = ["charts", "swept", "worked_out_first"]
