"""A law said again of where one of its names has a value: `0 = u t - g t²` below `y = u t - ½ g t²`.

In a working without givens such a line looks like a start of its own, since nobody has said what y is there. But a law
of something else is hardly made of the very same terms with another number before one of them: that is a slip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Premise
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.steps.brought_in.quick import open_to_starts
from derive.terms.kinship import numbered
from derive.terms.term import ZERO, Term, Var, neg, sub, var, variables
from derive.terms.writing import written

_ALIKE = 1e-9


def with_another_number(m: Matter) -> Decision | None:
    """The break of a law that is said again with another number before one of its terms."""
    there = value_spoken_of(m)
    state = None if there is None else shown_state(
        m.setting.within(m.context.adding(there)), *m.lowered.parts[0], "=")
    if there is None or state is None:
        return None
    facts = (("label", there.label), ("where", " = ".join(map(written, there.sides or ()))))
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.restated", facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, there, *m.premises(implied=False))))


def value_spoken_of(m: Matter) -> Premise | None:
    """The value that a law said again with another number has for one of its names, `y = 0`; its label is the law's."""
    if not open_to_starts(m) or m.pair.sign != "=":
        return None
    for label, name, law in _laws(m):
        for value, rest in _said_of_a_value(m):
            if name not in variables(value, rest) and _differ_in_a_number(rest, law):
                sides = (var(name), value)
                return Premise(label, sub(*sides), "=", False, False, m.number, sides=sides)
    return None


def _laws(m: Matter) -> Iterator[tuple[str, Var, Term]]:
    """What the lines above give a name by, as it was typed."""
    for p in m.context.premises:
        for a, b in (p.sides, p.sides[::-1]) if p.sides is not None and p.sign == "=" else ():
            if isinstance(a.value, Var) and not a.value.order and not a.value.at and a.value not in variables(b):
                yield p.label, a.value, b


def _said_of_a_value(m: Matter) -> Iterator[tuple[Term, Term]]:
    """The sides of a line with a name or nothing on one of them, and all of it against nothing."""
    (sides,) = m.lowered.parts
    for value, rest in (sides, sides[::-1]):
        if value is ZERO or value.op == "var" or neg(value).op == "var":
            yield value, rest
    if ZERO not in sides:
        yield ZERO, sub(*sides)


def _differ_in_a_number(one: Term, other: Term) -> bool:
    """Are they made of the same terms, though not in one proportion? Signs may be those of another direction."""
    here, there = numbered(one), numbered(other)
    if here is None or there is None or here.keys() != there.keys() or len(here) < 2 or 0.0 in there.values():
        return False
    ratios = [abs(here[k] / there[k]) for k in here]
    return max(ratios) - min(ratios) > _ALIKE * max(ratios)
