"""The small edits of a claim, commonest first: the claim as it would be had this one slip not been made.

To add a kind of slip: write a function in one of the rooms of kinds, and give it a row in KINDS and a
sentence `slip.<name>` in `derive/messages/slips.py`. Nothing here knows whether an edit makes the line true.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import Any, NamedTuple

from derive.diagnosis import kinds_calculus as calculus
from derive.diagnosis import kinds_forms as forms
from derive.diagnosis import kinds_motion as motion
from derive.diagnosis import kinds_numbers as numbers
from derive.diagnosis import kinds_powers as reaches
from derive.diagnosis import kinds_results as results
from derive.diagnosis import kinds_sums as sums
from derive.diagnosis import kinds_terms as terms
from derive.diagnosis.around import Around, Change
from derive.diagnosis.around import Kind as Look
from derive.diagnosis.sites import Site, bare, put, sites, span_of
from derive.notation.tree import (
    Claim,
    Derivative,
    Name,
    Product,
    Quotient,
    Span,
    Sum,
    is_zero,
    names_in,
    relations,
)


class Kind(NamedTuple):
    """A kind of slip.

    cost:    how uncommon it is at the least, to which a change adds; a smaller total names the slip when several edits
             would do. They stand in this order.
    repairs: the pieces that could have stood at a site had the writer not slipped this way.
    makes:   the same slip made on purpose in a right line; None where repairing and making are one.
    family:  kinds that a reader would not tell apart share one.
    """

    name: str
    cost: float
    repairs: Look
    makes: Look | None = None
    family: str = ""


# The costs put the kinds in the order in which they turn up in workings; half a unit is a clear difference.
KINDS: tuple[Kind, ...] = (
    Kind("limits", 0.9, motion.limits),
    Kind("sign", 1.0, terms.sign),
    Kind("direction", 1.2, forms.direction),
    Kind("unit", 1.2, numbers.unit_exchange),
    Kind("function", 1.3, forms.function),
    Kind("factor", 1.3, terms.factor, family="number"),
    Kind("exponent_sign", 1.3, forms.exponent_sign, family="sign"),
    Kind("upside_down", 1.4, terms.upside_down),
    Kind("power_of_sum", 1.4, sums.power_of_sum, sums.sum_of_powers),
    Kind("function_of_sum", 1.4, sums.function_of_sum, sums.sum_of_functions),
    Kind("fraction_of_sum", 1.5, sums.fraction_of_sum, sums.sum_of_fractions),
    Kind("degrees", 1.5, numbers.degrees),
    Kind("calculator", 1.5, results.calculator, family="degrees"),
    Kind("root", 1.5, forms.root, family="power"),
    Kind("power", 1.5, forms.powers, family="power"),
    Kind("power_of_result", 1.5, numbers.power_of_result, family="power"),
    Kind("double_angle", 1.5, forms.double_angle),
    Kind("root_reach", 1.6, forms.root_reach, family="bracket"),
    Kind("bracket", 1.6, forms.bracket, family="bracket"),
    Kind("one_term_only", 1.6, terms.one_term_only, family="bracket"),
    Kind("power_reach", 1.6, reaches.power_reach, family="bracket"),
    Kind("product_of_sums", 1.6, sums.product_of_sums, sums.like_parts_multiplied, family="bracket"),
    Kind("common_denominator", 1.6, sums.common_denominator, sums.added_above_and_below, family="fraction_of_sum"),
    Kind("power_of_ten", 1.6, numbers.power_of_ten),
    Kind("cancelled", 1.7, sums.cancelled, sums.cancelled_in_part, family="quantity"),
    Kind("circle", 1.7, terms.circle, family="number"),
    Kind("digits", 1.8, numbers.digits),
    Kind("worked_sign", 1.8, results.wrong_sign),
    Kind("worked_way_up", 1.8, results.wrong_way_up),
    Kind("worked_power", 1.8, results.wrong_power),
    Kind("worked_function", 1.8, results.wrong_function),
    Kind("quotient_rule", 1.8, calculus.quotient_rule),
    Kind("product_rule", 1.8, calculus.product_rule),
    Kind("doubled_term", 1.8, terms.doubled_term, family="term"),
    Kind("neighbour", 1.8, motion.neighbour),
    Kind("inner_factor", 1.8, motion.inner_factor, family="quantity"),
    Kind("derivative_order", 1.8, motion.derivative_order),
    Kind("product_part", 1.9, motion.product_part, family="term"),
    Kind("exchanged", 1.9, motion.exchanged, family="neighbour"),
    Kind("added", 1.9, sums.added, sums.multiplied),
    Kind("logarithm", 1.9, forms.logarithm, family="function"),
    Kind("forgotten_factor", 1.9, terms.forgotten_factor, family="quantity"),
    Kind("extra_term", 1.9, terms.extra_term, family="term"),
    Kind("dropped_term", 2.0, terms.dropped_term, terms.extra_term, family="term"),
    Kind("missing_term", 2.0, terms.missing_term, terms.extra_term, family="term"),
    Kind("power_rule", 2.0, reaches.power_rule),
    Kind("reversed_calculus", 2.0, calculus.reversed_calculus),
    Kind("multiplied", 2.1, sums.multiplied, sums.added),
    Kind("one_side_only", 2.1, terms.one_side_only, family="quantity"),
    Kind("number_in_front", 2.1, terms.number_in_front, family="number"),
    Kind("sum_of_powers", 2.1, sums.sum_of_powers, sums.power_of_sum, family="power_of_sum"),
    Kind("sum_of_functions", 2.1, sums.sum_of_functions, sums.function_of_sum, family="function_of_sum"),
    Kind("sum_of_fractions", 2.1, sums.sum_of_fractions, sums.fraction_of_sum, family="fraction_of_sum"),
    Kind("unusual_factor", 2.2, terms.unusual_factor, family="number"),
    Kind("root_of_two", 2.3, terms.square_root_of_two, family="number"),
)
FAMILY = {k.name: k.family or k.name for k in KINDS}


@dataclass(frozen=True, slots=True)
class Edit:
    """One small edit. `before` is the piece to point to (its span says where); `after` is what `piece`, that one or a
    larger one around it, should have been; `claim` is the whole claim with the edit made. A smaller `cost` is a
    commoner slip."""

    kind: str
    before: Any
    piece: Any
    after: Any
    claim: Claim
    cost: float

    @property
    def span(self) -> Span | None:
        return span_of(self.before)

    @property
    def family(self) -> str:
        return FAMILY[self.kind]


Candidate = tuple[float, Kind, Site, Change]


def edits(claim: Claim, around: Around | None = None, most: int = 1500) -> Iterator[Edit]:
    """The edits that undo one slip, commonest first, each resulting claim once."""
    return _made(claim, _candidates(claim, around or Around(), lambda k: k.repairs), most)


def slips(claim: Claim, around: Around | None = None, most: int = 1500) -> Iterator[Edit]:
    """The same claim with one slip made in it on purpose: `claim` of each is then the wrong line."""
    return _made(claim, _candidates(claim, around or Around(), lambda k: k.makes or k.repairs), most)


def _candidates(claim: Claim, around: Around, look: Callable[[Kind], Look]) -> Iterator[Candidate]:
    """The changes of every kind, commonest first; a kind is looked for only when its turn has come."""
    places = sites(claim)
    about = _about(claim)
    found: list[tuple[float, int, Candidate]] = []
    count = itertools.count()
    for kind in KINDS:
        while found and found[0][0] <= kind.cost:
            yield heappop(found)[-1]
        if not _may_be(kind, about):
            continue
        for site in places:
            if site.path[:1] == (("sides", 0),) and (about.approximate or (about.started and _is_asked_for(site))):
                continue
            for change in look(kind)(site, around):
                cost = kind.cost + change.extra + _rarely_blamed(site, about) + _loose(kind, about)
                heappush(found, (cost, next(count), (cost, kind, site, change)))
    while found:
        yield heappop(found)[-1]


# Many changes make a bound true that is not the one meant; the way it points is what slips.
LOOSE = 0.4
# What a number is worked out for is copied; what it comes to is thought out.
STARTED_FROM = 1.5


class _About(NamedTuple):
    """Is a claim a bound, or one by zero, of which only the direction can slip? Is it an approximation, whose first
    side is what it starts from? Is its first side only what a number is found for?"""

    bound: bool
    sign_only: bool
    approximate: bool
    started: bool


def _about(claim: Claim) -> _About:
    found = list(relations(claim))
    signs = {sign for r in found for sign in r.signs}
    bound = bool(signs) and signs <= set("<>≤≥")
    by_zero = bound and all(any(map(is_zero, r.sides)) for r in found)
    valued = all(names_in(r.sides[0]) and not any(names_in(s) or is_zero(s) for s in r.sides[1:]) for r in found)
    return _About(bool(signs & set("<>≤≥")), by_zero, "≈" in signs, valued)


# A number that was worked out lacks no quantity: one that makes it up fits by chance.
BRING_IN_NAMES = ("dropped_term", "missing_term", "product_part", "forgotten_factor", "inner_factor", "one_side_only")
# Nor is an uncommon number said of it a name for anything: some number always makes it up.
MAKE_UP = ("unusual_factor", "number_in_front", "root_of_two", "power_rule")


def _may_be(kind: Kind, about: _About) -> bool:
    if about.sign_only:
        return kind.name == "direction"
    return not (about.started and kind.name in (*BRING_IN_NAMES, *MAKE_UP))


def _loose(kind: Kind, about: _About) -> float:
    return LOOSE if about.bound and kind.name != "direction" else 0.0


def _is_asked_for(site: Site) -> bool:
    """What a number is found for is not off by anything: of `F = 12 N` the 12 is."""
    return site.is_side and not isinstance(site.node, (Sum, Product, Quotient))


def _rarely_blamed(site: Site, about: _About) -> float:
    """A bare name alone on its side is what the writer set out to find: the slip is seldom there, but the same
    edit may be made there as well as on the other side, and the other side is then the place to point to."""
    if not site.path or site.path[0] != ("sides", 0):
        return 0.0
    if about.started:
        return STARTED_FROM
    return 0.3 if site.is_side and isinstance(site.node, (Name, Derivative)) else 0.02


def _made(claim: Claim, candidates: Iterable[Candidate], most: int) -> Iterator[Edit]:
    seen = {claim}
    for cost, kind, site, change in candidates:
        made = put(claim, site.path, change.after)
        if made in seen:
            continue
        seen.add(made)
        before = site.node if change.at is None else change.at
        piece, after = (site.node, change.after) if change.into is None else (before, change.into)
        yield Edit(kind.name, before, piece, bare(after), made, cost)
        if len(seen) > most:
            return
