"""Cases and limits that words name without a sign: `for equal masses`, `at half speed`, `far out`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from derive.notation.lists.word_lists import words
from derive.notation.names import canonical
from derive.notation.tree import (
    Both,
    Claim,
    Constant,
    Derivative,
    Either,
    Name,
    Num,
    Relation,
    Sum,
    Value,
    names_in,
    walk,
)
from derive.states.context import Context, given_by_time, tied_names
from derive.states.setting import Setting
from derive.states.sizes import ANGLES
from derive.terms.term import ZERO, Var, postorder, var, variables
from derive.terms.world import TIME
from derive.verdicts.in_words.amounts_told import amount_told
from derive.verdicts.in_words.dying_out import dies_in_part, dies_out
from derive.verdicts.in_words.going_along import where_together
from derive.verdicts.in_words.let_go import where_let_go
from derive.verdicts.in_words.nearest_told import where_nearest
from derive.verdicts.in_words.not_there import without
from derive.verdicts.in_words.shares import EQUAL, SHARES, changed_size, equal_sizes, share_left, share_of_the_start
from derive.verdicts.in_words.turns_told import turned
from derive.verdicts.in_words.zeros_told import kept_going, unaccelerated, where_it_vanishes

# Words for what comes to pass and goes by: what vanishes there does not vanish for good.
_MOMENTS = words("""
    terminal limiting top summit crest bottom lowest turning highest maximum maximal max greatest fastest minimum min
    least slowest peak apex equilibrium stop stops stopped
""")
# Words for one moment of many, or one place.
_WAYPOINTS = words("""
    closest nearest farthest furthest halfway way meet meets stops lands top highest lowest bottom back returns return
    landing ground hits
""")
# Where a flight ends, or crosses something.
_ARRIVING = words("lands landing land hits hit strikes meets meet impact splash crosses reaches slope ground where")

# What a motion settles to: nothing changes there any more.
_SETTLED = words("terminal limiting steady eventually finally ultimately settles settled transient transients")
_RESTING = words("equilibrium rests resting balance balanced")
_LONG = (("long", "after"), ("long", "time"), ("in", "end"), ("very", "late"))


def is_of_a_moment(said: str, claim: Claim, setting: Setting) -> bool:
    """`terminal: a = 0`, `at the top: v = 0`, where a and v are about and nobody has said that they stay. With givens a
    moving name that is nothing is a moment by itself (see steps/moments); what else says which one, words tell."""
    if not isinstance(claim, Relation) or claim.signs != ("=",):
        return False
    heard = said.lower().replace(",", " ").replace(":", " ").split()
    if setting.strict:
        share = "%" in said or not SHARES.keys().isdisjoint(heard)
        return ((share or not _WAYPOINTS.isdisjoint(heard)) and _singles_out(claim, setting)) or (
            not _ARRIVING.isdisjoint(heard) and _is_where_two_meet(claim, setting))
    named, value = claim.sides
    about = isinstance(named, Derivative) or (isinstance(named, Name) and named.ident in tied_names(setting.context))
    if about and isinstance(named, Name) and not SHARES.keys().isdisjoint(heard):
        return named.ident != TIME and setting.context.world.is_changing(Var(named.ident))  # `half: v = u/2`
    plain = value == Num(Fraction(0)) or (isinstance(named, Name) and named.ident in ANGLES and not names_in(value))
    return about and plain and not (_MOMENTS | _WAYPOINTS).isdisjoint(heard)


def _singles_out(claim: Relation, setting: Setting) -> bool:
    """`p·p' = 0`, `e^(-c t) = 1/2`: what changes, and no law of how, on one side, and a constant on the other."""
    world = setting.context.world
    changing = [
        any(world.is_changing(Var(n)) or n in (TIME, *world.fields.values())
            for n in names_in(replace(claim, sides=(side,), signs=())))
        for side in claim.sides]
    if any(isinstance(n, Value) or (isinstance(n, Derivative) and n.order > 1) for n in walk(claim)):
        return False  # said of an instant already, or a law
    new = set(names_in(claim)) - tied_names(setting.context) - {TIME, *world.symbols}
    return sum(changing) == 1 and not new and not isinstance(claim.sides[0], Name)


def _is_where_two_meet(claim: Relation, setting: Setting) -> bool:
    """`it lands where y = x tan β` of x and y by the time: what changes stands on both sides, and both go their way."""
    known = tied_names(setting.context) | setting.context.world.symbols.keys()  # β, which only the slope speaks of
    changing = {v.name for v in given_by_time(setting.context)} | setting.context.world.moving
    sides = [set(names_in(replace(claim, sides=(side,), signs=()))) for side in claim.sides]
    plain = not any(isinstance(n, Sum | Derivative | Value) for n in walk(claim))
    return plain and all(s & changing and s <= known and TIME not in s for s in sides)


def spoken_case(heard: str, claim: Claim | None, setting: Setting) -> Claim | None:
    """The case that words name without a sign; None where they name none, or not clearly."""
    typed = heard.replace(",", " ").replace(":", " ").split()
    said = heard.lower().replace(",", " ").replace(":", " ").split()
    if "equal" in said and not EQUAL.keys().isdisjoint(said):
        return equal_sizes(said, setting)
    named = _place_by_its_name(said, claim, setting) or without(said, claim, setting)
    if named is not None:
        return named
    for heard_as in (turned, where_it_vanishes, _stopping, _turning, _settled, _resting, _at_rest, _balanced,
                     unaccelerated, kept_going, where_nearest, where_let_go,
                     where_together):
        settled = heard_as(said, claim, setting)
        if settled is not None:
            return settled
    mode = _mode(said, claim, setting) or share_left(said, claim, setting)
    if mode is not None:
        return mode
    changed = _staying(typed, claim, setting) or changed_size(typed, claim, setting) or amount_told(
        typed, claim, setting)
    if changed is not None:
        return changed
    # `after t = (m/b) ln 2 the speed is halved` says the moment, and what holds then.
    return None if "after" in said else share_of_the_start(said, setting)


_AT_REST = words("equilibrium at in for position positions the so it is condition point points")


def _at_rest(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`equilibrium: k x = b x²` of what moves as an equation above says: nothing does there."""
    if claim is None or not {*said} <= _AT_REST or "equilibrium" not in said:
        return None
    context = setting.context
    moving = sorted({v.name for p in context.premises for v in variables(p.term) if v.order == 2 and v.wrt == TIME})
    own = names_in(claim)
    rates = any(isinstance(n, Derivative) for n in walk(claim))
    if rates or not set(moving) & set(own) or not set(own) <= tied_names(context):
        return None
    still = tuple(
        Relation((Derivative(Name(n), Name(TIME), k), Num(Fraction(0))), ("=",)) for n in moving for k in (2, 1))
    return Both(still)


def _balanced(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`equilibrium: x = 0 or x = k/(3 b)` where a U goes along x: its slope is nothing there."""
    claims = claim.parts if isinstance(claim, Either) else (claim,)
    first = claims[0].sides[0] if isinstance(claims[0], Relation) else None
    if "equilibrium" not in said or not isinstance(first, Name) or not all(
            isinstance(c, Relation) and c.sides[0] == first for c in claims):
        return None
    fields = [n for n, by in setting.context.world.fields.items() if by == first.ident and n.partition("_")[0] in "UV"]
    if len(fields) != 1:
        return None
    return Relation((Derivative(Name(fields[0]), first), Num(Fraction(0))), ("=",))


def _settled(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`steady state: v = F/b`, `in the end v = m g/c`: what an equation of motion gives the rate of changes no more;
    and a new v_T is what it is then. `top speed: F = D` below `m a = F - D`: nothing speeds up there."""
    heard = [w for w in said if w not in ("the", "a")]
    long = any(all(w in heard for w in pair) for pair in _LONG)
    if _SETTLED.isdisjoint(heard) and not long and not is_of_top_speed(heard):
        return None
    if _dies_out_along(claim, setting):
        return None  # it is never quite reached: a limit
    return _still(claim, 1, setting) or _without_acceleration(claim, setting)


_STEADY = words("constant const steady uniform")


def _staying(typed: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`v constant: F = q v`, `at constant v`, below `F = m dv/dt + v dm/dt`: it does not change there."""
    known = tied_names(setting.context)
    typed = [_meant_by(w, setting) for w in typed]
    names = [canonical(w) for w in typed if canonical(w) in known]
    named = len(names) == 1 and {*typed} <= {*_STEADY, names[0], *_BESIDE_IT}
    if not named or _STEADY.isdisjoint(typed) or claim is None or any(isinstance(n, Derivative) for n in walk(claim)):
        return None
    (name,) = names
    rate = Var(name, 1, TIME)
    told = any(rate in variables(p.term) for p in setting.context.premises)
    return Relation((Derivative(Name(name), Name(TIME), 1), Num(Fraction(0))), ("=",)) if told else None


_BESIDE_IT = words("a the at for if when with is stays needs requires moves")


def _meant_by(word: str, setting: Setting) -> str:
    """The v of `constant speed: F = q v`, where that alone has a rate."""
    if word.lower() not in ("speed", "velocity"):
        return word
    rated = {v.name for p in setting.context.premises for v in variables(p.term) if v.order == 1 and v.wrt == TIME}
    speeds = [n for n in rated if n.partition("_")[0] in ("v", "V", "u")]
    return speeds[0] if len(speeds) == 1 else word


_TOP = words("top maximum max maximal greatest highest largest")


def is_of_top_speed(heard: Sequence[str]) -> bool:
    """`top speed`, `terminal velocity`, `max. speed when`."""
    small = [w.strip(".,:") for w in heard]
    return any(one in _TOP | _SETTLED and other in ("speed", "velocity") for one, other in pairwise(small))


def _without_acceleration(claim: Claim | None, setting: Setting) -> Claim | None:
    """a = 0, where a is about by that name alone and the claim does not speak of it."""
    context = setting.context
    about = [n for n in tied_names(context) if n.partition("_")[0] == "a"]
    if about != ["a"] or not isinstance(claim, Relation) or set(claim.signs) != {"="} or "a" in names_in(claim):
        return None
    said = (variables(context.world.seen_through(p.term)) for p in context.premises if p.sign == "=")
    hangs_on_speed = any({Var("a"), Var("v")} <= set(here) for here in said)
    kept = variables(context.world.seen_through(var(Var("a"))))
    return Relation((Name("a"), Num(Fraction(0))), ("=",)) if hangs_on_speed or Var("v") in kept else None


_STOPPING = words("stops stopped stopping halts rises climbs")
_SPEEDS = "vωΩ"
_PLACES = frozenset("xyzsrhdθφ")


def moment_of_stopping(heard: str, claim: Claim | None, setting: Setting) -> Claim | None:
    """`stops when t1 = I ω0/(μ N R)`: what vanishes at the moment that a new name is given to; None for any other."""
    name = claim.sides[0].ident if isinstance(claim, Relation) and isinstance(claim.sides[0], Name) else ""
    if name.partition("_")[0] not in _TIMES or name == TIME or name in tied_names(setting.context):
        return None
    return _stopping(heard.lower().replace(",", " ").replace(":", " ").split(), claim, setting)


_TIMES = ("t", "T", "τ")


def _stopping(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`comes to rest again: x² = 3 d² (1 - b/F0)`, `stops: t = u/a`: where the speed that changes, the only one, is
    nothing. What is said of the speed itself says so on its own."""
    resting = "rest" in said and not {"comes", "come", "came", "coming"}.isdisjoint(said)
    if not (resting or not _STOPPING.isdisjoint(said)) or not isinstance(claim, Relation) or claim.signs != ("=",):
        return None
    speeds = _speeds(claim, setting.context)
    if len(speeds) != 1 or speeds[0] in names_in(claim) or any(isinstance(n, Derivative | Value) for n in walk(claim)):
        return None
    if dies_out(speeds[0], setting):
        return None
    return Relation((Name(speeds[0]), Num(Fraction(0))), ("=",))


def _speeds(claim: Relation, context: Context) -> list[str]:
    """The speeds that change; where nothing does in time, that of `v² = u² - 2 μ g x` beside a claim on x."""
    tied, world = tied_names(context), context.world
    changing = [n for n in tied if n[:1] in _SPEEDS and world.is_changing(Var(n))]
    if changing or world.moving:
        return changing
    place = next(iter(names_in(claim)), "")
    goes_with = {v.name for p in context.premises if p.sign == "=" and Var(place) in variables(p.term)
                 for v in variables(p.term)}
    return sorted(n for n in goes_with if n in _SPEEDS) if place in _PLACES else []


_TURNING = words("turning turns closest nearest farthest furthest")


def _turning(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`turning points: E r² + k r - L²/(2m) = 0`: a relation of the one place whose rate is about, where that is
    nothing."""
    if _TURNING.isdisjoint(said) or not isinstance(claim, Relation) or claim.signs != ("=",) or any(
            isinstance(n, Derivative | Value) for n in walk(claim)) or isinstance(claim.sides[0], Name):
        return None
    rates = {v.name for p in setting.context.premises for v in variables(p.term) if v.order == 1 and v.wrt == TIME}
    places = [n for n in dict.fromkeys(names_in(claim)) if n in rates and n in _PLACES]
    if len(places) != 1:
        return None
    return Relation((Derivative(Name(places[0]), Name(TIME), 1), Num(Fraction(0))), ("=",))


def _resting(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`equilibrium: r0 = k a/(k - m ω²)`, `at rest in r0: r0 = …`: where the equation of motion for r, the only thing
    that moves in it, leaves it at rest."""
    if _RESTING.isdisjoint(said) and not ("at" in said and "rest" in said):
        return None
    moves = {v.name for p in setting.context.premises for v in variables(p.term) if v.order and v.wrt == TIME}
    return _still(claim, 2, setting) if len(moves) == 1 else None


def _still(claim: Claim | None, order: int, setting: Setting) -> Claim | None:
    """That what a claim gives a value changes no more, its rates up to an order; where a new name is given the value,
    as r0 is, that this is what it names of r. (`k y0 = m g` gives one to y0, `tan θ = F/(m g)` to θ.)"""
    claims = claim.parts if isinstance(claim, Either) else (claim,)
    if claim is None or not all(isinstance(c, Relation) and c.signs[0] in ("=", "≈") for c in claims) or any(
            isinstance(n, Derivative) for n in walk(claim)):
        return None
    highest: dict[str, int] = {}
    along: dict[str, str] = {}  # what a quantity goes with: the time, or the way that a speed is given along
    fields = setting.context.world.fields if order == 1 else {}
    for v in (v for p in setting.context.premises for v in variables(p.term) if v.order):
        if v.wrt in (TIME, fields.get(v.name)):
            highest[v.name] = max(v.order, highest.get(v.name, 0))
            along[v.name] = v.wrt
    first, tied = claim.sides[0] if isinstance(claim, Relation) else None, tied_names(setting.context)
    new = [n for n in dict.fromkeys(names_in(claim)) if "_" in n and n not in tied and n.split("_")[0] in highest]
    names = [first.ident] if isinstance(first, Name) else new or dict.fromkeys(names_in(claim))
    asked = [n for n in names if highest.get(n.split("_")[0]) == order]
    if len(asked) != 1:
        return None
    (name,) = asked
    stem = name.partition("_")[0]
    if stem in setting.context.world.functions:
        return None
    rates = tuple(
        Relation((Derivative(Name(stem), Name(along[stem]), k), Num(Fraction(0))), ("=",)) for k in range(1, order + 1))
    if name == stem:
        return rates[0] if order == 1 else Both(rates)
    fresh = name not in tied
    return Both((*rates, Relation((Name(stem), Name(name)), ("=",)))) if fresh else None


_ORDINALS = {"first": "1", "1": "1", "second": "2", "2": "2", "third": "3", "3": "3"}


def _mode(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`second mode: A = -B` below `ω2² = …`, where a trial swings at ω: it does so at ω2."""
    which = next((_ORDINALS[w] for w in said if w in _ORDINALS), "") if "mode" in said else ""
    tied, courses = tied_names(setting.context), setting.context.world.functions.values()
    rates = sorted({v.name for f in courses for v in variables(f)} & _RATES)
    if not which or not isinstance(claim, Relation) or len(rates) != 1 or f"{rates[0]}_{which}" not in tied:
        return None
    return Relation((Name(rates[0]), Name(f"{rates[0]}_{which}")), ("=",))


_RATES = frozenset(("ω", "Ω", "w", "p", "s", "λ"))
_LATE = words("late later eventually finally ultimately")
_FAR = (("far", "out"), ("far", "away"), ("large", "distance"), ("large", "distances"))
_LONG_TIMES = (*_LONG, ("long", "times"), ("large", "times"))


def spoken_limit(heard: str, claim: Claim | None, setting: Setting) -> Relation | None:
    """`late: v = u`, `far out v ≈ b c t`: the time, or what the first side of the claim goes with, runs beyond all
    bounds."""
    small = [w for w in heard.lower().replace(",", " ").replace(":", " ").split() if w not in ("the", "a")]
    context = setting.context
    timely = not _LATE.isdisjoint(small) or any(all(w in small for w in pair) for pair in _LONG_TIMES)
    far = any(all(w in small for w in pair) for pair in _FAR)
    first = claim.sides[0] if isinstance(claim, Relation) else None
    along = context.world.variable_of(first.ident) if isinstance(first, Name) else ""
    by_time = first is not None and Var(TIME) in variables(*(p.term for p in context.premises))
    if timely and by_time:
        return _beyond(TIME)
    settles = _dies_out_along(claim, setting) if not _SETTLED.isdisjoint(small) else ""
    if settles:
        return _beyond(settles)
    return _beyond(along or TIME) if far and (along or by_time) else None


def _dies_out_along(claim: Claim | None, setting: Setting) -> str:
    """What a quantity at the head of a claim settles along, by a line that says how it goes: t in `v = (m g/k) (1 -
    e^(-k t/m))`, x in `v² = (m g/k) (1 - e^(-2 k x/m))`; and t in a course that has been found, of which a part dies
    out. '' where none does."""
    first = claim.sides[0] if isinstance(claim, Relation) else None
    if not isinstance(first, Name):
        return ""
    context, own = setting.context, Var(first.ident)
    along = context.world.variable_of(first.ident) or TIME
    found = context.resolved(var(own)) if first.ident in context.world.functions else ZERO
    if along == TIME and dies_in_part(found):
        return TIME
    for p in context.premises:
        here = variables(p.term) if p.sign == "=" else ()
        if own in here and Var(along) in here and not any(v.order for v in here) and any(
                t.op == "fun" and t.value in ("exp", "tanh") and Var(along) in variables(t) for t in postorder(p.term)):
            return along
    return ""


def _beyond(name: str) -> Relation:
    return Relation((Name(name), Constant("∞")), ("→",))


def _place_by_its_name(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`at h_min: v = …`, where h and h_min are about: h = h_min; and `at x0: d²U/dx² = …` where U goes along x."""
    tied, world = tied_names(setting.context), setting.context.world
    along = {n.wrt.ident for n in walk(claim) if isinstance(n, Derivative) and isinstance(n.wrt, Name)
             } if claim is not None else set()
    for word in said[1:] if said[:1] in (["at"], ["for"]) else ():
        name = canonical(word)
        stem, _, index = name.partition("_")
        extreme = index in ("min", "max") and not world.is_changing(Var(stem))
        place = bool(index) and said[0] == "at" and stem in {*world.fields.values(), *along}
        if (extreme or place) and {stem, name} <= tied | world.symbols.keys():
            return Relation((Name(stem), Name(name)), ("=",))
    return None
