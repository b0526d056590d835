"""Terms multiplied out for the re-checker: numerators and denominators over a list of atoms.

Polynomials here are dicts from ((atom, exponent), …) to exact fractions, with schoolbook arithmetic and no
division. A reading is used only after what it claims has been multiplied out and compared.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from math import lcm

from derive.proof.records import Known, Reading, Written
from derive.proof.signs import (
    ANY,
    NONNEGATIVE,
    REAL,
    SAID,
    UNREAL,
    Sign,
    is_smooth,
    negated,
    of_atom,
    of_bound,
    of_polynomial,
    of_variables,
    powered,
    product,
    ranges,
)
from derive.proof.term import (
    IMAGINARY,
    ONE,
    PI,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    fun,
    mul,
    num,
    postorder,
    power,
    sub,
    substitute,
    var,
)

Monomial = tuple[tuple[int, int], ...]
Poly = dict[Monomial, Fraction]
Quot = tuple[Poly, tuple[tuple[Poly, int], ...]]

_MAX_TERMS = 20_000
_MAX_DEPTH = 60


class Refused(Exception):
    """The certificate does not show what it says."""


def _require(condition: object) -> None:
    if not condition:
        raise Refused


# --- arithmetic ---------------------------------------------------------------------------------


def from_written(w: Written) -> Poly:
    out: Poly = {}
    for coefficient, monomial in w:
        _require(isinstance(coefficient, Fraction) and coefficient)
        _require(list(monomial) == sorted(dict(monomial).items()) and all(i >= 0 and e > 0 for i, e in monomial))
        _require(monomial not in out)
        out[tuple(monomial)] = coefficient
    return out


def plus(p: Poly, q: Poly, factor: int = 1) -> Poly:
    out = dict(p)
    for m, c in q.items():
        total = out.get(m, 0) + factor * c
        if total:
            out[m] = Fraction(total)
        else:
            out.pop(m, None)
    return out


def multiply(p: Poly, q: Poly) -> Poly:
    out: dict[Monomial, Fraction] = {}
    for m, c in p.items():
        for n, d in q.items():
            k = _merged(m, n)
            out[k] = out.get(k, Fraction(0)) + c * d
        _require(len(out) <= _MAX_TERMS)
    return {m: c for m, c in out.items() if c}


def _merged(m: Monomial, n: Monomial) -> Monomial:
    if not m:
        return n
    if not n:
        return m
    exponents = dict(m)
    for i, e in n:
        exponents[i] = exponents.get(i, 0) + e
    return tuple(sorted(exponents.items()))


def to_power(p: Poly, n: int) -> Poly:
    _require(0 <= n <= 200)
    out: Poly = {(): Fraction(1)}
    for _ in range(n):
        out = multiply(out, p)
    return out


def same_but_scale(p: Poly, q: Poly) -> bool:
    if not p or not q or p.keys() != q.keys():
        return False
    m = next(iter(p))
    ratio = q[m] / p[m]
    return all(q[n] == ratio * c for n, c in p.items())


def free_of(t: Term, role: str) -> bool:
    return not any(x.op == "var" and isinstance(x.value, Var) and x.value.role == role for x in postorder(t))


# --- quotients ----------------------------------------------------------------------------------

_UNIT: Poly = {(): Fraction(1)}


def _den(parts: Iterable[tuple[Poly, int]]) -> tuple[tuple[Poly, int], ...]:
    """Denominators by factor: a monomial by its atoms, equal factors together, numbers left out."""
    counts: dict[frozenset[tuple[Monomial, Fraction]], tuple[Poly, int]] = {}
    for p, e in parts:
        key = frozenset(p.items())
        counts[key] = (p, counts.get(key, (p, 0))[1] + e)
    return tuple(counts.values())


def _inverse(q: Quot) -> Quot:
    top, den = q
    _require(top)
    lead = top[max(top)]
    below = {m: c / lead for m, c in top.items()}
    over: Poly = {(): 1 / lead}
    for p, e in den:
        over = multiply(over, to_power(p, e))
    if len(below) == 1:
        ((m, _),) = below.items()
        return over, _den(({((i, 1),): Fraction(1)}, e) for i, e in m)
    return over, ((below, 1),)


def _times(a: Quot, b: Quot) -> Quot:
    return multiply(a[0], b[0]), _den((*a[1], *b[1]))


def _plus(a: Quot, b: Quot) -> Quot:
    if not a[0]:
        return b
    if not b[0]:
        return a
    in_a = {frozenset(p.items()): (p, e) for p, e in a[1]}
    in_b = {frozenset(p.items()): (p, e) for p, e in b[1]}
    common: list[tuple[Poly, int]] = []
    left, right = a[0], b[0]
    for key in in_a | in_b:
        p = (in_a.get(key) or in_b[key])[0]
        ea, eb = in_a.get(key, (p, 0))[1], in_b.get(key, (p, 0))[1]
        high = max(ea, eb)
        left, right = multiply(left, to_power(p, high - ea)), multiply(right, to_power(p, high - eb))
        common.append((p, high))
    return plus(left, right), tuple(common)


def _raised(q: Quot, n: int) -> Quot:
    if n < 0:
        return _raised(_inverse(q), -n)
    _require(n <= 200)
    return to_power(q[0], n), tuple((p, e * n) for p, e in q[1]) if n else ()


def _number(value: Fraction | int) -> Quot:
    return ({(): Fraction(value)} if value else {}), ()


# --- terms --------------------------------------------------------------------------------------


class Expansion:
    """Terms of one certificate read over its atoms, with its readings."""

    def __init__(
        self, atoms: Sequence[Term], readings: Sequence[Reading], signs: Iterable[tuple[Var, str]], known: Iterable[Known]
    ) -> None:
        words, known = dict(signs), tuple(known)
        _require(all(v.role != "dummy" for v in words))
        self.declared = of_variables(words.items(), known)
        self.ranges = ranges(self.declared, known)
        self.index: dict[Term, int] = {}
        self.atoms: list[Term] = []
        self._readings = {(r.kind, r.of): r for r in readings}
        _require(len(self._readings) == len(readings))
        self._done: dict[Term, Quot] = {}
        self._checked: set[tuple[str, Term]] = set()
        self._depth = 0
        for a in atoms:
            _require(a not in self.index)
            self.index[a] = len(self.atoms)
            self.atoms.append(a)
        self.signs = _Signs(self)
        self._known: list[tuple[Poly, Sign]] = []
        for k in known:
            self._learn(k)

    def of(self, t: Term) -> Quot:
        for s in postorder(t):
            if s not in self._done and s.op in ("num", "var", "add", "mul"):
                self._done[s] = self._plain(s)
        return self._one(t)

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
        return s

    def equal(self, a: Term, b: Term) -> bool:
        return not self.of(sub(a, b))[0]

    def _one(self, t: Term) -> Quot:
        if t not in self._done:
            self._depth += 1
            _require(self._depth < _MAX_DEPTH)
            self._done[t] = self._plain(t)
            self._depth -= 1
        return self._done[t]

    def _plain(self, t: Term) -> Quot:
        if t.op == "num":
            assert isinstance(t.value, Fraction)
            return _number(t.value)
        if t.op == "var":
            return self._variable(t)
        if t.op == "add":
            total = _number(0)
            for a in t.args:
                total = _plus(total, self._one(a))
            return total
        if t.op == "mul":
            out = _number(1)
            for a in t.args:
                out = _times(out, self._one(a))
            return out
        if t.op == "pow":
            return self._power(*t.args)
        if t.op == "fun":
            return self._function(t)
        return self._opaque(t)

    def atom(self, t: Term) -> Quot:
        if t not in self.index:
            self.index[t] = len(self.atoms)
            self.atoms.append(t)
        return {((self.index[t], 1),): Fraction(1)}, ()

    def _reading(self, kind: str, of: Term) -> Reading | None:
        return self._readings.get((kind, of))  # type: ignore[call-overload, no-any-return]

    def _variable(self, t: Term) -> Quot:
        r = self._reading("root", t)
        if r is None:
            return self.atom(t)
        _require(isinstance(t.value, Var) and not self.declared[t.value] & ~NONNEGATIVE)
        d = _degree(r)
        return _raised(self.atom(power(t, num(Fraction(1, d)))), d)

    def _opaque(self, t: Term) -> Quot:
        r = self._reading("same", t)
        if r is not None:
            (other,), (sign,) = r.parts, r.numbers
            _require(self._same(t, other, sign))
            return _times(_number(sign), self.atom(other))
        r = self._reading("integrated", t)
        if r is not None:
            return self._integrated(t, r.parts[0])
        return self.atom(t)

    def _same(self, t: Term, other: Term, sign: Fraction) -> bool:
        if t.op != other.op or len(t.args) != len(other.args):
            return False
        if t.op == "fun":
            odd = t.value in ("arctan", "arcsin", "arcsinh", "arctanh")
            _require(t.value == other.value and (sign == 1 or (sign == -1 and odd)))
            return all(self.equal(a, mul(num(sign), b)) for a, b in zip(t.args, other.args, strict=True))
        if t.op != "int" or sign != 1:
            return False
        (body, *ends), (body2, *ends2) = t.args, other.args
        assert isinstance(t.value, Var) and isinstance(other.value, Var)
        one = Var("∙", role="dummy")
        bodies = substitute(body, {var(t.value): var(one)}), substitute(body2, {var(other.value): var(one)})
        return self.equal(*bodies) and all(a is b or self.equal(a, b) for a, b in zip(ends, ends2, strict=True))

    # --- powers and products

    def _power(self, base: Term, e: Term) -> Quot:
        if e.op == "num":
            assert isinstance(e.value, Fraction)
            if e.value.denominator == 1:
                if base.op == "fun" and base.value == "abs" and e.value % 2 == 0:
                    _require(not self.sign(base.args[0]) & UNREAL)
                    return _raised(self._one(base.args[0]), int(e.value))
                return _raised(self._one(base), int(e.value))
            return self._root(base, e.value)
        if base.op == "fun" and base.value == "exp":
            _require(not self.sign(base.args[0]) & UNREAL)
            return self._exponential(mul(base.args[0], e))
        return self._exponential(mul(e, fun("ln", base)))

    def _root(self, base: Term, q: Fraction) -> Quot:
        out = _number(1)
        for part, n in self._product(base):
            out = _times(out, self._part(part, n * q))
        return out

    def _product(self, base: Term) -> list[tuple[Term, Fraction]]:
        """Factors whose own powers may be taken one by one: none negative, but for one that must then share
        the sign that the whole has wherever its root or logarithm exists."""
        r = self._reading("product", base)
        if r is None:
            return [(base, Fraction(1))]
        parts = list(zip(r.parts, r.numbers, strict=True))
        if ("product", base) not in self._checked:
            self._checked.add(("product", base))
            out = _number(1)
            unsure = 0
            for part, n in parts:
                out = _times(out, self._part(part, n))
                s = self.sign(part)
                _require(not s & UNREAL and (n > 0 or part is not ZERO))
                unsure += bool(s & ~NONNEGATIVE)
                _require(not s & ~NONNEGATIVE or n % 2 == 1)
            _require(unsure <= 1 and self._matches(base, out))
        return parts

    def _matches(self, base: Term, out: Quot) -> bool:
        found = self._one(base)
        return not _plus(found, _times(_number(-1), out))[0]

    def _part(self, f: Term, r: Fraction) -> Quot:
        if f.op == "fun" and f.value == "exp":
            return self._exponential(mul(num(r), f.args[0]))
        if r.denominator == 1:
            return self._power(f, num(r)) if r != 1 else self._one(f)
        reading = self._reading("root", f)
        d = _degree(reading) if reading is not None else r.denominator
        _require((r * d).denominator == 1)
        # An odd root exists of negative numbers too; a root of it of even degree does not.
        _require(d == r.denominator or r.denominator % 2 == 0 or not self.sign(f) & ~NONNEGATIVE)
        return _raised(self.atom(power(f, num(Fraction(1, d)))), int(r * d))

    # --- functions

    def _function(self, t: Term) -> Quot:
        name = str(t.value)
        if name in _OF_WAVES:
            return _OF_WAVES[name](*self._wave(t.args[0]))
        if name == "exp":
            return self._exponential(t.args[0])
        if name in _OF_EXPONENTIAL:
            e = self._exponential(t.args[0])
            return _OF_EXPONENTIAL[name](e, _inverse(e))
        if name == "ln":
            return self._logarithm(t.args[0])
        if name == "log10":
            return _times(self._logarithm(t.args[0]), _inverse(self._logarithm(num(10))))
        if name == "sqrt":
            return self._power(t.args[0], num(Fraction(1, 2)))
        if name == "abs":
            return self._magnitude(t.args[0])
        _require(name != "inf")
        return self._opaque(t)

    def _magnitude(self, a: Term) -> Quot:
        out = _number(1)
        r = self._reading("product", fun("abs", a))
        if r is not None:
            whole = _number(1)
            for part, n in zip(r.parts, r.numbers, strict=True):
                whole = _times(whole, self._part(part, n))
                out = _times(out, self._part(part if not self.sign(part) & ~NONNEGATIVE else fun("abs", part), n))
            _require(self._matches(a, whole))
            return out
        s = self.sign(a)
        if not s & ~NONNEGATIVE:
            return self._one(a)
        if not negated(s) & ~NONNEGATIVE:
            return _times(_number(-1), self._one(a))
        return self.atom(fun("abs", a))

    def _wave(self, a: Term) -> tuple[Quot, Quot]:
        """(cosine, sine) of an angle."""
        r = self._reading("angle", a)
        if r is None:
            return self._base_wave(a)
        whole: list[Term] = [mul(num(r.numbers[-1]), PI)]
        c, s = self._turned(r.numbers[-1])
        for b, n in zip(r.parts, r.numbers[:-1], strict=True):
            _require(n.denominator == 1 and abs(n) <= 24)
            whole.append(mul(num(n), b))
            cb, sb = self._base_wave(b)
            if n < 0:
                sb = _times(_number(-1), sb)
            for _ in range(abs(int(n))):
                c, s = _turn(c, s, cb, sb)
        _require(self.equal(a, add(*whole)))
        return c, s

    def _base_wave(self, b: Term) -> tuple[Quot, Quot]:
        if b.op == "fun" and b.value in ("arctan", "arcsin", "arccos"):
            x = self._one(b.args[0])
            if b.value == "arctan":
                c = self._power(add(ONE, power(b.args[0], TWO)), num(Fraction(-1, 2)))
                return c, _times(c, x)
            rest = self._power(sub(ONE, power(b.args[0], TWO)), num(Fraction(1, 2)))
            return (rest, x) if b.value == "arcsin" else (x, rest)
        return self.atom(fun("cos", b)), self.atom(fun("sin", b))

    def _turned(self, q: Fraction) -> tuple[Quot, Quot]:
        """(cosine, sine) of q·π for a multiple of 30 or 45 degrees."""
        q = q % 2
        c, s = _number(1), _number(0)
        for _ in range(int(q / Fraction(1, 2))):
            c, s = _times(_number(-1), s), c
        rest = q % Fraction(1, 2)
        if rest == 0:
            return c, s
        half, root3 = _number(Fraction(1, 2)), self._power(num(3), num(Fraction(1, 2)))
        third = _times(half, root3)
        root2 = _times(half, self._power(num(2), num(Fraction(1, 2)))) if rest == Fraction(1, 4) else half
        values = {Fraction(1, 6): (third, half), Fraction(1, 4): (root2, root2), Fraction(1, 3): (half, third)}
        _require(rest in values)
        return _turn(c, s, *values[rest])

    def _exponential(self, a: Term) -> Quot:
        r = self._reading("rotating", a)
        if r is not None:
            real, angle = r.parts
            _require(self.equal(a, add(real, mul(IMAGINARY, angle))) and not self.sign(angle) & UNREAL)
            c, s = self._wave(angle)
            return _times(self._exponential(real), _plus(c, _times(self.atom(IMAGINARY), s)))
        r = self._reading("exponent", a)
        if r is None:
            return self._exp_of(a, Fraction(1))
        out = _number(1)
        whole: list[Term] = []
        for b, n in zip(r.parts, r.numbers, strict=True):
            whole.append(mul(num(n), b))
            out = _times(out, self._exp_of(b, n))
        _require(self.equal(a, add(*whole)))
        return out

    def _exp_of(self, b: Term, n: Fraction) -> Quot:
        if b.op == "fun" and b.value == "ln" and not self.sign(b.args[0]) & UNREAL:
            return self._part(b.args[0], n)
        if b is ZERO:
            return _number(1)
        _require(n.denominator == 1)
        return _raised(self.atom(fun("exp", b)), int(n))

    def _logarithm(self, a: Term) -> Quot:
        total = _number(0)
        for part, n in self._product(a):
            if part.op == "fun" and part.value == "exp" and not self.sign(part.args[0]) & UNREAL:
                total = _plus(total, _times(_number(n), self._one(part.args[0])))
            elif part is not ONE:
                total = _plus(total, _times(_number(n), self.atom(fun("ln", part))))
        return total

    def _integrated(self, t: Term, primitive: Term) -> Quot:
        from derive.proof.slopes import slope_by

        body, lower, upper = t.args
        bound = t.value
        assert isinstance(bound, Var)
        between = of_bound(self.sign(lower), self.sign(upper))
        _require(not between & UNREAL and self.declared.setdefault(bound, between) == between)
        _require(is_smooth(primitive, bound, (lower, upper), self.sign))
        _require(self.equal(slope_by(primitive, bound), body))
        ends = [substitute(primitive, {var(bound): end}) for end in (upper, lower)]
        return self.of(sub(*ends))

    # --- signs and side relations

    def sign(self, t: Term) -> Sign:
        top, den = self._one(t)
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
            _require(isinstance(e, Fraction) and e.numerator == 1)
            top, den = self.of(a.args[0])
            left: Poly = {((i, e.denominator),): Fraction(1)}  # type: ignore[union-attr]
            for p, n in den:
                left = multiply(left, to_power(p, n))
            whole = Fraction(lcm(*(c.denominator for c in top.values())))
            return {m: c * whole for m, c in plus(left, top, -1).items()}
        if a.op == "fun" and a.value in ("sin", "cos"):
            c, s = self.atom(fun("cos", a.args[0]))[0], self.atom(fun("sin", a.args[0]))[0]
            return plus(plus(multiply(c, c), multiply(s, s)), _UNIT, -1)
        _require(a.op == "fun" and a.value == "abs" and not self.sign(a.args[0]) & UNREAL)
        top, den = self.of(a.args[0])
        _require(not den)
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


def _degree(r: Reading) -> int:
    (d,) = r.numbers
    _require(d.denominator == 1 and 2 <= d <= 24)
    return int(d)


def _turn(c: Quot, s: Quot, cb: Quot, sb: Quot) -> tuple[Quot, Quot]:
    minus = _number(-1)
    return _plus(_times(c, cb), _times(minus, _times(s, sb))), _plus(_times(s, cb), _times(c, sb))


_OF_WAVES: dict[str, Callable[[Quot, Quot], Quot]] = {
    "cos": lambda c, s: c,
    "sin": lambda c, s: s,
    "tan": lambda c, s: _times(s, _inverse(c)),
    "cot": lambda c, s: _times(c, _inverse(s)),
    "sec": lambda c, s: _inverse(c),
    "csc": lambda c, s: _inverse(s),
}
_OF_EXPONENTIAL: dict[str, Callable[[Quot, Quot], Quot]] = {
    "sinh": lambda e, f: _times(_number(Fraction(1, 2)), _plus(e, _times(_number(-1), f))),
    "cosh": lambda e, f: _times(_number(Fraction(1, 2)), _plus(e, f)),
    "tanh": lambda e, f: _times(_plus(e, _times(_number(-1), f)), _inverse(_plus(e, f))),
}
__all__ = ["Expansion", "Poly", "Refused", "free_of", "from_written", "multiply", "plus", "same_but_scale", "to_power"]
