"""A speed, an acceleration or a force beside its components: `v² = R² ω² + c²` below vx, vy and vz, or below x, y and z
by the time, in a working without givens."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.records import Symbol
from derive.states.context import Premise, tied_names
from derive.states.evidence import weigh
from derive.states.outright import course_by_time
from derive.states.setting import Matter
from derive.terms.calculus import derivative
from derive.terms.term import ONE, TWO, ZERO, Term, Var, add, neg, power, sub, var, variables
from derive.terms.world import TIME

_AXES = "xyz"
# How often a place is differentiated for what a letter means; a force has its components by name alone.
_RATES = {"v": 1, "a": 2, "F": None}
_SAID = " being the size of its components"


def views(m: Matter) -> Iterator[Matter]:
    """The matter with what a new v is: as large as its components together."""
    for letter in _RATES:
        parts = _components(letter, m) if letter in m.fresh else ()
        if len(parts) < 2 or not _is_asked_for(letter, m):
            continue
        whole = sub(power(var(Var(letter)), TWO), add(*(power(p, TWO) for p in parts)))
        meant = Premise(f"{letter}{_SAID}", whole, "=", True, False, m.number, "custom")
        world = m.context.world
        moving = {letter} if any(v.name == TIME or world.is_changing(v) for p in parts for v in variables(p)) else set()
        size = Symbol(letter, sign="positive", declared=False)
        seen = replace(world, moving=world.moving | moving, symbols={**world.symbols, letter: size})
        yield replace(m, setting=m.setting.within(m.context.knowing(seen).adding(meant)))


def of_components(inside: Matter) -> bool:
    return inside.context.premises[-1].label.endswith(_SAID)


def binding(m: Matter, inside: Matter) -> bool:
    """Is a line that does not hold wrong? One that gives a component by the letter of the whole (`v = u sin α - g t`)
    is only short for it, and one that speaks of other things than the courses do is of one moment (`v = √(u² + 2 g
    h)`)."""
    letter = inside.context.premises[-1].label.removesuffix(_SAID)
    left, right = m.lowered.parts[0]
    parts = _components(letter, m)
    own = {v for p in parts for v in variables(p)}
    timely = any(Var(TIME) in variables(p) for p in parts)
    if m.words or not {*variables(right)} <= own or (timely and Var(TIME) not in variables(right)):
        return False
    if left.op != "pow" and (right.op != "pow" or right.args[1].op != "num" or right.args[1].value.denominator != 2):
        return False
    return not any(_is(right, p, m) or _is(right, neg(p), m) for p in parts)


def _is(a: Term, b: Term, m: Matter) -> bool:
    cloud = m.setting.states.of(m.context, (a, b))
    return bool(cloud.size) and weigh(a, b, "=", cloud).all_hold


def _is_asked_for(letter: str, m: Matter) -> bool:
    """`v = …`, `v² = …`, and nothing of v on the other side."""
    left, right = m.lowered.parts[0]
    v = var(Var(letter))
    return m.pair.sign == "=" and len(m.lowered.parts) == 1 and left in (v, power(v, TWO)) and (
        Var(letter) not in variables(right))


def _components(letter: str, m: Matter) -> list[Term]:
    """What lines give its components as, in order; all places or none where they are not told by name."""
    tied = tied_names(m.context)
    named = [n for axis in _AXES for n in (f"{letter}{axis}", f"{letter}_{axis}") if n in tied]
    times = _RATES[letter]
    if len(named) > 1 or times is None:
        return [given for n in named if (given := _outright(n, m)) is not None] if len(named) > 1 else []
    courses = [c for axis in _AXES if (c := course_by_time(axis, m.context)) is not None]
    for _ in range(times):
        courses = [derivative(c, lambda u: ONE if u == Var(TIME) else ZERO) for c in courses]
    return courses


def _outright(name: str, m: Matter) -> Term | None:
    """What a name stands for, by the time and constants; itself where no line says."""
    world = m.context.world
    return course_by_time(name, m.context) or world.definitions.get(name) or var(Var(name))
