"""Terms expanded in what is small: every small quantity is scaled by one parameter (Taylor's theorem)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from derive.terms.calculus import partial
from derive.terms.functions import AT_ZERO
from derive.terms.term import ONE, ZERO, Term, Var, add, build, mul, num, postorder, power, substitute, var, variables
from derive.terms.tidying import tidied

_SCALE = Var("δ", role="constant")


def expanded(t: Term, small: Sequence[str], order: int) -> Term | None:
    """The Taylor polynomial of a term in its small quantities, to an order; None where it has none.

    All derivatives and values at instants of a small name are small with it.
    """
    change = {var(v): mul(var(_SCALE), var(v)) for v in variables(t) if v.name in small and v.role != "dummy"}
    if not change:
        return t
    scaled = substitute(t, change)
    for poles in range(_MOST_POLES + 1):
        terms = _coefficients(_times_scale(scaled, poles), order + poles)
        if terms is not None:
            return add(*terms[poles:]) if all(c is ZERO for c in terms[:poles]) else None
    return None


# `(m v0/b)(1 - e^(-b t/m))` has a value at b = 0 although it is divided by b, or by b² (the way of what falls).
_MOST_POLES = 2


def _times_scale(t: Term, times: int) -> Term:
    scale = power(var(_SCALE), num(times))
    return add(*(tidied(mul(scale, part)) for part in (t.args if t.op == "add" else (t,)))) if times else t


def _coefficients(scaled: Term, order: int) -> list[Term] | None:
    """The terms of a Taylor polynomial in the scale of what is small; None where a zero is divided by."""
    terms, factorial = [], 1
    for k in range(order + 1):
        factorial *= max(k, 1)
        here = tidy(substitute(scaled, {var(_SCALE): ZERO}))
        if here is None:
            return None
        terms.append(mul(num(Fraction(1, factorial)), here))
        scaled = partial(scaled, _SCALE)
    return terms


def tidy(t: Term) -> Term | None:
    """Functions of zero and powers of zero and one evaluated; None where a zero is divided by."""
    done: dict[int, Term] = {}
    for s in postorder(t):
        args = [done[id(a)] for a in s.args]
        if s.op == "fun" and args and args[0] is ZERO and str(s.value) in AT_ZERO:
            done[id(s)] = num(AT_ZERO[str(s.value)])
        elif s.op == "fun" and s.value == "ln" and args[0] is ONE:
            done[id(s)] = ZERO
        elif s.op == "pow" and args[0] is ONE:
            done[id(s)] = ONE
        elif s.op == "pow" and args[0] is ZERO and args[1].op == "num":
            if args[1].value < 0:
                return None
            done[id(s)] = ZERO if args[1].value else ONE
        else:
            done[id(s)] = build(s.op, s.value, args) if s.args else s
    return done[id(t)]


def kept_to(t: Term, small: Sequence[str], order: int) -> Term:
    """A term kept to an order; to one order more where the first says nothing (energies)."""
    if not any(v.name in small for v in variables(t)):
        return t
    for n in range(order, order + 3):
        kept = expanded(t, small, n)
        if kept is None:
            return t
        if any(v.name in small for v in variables(without_zeros(kept))):
            return without_zeros(kept)
    return t


def without_zeros(t: Term) -> Term:
    return tidy(t) or t
