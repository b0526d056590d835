"""Lines that bring nothing in, since they could only be said of everything: `sin² a = (1 + cos 2a)/2`.

Nothing above a working without givens supports its first lines. What is no identity and yet reads as one is not taken
for a start: an equation that can hold only where something in it is nothing, an integral or a slope worked out, a
rule for the function of a sum. A real equation is about some quantity that it leaves a choice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from derive.notation.tree import Derivative, Expr, Integral, Name, names_in, walk
from derive.records import Standing, Verdict
from derive.states.context import Premise
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.steps.brought_in.laws import is_kinetic_energy
from derive.steps.brought_in.unsaid import LAWS
from derive.terms.tape import taped
from derive.terms.term import ZERO, Term, Var, fun, postorder, sub, substitute, variables

# Beside values of about one; where a square vanishes, states are met to its root.
_NOTHING = 1e-4
_LEAST = 6
_MOSTLY = 0.5
_PARTNERS = {"sin": "cos", "cos": "sin"}
_TURNING = ("sin", "cos", "tan")


def no_identity(m: Matter) -> Decision | None:
    """The break of a line that claims to hold of everything and does not."""
    if m.setting.strict or m.pair.sign != "=" or m.lowered.primitives:
        return None
    parts = [(m.context.resolved(a), m.context.resolved(b)) for a, b in m.lowered.parts]
    if not all(variables(t) for part in (*parts, *m.lowered.parts) for t in part) or is_kinetic_energy(m):
        return None  # `v = 0`, `x = 3` are said of something; an energy that is kept may bring a body to rest
    if not (_works_out(m) or _is_rewritten(m) or _of_composites(m) or _with_another_function(m) or _only_of_nothing(m)):
        return None
    cloud = m.setting.states.of(m.context, [t for part in parts for t in part])
    wrong = [part for part in parts if weigh(*part, "=", cloud).fails.any()]
    state = shown_state(m.setting, *wrong[0], "=") if wrong else None
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", points=cloud.size, code="fails.state", state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _is_rewritten(m: Matter) -> bool:
    """`v = v0 - 2/7 (v0 + ω0 R) = -(5 v0 - 2 ω0 R)/7`: in a chain that gives a name, a sum made of the same names as
    before is that before in another form, and ties nothing."""
    if not isinstance(m.pair.head, Name) or isinstance(m.pair.left, Name) or len(m.lowered.parts) != 1:
        return False
    left, right = m.lowered.parts[0]
    own = set(variables(left))
    sums = any(t.op == "add" for t in postorder(left)) and any(t.op == "add" for t in postorder(right))
    return sums and len(own) > 1 and own == set(variables(right)) and not any(v.order or v.at for v in own)


# --- something is nothing -----------------------------------------------------------------------------------------


def _only_of_nothing(m: Matter) -> bool:
    """In every state that satisfies the line, does a name or a function in it vanish that is not nothing before?"""
    if _gives_a_new_name(m):
        return False
    claimed, pieces = m.premises(implied=False, always=False), list(_pieces(m))
    if _tiny_told(pieces, m):
        return False
    return len(m.lowered.parts) == 1 and _all_vanish(pieces, m, claimed, 12) and _all_vanish(pieces, m, claimed, 40)


def _tiny_told(pieces: Sequence[Term], m: Matter) -> bool:
    """Has a name in it been told a value (`m = 2e-12 kg`) beside which what is no more than that is not nothing?"""
    own = {t.value for t in pieces if t.op == "var"}
    told = (p.sides for p in m.context.premises if p.sides is not None and p.sides[0].value in own)
    return any(b.op == "num" and 0 < abs(b.value) < _NOTHING for _, b in told)


def _gives_a_new_name(m: Matter) -> bool:
    """`x = y^(10^9)`: whatever its right side is, a name may be given to it. So may one to what is left in a balance of
    what is known that words name, nothing as it may be: `vertical: V + T sin 30° = W` below `T = 2 W`."""
    if len(m.lowered.parts) != 1:
        return False
    left, right = m.lowered.parts[0]
    balanced = not LAWS.isdisjoint(m.words.lower().replace(",", " ").replace(":", " ").split())
    split = linear(sub(left, right), Var(m.fresh[0])) if balanced and len(m.fresh) == 1 else None
    if split is not None and len(m.unknowns) > 2:
        return split[0].op == "num"
    return left.op == "var" and left.value.name in m.fresh and left.value not in variables(right)


def _pieces(m: Matter) -> Iterator[Term]:
    nodes = postorder(*(m.context.resolved(t) for part in m.lowered.parts for t in part))
    within = {v for t in nodes if t.op == "int" for v in variables(t.args[0])} - set(m.unknowns)
    for t in nodes:
        if any(isinstance(n.value, Var) and n.value.role == "dummy" for n in postorder(t)):
            continue  # what an integral runs over has no value by itself
        if t.op == "pow" and t.args[0].op == "add" and len(variables(t.args[0])) > 1:
            yield t.args[0]
        told = t.value.role == "value" if isinstance(t.value, Var) else t.op == "fun" and t.value in (*_TURNING, "ln")
        if told and not within & set(variables(t)):
            yield t


def _all_vanish(pieces: list[Term], m: Matter, claimed: tuple[Premise, ...], count: int) -> bool:
    before = m.setting.states.of(m.context, pieces, count=12, rounds=2)
    after = m.setting.states.of(m.context, pieces, claimed, count=count, rounds=2)
    if after.size < _LEAST or before.size < _LEAST or not pieces:
        return False
    something = np.median(_sizes(pieces, before), axis=1) > _NOTHING
    alive = [t for t, is_something in zip(pieces, something, strict=True) if is_something]
    if not alive or np.mean(_sizes(alive, before).min(axis=0) > _NOTHING) < _MOSTLY:
        return False
    return bool((_sizes(alive, after).min(axis=0) < _NOTHING).all())


def _sizes(terms: list[Term], cloud: Cloud) -> NDArray[np.float64]:
    values = taped(*terms).run(cloud.columns)
    sizes = np.array([np.broadcast_to(np.abs(a), cloud.size) for a in values]).reshape(len(terms), cloud.size)
    return np.where(np.isnan(sizes), np.inf, sizes)  # cos(π τ/τ) where τ is nothing


# --- worked out -----------------------------------------------------------------------------------------------------


def _works_out(m: Matter) -> bool:
    """`∫_0^d b x³ dx = b d⁴`, `d/dx (x sin x) = cos x`: nothing new beside an integral or a slope of what is written
    out."""
    sides = m.pair.left, m.pair.right
    return any(
        _written_out(one) and not _written_out(other) and bool(names_in(other)) and (
            set(names_in(other)) <= set(names_in(one)) - _run_over(one))
        for one, other in (sides, sides[::-1]))


def _written_out(e: Expr) -> bool:
    return any(_is_worked_on(n) for n in walk(e))


def _is_worked_on(n: object) -> bool:
    """An integral between limits, or a first slope, of an expression that speaks of what it is taken along."""
    if isinstance(n, Integral):
        bounded = n.lower is not None and isinstance(n.wrt, Name)
        return bounded and isinstance(n.wrt, Name) and n.wrt.ident in names_in(n.body)
    along = n.wrt if isinstance(n, Derivative) and not n.partial else None
    return isinstance(n, Derivative) and isinstance(along, Name) and not isinstance(n.body, Name) and (
        along.ident in names_in(n.body))


def _run_over(e: Expr) -> set[str]:
    """Names that stand for nothing outside an integral of the expression."""
    inside = {
        n.wrt.ident for n in walk(e) if isinstance(n, Integral) and isinstance(n.wrt, Name) and n.wrt.ident not in (
            *names_in(n.lower), *names_in(n.upper))}
    return inside if any(isinstance(n, Integral) for n in walk(e)) else set()


# --- rules for functions --------------------------------------------------------------------------------------------


def _of_composites(m: Matter) -> bool:
    """`ln(a + b) = ln a + ln b`: on both sides the same names, and nothing but functions of them, on one side of them
    together."""
    if len(m.lowered.parts) != 1:
        return False
    left, right = m.lowered.parts[0]
    names = set(variables(left))
    if len(names) < 2 or names != set(variables(right)):
        return False
    inside = [_arguments(side) for side in (left, right)]
    if any(found is None for found in inside):
        return False
    together = [any(set(variables(a)) == names for a in found or ()) for found in inside]
    return together[0] != together[1]


def _arguments(t: Term) -> list[Term] | None:
    """What the functions of a term are taken of; None where a name stands outside them."""
    if t.op == "num":
        return []
    if t.op == "fun" and t.args:
        return [t.args[0]] if t.value != "abs" else None  # `|u + v| = |u| + |v|` says that they point one way
    if t.op == "pow" and t.args[1].op != "num":
        return [t.args[1]] if not variables(t.args[0]) else None
    if t.op in ("add", "mul", "pow"):
        found = [_arguments(a) for a in t.args]
        return None if any(f is None for f in found) else [a for f in found for a in f or ()]
    return None


def _with_another_function(m: Matter) -> bool:
    """`1 + tan² x = 1/sin² x`: an identity, were it not for a sine in the place of a cosine."""
    if len(m.lowered.parts) != 1:
        return False
    residual = sub(*(m.context.resolved(t) for t in m.lowered.parts[0]))
    if residual.op != "add" or len(residual.args) < 3:
        return False
    nodes = [t for t in postorder(residual) if t.op == "fun" and t.value in _PARTNERS]
    for t in nodes[:4]:
        other = substitute(residual, {t: fun(_PARTNERS[t.value], *t.args)})
        if other is ZERO:
            continue
        cloud = m.setting.states.of(m.context, [other], count=12, rounds=2)
        if weigh(other, ZERO, "=", cloud).all_hold:
            return True
    return False
