"""Unknowns that equations give outright, taken out of a system before states are sought.

`m y'' = -k y` with m positive gives y'' at every state, so the projection need not look for it: what is left
is a small core, often nothing at all. Only exact steps are taken: an unknown stands linearly in an equation,
its factor cannot vanish, and what it equals lies in its range by signs alone. No solution is lost or added.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import pi

from derive.terms import signs
from derive.terms.allowance import look
from derive.terms.prior import Prior, PriorOf
from derive.terms.term import (
    IMAGINARY,
    ONE,
    PI,
    ZERO,
    Term,
    Var,
    add,
    div,
    mul,
    neg,
    num,
    postorder,
    power,
    substitute,
    var,
    variables,
)
from derive.terms.tidying import without_cancelled

# Past these the bookkeeping costs more than the projection it saves.
_DEEPEST, _LARGEST, _MOST_EQUATIONS = 14, 900, 160


@dataclass(frozen=True, slots=True)
class Reduced:
    """`equations` and `positive` in the unknowns that are left; `given` says what the others are by those."""

    equations: tuple[Term, ...]
    positive: tuple[Term, ...]
    given: tuple[tuple[Var, Term], ...] = ()

    @property
    def impossible(self) -> bool:
        """Does an equation between plain numbers not hold?"""
        return any(e.op == "num" and e.value != 0 for e in self.equations)


def reduced(equations: tuple[Term, ...], positive: tuple[Term, ...], prior_of: PriorOf) -> Reduced:
    """The system with every unknown taken out that some equation gives at sight."""
    sign_of = Signs(prior_of)
    left = [_without_shared(e, sign_of) for e in dict.fromkeys(equations) if e is not ZERO and not cancels(e)]
    left.sort(key=lambda e: len(variables(e)) > 1)  # what has a value is put in before anything is written by it
    beyond = list(positive)
    found: list[tuple[Var, Term]] = []
    real = not any(sign_of.unreal(t) for t in (*left, *beyond))
    uses = _uses(left)
    barren: set[Term] = set()  # what gives no unknown, which does not change while it stays as it is
    k = 0
    while real and k < len(left) and len(left) <= _MOST_EQUATIONS:
        look()
        # Written without its fractions only where it gives nothing as it stands: which unknown it gives matters.
        choice = None if left[k] in barren else _given(left[k], uses, prior_of, sign_of) or _given(
            _without_shared(left[k], sign_of, below=True), uses, prior_of, sign_of)
        if choice is None:
            barren.add(left[k])
            k += 1
            continue
        v, value = choice
        change = {var(v): value}
        others = left[:k] + left[k + 1:]
        rest = [substitute(e, change) if v in variables(e) else e for e in others]
        if rest != others:  # else the unknown stood nowhere else, and nothing has grown
            if len(postorder(*rest)) > _LARGEST:
                k += 1
                continue
            if value.op == "var":  # `ω = ω0`: terms that differed by the name alone now cancel
                rest = [e if e is other else without_cancelled(e) for e, other in zip(rest, others, strict=True)]
            as_before = set(others)
            rest = [
                e if e in as_before else _without_shared(e, sign_of)
                for e in dict.fromkeys(rest) if e in as_before or (e is not ZERO and not cancels(e))]
        if rest == others:
            uses.subtract(variables(left[k]))
        else:
            uses = _uses(rest)
        left = rest
        found.append(choice)
        beyond = [substitute(e, change) if v in variables(e) else e for e in beyond]
        k = 0
    return Reduced(tuple(left), tuple(beyond), _written_out(found))


def _without_shared(equation: Term, sign_of: Signs, below: bool = False) -> Term:
    """An equation divided by the unknowns that stand in each of its terms and have a sign, and (`below`) multiplied
    by those that stand below a line.

    `½ m v² - G M m/R` is as good as met where m is tiny beside G M: a search would go there, and find nothing; and
    `η = P/Q` gives Q at sight. `2 m ω cos δ = 0` says that cos δ is nothing.
    """
    if equation.op == "mul":
        left = [f for f in equation.args if f.op != "num" and not signs.is_nonzero(sign_of(f))]
        return left[0] if len(left) == 1 and len(variables(left[0])) == 1 else equation
    if equation.op != "add":
        return equation
    powers = [_powers(part) for part in equation.args]
    shared = {
        v: least for v in dict.fromkeys(v for p in powers for v in p)
        if _worth(least := min(p.get(v, 0) for p in powers), below) and (
            signs.is_nonzero(sign_of(v)) or _stays_below(v, least, equation, powers, sign_of))}
    return add(*(_divided(part, shared) for part in equation.args)) if shared else equation


def _stays_below(
    v: Term, least: int, equation: Term, powers: Sequence[Mapping[Term, int]], sign_of: Signs
) -> bool:
    """`1/k = 1/k1 + 1/k2` multiplied by k: nothing is added where k is nothing, for the one does not vanish there."""
    lowest = [part for part, p in zip(equation.args, powers, strict=True) if p.get(v, 0) == least]
    return least < 0 and len(lowest) == 1 and signs.is_nonzero(sign_of(_divided(lowest[0], {v: least})))


def without_shared_exponential(equation: Term) -> Term:
    """`m λ² e^(λ t) + k e^(λ t)` is nothing where m λ² + k is: at every instant."""
    if equation.op != "add":
        return equation
    shared = next((f for f in _factors(equation.args[0]) if f.op == "fun" and f.value == "exp"), None)
    if shared is None or not all(shared in _factors(part) for part in equation.args):
        return equation
    return add(*(mul(*_without(_factors(part), shared)) for part in equation.args))


def _factors(part: Term) -> list[Term]:
    return list(part.args) if part.op == "mul" else [part]


def _without(factors: list[Term], one: Term) -> list[Term]:
    k = factors.index(one)
    return factors[:k] + factors[k + 1 :]


def _worth(least: int, below: bool) -> bool:
    return least > 0 or (below and least < 0)


def _powers(part: Term) -> dict[Term, int]:
    """The unknowns that are factors of a term with whole powers."""
    found: dict[Term, int] = {}
    for factor in _single(part):
        base, exponent = _base(factor)
        if base.op == "var":
            found[base] = found.get(base, 0) + exponent
    return found


def _single(part: Term) -> list[Term]:
    """The factors of a term one by one, `1/(G M)` as two."""
    out: list[Term] = []
    for factor in _factors(part):
        base, exponent = _base(factor)
        several = base.op == "mul" and exponent != 1
        out.extend((power(f, num(exponent)) for f in base.args) if several else (factor,))
    return out


def _base(factor: Term) -> tuple[Term, int]:
    if factor.op == "pow" and factor.args[1].op == "num":
        exponent = factor.args[1].value
        if isinstance(exponent, Fraction) and exponent.denominator == 1:
            return factor.args[0], exponent.numerator
    return factor, 1


def _divided(part: Term, shared: Mapping[Term, int]) -> Term:
    powers = _powers(part)
    others = [f for f in _single(part) if _base(f)[0] not in shared]
    return mul(*others, *(power(v, num(powers.get(v, 0) - least)) for v, least in shared.items()))


def _uses(equations: Iterable[Term]) -> Counter[Var]:
    """In how many equations each unknown stands."""
    return Counter(v for e in equations for v in variables(e))


def _written_out(found: list[tuple[Var, Term]]) -> tuple[tuple[Var, Term], ...]:
    """Each unknown by those that are left: what was found later stands in what was found earlier."""
    known: dict[Term, Term] = {}
    out = []
    for v, value in reversed(found):
        value = substitute(value, known) if known else value
        known[var(v)] = value
        out.append((v, value))
    return tuple(out)


def _given(
    equation: Term, uses: Mapping[Var, int], prior_of: PriorOf, sign_of: Signs
) -> tuple[Var, Term] | None:
    """The unknown best taken from an equation: derivatives and values at instants first, rare ones first."""
    best: tuple[tuple[bool, int, int, int], Var, Term] | None = None
    for v in variables(equation):
        prior = prior_of(v)
        if v.at.startswith("#") or v.role == "dummy" or not prior.by_sign:
            continue
        key = (prior.bounded, -v.order, 0 if v.at else 1, uses[v])
        if best is not None and key >= best[0]:
            continue
        split = linear(equation, v)
        if split is None or not signs.is_nonzero(sign_of(split[0])):
            continue
        value = div(neg(split[1]), split[0]) if split[0].op != "num" else mul(neg(split[1]), div(ONE, split[0]))
        if prior.bounded and sign_of(value) != (signs.POSITIVE if prior.lower == 0 else signs.NEGATIVE):
            continue
        best = (key, v, value)
    return None if best is None else best[1:]


@lru_cache(maxsize=8192)  # parts shared by many places are otherwise taken apart at each of them
def linear(t: Term, v: Var, depth: int = 0) -> tuple[Term, Term] | None:
    """(a, b) with t = a·v + b and neither a nor b holding v, where t reads so without expanding more than it must."""
    if v not in variables(t):
        return ZERO, t
    if t.op == "var":
        return ONE, ZERO
    if depth > _DEEPEST or t.op not in ("add", "mul"):
        return None
    if t.op == "add":
        parts = [linear(a, v, depth + 1) for a in t.args]
        if any(p is None for p in parts):
            return None
        return add(*(p[0] for p in parts if p)), add(*(p[1] for p in parts if p))
    holding = [a for a in t.args if v in variables(a)]
    inner = linear(holding[0], v, depth + 1) if len(holding) == 1 else None
    if inner is None:
        return None
    others = [a for a in t.args if a is not holding[0]]
    return mul(*others, inner[0]), mul(*others, inner[1])


def cancels(t: Term) -> bool:
    """Is a sum zero at sight, its terms cancelling one by one?"""
    if t.op != "add":
        return t is ZERO
    alike: dict[tuple[int, ...], list[Fraction]] = {}
    for part in t.args:
        factors = part.args if part.op == "mul" else (part,)
        number = factors[0].value if factors[0].op == "num" else ONE.value
        alike.setdefault(tuple(sorted(id(f) for f in factors if f.op != "num")), []).append(number)
    # What stands alone is seen before anything is added up.
    return all(len(numbers) > 1 for numbers in alike.values()) and not any(map(sum, alike.values()))


class Signs:
    """The possible signs of terms, from what is admissible of their unknowns."""

    def __init__(self, prior_of: PriorOf) -> None:
        self.prior_of = prior_of
        self.known: dict[Term, int] = {}

    def __call__(self, t: Term) -> int:
        if t not in self.known:
            for s in postorder(t):
                if s not in self.known:
                    self.known[s] = self._one(s)
        return self.known[t]

    def unreal(self, t: Term) -> bool:
        return any(s is IMAGINARY or (s.op == "var" and self.prior_of(s.value).complex)
                   for s in postorder(t))

    def _one(self, t: Term) -> int:
        if t.op == "num":
            return signs.POSITIVE if t.value > 0 else signs.NEGATIVE if t.value < 0 else signs.NIL
        if t.op == "var":
            return _of_prior(self.prior_of(t.value))
        inside = [self.known.get(a, signs.ANY) for a in t.args]
        if t.op == "add":
            return _folded(signs.total, inside)
        if t.op == "mul":
            return _folded(signs.product, inside)
        if t.op == "pow":
            return _of_power(t, inside)
        return self._function(t, inside)

    def _function(self, t: Term, inside: list[int]) -> int:
        if t is PI:
            return signs.POSITIVE
        if t.op == "int" or not t.args:
            return signs.ANY
        name = str(t.value)
        if name in ("exp", "cosh"):
            return signs.POSITIVE if not inside[0] & signs.UNREAL else signs.ANY
        if name in ("sqrt", "abs") and inside[0] == signs.POSITIVE:
            return signs.POSITIVE
        if name in ("sin", "cos", "tan") and t.args[0].op == "var":
            prior = self.prior_of(t.args[0].value)
            low, high = (-pi / 2, pi / 2) if name == "cos" else (0, pi if name == "sin" else pi / 2)
            if low - 1e-12 <= prior.lower and prior.upper <= high + 1e-12:
                return signs.POSITIVE
        return signs.REAL if name in ("sin", "cos", "arctan", "sinh", "tanh") else signs.ANY


def _folded(rule: Callable[[int, int], int], parts: list[int]) -> int:
    out = parts[0]
    for p in parts[1:]:
        out = rule(out, p)
    return out


def _of_power(t: Term, inside: list[int]) -> int:
    e = t.args[1]
    if inside[0] == signs.POSITIVE and not inside[1] & signs.UNREAL:
        return signs.POSITIVE
    if e.op == "num" and e.value.denominator == 1:
        if e.value < 0 and inside[0] & signs.NIL:
            return signs.ANY
        return signs.powered(inside[0], abs(e.value.numerator))
    return signs.ANY


@lru_cache(maxsize=512)
def _of_prior(prior: Prior) -> int:
    if prior.complex:
        return signs.ANY
    if prior.lower >= 0:
        return signs.POSITIVE
    return signs.NEGATIVE if prior.upper <= 0 else signs.REAL


__all__ = ["Reduced", "cancels", "linear", "reduced"]
