"""Period and frequency: what these words say of a motion that the context makes oscillate.

A symbol declared as a period (or called T beside an oscillation) is tied to the equation of motion
y'' = -Ω² y or to the adopted course cos(Ω t + φ) by T = 2π/Ω, so that a line about it is decided and not taken.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.quantities.unit_table import dimension
from derive.states.context import Context, Premise, tied_names
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.setting import Matter
from derive.states.sizes import sized
from derive.steps.changing.equations import with_rates_written_out
from derive.terms.calculus import derivative, partial
from derive.terms.isolation import isolated
from derive.terms.term import (
    HALF,
    ONE,
    PI,
    TWO,
    ZERO,
    Term,
    Var,
    div,
    mul,
    postorder,
    power,
    sub,
    var,
    variables,
)
from derive.terms.world import TIME


def with_meaning(m: Matter) -> Matter | None:
    """The matter with the meaning of an untied period or frequency among its premises; None if there is none."""
    tied = _tied_elsewhere(m.context, m)
    for v in m.unknowns if not _changes_in_passing(m) else ():  # `T = k x` of what swings is the pull of a string
        if v.name in tied or v.order or v.at or v.role != "value":
            continue
        word = _word(v.name, m)
        rates = _distinct(_rates(m.context), m) if word else []
        if not word and (word := _word_of_mode(v.name, m)):
            rates = _distinct(_rates_of(v.name.partition("_")[2], m.context), m)
        if word == "angular frequency" and any(rate.op == "var" for rate in rates):
            continue  # `ω0² = k/m` beside `x = A cos ω t`: that motion's rate has a name of its own
        if len(rates) == 1:
            return _meant(v, word, rates[0], m)
    return None


def with_meaning_of_a_mode(m: Matter) -> Iterator[Matter]:
    """`ω_1 = √(k/m)` where the page makes several things oscillate: the matter with each of their rates."""
    tied = _tied_elsewhere(m.context, m)
    for v in m.unknowns:
        plain = v.name not in tied and not v.order and not v.at and v.role == "value" and "_" in v.name
        word = _word_of_mode(v.name, m) if plain else ""
        for rate in _distinct(_rates(m.context), m) if word else ():
            yield _meant(v, word, rate, m)


def _meant(v: Var, word: str, rate: Term, m: Matter) -> Matter:
    premise = Premise(f"meaning of {v.name}", sub(var(v), _value(word, rate)), "=", False, False, 0, "meaning")
    return replace(m, setting=m.setting.within(m.context.adding(premise)), fresh=tuple(
        n for n in m.fresh if n != v.name))


def _tied_elsewhere(context: Context, m: Matter) -> set[str]:
    """Names that premises tie to more than each other: `T = 2π/ω` says nothing yet of a motion."""
    words = {n for n in context.world.symbols if _word(n, m)}
    among = [p for p in context.premises if p.kind != "range" and {v.name for v in variables(p.term)} <= words]
    tied = tied_names(replace(context, premises=tuple(p for p in context.premises if p not in among)))
    for _ in among:
        tied |= {v.name for p in among if tied & {u.name for u in variables(p.term)} for v in variables(p.term)}
    return tied


def _distinct(rates: Iterator[Term], m: Matter) -> list[Term]:
    """Each rate once, however it is written: √(m g/(m L)) is √(g/L)."""
    out: list[Term] = []
    for rate in dict.fromkeys(rates):
        there = m.context if m.setting.strict else sized(m.context, variables(rate, *out)) or m.context
        cloud = m.setting.states.of(there, (rate, *out))
        if not any(cloud.size and weigh(rate, other, "=", cloud).all_hold for other in out):
            out.append(rate)
    return out


def _word(name: str, m: Matter) -> str:
    symbol = m.context.world.symbols.get(name)
    note = symbol.note.lower() if symbol is not None else ""
    for word in ("angular frequency", "frequency", "period"):
        if word in note:  # of ω people say `natural frequency` and mean the angular one
            return "angular frequency" if word == "frequency" and name.partition("_")[0] in _ANGULAR else word
    if symbol is not None and symbol.declared and not symbol.of:
        return next((word for word, (names, unit) in _USUAL.items() if name in names and (
            symbol.dimension == unit or (symbol.dimension is None and name == "ω"))), "")
    if name == "Ω" and "ω" not in tied_names(m.context):
        return ""  # beside an ω, with which something turns, it is what swings
    return _QUICK.get(name.removesuffix("_0"), "") if name in m.fresh else ""


def _word_of_mode(name: str, m: Matter) -> str:
    """ω_q, T_1: a letter that is called so, with a mark of its own."""
    stem, _, mark = name.partition("_")
    symbol = m.context.world.symbols.get(name)
    if not mark or mark == "0":
        return ""
    if symbol is not None and symbol.declared and not symbol.of:
        return next((word for word, (names, unit) in _USUAL.items()
                     if stem in names and symbol.dimension == unit), "")
    return _QUICK.get(stem, "") if name in m.fresh else ""


_ANGULAR = ("ω", "Ω")
# How they are called where nothing is declared, with a naught or without.
_QUICK = {
    "T": "period", "ω": "angular frequency", "Ω": "angular frequency", "w": "angular frequency", "f": "frequency",
    "period": "period", "frequency": "frequency", "angular_frequency": "angular frequency"}
# How these are called where the declaration does not say what they are.
_USUAL = {
    "angular frequency": (_ANGULAR, dimension(s=-1)), "frequency": (("f",), dimension(s=-1)),
    "period": (("T",), dimension(s=1))}


def _value(word: str, rate: Term) -> Term:
    """T = 2π/Ω, f = Ω/2π."""
    if word == "period":
        return div(mul(TWO, PI), rate)
    return rate if word == "angular frequency" else div(rate, mul(TWO, PI))


def _rates(context: Context) -> Iterator[Term]:
    """The angular rates Ω at which the context's motions oscillate, as terms of constants."""
    for course in context.world.functions.values() or _courses_in_passing(context).values():
        for t in postorder(course):
            if t.op == "fun" and t.value in ("sin", "cos"):
                rate = derivative(t.args[0], lambda v: ONE if v == Var(TIME) else ZERO)
                if rate is not ZERO and not context.world.changes(rate):
                    yield rate
    if context.world.functions:
        return
    own = [_of_equation(p.term, context) for p in context.premises if p.sign == "=" and p.always]
    for rate_squared in own if any(own) else _with_rates_named(context):
        if rate_squared is not None:
            yield power(rate_squared, HALF)


def _courses_in_passing(context: Context) -> dict[str, Term]:
    """`x = 4 cos 2t`, where nothing says yet that x moves: once around, it is what it was."""
    said = {v.name: rest for p in context.premises if p.sign == "=" and p.always for v, rest in isolated(p.term)
            if v.name in _PLACES and not v.order and not v.at and Var(TIME) in variables(rest)}
    return {name: course for name, course in said.items() if _swings_once(course)}


_PLACES = frozenset("xyzsθφ")


def _changes_in_passing(m: Matter) -> bool:
    """Does a line speak of what goes the way of such a course, or of what lines have given by it?"""
    going = {Var(TIME), *map(Var, _courses_in_passing(m.context))}
    for p in m.context.premises:
        if p.sides is not None and p.sides[0].op == "var" and not going.isdisjoint(variables(p.sides[1])):
            going.add(p.sides[0].value)
    return not going.isdisjoint(m.unknowns)


def _swings_once(course: Term) -> bool:
    """Do its sines and cosines stand by themselves? (cos² ωt comes back twice as often as cos ωt.)"""
    above = [t for t in postorder(course) if t.op in ("mul", "pow") and sum(map(_goes_round, t.args)) > (t.op == "mul")]
    return not above


def _goes_round(t: Term) -> bool:
    return any(s.op == "fun" and s.value in ("sin", "cos") and Var(TIME) in variables(s) for s in postorder(t))


def _rates_of(name: str, context: Context) -> Iterator[Term]:
    """The angular rate at which one of the things that move oscillates: that of q beside that of p."""
    for p in context.premises if name in context.world.moving and name not in context.world.functions else ():
        if p.sign == "=" and p.always and Var(name, 2, TIME) in variables(p.term):
            squared = _of_equation(p.term, context)
            if squared is not None:
                yield power(squared, HALF)


def _with_rates_named(context: Context) -> Iterator[Term | None]:
    """The same of `a = -(k/m) x`, where lines above say that v = dx/dt and a = dv/dt."""
    for name in sorted(context.world.moving):
        found = with_rates_written_out(name, context)
        for p in found[0] if found is not None else ():
            yield _of_equation(p.term, context)
    if not context.world.moving:
        yield from (_by_their_letters(p.term) for p in context.premises if p.sign == "=" and p.always)


# Accelerations as they are called, and the coordinates that may be meant.
_ACCELERATIONS = {"a": "xyzs", "α": "θφ"}


def _by_their_letters(t: Term) -> Term | None:
    """Ω² where `m a = -k x` names an acceleration and one coordinate and nobody says more of them."""
    names = {v.name for v in variables(t)}
    for acceleration, coordinates in _ACCELERATIONS.items():
        here = names & set(coordinates)
        split = linear(t, Var(acceleration)) if acceleration in names and len(here) == 1 else None
        other = linear(split[1], Var(min(here))) if split is not None else None
        if split is not None and other is not None and other[1] is ZERO and not here & {
                v.name for v in variables(split[0], other[0])}:
            return div(other[0], split[0])
    return None


def _of_equation(t: Term, context: Context) -> Term | None:
    """Ω² where an equation reads a y'' + b y = 0 with constant a and b."""
    names = {v.name for v in variables(t) if v.order == 2 and v.wrt == TIME and not v.at}
    if len(names) != 1:
        return None
    name = names.pop()
    others = [v for v in variables(t) if v.name != name and (v.order or context.world.is_changing(v))]
    if others or any(v.name == name and v.order == 1 for v in variables(t)):
        return None
    a, b = partial(t, Var(name, 2, TIME)), partial(t, Var(name))
    if b is ZERO or context.world.changes(a) or context.world.changes(b):
        return None
    return div(b, a)
