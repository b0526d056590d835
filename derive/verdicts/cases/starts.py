"""How a motion starts, told in words: `released from rest at x = d`, `start: x1 = A, x2 = 0 at rest`.

Said of what has a known course but for its constants, or an equation of motion; of anything else a place says as much
as its moment does.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from derive.notation.lists.vocabulary import PROSE, STARTS
from derive.notation.names import canonical
from derive.notation.tree import (
    Both,
    Claim,
    Derivative,
    Expr,
    Name,
    Num,
    Relation,
    Statement,
    Value,
    is_zero,
    names_in,
)
from derive.records import Standing
from derive.states.context import given_by_time, tied_names
from derive.states.said import Source, everywhere
from derive.states.setting import Setting
from derive.terms.term import Var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.where import said_at_instant

_AT_REST = re.compile(r"\b((from|at) rest|(no|without|zero) (speed|velocity)|released?|let go)\b")
_FROM = re.compile(r"\b(?:from|to|by|at) (\w+)", re.IGNORECASE)
_WITH_SPEED = re.compile(r"\bwith (?:speed|velocity) (\w+)")
_AT_FIRST = Relation((Name(TIME), Num(Fraction(0))), ("=",))


def at_its_start(statement: Statement, setting: Setting, source: Source) -> tuple[Statement, Setting, Source]:
    """`starts from rest at x = d: C = d, D = 0` below `x = C cos ωt + D sin ωt`: x and x' at t = 0, and what they make
    of the constants."""
    begun = _told_of_the_first(statement, setting) or _with_the_rate(statement, setting)
    if begun is not None:
        return begun, setting, source
    words = source.typed.lower()
    placed = _places_at_first(statement.claim) if _AT_REST.search(words) else []
    if placed:
        return statement, _knowing(_rates(placed, words, setting), setting, source), source
    if statement.role not in ("at", "claim", "let", "suppose") or not (
            STARTS.search(words) or (_AT_REST.search(words) and _fixes_constants(statement.claim, setting))):
        return statement, setting, source
    statement, setting = _seen_to_go(statement, setting)
    bare = statement.claim is None or statement.claim == statement.where
    claim = None if bare and statement.role == "at" else _of_the_rate(statement.claim, setting)
    where = _of_the_rate(statement.where, setting)
    first = _place_named(claim, source.typed, setting) if where is None else _values(where, setting)
    if first is None:
        return statement, setting, source
    here = (_values(claim, setting) if claim is not None else None) or []
    said = claim if here else first[-1] if first and claim is None else None
    rates = _rates([*first, *here], words, setting)
    setting = _knowing([*(v for v in first if v is not said), *rates], setting, source)
    if said is not None:
        return replace(statement, role="at", where=_AT_FIRST, claim=said), setting, source
    if not first:
        return statement, setting, source
    return replace(statement, role="claim", where=None), setting, replace(source, words="")  # the words have been heard


def _seen_to_go(statement: Statement, setting: Setting) -> tuple[Statement, Setting]:
    """`initially ω = ω0, v = 0`, `started with ω0 and v = 0` above `m dv/dt = μ m g`: what a line below asks the rate
    of goes on from there."""
    claim = statement.claim
    if isinstance(claim, Both):  # the ω0 of `with ω0 and v = 0` is no nothing
        told = tuple(_as_a_start(p, setting) if isinstance(p, Relation) else p for p in claim.parts)
        statement = replace(statement, claim=replace(claim, parts=told)) if told != claim.parts else statement
    both = (statement.claim, statement.where)
    said = [p for part in both for p in (part.parts if isinstance(part, Both) else (part,))]
    subjects = {_subject(p.sides[0]) for p in said if isinstance(p, Relation) and p.signs == ("=",)}
    new = (subjects & setting.rated) - tied_names(setting.context)
    return statement, everywhere(setting, lambda c: c.knowing(replace(c.world, moving=c.world.moving | new)))


def _as_a_start(part: Relation, setting: Setting) -> Relation:
    stem, _, index = _subject(part.sides[0]).partition("_")
    begun = index == "0" and stem in setting.rated and part.signs == ("=",) and is_zero(part.sides[1])
    return replace(part, sides=(Name(stem), part.sides[0])) if begun else part


def _told_of_the_first(statement: Statement, setting: Setting) -> Statement | None:
    """`v(0) = 0` below `½ m v² = P t + C`, which leaves open how the motion starts: said of t = 0, where what comes
    before the integral may have no value."""
    claim = statement.claim
    told = _places_at_first(claim) if statement.role == "claim" and isinstance(claim, Relation) else []
    world = setting.context.world
    if not told or _subject(told[0].sides[0]) not in _left_open(setting) - world.functions.keys():
        return None
    (value,) = told
    beside = {*names_in(replace(value, sides=value.sides[1:], signs=()))}
    if beside & world.constants or any(world.is_changing(Var(n)) for n in beside):
        return None
    return replace(statement, role="at", where=_AT_FIRST, claim=value)


def _with_the_rate(statement: Statement, setting: Setting) -> Statement | None:
    """`at t = 0: x = x0, v = v0` and `v(0) = v0` where x alone has an equation of motion: x' is v0 then."""
    if statement.role == "at" and statement.where == _AT_FIRST and statement.claim is not None:
        claim = _of_the_rate(statement.claim, setting)
        return replace(statement, claim=claim) if claim != statement.claim else None
    told = _places_at_first(statement.claim) if statement.role == "claim" else []
    rates = [_of_the_rate(t, setting) for t in told]
    if len(rates) != 1 or rates == told:
        return None
    return replace(statement, role="at", where=_AT_FIRST, claim=rates[0])


def _left_open(setting: Setting) -> set[str]:
    """What moves in a relation that holds a constant of integration and t."""
    world = setting.context.world
    there = [{*variables(p.term)} for p in setting.context.premises if p.sign == "=" and p.always]
    return {
        v.name for here in there if Var(TIME) in here and any(u.name in world.constants for u in here)
        for v in here if v != Var(TIME) and not (v.order or v.at) and world.is_changing(v)}


def _fixes_constants(claim: Claim | None, setting: Setting) -> bool:
    """`at rest at x = 0: A = -X, B = 0` below `x = X cos Ωt + A cos ωt + B sin ωt`: of the start, which fixes them."""
    parts = claim.parts if isinstance(claim, Both) else (claim,)
    constants = {v.name for course in setting.context.world.functions.values() for v in variables(course)}
    constants &= setting.context.world.constants
    return bool(constants) and all(
        isinstance(p, Relation) and isinstance(p.sides[0], Name) and p.sides[0].ident in constants for p in parts)


def _knowing(values: list[Relation], setting: Setting, source: Source) -> Setting:
    """With values at t = 0, as far as they can be."""
    for value in values:
        verdicts, after = said_at_instant(Statement("at", value, where=_AT_FIRST), setting, source)
        if all(v.standing in (Standing.TAKEN, Standing.FOLLOWS) for v in verdicts):
            setting = after
    return setting


def _places_at_first(claim: Claim | None) -> list[Relation]:
    """The places told of by `x1(0) = A, x2(0) = 0, both at rest`."""
    parts = claim.parts if isinstance(claim, Both) else (claim,)
    found = [
        replace(p, sides=(p.sides[0].function, *p.sides[1:])) for p in parts
        if isinstance(p, Relation) and p.signs == ("=",) and isinstance(p.sides[0], Value)
        and isinstance(p.sides[0].function, Name) and len(p.sides[0].args) == 1 and is_zero(p.sides[0].args[0])]
    return found if len(found) == len(parts) else []


def _of_the_rate(claim: Claim | None, setting: Setting) -> Claim | None:
    """`x = A, v = 0` where only x moves and nobody has said what v is: v is its rate."""
    if isinstance(claim, Both):
        return replace(claim, parts=tuple(_of_the_rate(p, setting) or p for p in claim.parts))
    swinging = _swinging(setting)
    if not isinstance(claim, Relation) or claim.sides[0] not in (Name("v"), Name("ω")) or len(swinging) != 1:
        return claim
    if claim.sides[0].ident in tied_names(setting.context):
        return claim
    return replace(claim, sides=(Derivative(Name(min(swinging)), Name(TIME)), *claim.sides[1:]))


def _values(claim: Claim | None, setting: Setting) -> list[Relation] | None:
    """The parts of a claim, where each is a value of something that moves as is known, or of its rate; None else."""
    parts = claim.parts if isinstance(claim, Both) else (claim,)
    found = [p for p in parts if isinstance(p, Relation) and _is_value(p, setting)]
    return found if len(found) == len(parts) else None


def _is_value(claim: Relation, setting: Setting) -> bool:
    world = setting.context.world
    changing = any(n == TIME or world.is_changing(Var(n)) for n in names_in(replace(claim, sides=claim.sides[1:])))
    moving = world.functions.keys() | _swinging(setting) | (setting.rated & world.moving)
    return claim.signs == ("=",) and _subject(claim.sides[0]) in moving and not changing


def _swinging(setting: Setting) -> set[str]:
    """What an equation of motion says the second derivative of."""
    return {v.name for p in setting.context.premises for v in variables(p.term) if v.order > 1 and v.wrt == TIME}


def _place_named(claim: Claim | None, typed: str, setting: Setting) -> list[Relation]:
    """`released from y0 at rest: y = y0 cos ω t`, where the line goes on with what the words name, and `starts from A
    with v = 0`, where it tells the rate there."""
    swinging = _swinging(setting)
    if not isinstance(claim, Relation) or _subject(claim.sides[0]) not in swinging or len(swinging) != 1:
        return []
    named = {canonical(w) for w in _FROM.findall(typed) if w not in PROSE} - swinging
    if not isinstance(claim.sides[0], Derivative):
        named &= {*names_in(replace(claim, sides=claim.sides[1:]))}
    return [Relation((Name(min(swinging)), Name(min(named))), ("=",))] if len(named) == 1 else []


def _subject(side: Expr) -> str:
    body = side.body if isinstance(side, Derivative) and not side.partial else side
    return body.ident if isinstance(body, Name) else ""


def _speeds(setting: Setting) -> list[str]:
    """The one speed whose course is known, for `starts from rest so C = 0` below `v = 6 t - t² + C` or
    `½ m v² = P t + C`."""
    known = {v.name for v in given_by_time(setting.context)} | setting.context.world.functions.keys() | _left_open(
        setting)
    found = sorted(n for n in known if n in ("v", "ω"))
    return found if len(found) == 1 else []


def _rates(told: list[Relation], words: str, setting: Setting) -> list[Relation]:
    """What the words say of the speed of the one thing that swings, unless its rate is told beside them."""
    swings = _swinging(setting)
    if not swings and not told and _AT_REST.search(words):
        return [Relation((Name(n), Num(Fraction(0))), ("=",)) for n in _speeds(setting)]
    places = {_subject(r.sides[0]) for r in told} or (swings & setting.context.world.functions.keys())
    if not places or not places <= swings or any(isinstance(r.sides[0], Derivative) for r in told):
        return []
    rates = [Derivative(Name(place), Name(TIME)) for place in sorted(places)]
    speed = _WITH_SPEED.search(words)
    if len(rates) == 1 and speed is not None and speed.group(1) not in PROSE:
        return [Relation((rates[0], Name(canonical(speed.group(1)))), ("=",))]
    still = _AT_REST.search(words) and (told or len(rates) == 1)
    return [Relation((rate, Num(Fraction(0))), ("=",)) for rate in rates] if still else []


def past_the_start(statement: Statement, source: Source) -> Statement:
    """`first turning point after t = 0: ω t = π` is not said of t = 0."""
    past = source.words.lower().split()[-1:] == ["after"] and statement.where == _AT_FIRST
    timed = statement.claim is not None and TIME in names_in(statement.claim)
    return replace(statement, role="claim", where=None) if past and timed else statement
