"""Lines seen from the end of the page: what was open or without support may be settled by what is said further down."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Derivative, Name, Relation, walk
from derive.quantities.usual import is_formula
from derive.records import LineVerdict, Standing, Verdict
from derive.states.context import Premise
from derive.states.said import GIVEN, source_of
from derive.states.setting import Setting
from derive.states.sizes import ANGLES
from derive.terms.term import ZERO, variables
from derive.terms.world import TIME
from derive.verdicts.statements import decide


def reconsidered(v: Verdict, line: LineVerdict, setting: Setting) -> Verdict:
    """A verdict in the setting that the whole working leaves behind.

    What nothing above supports may follow from a line further down; what was left open for a name that only a line
    further down explains may turn out right or wrong. Anything else stays as it was.
    """
    number = line.line.number
    open_still = v.standing is Standing.UNDECIDED
    if v.standing is Standing.FAILS and v.statement is not None and isinstance(v.statement.claim, Relation):
        setting = _without_values_below(v.statement.claim, number, setting)
        setting = _without_places_below(v.statement.claim, number, setting)
    later = [p for p in setting.context.premises if _is_after(p, number) and (open_still or not p.implied)]
    refuted = v.standing is Standing.FAILS and v.strength == "unsupported"
    if not (open_still or refuted) or not later or v.statement is None:
        return v
    if refuted and _is_bound(v.statement.claim):
        return v  # the root of a line further down is no reason for it
    if not _follows(_again(v, line, setting)):
        return _refuted_by_what_is_meant(v, line, setting)
    # By the line's own last part (`½ m v² = m g h, h = L sin θ`), or by the first line further down that does: of a
    # name that was not known there, by that which says what it is.
    own = () if v.code == "unknown.name" else (number,)
    for last in sorted({*own, *(p.source for p in later)}):
        held = _again(v, line, setting, last)
        if held is not None and _follows(held):
            label = next((p.label for p in later if p.source == last), "")
            rests = replace(held, code="follows.later_line", facts=(("label", label),), premises=(label,))
            return rests if label else held
    return v


def _is_bound(claim: Claim | None) -> bool:
    return isinstance(claim, Relation) and not {"=", "≈"}.intersection(claim.signs)


def _refuted_by_what_is_meant(v: Verdict, line: LineVerdict, setting: Setting) -> Verdict:
    exact = replace(setting, regime=None)  # an approximation may have been opened further down
    found = _again(v, line, exact, hopeful=False) if v.code == "unknown.name" else None
    return found if found is not None and found.standing is Standing.FAILS else v


def _again(
    v: Verdict, line: LineVerdict, setting: Setting, last: int | None = None, hopeful: bool = True
) -> Verdict | None:
    """What a statement comes to by all that the working brings in up to a line (to its end if None)."""
    assert v.statement is not None
    before = line.line.number - 1
    context = replace(setting.context, premises=tuple(
        p for p in setting.context.premises
        if not (_is_after(p, before) and _of_a_place_alone(p)) and (last is None or not _is_after(p, last))))
    cases = tuple(
        c for c in setting.cases if c.opened <= before and not any(_is_after(p, before) for p in c.premises))
    inside = replace(setting.within(context), broken=(), goal=(), rounded=(), cases=cases, hopeful=hopeful)
    again, _ = decide(v.statement, inside, source_of(line.line, line.reading))
    return next((a for a in again if a.span == v.span), None)


def _without_values_below(claim: Relation, number: int, setting: Setting) -> Setting:
    """The setting without the values in numbers that are told further down, where a formula is looked at: for these
    it may hold by chance (`tan φ = m1/m2` with m1 = m2), and it says that it always does."""
    if not is_formula(claim):
        return setting
    kept = tuple(p for p in setting.context.premises if not (_is_after(p, number) and _tells_a_value(p)))
    return setting.within(replace(setting.context, premises=kept))


def _without_places_below(claim: Relation, number: int, setting: Setting) -> Setting:
    """The setting without what is told further down of the one thing that a claim differentiates by: for `cos 2θ = 0`
    any multiple of dR/dθ is right."""
    along = {n.wrt.ident for n in walk(claim) if isinstance(n, Derivative) and isinstance(n.wrt, Name)} - {TIME}
    kept = tuple(p for p in setting.context.premises if not (
        along and _is_after(p, number) and len({v.name for v in variables(p.term)} | along) == len(along)))
    return setting.within(replace(setting.context, premises=kept)) if len(along) == 1 else setting


def _tells_a_value(p: Premise) -> bool:
    """`R = 6.4e6`, and no `v = 0` and no angle, which says how things lie."""
    if p.sides is None or p.sign != "=" or p.sides[0].op != "var" or variables(p.sides[1]):
        return False
    return p.sides[1] is not ZERO and p.sides[0].value.name.partition("_")[0] not in ANGLES


def _is_after(premise: Premise, number: int) -> bool:
    """Does a premise come from a line of the working below this one? (Lines of the exercise are numbered too.)"""
    return premise.source > number and not premise.label.startswith(GIVEN)


def _of_a_place_alone(premise: Premise) -> bool:
    """`dx/dα = 0`, and α = 45°: so it is where somebody looks further down, and no reason for what is said of all."""
    return premise.kind in ("line", "extreme") and not premise.always and not any(v.at for v in variables(premise.term))


def _follows(v: Verdict | None) -> bool:
    return v is not None and v.standing is Standing.FOLLOWS
