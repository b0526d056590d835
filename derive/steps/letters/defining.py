"""What a definition tells of its name: whether it moves, its sign, how derivatives and integrals see through it."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import replace

from derive.notation.tree import Derivative, Name, Value, names_in, walk
from derive.records import Symbol
from derive.states.context import Context, tied_names
from derive.states.setting import Matter
from derive.states.sizes import CONSTANT_SIZES
from derive.terms.calculus import partial
from derive.terms.claims import Pair, lower_pair
from derive.terms.isolation import isolated
from derive.terms.placing import in_terms_of
from derive.terms.term import (
    MINUS_ONE,
    ONE,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    div,
    integral,
    mul,
    neg,
    postorder,
    sub,
    substitute,
    var,
    variables,
)
from derive.terms.world import TIME, World


def defined_by(m: Matter, candidates: set[str]) -> tuple[Var, Term] | None:
    """A name among `candidates` that a pair gives at sight, alone or squared on one side."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return None
    left, right = m.lowered.parts[0]
    for side, other in ((left, right), (right, left)):
        core = side.args[0] if side.op == "pow" and side.args[1] is TWO else side
        if core.op == "var" and isinstance(core.value, Var) and not core.value.order:
            v = core.value
            if v.name in candidates and not v.at and v not in variables(other):
                return v, other
    return None


def angle_of(m: Matter, candidates: set[str]) -> tuple[Var, Term] | None:
    """φ in `cos φ = a/√(a² + h²)`: an angle brought in by what it does to a triangle."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return None
    left, right = m.lowered.parts[0]
    v = left.args[0].value if left.op == "fun" and left.value in ("sin", "cos", "tan") else None
    if not isinstance(v, Var) or v.name not in candidates or v.order or v.at or v.name == TIME:
        return None
    return (v, right) if v not in variables(right) else None


def defining(m: Matter, v: Var, context: Context) -> Context:
    """The context with a pair as the definition of a name: moving if what defines it moves."""
    world = context.world
    others = [t for part in m.lowered.parts for t in part]
    moves = any(
        world.is_changing(u) and u.name not in world.fields
        for t in others for u in variables(context.resolved(t)) if u.name != v.name
    ) and any(
        u.name in world.moving or u.order or (u.name == TIME and something_moves(context))
        for t in others for u in variables(t) if u != v)
    moves = moves and not _kept_at(m, v) and v.name not in world.fields
    symbols = dict(world.symbols)
    if v.name not in symbols and _squared(m, v):
        # A name brought in by its square (ω² = k/m) stands for the positive root, as a magnitude.
        symbols[v.name] = Symbol(v.name, sign="positive", declared=False)
    moving = world.moving | {v.name} if moves else world.moving
    if v.name in moving and v.name not in world.symbols and any(u.name.startswith("const_") for u in m.unknowns):
        moving -= {v.name}  # `T = const`: it was only thought to move
    held = _held_in_field(m, v, world)
    definitions = {n: t for n, t in world.definitions.items() if n not in held}
    moving -= held
    loose = world.varying - world.fields.keys()  # what is a function of a place makes another such function
    along = {bound.name for _, (_, bound) in m.lowered.primitives}  # `U = -∫ F dr` goes along with r
    varies = (not moves and any(
        u.name in loose for t in others for u in variables(t) if not (u.order or u.at))) or bool(along & loose)
    varying = world.varying | {v.name} if varies else world.varying
    context = context.knowing(replace(
        world, symbols=symbols, moving=moving, varying=varying, definitions=definitions,
        primitives={**world.primitives, **dict(m.lowered.primitives)}))
    return with_definition(context.adding(*m.premises(implied=False, kind="definition")), m)


def _kept_at(m: Matter, v: Var) -> bool:
    """`r = R`: the capital is the value at which the small letter stays."""
    left, right = m.pair.left, m.pair.right
    return isinstance(left, Name) and isinstance(right, Name) and right.ident == v.name and (
        left.ident != v.name and left.ident.upper() == v.name)


def _held_in_field(m: Matter, v: Var, world: World) -> set[str]:
    """`V(r) = U(r) + l²/(2 m r²)` below `l = m r² φ'`: what is a function of the place alone says that l stays the
    same, where nothing has been said of how it changes."""
    if v.name not in world.fields or not isinstance(m.pair.left, Value):
        return set()
    beside = {u.name for u in variables(m.lowered.parts[0][1])} - {world.fields[v.name]}
    rates = {u.name for p in m.context.premises for u in variables(p.term) if u.order}
    return beside & world.definitions.keys() - rates


def _squared(m: Matter, v: Var) -> bool:
    return any(
        t.op == "pow" and t.args[1] is TWO and t.args[0].op == "var" and t.args[0].value == v
        for part in m.lowered.parts for t in part
    )


def with_definition(context: Context, m: Matter) -> Context:
    """Remember `name = expression` so that derivatives and integrals can see through the name."""
    world = context.world
    if m.pair.sign != "=":
        return context
    tied = tied_names(m.context)
    for left, right in m.lowered.parts:
        for v, rest in isolated(sub(left, right))[:1]:
            if v.order or v.at or v.role != "value" or _is_told(v.name, world, rest) or v.name == TIME:
                continue
            if _is_given_by_accident(v.name, rest, world) or (
                    var(v) not in (left, right) and (_brings_in_another(v, rest, tied) or _drives(left, right))):
                continue
            if not _leads_back(v.name, rest, world.definitions) and not _holds_at_a_place_only(v, rest, context):
                world = replace(world, definitions={**world.definitions, v.name: rest})
        world = _with_rate(_with_square(world, left, right), sub(left, right))
    new = world.definitions.keys() - context.world.definitions.keys()
    known = context.knowing(world)
    return _seen_in_partials(_seen_in_integrals(known, new), new) if new else known


def _drives(left: Term, right: Term) -> bool:
    """`F - k x = m a` says how something is driven, and not what the force is."""
    return any(t.op == "mul" and var(Var("a")) in t.args for t in (left, right))


def _brings_in_another(v: Var, rest: Term, tied: set[str]) -> bool:
    """`h + u t1 - ½ g t1² = 0` of a known h says when the new t1 is, and not what h is by it."""
    return v.name in tied and any(u.name not in tied and not (u.order or u.at) for u in variables(rest))


def _with_square(world: World, left: Term, right: Term) -> World:
    """Remember what gives the square of a name that nothing gives by itself."""
    name = left.args[0].value if left.op == "pow" and left.args[1] is TWO else None
    if not isinstance(name, Var) or name.order or name.at or name.role != "value" or name in variables(right):
        return world
    known = name.name in world.squares or name.name in world.definitions
    return world if known else replace(world, squares={**world.squares, name.name: right})


def _is_told(name: str, world: World, rest: Term) -> bool:
    """Is it known what a name is, better than by an integral that has been worked out now?"""
    told = world.definitions.get(name)
    opened = told is not None and any(v in world.primitives for v in variables(told))
    return told is not None and not (opened and not any(v in world.primitives for v in variables(rest)))


def _is_given_by_accident(name: str, rest: Term, world: World) -> bool:
    """`v dv/dx = g` says how v goes along x, and not what g is: elsewhere g is not v dv/dx there."""
    along = any(v.order and v.wrt in world.fields.values() for v in variables(rest))
    return along and name.partition("_")[0] in CONSTANT_SIZES


def _holds_at_a_place_only(name: Var, rest: Term, context: Context) -> bool:
    """`μ = tan θ`, `θ = arctan μ` below `dD/dθ = 0`: so it is at the best angle, and μ is no function of θ."""
    sought = {
        v.wrt for p in context.premises if p.sign == "=" and not p.always and not p.implied
        for v in variables(p.term) if v.order and v.wrt != TIME and not v.at}
    return any(v.name in sought for v in (name, *variables(rest)))


def _seen_in_integrals(context: Context, new: Set[str]) -> Context:
    """`W = ∫_0^d F dx`, and F = k x further down: what is integrated is seen by what has been told of it since."""
    world = context.world
    change = {
        s: seen for p in context.premises for s in postorder(p.term) if s.op == "int"
        if (seen := _integrated_anew(s, new, world)) is not s}
    if not change:
        return context
    premises = tuple(
        replace(p, term=substitute(p.term, change), sides=_both(p.sides, change)) for p in context.premises)
    told = {n: substitute(t, change) for n, t in world.definitions.items()}
    return replace(context, premises=premises, world=replace(world, definitions=told))


def _seen_in_partials(context: Context, new: Set[str]) -> Context:
    """`F_x = -∂U/∂x`, and U = x² y further down: until then U was a name without x in it, as is m in `F = d(m v)/dt`
    one without t above `m = m0 + q t`."""
    by_time = {n for n in new if Var(TIME) in variables(context.world.seen_through(var(Var(n))))}
    for k, p in enumerate(context.premises):
        partial = p.pair if isinstance(p.pair, Pair) and new & _taken_partially(p.pair) else None
        rate = p.sloping if isinstance(p.sloping, Pair) and by_time & _in_rates(p.sloping) else None
        pair = partial or rate
        if pair is None:
            continue
        parts = lower_pair(pair, context.world).parts
        if len(parts) != 1:
            continue
        seen = replace(p, term=sub(*parts[0]), sides=parts[0])
        told = dict(context.world.definitions)
        told.update({v.name: rest for v, rest in isolated(seen.term)[:1] if v.name in told})
        premises = (*context.premises[:k], seen, *context.premises[k + 1 :])
        context = replace(context, premises=premises, world=replace(context.world, definitions=told))
    return context


def _taken_partially(pair: Pair) -> set[str]:
    return {
        n.body.ident for n in walk(pair.relation())
        if isinstance(n, Derivative) and n.partial and isinstance(n.body, Name)}


def _in_rates(pair: Pair) -> set[str]:
    rates = (n for n in walk(pair.relation()) if isinstance(n, Derivative) and n.wrt == Name(TIME))
    return {name for n in rates for name in names_in(n.body)}


def _integrated_anew(t: Term, new: Set[str], world: World) -> Term:
    body, lower, upper = t.args
    dummy = t.value
    assert isinstance(dummy, Var)
    if not new & {v.name for v in variables(body)}:
        return t
    bound = Var(dummy.name, dummy.order)
    seen = in_terms_of(world, substitute(body, {var(dummy): var(bound)}), bound)
    return integral(substitute(seen, {var(bound): var(dummy)}), dummy, lower, upper)


def _both(sides: tuple[Term, Term] | None, change: dict[Term, Term]) -> tuple[Term, Term] | None:
    return None if sides is None else (substitute(sides[0], change), substitute(sides[1], change))


def _with_rate(world: World, t: Term) -> World:
    """Remember the slope of a field that an equation is linear in: `dm = λ dx` gives dm/dx."""
    slopes = [v for v in variables(t) if v.order == 1 and v.wrt not in ("", TIME) and not v.at]
    element = _element(t)
    if element is not None:
        world = replace(world, rates={**world.rates, element[0]: element[1]})
    if len(slopes) != 1 or slopes[0] in world.rates:
        return world
    v = slopes[0]
    by = partial(t, v)
    if v in variables(by) or by is ZERO:
        return world
    rest = substitute(t, {var(v): ZERO})
    rate = neg(_divided(rest, by))
    return replace(world, rates={**world.rates, v: rate}) if Var(v.name) not in variables(rate) else world


def _element(t: Term) -> tuple[Var, Term] | None:
    """`dm = λ dx` between differentials of names that are nobody's functions: what dm/dx is."""
    both = [v for v in variables(t) if v.role == "differential"]
    if len(both) != 2 or TIME in {v.name for v in both}:
        return None
    whole = next((v for v in both if partial(t, v) in (ONE, MINUS_ONE)), None)
    if whole is None:
        return None
    (along,) = (v for v in both if v != whole)
    rate = neg(_divided(partial(t, along), partial(t, whole)))
    return None if variables(rate) and {whole, along} & set(variables(rate)) else (Var(whole.name, 1, along.name), rate)


def _divided(t: Term, by: Term) -> Term:
    """t/by with the factors they share at sight cancelled."""
    if t.op == "add":
        return add(*(_divided(a, by) for a in t.args))
    top = list(t.args) if t.op == "mul" else [t]
    bottom = list(by.args) if by.op == "mul" else [by]
    for f in list(bottom):
        if f in top:
            top.remove(f)
            bottom.remove(f)
    return div(mul(*top), mul(*bottom))


def _leads_back(name: str, rest: Term, definitions: dict[str, Term]) -> bool:
    seen: set[str] = set()
    pending = [v.name for v in variables(rest)]
    while pending:
        n = pending.pop()
        if n == name:
            return True
        if n not in seen and n in definitions:
            seen.add(n)
            pending.extend(v.name for v in variables(definitions[n]))
    return False


def works_out(m: Matter) -> bool:
    """`∂L/∂r = m r θ'²` where a line gives L: what an operation comes to is no start (that it is nothing may be)."""
    sides = (m.pair.left, m.pair.right)
    given = m.context.world.definitions
    return any(
        isinstance(s, Derivative) and s.partial and isinstance(s.body, Name) and s.body.ident in given for s in sides
    ) and ZERO not in (m.lowered.parts[0] if len(m.lowered.parts) == 1 else ())


def something_moves(context: Context) -> bool:
    """Has the working named anything that changes in time?"""
    world = context.world
    return bool(world.moving or world.varying or world.functions or TIME in world.fields.values())
