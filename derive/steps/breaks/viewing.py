"""How the writer of a broken line may be looking at the page: contexts in which later lines are tried.

The narrowest first: the broken line with what names mean; with all that fits beside it; put into the lines
above in place of what it replaces (`2(g h - F s/m)` written as `2(g h + F s/m)`). Where no state can satisfy
a broken line (a length that comes out negative, 1/cos² = 1 - tan²) it is still a line to calculate with: it is
then looked at with signs left open, and at last with its functions taken as unknowns of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from derive.notation.tree import Derivative, Expr, Name, rebuilt, walk
from derive.states.consistency import consistent
from derive.states.context import Context, Premise
from derive.states.setting import Matter, Setting
from derive.steps.brought_in.principles import lagrangians
from derive.steps.changing.given_courses import explicit
from derive.terms.claims import Pair, lower_pair
from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, build, mul, neg, num, postorder, power, show, sub, substitute, var, variables
from derive.terms.world import TIME, World
from derive.terms.writing import written


@dataclass(frozen=True, slots=True)
class View:
    """A context, and what is put for pieces of a line in it: unknowns for functions, what was meant for what was
    written (`instead`, then looked for in plain terms), the writer's own slopes (`∂L/∂q'`). A narrow one assumes little
    besides the broken line."""

    context: Context
    opaque: tuple[tuple[Term, Term], ...] = ()
    instead: tuple[tuple[Term, Term], ...] = ()
    narrow: bool = False
    slopes: tuple[tuple[Expr, Expr], ...] = ()

    def seen(self, m: Matter) -> Matter:
        """A pair as it is looked at in this view, names standing for what the writer has made of them."""
        own = _with_slopes(m.pair, dict(self.slopes)) if self.slopes else None
        lowered = m.lowered if own is None else lower_pair(own, self.context.world)
        world, true = self.context.world, m.context.world
        if world.definitions != true.definitions or (m.at and world.functions != true.functions):
            lowered = lower_pair(m.pair, world)
            if m.at:
                c = self.context
                lowered = replace(lowered, parts=tuple(
                    (c.placed(c.resolved(a), m.at), c.placed(c.resolved(b), m.at)) for a, b in lowered.parts))
        if self.opaque:
            change = dict(self.opaque)
            parts = tuple((substitute(a, change), substitute(b, change)) for a, b in lowered.parts)
            lowered = replace(lowered, parts=parts)
        if self.instead:
            world, meant = self.context.world, dict(self.instead)
            parts = tuple(
                (substitute(plain(a, world), meant), substitute(plain(b, world), meant)) for a, b in lowered.parts)
            lowered = replace(lowered, parts=parts)
        return replace(m, setting=m.setting.within(self.context), lowered=lowered)


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
            key = (frozenset(view.context.premises), view.context.world.formal, view.instead)
            if key not in seen:
                seen.add(key)
                yield view


def alone(setting: Setting, must: tuple[Premise, ...]) -> View:
    """The broken line with ranges and with definitions that fit beside it, and nothing else."""
    return View(_meaning(consistent(_with_meanings(setting.context), must, setting), must), narrow=True)


def with_the_page(setting: Setting, must: tuple[Premise, ...]) -> View:
    """The broken line with all that fits beside it."""
    return View(_meaning(consistent(setting.context, must, setting), must))


def put_in(setting: Setting, must: tuple[Premise, ...]) -> View | None:
    """The lines above with one side of the broken line put in for the other."""
    world = setting.context.world
    change: dict[Term, Term] = {}
    for p in must:
        if p.sides is not None and p.sign == "=":
            left, right = (plain(t, world) for t in p.sides)
            if left.op not in ("num", "var") or (isinstance(left.value, Var) and left.value.order):
                change |= {left: right, neg(left): neg(right)}
    put, kept = [], []
    for p in setting.context.premises if change else ():
        before = plain(p.term, _without_own(p, world)) if p.kind != "definition" else p.term
        term = substitute(before, change)
        if term is before:
            kept.append(p)
        else:
            put.append(replace(p, term=term, implied=False))
    return _put(put, kept, setting)


def slopes_put_in(setting: Setting, must: tuple[Premise, ...]) -> View | None:
    """Lagrange's equation with the writer's own `∂L/∂q'` in it, whose rate goes into it too: where a page has the
    equation, and where it goes without saying."""
    told = (p.pair for p in must if isinstance(p.pair, Pair))
    own: dict[Expr, Expr] = {
        pair.left: pair.right for pair in told if isinstance(pair.left, Derivative) and pair.left.partial}
    put, kept = [], []
    for p in setting.context.premises if own else ():
        meant = _with_slopes(p.pair, own) if isinstance(p.pair, Pair) else None
        if meant is None:
            kept.append(p)
        else:
            parts = lower_pair(meant, setting.context.world).parts
            put += [replace(p, term=sub(*part), sides=part, pair=meant, implied=False) for part in parts]
    view = _put(put or _unsaid(own, setting), kept, setting)
    return replace(view, slopes=tuple(own.items())) if view is not None else None


def _with_slopes(pair: Pair, own: dict[Expr, Expr]) -> Pair | None:
    """A pair with what the writer has for slopes in their place; None where it holds none of them."""
    change: dict[int, object] = {
        id(n): own[n] for n in walk(pair.relation()) if isinstance(n, Derivative) and n in own}
    if not change:
        return None
    left, right = (rebuilt(side, change) for side in (pair.left, pair.right))
    return replace(pair, left=left, right=right)  # type: ignore[arg-type]


def _unsaid(own: dict[Expr, Expr], setting: Setting) -> list[Premise]:
    """Lagrange's equations of a page without givens, which nobody need write."""
    context, out = setting.context, []
    known = () if setting.strict or not own else lagrangians(context)
    for slope, given in own.items():
        if not (isinstance(slope, Derivative) and isinstance(slope.body, Name) and slope.body.ident in known):
            continue
        rate = slope.wrt
        if isinstance(rate, Derivative) and rate.order == 1:
            force = Derivative(slope.body, rate.body, partial=True)
            pair = Pair(Derivative(given, Name(TIME)), own.get(force, force), "=")
            out += [Premise("Lagrange's equation", sub(*part)) for part in lower_pair(pair, context.world).parts]
    return out


def _put(put: Sequence[Premise], kept: Sequence[Premise], setting: Setting) -> View | None:
    """The page with some lines as the writer's own makes them, and what fits beside those."""
    if not put:
        return None
    newest_first = tuple(reversed(put))
    others = replace(setting.context, premises=tuple(kept))
    return View(_meaning(consistent(others, newest_first, setting, courses=True), newest_first), narrow=True)


def undone(setting: Setting, must: tuple[Premise, ...]) -> View | None:
    """The true page, for a line in which what the writer made of something is put back: a line right but for that."""
    world = setting.context.world
    back: dict[Term, Term] = {}
    for p in must:
        if p.sides is not None and p.sign == "=":
            left, right = (plain(t, world) for t in p.sides)
            if right.op not in ("num", "var"):
                back |= {right: left, neg(right): neg(left)}
    return View(setting.context, instead=tuple(back.items()), narrow=True) if back else None


def _without_own(p: Premise, world: World) -> World:
    """What names stand for, but for the one that a premise itself says something of."""
    own = {v.name for v, _ in isolated(p.term)}
    return replace(world, definitions={n: t for n, t in world.definitions.items() if n not in own})


def signless(setting: Setting, must: tuple[Premise, ...]) -> View:
    """Signs and ranges left open: a length may come out negative."""
    formal, owned = _formal(setting.context, _from_the_start(must), {})
    return View(_meaning(consistent(formal, owned, setting.within(formal)), owned))


def signless_alone(setting: Setting, must: tuple[Premise, ...]) -> View:
    """The broken line by itself with signs and ranges left open: what it says is not held against a page that says
    otherwise."""
    formal, owned = _formal(_with_meanings(setting.context), _from_the_start(must), {})
    return View(_meaning(consistent(formal, owned, setting.within(formal)), owned), narrow=True)


def opaque(setting: Setting, must: tuple[Premise, ...]) -> View | None:
    """Functions in the broken line taken as unknowns: 1/cos² = 1 - tan² is then possible."""
    change = _unknown_functions(must)
    if not change:
        return None
    functions = replace(setting.context, world=replace(setting.context.world, functions={}))
    page = tuple(_calculated(p, change, setting.context) for p in setting.context.premises)
    seen = replace(functions, premises=page)
    owned = tuple(_calculated(p, change, setting.context) for p in must)
    return View(consistent(seen, owned, setting.within(seen)), tuple(change.items()), narrow=True)


def formally(setting: Setting, must: tuple[Premise, ...]) -> View | None:
    """Both of these: only the algebra counts."""
    change = _unknown_functions(must)
    if not change:
        return None
    formal, owned = _formal(setting.context, _from_the_start(must), change)
    return View(consistent(formal, owned, setting.within(formal)), tuple(change.items()))


def _from_the_start(must: tuple[Premise, ...]) -> tuple[Premise, ...]:
    """Of a chain with a wrong end only that its beginning is its end: two middles that can not be equal would, without
    signs, want something in them to be nothing."""
    return tuple(
        p for k, p in enumerate(must)
        if p.sides is None or not any(
            q.source == p.source and q.sides is not None and q.sides[1] is p.sides[1] for q in must[k + 1:]))


def _unknown_functions(must: Sequence[Premise]) -> dict[Term, Term]:
    return {a: var(Var(written(a), role="constant")) for p in must for a in _functions(p.term)}


WAYS: tuple[Looking, ...] = (
    alone, with_the_page, put_in, slopes_put_in, undone, signless_alone, signless, opaque, formally)
WAYS_WITH_ALL: tuple[Looking, ...] = (with_the_page, put_in, slopes_put_in, signless)


def _meaning(context: Context, must: Sequence[Premise]) -> Context:
    """The writer's own line for a name is what that name stands for, in derivatives and at instants too."""
    world = context.world
    for p in must:
        ways = isolated(p.term) if p.sign == "=" else []
        v, rest = ways[0] if ways else (None, None)
        if v is None or rest is None or v.order or v.at or v.role != "value":
            continue
        if v.name in world.definitions:
            world = replace(world, definitions={**world.definitions, v.name: rest})
        course = explicit(v, rest, replace(context, world=world)) if p.always else None
        if course is not None:
            world = replace(world, functions={**world.functions, v.name: course})
    return replace(context, world=world)


def _with_meanings(context: Context) -> Context:
    return replace(context, premises=tuple(p for p in context.premises if p.kind in ("range", "definition")))


def _formal(
    context: Context, must: Sequence[Premise], change: dict[Term, Term]
) -> tuple[Context, tuple[Premise, ...]]:
    """A context without signs and ranges, some functions in it unknowns, and the broken line in it."""
    world = replace(context.world, formal=True)
    if change:
        world = replace(world, functions={})
    premises = tuple(_calculated(p, change, context) for p in context.premises if p.kind != "range")
    owned = tuple(_calculated(_without_common(p), change, context) for p in must)
    return replace(context, world=world, premises=premises), owned


def _calculated(p: Premise, change: dict[Term, Term], context: Context) -> Premise:
    """A premise with functions taken as unknowns; such a one can no longer be differentiated."""
    if not change:
        return replace(p, implied=False)
    term = substitute(context.resolved(p.term), change)
    return replace(p, term=term, implied=False, always=p.always and not _names(change) & set(variables(term)))


def _without_common(p: Premise) -> Premise:
    """`-m ω² X cos ωt = k X cos ωt` without X cos ωt: without signs nothing else would keep it from being 0."""
    if p.sides is None or p.sign != "=":
        return p
    left, right = (list(t.args) if t.op == "mul" else [t] for t in p.sides)
    for factor in list(left):
        if factor.op != "num" and factor in right:
            left.remove(factor)
            right.remove(factor)
    return replace(p, term=sub(mul(*left), mul(*right)))


def _names(change: dict[Term, Term]) -> set[Var]:
    return {v for t in change.values() for v in variables(t)}


def _functions(t: Term) -> Sequence[Term]:
    """The outermost functions and integrals of unknowns in a term."""
    inside = {
        a for s in postorder(t) if s.op in ("fun", "int") for part in s.args for a in postorder(part)
    }
    return [s for s in postorder(t) if s.op in ("fun", "int") and s.args and variables(s) and s not in inside]


def plain(t: Term, world: World) -> Term:
    """A term with shorthand names written out, flattened."""
    return flattened(world.seen_through(t))


def flattened(t: Term) -> Term:
    """Powers of powers and of products written out and factors put in one order, so that equal pieces of two
    lines are found equal."""
    done: dict[Term, Term] = {}
    for s in postorder(t):
        args = [done[a] for a in s.args]
        whole = s.op == "pow" and args[1].op == "num" and args[1].value.denominator == 1
        if whole and args[0].op == "mul":
            done[s] = mul(*(_raised(a, args[1]) for a in args[0].args))
        elif whole:
            done[s] = _raised(args[0], args[1])
        else:
            done[s] = _ordered(build(s.op, s.value, args)) if s.args else s
    return done[t]


def _ordered(t: Term) -> Term:
    return build(t.op, t.value, sorted(t.args, key=show)) if t.op in ("add", "mul") else t


def _raised(base: Term, whole: Term) -> Term:
    if base.op == "pow" and base.args[1].op == "num":
        exponent = base.args[1].value * whole.value
        even_root = base.args[1].value.denominator % 2 == 0
        return power(base, whole) if even_root else power(base.args[0], num(exponent))
    return power(base, whole)


__all__ = ["View", "views"]
