"""What letters say of a motion by r and θ in a working without givens: v_r, v_θ, a_r, a_θ, the v and a that are given
along e_r and e_θ, and an ω that stays. Views like those of `rates`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from derive.notation.tree import UnitVector, walk
from derive.states.context import Premise
from derive.states.evidence import weigh
from derive.states.setting import Matter
from derive.states.states import freedom
from derive.terms.axes import polar_axes
from derive.terms.term import TWO, ZERO, Term, Var, add, mul, neg, power, sub, var, variables
from derive.terms.world import TIME

_COORDINATES = frozenset("xyzsrθφ")
STEADY = " being steady"
_SAID = " by r and "


def views(m: Matter) -> Iterator[Matter]:
    """The matter with what a new name means that stands beside r and the angle."""
    if m.setting.strict or m.pair.sign != "=":
        return
    yield from steady(m)
    spoken = {*m.unknowns, *(v for p in m.context.premises for v in variables(p.term))}
    timed = {n for n, t in m.context.world.definitions.items() if Var(TIME) in variables(t)}
    angle = next((n for n in ("θ", "φ") if n in timed or any(v.name == n and v.order for v in spoken)), "")
    if not angle or not any(v.name == "r" for v in spoken) or m.context.world.is_component("r_x"):
        return
    meant = dict(_components(angle))
    named = [n for n in m.fresh if n in meant]
    known: dict[str, tuple[Term, ...]] = {n: (meant[n],) for n in named}
    if not known and angle == "θ":
        known = dict(_vectors(m, meant))
    if not known:
        return
    world = m.context.world
    context = m.context.knowing(replace(world, moving=world.moving | {"r", angle})).adding(*(
        Premise(f"{name}{_SAID}{angle}", sub(var(Var(part)), t), "=", True, False, m.number, "custom")
        for name, terms in known.items() for part, t in zip(_parts(name, terms), terms, strict=True)))
    if m.setting.states.any(context).size:
        yield replace(m, setting=m.setting.within(context), fresh=tuple(n for n in m.fresh if n not in known))


def steady(m: Matter) -> Iterator[Matter]:
    """`r'' = b² ω² r` below `r = a e^(b θ), θ' = ω`: an ω that is short for a rate stays, where nobody speaks of its
    own and nothing says how the angle goes on."""
    world = m.context.world
    for p in m.context.premises:
        pair = sorted((t.value for t in p.sides or () if isinstance(t.value, Var)), key=lambda v: v.order)
        if p.sign != "=" or [v.order for v in pair] != [0, 1] or pair[0].name not in ("ω", "Ω") or pair[1].wrt != TIME:
            continue
        name, v = pair[0].name, pair[1]
        further = v._replace(order=2)
        met = {*m.unknowns, *(u for p in m.context.premises for u in variables(p.term))}
        still = Premise(f"{name}{STEADY}", var(further), "=", True, False, m.number, "custom")
        if further in met or any(u.name == name and u.order for u in met) or not _leaves_free(still, m):
            continue
        yield replace(m, setting=m.setting.within(
            m.context.knowing(replace(world, moving=world.moving - {name})).adding(still)))


def _leaves_free(still: Premise, m: Matter) -> bool:
    """Does it take no choice from the coordinates and how fast they change, as it would below `r² ω = h`?"""
    known = {v.name for p in m.context.premises for v in variables(p.term) if v.role == "value"}
    moving = sorted(known & m.context.world.moving & _COORDINATES)
    own = [v for n in moving for v in (Var(n), Var(n, 1, TIME))]
    states = m.setting.states
    return 0 <= freedom(m.context, own, (), states) == freedom(m.context, own, (still,), states)


def _components(angle: str) -> Iterator[tuple[str, Term]]:
    r, r1, r2 = (var(Var("r", k, TIME if k else "")) for k in range(3))
    w, w1 = (var(Var(angle, k, TIME)) for k in (1, 2))
    yield "v_r", r1
    yield f"v_{angle}", mul(r, w)
    yield "a_r", sub(r2, mul(r, power(w, TWO)))
    yield f"a_{angle}", add(mul(r, w1), mul(TWO, r1, w))


def _vectors(m: Matter, meant: Mapping[str, Term]) -> Iterator[tuple[str, tuple[Term, ...]]]:
    """`a = (r'' - r θ'²) e_r + …`, where no line says what it is the rate of."""
    turning = any(isinstance(n, UnitVector) and n.axis in ("r", "θ") for n in walk(m.pair.relation()))
    met = {v.name for p in m.context.premises for v in variables(p.term)}
    along, across = polar_axes()
    for name in ("v", "a"):
        told = {f"{n}_x" for n in ("r⃗", "r", "v", "a")}
        if turning and Var(f"{name}_x") in m.unknowns and met.isdisjoint(told):
            yield name, tuple(
                add(mul(meant[f"{name}_r"], a), mul(meant[f"{name}_θ"], b)) for a, b in zip(along, across, strict=True))


def _parts(name: str, terms: tuple[Term, ...]) -> tuple[str, ...]:
    return (name,) if len(terms) == 1 else tuple(f"{name}_{axis}" for axis in "xyz")


def by_angle(inside: Matter) -> bool:
    """Is the latest custom of a matter one of these?"""
    last = inside.context.premises[-1]
    return last.kind == "custom" and _SAID in last.label


def binding(m: Matter, inside: Matter) -> bool:
    """`a_r = r'' + r θ'²`: given by the rates it is made of, the highest among them, and neither this way nor that (an
    acceleration may point inwards)."""
    terms = {v for p in inside.context.premises if _SAID in p.label for v in variables(p.term) if v.order}
    right = {v for _, b in m.lowered.parts for v in variables(b)}
    if any(v.name not in {"r", *(u.name for u in terms)} for v in right) or not any(
            v.order == max((u.order for u in terms), default=0) for v in right):
        return False
    cloud = m.setting.states.of(inside.context, tuple(t for part in m.lowered.parts for t in part))
    return bool(cloud.size) and not all(
        weigh(neg(a), b, "=", cloud).all_hold for a, b in m.lowered.parts) and ZERO not in m.lowered.parts[0]
