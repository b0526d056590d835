"""Terms read over the atoms of one certificate: what its polynomials are about."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import lcm

from derive.proof.recheck.arithmetic import (
    UNIT,
    Poly,
    Quot,
    Refused,
    multiply,
    number,
    plus,
    raised,
    require,
    same_but_scale,
    sum_of,
    times,
    to_power,
)
from derive.proof.recheck.rules import exponential, function, integrated
from derive.proof.records import Reading, ReadingKind
from derive.terms.signs import (
    ANY,
    NONNEGATIVE,
    REAL,
    SAID,
    UNREAL,
    Known,
    Sign,
    negated,
    of_atom,
    of_number,
    of_polynomial,
    of_variables,
    powered,
    product,
    ranges,
)
from derive.terms.term import (
    IMAGINARY,
    ZERO,
    Term,
    Var,
    fun,
    mul,
    num,
    postorder,
    power,
    sub,
    substitute,
    var,
)

_MAX_DEPTH = 60


class Expansion:
    """Terms of one certificate read over its atoms, with its readings."""

    def __init__(
        self, atoms: Sequence[Term], readings: Sequence[Reading], signs: Iterable[tuple[Var, str]],
        known: Iterable[Known],
    ) -> None:
        words, known = dict(signs), tuple(known)
        require(all(v.role != "dummy" for v in words))
        self.declared = of_variables(words.items(), known)
        self.ranges = ranges(self.declared, known)
        self.index: dict[Term, int] = {}
        self.atoms: list[Term] = []
        self._readings = {(r.kind, r.of): r for r in readings}
        require(len(self._readings) == len(readings))
        self._done: dict[Term, Quot] = {}
        self._checked: set[tuple[str, Term]] = set()
        self._depth = 0
        for a in atoms:
            require(a not in self.index)
            self.index[a] = len(self.atoms)
            self.atoms.append(a)
        self.signs = _Signs(self)
        self._known: list[tuple[Poly, Sign]] = []
        for k in known:
            self._learn(k)

    def of(self, t: Term) -> Quot:
        for s in postorder(t):
            if s not in self._done and s.op in ("num", "var", "add", "mul"):
                self._done[s] = self.plain(s)
        return self.one(t)

    def _learn(self, k: Known) -> None:
        try:
            num, den = self.of(k.term)
        except Refused:
            return  # what cannot be read cannot be used either
        s = SAID[k.relation]
        for p, e in den:
            s = product(s, powered(self.poly_sign(p), e))
        self._known.append((num, s))

    def poly_sign(self, p: Poly) -> Sign:
        """By the signs of the atoms, or because it is a multiple of something known."""
        s = of_polynomial([(c, m) for m, c in p.items()], self.signs)
        if s in (REAL, ANY):
            for k, sign in self._known:
                if same_but_scale(k, p):
                    m = next(iter(p))
                    return s & (sign if p[m] / k[m] > 0 else negated(sign))
            if p:
                s &= of_number([(c, [(self.atoms[i], e) for i, e in m]) for m, c in p.items()])
        return s

    def equal(self, a: Term, b: Term) -> bool:
        return not self.of(sub(a, b))[0]

    def one(self, t: Term) -> Quot:
        if t not in self._done:
            self._depth += 1
            require(self._depth < _MAX_DEPTH)
            self._done[t] = self.plain(t)
            self._depth -= 1
        return self._done[t]

    def plain(self, t: Term) -> Quot:
        if t.op == "num":
            assert isinstance(t.value, Fraction)
            return number(t.value)
        if t.op == "var":
            return self.variable(t)
        if t.op == "add":
            total = number(0)
            for a in t.args:
                total = sum_of(total, self.one(a))
            return total
        if t.op == "mul":
            out = number(1)
            for a in t.args:
                out = times(out, self.one(a))
            return out
        if t.op == "pow":
            return self.powered_term(*t.args)
        if t.op == "fun":
            return function(self, t)
        return self.opaque(t)

    def atom(self, t: Term) -> Quot:
        if t not in self.index:
            self.index[t] = len(self.atoms)
            self.atoms.append(t)
        return {((self.index[t], 1),): Fraction(1)}, ()

    def reading(self, kind: ReadingKind, of: Term) -> Reading | None:
        return self._readings.get((kind, of))

    def variable(self, t: Term) -> Quot:
        r = self.reading("root", t)
        if r is None:
            return self.atom(t)
        require(isinstance(t.value, Var) and not self.declared[t.value] & ~NONNEGATIVE)
        d = degree(r)
        return raised(self.atom(power(t, num(Fraction(1, d)))), d)

    def opaque(self, t: Term) -> Quot:
        r = self.reading("same", t)
        if r is not None:
            (other,), (sign,) = r.parts, r.numbers
            require(self.same(t, other, sign))
            return times(number(sign), self.atom(other))
        r = self.reading("integrated", t)
        if r is not None:
            return integrated(self, t, r.parts[0])
        return self.atom(t)

    def same(self, t: Term, other: Term, sign: Fraction) -> bool:
        if t.op != other.op or len(t.args) != len(other.args):
            return False
        if t.op == "fun":
            odd = t.value in ("arctan", "arcsin", "arcsinh", "arctanh")
            require(t.value == other.value and (sign == 1 or (sign == -1 and odd)))
            return all(self.equal(a, mul(num(sign), b)) for a, b in zip(t.args, other.args, strict=True))
        if t.op != "int" or sign != 1:
            return False
        (body, *ends), (body2, *ends2) = t.args, other.args
        assert isinstance(t.value, Var) and isinstance(other.value, Var)
        one = Var("∙", role="dummy")
        bodies = substitute(body, {var(t.value): var(one)}), substitute(body2, {var(other.value): var(one)})
        return self.equal(*bodies) and all(a is b or self.equal(a, b) for a, b in zip(ends, ends2, strict=True))

    def powered_term(self, base: Term, e: Term) -> Quot:
        if e.op == "num":
            assert isinstance(e.value, Fraction)
            if e.value.denominator == 1:
                if base.op == "fun" and base.value == "abs" and e.value % 2 == 0:
                    require(not self.sign(base.args[0]) & UNREAL)
                    return raised(self.one(base.args[0]), int(e.value))
                return raised(self.one(base), int(e.value))
            return self.root(base, e.value)
        if base.op == "fun" and base.value == "exp":
            require(not self.sign(base.args[0]) & UNREAL)
            return exponential(self, mul(base.args[0], e))
        return exponential(self, mul(e, fun("ln", base)))

    def root(self, base: Term, q: Fraction) -> Quot:
        out = number(1)
        for part, n in self.product_of(base):
            out = times(out, self.part(part, n * q))
        return out

    def product_of(self, base: Term) -> list[tuple[Term, Fraction]]:
        """Factors whose own powers may be taken one by one: none negative, but for one that must then share
        the sign that the whole has wherever its root or logarithm exists."""
        r = self.reading("product", base)
        if r is None:
            return [(base, Fraction(1))]
        parts = list(zip(r.parts, r.numbers, strict=True))
        if ("product", base) not in self._checked:
            self._checked.add(("product", base))
            out = number(1)
            unsure = 0
            for part, n in parts:
                out = times(out, self.part(part, n))
                s = self.sign(part)
                require(not s & UNREAL and (n > 0 or part is not ZERO))
                unsure += bool(s & ~NONNEGATIVE)
                require(not s & ~NONNEGATIVE or n % 2 == 1)
            require(unsure <= 1 and self.matches(base, out))
        return parts

    def matches(self, base: Term, out: Quot) -> bool:
        found = self.one(base)
        return not sum_of(found, times(number(-1), out))[0]

    def part(self, f: Term, r: Fraction) -> Quot:
        if f.op == "fun" and f.value == "exp":
            return exponential(self, mul(num(r), f.args[0]))
        if r.denominator == 1:
            return self.powered_term(f, num(r)) if r != 1 else self.one(f)
        reading = self.reading("root", f)
        d = degree(reading) if reading is not None else r.denominator
        require((r * d).denominator == 1)
        # An odd root exists of negative numbers too; a root of it of even degree does not.
        require(d == r.denominator or r.denominator % 2 == 0 or not self.sign(f) & ~NONNEGATIVE)
        return raised(self.atom(power(f, num(Fraction(1, d)))), int(r * d))

    def sign(self, t: Term) -> Sign:
        top, den = self.one(t)
        s = self.poly_sign(top)
        for p, e in den:
            s = product(s, powered(self.poly_sign(p), e))
        return s

    def side(self, i: int) -> Poly:
        """The relation that an atom satisfies by what it stands for."""
        a = self.atoms[i]
        if a is IMAGINARY:
            return {((i, 2),): Fraction(1), (): Fraction(1)}
        if a.op == "pow" and a.args[1].op == "num":
            e = a.args[1].value
            assert isinstance(e, Fraction)
            require(e.numerator == 1)
            top, den = self.of(a.args[0])
            left: Poly = {((i, e.denominator),): Fraction(1)}
            for p, n in den:
                left = multiply(left, to_power(p, n))
            whole = Fraction(lcm(*(c.denominator for c in top.values())))
            return {m: c * whole for m, c in plus(left, top, -1).items()}
        if a.op == "fun" and a.value in ("sin", "cos"):
            c, s = self.atom(fun("cos", a.args[0]))[0], self.atom(fun("sin", a.args[0]))[0]
            return plus(plus(multiply(c, c), multiply(s, s)), UNIT, -1)
        require(a.op == "fun" and a.value == "abs" and not self.sign(a.args[0]) & UNREAL)
        top, den = self.of(a.args[0])
        require(not den)
        return plus({((i, 2),): Fraction(1)}, multiply(top, top), -1)


class _Signs:
    """The sign of each atom, worked out when first asked for."""

    def __init__(self, expansion: Expansion) -> None:
        self._expansion = expansion
        self._done: dict[int, Sign] = {}

    def __getitem__(self, i: int) -> Sign:
        if i not in self._done:
            x = self._expansion
            self._done[i] = of_atom(x.atoms[i], x.declared, x.ranges, x.sign)
        return self._done[i]


def degree(r: Reading) -> int:
    (d,) = r.numbers
    require(d.denominator == 1 and 2 <= d <= 24)
    return int(d)
