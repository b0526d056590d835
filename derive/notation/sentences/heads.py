"""Statements that only say under what the rest of their line is said: a case, values, an instant, what runs off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import takewhile

from derive.notation.lists.vocabulary import GIVING
from derive.notation.names import TIME, Scope
from derive.notation.tree import (
    Both,
    Claim,
    Constant,
    Derivative,
    Either,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    Sum,
    Unit,
    Value,
    is_zero,
    names_in,
    walk,
)


def headed(out: list[Statement], scope: Scope) -> tuple[Statement, ...]:
    """The statements of a line, with what stands at its head as what the others are said under."""
    listed = _at_listed_heads(_for_values(_cases(_with_values_worked_out(out), scope), scope), scope)
    return tuple(_at_each(_limits_with_bare_heads(_at_bare_heads(listed, scope))))


def _at_each(out: Iterable[Statement]) -> Iterator[Statement]:
    """`v = 0 when t = 0 or t = 8/3`, `at x = a and x = -a: v = 0`: it is said of each of them."""
    for s in out:
        places = s.where.parts if s.role == "at" and s.claim not in (None, s.where) and isinstance(
            s.where, Either | Both) else ()
        named = {p.sides[0] for p in places if isinstance(p, Relation) and p.signs == ("=",)}
        each = len(named) == 1 and all(isinstance(n, Name) or TIME in names_in(n) for n in named) and all(
            isinstance(p, Relation) and p.signs == ("=",) for p in places)
        yield from (replace(s, where=p) for p in places) if each else (s,)


def _with_values_worked_out(out: list[Statement]) -> list[Statement]:
    """`N = 5 N when cos θ = 5/7.36 = 0.68`: what a condition gives is its first number; that the number comes to the
    next is a claim of its own."""
    found: list[Statement] = []
    for s in out:
        where = s.where
        chain = isinstance(where, Relation) and len(where.sides) > 2 and set(where.signs) <= {"=", "≈"}
        if not chain or not isinstance(where, Relation) or any(names_in(side) for side in where.sides[1:]):
            found.append(s)
            continue
        found.append(replace(s, where=replace(where, sides=where.sides[:2], signs=where.signs[:1])))
        found.append(Statement("claim", replace(where, sides=where.sides[1:], signs=where.signs[1:]), span=where.span))
    return found


ARROWS = frozenset(("→", "⇒", "=>", "->", "⟹"))


def _cases(out: list[Statement], scope: Scope) -> list[Statement]:
    """`v = 0 gives u = w`: the first statement opens a case; so does `F = 0 → r = …` where F goes along with r,
    or was declared, or can be nothing in several ways."""
    if len(out) > 1 and out[1].word.strip() in ARROWS and out[0].role == "claim" and (
            _name_is_number(out[0].claim) or _comes_by(out[0].claim, out[1:], scope)):
        known = [n for n in names_in(out[0].claim) if scope.knows(n)]
        changing = [n for n in known if scope.quick and scope.variable_of(n) is not None]
        nothing = isinstance(out[0].claim, Relation) and is_zero(out[0].claim.sides[1])
        if changing or (known and nothing and (not scope.quick or isinstance(out[1].claim, Either))):
            return [replace(out[0], role="suppose"), *out[1:]]
    for at in range(len(out) - 1):
        here, following = out[at], out[at + 1]
        if at == 0 and following.word.lower().split()[-1:] and following.word.lower().split()[-1] in GIVING \
                and here.role == "claim" and (_name_is_number(here.claim) or _names_agree(here.claim)):
            out[at] = replace(here, role="suppose")
    return out


def _for_values(out: list[Statement], scope: Scope) -> list[Statement]:
    """`check: θ = 45°, μ = 0.5: u/v = 0.58`, `if θ = 45° and μ = 0.5 then …` where names are declared: values for
    which the rest is said."""
    first = next((k for k, s in enumerate(out) if k and _draws(s.word)), len(out))
    head = [] if scope.quick else list(takewhile(lambda s: all(_is_case(p, scope) for p in _parts(s)), out[:first]))
    if head and first < len(out) and all(_is_share(p, scope) for s in out[len(head):first] for p in _parts(s)):
        head = out[:first]  # `with W = 600 N, x = L/4: …`
    values = tuple(dict.fromkeys(p for s in head for p in _parts(s)))
    rest = out[len(head):]
    if not values or not rest or not (len(values) > 1 or head[0].role == "let"):
        return out
    if all(s.role == "claim" for s in head) and not _draws(rest[0].word):
        return out
    where = Both(values, span=out[0].span) if len(values) > 1 else values[0]
    return [replace(s, role="suppose", where=where) if s.role in ("claim", "at") else s for s in rest]


def _draws(word: str) -> bool:
    return word.endswith(":") or word.lower() in GIVING


def _parts(s: Statement) -> list[Claim]:
    """What a statement claims and the conditions it stands under, one by one."""
    return [p for c in (s.where, s.claim) if c is not None for p in (c.parts if isinstance(c, Both) else (c,))]


def _at_bare_heads(out: list[Statement], scope: Scope) -> list[Statement]:
    """`t = 0, v = 0: C = …` without an "at": the first condition names the instant, the rest is said of it."""
    colon = next((k for k, s in enumerate(out) if k and s.word.endswith(":")), 0)
    head = out[:colon]
    if _stays_there(head, scope):
        there = Both(tuple(s.claim for s in head if s.claim is not None), span=head[0].span)
        return [replace(s, role="suppose", where=there) if s.role == "claim" else s for s in out[colon:]]
    named = bool(head) and (
        _name_is_number(head[0].claim, scope) or _rests_there(head[0].claim, out[colon:], scope)
        or _tells_a_moment(head[0].claim, out[colon:], scope) or (
            len(head) == 1 and _comes_by(head[0].claim, out[colon:], scope)))
    if not named or not all(s.role == "claim" and state_value(s.claim) for s in head):
        return out
    where = head[0].claim
    return [replace(s, role="at", where=where) if s.role == "claim" else s for s in out[1:]]


def _stays_there(head: list[Statement], scope: Scope) -> bool:
    """`r = r0, r'' = 0: …`: what moves is at a place, and a rate of it is nothing there."""
    claims = [s.claim for s in head if s.role == "claim" and isinstance(s.claim, Relation)]
    if len(claims) < 2 or len(claims) < len(head) or not _value_of_what_changes(claims[0], scope):
        return False
    rates = [c.sides[0] for c in claims[1:] if c.signs == ("=",) and is_zero(c.sides[1])]
    return len(rates) == len(claims) - 1 and all(
        isinstance(r, Derivative) and r.body == claims[0].sides[0] for r in rates)


def _tells_a_moment(claim: Claim | None, said: list[Statement], scope: Scope) -> bool:
    """`t = 5 s: N = N0/2`, `t = τ: v = u/2` of what goes with time."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or claim.sides[0] != Name(TIME):
        return False
    told = isinstance(claim.sides[1], Name) or not names_in(claim.sides[1])
    first = said[0].claim.sides[0] if said and isinstance(said[0].claim, Relation) else None
    return told and isinstance(first, Name) and scope.variable_of(first.ident) == TIME


def _comes_by(claim: Claim | None, said: list[Statement], scope: Scope) -> bool:
    """`y = 15 m: t = 0.99 s`, `v = 5 m/s: y = 12 m` of what goes with time: what is so when it is there."""
    given = said[0].claim.parts[0] if said and isinstance(said[0].claim, Either) else said[0].claim if said else None
    first = given.sides[0] if isinstance(given, Relation) else None
    name = claim.sides[0] if isinstance(claim, Relation) else None
    return isinstance(name, Name) and scope.variable_of(name.ident) == TIME and isinstance(first, Name) and (
        first != name and TIME in (first.ident, scope.variable_of(first.ident))) and _value_of_what_changes(
        claim, scope)


def _rests_there(claim: Claim | None, said: list[Statement], scope: Scope) -> bool:
    """`θ = θ0: θ'' = 0`: the place of an equilibrium, of a turning point."""
    name = claim.sides[0] if isinstance(claim, Relation) else None
    if not _value_of_what_changes(claim, scope):
        return False
    rates = [s.claim.sides[0] for s in said if isinstance(s.claim, Relation) and is_zero(s.claim.sides[-1])]
    return len(rates) == len(said) and all(isinstance(r, Derivative) and r.body == name for r in rates)


def _at_listed_heads(out: list[Statement], scope: Scope) -> list[Statement]:
    """`x = A, v = 0 ⇒ C = ½ k A²`: several values of what goes along together name an instant, if something is drawn
    from them."""
    drawn = next((k for k, s in enumerate(out) if k and _draws_on(s.word)), 0)
    head = out[:drawn]
    values = [s.claim for s in head if s.role == "claim" and _value_of_what_changes(s.claim, scope)]
    if len(head) < 2 or len(values) < len(head) or any(s.role != "claim" for s in out):
        return out
    where = max(values, key=lambda c: _runs(c, scope))
    return [replace(s, role="at", where=where) for s in out if s.claim is not where]


def _runs(claim: Claim | None, scope: Scope) -> int:
    """How far the others are functions of what a value is said of."""
    names = names_in(claim)[:1] if claim is not None else ()
    return sum(2 if n == TIME else n in scope.functions.values() for n in names)


def _draws_on(word: str) -> bool:
    said = word.lower().split()
    return word.strip() in ARROWS or word.endswith(":") or bool(said and said[-1] in (*GIVING, "so"))


def _value_of_what_changes(claim: Claim | None, scope: Scope) -> bool:
    """`v = 0`, `x = A`, `x = -A`: a name that goes along, and one that does not or a number."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or claim.carries_on:
        return False
    name, value = claim.sides
    value = value.arg if isinstance(value, Neg) else value
    if not isinstance(name, Name) or not _changes(name, scope):
        return False
    number = isinstance(value, Num) or (isinstance(value, Product) and all(
        isinstance(n, Num | Unit | Product | Quotient | Power) for n in walk(value)))
    return number or (isinstance(value, Name) and not _changes(value, scope))


def _changes(name: Name, scope: Scope) -> bool:
    return scope.variable_of(name.ident) is not None or name.ident in scope.functions.values()


def _is_case(claim: Claim | None, scope: Scope) -> bool:
    """Is a value one that a constant may have, and no instant or place?"""
    named = claim.sides[0] if isinstance(claim, Relation) else None
    return _name_is_number(claim, scope) and isinstance(named, Name) and scope.knows(named.ident) and (
        named.ident != TIME and scope.variable_of(named.ident) is None)


def _is_share(claim: Claim | None, scope: Scope) -> bool:
    """`x = L/4`: one constant as a multiple of another."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or claim.carries_on or len(names_in(claim)) != 2:
        return False
    return all(isinstance(n, Name | Num | Product | Quotient) for side in claim.sides for n in walk(side)) and all(
        scope.knows(n) and n != TIME and scope.variable_of(n) is None for n in names_in(claim))


def _limits_with_bare_heads(out: list[Statement]) -> list[Statement]:
    """`m → ∞: T → 2 m g`, `t → ∞, v → u`: what runs off or stands before a colon is what the rest is said of."""
    opens = bool(out) and (out[0].role == "limit" or (out[0].role == "suppose" and _replaces(out[0].claim)))
    if len(out) < 2 or not opens or out[0].where is not None or out[0].claim is None:
        return out
    if not (out[1].word.endswith(":") or _runs_off(out[0].claim) or _replaces(out[0].claim)):
        if out[-1].role == "limit" and out[-1].where is None and _runs_off(out[-1].claim):
            return _limits_with_bare_heads([out[-1], *out[:-1]])  # v → u, t → ∞
        return out
    where = out[0].claim
    rest = [replace(s, role="limit", where=where) if s.role in ("claim", "limit") else s for s in out[1:]]
    return [replace(rest[0], word=out[0].word), *rest[1:]]


def _runs_off(claim: Claim | None) -> bool:
    return isinstance(claim, Relation) and isinstance(claim.sides[0], Name) and claim.sides[-1] == Constant("∞")


def _replaces(claim: Claim | None) -> bool:
    """`h → 2h`: a name is replaced by a term of itself."""
    return isinstance(claim, Relation) and claim.signs == ("→",) and isinstance(claim.sides[0], Name) and (
        claim.sides[0].ident in names_in(replace(claim, sides=claim.sides[1:], signs=())))


def _names_agree(claim: Claim | None) -> bool:
    """`v = u`, `v = -u`, `v - u = 0`: one name is another."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or claim.carries_on:
        return False
    left, right = claim.sides[:2]
    names = left.terms if isinstance(left, Sum) and is_zero(right) else claim.sides
    return len(names) == 2 and isinstance(names[0], Name) and all(
        isinstance(n.arg if isinstance(n, Neg) else n, Name) for n in names)


def _name_is_number(claim: Claim | None, scope: Scope | None = None) -> bool:
    """`v = 0`; with a scope also `θ = 90°`, and among declared names `β = 1/2`, `m = 2 kg`: on a quick page that is how
    the values come in that all the lines below rest on."""
    if not isinstance(claim, Relation) or claim.signs != ("=",) or claim.carries_on:
        return False
    name, number = claim.sides
    if not isinstance(name, Name | Derivative):
        return False
    if isinstance(number, Num | Constant) or (scope is not None and number in _RIGHT_ANGLES):
        return True
    return scope is not None and not scope.quick and all(
        isinstance(n, Num | Constant | Unit | Neg | Product | Quotient | Power) for n in walk(number))


_RIGHT_ANGLES = (
    *(Product((Num(Fraction(n)), Unit(u))) for n in (90, 180) for u in ("°", "deg")),
    Quotient(Constant("π"), Num(Fraction(2))))


def state_value(claim: Claim | None) -> bool:
    """`y = y0`, `y' = 0`: the value of a name or of a derivative, and not an equation of motion."""
    if not isinstance(claim, Relation) or claim.signs != ("=",):
        return False
    left = claim.sides[0]
    return isinstance(left, Name | Derivative | Value)
