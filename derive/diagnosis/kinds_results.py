"""Numbers that were worked out wrongly: what comes out when a slip is made in working out what stands above.

The lines above say how a number is found. Each of the common slips is made there on purpose; where that comes to the
very number that was written, what happened on the way can be told, although it is nowhere on the page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

import numpy as np

from derive.diagnosis.around import Around, Change
from derive.diagnosis.kinds_forms import function, powers
from derive.diagnosis.kinds_numbers import TURNING
from derive.diagnosis.kinds_terms import EXPRESSIONS, sign, upside_down
from derive.diagnosis.needed import Measure, Values
from derive.diagnosis.pieces import PI, figures_of, number, product, quotient, result
from derive.diagnosis.sites import Site, put, sites
from derive.notation.tree import Apply, Expr, Name, Neg, Num, Relation, names_in, rebuilt, walk
from derive.terms.numbers import bare_number, last_digit_of_result

Look = Callable[[Site, Around], Iterator[Change]]
# To a single figure, and among many ways, some slip or other comes to anything.
FEWEST, MOST_TRIED = 2, 60


def calculator(site: Site, around: Around) -> Iterator[Change]:
    """The result of a sine whose angle was typed in degrees into a calculator that took it for radians."""
    yield from _of_slipped_ways(site, around, lambda way: iter((_in_radians(way),)), 1)


def wrong_sign(site: Site, around: Around) -> Iterator[Change]:
    """What comes out when a sign is the other one on the way."""
    yield from _of_slipped_ways(site, around, lambda way: _slipped(way, sign, around), FEWEST)


def wrong_power(site: Site, around: Around) -> Iterator[Change]:
    """What comes out when a square is left out on the way, or one too many is put in."""
    yield from _of_slipped_ways(site, around, lambda way: _slipped(way, powers, around), FEWEST)


def wrong_way_up(site: Site, around: Around) -> Iterator[Change]:
    """What comes out when something is multiplied on the way that should divide, or the reverse."""
    yield from _of_slipped_ways(site, around, lambda way: _slipped(way, upside_down, around), FEWEST)


def wrong_function(site: Site, around: Around) -> Iterator[Change]:
    """What comes out with a cosine for a sine on the way."""
    yield from _of_slipped_ways(site, around, lambda way: _slipped(way, function, around), FEWEST)


def _of_slipped_ways(
    site: Site, around: Around, slipped: Callable[[Expr], Iterator[Expr]], fewest: int
) -> Iterator[Change]:
    """The right number in the place of a written one, where some way to it comes to the written one once slipped."""
    written = bare_number(site.node) if site.is_side and isinstance(site.node, EXPRESSIONS) else None
    if written is None or not written.value or around.stock is None or len(site.parent.sides) != 2:
        return
    other = site.parent.sides[1 - site.path[-1][1]]
    measure = around.stock.measure
    says, should = measure(site.node), measure(other)
    if says is None or should is None or figures_of(written) < fewest:
        return
    half = 0.5 * 10.0 ** last_digit_of_result(written) / abs(float(written.value))
    for way in (other, *around.ways.get(other.ident, ())) if isinstance(other, Name) else (other,):
        if any(_comes_to(wrong, says, half, measure) for wrong in slipped(way) if wrong != way):
            yield Change(_put_right(site.node, written, should, says))
            return


def _comes_to(way: Expr, says: Values, half: float, measure: Measure) -> bool:
    found = measure(way)
    return found is not None and bool(np.all(np.abs(found - says) <= half * np.abs(says)))


def _put_right(side: Expr, written: Num, should: Values, says: Values) -> Expr:
    right = float(np.real(should[0] / says[0])) * float(written.value)
    instead: dict[int, object] = {id(written): result(written, Fraction(abs(right)))}
    made: Expr = rebuilt(side.arg if isinstance(side, Neg) else side, instead)  # type: ignore[assignment]
    return Neg(made) if (right < 0) is not isinstance(side, Neg) else made


def _slipped(way: Expr, look: Look, around: Around) -> Iterator[Expr]:
    if not names_in(way):
        return
    whole = Relation((number(0), way), ("=",))
    changes = (
        put(whole, site.path, change.after).sides[1]
        for site in sites(whole) if site.path[:1] == (("sides", 1),) for change in look(site, around))
    for _, made in zip(range(MOST_TRIED), changes, strict=False):
        yield made


def _in_radians(way: Expr) -> Expr:
    """The same with the degrees of every angle taken for so many radians."""
    turned: dict[int, object] = {
        id(n): Apply(n.function, product((n.arg, quotient(number(180), PI))))
        for n in walk(way) if isinstance(n, Apply) and n.function in TURNING}
    return rebuilt(way, turned)  # type: ignore[return-value]
