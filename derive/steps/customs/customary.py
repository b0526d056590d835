"""What goes without saying in a working without givens: g near the ground, Lagrange's equation, positive sizes.

Each custom is a view of the matter with more premises. A line that holds in one is shown as resting on it; a line
that holds without is never asked. Declared symbols and givens leave nothing to custom but that equation, where they
give an L, the g of a task near the ground, where they give none, and that an angle without a range of its own is acute.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from derive.notation.tree import Constant, Name, Num, Quotient, Relation, names_in, walk
from derive.records import Symbol
from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.states.setting import Decision, Matter
from derive.states.sizes import KIND, all_positive, is_changing_mass, positive, sized
from derive.steps.brought_in.principles import lagrangians, laws_of
from derive.steps.brought_in.quick import claims_to_follow
from derive.steps.customs import inclines, rolling, turning
from derive.steps.customs.divisions import divisors
from derive.steps.letters import rates, resultants, speeds
from derive.steps.letters.defining import something_moves
from derive.steps.numbers import gravity
from derive.terms.term import (
    HALF,
    MINUS_ONE,
    ONE,
    PI,
    TWO,
    Term,
    Var,
    mul,
    num,
    postorder,
    power,
    sub,
    substitute,
    var,
    variables,
)
from derive.terms.world import TIME
from derive.terms.writing import is_negative, written

_ACUTE = "being acute"
BOUNDS = ("<", ">", "≤", "≥")


def views(m: Matter) -> Iterator[Matter]:
    """The matter under each custom that could bear on it."""
    if m.lowered.primitives:
        return
    if tells_its_names(m):
        yield from _lagrange(m)
        yield from _root_taken(m)
        if gravity.is_gravity(m.context.world.symbols.get("g")):
            yield from gravity.near_the_ground(m)
        yield from acute_angles(m)
        yield from _first_phases(m)
        return
    inside = with_sizes(m)
    yield from _root_taken(inside or m)
    yield from _root_taken_then(m)
    yield from _root_of_a_square(inside or m)
    if inside is not None:
        yield inside
    if m.pair.sign in ("=", "≈"):
        yield from _lagrange(inside or m)
        yield from rates.views(m)
        yield from speeds.views(inside or m)
        yield from rolling.views(inside or m)
        yield from turning.views(inside or m)
        yield from resultants.views(inside or m)
        yield from gravity.near_the_ground(m)
    yield from acute_angles(inside or m)
    yield from _first_phases(inside or m)
    yield from inclines.views(inside or m)
    yield from _among_positive(m)


def tells_its_names(m: Matter) -> bool:
    """Does the page declare what its names stand for? One with givens and no symbols leaves their signs to custom."""
    return m.setting.strict and any(s.declared for s in m.context.world.symbols.values())


def binding(m: Matter, inside: Matter) -> bool:
    """Does the line speak of the custom itself, so that it is wrong where it does not hold? `N = 2.0·9.81·0.5` has
    this very value of g put in, `so v = 98 m/s` some value; `v = A ω sin ωt` is said of the course x = A cos ωt."""
    custom = inside.context.premises[-1]
    if custom.label == _LAGRANGE:
        # `circular: r'' = 0` speaks of one of the motions, not of all.
        return len(m.unknowns) > 1 and any(v.order == 2 for v in m.unknowns)
    if rates.of_motion(inside):
        return rates.binding(m, inside)
    if custom.label == turning.TURN:
        return turning.binding(inside)
    if resultants.of_components(inside):
        return resultants.binding(m, inside)
    value = custom.sides[1].value if custom.sides is not None else None
    if custom.label == gravity.USUAL_G and gravity.nowhere(m):
        return True
    put_in = any(isinstance(n, Num) and n.value == value for n in walk(m.pair.relation()))
    return (value in gravity.TELLING and put_in) or (value == gravity.VALUES[-1] and _worked_out(m))


_PUTTING_IN = frozenset(("substituting", "inserting", "plugging"))


def _worked_out(m: Matter) -> bool:
    """Does the writer say that the number comes from those above, or write out what of (`v = √(2 g h) = 15.3 m/s`), or
    draw it from a value at the head (`l = 0.5 m: T = 1.42 s`)?"""
    written_out = m.pair.head is not None and "g" in names_in(m.pair.left) and not isinstance(m.pair.left, Name)
    counted = "g" in m.fresh and gravity.counts_in_g(m)  # `a = 29.4 m/s² = 4 g`
    drawn = written_out or counted or gravity.is_drawn_at_a_head(m)
    told = drawn and gravity.far_from_the_ground(m)
    return told or gravity.is_off_on_the_ground(m) or claims_to_follow(m) or bool(
        _PUTTING_IN & set(m.words.lower().split()))


def bounded_angle(m: Matter, inside: Matter) -> bool:
    """Is it a bound of an angle (`tan β ≤ 3 μ`), seen where angles are acute?"""
    return m.pair.sign in BOUNDS and inside.context.premises[-1].label.endswith(_ACUTE)


def usual_g(decision: Decision) -> bool:
    return gravity.USUAL_G in decision.verdict.premises


def by_lagranges_equation(m: Matter) -> Matter | None:
    """The matter with the equations of motion that an L gives, where the line is about one of these."""
    return next((inside for inside in _lagrange(m) if binding(m, inside)), None)


def said(decision: Decision, inside: Matter) -> Decision:
    """The decision with the custom among its premises; what was taken for granted stays so."""
    custom = next(p.label for p in reversed(inside.context.premises) if p.kind == "custom")
    if custom in decision.verdict.premises:
        return decision
    verdict = replace(decision.verdict, premises=(*decision.verdict.premises, custom))
    return replace(decision, verdict=verdict)


def _with(m: Matter, *premises: Premise) -> Matter:
    return replace(m, setting=m.setting.within(m.context.adding(*premises)))


# --- sizes ------------------------------------------------------------------------------------------------------


def with_sizes(m: Matter) -> Matter | None:
    """`a = g sin θ` after `m a = m g sin θ`: no mass is nothing, nor is what a line above divides by."""
    if tells_its_names(m):
        return None
    premises = [m.context.resolved(p.term) for p in m.context.premises]
    spoken = spoken_of(m)
    here = variables(*map(m.context.resolved, m.residuals), *premises)
    met = variables(*m.residuals, *(p.term for p in m.context.premises))
    burning = [v for v in met if is_changing_mass(v, m.context.world)]
    context = sized(m.context, [v for v in (*here, *burning) if v not in spoken])
    apart = tuple(_divided_by(context or m.context, spoken))
    context = (context or m.context).adding(*apart) if context is not None or apart else None
    if context is None or not m.setting.states.any(context).size:
        return None
    return replace(m, setting=m.setting.within(context))


def spoken_of(m: Matter) -> set[Var]:
    """What cases say the value of: `ω = 0 gives …`, and what is nothing in the one looked at. In `x > L`, L is a length
    as ever."""
    said = [(p.sign, variables(p.term)) for case in m.setting.cases for p in case.premises]
    nothing = {p.term.value for p in m.context.premises if p.sign == "=" and isinstance(p.term.value, Var)}
    return {v for sign, own in said if sign == "=" or len(own) == 1 for v in own} | nothing


def _divided_by(context: Context, spoken: set[Var]) -> Iterator[Premise]:
    """`t = x/v` stands above: whoever wrote that has set v = 0 aside."""
    told = {p.term for p in context.premises if p.sign in "≠>"}
    for divisor in dict.fromkeys(d for p in context.premises if p.sign == "=" for d in divisors(p.term)):
        v = divisor.value
        if not isinstance(v, Var) or v in spoken or divisor in told or context.world.is_changing(v):
            continue
        if v.role == "value" and not v.order and not v.at:
            yield Premise(f"{v.name} not being 0", divisor, "≠", always=False, kind=KIND)


# What has a direction or a side, so that its square leaves a case open.
_SIDED = frozenset(["x", "y", "z", "s", "q", "θ", "φ", "α", "β"])


def _root_taken(m: Matter) -> Iterator[Matter]:
    """`v = √(2 g h)` after `v² = 2 g h`, `v ≥ √(5 g R)`, `a t = √(2 a s)`: of what is no place and stays the same, the
    root that is written is meant. So it is of the time that something takes, given by its square, whatever is made of
    it: `x = v √(2 h/g)`, `g t = 30` after `h = ½ g t²`."""
    if m.pair.sign not in ("=", "<", ">", "≤", "≥") or len(m.lowered.parts) != 1:
        return
    meant = _with_its_root(m) | _duration(m) | _drawn_out(m)
    context = positive(m.context, meant) if meant else None
    if context is not None and m.setting.states.any(context).size:
        yield replace(m, setting=m.setting.within(context))


_SPEEDS = frozenset(("v", "u", "ω"))


def _root_taken_then(m: Matter) -> Iterator[Matter]:
    """`at θ = 0: v = √(2 g l)`: where one moment is spoken of, the root that is written is the speed then."""
    v, right = m.lowered.parts[0][0].value, m.lowered.parts[0][1]
    said = m.pair.sign == "=" and len(m.lowered.parts) == 1 and isinstance(v, Var) and v.at and not v.order
    factors = right.args if right.op == "mul" else (right,)
    if said and isinstance(v, Var) and v.name.partition("_")[0] in _SPEEDS and any(map(_is_root, factors)) and not any(
            f.op == "num" and f.value < 0 for f in factors):
        inside = with_sizes(m) or m
        yield _with(inside, Premise(f"{written(var(v))} being positive", var(v), ">", False, False, m.number, "custom"))


def _root_of_a_square(m: Matter) -> Iterator[Matter]:
    """`v = R ω` below `v² = r'² + r² θ'²`, `|p| = m v`: of what a line gives by its square, and of a vector, the
    product that is written is the size."""
    (left, right), *others = m.lowered.parts
    v, factors = left.value, right.args if right.op == "mul" else (right,)
    if others or m.pair.sign != "=" or not variables(right):
        return
    told = isinstance(v, Var) and not (v.order or v.at) and v.name in m.context.world.squares
    size = left.op == "pow" and left.args[1] is HALF and left.args[0].op == "add"
    if (told or size) and all(
            isinstance((f.args[0] if f.op == "pow" else f).value, Var) or (not variables(f) and not is_negative(f))
            for f in factors):
        yield _with(m, *(Premise(f"{written(right)} being positive", t, ">", False, False, m.number, "custom")
                         for t in ((left, right) if told else (right,))))


def _with_its_root(m: Matter) -> set[str]:
    """The name that a line gives by a root, or all those of a product that it does."""
    left, right = m.lowered.parts[0]
    world = m.context.world
    factors = right.args if right.op == "mul" else (right,)
    if not any(_is_root(f) for f in factors) or any(f.op == "num" and f.value < 0 for f in factors):
        return set()
    own = [f for f in (left.args if left.op == "mul" else (left,)) if f.op != "num"]
    names = {f.value.name for f in own if isinstance(f.value, Var) and not (f.value.order or f.value.at)}
    sided = any(
        n.partition("_")[0] in _SIDED or n in world.symbols
        or (something_moves(m.context) if n == TIME else _swings(n, m) and not _settled(n, m))
        for n in names)
    return set() if len(names) < len(own) or sided else names


def _swings(name: str, m: Matter) -> bool:
    """Does a name change in time, so that it may turn about? Along a way (`v dv/dx = a`) a speed is one throughout."""
    world = m.context.world
    return world.is_changing(Var(name)) and (name in world.moving or name not in world.fields)


def _drawn_out(m: Matter) -> set[str]:
    """The a of `T = 2π a √(m/U)` below `ω = √(U/(m a²))`: it stood squared below the root, and nobody thinks of |a|."""
    world = m.context.world
    roots = [t for p in m.context.premises for t in postorder(m.context.resolved(p.term)) if _is_root(t)]
    squared = {s.args[0].value for root in roots for s in postorder(root)
               if s.op == "pow" and s.args[1].op == "num" and abs(s.args[1].value) == 2 and s.args[0].op == "var"}
    outside = {f.value for part in m.lowered.parts for t in part for f in (t.args if t.op == "mul" else (t,))
               if f.op == "var"}
    return {
        v.name for v in squared & outside
        if not (v.order or v.at or v.name == TIME or v.name in world.symbols or world.is_changing(v))}


def _settled(name: str, m: Matter) -> bool:
    """Is the case spoken of that a name changes no more: `terminal: v' = 0`, `equilibrium: θ'' = 0`?"""
    still = [var(Var(name, order, TIME)) for order in (1, 2)]
    return any(p.term in still and p.sign == "=" and not p.always for p in m.context.premises)


def _duration(m: Matter) -> set[str]:
    """t, where it is given by its square; of what moves, in a case that says so of constants (`h = ½ a t²`)."""
    squared, world = {power(var(Var(TIME)), TWO): ONE}, m.context.world
    told = [p for p in m.context.premises if p.sign == "=" and Var(TIME) in variables(p.term)]
    if something_moves(m.context):
        told = [p for p in told if not p.always and not any(
            v.at or v.order or (v.name != TIME and world.is_changing(v)) for v in variables(p.term))]
    return {TIME} if any(Var(TIME) not in variables(substitute(p.term, squared)) for p in told) else set()


def _among_positive(m: Matter) -> Iterator[Matter]:
    """`x = v (v + √(v² + 2 g h))/g` where that solves an equation of x: of two roots one is written, and where all that
    is given is positive it is the positive one. Nobody thinks of the other."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return
    left, right = m.lowered.parts[0]
    sums = [t for t in postorder(right) if t.op == "add"]
    rooted = any(f.op == "pow" and f.args[1] is HALF for t in sums for a in t.args for f in (a, *a.args))
    if not isinstance(left.value, Var) or not rooted:
        return
    premises = [m.context.resolved(p.term) for p in m.context.premises]
    given = all_positive(m.context, variables(right, *premises)) or m.context
    context = positive(given, {left.value.name})
    if context is not None and m.setting.states.any(context).size:
        yield replace(m, setting=m.setting.within(context))


def _is_root(t: Term) -> bool:
    """A root, above the line or below it."""
    if t.op == "pow" and t.args[1] is MINUS_ONE:
        t = t.args[0]
    return t.op == "pow" and t.args[1].op == "num" and abs(t.args[1].value) == HALF.value


# --- angles -------------------------------------------------------------------------------------------------------


def acute_angles(m: Matter) -> Iterator[Matter]:
    """`θ = 17.7°` after `tan θ = 0.319`, `θ = 90°` after `cos θ = 0`: of all angles with this tangent or cosine the
    one that a triangle can have."""
    world = m.context.world
    terms = [*m.residuals, *(p.term for p in m.context.premises)]
    angles = {
        v.name for t in postorder(*terms)
        if t.op == "fun" and t.value in ("sin", "cos", "tan") and len(t.args) == 1
        for v in _one_angle(t.args[0]) if not world.is_changing(v) or _settled(v.name, m)}
    bounded = {n for n, symbol in world.symbols.items() if symbol.bounds or symbol.sign != "real"}
    asked = sorted({v.name for v in m.unknowns} & angles - bounded)
    if not asked and any(_is_root(t) for t in postorder(*m.residuals)):
        asked = sorted(angles - bounded)  # `t = w/√(v² - c²)` below `sin θ = c/v`, where √ stands for a cosine
    if not asked:
        return
    for upper, words in ((Fraction(1, 2), _ACUTE), (Fraction(1), "being between 0 and 180°")):
        held = {n: replace(world.symbols.get(n) or Symbol(n, declared=False), bounds=(_between_nothing_and(upper, n),))
                for n in asked}
        inside = replace(m, setting=m.setting.within(m.context.knowing(
            replace(world, symbols={**world.symbols, **held}))))
        said = f"{asked[0]} {words}"
        yield _with(inside, Premise(said, var(Var(asked[0])), ">", False, False, m.number, "custom"))


# How far the first turn of a phase is gone through, in the order in which a value is looked for there.
_FIRST_TURN = ((Fraction(1, 2), "quarter turn"), (Fraction(1), "half turn"), (Fraction(2), "turn"))


def _first_phases(m: Matter) -> Iterator[Matter]:
    """`ω t = π/4` after `tan² ω t = 1`: of all phases at which it is so, the first."""
    given = next((
        a for a, b in m.lowered.parts if a.op in ("mul", "add") and len(variables(a)) > 1 and not variables(b)), None)
    trigonometric = (
        t.args[0] for p in m.context.premises for t in postorder(m.context.resolved(p.term))
        if t.op == "fun" and t.value in ("sin", "cos", "tan"))
    if given is None or not any(t is given for t in trigonometric):
        return
    for upper, words in _FIRST_TURN:
        said = f"the phase being within the first {words}"
        within = (given, sub(mul(num(upper), PI), given))
        yield _with(m, *(Premise(said, t, ">", False, False, m.number, "custom") for t in within))


def _one_angle(t: Term) -> tuple[Var, ...]:
    """θ in `sin θ` and in `cos 2θ`, δ in `cos(ω t - δ)`."""
    here = variables(t)
    if Var(TIME) in here:
        return tuple(v for v in here if v.name != TIME and (split := linear(t, v)) and split[0] in (ONE, MINUS_ONE))
    times = [a for a in t.args if a.op != "num"] if t.op == "mul" else [t]
    return here if len(times) == 1 and times[0].op == "var" else ()


def _between_nothing_and(turns: Fraction, name: str) -> Relation:
    end = Quotient(Constant("π"), Num(1 / turns))
    return Relation((Num(Fraction(0)), Name(name), end), ("<", "<"))


# --- Lagrange ---------------------------------------------------------------------------------------------------


_LAGRANGE = "Lagrange's equation"


def _lagrange(m: Matter) -> Iterator[Matter]:
    """`m x'' = -k x` below `L = ½ m x'² - ½ k x²`: the equation of motion of each coordinate of L. So `p = const` of a
    p that is short for `m r² θ'`."""
    hidden = (m.context.world.seen_through(r) for r in m.residuals)
    rates = {v.name for v in variables(*m.residuals, *hidden) if v.order in (1, 2)}
    for name in lagrangians(m.context) if rates else ():
        laws = laws_of(name, m.context)
        if not rates & laws.keys():
            continue
        premises = [Premise(_LAGRANGE, t, "=", True, False, m.number, "custom") for t in laws.values()]
        world = m.context.world  # T - V changes along, whatever has been declared of it
        moving = m.context.knowing(replace(world, moving=world.moving | {name}))
        inside = _with(replace(m, setting=m.setting.within(moving)), *premises)
        if m.setting.states.any(inside.context).size:
            yield inside
