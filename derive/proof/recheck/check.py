"""The check itself: premises, derived premises, what is shown instead, and the chain of identities."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from derive.proof.recheck.arithmetic import (
    Poly,
    Refused,
    free_of,
    from_written,
    multiply,
    plus,
    require,
    same_but_scale,
    to_power,
)
from derive.proof.recheck.expansion import Expansion
from derive.proof.recheck.series import Smallness, written_out
from derive.proof.recheck.slopes import slope
from derive.proof.records import Certificate, Derived, Factor, Facts, GoalMove, Premise, Quotient, Source, Step
from derive.terms.signs import (
    DOMAIN,
    NIL,
    NONNEGATIVE,
    NONZERO,
    POSITIVE,
    UNREAL,
    Bound,
    Known,
    Range,
    Sign,
    domain,
    is_nonzero,
    is_real,
    powered,
    product,
    range_of,
    total,
    within,
)
from derive.terms.term import ONE, ZERO, Term, fun, mul, sub, substitute, variables

_ALLOWED: dict[str, Sign] = {">": POSITIVE, "≥": NONNEGATIVE, "≠": NONZERO | UNREAL}
_HALF = Fraction(1, 2)
_PRINCIPAL = {
    "arctan": (-_HALF, _HALF, True), "arcsin": (-_HALF, _HALF, False), "arccos": (Fraction(0), Fraction(1), False),
}
_ONE_TO_ONE = {"tan": (-_HALF, _HALF), "sin": (-_HALF, _HALF), "cos": (Fraction(0), Fraction(1))}
_MALFORMED = (Refused, LookupError, TypeError, ValueError, AttributeError, ArithmeticError, RecursionError)


def recheck(certificate: Certificate, facts: Facts | None = None) -> bool:
    """Does the certificate show what it says? With `facts`, also that it uses no others than these."""
    try:
        if facts is not None:
            _only_uses(certificate, facts)
        _Check(certificate).run()
    except _MALFORMED:
        return False
    return True


def _only_uses(c: Certificate, facts: Facts) -> None:
    for v, word in c.signs:
        require(facts.sign_of(v) == word)
    require(_outer(c.known) <= set(facts.inequalities()))
    if facts.slope_of is not None:
        for v, t in c.slopes:
            require(facts.slope_of(v) is t)


def _outer(known: Iterable[Known]) -> set[Known]:
    return {k for k in known if k.label != DOMAIN}


def _is_root_of(p: Poly, d: Poly) -> bool:
    """Is d a small power of p, up to a number?"""
    return any(same_but_scale(to_power(p, n), d) for n in range(1, 5) if n == 1 or len(d) > len(p))


class _Check:
    """One certificate, its terms expanded as they are met."""

    def __init__(self, c: Certificate) -> None:
        self.c = c
        self.expansion = Expansion(c.atoms, c.readings, c.signs, c.known)
        self.smallness = Smallness(c.small, self.expansion)

    def run(self) -> None:
        c = self.c
        self._domain()
        require(len(c.quotients) == len(c.premises) + len(c.derived) + 1)
        for lemma in c.lemmas:
            self._lemma(lemma)
        terms = [self._premise(p) for p in c.premises]
        for d in c.derived:
            terms.append(self._derived(d, terms))
        shown = c.target
        for move in c.goal:
            require(c.relation == "=" or move.kind == "replace")
            shown = self._easier(shown, move)
        if c.relation == "O":
            self._vanishes(shown)  # asked of the term itself: how it reads as one fraction does not matter
        for t, q in zip([*terms, shown], c.quotients, strict=True):
            if c.relation != "O" or t is not shown:
                self._quotient(t, q)
        known = [self._step(s, i) for i, s in enumerate(c.steps)]
        self._concludes(known)

    def _lemma(self, lemma: Certificate) -> None:
        require(type(lemma) is Certificate)
        require(lemma.relation == "=")
        require(set(lemma.premises) <= set(self.c.premises))
        require(set(lemma.signs) <= set(self.c.signs) and _outer(lemma.known) <= set(self.c.known))
        _Check(lemma).run()

    def _domain(self) -> None:
        """What is said to hold because the terms exist must be needed for them to exist."""
        terms = (self.c.target, *(p.term for p in self.c.premises))
        said = {k for k in self.c.known if k.label == DOMAIN}
        require(not said or said <= set(domain(terms, is_real(terms, self.c.signs))))

    # --- premises and what is shown

    def _premise(self, p: Premise) -> Term:
        if p.how:
            require(p.how == "d/dt" and p.origin is not None)
            assert p.origin is not None
            require(self.expansion.equal(slope(p.origin, dict(self.c.slopes)), p.term))
        return p.term

    def _derived(self, d: Derived, terms: list[Term]) -> Term:
        require(0 <= d.source < len(terms))
        source = terms[d.source]
        if d.kind == "replace":
            return self._replaced(source, d.terms, d.lemma)
        if d.kind == "exp":
            (w,) = d.terms
            self._defined(w)
            return sub(fun("exp", mul(w, source)), ONE)
        if d.kind == "at":
            return self._at(d, source)
        require(d.kind == "ln")
        a, b, k = d.terms
        require(self.expansion.equal(source, mul(k, sub(a, b))) and is_nonzero(self._sign(k)))
        require(self._sign(a) == POSITIVE)
        return sub(fun("ln", a), fun("ln", b))

    def _at(self, d: Derived, source: Term) -> Term:
        t, t0 = d.terms
        require(d.source < len(self.c.premises) and self.c.premises[d.source].always)
        require(t.op == "var" and free_of(t0, "dummy"))
        slopes = dict(self.c.slopes)
        for v in variables(source, t0):
            require((v == t.value and slopes[v] is ONE) or slopes[v] is ZERO)
        require(t.value not in variables(t0))
        self._defined(t0)
        return substitute(source, {t: t0})

    def _replaced(self, t: Term, terms: tuple[Term, ...], lemma: int) -> Term:
        v, e = terms
        require(v.op == "var" and free_of(e, "dummy") and 0 <= lemma < len(self.c.lemmas))
        require(self.c.lemmas[lemma].target is sub(v, e))
        return substitute(t, {v: e})

    def _easier(self, shown: Term, move: GoalMove) -> Term:
        if move.kind == "replace":
            return self._replaced(shown, move.terms, move.lemma)
        if move.kind == "exp":
            (w,) = move.terms
            self._defined(w)
            require(is_nonzero(self._sign(w)) and not self._sign(mul(w, shown)) & UNREAL)
            return sub(fun("exp", mul(w, shown)), ONE)
        low, high = _ONE_TO_ONE[move.kind]
        a, b, k = move.terms
        require(self.expansion.equal(shown, mul(k, sub(a, b))))
        for t in (a, b):
            inside = within(self._range(t), low, high)
            require(inside if move.kind == "tan" else inside is not None)
        return sub(fun(move.kind, a), fun(move.kind, b))

    def _vanishes(self, shown: Term) -> None:
        c = self.c
        require(free_of(c.target, "tail") and all(free_of(p.term, "tail") for p in c.premises))
        for k, s in enumerate(c.series):
            self.smallness.require_series(s)
            shown = substitute(shown, {s.of: written_out(s, k)})
        require(c.order > 0 and not c.steps and self.smallness.weight(shown) >= c.order)

    def _range(self, t: Term) -> Range:
        if t.op == "fun" and t.value in _PRINCIPAL:
            low, high, is_open = _PRINCIPAL[str(t.value)]
            return Bound(Fraction(0), low, is_open), Bound(Fraction(0), high, is_open)
        return range_of(t, self.expansion.ranges)

    def _sign(self, t: Term) -> Sign:
        return self.expansion.sign(t)

    def _poly_sign(self, p: Poly) -> Sign:
        return self.expansion.poly_sign(p)

    def _defined(self, t: Term) -> None:
        """No denominator of a term that the certificate brings in may vanish."""
        require(all(is_nonzero(self._poly_sign(p)) for p, _ in self.expansion.of(t)[1]))

    def _quotient(self, t: Term, q: Quotient) -> None:
        num, den = self.expansion.of(t)
        left, right = from_written(q.num), num
        for p, e in den:
            for _ in range(e):
                left = multiply(left, p)
        given = [(from_written(w), e) for w, e in q.den]
        for p, e in given:
            require(e > 0 and (is_nonzero(self._poly_sign(p)) or any(_is_root_of(p, d) for d, _ in den)))
            for _ in range(e):
                right = multiply(right, p)
        require(left == right)

    # --- the chain

    def _step(self, s: Step, position: int) -> Poly:
        require(s.power >= 1 and (s.power == 1 or not s.rest))
        left = to_power(from_written(s.result), s.power)
        for f in s.factors:
            p = from_written(f.poly)
            require(f.exponent > 0)
            self._nonzero(f, p, position)
            for _ in range(f.exponent):
                left = multiply(left, p)
        right = from_written(s.rest)
        require(not s.rest or position == len(self.c.steps) - 1)
        for source, cofactor in s.parts:
            right = plus(right, multiply(from_written(cofactor), self._source(source, position)))
        require(left == right)
        return from_written(s.result)

    def _source(self, source: Source, position: int) -> Poly:
        i = source.index
        require(i >= 0)
        if source.kind == "premise":
            require(i < len(self.c.quotients) - 1)
            return from_written(self.c.quotients[i].num)
        if source.kind == "step":
            require(i < position)
            return from_written(self.c.steps[i].result)
        require(source.kind == "side")
        return self.expansion.side(i)

    def _nonzero(self, f: Factor, p: Poly, position: int) -> None:
        if f.reason == "sign":
            require(f.index == -1 and not (f.times or f.by or f.parts))
            require(is_nonzero(self._poly_sign(p)))
        else:
            require(f.reason == "shown")
            right = from_written(f.by)
            require(is_nonzero(self._poly_sign(right)))
            if f.index >= 0:
                require(self.c.known[f.index].relation in (">", "≠"))
                right = multiply(right, self.expansion.of(self.c.known[f.index].term)[0])
            for source, cofactor in f.parts:
                right = plus(right, multiply(from_written(cofactor), self._source(source, position)))
            require(multiply(p, from_written(f.times)) == right)

    def _concludes(self, results: list[Poly]) -> None:
        shown = from_written(self.c.quotients[-1].num)
        last = self.c.steps[-1] if self.c.steps else None
        if self.c.relation == "O":
            return
        if self.c.relation == "=":
            if last is None:
                require(not shown)
            else:
                require(not last.rest and same_but_scale(results[-1], shown))
            return
        if last is None:
            s = self._bounded(shown)
        else:
            require(results[-1] == shown and last.power == 1)
            s = self._bounded(from_written(last.rest))
            for f in last.factors:
                s = product(s, powered(self._poly_sign(from_written(f.poly)), f.exponent))
        for w, e in self.c.quotients[-1].den:
            s = product(s, powered(self._poly_sign(from_written(w)), e))
        require(not s & ~_ALLOWED[self.c.relation])

    def _bounded(self, p: Poly) -> Sign:
        """The sign of a polynomial as a sum of weighted known inequalities, squares, and a remainder of one sign."""
        s = NIL
        for index, weight in self.c.bounds:
            require(index >= 0)
            k, w = self.c.known[index], from_written(weight)
            num, den = self.expansion.of(k.term)
            one = _ALLOWED[k.relation]
            for d, e in den:
                one = product(one, powered(self._poly_sign(d), e))
            s = total(s, product(one, self._poly_sign(w)))
            p = plus(p, multiply(w, num), -1)
        for weight, base in self.c.squares:
            w, b = from_written(weight), from_written(base)
            s = total(s, product(powered(self._poly_sign(b), 2), self._poly_sign(w)))
            p = plus(p, multiply(w, multiply(b, b)), -1)
        return total(s, self._poly_sign(p))
