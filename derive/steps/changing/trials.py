"""Trial solutions, and leaving them behind: `try x = e^(s t)` finds s, then `x = A e^(s₁ t) + B e^(s₂ t)` is x.

A trial is one solution of an equation of motion and need not start as the motion does. While it is tried, starting
values that it can not have are set aside; once the name is given another course they are back.
"""

from __future__ import annotations

from collections.abc import Set
from dataclasses import replace

import numpy as np

from derive.notation.tree import Name
from derive.states.context import Context, Premise, tied_names
from derive.states.elimination import linear
from derive.states.outright import explicit_in
from derive.states.setting import Matter, Setting, Trial
from derive.states.sizes import sized
from derive.terms.claims import Pair
from derive.terms.term import IMAGINARY, ONE, ZERO, Term, Var, postorder, sub, var, variables
from derive.terms.world import TIME, World, whole_of

_SOME = 4
_NOTHING = 1e-6


def tried_out(context: Context, name: str, course: Term, setting: Setting) -> tuple[Context, Trial]:
    """The context in which a name has a trial course, without starting values that no such course can have."""
    world = with_complex_amplitudes(context, course)
    adopted = context.knowing(world.taking(name, course))
    starts = tuple(p for p in adopted.premises if not p.implied and _is_start(p, name))
    aside: tuple[Premise, ...] = ()
    if starts and not _possible(adopted, setting):
        without = replace(adopted, premises=tuple(p for p in adopted.premises if p not in starts))
        if _possible(without, setting):
            adopted, aside = without, starts
    premises = tuple(
        replace(p, implied=False) if p.implied and _now_for_all_times(p, name, adopted) else p
        for p in adopted.premises)
    told = replace(adopted, premises=premises)
    if premises != adopted.premises and setting.states.of(told).size:  # else the search for states is led astray
        adopted = told
    return adopted, Trial(name, len(premises), aside)


def with_complex_amplitudes(context: Context, course: Term) -> World:
    """The world in which what stands before `e^(i ω t)` and is nowhere above may be complex, if nobody has said that it
    is not: a driven motion lags behind."""
    world = context.world
    nodes = postorder(course)
    if IMAGINARY not in nodes:
        return world
    inside = {v.name for t in nodes if t.op == "fun" and t.value == "exp" for v in variables(t.args[0])}
    plain = {n for n, s in world.symbols.items() if s.declared and (s.sign != "real" or s.bounds)}
    amplitudes = {v.name for v in variables(course)} - inside - plain - tied_names(context) - {TIME}
    return replace(world, free_complex=world.free_complex | amplitudes)


def _possible(context: Context, setting: Setting) -> bool:
    """Are there states of it, be it with complex constants? One or two may be met anywhere, where something all but
    vanishes."""
    if setting.states.of(context).size >= _SOME:
        return True
    loosened = complex_constants(context)
    return loosened is not None and setting.states.of(loosened).size >= _SOME


def complex_constants(context: Context, names: Set[str] | None = None) -> Context | None:
    """The context in which constants of the courses may be complex: all that are not declared, or those named of which
    nobody has said that they have a sign. None where they may already."""
    world = context.world
    said = {n for n, s in world.symbols.items() if s.declared and (names is None or s.sign != "real" or s.bounds)}
    if names is None:
        names = {v.name for f in world.functions.values() for v in variables(f)} - {TIME}
    undeclared = frozenset(n for n in names if whole_of(n) == n) - said  # a part of one is real
    if not undeclared - world.free_complex:
        return None
    return context.knowing(replace(world, free_complex=world.free_complex | undeclared))


def at_rest(m: Matter) -> tuple[Context, Term] | None:
    """The context in which the latest trial course is nothing, and what is nothing then: its one amplitude, or the
    name itself."""
    trial = m.setting.trials[-1] if m.setting.trials else None
    own = _amplitudes(m.context, trial.name) if trial is not None else []
    if trial is None or not own:
        return None
    nothing = (Premise("rest", var(v), "=", False) for v in own)
    return m.context.adding(*nothing), var(own[0] if len(own) == 1 else Var(trial.name))


def not_at_rest(t: Term, context: Context) -> Term:
    """What is not nothing where a course moves, for one of its amplitudes: of `C cos ω t + D sin ω t` either may be
    nothing by itself, so that it is the course."""
    for name in context.world.functions:
        own = _amplitudes(context, name)
        if len(own) > 1 and t.value in own:
            return var(Var(name))
    return t


def moves(context: Context, name: str, setting: Setting) -> bool:
    """Can a trial course be more than nothing while no constant of the equations is? `x = X e^(iωt)` with a real ω is a
    motion of `m x'' + k x = 0`, and none where a drag takes part."""
    own = _amplitudes(context, name)
    at_size = with_sizes(context).adding(*(Premise("motion", sub(var(v), ONE), "=", False) for v in own))
    cloud = setting.states.of(at_size)
    sizes = [a for v, a in cloud.columns.items() if v.role == "value" and not v.order and not v.at]
    course = context.world.functions[name]
    never_nothing = course.op == "fun" and course.value == "exp"
    return bool((own or never_nothing) and cloud.size >= _SOME) and not any(
        bool((np.abs(a) < _NOTHING).all()) for a in sizes)


def with_sizes(context: Context) -> Context:
    """With the masses and stiffnesses of the equations positive: among complex numbers a search for states finds hardly
    any but those at which all of them are nothing."""
    return sized(context, variables(*(p.term for p in context.premises))) or context


def _amplitudes(context: Context, name: str) -> list[Var]:
    """What the terms of an adopted course are multiples of, where all of them are of something."""
    course = context.world.functions.get(name, ZERO)
    terms = course.args if course.op == "add" else (course,)
    found = [next((v for v in variables(t) if _scales(v, t)), None) for t in terms]
    return [v for v in dict.fromkeys(found) if v is not None] if None not in found else []


def _scales(v: Var, t: Term) -> bool:
    """Is a constant a factor of a term?"""
    split = linear(t, v) if v.name != TIME and not v.at and not v.order else None
    return split is not None and split[1] is ZERO


def _is_start(p: Premise, name: str) -> bool:
    return any(v.at and v.name == name for v in variables(p.term))


def _now_for_all_times(p: Premise, name: str, context: Context) -> bool:
    """Does a line drawn from the equations of motion tie constants to t alone, now that a course is put in?

    `m s'' = -k s` for s = x + y: its equations speak of x and y, which the trial says nothing of.
    """
    return p.sign == "=" and p.always and name in {v.name for v in variables(p.term)} and (
        explicit_in(context.resolved(p.term), context.world) is not None)


def left_behind(pair: Pair, setting: Setting) -> Setting | None:
    """The setting without the trial course of the name that a pair gives anew; what it showed of constants stays."""
    name = pair.left.ident if isinstance(pair.left, Name) and pair.sign == "=" else ""
    trial = next((t for t in reversed(setting.trials) if t.name == name), None)
    context = setting.regime.context if setting.regime else setting.context
    if trial is None or name not in context.world.functions:
        return None
    world = context.world
    functions = {n: f for n, f in world.functions.items() if n != name}
    found = tuple(
        replace(p, implied=False) for p in context.premises[trial.premises:]
        if name not in {v.name for v in variables(p.term)})
    premises = (*context.premises[: trial.premises], *trial.aside, *found)
    freed = replace(context, world=replace(world, functions=functions), premises=premises)
    after = replace(setting, trials=tuple(t for t in setting.trials if t is not trial))
    if after.regime is not None:
        return replace(after, regime=replace(after.regime, context=freed))
    return after.within(freed)
