"""Where a relation has no value: what it divides by is nothing there, or something in it grows without bound."""

from __future__ import annotations

from collections.abc import Collection

from derive.states.elimination import cancels
from derive.terms.isolation import isolated
from derive.terms.term import ZERO, Term, Var, postorder, substitute, var, variables
from derive.terms.tidying import tidied, without_cancelled
from derive.terms.world import TIME, World


def divides_by_nothing(t: Term) -> bool:
    """The slope of √t at the start has no value, and no equation there."""
    powers = [s for s in postorder(t) if s.op == "pow" and s.args[1].op == "num" and s.args[1].value < 0]
    return any(_is_nothing(s.args[0]) for s in powers)


def _is_nothing(t: Term) -> bool:
    root = t.args[0] if t.op == "pow" and t.args[1].op == "num" and t.args[1].value > 0 else t
    return root is ZERO or (root.op == "add" and (cancels(root) or tidied(without_cancelled(root)) is ZERO))


def without_poles(equations: list[Term], nothing: Collection[Term]) -> list[Term]:
    """Without the slopes that have no value at an instant: that of √z where a tank is empty, z(τ) = 0, and what is
    divided by √(A² - x²) where x is A."""
    there = {t: ZERO for t in nothing if isinstance(t.value, Var) and t.value.at}
    told = [pair for t in equations if len(variables(t)) == 2 for pair in isolated(t)]
    there = {var(v): rest for v, rest in told if v.at and not v.order} | there  # of `x'(0) = v(0) = 0` the second
    if not there:
        return equations
    return [e for e in equations if e in nothing or not divides_by_nothing(substitute(e, there))]


def without_bound(t: Term) -> bool:
    """Does a term hold an integral over what grows beyond all bounds at an end, and is no rational function or root of
    one: `∫_0^α dθ/√(cos θ - cos α)`?"""
    for integral in (s for s in postorder(t) if s.op == "int"):
        body, *ends = integral.args
        below = [
            s.args[0] for s in postorder(body)
            if s.op == "pow" and s.args[1].op == "num" and s.args[1].value < 0
            and any(n.op == "fun" for n in postorder(s.args[0]))]
        for base in below:
            for v in {s for s in postorder(base) if isinstance(s.value, Var) and s.value.role == "dummy"}:
                for end in ends:
                    there = substitute(base, {v: end})
                    if any(s.op == "add" and cancels(s) for s in postorder(there)):
                        return True
    return False


# What is somewhere at every moment, and never without bound there.
_PLACES = frozenset("xyzsrθφ")


def grows_without_bound(t: Term, there: Term, equations: Collection[Term], world: World) -> bool:
    """Does a relation, taken at a place, leave a constant alone that something else has to grow without bound for? Of
    `P = F v`, where v is nothing, there is left P; so there is of `P = m v v'`."""
    if t.op != "add":
        return False
    nothing = {var(v): ZERO for v in variables(there) if v.at and var(v) in equations}
    left = substitute(there, nothing) if nothing else there
    alone = left.op in ("var", "mul") and not any(s.op == "add" for s in postorder(left))
    if not alone or any(v.at or v.order for v in variables(left)):
        return False
    told = {v.value.name for v in nothing if isinstance(v.value, Var)}
    return any(
        world.is_changing(v) and v.role == "value" and not v.at and (v.order or v.name not in told)
        and v.name != TIME and v.name[0] not in _PLACES
        for v in variables(t))
