"""Laws that a working without givens brings in on the way: a second balance, a link, what stands beside the rest.

Nobody has said what such a working starts from, and a law and a wrong step may look alike. A law says something new
of names that the lines above leave free of each other, and leaves everything there that was there.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

import numpy as np

from derive.notation.tree import Expr, Name, Neg, Power, Product, Quotient, Sum, walk
from derive.quantities.typed_numbers import as_number
from derive.states.context import Premise
from derive.states.setting import Decision, Matter
from derive.states.sizes import sized
from derive.states.states import freedom
from derive.states.yielding import is_value, unvalued
from derive.steps.brought_in.quick import claims_to_follow, names_of, open_to_starts, started
from derive.steps.changing.starting import works_out_a_start
from derive.steps.numbers.other_numbers import said_with_other_numbers
from derive.terms.kinship import piece_of
from derive.terms.tape import taped
from derive.terms.term import HALF, TWO, ZERO, Term, Var, postorder, power, variables
from derive.terms.tidying import multiplied_out
from derive.terms.world import TIME

# A quantity this large (beside values of about one) has not vanished.
_SOMETHING = 1e-6

_AS_TYPED = 1e-3  # numbers that differ by less were rounded

_SQUARE, _PRODUCT = "squares", "products"


def law(m: Matter) -> Decision | None:
    """A balance of energies, momenta or moments, a link such as `v = r ω`: taken where the lines above do not
    already say something of its kind about the same names."""
    if not open_to_starts(m) or claims_to_follow(m) or works_out_a_start(m):
        return None
    premises = m.premises(implied=False, kind="start")
    if _names_a_rate(m):
        return started(m, "taken.law", premises)
    # With numbers for its names a law settles the others: `u1 - u2 = v2 - v1` below `u1 = 4 m/s, …` says v1.
    valueless = unvalued(m.context)
    open_still = replace(m, setting=m.setting.within(valueless)) if valueless is not m.context else None
    if not (_says_what_a_value_is_of(m) or _another_balance(m) or _in_other_numbers(m) or _of_another_body(m) or (
            _stands_beside(m)) or (open_still is not None and _stands_beside(open_still))):
        return None
    return started(m, "taken.law", premises) if _leaves_all_there(m, premises) else None


def _says_what_a_value_is_of(m: Matter) -> bool:
    """`P = F v` below `P = 250 W` and `F = 0.4 v²`: of a name that has had nothing but its value, as long as that
    leaves a choice beside it."""
    named, (left, right) = m.pair.left, m.lowered.parts[0]
    if not isinstance(named, Name) or not isinstance(left.value, Var) or left.value in variables(right) or (
            len(m.lowered.parts) > 1 or m.context.world.is_changing(left.value)):
        return False
    said = [p for p in m.context.premises if left.value in variables(p.term)]
    own = [v for v in variables(right) if v.role == "value"]
    return bool(said) and all(map(is_value, said)) and freedom(m.context, own, (), m.setting.states) > 0


def _another_balance(m: Matter) -> bool:
    """A balance of a kind that the lines above do not strike between the same names, or a link between such."""
    if _is_rate_named(m):
        return True
    own = names_of(m.context.resolved(t) for t in m.lowered.parts[0])
    kind = _kind(*m.lowered.parts[0]) or _kind_without_mass(*m.lowered.parts[0])
    alike = [p for p in m.context.premises if p.sides is not None and own <= names_of((p.term,))]
    if not kind and _is_energy_in_numbers(m):
        return not any(_has_square_of(own, p.term) for p in alike)
    if any(not kind or _is_of_kind(p, kind, own) for p in alike) and not _links(m, alike):
        return False
    return bool(kind or _links(m, alike)) and not said_with_other_numbers(m)


def _in_other_numbers(m: Matter) -> bool:
    """`19.6 - T = 2 a` beside `T - 7.35 = 3 a`: another balance of the same names, with numbers for all that is known.
    A step from the one above has its numbers, but for a slip in one of them."""
    here = _linear(m.residuals[0]) if len(m.residuals) == 1 else None
    own = sorted({v for v in m.unknowns if v.role == "value"}, key=str)
    if here is None or len(own) < 2 or len(here) < 3 or not any(
            isinstance(n, Sum) for side in (m.pair.left, m.pair.right) for n in walk(side)):
        return False
    above = [p for p in m.context.premises if p.sign == "=" and p.kind not in ("range", "value")]
    beside = [found for p in above if (found := _linear(p.term)) is not None and found.keys() & here.keys()]
    if not beside or not {term for found in beside for term in found}.issuperset(own):
        return False
    if any(_steps_apart(here, found) < 2 for found in beside):
        return False
    states, premises = m.setting.states, m.premises(implied=False)
    before = freedom(m.context, own, (), states)
    return before > 0 and freedom(m.context, own, premises, states) == before - 1


Kind = TypeVar("Kind", bound=Hashable)
_Terms = Mapping[frozenset[tuple[Term, Fraction]], Fraction]


def _of_another_body(m: Matter) -> bool:
    """`m a = T`, `m a = T - m g` beside `2 m a = 2 m g - T`: the law of another body, of other mass, which the same
    force pulls the other way. No slip in a step does all that."""
    if len(m.residuals) != 1 or len(m.context.world.functions) > 0:
        return False
    here = multiplied_out(m.residuals[0])
    above = [p for p in m.context.premises if p.sign == "=" and not p.implied and p.kind in ("start", "definition")]
    if not any(_pulled_the_other_way(here, multiplied_out(p.term)) for p in above) or any(
            _steps_apart(here, multiplied_out(p.term)) < 2 for p in above):
        return False
    own, states = [v for v in m.unknowns if v.role == "value"], m.setting.states
    before = freedom(m.context, own, (), states)
    return before > 0 and freedom(m.context, own, m.premises(implied=False), states) == before - 1


def _pulled_the_other_way(here: _Terms, there: _Terms) -> bool:
    """Do two laws of motion share an acceleration, with another number before it, and a force against it in one and
    along it in the other?"""
    both = here.keys() & there.keys()
    ratios = {kind: here[kind] / there[kind] for kind in both}
    moved = {kind for kind in both if len(kind) > 1 and any(_is_acceleration(factor) for factor, _ in kind)}
    return any(
        ratios[a] * ratios[force] < 0 and abs(ratios[a]) != abs(ratios[force])
        for a in moved for force in both - moved if len(force) == 1)


def _is_acceleration(t: Term) -> bool:
    v = t.value if t.op == "var" else None
    return isinstance(v, Var) and (v.order == 2 or (not v.order and v.name.partition("_")[0] == "a"))


def _linear(t: Term) -> dict[Var | None, float] | None:
    """The number before each name of an equation of names alone, and the number that stands by itself (None); with an
    angle or a root in figures, which is a number as well."""
    own = variables(t)
    if not own or any(v.role != "value" or v.order or v.at for v in own):
        return None

    def at(*values: float) -> float:
        env = {v: np.array([x]) for v, x in zip(own, values, strict=True)}
        with np.errstate(all="ignore"):
            return float(np.real(np.broadcast_to(taped(t).run(env)[0], 1)[0]))

    alone = at(*(0.0 for _ in own))
    found: dict[Var | None, float] = {v: at(*(float(u == v) for u in own)) - alone for v in own}
    somewhere = [0.7 + 1.3 * k for k in range(len(own))]
    straight = alone + sum(n * x for n, x in zip(found.values(), somewhere, strict=True))
    if not np.isfinite(straight) or abs(at(*somewhere) - straight) > _SOMETHING * (1 + abs(straight)):
        return None
    return {**found, None: alone} if alone else found


def _steps_apart(first: Mapping[Kind, float | Fraction], second: Mapping[Kind, float | Fraction]) -> int:
    """How many terms two equations do not share, once one of them has been multiplied by a number."""
    here, there = ({kind: float(number) for kind, number in terms.items()} for terms in (first, second))
    terms = here.keys() | there.keys()
    scales = [here[m] / there[m] for m in here.keys() & there.keys() if there[m]]
    return min((sum(
        abs(here.get(m, 0.0) - s * there.get(m, 0.0)) > _AS_TYPED * abs(here.get(m, 0.0) or s * there.get(m, 0.0))
        for m in terms) for s in scales), default=len(terms))


def _is_of_kind(p: Premise, kind: str, own: set[str]) -> bool:
    """Does a line strike a balance of a kind? One of the same names does whatever it is made of (`g h (1 - μ cot θ) =
    ½ v²` beside `v = √(2 g h (1 - μ tan θ))`)."""
    assert p.sides is not None
    found = _kind(*p.sides) or _kind_of_equal_masses(*p.sides)
    return found == kind or (not found and names_of((p.term,)) == own)


def _names_a_rate(m: Matter) -> bool:
    """`x' = v` where nothing above ties them."""
    sides = [t.value for t in m.lowered.parts[0] if isinstance(t.value, Var) and not t.value.at]
    orders = sorted(v.order for v in sides if m.context.world.is_changing(v))
    return len(orders) == 2 and orders[0] == 0 < orders[1] and freedom(
        m.context, sides, (), m.setting.states) == len(sides)


def _stands_beside(m: Matter) -> bool:
    """`N = m g cos θ` beside `m g sin θ - μ N = m a`: what nothing above says anything of, however many of its names
    the lines above speak of together. A piece of such a line is no law, nor is what leaves some name no choice."""
    context, states = m.context, m.setting.states
    own = [v for v in variables(*(context.resolved(r) for r in m.residuals)) if v.role == "value"]
    if any(context.world.is_changing(v) for v in own) or freedom(context, own, (), states) != len(own):
        return False
    equations = [p for p in context.premises if p.sign == "=" and p.kind != "range"]
    if piece_of(m.residuals[0], [p.term for p in equations]):
        return False
    premises = m.premises(implied=False, kind="start")
    others = {v for p in equations for v in variables(context.resolved(p.term)) if v.role == "value"} - {*own}
    return not any(
        freedom(context, [v], (), states) == 1 and freedom(context, [v], premises, states) == 0
        for v in sorted({*own, *others}, key=str))


def _leaves_all_there(m: Matter, premises: tuple[Premise, ...]) -> bool:
    """Is there a state with the line in which nothing that it speaks of or rests on is nothing? Energy said to be
    kept may bring a body to rest, as between equal masses."""
    spared = set(_SPEEDS) if is_kinetic_energy(m) else set()
    context = sized(m.context, m.unknowns) or m.context
    cloud = m.setting.states.any(context, premises)
    zeros = {v for p in m.context.premises if p.sign == "=" and p.term.op == "var" for v in variables(p.term)}
    sizes = [
        a for v, a in cloud.columns.items() if v.role == "value" and not v.order and not v.at and v not in zeros
        and v.name.partition("_")[0] not in spared]
    return bool(cloud.size and sizes) and bool((np.min(np.abs(sizes), axis=0) > _SOMETHING).any())


def _kind(left: Term, right: Term) -> str:
    """What sort of balance two sides strike: of squares (energies), of products (momenta, moments), or ''."""
    terms = [t for side in (left, right) for t in (side.args if side.op == "add" else (side,)) if t is not ZERO]
    if not all(_plain(t) for t in terms):
        return ""
    if sum(_squared(t) for t in terms) >= 2 or (len(terms) > 1 and any(map(_squared, terms)) and all(
            _squared(t) or len(_factors(t)) >= 2 for t in terms)):
        return _SQUARE
    sizes = [len(_factors(t)) for t in terms]
    pieces = sum(len(f.args) if f.op == "add" else 0 for t in terms for f in _factors(t))
    return _PRODUCT if set(sizes) == {2} and len(terms) + pieces >= 3 and not any(map(_squared, terms)) else ""


def _is_energy_in_numbers(m: Matter) -> bool:
    """`½·2·9 = ½·2 v1² + ½ v2²`: an energy balance with numbers for the masses, every term a half of something."""
    sides = (m.pair.left, m.pair.right)
    terms = [t for side in sides for t in (side.terms if isinstance(side, Sum) else (side,))]
    squares = [t for t in terms if any(isinstance(n, Power) and as_number(n.exponent) == 2 for n in walk(t))]
    return len(terms) > 2 and bool(squares) and all(map(_is_halved, terms))


_ENERGY = frozenset(("energy", "elastic", "kinetic", "energies"))


def is_kinetic_energy(m: Matter) -> bool:
    """`½ m u² = ½ m v1² + ½ m v2²`, `energy: u² = v1² + v2²`: squares of speeds alone, and said to be energies."""
    terms = [t for side in m.lowered.parts[0] for t in (side.args if side.op == "add" else (side,)) if t is not ZERO]
    squares = all(any(_is_square_of_speed(f) for f in _factors(t)) for t in terms)
    typed = [t for side in (m.pair.left, m.pair.right) for t in (side.terms if isinstance(side, Sum) else (side,))]
    said = not _ENERGY.isdisjoint(m.words.lower().replace(":", " ").split())
    return squares and len(terms) > 2 and (said or all(map(_is_halved, typed)))


def _has_square_of(names: set[str], t: Term) -> bool:
    return any(s.op == "pow" and s.args[1] is TWO and names & names_of((s,)) for s in postorder(t))


def _is_halved(term: Expr) -> bool:
    while isinstance(term, Neg | Quotient):
        term = term.arg if isinstance(term, Neg) else term.num
    return isinstance(term, Product) and as_number(term.factors[0]) == Fraction(1, 2)


_SPEEDS = ("v", "u", "V", "w")
_ACCELERATIONS = ("g", "a")


def _kind_without_mass(left: Term, right: Term) -> str:
    """`v² = v0² - 2 g R (1 - cos θ)`, `v = √(2 g h)`: an energy balance with its mass left out, or ''."""
    if left.op == "var" and right.op == "pow" and right.args[1] is HALF:
        left, right = power(left, TWO), right.args[0]
    terms = [t for side in (left, right) for t in (side.args if side.op == "add" else (side,)) if t is not ZERO]
    squares = [t for t in terms if _is_square_of_speed(t)]
    rest = [t for t in terms if t not in squares]
    works = all(_plain(t) and len(_factors(t)) >= 2 and _named(t, _ACCELERATIONS) for t in rest)
    whole = works if rest else len(terms) > 2  # `v² = v1² + ½ v2²`, of a collision
    return _SQUARE if squares and whole else ""


def _kind_of_equal_masses(left: Term, right: Term) -> str:
    """`u = v1 + v2`: a balance of momenta with its one mass left out, or ''."""
    terms = [t for side in (left, right) for t in (side.args if side.op == "add" else (side,)) if t is not ZERO]
    lone = all(len(_factors(t)) == 1 and _named(t, _SPEEDS) for t in terms)
    return _PRODUCT if lone and len(terms) > 2 else ""


def _is_square_of_speed(t: Term) -> bool:
    factors = _factors(t)
    return len(factors) == 1 and factors[0].op == "pow" and factors[0].args[1] is TWO and _is_named(
        factors[0].args[0], _SPEEDS)


def _named(t: Term, letters: Sequence[str]) -> bool:
    return any(_is_named(f, letters) for f in _factors(t))


def _is_named(t: Term, letters: Sequence[str]) -> bool:
    return isinstance(t.value, Var) and not t.value.order and t.value.name.partition("_")[0] in letters


def _factors(t: Term) -> list[Term]:
    parts = t.args if t.op == "mul" else (t,)
    return [f for f in parts if f.op != "num"]


def _plain(t: Term) -> bool:
    """A product of names, sums of names, squares and a sine or cosine (`m g r cos θ`): nothing divided by a name."""
    def known(f: Term) -> bool:
        turned = f.op == "fun" and f.value in ("sin", "cos")
        return turned or f.op in ("var", "add") or (
            f.op == "pow" and f.args[1] is TWO and f.args[0].op in ("var", "add"))

    return all(map(known, _factors(t)))


def _squared(t: Term) -> bool:
    """`½ m v²`: a square with something before it."""
    squares = [f for f in _factors(t) if f.op == "pow" and f.args[0].op == "var"]
    return len(squares) == 1 and len(_factors(t)) > 1


# Letters that stand for the rate of a coordinate, and for that of a rate.
_RATES = ("v", "u", "V", "w", "ω", "Ω", "a", "α")


def _is_rate_named(m: Matter) -> bool:
    """`dy/dt = v`: what the letter means, wherever it is said."""
    sides = [s.value for s in m.lowered.parts[0] if s.op == "var"]
    if len(sides) != 2:
        return False
    name, rate = sorted(sides, key=lambda v: v.order)
    return rate.order == 1 and rate.wrt == TIME and not name.order and not rate.at and not name.at and (
        name.name != rate.name and name.name.partition("_")[0] in _RATES)


def _links(m: Matter, alike: Sequence[Premise]) -> bool:
    """`v = r ω` where an energy above has the squares of all three."""
    left, right = m.lowered.parts[0]
    if left.op != "var" or right.op != "mul" or len(right.args) != 2 or any(f.op != "var" for f in right.args):
        return False
    squares = {power(f, TWO) for f in (left, *right.args)}
    return bool(alike) and all(squares <= set(postorder(p.term)) for p in alike)
