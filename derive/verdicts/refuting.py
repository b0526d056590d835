"""The break of a line, and the state that shows it."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Name
from derive.records import Standing, Verdict
from derive.states import probing
from derive.states.context import Context
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.states.yielding import unvalued
from derive.steps import carrying, numeric
from derive.steps.kinematics import linked
from derive.terms.numbers import bare_number
from derive.terms.term import Var
from derive.verdicts.open_cases import inside_open_case, is_solved, next_below
from derive.verdicts.weighing import evidence

_ORDINALS = ("first", "second", "third")


def refuted_in_open_case(m: Matter) -> Decision | None:
    """A line that holds nowhere in the case spoken of, where that ties its names: it starts nothing."""
    inside = inside_open_case(m, beside=is_solved(m)) if m.setting.cases else None
    if inside is None or m.pair.sign != "=":
        return None
    found, cloud = evidence(inside)
    if not cloud.size or not any(e.all_fail for e in found):
        return None
    own = [v for v in m.unknowns if v.role == "value"]
    states = m.setting.states
    return fails(m) if freedom(inside.context, own, (), states) < freedom(m.context, own, (), states) else None


def off_in_open_case(m: Matter) -> Decision | None:
    """`θ = 41.8°` next below `leaves when N = 0: cos θ = 2/3`, where no value told has a part in it: a number that is
    off, and no new value."""
    case = m.setting.cases[-1] if m.setting.cases else None
    name = m.pair.left
    if case is None or not case.line or not next_below(m, case) or not isinstance(name, Name) or (
            m.pair.sign not in ("=", "≈") or bare_number(m.pair.right) is None or m.words):
        return None
    inside = inside_open_case(m, beside=True)
    if inside is None or freedom(unvalued(inside.context), [Var(name.ident)], (), m.setting.states):
        return None
    broken = numeric.wrong_number(inside) or fails(inside)
    own = m.premises(implied=False, always=False)
    return broken and replace(broken, after=replace(m.setting, broken=(*m.setting.broken, *own)))


def fails(m: Matter) -> Decision | None:
    """Some state of the context does not satisfy the pair: that state is shown."""
    before, context = m.setting, linked(m.context, m.setting)
    if context is not None and m.setting.states.any(context).size:
        m = replace(m, setting=before.within(context))  # states of one motion from instant to instant
    inside = inside_open_case(m)
    if inside is not None and any(e.fails.any() for e in evidence(inside)[0]):
        m = inside  # what is said of a case is refuted there
    found, cloud = evidence(m)
    bad = next((k for k, e in enumerate(found) if e.fails.any()), None)
    if bad is None:
        return _fails_on_purpose(m)
    left, right = m.lowered.parts[bad]
    strength = "unsupported"
    if m.pair.sign == "=" and not found[bad].holds.any() and (
        not m.setting.states.any(m.context, m.premises(implied=False)).size
    ):
        strength = "contradicts"
    state = shown_state(m.setting, left, right, m.pair.sign)
    code, facts = "fails.contradicts" if strength == "contradicts" else "fails.state", ()
    if len(found) > 1:
        code, facts = "fails.component", (("which", _ORDINALS[bad] if bad < len(_ORDINALS) else ""),)  # type: ignore[assignment]
    verdict = Verdict(
        Standing.FAILS, strength=strength, state=state, points=cloud.size, code=code, facts=facts)  # type: ignore[arg-type]
    return Decision(verdict, replace(before, broken=(*before.broken, *carrying.writers_own(m))))


def _fails_on_purpose(m: Matter) -> Decision | None:
    """An inequality that fails only at states that were sought for it."""
    narrowed = broken_on_purpose(m)
    if narrowed is None:
        return None
    shown = (shown_state(m.setting.within(narrowed), a, b, m.pair.sign) for a, b in m.lowered.parts)
    state = next((s for s in shown if s is not None), None)
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", state=state, points=1, code="fails.state")
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def broken_on_purpose(m: Matter) -> Context | None:
    """States at given bounds, or pushed over the line's own, that satisfy the context and not an inequality."""
    if m.pair.sign not in probing.SIGNS:
        return None
    return probing.counterexample(m.lowered.parts, m.pair.sign, m.context, m.setting.states)
