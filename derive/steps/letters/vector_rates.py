"""What letters say of vectors in a working without givens: v is the rate of r, and a that of v; v_A of r_A.

`v = (3, 4 - 10 t)` below `r = (3 t, 4 t - 5 t²)`, `v·a = 0` below `v·v = c²`: views like those of `rates`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from derive.notation.names import ARROW
from derive.notation.tree import names_in
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.moving import with_wholes_moving
from derive.states.setting import Decision, Matter
from derive.states.states import States, freedom
from derive.steps.changing.misfits import changes_otherwise
from derive.steps.letters import polar
from derive.terms.calculus import derivative
from derive.terms.placing import instant_key
from derive.terms.term import ZERO, Term, Var, mul, postorder, sub, var, variables
from derive.terms.world import TIME

_PLACES = ("r", "s", "x")
SPEED_SAID, RATE_SAID = "v being the velocity", "a being the acceleration"
_START = "the start of its components"
_COORDINATES = frozenset("xyzsrρθφ")


def by_force(m: Matter) -> Iterator[Matter]:
    """`m (r'' - r θ'²) = -k r`, `r θ'' + 2 r' θ' = 0` below `F = -k r e_r`: with one force F and one mass m, F is the
    mass times the acceleration of what is at r."""
    world, told = m.context.world, _told(m)
    here = {v.name for p in m.context.premises for v in variables(p.term)} | {v.name for v in m.unknowns}
    place = next((n for n in ("r" + ARROW, "r") if n in told), "")
    forces = [n for n in told if n[0] == "F"]
    if m.setting.strict or m.pair.sign != "=" or not place or forces != ["F"] or "m" not in here or "a" in told or any(
            n[0] in "mM" and n != "m" for n in here) or not {v.name for v in m.unknowns}.isdisjoint(_parts("F")):
        return  # `m r'' = F` is the law itself
    label = "F being m times the acceleration"
    if any(p.label == label for p in m.context.premises):
        return
    mass = var(Var("m"))
    moving = {c for n in (place, "F") for c in _parts(n)}
    context = with_wholes_moving(m.context.knowing(replace(world, moving=world.moving | moving))).adding(
        Premise(label, mass, ">", False, False, m.number, "custom"), *(
            Premise(label, sub(var(Var(f)), mul(mass, var(Var(c, 2, TIME)))), "=", True, False, m.number, "custom")
            for f, c in zip(_parts("F"), _parts(place), strict=True)))
    if m.setting.states.any(context).size:
        yield replace(m, setting=m.setting.within(context), fresh=tuple(n for n in m.fresh if n != "m"))


_Link = tuple[str, str, str, int]  # what is said, the name, of what it is the rate, and how often


def views(m: Matter) -> Iterator[Matter]:
    """The matter with what the letters of its vectors mean, as far as the page leaves that open."""
    if m.setting.strict or m.pair.sign not in ("=", "≈"):
        return
    if all(isinstance(b.value, Var) and b.value.order for _, b in m.lowered.parts) and tied_names(
            m.context).isdisjoint(a.value.name for a, _ in m.lowered.parts if isinstance(a.value, Var)):
        return  # `v = r'` says itself what v is
    world = m.context.world
    vectors = {n for n, s in world.symbols.items() if s.vector}
    spoken = {_whole(v.name) for v in m.unknowns} & vectors
    if not spoken:
        return
    told = {p.label for p in m.context.premises if p.kind == "custom"}
    kept = _kept(m)
    links = [x for x in _links(spoken | _told(m)) if {x[1], x[2]} & spoken and x[0] not in told and x[2] not in kept
             and _open(x, m)]
    linked = {n for x in links for n in x[1:3]}
    if not links or not _changes(linked, m):
        return
    own = _summed_up(links, m)
    if not own and any((_whole(n) if world.is_component(n) else n) not in linked for n in m.fresh):
        return  # `F = m a` says what F is
    moving = {c for n in linked for c in _parts(n) if n == own or not (n in kept or _stays(c, m))}
    coordinates = {v.name for c in moving for v in variables(_given(c, m)) if _is_coordinate(v.name, _whole(c))}
    context = m.context.knowing(replace(world, moving=world.moving | moving | coordinates))
    if own and not any(v.at for p in context.premises for v in variables(p.term) if v.name in _parts(own)):
        context = _with_its_start(context, m)
    context = context.adding(*(p for x in links for p in _meaning(x, moving, m.number)))
    if m.setting.states.any(context).size:
        yield replace(m, setting=m.setting.within(context), fresh=() if own else m.fresh)


def _kept(m: Matter) -> set[str]:
    """The v0 and a of `v = v0 + a t`, `r = r0 + v0 t + ½ a t²`: beside the time itself vectors are constants."""
    said = [b for _, b in m.lowered.parts] + [p.sides[1] for p in m.context.premises if p.sides is not None]
    return {_whole(v.name) for t in said if Var(TIME) in (own := variables(t)) for v in own if not (v.order or v.at)}


def _summed_up(links: Sequence[_Link], m: Matter) -> str:
    """The r of `r = (3 t, 4 t - 5 t²)` below `v = (3, 4 - 10 t)`, or the v below an a: '' where the line gives none."""
    given = {a.value.name for a, _ in m.lowered.parts if isinstance(a.value, Var) and not (a.value.order or a.value.at)}
    timely = any(Var(TIME) in variables(b) for _, b in m.lowered.parts)
    return next((of for _, _, of, _ in links if timely and given == {*_parts(of)}), "")


def _with_its_start(context: Context, m: Matter) -> Context:
    """From wherever the line has it start."""
    key = instant_key(Var(TIME), ZERO)
    begun = context.at_instant(key, ZERO)
    return begun.adding(*(
        Premise(_START, begun.placed(r, key), "=", False, False, m.number, "instant") for r in m.residuals))


def with_coordinates(context: Context, said: Sequence[object], states: States, number: int) -> Context:
    """The context with x and y for the components of an r that is given by the time, where they are met and nobody
    says what they are: `F = (2 x, 3 y)` beside `r = (t, t²)`, `y = 0` below it."""
    world, place = context.world, _PLACES[0]
    symbol = world.symbols.get(place)
    course = _given_above(place, context) if symbol is not None and symbol.vector else ()
    if not any(Var(TIME) in variables(t) for t in course):
        return context
    here = {*(n for part in said if part is not None for n in names_in(part)), *tied_names(context)}
    named = [n for n in "xyz" if n in here and n not in world.definitions | world.functions | world.symbols]
    free = not named or freedom(context, [Var(n) for n in named], (), states) == len(named)
    if not named or not free or any(v.name in named for t in course for v in variables(t)):
        return context
    label = f"{' and '.join(named)} being {'components' if len(named) > 1 else 'a component'} of {place}"
    moving = world.moving | {*named, *(f"{place}_{n}" for n in named)}
    known = with_wholes_moving(context.knowing(replace(world, moving=moving))).adding(*(
        Premise(label, sub(var(Var(n)), var(Var(f"{place}_{n}"))), "=", True, False, number, "custom",
                (var(Var(n)), var(Var(f"{place}_{n}")))) for n in named))
    definitions = {n: var(Var(f"{place}_{n}")) for n in named}
    known = known.knowing(replace(known.world, definitions={**known.world.definitions, **definitions}))
    return known if states.any(known).size else context


def _links(about: set[str]) -> Iterator[_Link]:
    """v = dr/dt, a = dv/dt, a = d²r/dt² among names with the same index."""
    for index in sorted({n[1:].replace(ARROW, "") for n in about}):
        own = {n[0]: n for n in sorted(about) if n[1:].replace(ARROW, "") == index}
        place = next((own[letter] for letter in _PLACES if letter in own), "")
        speed, rate = own.get("v", ""), own.get("a", "")
        if place and speed:
            yield f"{speed}{SPEED_SAID[1:]}", speed, place, 1
        if speed and rate:
            yield f"{rate}{RATE_SAID[1:]}", rate, speed, 1
        elif place and rate:
            yield f"{rate}{RATE_SAID[1:]}", rate, place, 2


def _meaning(link: _Link, moving: set[str], number: int) -> Iterator[Premise]:
    """One premise for each component; what does not move has no rate."""
    said, name, of, order = link
    for one, other in zip(_parts(name), _parts(of), strict=True):
        rate = var(Var(other, order, TIME)) if other in moving else ZERO
        yield Premise(said, sub(var(Var(one)), rate), "=", True, False, number, "custom")


def _parts(name: str) -> tuple[str, ...]:
    return tuple(f"{name}_{axis}" for axis in "xyz")


def _given(component: str, m: Matter) -> Term:
    """What the page gives a component by, or the line does; itself where nothing does."""
    own = var(Var(component))
    here = next((b for a, b in m.lowered.parts if a is own), own)
    return m.context.world.seen_through(m.context.world.definitions.get(component, here), but=_COORDINATES)


def _stays(component: str, m: Matter) -> bool:
    """Is a component given by what does not change: `v = (u, w - g t)`? A place by coordinates does."""
    given = _given(component, m)
    if given is var(Var(component)):
        return False
    changing = m.context.world.is_changing
    return not any(changing(v) or v.at or _is_coordinate(v.name, _whole(component)) for v in variables(given))


def _is_coordinate(name: str, whole: str) -> bool:
    """Is it one of the places or angles that a vector is made of: x and θ of r, x_A of r_A?"""
    return name[0] in _COORDINATES and name[1:] in ("", whole[1:].replace(ARROW, ""))


def _open(link: _Link, m: Matter) -> bool:
    """Does the second of them move, and has nobody said what its rate is?"""
    _, _, of, order = link
    if all(_stays(c, m) for c in _parts(of)):
        return False
    rates = {Var(c, order, TIME) for c in _parts(of)}
    return not any(rates.intersection(variables(p.term)) for p in m.context.premises)


def _changes(names: set[str], m: Matter) -> bool:
    """Is anything told of how some vectors go: by the time, at an instant, as a rate, or of their sizes?"""
    told = [*m.residuals, *(p.term for p in m.context.premises)]
    here = [variables(t) for t in told]
    return any(
        Var(TIME) in own or any(v.at or v.order for v in own) or any(map(_is_square, postorder(t)))
        for t, own in zip(told, here, strict=True) if names & {_whole(v.name) for v in own})


def _is_square(t: Term) -> bool:
    return t.op == "pow" or (t.op == "mul" and len({*t.args}) < len(t.args))


def of_vectors(inside: Matter) -> bool:
    """Is the latest custom of a matter one of these?"""
    last = inside.context.premises[-1]
    said = last.label.endswith((SPEED_SAID[1:], RATE_SAID[1:]))
    return said and all(inside.context.world.is_component(v.name) for v in variables(last.term))


def binding(m: Matter, inside: Matter) -> bool:
    """`v = (3, 4 - 5 t)` below `r = (3 t, 4 t - 5 t²)`, `a = ω² r`, `v = r' e_r + θ' e_θ` below `r = r e_r`: given by
    nothing but the time and what the courses above are made of."""
    name = _named(m)
    if m.words or not name or not any(_course(of, m) for _, one, of, _ in _links(_told(m) | {name}) if one == name):
        return False
    if not any(p.label.endswith(polar.STEADY) for p in inside.context.premises) and any(polar.steady(m)):
        return False  # it may hold for an ω that stays
    courses = {n: _course(n, m) for n in _told(m)}
    known = {n for whole, course in courses.items() if course
             for n in (*_parts(whole), *(v.name for v in variables(*course)))}
    return {v.name for _, b in m.lowered.parts for v in variables(b)} <= known | {TIME}


def off_course(m: Matter, inside: Matter) -> Decision | None:
    """The break of `r = (u t, w t - g t²)` below `v = (u, w - g t)`: a component that grows otherwise, and not for a
    constant that the line brings in."""
    name = _named(m)
    rate = next((one for _, one, of, _ in _links(_told(m) | {name}) if of == name), "") if name else ""
    if m.words or not rate or not any(Var(TIME) in variables(b) for _, b in m.lowered.parts):
        return None
    world = inside.context.world
    known = {Var(TIME)} | {Var(n) for n in m.fresh} | {
        v for t in (*_given_above(rate, m.context), *(var(Var(c)) for c in _parts(rate)))
        for v in variables(inside.context.resolved(world.seen_through(t)))}
    for part in m.lowered.parts:
        slope = derivative(part[1], world.along_time)
        one = replace(inside, lowered=replace(m.lowered, parts=(part,)))
        cloud = m.setting.states.of(inside.context, (var(Var(part[0].value.name, 1, TIME)), slope))
        if known.issuperset(variables(slope)) and cloud.size and weigh(
                var(Var(part[0].value.name, 1, TIME)), slope, "=", cloud).fails.any():
            return changes_otherwise(one)
    return None


def without_start(decision: Decision, m: Matter) -> Decision:
    """Once the line holds, it says itself where what it gives starts."""
    after = decision.after.context
    kept = tuple(p for p in after.premises if p.label != _START or p.source != m.number)
    if len(kept) == len(after.premises):
        return decision
    kept = tuple(replace(p, implied=False) if p.source == m.number and p.kind == "line" else p for p in kept)
    context = replace(after, premises=kept, instants=m.context.instants)
    return replace(decision, after=decision.after.within(context))


def _named(m: Matter) -> str:
    """The vector that a line gives, each component by itself."""
    own = [a.value for a, _ in m.lowered.parts]
    if not all(isinstance(v, Var) and not (v.order or v.at) for v in own):
        return ""
    wholes = {_whole(v.name) for v in own}
    return wholes.pop() if len(wholes) == 1 and len(own) == len("xyz") else ""


def _told(m: Matter) -> set[str]:
    """The vectors that the lines above speak of."""
    named = {_whole(v.name) for p in m.context.premises for v in variables(p.term)}
    return {n for n in named if n in m.context.world.symbols and m.context.world.symbols[n].vector}


def _course(name: str, m: Matter) -> Sequence[Term]:
    """What the lines above give a vector by, component by component, where that is by the time or by coordinates."""
    course = _given_above(name, m.context)
    runs = any(v.name == TIME or v.name in _COORDINATES for t in course for v in variables(t))
    return course if len(course) == len(_parts(name)) and runs else ()


def _given_above(name: str, context: Context) -> Sequence[Term]:
    given = {
        p.sides[0].value.name: p.sides[1] for p in context.premises
        if p.sign == "=" and p.sides is not None and p.sides[0].op == "var" and not p.sides[0].value.order
        and not p.sides[0].value.at}
    return [context.world.seen_through(given[n]) for n in _parts(name) if n in given]


def _whole(component: str) -> str:
    return component.rpartition("_")[0]
