"""When a case, or an instant, that a page speaks of is left: with the line that opened it, or by one that needs it no
more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.case_heads import opens_and_closes
from derive.notation.tree import Name, Relation, Sum, Value, names_in, walk
from derive.readings import gives_a_value
from derive.records import Reading, Standing, Verdict
from derive.states.setting import Case, Setting
from derive.terms.term import Var, variables

# What is said inside a case, or of what it is about.
_OF_THE_CASE = ("follows.at", "follows.in_case")
_BESIDE_THE_CASE = (*_OF_THE_CASE, "follows.bound_met", "taken.bound", "taken.case")

_IN_PART = (Standing.APPROXIMATES, Standing.FOLLOWS_IF)
_BAD = (Standing.FAILS, Standing.UNDECIDED)


def gone_on_from(setting: Setting, reading: Reading, verdicts: Sequence[Verdict], number: int) -> Setting:
    """An instant stays spoken of, and a case said for one line is gone on with, until a line needs it no more."""
    opens = any(s.role in ("at", "suppose") for s in reading.statements)
    codes = {v.code for v in verdicts}
    cases = setting.cases
    if any(v.standing in _BAD or (v.standing in _IN_PART and "case" in dict(v.facts)) for v in verdicts):
        return setting  # a number right in the case, a root of it; or a slip, after which it may be gone on with
    beside = _looked_at_from_beside(reading, codes)
    if beside in setting.context.world.fields.values():
        # `x = x0 + s` below `V' = 0 → x = x0`: what follows is said of places beside that one.
        return replace(setting, cases=tuple(c for c in cases if not _is_at_a_place(c, beside)))
    there = {"there", "here"} & {*reading.words.lower().replace(":", " ").split()}
    if not (opens or there or codes & {*_OF_THE_CASE}) and _speaks_of_what_changes(reading, setting):
        # A line may still come back to the moment (`x = m u²/(2 F)` below how x goes).
        gone = [c for c in cases if c.key and c.opened != number]
        past = (replace(c, line=c.opened or c.line, left=True) for c in gone)
        cases = (*past, *(c for c in cases if c not in gone))
    if not opens and not codes & {*_BESIDE_THE_CASE} and not _tells_a_start(reading):
        # `T = 2π/θ'` below `circular: r'' = 0` names what is so in that motion.
        names = "taken.definition" in codes and codes <= {"taken.definition", "follows.plain"}
        # `D = k v²` below `D = 240 N at v = 20 m/s` is there to find k from that.
        law = codes == {"taken.start"}
        cases = tuple(
            replace(c, left=True) if c.line and (c.where or not names) and not (law and _speaks_of(c, reading)) else c
            for c in cases)
    here = [c for c in cases if c.line == number or any(p.source == number for p in c.premises)]
    cases = tuple(replace(c, left=True) if c.line and any(_is_another(c, h) for h in here) else c for c in cases)
    return setting if cases == setting.cases else replace(setting, cases=cases)


def _looked_at_from_beside(reading: Reading, codes: set[str]) -> str:
    """The x of `let x = x0 + s`, where s is new."""
    claims = [s.claim for s in reading.statements if isinstance(s.claim, Relation) and s.claim.signs == ("=",)]
    if not claims or "taken.definition" not in codes:
        return ""
    left, right = claims[0].sides
    plain = isinstance(right, Sum) and len(right.terms) == 2 and any(isinstance(t, Name) for t in right.terms)
    return left.ident if plain and isinstance(left, Name) else ""


def _is_at_a_place(case: Case, name: str) -> bool:
    told = {v.name for p in case.premises for v in variables(p.term)} | {
        v.wrt for p in case.premises for v in variables(p.term)}
    return case.key.startswith(f"{name}=") or name in told


def _speaks_of(case: Case, reading: Reading) -> bool:
    """Does a line speak of a name that has a value in a case?"""
    spoken = {n for s in reading.statements if s.claim is not None for n in names_in(s.claim)}
    return gives_a_value(case.where) and not case.given().keys().isdisjoint(spoken)


def _is_another(case: Case, here: Case) -> bool:
    """Does a case give a name another value than one further down does (`β = 1: …`, then `β = 2/5: …`), or one where
    that bounds it (`no friction: f = 0, …`, then `it stays while f ≤ μ N`)?"""
    told = {p.term for p in here.premises}
    bounded = {v.name for p in here.premises if p.sign in ("<", "≤", ">", "≥") for v in variables(p.term)}
    return case.line != here.line and not told.issuperset(p.term for p in case.premises) and not (
        case.given().keys().isdisjoint(here.given().keys() | bounded))


def _tells_a_start(reading: Reading) -> bool:
    """`x(0) = 0 gives A = 0` is said of the case as well."""
    return any(isinstance(n, Value) for s in reading.statements if s.claim is not None for n in walk(s.claim))


def _speaks_of_what_changes(reading: Reading, setting: Setting) -> bool:
    """`A = √(3² + 4²) = 5` says nothing of any instant, so that one spoken of stays."""
    claims = [s.claim for s in reading.statements if s.claim is not None]
    return not claims or any(setting.context.world.is_changing(Var(n)) for c in claims for n in names_in(c))


def closed(before: Setting, setting: Setting, reading: Reading, number: int) -> Setting:
    """`v = u gives w = 0` opens its case for its own line; a bare `suppose v = u` leaves it open."""
    if not opens_and_closes(reading):
        return setting
    old = before.cases
    cases = tuple(c if c.line or c.key or c in old else replace(c, line=number) for c in setting.cases)
    return replace(setting, cases=cases)
