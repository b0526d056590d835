"""A pair said of one named instant: `at s = L: v = √(2 a L)`."""

from __future__ import annotations

from dataclasses import replace

from derive.states.context import Premise
from derive.states.outright import shorthand_out
from derive.states.setting import Matter
from derive.terms.term import Term, Var, var, variables
from derive.terms.world import TIME


def at_instant(m: Matter, key: str, courses: bool = False) -> Matter:
    """The same pair said of one named instant.

    courses: with what a line gives outright written out (`T0 e^(μ φ)` for T).
    """
    c = m.context
    # At `α = δ` a shorthand for something of α is not itself a function of α: it has to be written out.
    out = courses or not c.world.is_changing(Var(key.split("=")[0])) or any(
        v.name in c.world.definitions and not c.world.is_changing(v)
        and Var(TIME) in variables(c.world.seen_through(var(v))) for v in m.unknowns)  # `v = u - g t` and no law

    def seen(t: Term) -> Term:
        return c.placed(shorthand_out(c.resolved(t), c.world, courses) if out else c.resolved(t), key)

    parts = tuple((seen(a), seen(b)) for a, b in m.lowered.parts)
    return replace(m, lowered=replace(m.lowered, parts=parts), at=key)


def by_known_course(m: Matter, key: str) -> Matter | None:
    """The pair at an instant by what the lines give outright: states that meet two instants far apart are hard to find,
    and where a course is known nothing hangs on the other one. What is said of an instant goes with it.
    """
    there = at_instant(m, key, courses=True)
    if any(v.at for v in there.unknowns):
        return None
    everywhere = tuple(p for p in m.context.premises if not any(v.at for v in variables(p.term)))
    return replace(there, setting=there.setting.within(replace(m.context, instants=(), premises=everywhere)))


def later(m: Matter, key: str) -> Matter:
    """The same where t has passed: of two times at which `s = 10`, nobody speaks of the one before the start."""
    passed = Premise("t > 0", var(Var(TIME, at=key)), ">", always=False, kind="custom")
    return replace(m, setting=m.setting.within(m.context.adding(passed)))
