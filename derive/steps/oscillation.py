"""Period and frequency: what these words say of a motion that the context makes oscillate.

A symbol declared as a period (or called T beside an oscillation) is tied to the equation of motion
y'' = -Ω² y or to the adopted course cos(Ω t + φ) by T = 2π/Ω, so that a line about it is decided and not taken.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.quantities.unit_table import dimension
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.setting import Matter
from derive.terms.calculus import derivative, partial
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
    for v in m.unknowns:
        if v.name in tied or v.order or v.at or v.role != "value":
            continue
        word = _word(v.name, m)
        rates = _distinct(_rates(m.context), m) if word else []
        if len(rates) == 1:
            meaning = sub(var(v), _value(word, rates[0]))
            premise = Premise(f"meaning of {v.name}", meaning, "=", False, False, 0, "meaning")
            return replace(m, setting=m.setting.within(m.context.adding(premise)), fresh=tuple(
                n for n in m.fresh if n != v.name))
    return None


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
        cloud = m.setting.states.of(m.context, (rate, *out))
        if not any(cloud.size and weigh(rate, other, "=", cloud).all_hold for other in out):
            out.append(rate)
    return out


def _word(name: str, m: Matter) -> str:
    symbol = m.context.world.symbols.get(name)
    note = symbol.note.lower() if symbol is not None else ""
    for word in ("angular frequency", "frequency", "period"):
        if word in note:
            return word
    if symbol is not None and symbol.declared and not symbol.of:
        return next((word for word, (names, unit) in _USUAL.items()
                     if name in names and symbol.dimension == unit), "")
    return {"T": "period", "ω": "angular frequency"}.get(name, "") if name in m.fresh else ""


# How these are called where the declaration does not say what they are.
_USUAL = {
    "angular frequency": (("ω", "Ω"), dimension(s=-1)), "frequency": (("f",), dimension(s=-1)),
    "period": (("T",), dimension(s=1))}


def _value(word: str, rate: Term) -> Term:
    """T = 2π/Ω, f = Ω/2π."""
    if word == "period":
        return div(mul(TWO, PI), rate)
    return rate if word == "angular frequency" else div(rate, mul(TWO, PI))


def _rates(context: Context) -> Iterator[Term]:
    """The angular rates Ω at which the context's motions oscillate, as terms of constants."""
    for course in context.world.functions.values():
        for t in postorder(course):
            if t.op == "fun" and t.value in ("sin", "cos"):
                rate = derivative(t.args[0], lambda v: ONE if v == Var(TIME) else ZERO)
                if rate is not ZERO and not context.world.changes(rate):
                    yield rate
    if context.world.functions:
        return
    for p in context.premises:
        if p.sign == "=" and p.always:
            rate_squared = _of_equation(p.term, context)
            if rate_squared is not None:
                yield power(rate_squared, HALF)


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
