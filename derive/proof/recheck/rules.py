"""What functions and integrals are in simpler ones: the re-checker's table of identities.

A reading named in the certificate is used only after what it claims has been multiplied out and compared.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from derive.proof.recheck.arithmetic import Quot, inverse, number, raised, require, sum_of, times
from derive.proof.recheck.slopes import slope_by
from derive.terms.signs import NONNEGATIVE, UNREAL, is_smooth, negated, of_bound
from derive.terms.term import IMAGINARY, ONE, PI, TWO, ZERO, Term, Var, add, fun, mul, num, power, sub, substitute, var

if TYPE_CHECKING:
    from derive.proof.recheck.expansion import Expansion


def function(x: Expansion, t: Term) -> Quot:
    """A function as what the rules make of its argument; one without a rule stands for itself."""
    name = str(t.value)
    if name in OF_WAVES:
        return OF_WAVES[name](*wave(x, t.args[0]))
    if name == "exp":
        return exponential(x, t.args[0])
    if name in OF_EXPONENTIAL:
        e = exponential(x, t.args[0])
        return OF_EXPONENTIAL[name](e, inverse(e))
    if name == "ln":
        return logarithm(x, t.args[0])
    if name == "log10":
        return times(logarithm(x, t.args[0]), inverse(logarithm(x, num(10))))
    if name == "sqrt":
        return x.powered_term(t.args[0], num(Fraction(1, 2)))
    if name == "abs":
        return magnitude(x, t.args[0])
    require(name != "inf")
    return x.opaque(t)


def magnitude(x: Expansion, a: Term) -> Quot:
    """|a|: by the parts of a product that was written down, by its sign, or as it stands."""
    out = number(1)
    r = x.reading("product", fun("abs", a))
    if r is not None:
        whole = number(1)
        for part, n in zip(r.parts, r.numbers, strict=True):
            whole = times(whole, x.part(part, n))
            out = times(out, x.part(part if not x.sign(part) & ~NONNEGATIVE else fun("abs", part), n))
        require(x.matches(a, whole))
        return out
    s = x.sign(a)
    if not s & ~NONNEGATIVE:
        return x.one(a)
    if not negated(s) & ~NONNEGATIVE:
        return times(number(-1), x.one(a))
    return x.atom(fun("abs", a))


def wave(x: Expansion, a: Term) -> tuple[Quot, Quot]:
    """(cosine, sine) of an angle."""
    r = x.reading("angle", a)
    if r is None:
        return base_wave(x, a)
    whole: list[Term] = [mul(num(r.numbers[-1]), PI)]
    c, s = turned(x, r.numbers[-1])
    for b, n in zip(r.parts, r.numbers[:-1], strict=True):
        require(n.denominator == 1 and abs(n) <= 24)
        whole.append(mul(num(n), b))
        cb, sb = base_wave(x, b)
        if n < 0:
            sb = times(number(-1), sb)
        for _ in range(abs(int(n))):
            c, s = turn(c, s, cb, sb)
    require(x.equal(a, add(*whole)))
    return c, s


def base_wave(x: Expansion, b: Term) -> tuple[Quot, Quot]:
    """(cosine, sine) of an angle that is taken as it is."""
    if b.op == "fun" and b.value in ("arctan", "arcsin", "arccos"):
        inner = x.one(b.args[0])
        if b.value == "arctan":
            c = x.powered_term(add(ONE, power(b.args[0], TWO)), num(Fraction(-1, 2)))
            return c, times(c, inner)
        rest = x.powered_term(sub(ONE, power(b.args[0], TWO)), num(Fraction(1, 2)))
        return (rest, inner) if b.value == "arcsin" else (inner, rest)
    return x.atom(fun("cos", b)), x.atom(fun("sin", b))


def turned(x: Expansion, q: Fraction) -> tuple[Quot, Quot]:
    """(cosine, sine) of q·π for a multiple of 30 or 45 degrees."""
    q = q % 2
    c, s = number(1), number(0)
    for _ in range(int(q / Fraction(1, 2))):
        c, s = times(number(-1), s), c
    rest = q % Fraction(1, 2)
    if rest == 0:
        return c, s
    half, root3 = number(Fraction(1, 2)), x.powered_term(num(3), num(Fraction(1, 2)))
    third = times(half, root3)
    root2 = times(half, x.powered_term(num(2), num(Fraction(1, 2)))) if rest == Fraction(1, 4) else half
    values = {Fraction(1, 6): (third, half), Fraction(1, 4): (root2, root2), Fraction(1, 3): (half, third)}
    require(rest in values)
    return turn(c, s, *values[rest])


def exponential(x: Expansion, a: Term) -> Quot:
    """e^a: as a turning pointer, or as a product of powers, where the certificate says so and it is so."""
    r = x.reading("rotating", a)
    if r is not None:
        real, angle = r.parts
        require(x.equal(a, add(real, mul(IMAGINARY, angle))) and not x.sign(angle) & UNREAL)
        c, s = wave(x, angle)
        return times(exponential(x, real), sum_of(c, times(x.atom(IMAGINARY), s)))
    r = x.reading("exponent", a)
    if r is None:
        return exp_of(x, a, Fraction(1))
    out = number(1)
    whole: list[Term] = []
    for b, n in zip(r.parts, r.numbers, strict=True):
        whole.append(mul(num(n), b))
        out = times(out, exp_of(x, b, n))
    require(x.equal(a, add(*whole)))
    return out


def exp_of(x: Expansion, b: Term, n: Fraction) -> Quot:
    """e^(n b) for a whole n; e^(n ln c) is cⁿ."""
    if b.op == "fun" and b.value == "ln" and not x.sign(b.args[0]) & UNREAL:
        return x.part(b.args[0], n)
    if b is ZERO:
        return number(1)
    require(n.denominator == 1)
    return raised(x.atom(fun("exp", b)), int(n))


def logarithm(x: Expansion, a: Term) -> Quot:
    """ln a as the sum of the logarithms of its factors."""
    total = number(0)
    for part, n in x.product_of(a):
        if part.op == "fun" and part.value == "exp" and not x.sign(part.args[0]) & UNREAL:
            total = sum_of(total, times(number(n), x.one(part.args[0])))
        elif part is not ONE:
            total = sum_of(total, times(number(n), x.atom(fun("ln", part))))
    return total


def integrated(x: Expansion, t: Term, primitive: Term) -> Quot:
    """An integral as the difference of a primitive at its ends, if that is smooth between them and has this slope."""
    body, lower, upper = t.args
    bound = t.value
    assert isinstance(bound, Var)
    between = of_bound(x.sign(lower), x.sign(upper))
    require(not between & UNREAL and x.declared.setdefault(bound, between) == between)
    require(is_smooth(primitive, bound, (lower, upper), x.sign))
    require(x.equal(slope_by(primitive, bound), body))
    ends = [substitute(primitive, {var(bound): end}) for end in (upper, lower)]
    return x.of(sub(*ends))


def turn(c: Quot, s: Quot, cb: Quot, sb: Quot) -> tuple[Quot, Quot]:
    minus = number(-1)
    return sum_of(times(c, cb), times(minus, times(s, sb))), sum_of(times(s, cb), times(c, sb))


OF_WAVES: dict[str, Callable[[Quot, Quot], Quot]] = {
    "cos": lambda c, s: c,
    "sin": lambda c, s: s,
    "tan": lambda c, s: times(s, inverse(c)),
    "cot": lambda c, s: times(c, inverse(s)),
    "sec": lambda c, s: inverse(c),
    "csc": lambda c, s: inverse(s),
}
OF_EXPONENTIAL: dict[str, Callable[[Quot, Quot], Quot]] = {
    "sinh": lambda e, f: times(number(Fraction(1, 2)), sum_of(e, times(number(-1), f))),
    "cosh": lambda e, f: times(number(Fraction(1, 2)), sum_of(e, f)),
    "tanh": lambda e, f: times(sum_of(e, times(number(-1), f)), inverse(sum_of(e, f))),
}
