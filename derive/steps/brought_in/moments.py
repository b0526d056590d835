"""Moments and cases that a working with givens goes on with: `stops: v = 0`, `x = D` there, `contact: N ≥ 0`.

Nothing gives such a line and nothing has to: the writer says which moment is meant, or what has to be for contact.
Without givens these are values and bounds brought in on the way (see quick.py).
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Name, Unit, walk
from derive.quantities.unit_table import dimension
from derive.readings import gives_a_value
from derive.records import Dimension, Standing, Symbol, Verdict
from derive.states.context import Premise, tied_names
from derive.states.evidence import weigh
from derive.states.setting import Case, Decision, Matter
from derive.states.sizes import CONSERVED, FORCES
from derive.states.states import freedom
from derive.states.yielding import loosened
from derive.steps.brought_in.quick import claims_to_follow
from derive.steps.letters.defining import something_moves
from derive.terms.placing import instant_key
from derive.terms.term import ZERO, Term, Var, neg, postorder, sub, var, variables
from derive.terms.world import TIME, World


def moment(m: Matter) -> Decision | None:
    """`v = 0`, `at rest: θ' = 0`, `N = 0` of what moves: opens the case, where it can be. Without givens only a rate of
    which a line above says what it is, `terminal: v' = 0`: taken at all times it would bring everything to rest."""
    if not _may_name_a_moment(m, m.setting.strict or _rate_is_given(m)):
        return None
    left, right = m.lowered.parts[0]
    v = _moving_name(m, left) if right is ZERO else _moving_name(m, right) if left is ZERO else None
    if v is None or (v.order and _may_be_kept(v.name, m)):
        return None
    premises = m.premises(implied=False, always=False)
    for loose in (frozenset[str](), frozenset((v.name,)), _at_their_ends(v, m)):
        if m.setting.states.any(loosened(m.context, loose), premises).size:
            case = Case(as_text(m.pair.relation()), premises=premises, loose=loose, line=m.number)
            return Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))
    return _at_its_end(v, m)


def _at_its_end(v: Var, m: Matter) -> Decision | None:
    """`empty: h = 0` of an h that is more than nothing before: looked at as one instant, since at the end of
    `√h = √h0 - c t` nothing need go on as before."""
    symbol = m.context.world.symbols.get(v.name)
    if symbol is None or not symbol.declared or v.order or v.wrt or not m.context.world.is_changing(v):
        return None
    key = instant_key(v, ZERO)
    there = m.setting.within(m.context.at_instant(key, ZERO))
    timely = (var(Var(TIME, at=key)), var(Var(v.name, at=key)))
    if not _may_come(v, m) or not m.setting.states.of(there.context, timely).size:
        return None
    case = Case(as_text(m.pair.relation()), key=key, opened=m.number)
    return Decision(Verdict(Standing.TAKEN, code="taken.case"), there.opening(case))


def _may_come(v: Var, m: Matter) -> bool:
    """Does the course that is known of something ever come to nothing? `h0 e^(-k t)` does not."""
    course, world = m.context.resolved(var(v)), m.context.world
    if course is var(v):
        return True
    still = tuple(p for p in m.context.premises if not any(u.order or world.is_changing(u) for u in variables(p.term)))
    gap = Premise("", course, "=", always=False)
    return bool(m.setting.states.any(replace(m.context, premises=still), (gap,)).size)


def _at_their_ends(v: Var, m: Matter) -> frozenset[str]:
    """What is declared to be positive while it moves, and comes to nothing together with v: of `v = √(2 g h)`, v where
    h is."""
    world = m.context.world
    moving = {n for n, s in world.symbols.items() if s.sign == "positive" and world.is_changing(Var(n))}
    return frozenset(moving | {v.name}) if v.name in moving else frozenset((v.name,))


def time_named(m: Matter) -> Decision | None:
    """`time to half speed: t = (m/b) ln 2` of what moves, `half: z = H ln 2` of what changes with z: which moment or
    place is meant, where nothing above settles it."""
    plain = m.pair.sign == "=" and len(m.lowered.parts) == 1 and not m.lowered.primitives and not m.at
    if not plain or m.setting.hopeful or claims_to_follow(m):
        return None
    world, (left, right) = m.context.world, m.lowered.parts[0]
    time, own = left.value, variables(right)
    runs = (time == Var(TIME) and something_moves(m.context)) or (
        isinstance(time, Var) and not (time.order or time.at) and time.name in world.fields.values()
        and time.name not in world.moving and bool(m.words.strip(" :,")))
    if not runs or not own or time in own or any(
            v.at or v.order or v.role != "value" or world.is_changing(v) or v.name in m.fresh or (
                v.name in world.fields.values()) for v in own):
        return None
    states = m.setting.states
    if freedom(m.context, [*own, time], (), states) <= freedom(m.context, own, (), states):
        return None
    premises = m.premises(implied=False, always=False)
    if not states.any(m.context, premises).size:
        return None
    case = Case(as_text(m.pair.relation()), premises=premises, line=m.number)
    return Decision(
        Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))


def moment_of_a_decay(m: Matter) -> Decision | None:
    """`e^(-c t) = 1/10` below `v = u e^(-c t)`: it is so at one time, and not for good."""
    left, right = m.lowered.parts[0]
    decays = left.op == "fun" and left.value == "exp" and right.op == "num" and Var(TIME) in variables(left)
    if not decays or not _may_name_a_moment(m, something_moves(m.context)):
        return None
    own = variables(left)
    if any(v.at or v.order or m.context.world.is_changing(v) for v in own if v.name != TIME) or freedom(
            m.context, own, (), m.setting.states) != len(own):
        return None
    where = m.pair.relation()
    case = Case(as_text(where), premises=m.premises(implied=False, always=False), line=m.number, where=where)
    return Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))


def moment_by_the_time(m: Matter) -> Decision | None:
    """`w - g t = 0` below `v = w - g t`, `50 t - 60 = 0` below `d(r²)/dt = 50 t - 60`, `closest: r·v = 0`, `h = ½ a t²`
    of an h and an a that have their values: of what stays the same and the time it is so at one time, and not for
    good."""
    if not _may_name_a_moment(m, allowed=True):
        return None
    known = not m.setting.strict or bool(m.context.world.functions)
    if not (known and (_balances_at_a_time(m) or _vanishes_as_told(m) or _is_at_an_extreme(m))) and not (
            m.setting.strict and _says_only_when(m)):
        return None
    premises = m.premises(implied=False, always=False)
    if not m.setting.states.any(m.context, premises).size:
        return None
    case = Case(as_text(m.pair.relation()), premises=premises)
    return Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))


def meeting(m: Matter) -> Decision | None:
    """`2 t = 12 - t` below `x1 = 2 t`, `x2 = 12 - t`, and `x1 = x2` there: when the two are in one place, or pass one
    line; so of vectors."""
    if m.setting.strict or m.setting.hopeful or m.fresh or m.pair.sign != "=" or m.pair.head is not None or m.at or (
            claims_to_follow(m)):
        return None
    given = [p.sides for p in m.context.premises if p.sides is not None and p.sign == "=" and isinstance(
        p.sides[0].value, Var) and (Var(TIME) in variables(p.sides[1]) or not variables(p.sides[1]))]
    courses = dict(given)
    parts = [(courses.get(a, a), courses.get(b, b)) for a, b in m.lowered.parts]
    here = [t for part in parts for t in part]
    cloud = m.setting.states.of(m.context, (*here, *courses.values())) if len(courses) > 1 else None
    if cloud is None or not cloud.size or not any(Var(TIME) in variables(t) for t in here) or not all(
            Var(TIME) in variables(t) or not variables(t) for t in here):
        return None
    for sides in parts:
        named = [{a for a, b in given if weigh(t, b, "=", cloud).all_hold} for t in sides]
        if not all(named) or len(set.union(*named)) < 2:
            return None
    premises = m.premises(implied=False, always=False)
    if not m.setting.states.any(m.context, premises).size:
        return None
    case = Case(as_text(m.pair.relation()), premises=premises)
    return Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))


def _balances_at_a_time(m: Matter) -> bool:
    """Is the line one of constants and the time that nothing ties, beside courses that are known?"""
    world, own = m.context.world, m.unknowns
    if not world.functions or not something_moves(m.context) or len(own) < 2 or m.pair.head is not None:
        return False
    if Var(TIME) not in own or any(
            v.at or v.order or v.role != "value" or v.name in m.fresh or world.is_changing(v)
            for v in own if v.name != TIME):
        return False
    inside = m.setting.in_open_case(m.number) or m.setting
    return all(freedom(c, own, (), m.setting.states) == len(own) for c in (m.context, inside.context))


def _says_only_when(m: Matter) -> bool:
    """Is the line one of declared constants and powers of the time, and leaves the constants as they were?"""
    own, time = m.unknowns, var(Var(TIME))
    others = [v for v in own if v.name != TIME]
    if Var(TIME) not in own or not others or m.pair.head is not None or not something_moves(m.context) or any(
            v.at or v.order or v.role != "value" or v.name in m.fresh or m.context.world.is_changing(v)
            for v in others):
        return False
    timely = [s for t in m.residuals for s in postorder(t) if time in s.args]
    if any(s.op not in ("mul", "add") and not (s.op == "pow" and s.args[0] is time and not variables(s.args[1]))
           for s in timely) or any(s.op in ("fun", "int") and Var(TIME) in variables(s)
                                   for t in m.residuals for s in postorder(t)):
        return False
    inside, states = m.setting.in_open_case(m.number) or m.setting, m.setting.states
    premises = m.premises(implied=False, always=False)
    return all(
        freedom(c, own, (), states) == freedom(c, others, (), states) + 1
        and freedom(c, others, premises, states) == freedom(c, others, (), states)
        for c in (m.context, inside.context))


def _vanishes_as_told(m: Matter) -> bool:
    """Is it what a line above sets something by the time equal to, and now nothing?"""
    told, right = m.lowered.parts[0]
    if right is not ZERO or Var(TIME) not in variables(told) or m.setting.in_open_case(m.number) is not None:
        return False
    if any(v.at or v.order or m.context.world.is_changing(v) for v in variables(told) if v.name != TIME):
        return False
    sides = [p.sides[1] for p in m.context.premises if p.sides is not None and p.sign == "=" and not (
        isinstance(p.sides[0].value, Var) or isinstance(p.sides[1].value, Var)) and Var(TIME) in variables(p.sides[1])]
    cloud = m.setting.states.of(m.context, (told, *sides)) if sides else None
    return cloud is not None and bool(cloud.size) and any(weigh(told, t, "=", cloud).all_hold for t in sides)


# What is nothing where something is as near or as far as it comes, or stands across.
_AT_EXTREMES = frozenset((
    "closest", "nearest", "farthest", "furthest", "minimum", "maximum", "min", "max", "least", "greatest", "shortest",
    "perpendicular"))


def _is_at_an_extreme(m: Matter) -> bool:
    told, right = m.lowered.parts[0]
    said = {*m.words.lower().replace(":", " ").replace(",", " ").split()}
    by_time = Var(TIME) in variables(m.context.world.seen_through(m.context.resolved(told)))
    return right is ZERO and by_time and bool(said & _AT_EXTREMES)


def _rate_is_given(m: Matter) -> bool:
    """Does an equation of motion give the highest rate of v, where the line has that rate alone?"""
    rates = [t.value for part in m.lowered.parts for t in part if isinstance(t.value, Var) and t.value.order]
    return bool(rates) and rates[0].wrt == TIME and any(
        v == rates[0] for p in m.context.premises if p.sign == "=" and p.always and not p.implied
        for v in variables(p.term))


def _may_be_kept(name: str, m: Matter) -> bool:
    """`E' = 0`, `L' = 0` of what is made of others: says that it is conserved, and may be wrong. What is given by the
    time (`y = u t - ½ g t²`) is not."""
    made_of = m.context.world.definitions.get(name, ZERO)
    return name.partition("_")[0] in CONSERVED or (made_of is not ZERO and Var(TIME) not in variables(made_of))


def value_then(m: Matter) -> Decision | None:
    """`v = 0`, then `x = D`: what nothing has spoken of yet is a name for the value that something has then."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not case.premises or case.left or not _may_name_a_moment(m, m.setting.strict):
        return None
    for side, other in (m.lowered.parts[0], m.lowered.parts[0][::-1]):
        name = other.value
        if not isinstance(name, Var) or name.order or name.at or name.name in tied_names(m.context):
            continue
        if _moving_name(m, side) is None or _moves(name, m.context.world):
            continue
        premises = (*case.premises, *m.premises(implied=False, always=False))
        if m.setting.states.any(case.loosening(m.context), premises).size:
            cases = (*m.setting.cases[:-1], replace(case, premises=premises))
            return Decision(Verdict(Standing.TAKEN, code="taken.case"), replace(m.setting, cases=cases))
    return None


# What only pushes, pulls or holds back: a force by its dimension.
_FORCE = dimension(kg=1, m=1, s=-2)
_CALLED_FORCES = FORCES | {"f"}


def bound_of_a_force(m: Matter) -> Decision | None:
    """`contact: N ≥ 0`, `no slip: f ≤ μ N`, `just lost: N = 0`: what has to be for contact, a taut
    rope, rolling, or when that ends. Nothing gives it, and the writer goes on with the case in which it holds."""
    if not m.setting.strict or m.setting.hopeful or claims_to_follow(m) or len(m.lowered.parts) != 1 or (
            "under" in m.words.split()):  # said of a case, it is a claim
        return None
    force, other = m.lowered.parts[0]
    pulls = other is ZERO and _is_force(force, m)
    if m.pair.sign == "=" and ((pulls and _may_be_nothing(force, m)) or _about_to_slip(m)):
        return _opened(m)
    if not bounds_a_force(m):
        return None
    left, right = map(m.context.resolved, m.lowered.parts[0])
    mixed = weigh(left, right, m.pair.sign, m.setting.states.of(m.context, (left, right))).mixed
    return _opened(m) if mixed else None


def bounds_a_force(m: Matter) -> bool:
    """`N ≥ 0`, `f ≤ μ N`"""
    small, large = m.lowered.parts[0] if m.pair.sign in ("<", "≤") else m.lowered.parts[0][::-1]
    pulls = small is ZERO and _is_force(large, m)
    return m.pair.sign in ("<", ">", "≤", "≥") and (pulls or (_is_force(small, m) and _is_friction(large, m)))


def _is_friction(t: Term, m: Matter) -> bool:
    """`μ N`: the most that holds back."""
    return t.op == "mul" and len(t.args) == 2 and any(_is_force(f, m) for f in t.args) and any(
        _is_coefficient(f, m) for f in t.args)


# What is said where a friction is at its most (common practice, no source).
_AT_ITS_MOST = frozenset((
    "limit", "limiting", "just", "about", "verge", "edge", "critical", "threshold", "impending", "slip", "slips",
    "slide", "slides", "sliding", "slipping", "starts", "begins", "beyond"))


def _about_to_slip(m: Matter) -> bool:
    """`about to slip: f = μ N`, `sliding down: f = -μ N`, where it may be."""
    force, most = m.lowered.parts[0]
    holds_back = _is_force(force, m) and (
        _is_friction(most, m) or _is_friction(neg(most), m) or _ends_a_bound(m))
    said = _AT_ITS_MOST.intersection(m.words.lower().replace(":", " ").replace(",", " ").split())
    return holds_back and bool(said) and bool(
        m.setting.states.any(m.context, m.premises(implied=False, always=False)).size)


def _ends_a_bound(m: Matter) -> bool:
    """`f = μ m g` where f ≤ μ m g is given."""
    force, most = m.lowered.parts[0]
    return any(p.kind == "given" and p.sign in ("≤", "≥") and p.sides is not None and {*p.sides} == {force, most}
               for p in m.context.premises)


def _may_be_nothing(force: Term, m: Matter) -> bool:
    """`just lost: N = 0` of a force that is said to be no less."""
    premises = m.premises(implied=False, always=False)
    bounded = any(p.term is force or p.term is neg(force) for p in m.context.premises if p.sign in ("≥", "≤"))
    return bounded and bool(m.setting.states.any(m.context, premises).size)


def _opened(m: Matter) -> Decision:
    case = Case(as_text(m.pair.relation()), premises=m.premises(implied=False, always=False))
    return Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))


def _is_force(t: Term, m: Matter) -> bool:
    """Declared as one, or declared without a unit and called as forces are."""
    symbol = _symbol(t, m)
    called = symbol is not None and symbol.name.partition("_")[0] in _CALLED_FORCES
    return symbol is not None and (symbol.dimension == _FORCE or (symbol.dimension is None and called))


def _is_coefficient(t: Term, m: Matter) -> bool:
    symbol = _symbol(t, m)
    called = symbol is not None and symbol.name.partition("_")[0] == "μ"
    return symbol is not None and symbol.declared and (
        symbol.dimension == Dimension() or (symbol.dimension is None and called))


def _symbol(t: Term, m: Matter) -> Symbol | None:
    """The declaration of a name: N_min is one as N is."""
    if not isinstance(t.value, Var):
        return None
    stem, _, index = t.value.name.rpartition("_")
    return m.context.world.symbols.get(stem if index in ("max", "min") else t.value.name)


def _may_name_a_moment(m: Matter, allowed: bool) -> bool:
    plain = m.pair.sign == "=" and len(m.lowered.parts) == 1 and not m.lowered.primitives and not m.at
    return plain and allowed and not m.setting.hopeful and not claims_to_follow(m)


def _moving_name(m: Matter, t: Term) -> Var | None:
    v = t.value
    return v if isinstance(v, Var) and v.role == "value" and _moves(v, m.context.world) else None


def _moves(v: Var, world: World) -> bool:
    """Does a quantity change along the motion, or is it what others change along?"""
    return world.is_changing(v) or (not v.at and v.name in world.fields.values())


# What belongs to a thing or a place, and is the same in all that is done with it (common practice, no source).
_OF_THINGS = frozenset("kgμρG")


def _value_of_a_thing(m: Matter, case: Case) -> Premise | None:
    """`k = F/x = 400 N/m` from `F = 12 N at x = 3 cm`, which is what it is at any other place."""
    named = m.pair.head if m.pair.head is not None else m.pair.left
    value = m.lowered.parts[0][1]
    if m.setting.strict or not isinstance(named, Name) or named.ident not in _OF_THINGS or variables(value) or not (
            gives_a_value(case.where) and any(isinstance(n, Unit) for n in walk(case.where))):
        return None
    return Premise(m.label, sub(var(Var(named.ident)), value), "=", True, False, m.number, "reckoned")


def known_ever_after(m: Matter, case: Case) -> tuple[Premise, ...]:
    """`D = m v0/k`, drawn of the moment at which v = 0: what never changes is the same at any other. (`for φ = 0`
    inside `a = 0` is a choice, which another line makes otherwise; a bound says only when there is such a moment.)"""
    world = m.context.world
    of_a_moment = all(any(_moves(v, world) for v in variables(p.term)) for p in case.premises)
    about = [{v.name for v in variables(p.term)} for p in case.premises if all(
        _moves(v, world) for v in variables(p.term))]
    chosen = len(about) > 1 and len(set.union(*about)) > 1  # `y' = 0, y'' = 0` is one moment
    if not case.premises or m.pair.sign != "=":
        return ()
    if all(p.sign == "≠" and any(v.order and v.wrt == TIME for v in variables(p.term)) for p in case.premises):
        return m.premises(implied=False)  # `m q'' + k q = 0 if q' ≠ 0`: nor does it end for a moment of rest
    of_a_thing = _value_of_a_thing(m, case)
    if of_a_thing is not None:
        return (of_a_thing,)
    if not of_a_moment or chosen:
        return ()
    if any(_moves(v, world) for v in m.unknowns):
        return ()
    return m.premises(implied=False)  # nothing outside the moment implies it
