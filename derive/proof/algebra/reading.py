"""Terms read as quotients of polynomials in atoms, with the side relations of the atoms.

Variables under a root are written as powers of that root, angles and exponents in terms of a few basic ones,
logarithms of products as sums. Each such choice is noted as a `Reading`, for the re-checker to repeat.
Finding the degrees of the roots and the basic angles takes a first pass over the terms: `Plan`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.clock import Clock
from derive.proof.algebra.integrals import antiderivative
from derive.proof.algebra.factors import factors
from derive.proof.algebra.lattice import Vector, basis, combination
from derive.proof.algebra.polynomials import (
    Poly, TooLarge, add, atom, coefficients, content, divides, monomial_items, mul, primitive, scale,
)
from derive.proof.algebra.polynomials import power as poly_power
from derive.proof.algebra.quotients import Quotient
from derive.proof.records import Known, Reading, ReadingKind
from derive.proof.signs import (
    ANY, NIL, NONNEGATIVE, POSITIVE, REAL, SAID, UNREAL, Range, Sign, is_smooth, negated, of_atom, of_bound, of_polynomial, powered, product,
)
from derive.proof.term import IMAGINARY, ONE, PI, TWO, ZERO, Term, Var, fun, num, postorder, power, substitute, var
from derive.proof.term import add as plus_terms
from derive.proof.term import mul as times_terms

_MAX_POWER = 64
_HALF = Fraction(1, 2)


class Unread(Exception):
    """A term that has no reading as a quotient of polynomials (an infinity, an enormous power)."""


@dataclass(slots=True)
class Plan:
    """What a pass over all the terms finds for the next one."""

    degrees: dict[Term, int] = field(default_factory=dict)
    angles: list[Vector] = field(default_factory=list)
    exponents: list[Vector] = field(default_factory=list)
    pieces: dict[object, Term] = field(default_factory=dict)
    angle_base: list[tuple[Vector, Term]] = field(default_factory=list)
    exponent_base: list[tuple[Vector, Term]] = field(default_factory=list)


class Reader:
    """Reads the terms of one proof; `atoms`, `signs`, `sides` and `readings` grow as it does."""

    def __init__(
        self, masks: Mapping[Var, Sign], where: Mapping[Var, Range], clock: Clock, plan: Plan | None = None
    ) -> None:
        self.declared, self.where, self.clock = dict(masks), where, clock
        self.plan = plan or Plan()
        self.found = Plan()
        self.atoms: list[Term] = []
        self.index: dict[Term, int] = {}
        self.signs: list[Sign] = []
        self.sides: dict[int, Poly] = {}
        self.readings: dict[tuple[ReadingKind, Term], Reading] = {}
        self._done: dict[Term, Quotient] = {}
        self._kernels: dict[object, Term] = {}
        self._known: dict[qs.Key, Sign] = {}

    # --- terms

    def read(self, t: Term) -> Quotient:
        self.clock.check()
        for s in postorder(t):
            if s.op in ("num", "var", "add", "mul") and all(a in self._done for a in s.args):
                self._one(s)
        return self._one(t)

    def _one(self, t: Term) -> Quotient:
        found = self._done.get(t)
        if found is None:
            found = self._done[t] = _RULES[t.op](self, t)
        return found

    def _number(self, t: Term) -> Quotient:
        assert isinstance(t.value, Fraction)
        if max(t.value.numerator.bit_length(), t.value.denominator.bit_length()) > 2000:
            raise Unread
        return qs.number(t.value.numerator, t.value.denominator)

    def _sum(self, t: Term) -> Quotient:
        total = qs.ZERO
        for a in t.args:
            total = qs.plus(total, self._one(a))
        return total

    def _product_of(self, t: Term) -> Quotient:
        self.clock.check()
        out = qs.UNIT
        for a in t.args:
            out = qs.times(out, self._one(a))
        return out

    def atom(self, t: Term) -> int:
        i = self.index.get(t)
        if i is None:
            i = self.index[t] = len(self.atoms)
            self.atoms.append(t)
            self.signs.append(ANY)
            self.signs[i] = of_atom(t, self.declared, self.where, self.sign)
        return i

    def _as_atom(self, t: Term) -> Quotient:
        return Quotient(atom(self.atom(t)))

    def _variable(self, t: Term) -> Quotient:
        v = t.value
        assert isinstance(v, Var)
        d = self.plan.degrees.get(t, 1)
        if d > 1 and not self.declared.get(v, REAL) & ~NONNEGATIVE:
            self.note("root", t, (), (Fraction(d),))
            return qs.raised(self._as_atom(power(t, num(Fraction(1, d)))), d)
        return self._as_atom(t)

    def note(self, kind: ReadingKind, of: Term, parts: Iterable[Term], numbers: Iterable[Fraction]) -> None:
        self.readings[kind, of] = Reading(kind, of, tuple(parts), tuple(numbers))

    # --- signs

    def poly_sign(self, p: Poly) -> Sign:
        """By the signs of the atoms, or because it is a multiple of something known."""
        s = of_polynomial([(c, monomial_items(m)) for m, c in p.items()], self.signs)
        if s in (REAL, ANY) and p:
            known = self._known.get(qs.key_of(primitive(p)))
            if known is not None:
                return s & (known if content(p) > 0 else negated(known))
        return s

    def learn(self, k: Known) -> None:
        """What is known of the sign of a term, and so of its numerator."""
        q = self.read(k.term)
        s = SAID[k.relation]
        for p, e in q.denominators():
            s = product(s, powered(self.poly_sign(p), e))
        if q.num:
            self._known[qs.key_of(primitive(q.num))] = s if content(q.num) > 0 else negated(s)

    def sign(self, t: Term) -> Sign:
        q = self._one(t)
        s = self.poly_sign(q.num)
        for p, e in q.denominators():
            s = product(s, powered(self.poly_sign(p), e))
        return s

    # --- back to terms

    def as_term(self, p: Poly) -> Term:
        return plus_terms(*(
            times_terms(num(c), *(self._atom_power(i, e) for i, e in monomial_items(m)))
            for m, c in sorted(p.items(), reverse=True)
        ))

    def _atom_power(self, i: int, e: int) -> Term:
        a = self.atoms[i]
        if a.op == "pow" and isinstance(a.args[1].value, Fraction):
            return power(a.args[0], num(a.args[1].value * e))
        return power(a, num(e))

    def quotient_term(self, q: Quotient) -> Term:
        below = [power(self.as_term(p), num(-e)) for p, e in q.denominators()]
        return times_terms(num(Fraction(1, q.whole)), self.as_term(q.num), *below)

    # --- powers, roots, products

    def _power(self, t: Term) -> Quotient:
        base, e = t.args
        if e.op == "num":
            assert isinstance(e.value, Fraction)
            if abs(e.value) > _MAX_POWER or e.value.denominator > 12:
                raise Unread
            if e.value.denominator == 1:
                return self._whole_power(base, int(e.value))
            return self._root(base, e.value)
        if base.op == "fun" and base.value == "exp" and not self.sign(base.args[0]) & UNREAL:
            return self._exponential(times_terms(base.args[0], e))
        return self._exponential(times_terms(e, fun("ln", base)))

    def _whole_power(self, base: Term, n: int) -> Quotient:
        if base.op == "fun" and base.value == "abs" and n % 2 == 0 and not self.sign(base.args[0]) & UNREAL:
            base = base.args[0]
        q = self._one(base)
        if n < 0 and not q.num:
            raise Unread
        return qs.raised(q, n)

    def _root(self, base: Term, r: Fraction) -> Quotient:
        out = qs.UNIT
        for part, n in self.product(base):
            out = qs.times(out, self._part(part, n * r))
        return out

    def product(self, base: Term) -> list[tuple[Term, Fraction]]:
        """Factors of a term whose powers may be taken one by one (see the re-checker's rule)."""
        known = self.readings.get(("product", base))
        if known is not None:
            return list(zip(known.parts, known.numbers, strict=True))
        parts = self._parted(self._one(base), for_power=True)
        if parts is None or parts == [(base, Fraction(1))]:
            return [(base, Fraction(1))]
        self.note("product", base, (p for p, _ in parts), (n for _, n in parts))
        return parts

    def _parted(self, q: Quotient, for_power: bool) -> list[tuple[Term, Fraction]] | None:
        if not q.num:
            return None
        sign, found = factors(q.num)
        parts: list[tuple[Term, Fraction]] = _primes(abs(sign), 1) + _primes(q.whole, -1)
        negative, unsure = sign < 0, dict[int, Poly]()
        for p, e in [*found, *((p, -e) for p, e in q.denominators())]:
            s = self.poly_sign(p)
            if s & UNREAL:
                return None
            if not s & ~NONNEGATIVE:
                parts.append(self._as_part(p, e))
            elif not negated(s) & ~NONNEGATIVE:
                negative ^= bool(e % 2)
                parts.append(self._as_part(scale(p, -1), e))
            elif not for_power:
                parts.append(self._as_part(p, e))
            else:  # |p|^even taken out; what is left over shares the sign of the whole
                one = (1 if e > 0 else -1) if e % 2 else 0
                if e != one:
                    parts.append((fun("abs", self.as_term(p)), Fraction(e - one)))
                if one:
                    unsure[one] = mul(unsure.get(one, {0: 1}), p)
        if for_power:
            return self._with_unsure(parts, unsure, negative)
        return [*parts, (num(-1), Fraction(1))] if negative else parts

    def _with_unsure(
        self, parts: list[tuple[Term, Fraction]], unsure: dict[int, Poly], negative: bool
    ) -> list[tuple[Term, Fraction]] | None:
        """The factors of unknown sign as one; where some are above and some below, the whole is left alone."""
        if len(unsure) > 1 or (negative and not unsure):
            return None
        for one, p in unsure.items():
            parts = [*parts, self._as_part(scale(p, -1) if negative else p, one)]
        return parts

    def _as_part(self, p: Poly, e: int) -> tuple[Term, Fraction]:
        if len(p) == 1:
            ((m, c),) = p.items()
            items = monomial_items(m)
            if c == 1 and len(items) == 1 and items[0][1] == 1:
                a = self.atoms[items[0][0]]
                if a.op == "pow" and isinstance(a.args[1].value, Fraction):
                    return a.args[0], a.args[1].value * e
                return a, Fraction(e)
        return self.as_term(p), Fraction(e)

    def _part(self, f: Term, r: Fraction) -> Quotient:
        if f.op == "fun" and f.value == "exp":
            return self._exponential(times_terms(num(r), f.args[0]))
        if r.denominator == 1:
            return self._whole_power(f, int(r))
        if r.denominator > 12 or abs(r) > _MAX_POWER:
            raise Unread
        s = self.sign(f)
        shared = lcm(self.plan.degrees.get(f, 1), self.found.degrees.get(f, 1), r.denominator)
        if r.denominator % 2 == 0 or not s & ~NONNEGATIVE:
            self.found.degrees[f] = shared
        d = self.plan.degrees.get(f, r.denominator)
        if d % r.denominator or (f.op == "var" and ("root", f) not in self.readings):
            d = r.denominator
        if d != r.denominator:
            self.note("root", f, (), (Fraction(d),))
        i = self.atom(power(f, num(Fraction(1, d))))
        if f.op != "var" or ("root", f) not in self.readings:
            below = self._one(f)
            self.sides.setdefault(i, add(mul(_below(below), atom(i, d)), below.num, -1))
        return qs.raised(Quotient(atom(i)), int(r * d))

    # --- functions

    def _function(self, t: Term) -> Quotient:
        name = str(t.value)
        if name in _WAVES:
            return _WAVES[name](*self._wave(t.args[0]))
        if name == "exp":
            return self._exponential(t.args[0])
        if name in _HYPERBOLIC:
            e = self._exponential(t.args[0])
            return _HYPERBOLIC[name](e, qs.inverse(e))
        if name == "ln":
            return self._logarithm(t.args[0])
        if name == "log10":
            return qs.times(self._logarithm(t.args[0]), qs.inverse(self._logarithm(num(10))))
        if name == "sqrt":
            return self._root(t.args[0], _HALF)
        if name == "abs":
            return self._magnitude(t.args[0])
        if name == "inf":
            raise Unread
        if t is IMAGINARY:
            i = self.atom(t)
            self.sides[i] = {**atom(i, 2), 0: 1}
            return Quotient(atom(i))
        return self._opaque(t)

    def _opaque(self, t: Term) -> Quotient:
        if not t.args:
            return self._as_atom(t)
        key, sign = self._canonical(t)
        first = self._kernels.setdefault(key, t)
        if first is not t:
            other = self._canonical(first)[1]
            self.note("same", t, (first,), (Fraction(sign * other),))
            return qs.times(qs.number(sign * other), self._as_atom(first))
        return self._as_atom(t)

    def _canonical(self, t: Term) -> tuple[object, int]:
        args = [self._one(a) for a in t.args]
        if t.value in ("arctan", "arcsin", "arcsinh", "arctanh"):
            q = args[0]
            if q.num and q.num[max(q.num)] < 0:
                return (t.value, Quotient(scale(q.num, -1), q.whole, q.monomial, q.factors).key), -1
        return (t.value, tuple(a.key for a in args)), 1

    def _integral(self, t: Term) -> Quotient:
        assert isinstance(t.value, Var)
        done = self._integrated(t, t.value)
        if done is not None:
            return done
        one = Var("∙", role="dummy")
        body = substitute(t.args[0], {var(t.value): var(one)})
        ends = tuple(a if a.op == "fun" and a.value == "inf" else self._one(a).key for a in t.args[1:])
        first = self._kernels.setdefault(("∫", self._one(body).key, ends), t)
        if first is not t:
            self.note("same", t, (first,), (Fraction(1),))
        return self._as_atom(first)

    def _integrated(self, t: Term, bound: Var) -> Quotient | None:
        """By an antiderivative that is continuous between the limits, where one is found."""
        body, lower, upper = t.args
        if any(a.op == "fun" and a.value == "inf" for a in (lower, upper)):
            return None
        between = of_bound(self.sign(lower), self.sign(upper))
        if between & UNREAL or self.declared.setdefault(bound, between) != between:
            return None
        here = self.index.get(var(bound))
        if here is not None:  # the body may have been met before its limits
            self.signs[here] = between
        primitive = antiderivative(body, bound, self)
        if primitive is None or not is_smooth(primitive, bound, (lower, upper), self.sign):
            return None
        self.note("integrated", t, (primitive,), ())
        return self._one(plus_terms(
            substitute(primitive, {var(bound): upper}), times_terms(num(-1), substitute(primitive, {var(bound): lower}))))

    def _magnitude(self, a: Term) -> Quotient:
        q = self._one(a)
        s = self.sign(a)
        if not s & ~NONNEGATIVE:
            return q
        if not negated(s) & ~NONNEGATIVE:
            return qs.minus(qs.ZERO, q)
        parts = self._parted(q, for_power=False)
        if s & UNREAL or parts is None:
            return self._as_atom(fun("abs", a))
        if len(parts) == 1 and parts[0][1] == 1:
            return self._abs_part(*parts[0]) if parts[0][0] is a else self._split_abs(a, parts)
        return self._split_abs(a, parts)

    def _split_abs(self, a: Term, parts: list[tuple[Term, Fraction]]) -> Quotient:
        self.note("product", fun("abs", a), (p for p, _ in parts), (n for _, n in parts))
        out = qs.UNIT
        for part, n in parts:
            out = qs.times(out, self._abs_part(part, n))
        return out

    def _abs_part(self, part: Term, n: Fraction) -> Quotient:
        if not self.sign(part) & ~NONNEGATIVE:
            return self._part(part, n)
        if part.op == "num":
            return qs.UNIT
        a = fun("abs", part)
        i = self.atom(a)
        inner = self._one(part)
        self.sides.setdefault(i, add(atom(i, 2), poly_power(inner.num, 2), -1))
        if n.denominator == 1:
            return qs.raised(inner if n % 2 == 0 else Quotient(atom(i)), int(n))
        return self._part(a, n)

    # --- angles

    def _wave(self, a: Term) -> tuple[Quotient, Quotient]:
        vector, turn = self._angle_vector(a)
        self.found.angles.append(vector)
        base = self.plan.angle_base
        whole = combination(vector, [v for v, _ in base]) if base else None
        parts: list[tuple[Term, int]] = []
        if whole is not None:
            parts = [(b, n) for (_, b), n in zip(base, whole, strict=True) if n]
        elif vector:
            parts = [(self._vector_term(vector), 1)]
        if turn.denominator not in (1, 2, 3, 4, 6):
            parts.append((times_terms(num(Fraction(1, turn.denominator)), PI), turn.numerator))
            turn = Fraction(0)
        if parts != [(a, 1)] or turn:
            numbers = [*(Fraction(n) for _, n in parts), turn]
            self.note("angle", a, (b for b, _ in parts), numbers)
        c, s = self._turned(turn)
        for b, n in parts:
            if abs(n) > 24:
                raise Unread
            cb, sb = self._base_wave(b)
            sb = qs.minus(qs.ZERO, sb) if n < 0 else sb
            for _ in range(abs(n)):
                c, s = _turn(c, s, cb, sb)
        return c, s

    def _angle_vector(self, a: Term) -> tuple[Vector, Fraction]:
        vector = self._vector(a)
        turn = Fraction(0)
        for key in list(vector):
            if self.plan_piece(key) is PI:
                turn = vector.pop(key)
        return vector, turn

    def plan_piece(self, key: object) -> Term:
        return self.found.pieces[key]

    def _vector(self, t: Term) -> Vector:
        """A term as a combination of the monomials of its summands."""
        out: Vector = {}
        for part in t.args if t.op == "add" else (t,):
            for piece, c in self._vector_of(self._one(part)).items():
                total = out.get(piece, Fraction(0)) + c
                out[piece] = total
        return {piece: c for piece, c in out.items() if c}

    def _vector_of(self, q: Quotient) -> Vector:
        out: Vector = {}
        whole, rest = _divided(q)
        for part, factors_below in ((whole, ()), (rest, q.factors)):
            for m, c in sorted(part.items(), reverse=True):
                piece = self.quotient_term(qs.lowered({m: 1}, 1, q.monomial, dict(factors_below)))
                out[piece] = out.get(piece, Fraction(0)) + Fraction(c, q.whole)
                self.found.pieces[piece] = piece
        return out

    def _vector_term(self, v: Vector) -> Term:
        return plus_terms(*(times_terms(num(c), self.found.pieces[k]) for k, c in v.items()))

    def _base_wave(self, b: Term) -> tuple[Quotient, Quotient]:
        if b.op == "fun" and b.value in ("arctan", "arcsin", "arccos"):
            inner = b.args[0]
            x = self._one(inner)
            if b.value == "arctan":
                c = self._root(plus_terms(ONE, power(inner, TWO)), -_HALF)
                return c, qs.times(c, x)
            rest = self._root(plus_terms(ONE, times_terms(num(-1), power(inner, TWO))), _HALF)
            return (rest, x) if b.value == "arcsin" else (x, rest)
        c, s = self.atom(fun("cos", b)), self.atom(fun("sin", b))
        self.sides[s] = add(add(atom(c, 2), atom(s, 2)), {0: 1}, -1)
        return Quotient(atom(c)), Quotient(atom(s))

    def _turned(self, q: Fraction) -> tuple[Quotient, Quotient]:
        q = q % 2
        c, s = qs.UNIT, qs.ZERO
        for _ in range(int(q / _HALF)):
            c, s = qs.minus(qs.ZERO, s), c
        rest = q % _HALF
        if rest == 0:
            return c, s
        half = qs.number(1, 2)
        if rest == Fraction(1, 4):
            root = qs.times(half, self._root(TWO, _HALF))
            return _turn(c, s, root, root)
        third = qs.times(half, self._root(num(3), _HALF))
        return _turn(c, s, *((third, half) if rest == Fraction(1, 6) else (half, third)))

    # --- exponentials and logarithms

    def _exponential(self, a: Term) -> Quotient:
        q = self._one(a)
        i = self.index.get(IMAGINARY)
        if i is not None and any(m >> (12 * i) & 4095 for m in q.num):
            return self._rotating(a, q, i)
        vector = self._vector(a)
        logs = {k: c for k, c in vector.items() if self._is_log(k, c)}
        rest = {k: c for k, c in vector.items() if k not in logs}
        self.found.exponents.append(rest)
        base = self.plan.exponent_base
        whole = combination(rest, [v for v, _ in base]) if base else None
        parts: list[tuple[Term, Fraction]] = [(self.found.pieces[k], c) for k, c in logs.items()]
        if whole is not None:
            parts += [(b, Fraction(n)) for (_, b), n in zip(base, whole, strict=True) if n]
        elif rest:
            parts.append((self._vector_term(rest), Fraction(1)))
        if parts != [(a, 1)]:
            self.note("exponent", a, (b for b, _ in parts), (n for _, n in parts))
        out = qs.UNIT
        for b, n in parts:
            if b.op == "fun" and b.value == "ln":
                out = qs.times(out, self._part(b.args[0], n))
            else:
                out = qs.times(out, qs.raised(self._as_atom(fun("exp", b)), int(n)))
        return out

    def _is_log(self, key: object, c: Fraction) -> bool:
        piece = self.found.pieces[key]
        return (piece.op == "fun" and piece.value == "ln" and c.denominator <= 12 and abs(c) <= _MAX_POWER
                and not self.sign(piece.args[0]) & UNREAL)

    def _rotating(self, a: Term, q: Quotient, i: int) -> Quotient:
        by_power = coefficients(q.num, i)
        if any(m >> (12 * i) & 4095 for p, _ in q.denominators() for m in p):
            return self._as_atom(fun("exp", a))
        halves: list[Poly] = [{}, {}]
        for e, p in by_power.items():
            halves[e % 2] = add(halves[e % 2], p, -1 if e % 4 > 1 else 1)
        real, angle = (
            self.quotient_term(qs.lowered(p, q.whole, q.monomial, dict(q.factors))) for p in halves)
        if self.sign(angle) & UNREAL:
            return self._as_atom(fun("exp", a))
        self.note("rotating", a, (real, angle), ())
        c, s = self._wave(angle)
        return qs.times(self._exponential(real), qs.plus(c, qs.times(self._one(IMAGINARY), s)))

    def _logarithm(self, a: Term) -> Quotient:
        total = qs.ZERO
        for part, n in self.product(a):
            times = qs.number(n.numerator, n.denominator)
            if part.op == "fun" and part.value == "exp" and not self.sign(part.args[0]) & UNREAL:
                total = qs.plus(total, qs.times(times, self._one(part.args[0])))
            elif part is not ONE:
                total = qs.plus(total, qs.times(times, self._as_atom(fun("ln", part))))
        return total


def _primes(n: int, sign: int) -> list[tuple[Term, Fraction]]:
    """The prime powers of a whole number; a large one is left whole."""
    out: list[tuple[Term, Fraction]] = []
    p = 2
    while p * p <= n and p < 2000:
        e = 0
        while n % p == 0:
            n, e = n // p, e + 1
        if e:
            out.append((num(p), Fraction(sign * e)))
        p += 1 if p == 2 else 2
    return [*out, (num(n), Fraction(sign))] if n > 1 else out


def _divided(q: Quotient) -> tuple[Poly, Poly]:
    """(whole, rest) with num = whole · factors + rest, so that a + a/(1 + x) has the piece a in it."""
    if not q.factors:
        return q.num, {}
    below: Poly = {0: 1}
    for key, e in q.factors:
        below = mul(below, poly_power(dict(key), e))
    lead = max(below)
    whole: Poly = {}
    rest: Poly = {}
    left = q.num
    while left:
        m = max(left)
        if divides(lead, m) and left[m] % below[lead] == 0:
            term = {m - lead: left[m] // below[lead]}
            whole, left = add(whole, term), add(left, mul(term, below), -1)
        else:
            rest[m] = left[m]
            left = {n: c for n, c in left.items() if n != m}
    return whole, rest


def _below(q: Quotient) -> Poly:
    out: Poly = {0: q.whole}
    for p, e in q.denominators():
        out = mul(out, poly_power(p, e))
    return out


def _turn(c: Quotient, s: Quotient, cb: Quotient, sb: Quotient) -> tuple[Quotient, Quotient]:
    return qs.minus(qs.times(c, cb), qs.times(s, sb)), qs.plus(qs.times(s, cb), qs.times(c, sb))


def _ratio(a: Quotient, b: Quotient) -> Quotient:
    if not b.num:
        raise Unread
    return qs.times(a, qs.inverse(b))


_WAVES: dict[str, Callable[[Quotient, Quotient], Quotient]] = {
    "cos": lambda c, s: c, "sin": lambda c, s: s, "tan": lambda c, s: _ratio(s, c), "cot": lambda c, s: _ratio(c, s),
    "sec": lambda c, s: _ratio(qs.UNIT, c), "csc": lambda c, s: _ratio(qs.UNIT, s),
}
_HYPERBOLIC: dict[str, Callable[[Quotient, Quotient], Quotient]] = {
    "sinh": lambda e, f: qs.times(qs.number(1, 2), qs.minus(e, f)),
    "cosh": lambda e, f: qs.times(qs.number(1, 2), qs.plus(e, f)),
    "tanh": lambda e, f: _ratio(qs.minus(e, f), qs.plus(e, f)),
}
_RULES: dict[str, Callable[[Reader, Term], Quotient]] = {
    "num": Reader._number, "var": Reader._variable, "add": Reader._sum, "mul": Reader._product_of, "pow": Reader._power,
    "fun": Reader._function, "int": Reader._integral,
}


def planned(
    terms: Sequence[Term], known: Sequence[Known], masks: Mapping[Var, Sign], where: Mapping[Var, Range], clock: Clock
) -> tuple[Reader, list[Quotient | None]]:
    """A reader for these terms with the roots, angles and exponents they share, and what each reads as."""
    plan = Plan()
    for _ in range(6):  # nested functions settle from the inside outwards
        reader = Reader(masks, where, clock, plan)
        for k in known:
            with suppress(Unread, TooLarge, RecursionError):
                reader.learn(k)
        read = [_read_or_none(reader, t) for t in terms]
        better = _next_plan(reader)
        if better.degrees == plan.degrees and better.angle_base == plan.angle_base and (
                better.exponent_base == plan.exponent_base):
            break
        plan = better
    return reader, read


def _read_or_none(reader: Reader, t: Term) -> Quotient | None:
    try:
        return reader.read(t)
    except (Unread, TooLarge, RecursionError):
        return None


def _next_plan(reader: Reader) -> Plan:
    found = reader.found
    plan = Plan(degrees={t: d for t, d in found.degrees.items() if d > 1})
    plan.angle_base = [(v, reader._vector_term(v)) for v in basis(found.angles)]
    plan.exponent_base = [(v, reader._vector_term(v)) for v in basis(found.exponents)]
    return plan


__all__ = ["NIL", "POSITIVE", "ZERO", "Plan", "Reader", "Unread", "planned"]
