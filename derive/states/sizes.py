"""Which letters stand for what has a size and no sign: masses, radii, stiffnesses, where nobody has declared them.

Whoever writes `m` in a working without declarations means a mass, and nobody thinks of a mass of nothing. This says
which premises that makes; whether a line may rest on them is for the rules to say.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from derive.records import Symbol
from derive.states.context import Context, Premise
from derive.terms.term import Var, var
from derive.terms.world import TIME, World

KIND = "custom"

# Letters that angles are called by.
ANGLES = frozenset("αβγδθφψ")
# Masses, gravity, stiffness, lengths that are given, density, friction, inertia, periods, amplitudes and their rates.
CONSTANT_SIZES = frozenset(["m", "M", "G", "g", "k", "l", "L", "R", "ρ", "μ", "I", "A", "λ"])
# What a force is called where nobody says that it is one.
FORCES = frozenset("FNTRSHV")
# Letters that stand for a constant of integration when they come last: `½ m y'² + ½ k y² = C`.
CONSTANTS = ("C", "K", "c", "const")
# What is given by the motion and stays all the same, as these letters are used: an energy, a constant.
CONSERVED = ("E", "H", *CONSTANTS)
# And the power of an engine, which its speed and its force make up between them.
KEPT = ("P", *CONSERVED)
_SIZES = CONSTANT_SIZES | {"r", "d", "T", "ω", "γ"}
_MASSES = ("m", "M")  # that they change does not let them pass through nothing
# With the index nought these are a load, a pressure, a power that is given; where something starts may be nothing.
_GIVEN_AT_FIRST = frozenset("FwpUPW")


def constant_sizes(names: Iterable[str], world: World) -> set[str]:
    """Those that stand for what is given and stays: declared so, or by their letter (m_1, R, ρ)."""
    declared = {n for n, s in world.symbols.items() if s.declared and not s.vector and not world.is_changing(Var(n))}
    return declared | {n for n in names if n.partition("_")[0] in CONSTANT_SIZES}


def sized(context: Context, unknowns: Iterable[Var]) -> Context | None:
    """The context in which each of some names that is a size by its letter is positive; None where none is new."""
    return positive(context, {v.name for v in unknowns if _is_size(v, context.world)})


def all_positive(context: Context, unknowns: Iterable[Var]) -> Context | None:
    """The same for every constant among them of which nobody has said a sign."""
    world = context.world
    return positive(context, {
        v.name for v in unknowns if v.role == "value" and not v.order and not v.at and v.name != TIME
        and v.name not in world.symbols and v.name not in world.definitions and not world.is_changing(v)
        and not world.is_component(v.name)})


def positive(context: Context, wanted: set[str]) -> Context | None:
    """The context in which some names are positive, and said to be; None where there are none."""
    names = sorted(wanted)
    if not names:
        return None
    label = " and ".join(filter(None, (", ".join(names[:-1]), names[-1]))) + " being positive"
    signed = {n: Symbol(n, sign="positive", declared=False) for n in names if n != TIME}
    world = replace(context.world, symbols={**context.world.symbols, **signed})
    said = (Premise(label, var(Var(n)), ">", always=False, kind=KIND) for n in names)
    return context.knowing(world).adding(*said)


def _is_size(v: Var, world: World) -> bool:
    if v.name in world.free_complex or world.is_component(v.name):  # the λ of a trial e^(λ t), the r_x of an r
        return False
    stem, _, index = v.name.partition("_")
    plain = v.role == "value" and not v.order and not v.at and (
        stem in _SIZES or (index == "0" and stem in _GIVEN_AT_FIRST))
    # `L = T - V` and `T = ½ m v²` are no length and no period; what moves may pass through nothing.
    return plain and v.name not in world.symbols and (stem in _MASSES or not world.is_changing(v)) and (
        v.name not in world.definitions or v.name.partition("_")[0] not in "LTAI")


def is_changing_mass(v: Var, world: World) -> bool:
    """The m of `m = m0 - μ t`: wherever it is spoken of, some of it is left."""
    return v.name.partition("_")[0] in _MASSES and v.role == "value" and not (v.order or v.at) and world.is_changing(v)


def without_size(context: Context, name: str) -> Context:
    """The context in which a name need not be the size that its letter stands for."""
    own = var(Var(name))
    kept = tuple(p for p in context.premises if p.kind != KIND or p.sign != ">" or p.term is not own)
    if len(kept) == len(context.premises):
        return context
    symbols = {n: s for n, s in context.world.symbols.items() if n != name}
    return replace(context, premises=kept, world=replace(context.world, symbols=symbols))
