"""A speed, an acceleration or a force beside its components: `v² = R² ω² + c²` below vx, vy and vz, or below x, y and z
by the time, in a working without givens."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
    given = {*variables(right)}
    if m.words or not given or not given <= own or (Var(TIME) not in given and not _stays(parts, m)):
        return False
    if left.op != "pow" and (right.op != "pow" or right.args[1].op != "num" or right.args[1].value.denominator != 2):
        return False
    return not any(_is(right, p, m) or _is(right, neg(p), m) for p in parts)


def _stays(parts: Sequence[Term], m: Matter) -> bool:
    """Is the whole the same at all times, as on a circle?"""
    return _is(derivative(add(*(power(p, TWO) for p in parts)), _by_time), ZERO, m)


def _by_time(v: Var) -> Term:
    return ONE if v == Var(TIME) else ZERO


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
    """What lines give its components as, in order: by their names, and else by the rates of the places."""
    tied = tied_names(m.context)
    found = []
    for axis in _AXES:
        named = next((n for n in (f"{letter}{axis}", f"{letter}_{axis}") if n in tied), None)
        given = (_outright(named, m) if named is not None else None) or _by_its_place(letter, axis, m)
        given = given or (var(Var(named)) if named is not None else None)
        found += [given] if given is not None else []
    return found


def _by_its_place(letter: str, axis: str, m: Matter) -> Term | None:
    times, course = _RATES[letter], course_by_time(axis, m.context)
    if times is None or course is None:
        return None
    for _ in range(times):
        course = derivative(course, _by_time)
    return course


def _outright(name: str, m: Matter) -> Term | None:
    """What a line gives a name by: the time, or other names."""
    return course_by_time(name, m.context) or m.context.world.definitions.get(name)
