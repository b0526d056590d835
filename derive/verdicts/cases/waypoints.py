"""`at the bottom: v = √(2 g h)`: a place that words name and no coordinate tells.

Where it lies is not said; but the bottom, the top, the end of a way is where its coordinate is nothing, or as much as
some length that is about, or where an angle is none, right, or straight. What holds at one of these is said of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from derive.notation.lists.word_lists import words
from derive.notation.printed.printing import as_text
from derive.notation.tree import (
    Constant,
    Derivative,
    Expr,
    Name,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    is_zero,
    names_in,
    walk,
)
from derive.records import Standing, Verdict
from derive.states.context import Context, tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Setting
from derive.states.sizes import ANGLES
from derive.states.states import freedom
from derive.terms.claims import pairs
from derive.terms.isolation import isolated
from derive.terms.term import Var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.where import said_at_instant
from derive.verdicts.cases.which_case import spoken

_PLACES = words("""
    bottom lowest top highest summit crest apex peak ground floor foot side end wall edge horizontal vertical
""")
# At the top of a flight nothing goes upwards any more.
_TOPS, _UPWARDS = words("top highest summit apex peak"), "v_y"
_COORDINATES = frozenset("yxzsrhθφαψ")
_HEIGHTS = "yzhxs"
_LENGTHS = frozenset("hHRrLlDdAab")
# A working has few coordinates, and of the lengths beside one few are where its way ends.
_MOST_COORDINATES, _MOST_LENGTHS = 2, 3
_HOLDING = (Standing.FOLLOWS, Standing.APPROXIMATES)


def names_a_place(statement: Statement, source: Source) -> bool:
    """Do words tell where a name has the value that it is given by others, and nothing else? `at the top: m g = m v²/R`
    is a law, and `dy/dx = 0` says which point is meant."""
    claim = statement.claim
    if not isinstance(claim, Relation) or set(claim.signs) != {"="} or statement.word.strip() not in ("", ":", ","):
        return False
    first = claim.sides[0].base if isinstance(claim.sides[0], Power) else claim.sides[0]
    solved = (isinstance(first, Name) or _is_a_rate(first)) and len(names_in(claim)) > 1 and not any(
        map(is_zero, claim.sides))
    return solved and statement.where in (None, claim) and bool(places_in(f"{source.words} {statement.word}"))


def _is_a_rate(e: Expr) -> bool:
    """θ', l θ', θ'²: how fast something goes, and no law of how it is driven."""
    factors = [f.base if isinstance(f, Power) else f for f in (e.factors if isinstance(e, Product) else (e,))]
    rates = [f for f in factors if isinstance(f, Derivative) and f.order == 1 and not f.partial]
    return len(rates) == 1 and all(isinstance(f, Name) or f in rates for f in factors)


def places_in(said: str) -> frozenset[str]:
    """The words for places in what is said."""
    return _PLACES.intersection(spoken(said))


def at_place_by_its_name(
    statement: Statement, setting: Setting, source: Source, everywhere: tuple[Verdict, ...]
) -> Outcome | None:
    """The claim as said of one of the places that the words may mean, where it holds there or at none of them.
    everywhere: the verdicts on it as said of all places."""
    if setting.regime is not None or all(v.standing in _HOLDING for v in everywhere):
        return None
    claim = statement.claim
    assert isinstance(claim, Relation)
    coordinates = list(_coordinates(claim, setting))[:_MOST_COORDINATES]
    places = [(Name(name), value) for name in coordinates for value in _places(name, claim, setting.context)]
    turning = _turning(setting) if _says_top(f"{source.words} {statement.word}") else None
    refuted = conditional = carried = None
    if turning is not None and claim.sides[0] == Name(TIME):  # it is at y = h on its way, too
        places = []
    here = {name for case in setting.cases for name in case.given()}  # is at a place already, and at no other as well
    ways = [(sides, setting) for sides in (*([(turning, Num(Fraction(0)))] if turning is not None else ()), *(
        place for place in places if place[0].ident not in here or is_zero(place[1])))]
    # The top, of which a line above speaks, is no place on the ground.
    ways += [(sides, replace(setting, cases=())) for sides in places if setting.cases]
    for sides, seen in ways:
        where = Relation(sides, ("=",), span=claim.span)
        found = said_at_instant(replace(statement, role="at", where=where), seen, source)
        if _holds_there(found[0], _HOLDING):
            if _any_would_do(claim, where, statement, seen, source):
                continue
            facts = (("case", as_text(where)),)
            there = tuple(
                replace(v, code="follows.in_case", facts=facts) if v.code == "follows.plain" else v for v in found[0])
            return there, _with_its_value(claim, found[1], source)
        if conditional is None and _holds_there(found[0], (*_HOLDING, Standing.FOLLOWS_IF)):
            conditional = found
        if carried is None and _holds_there(found[0], (*_HOLDING, Standing.CARRIED)):
            carried = found  # a sound step from a slip above
        if refuted is None and any(v.standing is Standing.FAILS for v in found[0]):
            refuted = found
    settled = coordinates and _says_no_place(claim, coordinates, setting.context)
    return conditional or carried or (refuted if settled else None)


_FROM, _OF_A_FLIGHT = frozenset(("from", "off")), frozenset(("path", "flight", "trajectory", "orbit"))


def _says_top(said: str) -> bool:
    """Is the highest point of a flight meant, not where something falls from (`from the top`, `top of the cliff`)?"""
    told = spoken(said)
    at = next((k for k, word in enumerate(told) if word in _TOPS), None)
    if at is None or _FROM & {*told[max(at - 2, 0) : at]}:
        return False
    return told[at + 1 : at + 2] != ["of"] or bool(_OF_A_FLIGHT & {*told})


def _turning(setting: Setting) -> Expr | None:
    """What is nothing where a flight turns: v_y, or the rate of a height whose course is known, be it by a slip."""
    context = setting.context
    if _UPWARDS in tied_names(context):
        return Name(_UPWARDS)
    told = {v.name: rest for p in (*context.premises, *setting.broken) if p.sign == "=" and p.always
            for v, rest in isolated(p.term) if not v.order and not v.at}
    courses = {**told, **context.world.functions}
    heights = (n for n in _HEIGHTS if n in courses and Var(TIME) in variables(courses[n]))
    return next((Derivative(Name(n), Name(TIME)) for n in heights), None)


_NAMED = ("taken.initial", "taken.definition", "taken.shorthand")


def _holds_there(verdicts: tuple[Verdict, ...], holding: Sequence[Standing]) -> bool:
    """The v of `v = l θ' = √(2 g h)` may be new, as long as the rest holds."""
    brought_in = [v for v in verdicts[:1] if len(verdicts) > 1 and v.code in _NAMED]
    return all(v.standing in holding for v in verdicts if v not in brought_in)


# A share that nobody comes to by a slip.
_ODD = Num(Fraction(137, 100))


def _any_would_do(
    claim: Relation, where: Relation, statement: Statement, setting: Setting, source: Source
) -> bool:
    """Does another multiple hold there as well, since only states have been met in which all of it is nothing?"""
    other = replace(claim, sides=(claim.sides[0], Product((_ODD, claim.sides[-1]))), signs=claim.signs[:1])
    found, _ = said_at_instant(replace(statement, role="at", where=where, claim=other), setting, source)
    return all(v.standing in _HOLDING for v in found)


def _with_its_value(claim: Relation, setting: Setting, source: Source) -> Setting:
    """What is so at the place goes on: `t = √(2h/g)` at the ground, and not the other root."""
    case = setting.cases[-1] if setting.cases else None
    if case is None or not case.premises or case.line != source.number:
        return setting
    own = [p for pair in pairs(claim) for p in matter(pair, setting, source).premises(implied=False, always=False)]
    return replace(setting, cases=(*setting.cases[:-1], replace(case, premises=(*case.premises, *own))))


def _coordinates(claim: Relation, setting: Setting) -> Iterator[str]:
    """What the claim does not speak of, the lines above do, and could have any value."""
    context, own = setting.context, _spoken_of(claim)
    for name in sorted(tied_names(context) - own, key=lambda n: "yxzsrhθφαψ".find(n)):
        told = any({*variables(p.term)} == {Var(name)} for p in context.premises if p.sign == "=")
        if name in _COORDINATES and not told and freedom(context, [Var(name)], (), setting.states) == 1:
            yield name


def _spoken_of(claim: Relation) -> set[str]:
    """The names of a claim, but for what it says the rate of alone: of θ itself `l θ' = √(2 g h)` does not speak."""
    bodies = [n.body for n in walk(claim) if isinstance(n, Derivative) and isinstance(n.body, Name)]
    every = [n for n in walk(claim) if isinstance(n, Name)]
    return {n.ident for n in every if not any(n is b for b in bodies)} - {TIME}


def _places(name: str, claim: Relation, context: Context) -> Iterator[Expr]:
    yield Num(Fraction(0))
    if name in ANGLES:
        yield Constant("π")
        yield Quotient(Constant("π"), Num(Fraction(2)))
        return
    beside = {*names_in(claim), *_beside(context, {name})} - {name}
    lengths = sorted(n for n in beside if n.partition("_")[0] in _LENGTHS)[:_MOST_LENGTHS]
    for length in lengths:
        yield Name(length)
        yield Product((Num(Fraction(2)), Name(length)))


def _beside(context: Context, names: set[str]) -> set[str]:
    """All that the lines above speak of together with some names."""
    spoken = [{v.name for v in variables(p.term)} for p in context.premises if p.sign == "="]
    return set().union(*(s for s in spoken if s & names))


def _says_no_place(claim: Relation, coordinates: list[str], context: Context) -> bool:
    """Is a claim made of what the lines above say of the coordinate, and of the quantity that it gives? A length from
    elsewhere would say how far the place is."""
    first = claim.sides[0]
    named = set(names_in(replace(claim, sides=(first,), signs=())))
    return set(names_in(claim)) <= _beside(context, {*coordinates, *named})
