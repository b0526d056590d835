"""The real and the imaginary part of a term, as terms that are real themselves.

`Re(X e^(i ω t))` is what X's two parts make of cos ω t and sin ω t: whatever is asked of it afterwards, its rates, its
start, its greatest value, is asked of real numbers.
"""

from __future__ import annotations

from collections.abc import Callable

from derive.terms.term import (
    HALF,
    IMAGINARY,
    MINUS_ONE,
    ONE,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    fun,
    mul,
    neg,
    postorder,
    power,
    sub,
    substitute,
    var,
    variables,
)
from derive.terms.world import World, imaginary_name, real_name

# Higher powers of a complex number are typed by nobody.
_HIGHEST = 8
_DEEPEST = 4
Parts = tuple[Term, Term]


def parts_of(t: Term, world: World) -> Parts | None:
    """Both parts; None where they are not to be had."""
    known: dict[Term, Parts] = {}
    for s in postorder(_written_out(t, world)):
        found = _one(s, [known[a] for a in s.args if a in known], world)
        if found is None:
            return None
        known[s] = found
    return next(reversed(known.values()))


def of_a_name(name: str) -> Term:
    """What a name stands for that has two parts."""
    return add(var(Var(real_name(name))), mul(IMAGINARY, var(Var(imaginary_name(name)))))


def magnitude(parts: Parts) -> Term:
    """|z|"""
    return power(add(power(parts[0], TWO), power(parts[1], TWO)), HALF)


def angle(parts: Parts) -> Term:
    """arg z, between -π and π, by the half of it."""
    return mul(TWO, fun("arctan", mul(parts[1], power(add(magnitude(parts), parts[0]), MINUS_ONE))))


def _written_out(t: Term, world: World) -> Term:
    """With what is given for complex names put in: `z = X e^(i ω t)` above `x = Re z`."""
    for _ in range(_DEEPEST):
        change = {var(v): given for v in variables(t) if not (v.order or v.at)
                  and (given := world.functions.get(v.name) or world.definitions.get(v.name)) is not None
                  and (v.name in world.free_complex or IMAGINARY in postorder(given))}
        if not change:
            return t
        t = substitute(t, change)
    return t


def _one(t: Term, inner: list[Parts], world: World) -> Parts | None:
    if t.op == "var":
        return (t, ZERO) if t.value.name not in world.free_complex else None
    if t is IMAGINARY:
        return ZERO, ONE
    if all(below is ZERO for _, below in inner):
        return t, ZERO
    if t.op == "add":
        return add(*(re for re, _ in inner)), add(*(im for _, im in inner))
    if t.op == "mul":
        out = inner[0]
        for more in inner[1:]:
            out = _times(out, more)
        return out
    if t.op == "pow":
        return _power(inner[0], t.args[1])
    if t.op == "fun" and t.value == "exp":
        ((re, im),) = inner
        size = fun("exp", re) if re is not ZERO else ONE
        return mul(size, fun("cos", im)), mul(size, fun("sin", im))
    return (magnitude(inner[0]), ZERO) if t.op == "fun" and t.value == "abs" else None


def _times(a: Parts, b: Parts) -> Parts:
    return sub(mul(a[0], b[0]), mul(a[1], b[1])), add(mul(a[0], b[1]), mul(a[1], b[0]))


def _power(base: Parts, exponent: Term) -> Parts | None:
    if exponent.op != "num" or exponent.value.denominator != 1 or abs(exponent.value) > _HIGHEST:
        return None
    out: Parts = ONE, ZERO
    for _ in range(abs(int(exponent.value))):
        out = _times(out, base)
    if exponent.value > 0:
        return out
    square = power(add(power(out[0], TWO), power(out[1], TWO)), MINUS_ONE)
    return mul(out[0], square), mul(neg(out[1]), square)


def is_open(t: Term, world: World) -> bool:
    """A complex z that moves and whose course nothing has told yet."""
    name = t.value.name if t.op == "var" else ""
    return name in world.moving and name not in world.functions and name not in world.definitions


# What a line may ask for of a complex number.
PARTS: dict[str, Callable[[Parts], Term]] = {
    "re": lambda z: z[0], "im": lambda z: z[1], "arg": angle, "conj": lambda z: sub(z[0], mul(IMAGINARY, z[1]))}
