"""What a mechanic would try on a final result: its dimension, its sign, and the simple cases it must fit.

Each look is a plain function that hands back observations, and says nothing where there is nothing to see.
Values come from a callback, so that the result is evaluated the same way as in the rest of the check.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from derive.diagnosis.around import alike_to_the_eye
from derive.diagnosis.hints import Facts
from derive.diagnosis.special import put_zero
from derive.notation.tree import Expr, Name, Neg, Relation, Sum, Unit, names_in, walk
from derive.records import Symbol

Values = Mapping[str, float]
MOST_NAMES = 14
MOST_OBSERVATIONS = 6
# Far enough to see where a value is going, near enough that differences of large numbers keep their figures.
NEAR, FAR = 1e-7, 1e7


@dataclass(frozen=True, slots=True)
class Observation:
    """A code of `derive/messages/slips.py` with its facts. fits: False where the result breaks what was looked for."""

    code: str
    facts: Facts = ()
    fits: bool = True


@dataclass(frozen=True, slots=True)
class Result:
    """A final result `name = expression` and what is needed to look at it.

    value:     evaluates an expression at values of its names (SI), None where it has none.
    samples:   admissible values of the names, several and of everyday size.
    as_text:   prints a tree.
    dimension: names the dimension of an expression in words, None where unknown.
    admits:    do values keep to the bounds of the page?
    unsigned:  nobody asks for its sign: it goes with time, or is complex.
    """

    name: str
    expression: Expr
    symbols: Mapping[str, Symbol]
    samples: Sequence[Values]
    value: Callable[[Expr, Values], float | None]
    as_text: Callable[[Any], str]
    dimension: Callable[[Expr], str | None] = lambda _: None
    admits: Callable[[Values], bool] = lambda _: True
    unsigned: bool = False

    def at(self, values: Values) -> float | None:
        found = self.value(self.expression, values)
        return found if found is not None and math.isfinite(found) else None


def look_at(result: Result) -> tuple[Observation, ...]:
    """Every observation on a result, in the order of the looks; few, since a reader reads few."""
    names = names_in(result.expression)
    if not names or len(names) > MOST_NAMES or result.name in names:
        return ()
    found = [seen for look in LOOKS for seen in look(result)]
    found.sort(key=lambda seen: seen.fits)  # what is broken comes first
    return tuple(found[:MOST_OBSERVATIONS])


def solved_for(claim: object) -> tuple[str, Expr] | None:
    """`name` and `expression` of a result `name = … = expression` in symbols, None for any other claim."""
    if not isinstance(claim, Relation) or set(claim.signs) != {"="} or not isinstance(claim.sides[0], Name):
        return None
    for side in reversed(claim.sides[1:]):
        if names_in(side) and not any(isinstance(n, Unit) for n in walk(side)):
            return claim.sides[0].ident, side
    return None


def dimension(result: Result) -> Iterator[Observation]:
    """That a result comes out with the dimension of its name."""
    words = result.dimension(result.expression)
    if words and words == result.dimension(Name(result.name)):
        yield Observation("sanity.dimension", (("name", result.name), ("dimension", words)))


def sign(result: Result) -> Iterator[Observation]:
    """A quantity declared positive must come out so; a sign that can turn is worth knowing."""
    if result.unsigned or not any(isinstance(n, (Neg, Sum)) for n in walk(result.expression)):
        return  # a product of positive things is positive: that says nothing
    values = [v for s in result.samples if (v := result.at(s)) is not None]
    if len(values) < 4:
        return
    if len(values) < len(result.samples):
        yield Observation("sanity.no_value", (("name", result.name),))
        return
    symbol = result.symbols.get(result.name)
    wanted = symbol.sign if symbol is not None and symbol.declared else ""
    if wanted in ("positive", "nonnegative"):
        if min(values) < 0:
            yield Observation("sanity.sign_broken", (("name", result.name),), fits=False)
        elif min(values) > 0:
            yield Observation("sanity.sign", (("name", result.name),))
    elif min(values) < 0 < max(values):
        yield Observation("sanity.sign_turns", (("name", result.name),))


def vanishing(result: Result) -> Iterator[Observation]:
    """What becomes of the result as a mass, an angle or a coefficient of friction goes to nothing."""
    for name in names_in(result.expression):
        if not worth_a_limit(name, result.symbols):
            continue
        kind = "" if _is_mass(name, result.symbols) and _only_a_factor(result, name) else _going(result, name, NEAR)
        special = put_zero(result.expression, name)
        text = result.as_text(special) if special is not None else ""
        facts = (("name", result.name), ("of", name))
        if kind == "bounded" and text and special != result.expression:
            code = "sanity.no_friction" if is_friction(name, result.symbols) else "sanity.zero_becomes"
            yield Observation(code, (*facts, ("becomes", text)))
        elif kind in ("zero", "unbounded"):
            yield Observation(f"sanity.zero_{kind}", facts)


def growing(result: Result) -> Iterator[Observation]:
    """What becomes of the result as a mass grows without bound."""
    for name in names_in(result.expression):
        if not _is_mass(name, result.symbols):
            continue
        kind = "" if _only_a_factor(result, name) else _going(result, name, FAR)
        facts = (("name", result.name), ("of", name))
        if kind in ("zero", "unbounded"):
            yield Observation(f"sanity.infinity_{kind}", facts)
        elif kind == "bounded" and (plain := _plain_limit(result, name)) is not None:
            yield Observation("sanity.infinity_becomes", (*facts, ("becomes", plain)))


def equal_pairs(result: Result) -> Iterator[Observation]:
    """Two masses (or other twins, `R` and `r`) made equal: the result may vanish or burst."""
    names = names_in(result.expression)
    for i, first in enumerate(names):
        for second in names[i + 1 :]:
            if not _twins(first, second, result.symbols):
                continue
            kind = _going_equal(result, first, second)
            facts = (("name", result.name), ("first", first), ("second", second))
            if kind in ("zero", "unbounded"):
                yield Observation(f"sanity.equal_{kind}", facts, fits=kind != "unbounded")


Look = Callable[[Result], Iterator[Observation]]
LOOKS: tuple[Look, ...] = (dimension, sign, equal_pairs, vanishing, growing)


# --- which names are worth a look -------------------------------------------------------------------------


def worth_a_limit(name: str, symbols: Mapping[str, Symbol]) -> bool:
    """Masses, frictions and angles: what a mechanic puts to 0 or lets grow to see whether a result makes sense."""
    symbol = symbols.get(name)
    return symbol is not None and (
        _is_mass(name, symbols) or is_friction(name, symbols) or symbol.unit.strip() in ("rad", "°", "deg")
    ) and symbol.sign not in ("negative", "nonpositive")


def is_friction(name: str, symbols: Mapping[str, Symbol]) -> bool:
    symbol = symbols.get(name)
    return symbol is not None and ("friction" in symbol.note.lower() or name.split("_")[0] == "μ")


def _is_mass(name: str, symbols: Mapping[str, Symbol]) -> bool:
    symbol = symbols.get(name)
    return symbol is not None and symbol.unit.strip() in ("kg", "g", "t") and symbol.of is None


def _twins(first: str, second: str, symbols: Mapping[str, Symbol]) -> bool:
    a, b = symbols.get(first), symbols.get(second)
    if a is None or b is None or a.dimension is None or a.dimension != b.dimension:
        return False
    return _is_mass(first, symbols) or alike_to_the_eye(first, second)


# --- where a value is going -------------------------------------------------------------------------------


def _going(result: Result, name: str, factor: float) -> str:
    """'zero', 'unbounded', 'bounded', or '' where the samples disagree or have no values."""
    return _trend(result, lambda s, f: {**s, name: s[name] * f}, name, factor)


def _going_equal(result: Result, first: str, second: str) -> str:
    return _trend(result, lambda s, f: {**s, second: s[first] * (1 + f)}, first, NEAR)


def _only_a_factor(result: Result, name: str) -> bool:
    """Does the result go with a name in plain proportion? That it then vanishes and grows with it says nothing."""
    for sample in result.samples[:6]:
        once, twice = result.at(sample), result.at({**sample, name: 2 * sample[name]})
        if once is None or twice is None or not math.isclose(twice, 2 * once, rel_tol=1e-9):
            return False
    return True


def _trend(result: Result, moved: Callable[[Values, float], Values], name: str, factor: float) -> str:
    kinds = set()
    for sample in result.samples[:6]:
        if not sample.get(name):
            continue
        there = moved(sample, factor * factor)
        near, nearer = result.at(moved(sample, factor)), result.at(there)
        usual = result.at(sample)
        if not result.admits(there):
            return ""  # with m_1 > m_2 nobody asks what becomes of it for m_1 = 0
        if near is None or nearer is None or not usual:
            return ""
        kinds.add(_kind_of_trend(abs(usual), abs(near), abs(nearer)))
    return kinds.pop() if len(kinds) == 1 else ""


def _kind_of_trend(usual: float, near: float, nearer: float) -> str:
    """Judged by the second step against the first: a power law, even a square root, goes on changing."""
    if nearer < 1e-2 * near or (nearer == 0 and near < 1e-5 * usual) or (near < 1e-12 * usual):
        return "zero"
    if nearer > 1e2 * near:
        return "unbounded"
    return "bounded" if math.isclose(near, nearer, rel_tol=1e-3) else ""


def _plain_limit(result: Result, name: str) -> str | None:
    """The limit as one of the other names (`g`), its opposite or a half or double of it, if it is so plain."""
    limits = [(s, result.at({**s, name: s[name] * FAR})) for s in result.samples[:6] if s.get(name)]
    for other in names_in(result.expression):
        if other == name:
            continue
        for factor, front in ((1.0, ""), (-1.0, "-"), (0.5, "½ "), (2.0, "2 ")):
            if limits and all(v is not None and math.isclose(v, factor * s[other], rel_tol=1e-5) for s, v in limits):
                return front + other
    return None
