"""Which signs a quantity can have: a small algebra of possibilities, and what ranges say of an angle.

A `Sign` is a set of possibilities, as bits. The prover uses it to know what may be divided by, the
re-checker to accept that; it simplifies nothing and errs only towards "anything is possible".
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal, Protocol

from derive.terms.enclosure import Weighed, above_or_below, is_number
from derive.terms.term import IMAGINARY, PI, Term, Var, fun, postorder, substitute, var

Sign = int
NEGATIVE, NIL, POSITIVE, UNREAL = 1, 2, 4, 8
NONNEGATIVE = NIL | POSITIVE
NONZERO = NEGATIVE | POSITIVE
REAL = NEGATIVE | NIL | POSITIVE
ANY = REAL | UNREAL

DECLARED: dict[str, Sign] = {
    "positive": POSITIVE, "nonnegative": NONNEGATIVE, "negative": NEGATIVE, "nonpositive": NEGATIVE | NIL,
    "nonzero": NONZERO, "real": REAL, "complex": ANY,
}


@dataclass(frozen=True, slots=True)
class Known:
    """`term` stands in `relation` to 0 in every admissible state (a declared range, an earlier inequality)."""

    term: Term
    relation: Literal[">", "≥", "≠"] = ">"
    label: str = ""


def is_nonzero(s: Sign) -> bool:
    return not s & NIL


@cache
def product(a: Sign, b: Sign) -> Sign:
    """What signs a product can have."""
    nil = (a | b) & NIL
    if (a | b) & UNREAL:
        return (ANY & ~NIL) | nil
    out = nil
    if (a & POSITIVE and b & POSITIVE) or (a & NEGATIVE and b & NEGATIVE):
        out |= POSITIVE
    if (a & POSITIVE and b & NEGATIVE) or (a & NEGATIVE and b & POSITIVE):
        out |= NEGATIVE
    return out


@cache
def total(a: Sign, b: Sign) -> Sign:
    """What signs a sum can have."""
    if (a | b) & UNREAL:
        return ANY
    out = 0
    for one in (NEGATIVE, NIL, POSITIVE):
        for two in (NEGATIVE, NIL, POSITIVE):
            if a & one and b & two:
                out |= REAL if one | two == NONZERO else (one | two) & NONZERO or NIL
    return out


def powered(s: Sign, exponent: int) -> Sign:
    """What signs a whole power can have."""
    if exponent % 2:
        return s
    if s & UNREAL:
        return ANY & ~NIL | s & NIL
    return (POSITIVE if s & NONZERO else 0) | s & NIL


def negated(s: Sign) -> Sign:
    return s & ~NONZERO | (POSITIVE if s & NEGATIVE else 0) | (NEGATIVE if s & POSITIVE else 0)


class SignOfAtom(Protocol):
    """The sign of each atom by its number."""

    def __getitem__(self, index: int, /) -> Sign: ...


def of_polynomial(
    terms: Iterable[tuple[Fraction | int, Sequence[tuple[int, int]]]], atom_sign: SignOfAtom
) -> Sign:
    """The possible signs of a sum of monomials (coefficient, ((atom, exponent), …))."""
    out = NIL
    for coefficient, monomial in terms:
        one = POSITIVE if coefficient > 0 else NEGATIVE
        for atom, exponent in monomial:
            one = product(one, powered(atom_sign[atom], exponent))
        out = total(out, one)
        if out in (REAL, ANY):
            return out
    return out


def of_number(terms: Sequence[Weighed]) -> Sign:
    """The sign of a sum of products of terms, where nothing in them varies."""
    if not all(is_number(t) for _, powers in terms for t, _ in powers):
        return ANY
    side = above_or_below(terms)
    return POSITIVE if side > 0 else NEGATIVE if side < 0 else ANY


SAID: dict[str, Sign] = {">": POSITIVE, "≥": NONNEGATIVE, "≠": NONZERO | UNREAL}


def of_variables(signs: Iterable[tuple[Var, str]], known: Iterable[Known]) -> dict[Var, Sign]:
    """The possible signs of each variable: its declared word, and what is known of it alone."""
    out = {v: DECLARED[word] for v, word in signs}
    for k in known:
        if isinstance(k.term.value, Var):
            out[k.term.value] = out.get(k.term.value, REAL) & SAID[k.relation]
    return out


def of_atom(
    a: Term, declared: Mapping[Var, Sign], where: Mapping[Var, Range], sign_of: Callable[[Term], Sign]
) -> Sign:
    """The possible signs of a term that is read as one piece."""
    if a.op == "var" and isinstance(a.value, Var):
        return declared.get(a.value, REAL)
    if a is PI:
        return POSITIVE
    if a is IMAGINARY:
        return ANY & ~NIL
    if a.op == "pow" and isinstance(a.args[1].value, Fraction):
        of = a.args[0]
        # A variable under a root is itself read as a power of this atom: its own word is what counts.
        inner = declared.get(of.value, REAL) if isinstance(of.value, Var) else sign_of(of)
        if inner & UNREAL:
            return ANY
        return inner & NONNEGATIVE or NIL if a.args[1].value.denominator % 2 == 0 else inner
    if a.op == "fun" and a.args:
        return _of_function(str(a.value), a.args[0], sign_of(a.args[0]), where)
    return ANY if a.op == "fun" else REAL


def _of_function(name: str, arg: Term, inner: Sign, where: Mapping[Var, Range]) -> Sign:
    if inner & UNREAL:
        return ANY if name != "exp" else ANY & ~NIL
    if name == "exp":
        return POSITIVE
    if name in ("sin", "cos"):
        return of_wave(name, range_of(arg, where))
    if name == "abs":
        return POSITIVE if not inner & NIL else NONNEGATIVE
    if name in ("arctan", "arcsin", "arcsinh", "arctanh"):
        return inner
    return NONNEGATIVE if name == "arccos" else REAL


# --- ranges -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bound:
    """a + bπ, itself excluded where `open`."""

    a: Fraction
    b: Fraction
    open: bool

    def compare(self, a: Fraction, b: Fraction) -> float:
        """Sign of this bound less a + bπ; 0 only where exactly equal."""
        da, db = self.a - a, self.b - b
        if not da and not db:
            return 0.0
        value = float(da) + float(db) * math.pi
        return value if abs(value) > 1e-9 else math.nan


Range = tuple[Bound | None, Bound | None]


def ranges(signs: Mapping[Var, Sign], known: Iterable[Known]) -> dict[Var, Range]:
    """What is known of single variables: from their signs, and from inequalities linear in one of them."""
    out: dict[Var, Range] = {}
    zero = Fraction(0)
    for v, s in signs.items():
        if not s & ~NONNEGATIVE:
            out[v] = (Bound(zero, zero, not s & NIL), None)
        elif not s & ~(NEGATIVE | NIL):
            out[v] = (None, Bound(zero, zero, not s & NIL))
    for k in known:
        line = linear(k.term)
        if line is None or k.relation == "≠" or len(line[0]) != 1:
            continue
        ((v, slope),), a, b = line[0].items(), line[1], line[2]
        bound = Bound(-a / slope, -b / slope, k.relation == ">")
        low, high = out.get(v, (None, None))
        if slope > 0 and (low is None or bound.compare(low.a, low.b) >= 0):
            out[v] = (bound, high)
        elif slope < 0 and (high is None or bound.compare(high.a, high.b) <= 0):
            out[v] = (low, bound)
    return out


def linear(t: Term) -> tuple[dict[Var, Fraction], Fraction, Fraction] | None:
    """Σ c·x + a + b·π with numbers c, a, b where a term reads so at sight."""
    slopes: dict[Var, Fraction] = {}
    a = b = Fraction(0)
    for part in t.args if t.op == "add" else (t,):
        number = Fraction(1)
        rest: list[Term] = []
        for f in part.args if part.op == "mul" else (part,):
            if f.op == "num" and isinstance(f.value, Fraction):
                number *= f.value
            else:
                rest.append(f)
        if not rest:
            a += number
        elif len(rest) == 1 and rest[0].op == "var" and isinstance(rest[0].value, Var):
            v = rest[0].value
            slopes[v] = slopes.get(v, Fraction(0)) + number
        elif len(rest) == 1 and rest[0].op == "fun" and rest[0].value == "pi":
            b += number
        elif len(rest) == 1 and rest[0].op == "add" and (inner := linear(rest[0])) is not None:
            for v, c in inner[0].items():
                slopes[v] = slopes.get(v, Fraction(0)) + number * c
            a, b = a + number * inner[1], b + number * inner[2]
        else:
            return None
    return {v: c for v, c in slopes.items() if c}, a, b


def range_of(t: Term, of: Mapping[Var, Range]) -> Range:
    """The range of a linear term from those of its variables."""
    line = linear(t)
    if line is None:
        return (None, None)
    low: Bound | None = Bound(line[1], line[2], False)
    high = low
    for v, c in line[0].items():
        ends = of.get(v, (None, None))
        one, two = ends if c > 0 else (ends[1], ends[0])
        low, high = _shift(low, one, c), _shift(high, two, c)
    return low, high


def _shift(base: Bound | None, end: Bound | None, c: Fraction) -> Bound | None:
    if base is None or end is None:
        return None
    return Bound(base.a + c * end.a, base.b + c * end.b, base.open or end.open)


def within(r: Range, low: Fraction, high: Fraction) -> bool | None:
    """Is a range inside [low·π, high·π]? True strictly inside the open interval, False touching an end, None not."""
    a, b = r
    if a is None or b is None:
        return None
    one, two = a.compare(Fraction(0), low), b.compare(Fraction(0), high)
    if not (one >= 0 and two <= 0):
        return None
    return (one > 0 or a.open) and (two < 0 or b.open)


def of_wave(name: str, r: Range) -> Sign:
    """Possible signs of a sine or cosine over a range of its angle."""
    quarter = Fraction(1, 2) if name == "cos" else Fraction(0)
    for start, sign in ((-1, NEGATIVE), (0, POSITIVE), (1, NEGATIVE), (-2, POSITIVE)):
        inside = within(r, start - quarter, start + 1 - quarter)
        if inside is not None:
            return sign if inside else sign | NIL
    return REAL


# --- where a term exists --------------------------------------------------------------------------


def domain(terms: Iterable[Term], real: bool) -> tuple[Known, ...]:
    """What must hold for terms to have values: no denominator is 0, no logarithm or even root of less.

    `real`: nothing in sight is complex, so that roots and logarithms of negative numbers do not exist.
    """
    found: dict[Known, None] = {}
    bound: dict[Term, bool] = {}  # does it have the variable of an integral in it?
    for t in postorder(*terms):
        bound[t] = (isinstance(t.value, Var) and t.value.role == "dummy") or any(bound[a] for a in t.args)
        for part, relation in _needs(t, real):
            for one in part.args if part.op == "mul" and relation == "≠" else (part,):
                if one.op != "num" and not bound.get(one, bound[t]):
                    found[Known(one, relation, DOMAIN)] = None
    return tuple(found)


DOMAIN = "domain"


def _needs(t: Term, real: bool) -> list[tuple[Term, Literal[">", "≥", "≠"]]]:
    if t.op == "pow" and isinstance(t.args[1].value, Fraction):
        e = t.args[1].value
        if real and e.denominator % 2 == 0:
            return [(t.args[0], ">" if e < 0 else "≥")]
        return [(t.args[0], "≠")] if e < 0 else []
    if t.op == "fun" and t.value in ("ln", "log10"):
        return [(t.args[0], ">" if real else "≠")]
    if t.op == "fun" and t.value in ("tan", "sec"):
        return [(fun("cos", t.args[0]), "≠")]
    if t.op == "fun" and t.value in ("cot", "csc"):
        return [(fun("sin", t.args[0]), "≠")]
    return []


def _variables_of(t: Term) -> list[Var]:
    return [s.value for s in postorder(t) if isinstance(s.value, Var)]


def is_real(terms: Iterable[Term], signs: Iterable[tuple[Var, str]]) -> bool:
    """Is nothing complex in some terms?"""
    return all(word != "complex" for _, word in signs) and IMAGINARY not in postorder(*terms)


# --- integrals --------------------------------------------------------------------------------------

_SMOOTH = {"sin", "cos", "exp", "sinh", "cosh", "tanh", "arctan", "arcsinh"}


def is_smooth(t: Term, bound: Var, ends: tuple[Term, Term], sign_of: Callable[[Term], Sign]) -> bool:
    """Is a term continuous in a bound variable between two limits (that gave this variable its sign)?"""
    def between(base: Term) -> Sign:
        s = sign_of(base)
        if s != REAL or bound not in _variables_of(base) or not _is_linear(base, bound):
            return s
        # What is linear lies between its values at the ends.
        return of_bound(*(sign_of(substitute(base, {var(bound): end})) for end in ends))

    for s in postorder(t):
        if s.op == "pow" and not _smooth_power(s, between):
            return False  # also where the variable is not in it: a denominator must not be 0
        if s.op not in ("int", "fun") or bound not in _variables_of(s):
            continue
        if s.op == "int":
            return False
        if s.op == "fun" and s.value not in _SMOOTH and not (s.value == "ln" and between(s.args[0]) == POSITIVE):
            return False
    return True


def _is_linear(t: Term, bound: Var) -> bool:
    """A sum of terms in each of which the variable is a factor at most once, and nothing else has it."""
    for part in t.args if t.op == "add" else (t,):
        having = [f for f in (part.args if part.op == "mul" else (part,)) if bound in _variables_of(f)]
        if len(having) > 1 or (having and having[0].op != "var"):
            return False
    return True


def _smooth_power(t: Term, sign_of: Callable[[Term], Sign]) -> bool:
    base, e = t.args
    if not isinstance(e.value, Fraction):
        return False
    s = sign_of(base)
    return not (e.value < 0 and s & NIL) and not (e.value.denominator != 1 and s & ~NONNEGATIVE)


def of_bound(lower: Sign, upper: Sign) -> Sign:
    """The possible signs of what runs between two limits."""
    s = lower | upper
    return s if not s & ~NONNEGATIVE or not s & ~(NEGATIVE | NIL) else REAL
