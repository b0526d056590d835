"""Functions and integrals read one by one; those without a reading of their own stay whole.

Equal ones written differently are recognised by how their arguments read.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.exponentials import OF_EXPONENTIAL, exponential, logarithm
from derive.proof.algebra.integrals import antiderivative
from derive.proof.algebra.plan import Unread
from derive.proof.algebra.polynomials import atom, scale
from derive.proof.algebra.powers import magnitude, root
from derive.proof.algebra.quotients import Quotient
from derive.proof.algebra.waves import OF_WAVES, wave
from derive.terms.signs import UNREAL, is_smooth, of_bound
from derive.terms.term import IMAGINARY, Term, Var, fun, num, postorder, substitute, var
from derive.terms.term import add as plus_terms
from derive.terms.term import mul as times_terms

if TYPE_CHECKING:
    from derive.proof.algebra.reading import Reader


def function(r: Reader, t: Term) -> Quotient:
    """A function as typed."""
    name = str(t.value)
    if name in OF_WAVES:
        return OF_WAVES[name](*wave(r, t.args[0]))
    if name == "exp":
        return exponential(r, t.args[0])
    if name in OF_EXPONENTIAL:
        e = exponential(r, t.args[0])
        return OF_EXPONENTIAL[name](e, qs.inverse(e))
    if name == "ln":
        return logarithm(r, t.args[0])
    if name == "log10":
        return qs.times(logarithm(r, t.args[0]), qs.inverse(logarithm(r, num(10))))
    if name == "sqrt":
        return root(r, t.args[0], Fraction(1, 2))
    if name == "abs":
        return magnitude(r, t.args[0])
    if name == "inf":
        raise Unread
    if t is IMAGINARY:
        i = r.atom(t)
        r.sides[i] = {**atom(i, 2), 0: 1}
        return Quotient(atom(i))
    return opaque(r, t)


def opaque(r: Reader, t: Term) -> Quotient:
    """A function that stays whole: the first of those that read the same stands for all."""
    if not t.args:
        return r.as_atom(t)
    key, sign = canonical(r, t)
    first = r.kernels.setdefault(key, t)
    if first is not t:
        other = canonical(r, first)[1]
        r.note("same", t, (first,), (Fraction(sign * other),))
        return qs.times(qs.number(sign * other), r.as_atom(first))
    return r.as_atom(t)


def canonical(r: Reader, t: Term) -> tuple[object, int]:
    """What tells equal functions apart from others, and the sign taken out of an odd one."""
    args = [r.of(a) for a in t.args]
    if t.value in ("arctan", "arcsin", "arcsinh", "arctanh"):
        q = args[0]
        if q.num and q.num[max(q.num)] < 0:
            return (t.value, Quotient(scale(q.num, -1), q.whole, q.monomial, q.factors).key), -1
    return (t.value, tuple(a.key for a in args)), 1


def integral_term(r: Reader, t: Term) -> Quotient:
    """An integral: its value, or a piece of its own."""
    assert isinstance(t.value, Var)
    done = integrated(r, t, t.value)
    if done is not None:
        return done
    one = Var("∙", role="dummy")
    body = substitute(t.args[0], {var(t.value): var(one)})
    ends = tuple(a if a.op == "fun" and a.value == "inf" else r.of(a).key for a in t.args[1:])
    first = r.kernels.setdefault(("∫", r.of(body).key, ends), t)
    if first is not t:
        r.note("same", t, (first,), (Fraction(1),))
    return r.as_atom(first)


def integrated(r: Reader, t: Term, bound: Var) -> Quotient | None:
    """By an antiderivative that is continuous between the limits, where one is found."""
    body, lower, upper = t.args
    if any(a.op == "fun" and a.value == "inf" for a in (lower, upper)):
        return None
    between = of_bound(r.sign(lower), r.sign(upper))
    if between & UNREAL or r.declared.setdefault(bound, between) != between:
        return None
    here = r.index.get(var(bound))
    if here is not None:  # the body may have been met before its limits
        r.signs[here] = between
    primitive = antiderivative(body, bound, r)
    ways = [] if primitive is None else [primitive, _logarithms_turned(primitive, bound)]
    primitive = next((p for p in ways if is_smooth(p, bound, (lower, upper), r.sign)), None)
    if primitive is None:
        return None
    r.note("integrated", t, (primitive,), ())
    return r.of(plus_terms(
        substitute(primitive, {var(bound): upper}), times_terms(num(-1), substitute(primitive, {var(bound): lower}))))


def _logarithms_turned(primitive: Term, bound: Var) -> Term:
    """ln u as ln(−u), which has the same slope, for where u is negative between the limits."""
    change = {
        s: fun("ln", _negative(s.args[0])) for s in postorder(primitive)
        if s.op == "fun" and s.value == "ln" and var(bound) in postorder(s)
    }
    return substitute(primitive, change)


def _negative(t: Term) -> Term:
    return plus_terms(*(times_terms(num(-1), a) for a in (t.args if t.op == "add" else (t,))))
