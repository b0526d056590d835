"""Terms written back in the plain notation that a person reads and types."""

from __future__ import annotations

from fractions import Fraction

from derive.terms.term import Term, Var, neg, power
from derive.terms.tidying import tidied
from derive.terms.world import TIME


def written_var(v: Var) -> str:
    """A variable in plain notation: `x''`, `dy/dx`, `v(0)`, `dm`."""
    if v.role == "differential":
        return f"d{v.name}"
    if v.order and v.wrt not in ("", TIME):
        text = f"d{v.name}/d{v.wrt}" if v.order == 1 else f"d^{v.order}{v.name}/d{v.wrt}^{v.order}"
    else:
        text = v.name + "'" * v.order
    if v.at:
        variable, _, value = v.at.partition("=")
        return f"{text}({value})" if variable == TIME else f"{text} at {v.at}"
    return text


def written(t: Term) -> str:
    """A term in the notation a person reads, no longer than it has to be."""
    return _written(tidied(t))


def _written(t: Term, outer: int = 0) -> str:
    """`outer` is how tightly the surroundings of a term bind (0 to 3)."""
    if t.op == "num":
        return _written_number(t.value, outer)
    if t.op == "var":
        text = written_var(t.value)
        return f"({text})" if outer > 1 and "/" in text else text
    if t.op == "add":
        text = _written_sum(t)
        return f"({text})" if outer > 0 else text
    if t.op == "mul":
        text = _written_product(t)
        return f"({text})" if outer > 1 else text
    if t.op == "pow":
        return _written_power(t, outer)
    if t.op == "int":
        body, lower, upper = (_written(a) for a in t.args)
        return f"∫_({lower})^({upper}) ({body}) d{t.value.name}"
    if t.op == "fun" and t.value == "exp":
        return f"e^({_written(t.args[0])})"
    name = {"pi": "π", "inf": "∞", "abs": "abs"}.get(str(t.value), str(t.value))
    return f"{name}({_written(t.args[0])})" if t.args else name


def _written_number(q: Fraction, outer: int) -> str:
    if q.denominator == 1:
        text = str(q.numerator)
    else:
        as_decimal = f"{float(q):.6g}"
        text = as_decimal if Fraction(as_decimal) == q and "e" not in as_decimal else f"{q.numerator}/{q.denominator}"
    bracketed = (outer > 1 and (q < 0 or "/" in text)) or (outer == 1 and q < 0)
    return f"({text})" if bracketed else text


def _written_sum(t: Term) -> str:
    text = ""
    for part in sorted(t.args, key=is_negative):
        if is_negative(part):
            text += (" - " if text else "-") + _written(neg(part), 1)
        else:
            text += (" + " if text else "") + _written(part, 0 if not text else 1)
    return text


def is_negative(t: Term) -> bool:
    """Does a term begin with a minus?"""
    lead = t.args[0] if t.op == "mul" else t
    return lead.op == "num" and lead.value < 0


def _written_product(t: Term) -> str:
    top: list[str] = []
    bottom: list[str] = []
    sign = ""
    for a in sorted(t.args, key=_is_differential):  # `μ φ dφ`
        if a.op == "num" and a.value < 0:
            sign = "-"
            top.extend(() if a.value == -1 else (_written(neg(a), 2),))
        elif a.op == "pow" and a.args[1].op == "num" and a.args[1].value < 0:
            bottom.append(_written(power(a.args[0], neg(a.args[1])), 2))
        else:
            top.append(_written(a, 2))
    above = " ".join(top) or "1"
    if not bottom:
        return sign + above
    below = bottom[0] if len(bottom) == 1 else f"({' '.join(bottom)})"
    return f"{sign}{above}/{below}"


def _is_differential(t: Term) -> bool:
    return isinstance(t.value, Var) and t.value.role == "differential"


def _written_power(t: Term, outer: int) -> str:
    base, e = t.args
    if e.op == "num" and e.value == Fraction(1, 2):
        return f"√({_written(base)})"
    if e.op == "num" and e.value < 0:
        text = f"1/{_written(power(base, neg(e)), 2)}"
        return f"({text})" if outer > 1 else text
    exponent = _written(e, 3)
    return f"{_written(base, 3)}^{exponent if e.op in ('num', 'var') else f'({_written(e)})'}"
