"""When something is so, told in numbers or by several moments: `y = 0 at t = 4.08 s`, `v = 0: ω t = π/2 or 3π/2`.

A moment that was worked out is rounded, and y is not just nothing then; of several, each is looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Either, Name, Num, Relation, Statement, is_zero, names_in, rebuilt, walk
from derive.records import Standing, Verdict
from derive.states.context import tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Case, Setting
from derive.terms.claims import pairs
from derive.terms.lowering import lower
from derive.terms.numbers import bare_number
from derive.terms.term import Term, Var, postorder, variables
from derive.terms.world import TIME
from derive.verdicts.cases.instants import timed
from derive.verdicts.pairs.moments_found import one_of_the_moments, rounded_moment

_PERIODIC = ("sin", "cos", "tan")
_HOLDING = (Standing.FOLLOWS, Standing.APPROXIMATES)

Decide = Callable[[Statement, Setting, Source], Outcome]


def rounded_then(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`v = 0: t = 0.79 s` and `v = 0 at t = 0.79 s`: what is so then to the figures that are written of the time."""
    claim, where = statement.claim, statement.where
    if _tells_the_time(where) and _said_ahead(claim, where):
        claim, where = where, claim
    if not _tells_the_time(claim) or not isinstance(where, Relation) or where.signs != ("=",):
        return None
    case = Case(as_text(where), where=where)
    found = rounded_moment(matter(next(pairs(claim)), setting, source), case) if claim is not None else None
    return ((replace(found.verdict, span=statement.span),), setting) if found is not None else None


def _hold(verdicts: Sequence[Verdict]) -> bool:
    return all(v.standing in _HOLDING for v in verdicts)


def _tells_the_time(claim: Claim | None) -> bool:
    """`t = 0.79 s`"""
    return isinstance(claim, Relation) and claim.signs == ("=",) and claim.sides[0] == Name(TIME) and bare_number(
        claim.sides[1]) is not None


def _said_ahead(claim: Claim | None, where: Claim | None) -> bool:
    """Is `y = 15` typed before its time, or is it that something is nothing? `at t = 5 s: v = 13 m/s` is about v."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(claim.sides[0], Name):
        return False
    ahead = claim.span is not None and where is not None and where.span is not None and (
        claim.span.start < where.span.start)
    return is_zero(claim.sides[1]) or (ahead and bare_number(claim.sides[1]) is not None)


def of_each_moment(statement: Statement, setting: Setting, source: Source, decide: Decide) -> Outcome | None:
    """`v = 0: ω t = π/2 or 3π/2`: there is more to come, and none of them may be another; None where it is not about
    several moments, or some are not settled."""
    where, moments = statement.where, _moments(statement.claim, setting)
    if not moments and statement.claim is not None:  # `v = 0 at ω t = (n + ½) π`
        where, moments = statement.claim, _moments(where, setting)
    if where is None or not moments:
        return None
    verdicts: list[Verdict] = []
    for moment in moments:
        there = replace(statement, claim=moment, where=where)
        found, _ = decide(there, setting, source)
        if not _hold(found):
            found, _ = decide(replace(statement, where=moment, claim=where), setting, source)
        verdicts += found if _hold(found) else (rounded_then(there, setting, source) or (found, setting))[0]
    bad = [v for v in verdicts if v.standing is Standing.FAILS]
    if bad:
        return (replace(bad[0], span=statement.claim.span if statement.claim else None),), setting
    if not verdicts or not _hold(verdicts):
        return None
    if not _comes_again(where, setting):
        return None  # of few roots none may be left out
    rounded = next((v for v in verdicts if v.standing is Standing.APPROXIMATES), None)
    said = rounded or Verdict(Standing.FOLLOWS, support="tested", code="follows.in_case")
    return (replace(said, facts=(("case", as_text(where)),)),), setting


def moments_of_the_case(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`t = 0.5 s, 1.5 s, …` below `cos πt = 0`: each of them is one of the moments at which that is so."""
    case = setting.cases[-1] if setting.cases else None
    moments = _moments(statement.claim, setting)
    if case is None or case.left or not moments:
        return None
    matters = [matter(next(pairs(moment)), setting, source) for moment in moments]
    found = [one_of_the_moments(m, case) or rounded_moment(m, case) for m in matters]
    verdicts = [d.verdict for d in found if d is not None]
    if len(verdicts) < len(moments):
        return None
    rounded = next((v for v in verdicts if v.standing is Standing.APPROXIMATES), verdicts[0])
    return (replace(rounded, span=statement.claim.span if statement.claim else None),), setting


def _comes_again(where: Claim, setting: Setting) -> bool:
    """Is a condition on what swings, so that there are more moments than anyone can name?"""
    world = setting.context.world
    sides = [lower(side, world) for side in where.sides] if isinstance(where, Relation) else []
    terms = [world.seen_through(setting.context.resolved(t)) for t in sides if isinstance(t, Term)]
    return any(t.op == "fun" and t.value in _PERIODIC and Var(TIME) in variables(t) for t in postorder(*terms))


def _moments(claim: Claim | None, setting: Setting) -> Sequence[Claim]:
    """The moments that alternatives name: of `t = 1 or t = 3`, `ω t = π/2 or ω t = 3π/2`, and the first of those that
    `ω t = n π` counts."""
    several = claim.parts if isinstance(claim, Either) else _counted(claim, setting)
    parts = [timed(p, setting) for p in several]
    named = [p for p in parts if isinstance(p, Relation) and p.signs == ("=",) and p.sides[0] == Name(TIME)]
    return named if named and len(named) == len(parts) and not any(TIME in names_in(p.sides[1]) for p in named) else []


_COUNTING = frozenset("nk")
_FIRST_FEW = (1, 2, 3)


def _counted(claim: Claim | None, setting: Setting) -> Sequence[Claim]:
    """`t = π/ω`, `t = 2π/ω`, … of `t = n π/ω` with an n of which nothing has been said."""
    letters = [n for n in names_in(claim) if n in _COUNTING and n not in tied_names(setting.context)]
    if len(letters) != 1 or not isinstance(claim, Relation) or letters[0] in names_in(claim.sides[0]):
        return []
    met = [n for n in walk(claim) if n == Name(letters[0])]
    return [rebuilt(claim, {id(n): Num(Fraction(k)) for n in met}) for k in _FIRST_FEW]  # type: ignore[misc]
