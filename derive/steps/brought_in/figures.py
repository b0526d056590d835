"""Figures put in for the letters of a task: `m = 200 kg` where the givens leave m open.

The givens of an exercise often are in letters and its text, or a table beside it, has the figures. A working that puts
them in starts from them, as long as the letter is one that the task is given in and not one that it asks for.
"""

from __future__ import annotations

from collections.abc import Iterator

from derive.notation.printed.printing import as_text
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.setting import Decision, Matter
from derive.states.sizes import sized
from derive.states.states import freedom
from derive.steps.brought_in.quick import claims_to_follow
from derive.steps.letters.defining import with_definition
from derive.steps.letters.marks import is_given, stem_and_mark
from derive.steps.numbers.gravity import near_the_ground
from derive.terms.term import MINUS_ONE, ZERO, Term, Var, variables
from derive.terms.world import TIME


def put_in(m: Matter) -> Decision | None:
    """The value of a letter that the givens leave free and that no line says in terms of others."""
    plain = m.pair.sign in ("=", "≈") and len(m.lowered.parts) == 1 and not m.lowered.primitives and not m.at
    if not plain or not m.setting.strict or m.setting.hopeful or claims_to_follow(m):
        return None
    changed = _changed(*m.lowered.parts[0]) or _compared(m)
    v = changed or next(_named(*m.lowered.parts[0]), None)
    if v is None or v.name == TIME or (not changed and (m.context.world.is_changing(v) or _is_asked_for(v, m))):
        return None
    if not all(freedom(c, [v], (), m.setting.states) == 1 for c in _contexts(m)):
        return None  # `α = π/6` below `at the best angle dR/dα = 0` says what comes out
    if next(near_the_ground(m), None) is not None:
        return None  # `T = 3 s` below `l = 1 m`, of which g is all that is missing
    premises = m.premises(implied=False, kind="value")
    if not m.setting.states.any(m.context, premises).size:
        return None
    facts = (("values", as_text(m.pair.relation())),)
    after = m.setting.within(with_definition(m.context.adding(*premises), m))
    return Decision(Verdict(Standing.TAKEN, code="taken.put_in", facts=facts), after)


def share_put_in(m: Matter) -> Decision | None:
    """`ΔF/F = 2 Δv/v = 2 %` below `F = k v²`, `Δv/v = 1 %`: by which share something changes, where a working without
    givens has not said it."""
    if m.setting.strict or m.setting.regime is not None or m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1:
        return None
    v, premises = _changed(*m.lowered.parts[0]), m.premises(implied=False, kind="value")
    if v is None or m.at or freedom(m.context, [v], (), m.setting.states) != 1 or not (
            m.setting.states.any(m.context, premises).size):
        return None
    facts = (("values", as_text(m.pair.relation())),)
    return Decision(
        Verdict(Standing.TAKEN, code="taken.put_in", facts=facts), m.setting.within(m.context.adding(*premises)))


def _changed(left: Term, right: Term) -> Var | None:
    """The dv of `dv/v = 3 %`."""
    own = variables(left)
    differential = next((v for v in own if v.role == "differential"), None)
    share = left.op == "mul" and len(own) == 2 and not variables(right) and len({v.name for v in own}) == 1
    return differential if share else None


def _compared(m: Matter) -> Var | None:
    """The r_2 of `r2 = 4 r1`, `r2/r1 = 4`: how two of a kind compare that the task speaks of."""
    (left, right), own = m.lowered.parts[0], m.unknowns
    stem = stem_and_mark(own[0].name)[0] if len(own) == 2 else ""
    if not stem or stem != stem_and_mark(own[1].name)[0] or any(v.order or v.at for v in own):
        return None
    shares = [t for t in (left, right) if t.op == "mul"]
    plain = len(shares) == 1 and all(f.op in ("num", "var") or f.args[1] is MINUS_ONE for f in shares[0].args)
    new = next((v for v in own if v in variables(left) and stem_and_mark(v.name)[1]), None)
    return new if plain and not is_given(stem, m.context) else None


def _contexts(m: Matter) -> Iterator[Context]:
    """What the letter has to be free in: the page, and the case that is spoken of."""
    cases = [case for case in m.setting.cases[-1:] if case.premises and not case.left]
    for context in (m.context, *(c.loosening(m.context).adding(*c.premises) for c in cases)):
        yield sized(context, variables(*(p.term for p in context.premises))) or context


def _named(left: Term, right: Term) -> Iterator[Var]:
    """The letter of `letter = number`, in either order; nothing is no figure but a claim."""
    for side, other in ((left, right), (right, left)):
        v = side.value
        if isinstance(v, Var) and v.role == "value" and not (v.order or v.at or variables(other)) and other is not ZERO:
            yield v


def _is_asked_for(v: Var, m: Matter) -> bool:
    """Does some line, or the goal, say what the letter is in terms of others? (Of `F = m a`, given, any of the three
    may be the one.)"""
    said = [p for p in m.context.premises if p.kind != "given"]
    given = any(_gives(v, p) for p in m.context.premises if p.kind == "given")
    return (v.name in m.context.world.definitions and not given) or any(_gives(v, p) for p in (*said, *m.setting.goal))


def _gives(v: Var, p: Premise) -> bool:
    sides = p.sides if p.sides is not None and p.sign == "=" else ()
    ways = (sides, sides[::-1]) if sides else ()
    return any(side.value == v and variables(other) and other.op != "var" for side, other in ways)
