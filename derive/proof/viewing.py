"""How the writer of a broken line may be looking at the page: contexts in which later lines are tried.

The narrowest first: the broken line with what names mean; with all that fits beside it; put into the lines
above in place of what it replaces (`2(g h - F s/m)` written as `2(g h + F s/m)`). Where no state can satisfy
a broken line (1/cos² = 1 - tan², a length that comes out negative) it is still a line to calculate with: it is
then looked at formally, signs left open and its functions taken as unknowns of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from derive.proof.carrying import consistent
from derive.proof.context import Context, Premise
from derive.proof.setting import Matter, Setting
from derive.proof.showing import written
from derive.proof.term import Term, Var, neg, postorder, substitute, var, variables


@dataclass(frozen=True, slots=True)
class View:
    """A context, and the functions that are taken as unknowns in it."""

    context: Context
    opaque: tuple[tuple[Term, Term], ...] = ()

    def seen(self, m: Matter) -> Matter:
        """A pair as it is looked at in this view."""
        m = replace(m, setting=m.setting.within(self.context))
        if not self.opaque:
            return m
        change = dict(self.opaque)
        parts = tuple((substitute(a, change), substitute(b, change)) for a, b in m.lowered.parts)
        return replace(m, lowered=replace(m.lowered, parts=parts))


Looking = Callable[[Setting, tuple[Premise, ...]], "View | None"]


def views(setting: Setting) -> Iterator[View]:
    """The writer's views of the page, each made only when the ones before did not serve."""
    own = setting.broken
    latest = tuple(p for p in own if p.source == own[-1].source)
    seen: set[tuple[object, ...]] = set()
    for must, ways in ((latest, WAYS), (tuple(reversed(own)), WAYS_WITH_ALL)):
        for way in ways:
            view = way(setting, must)
            if view is None:
                continue
            key = (frozenset(view.context.premises), view.context.world.formal)
            if key not in seen:
                seen.add(key)
                yield view


def alone(setting: Setting, must: tuple[Premise, ...]) -> View:
    """The broken line with ranges and with definitions that fit beside it, and nothing else."""
    return View(consistent(_with_meanings(setting.context), must, setting))


def with_the_page(setting: Setting, must: tuple[Premise, ...]) -> View:
    """The broken line with all that fits beside it."""
    return View(consistent(setting.context, must, setting))


def put_in(setting: Setting, must: tuple[Premise, ...]) -> View | None:
    """The lines above with one side of the broken line put in for the other."""
    change: dict[Term, Term] = {}
    for p in must:
        if p.sides is not None and p.sign == "=" and p.sides[0].op not in ("num", "var"):
            left, right = p.sides
            change |= {left: right, neg(left): neg(right)}
    put = []
    for p in setting.context.premises:
        term = substitute(p.term, change)
        if term is not p.term:
            put.append(replace(p, term=term, implied=False))
    return View(consistent(setting.context, tuple(reversed(put)), setting)) if put else None


def formally(setting: Setting, must: tuple[Premise, ...]) -> View:
    """Signs left open, and functions in the broken line taken as unknowns: only the algebra counts."""
    context = setting.context
    opaque = tuple(dict.fromkeys(a for p in must for a in _functions(p.term)))
    change = {a: var(Var(written(a), role="constant")) for a in opaque}
    world = replace(context.world, formal=True)
    if change:
        world = replace(world, functions={})
    calculated = tuple(_calculated(p, change, context) for p in context.premises if p.kind != "range")
    formal = replace(context, world=world, premises=calculated)
    owned = tuple(_calculated(p, change, context) for p in must)
    return View(consistent(formal, owned, setting.within(formal)), tuple(change.items()))


WAYS: tuple[Looking, ...] = (alone, with_the_page, put_in, formally)
WAYS_WITH_ALL: tuple[Looking, ...] = (with_the_page, formally)


def _with_meanings(context: Context) -> Context:
    return replace(context, premises=tuple(p for p in context.premises if p.kind in ("range", "definition")))


def _calculated(p: Premise, change: dict[Term, Term], context: Context) -> Premise:
    """A premise with functions taken as unknowns; such a one can no longer be differentiated."""
    if not change:
        return replace(p, implied=False)
    term = substitute(context.resolved(p.term), change)
    return replace(p, term=term, implied=False, always=p.always and not _names(change) & set(variables(term)))


def _names(change: dict[Term, Term]) -> set[Var]:
    return {v for t in change.values() for v in variables(t)}


def _functions(t: Term) -> Sequence[Term]:
    """The outermost functions and integrals of unknowns in a term."""
    inside = {
        a for s in postorder(t) if s.op in ("fun", "int") for part in s.args for a in postorder(part)
    }
    return [s for s in postorder(t) if s.op in ("fun", "int") and s.args and variables(s) and s not in inside]


__all__ = ["View", "views"]
