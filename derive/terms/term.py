"""What the engine computes with: terms over variables, built once each and shared.

A `Term` is a node of arithmetic over exact numbers, variables and a few functions. Equal terms are the
same object, so identity is equality and every later pass can memoise by `id`. The constructors flatten
sums and products and fold exact numbers; they never do anything else (no collecting, no expanding): what
a term means is left to the numeric tape (points) and to the polynomial algebra (proof).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import chain
from math import prod
from typing import Any, Literal, NamedTuple
from weakref import WeakValueDictionary

from derive.terms.allowance import TooLarge, look


class Var(NamedTuple):
    """An unknown of a state. A plain tuple, for it is hashed and compared more often than anything else.

    name:   canonical symbol name.
    order:  how often differentiated (a jet): Var('y', 2) is y''.
    wrt:    the variable it is differentiated by, '' for a plain constant or variable.
    at:     '' for the general instant, else the instant's key ('t=0').
    role:   'value', or 'differential' for dX standing alone, or 'dummy' for a bound variable of an
            integral, or 'constant' for an unnamed constant of integration.
    """

    name: str
    order: int = 0
    wrt: str = ""
    at: str = ""
    role: Literal["value", "differential", "dummy", "constant", "tail"] = "value"


class Term:
    """op: num var add mul pow fun int.

    num: value is a Fraction.  var: value is a Var.  add, mul: args.  pow: args = (base, exponent).
    fun: value is the function's name (tree.Apply's list, and 'pi' 'i' as functions of no argument),
    args its arguments.  int: value is the bound Var, args = (body, lower, upper).
    """

    __slots__ = ("__weakref__", "args", "op", "value")
    op: str
    args: tuple[Term, ...]
    value: Any  # a Fraction, a Var or a name, by op

    def __repr__(self) -> str:
        return show(self)

    def __reduce__(self) -> tuple[object, ...]:
        return (_make, (self.op, self.value, self.args))


_TABLE: WeakValueDictionary[tuple[object, ...], Term] = WeakValueDictionary()


def _make(op: str, value: object, args: tuple[Term, ...]) -> Term:
    key = (op, value, tuple(map(id, args)))
    found = _TABLE.get(key)
    if found is None:
        found = Term()
        found.op, found.value, found.args = op, value, args
        _TABLE[key] = found
    return found


@lru_cache(maxsize=1024)  # most are small and come again
def num(value: int | Fraction) -> Term:
    return _make("num", Fraction(value), ())


def var(v: Var) -> Term:
    return _make("var", v, ())


ZERO, ONE, MINUS_ONE, TWO, HALF = num(0), num(1), num(-1), num(2), num(Fraction(1, 2))
PI = _make("fun", "pi", ())
IMAGINARY = _make("fun", "i", ())


def add(*terms: Term) -> Term:
    """The sum, flat, its numbers added up and put last."""
    flat, numbers = _flat("add", terms)
    if len(numbers) == 1:  # as nearly always: as it is, for exact arithmetic is slow
        total = numbers[0]
    else:
        total = num(sum(n.value for n in numbers))
    if total is not ZERO or not flat:
        flat.append(total)
    if len(flat) > _MOST_TERMS:
        raise TooLarge
    return flat[0] if len(flat) == 1 else _make("add", None, tuple(flat))


def mul(*terms: Term) -> Term:
    """The product, flat, its numbers multiplied and put first."""
    flat, numbers = _flat("mul", terms)
    if len(numbers) == 1:
        total = numbers[0]
    else:
        total = num(prod(n.value for n in numbers))
    if total is ZERO:
        return ZERO
    if total is not ONE or not flat:
        flat.insert(0, total)
    return flat[0] if len(flat) == 1 else _make("mul", None, tuple(flat))


def _flat(op: str, terms: Iterable[Term]) -> tuple[list[Term], list[Term]]:
    """The parts of sums in a sum, of products in a product; and the numbers among them."""
    flat: list[Term] = []
    numbers: list[Term] = []
    for t in terms:
        for part in t.args if t.op == op else (t,):
            (numbers if part.op == "num" else flat).append(part)
    return flat, numbers


# A folded power must stay small: 9^9^9 is left as a power for the numeric side to refuse.
_FOLD_BITS = 4096


def power(base: Term, exponent: Term) -> Term:
    """The power; one of numbers is worked out where that stays small."""
    if exponent is ONE:
        return base
    if exponent is ZERO:
        return ONE
    if base.op == exponent.op == "num":
        b, e = base.value, exponent.value
        assert isinstance(b, Fraction) and isinstance(e, Fraction)
        size = max(b.numerator.bit_length(), b.denominator.bit_length())
        if e.denominator == 1 and size * abs(e.numerator) <= _FOLD_BITS and (b or e > 0):
            return num(b**e.numerator)
        if not b and e > 0:
            return ZERO
    return _make("pow", None, (base, exponent))


def neg(t: Term) -> Term:
    return mul(MINUS_ONE, t)


def sub(a: Term, b: Term) -> Term:
    return add(a, neg(b))


def div(a: Term, b: Term) -> Term:
    return mul(a, power(b, MINUS_ONE))


def fun(name: str, *args: Term) -> Term:
    return _make("fun", name, tuple(args))


def integral(body: Term, bound: Var, lower: Term, upper: Term) -> Term:
    return _make("int", bound, (body, lower, upper))


# No line comes near: a term this large has been differentiated or put into itself too often.
_MOST_PARTS, _MOST_TERMS = 60_000, 20_000


# The same premises are gone through by every rule: a tenth of all time, where it is done anew each time. Kept as long
# as all that is kept has no more parts than this.
_MOST_KEPT = 500_000
_passed: dict[Term, tuple[Term, ...]] = {}
_kept = 0


def postorder(*roots: Term) -> Sequence[Term]:
    """Every distinct subterm, arguments before what is made of them. Raises TooLarge."""
    if len(roots) == 1:
        return _passed.get(roots[0]) or _kept_order(roots[0])
    return tuple(dict.fromkeys(chain.from_iterable(map(postorder, roots))))


def _kept_order(root: Term) -> tuple[Term, ...]:
    global _kept
    found = _order(root)
    _kept += len(found)
    if _kept > _MOST_KEPT:
        _passed.clear()
        _kept = len(found)
    _passed[root] = found
    return found


def _order(root: Term) -> tuple[Term, ...]:
    done: dict[Term, None] = {}
    stack: list[Term | None] = [root]
    waiting: list[Term] = []  # for their arguments; each has left a None below them
    while stack:
        t = stack.pop()
        if t is None:
            t = waiting.pop()
        elif t in done:
            continue
        elif t.args:
            waiting.append(t)
            stack.append(None)
            stack += t.args[::-1]
            continue
        done[t] = None
        if not len(done) % 1024:
            look()
            if len(done) > _MOST_PARTS:
                raise TooLarge
    return tuple(done)


def variables(*roots: Term) -> tuple[Var, ...]:
    """Free variables in order of first appearance (bound variables of integrals left out)."""
    if len(roots) == 1:
        return _variables_of(roots[0])
    return tuple(dict.fromkeys(v for r in roots for v in _variables_of(r)))


@lru_cache(maxsize=8192)  # asked for again and again of the same premises: a tenth of all time without it
def _variables_of(root: Term) -> tuple[Var, ...]:
    return tuple(dict.fromkeys(
        t.value for t in postorder(root)
        if t.op == "var" and isinstance(t.value, Var) and t.value.role != "dummy"
    ))


def is_run_over(t: Term) -> bool:
    """Has a term the variable of an integral in it, which has no value in a state?"""
    return any(isinstance(u.value, Var) and u.value.role == "dummy" for u in postorder(t))


def substitute(root: Term, change: dict[Term, Term]) -> Term:
    """Replace whole subterms; bound variables are never captured since they have their own role."""
    done: dict[int, Term] = {}
    for t in postorder(root):
        if t in change:
            done[id(t)] = change[t]
        elif not t.args:
            done[id(t)] = t
        else:
            args = tuple(done[id(a)] for a in t.args)
            same = all(a is b for a, b in zip(args, t.args, strict=True))
            done[id(t)] = t if same else build(t.op, t.value, args)
    return done[id(root)]


def build(op: str, value: object, args: Iterable[Term]) -> Term:
    """A node from its parts, through the folding constructors."""
    parts = tuple(args)
    if op == "add":
        return add(*parts)
    if op == "mul":
        return mul(*parts)
    if op == "pow":
        return power(*parts)
    return _make(op, value, parts)


def show(t: Term) -> str:
    """For debugging and tests only: not the notation a person reads."""
    if t.op == "num":
        return str(t.value)
    if t.op == "var":
        v = t.value
        assert isinstance(v, Var)
        mark = {"differential": "d", "dummy": "_", "constant": "#"}.get(v.role, "")
        return mark + v.name + "'" * v.order + (f"@{v.at}" if v.at else "")
    if t.op == "fun":
        return f"{t.value}({', '.join(map(show, t.args))})"
    if t.op == "int":
        body, lower, upper = map(show, t.args)
        return f"int({body}, {show(var(t.value))}={lower}..{upper})"
    sign = {"add": " + ", "mul": "*", "pow": "^"}[t.op]
    return "(" + sign.join(map(show, t.args)) + ")"
