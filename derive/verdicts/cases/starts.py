"""How a motion starts, told in words where its course is known but for its constants: `released from rest at x = d`."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from derive.notation.lists.vocabulary import PROSE, STARTS
from derive.notation.names import canonical
from derive.notation.tree import Both, Claim, Derivative, Expr, Name, Num, Relation, Statement, names_in
from derive.records import Standing
from derive.states.context import given_by_time
from derive.states.said import Source
from derive.states.setting import Setting
from derive.terms.term import Var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.where import said_at_instant

_AT_REST = re.compile(r"\b((from|at) rest|(no|without|zero) (speed|velocity)|released?|let go)\b")
_WITH_SPEED = re.compile(r"\bwith (?:speed|velocity) (\w+)")
_AT_FIRST = Relation((Name(TIME), Num(Fraction(0))), ("=",))


def at_its_start(statement: Statement, setting: Setting, source: Source) -> tuple[Statement, Setting]:
    """`starts from rest at x = d: C = d, D = 0` below `x = C cos ωt + D sin ωt`: x and x' at t = 0, and what they make
    of the constants. Where no course is known, a place says as much as its moment does."""
    words = source.typed.lower()
    if statement.role not in ("at", "claim", "let", "suppose") or not STARTS.search(words):
        return statement, setting
    bare = statement.claim is None or statement.claim == statement.where
    claim = None if bare and statement.role == "at" else statement.claim
    first = [] if statement.where is None else _values(statement.where, setting)
    if first is None:
        return statement, setting
    here = (_values(claim, setting) if claim is not None else None) or []
    for value in (*first, *_rates([*first, *here], words, setting)):
        told = Statement("at", value, where=_AT_FIRST)
        verdicts, after = said_at_instant(told, setting, source)
        if all(v.standing in (Standing.TAKEN, Standing.FOLLOWS) for v in verdicts):
            setting = after
    if here or (first and claim is None):
        return replace(statement, role="at", where=_AT_FIRST, claim=claim or first[-1]), setting
    return (replace(statement, role="claim", where=None) if first else statement), setting


def _values(claim: Claim | None, setting: Setting) -> list[Relation] | None:
    """The parts of a claim, where each is a value of something with a known course, or of its rate; None else."""
    parts = claim.parts if isinstance(claim, Both) else (claim,)
    found = [p for p in parts if isinstance(p, Relation) and _is_value(p, setting)]
    return found if len(found) == len(parts) else None


def _is_value(claim: Relation, setting: Setting) -> bool:
    world = setting.context.world
    changing = any(n == TIME or world.is_changing(Var(n)) for n in names_in(replace(claim, sides=claim.sides[1:])))
    return claim.signs == ("=",) and _subject(claim.sides[0]) in world.functions and not changing


def _subject(side: Expr) -> str:
    body = side.body if isinstance(side, Derivative) and not side.partial else side
    return body.ident if isinstance(body, Name) else ""


def _speeds(setting: Setting) -> list[str]:
    """The one speed whose course is known, for `starts from rest so C = 0` below `v = 6 t - t² + C`."""
    known = {v.name for v in given_by_time(setting.context)} | setting.context.world.functions.keys()
    found = sorted(n for n in known if n in ("v", "ω"))
    return found if len(found) == 1 else []


def _rates(told: list[Relation], words: str, setting: Setting) -> list[Relation]:
    """What the words say of the speed of the one thing that swings, unless its rate is told beside them."""
    context = setting.context
    swings = {v.name for p in context.premises for v in variables(p.term) if v.order > 1 and v.wrt == TIME}
    if not swings and not told and _AT_REST.search(words):
        return [Relation((Name(n), Num(Fraction(0))), ("=",)) for n in _speeds(setting)]
    places = {_subject(r.sides[0]) for r in told} or (swings & context.world.functions.keys())
    if len(places) != 1 or not places <= swings or any(isinstance(r.sides[0], Derivative) for r in told):
        return []
    rate = Derivative(Name(places.pop()), Name(TIME))
    speed = _WITH_SPEED.search(words)
    if speed is not None and speed.group(1) not in PROSE:
        return [Relation((rate, Name(canonical(speed.group(1)))), ("=",))]
    return [Relation((rate, Num(Fraction(0))), ("=",))] if _AT_REST.search(words) else []
