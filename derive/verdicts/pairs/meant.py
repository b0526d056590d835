"""What a new letter means beside those that are about: the acceleration of a speed that goes with the place, the
magnitude of components."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from derive.records import Standing
from derive.states.setting import Decision, Matter
from derive.states.states import freedom
from derive.steps.customs import customary
from derive.steps.letters import meanings, rates
from derive.steps.letters.defining import defining
from derive.steps.numbers.numeric import right_to_its_figures, wrong_number
from derive.terms.term import TWO, Var, power, variables
from derive.verdicts.pairs.at_states import holds_at_states
from derive.verdicts.pairs.refuting import fails


def by_its_place(m: Matter) -> Decision | None:
    """`a = -k x/m` below `½ m v² + ½ k x² = E`."""
    inside = rates.along_a_place(m)
    if inside is None:
        return None
    return _decided(m, inside, Var("a"), lambda: rates.settled_by_its_place(m, inside))


def by_components(m: Matter) -> Decision | None:
    """`v = r Ω √(1 + k²)` below `v_r = k r Ω`, `v_θ = r Ω`. Words may say that it is the speed of something else."""
    found = meanings.with_components(m)
    if found is None:
        return None
    inside, name = found
    squared = _squared(inside)  # nobody says that r in `r Ω` is positive
    rounded = right_to_its_figures(inside) if holds_at_states(squared) is None else None
    if rounded is not None:
        return _told(m, rounded, inside, name)
    return _decided(m, squared, name, lambda: not m.words and _settled(name, inside))


def _squared(m: Matter) -> Matter:
    parts = tuple((power(a, TWO), power(b, TWO)) if isinstance(a.value, Var) else (a, b) for a, b in m.lowered.parts)
    return replace(m, lowered=replace(m.lowered, parts=parts))


def _settled(name: Var, inside: Matter) -> bool:
    """Does what a line gives a name by leave it no choice?"""
    given = [v for part in inside.lowered.parts for v in variables(*part) if v.name != name.name]
    plain = all(v.role == "value" and not v.at for v in given)
    free = freedom(inside.context, given, (), inside.setting.states) if plain else -1
    return 0 <= free == freedom(inside.context, [*given, name], (), inside.setting.states)


def _told(m: Matter, decision: Decision, inside: Matter, name: Var) -> Decision:
    after = m.setting.within(defining(m, name, m.context))
    verdict = replace(decision.verdict, introduces=(name.name,))
    return replace(customary.said(replace(decision, verdict=verdict), inside), after=after)


def _decided(m: Matter, inside: Matter, name: Var, settled: Callable[[], bool]) -> Decision | None:
    decision = holds_at_states(inside)
    if decision is not None and decision.verdict.standing is Standing.FOLLOWS:
        return _told(m, decision, inside, name)
    found = (wrong_number(inside) or fails(inside)) if settled() else None
    if found is None:
        return None
    return replace(found, after=replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
