"""What an equation gives outright: a field or a slope by its variable, a constant at all times; what names hide."""

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


def shorthand_out(t: Term, world: World, courses: bool = False) -> Term:
    """A relation with names that are no functions themselves written out, so that what they hide is seen.

    courses: also with those that are functions and that a line gives by others (`T = T0 e^(μ φ)`).
    """
    for _ in range(6):
        change = {
            var(v): world.definitions[v.name] for v in variables(t)
            if v.name in world.definitions and (courses or not world.is_changing(v)) and not v.order and not v.at
        }
        if not change:
            return t
        t = substitute(t, change)
    return t


def explicit_field(t: Term, variable: str, world: World) -> bool:
    """Does an equation give one field by its variable and constants alone?"""
    here = variables(t)
    fields = {v.name for v in here if world.fields.get(v.name) == variable}
    others = [v for v in here if v.name not in fields and v.name != variable]
    return len(fields) == 1 and not any(v.order or v.at or v.role != "value" or world.is_changing(v) for v in others)


def explicit_slope(t: Term, world: World) -> bool:
    """Does an equation give one slope by its variable and constants alone (`dR/dα = 2 v² cos 2α/g`)?"""
    if t.op != "add" or len(t.args) != 2:
        return False
    return any(
        v.order and v.wrt != TIME and not v.at
        and not any(u.order or u.at or (u.name != v.wrt and world.is_changing(u)) for u in variables(rest))
        for v, rest in isolated(t))


def slopes_are_told(t: Term, world: World) -> bool:
    """Are all slopes in an equation those of fields that are given by their place alone: of `F = -dU/dx` below
    `U = a/x² - b/x`?"""
    slopes = [v for v in variables(t) if v.order and v.wrt != TIME]
    given = [(v, world.definitions.get(v.name)) for v in slopes]
    return bool(slopes) and all(
        v.order == 1 and course is not None and Var(v.wrt) in variables(course)
        and not any(u.order or u.at or (u.name != v.wrt and world.is_changing(u)) for u in variables(course))
        for v, course in given)


def explicit_in(t: Term, world: World) -> Var | None:
    """The variable (t, or that of an adopted field) to which alone an equation ties constants, if so."""
    changing = {v for v in variables(t) if world.is_changing(v)}
    run = {TIME, *(world.fields[n] for n in world.functions if n in world.fields)}
    if len(changing) == 1:
        (v,) = changing
        if v.name in run and not v.order and v.role == "value":
            return v
    return None


def with_names_written_out(terms: list[Term], world: World) -> list[Term]:
    """Relations as typed, and with names for things written out: `E1 - W = E2` says how h and v go together."""
    return [*terms, *map(world.seen_through, terms)]


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
    `P = F v`, where v is nothing, there is left P."""
    if t.op != "add":
        return False
    nothing = {var(v): ZERO for v in variables(there) if v.at and var(v) in equations}
    left = substitute(there, nothing) if nothing else there
    alone = left.op in ("var", "mul") and not any(s.op == "add" for s in postorder(left))
    if not alone or any(v.at or v.order for v in variables(left)):
        return False
    told = {v.value.name for v in nothing if isinstance(v.value, Var)}
    return any(
        world.is_changing(v) and v.role == "value" and not v.at and v.name not in told and v.name[0] not in _PLACES
        for v in variables(t))
