"""What becomes small: Taylor series with a bounded rest, and how fast an expression of small quantities vanishes.

A function of something that goes to 0 is its series to some degree and a rest: an unknown that stays bounded, times
the next power (Taylor's theorem). What is then a quotient of polynomials vanishes as fast as the slowest term above
the line does against the quickest that stays below it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import factorial

from derive.proof.recheck.arithmetic import Monomial, Poly, require
from derive.proof.recheck.expansion import Expansion
from derive.proof.records import Series
from derive.terms.signs import NEGATIVE, POSITIVE, UNREAL, is_nonzero, powered, product
from derive.terms.term import ONE, ZERO, Term, Var, add, div, fun, mul, num, power, sub, var, variables

# An exponential that dies out does so faster than any power that a line can hold.
_FASTER = Fraction(10**6)
_MOST_DEGREES = 12

# The coefficients of series about 0, by degree.
_WAVES = {"sin": 1, "cos": 0}
_SIMPLE = ("sin", "cos", "exp", "sinh", "cosh", "arctan")


def tail(k: int) -> Term:
    """The bounded unknown in the rest of the k-th series."""
    return var(Var(f"rest{k}", role="tail"))


def written_out(s: Series, k: int) -> Term:
    """The series of a function with its rest."""
    f, n = s.of, s.degree
    require(0 <= n <= _MOST_DEGREES)
    if f.op == "fun" and f.value in _SIMPLE:
        require(s.base is ZERO)
        u = f.args[0]
        return add(*(mul(num(_coefficient(str(f.value), j)), power(u, num(j))) for j in range(n + 1)), _rest(u, n, k))
    u = step_of(s)
    if f.op == "fun":
        require(f.value == "ln")
        terms = [mul(num(Fraction((-1) ** (j + 1), j)), power(u, num(j))) for j in range(1, n + 1)]
        return add(fun("ln", s.base), *terms, _rest(u, n, k))
    require(f.op == "pow" and isinstance(f.args[1].value, Fraction))
    q = f.args[1].value
    return mul(power(s.base, f.args[1]), add(*(
        mul(num(_binomial(q, j)), power(u, num(j))) for j in range(n + 1)), _rest(u, n, k)))


def step_of(s: Series) -> Term:
    """What the series is in powers of: the argument itself, or how far it is from its base, measured by that."""
    a = s.of.args[0]
    return a if s.base is ZERO else sub(div(a, s.base), ONE)


def _rest(u: Term, n: int, k: int) -> Term:
    return mul(tail(k), power(u, num(n + 1)))


def _coefficient(name: str, j: int) -> Fraction:
    if name == "arctan":
        return Fraction((-1) ** (j // 2), j) if j % 2 else Fraction(0)
    if name in _WAVES:
        return Fraction((-1) ** (j // 2), factorial(j)) if j % 2 == _WAVES[name] else Fraction(0)
    if name in ("sinh", "cosh"):
        return Fraction(1, factorial(j)) if j % 2 == (name == "sinh") else Fraction(0)
    return Fraction(1, factorial(j))


def _binomial(q: Fraction, j: int) -> Fraction:
    out = Fraction(1)
    for i in range(j):
        out *= (q - i) / (i + 1)
    return out


class Smallness:
    """How fast terms vanish, by the weights of what is small (1) or large (-1)."""

    def __init__(self, small: Sequence[tuple[Var, int]], expansion: Expansion) -> None:
        require(all(w in (1, -1) for _, w in small) and len(dict(small)) == len(small))
        self.small: Mapping[Var, int] = dict(small)
        self.expansion = expansion

    def require_series(self, s: Series) -> None:
        """May the function be written as its series: does what it is in powers of vanish, about a base it can have?"""
        require(self.weight(step_of(s)) > 0)
        if s.base is not ZERO:
            require(not self._varies(s.base))
            sign = self.expansion.sign(s.base)
            whole = s.of.op == "pow" and s.of.args[1].value.denominator == 1
            require(is_nonzero(sign) and not sign & UNREAL and (whole or sign == POSITIVE))

    def weight(self, t: Term) -> Fraction:
        """The power of smallness with which a term vanishes, at least; negative where it may grow."""
        top, den = self.expansion.of(t)
        if not top:
            return 2 * _FASTER
        out = min(map(self._of_monomial, top))
        for p, e in den:
            out -= e * self._leading(p)
        return out

    def _leading(self, p: Poly) -> Fraction:
        """The weight of what a divisor comes to, where that is surely not nothing."""
        least = min(map(self._of_monomial, p))
        lead = {m: c for m, c in p.items() if self._of_monomial(m) == least}
        require(not any(self._is_tail(i) for m in lead for i, _ in m))
        # Its own small quantities have no part in whether the leading terms cancel where there is one of them only.
        bare = _without(lead, {i for m in lead for i, _ in m if self._atom(i)})
        require(is_nonzero(self.expansion.poly_sign(bare)))
        return least

    def _of_monomial(self, m: Monomial) -> Fraction:
        return sum((e * self._atom(i) for i, e in m), Fraction(0))

    def _atom(self, i: int) -> Fraction:
        a = self.expansion.atoms[i]
        if a.op == "var" and isinstance(a.value, Var):
            return Fraction(self.small.get(a.value, 0))
        if not self._varies(a):
            return Fraction(0)
        if a.op == "pow" and a.args[0].op == "var" and a.args[0].value in self.small:
            e = a.args[1].value
            require(isinstance(e, Fraction))
            return e * self.small[a.args[0].value]
        require(a.op == "fun" and a.value == "exp")
        return self._of_exponential(a.args[0])

    def _of_exponential(self, b: Term) -> Fraction:
        """An exponential of what grows beyond all bounds with one large quantity, in a direction that is known."""
        top, den = self.expansion.of(b)
        large = [v for v in variables(b) if v in self.small]
        require(len(top) == 1 and len(large) == 1 and self.small[large[0]] == -1)
        ((m, c),) = top.items()
        i = self.expansion.index[var(large[0])]
        require(dict(m).get(i, 0) > 0 and not any(i == j for p, _ in den for n in p for j, _ in n))
        sign = self.expansion.poly_sign({tuple(pair for pair in m if pair[0] != i): c})
        for p, e in den:
            sign = product(sign, powered(self.expansion.poly_sign(p), e))
        require(sign in (POSITIVE, NEGATIVE))
        return -_FASTER if sign == POSITIVE else _FASTER

    def _varies(self, t: Term) -> bool:
        return any(v in self.small or v.role == "tail" for v in variables(t))

    def _is_tail(self, i: int) -> bool:
        return any(v.role == "tail" for v in variables(self.expansion.atoms[i]))


def _without(p: Poly, atoms: set[int]) -> Poly:
    """A polynomial in which some atoms stand to one and the same power in every term, without them."""
    bare: Poly = {}
    taken = {tuple(pair for pair in m if pair[0] in atoms) for m in p}
    require(len(taken) == 1)
    for m, c in p.items():
        bare[tuple(pair for pair in m if pair[0] not in atoms)] = c
    return bare


__all__ = ["Smallness", "step_of", "tail", "written_out"]
