"""The context of a line: premises, definitions, instants and open hypotheses, and the states that satisfy them.

A premise that holds at all times is used together with its derivatives along the motion, at the general
instant and at every instant that has been named; an equation between constants and t is imposed at several
instants at once, which is what "for all t" means numerically. Whether a line follows is `judge`'s business.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from derive.states.depths import depths_of, highest
from derive.states.elimination import cancels, without_shared_exponential
from derive.states.outright import (
    explicit_field,
    explicit_in,
    explicit_slope,
    shorthand_out,
    slopes_are_told,
)
from derive.states.phases import Wave, wave_of
from derive.states.points import sample
from derive.states.poles import divides_by_nothing, grows_without_bound, without_poles
from derive.states.projection import Cloud, System
from derive.states.pruning import pruned
from derive.terms.calculus import derivative
from derive.terms.declared import prior_of
from derive.terms.isolation import isolated
from derive.terms.prior import Prior
from derive.terms.sweeping import swept
from derive.terms.term import ONE, ZERO, Term, Var, neg, sub, substitute, var, variables
from derive.terms.world import TIME, World, whole_of

# Several instants for an equation that holds at all times: enough to separate the usual sums of two
# or three sines, cosines and exponentials.
INSTANTS = 5
_MOST_RESOLVED = 2000
EXTREME = "extreme"  # the kind of a premise that picks out a greatest or least value


@dataclass(frozen=True, slots=True)
class Premise:
    """`term sign 0`. always: holds at every instant, so that it may be differentiated along the motion.

    implied: follows from the earlier ones (kept for proofs; the states satisfy it already).
    kind: 'given', 'definition', 'start' (taken without support), 'instant', 'value', 'line', EXTREME or 'reckoned' (a
    value that was worked out with what goes without saying).
    sides: what was equated, as typed, where the term is the difference of two sides.
    pair: the sides as trees (claims.Pair), where partial derivatives, integrals without limits or values at a place in
    them depend on what a name stands for.
    sloping: the same where slopes along a place are in them, which may be followed there instead of in time, or the
    rate of more than a name, of which another may be seen to change.
    """

    label: str
    term: Term
    sign: str = "="
    always: bool = True
    implied: bool = False
    source: int = 0
    kind: str = "line"
    sides: tuple[Term, Term] | None = field(default=None, compare=False)
    pair: object | None = field(default=None, repr=False, compare=False)
    sloping: object | None = field(default=None, repr=False, compare=False)

    def __hash__(self) -> int:
        """By its term alone, which hardly two premises share: contexts are looked up by all of theirs."""
        return hash(self.term)


@dataclass(frozen=True, slots=True)
class Ground:
    """Premises as terms; how deep a name stands that is given as a rate; the highest derivative among them.

    nonzero: what is declared or said not to vanish.
    """

    terms: Mapping[Premise, Term]
    depths: Mapping[str, int]
    order: int
    nonzero: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Context:
    """Immutable; a line is tried in a copy. `instants` maps an instant's key to its time (or None)."""

    world: World = field(default_factory=World)
    premises: tuple[Premise, ...] = ()
    instants: tuple[tuple[str, Term | None], ...] = ()
    seed: str = ""

    def adding(self, *premises: Premise) -> Context:
        return replace(self, premises=(*self.premises, *premises))

    def knowing(self, world: World) -> Context:
        if world.moving <= self.world.moving:
            return replace(self, world=world)
        # `v = a t = 12 m/s`: the number of what is seen to move after all is that of a moment.
        new = world.moving - self.world.moving
        return replace(self, world=world, premises=tuple(
            replace(p, always=False) if p.kind == "value" and p.always and not new.isdisjoint(
                {v.name for v in variables(p.term)} | _given_to(p.term, self.world)) else p
            for p in self.premises))

    def at_instant(self, key: str, time: Term | None) -> Context:
        if any(k == key for k, _ in self.instants):
            return self
        return replace(self, instants=(*self.instants, (key, time)))

    # --- explicit solutions

    def resolved(self, t: Term) -> Term:
        """A term with adopted solutions (`y = Y cos ωt`) and their derivatives and values put in."""
        if not self.world.functions:
            return t
        # Asked again and again of the same premises and sides: an eighth of all time in a class, without it.
        kept, key = self.world.resolved, (t, self.instants)
        found = kept.get(key)
        if found is None:
            if len(kept) >= _MOST_RESOLVED:
                kept.clear()
            found = kept[key] = self._resolved(t)
        return found

    def _resolved(self, t: Term) -> Term:
        functions = self.world.functions
        for _ in range(4):
            change = {}
            for v in variables(t):
                f = functions.get(v.name)
                if f is not None and v.role == "value":
                    change[var(v)] = self._explicit(f, v)
            if not change:
                return t
            t = substitute(t, change)
        return t

    def _explicit(self, f: Term, v: Var) -> Term:
        variable = Var(self.world.fields.get(v.name, TIME))
        for _ in range(v.order):
            f = derivative(f, lambda u: ONE if u == variable else self._slope_inside(u, variable))
        if v.at:
            f = substitute(f, {var(variable): self._value_at(v.at, variable.name)})
        return f

    def _value_at(self, key: str, name: str) -> Term:
        """What a name is at an instant: 0 for t at `t = 0`; at `x = 0`, a t of that instant."""
        value = dict(self.instants).get(key)
        return value if value is not None and key.startswith(f"{name}=") else var(Var(name, at=key))

    def _slope_inside(self, u: Var, variable: Var) -> Term:
        return self.world.along_time(u) if variable.name == TIME else ZERO

    # --- the system of equations

    def system(self, wanted: Sequence[Term] = (), extra: Sequence[Premise] = ()) -> System:
        """Every equation and inequality that states must satisfy so that `wanted` terms can be judged."""
        ground = self.ground(extra)
        return pruned(self.laid_out(ground, self.order_of(wanted, ground)), wanted, self.prior)

    def ground(self, extra: Sequence[Premise] = ()) -> Ground:
        """The premises as terms, before it is known to which derivative they are wanted."""
        terms = {p: swept(self.resolved(p.term)) for p in (*self.premises, *extra) if not p.implied}
        depths = depths_of(terms.values())
        return Ground(terms, depths, highest(terms.values(), depths), tuple(self._nonzero(extra)))

    def order_of(self, wanted: Sequence[Term], ground: Ground) -> int:
        """The highest derivative that is met with in judging the wanted terms."""
        return max(ground.order, highest([*map(self.resolved, wanted)], ground.depths))

    def laid_out(self, ground: Ground, order: int) -> System:
        """The premises at the general instant and every named one, with their derivatives up to an order."""
        equations: list[Term] = []
        positive: list[Term] = []
        rates: list[Term] = []
        nothing = {t for p, t in ground.terms.items() if p.sign == "="}
        for p, t in ground.terms.items():
            if p.sign == "=":
                if (wave := self._driven(p, t)) is not None:
                    equations.extend(wave.parts())
                    rates.append(wave.rate)
                else:
                    equations.extend(self._everywhere(t, p.always and self.timely(p.term), order, ground.depths))
            elif p.sign in "≤≥" and (t in nothing or neg(t) in nothing):
                continue  # N ≥ 0, in the case that N = 0
            elif p.sign in "<>≤≥":
                positive.extend(self._inequality(t, p))
        equations = without_poles(equations, nothing)
        positive.extend(self._signs_of_courses())
        equations.extend(self._courses_at_places())
        if order:
            equations.extend(self._explicit_slopes())
        # r₂ > r₁ is not met where the two are equal but for rounding.
        apart = (t for p, t in ground.terms.items() if p.sign in ("<", ">") and p.always and len(variables(t)) > 1)
        nonzero = (*ground.nonzero, *apart, *rates)
        return System(tuple(dict.fromkeys(equations)), tuple(dict.fromkeys(positive)), nonzero)

    def _driven(self, p: Premise, t: Term) -> Wave | None:
        """`m x'' + k x = F cos ω t` with a course put in, as a wave. (Of a free motion only rest would do as well.)"""
        if not p.always or Var(TIME) not in variables(p.term) or not self.timely(p.term):
            return None
        return wave_of(t, Var(TIME)) if explicit_in(t, self.world) == Var(TIME) else None

    def _signs_of_courses(self) -> Iterator[Term]:
        """A mass declared positive stays so once it is known to be m0 - q t: the time is then no later than that."""
        for name, f in self.world.functions.items():
            symbol = self.world.symbols.get(name)
            if symbol is not None and symbol.sign in ("positive", "nonnegative"):
                yield f
            elif symbol is not None and symbol.sign in ("negative", "nonpositive"):
                yield neg(f)

    def _courses_at_places(self) -> Iterator[Term]:
        """`x = A cos ω t` at the instant at which x = 0."""
        for key, value in self.instants:
            name = key.partition("=")[0]
            f = self.world.functions.get(name)
            if f is not None and value is not None and self.world.fields.get(name, TIME) != name:
                yield sub(self._explicit(f, Var(name, at=key)), value)

    def apart(self) -> frozenset[str]:
        """The names of what is declared or said not to vanish."""
        typed = (v.name for p in self.premises if p.sign == "≠" for v in variables(p.term))
        return frozenset((*typed, *(v.name for t in self._nonzero(()) for v in variables(t))))

    def _nonzero(self, extra: Sequence[Premise]) -> Iterator[Term]:
        """What is declared or said not to vanish, at the general instant."""
        yield from (var(Var(name)) for name, symbol in self.world.symbols.items() if symbol.sign == "nonzero")
        yield from (self.resolved(p.term) for p in (*self.premises, *extra) if p.sign == "≠")

    def _places(self, t: Term) -> list[str]:
        """The named instants at which a relation is to be taken: not `α = δ` unless it speaks of functions of α."""
        running = self.world.running(t)
        return [
            key for key, _ in self.instants
            for name in [key.split("=")[0]] if self.world.is_changing(Var(name)) or running == name
        ]

    def _explicit_slopes(self) -> list[Term]:
        """Slopes of fields that a line gives outright: with R = v² sin 2α/g also dR/dα.

        Such a line may follow from relations that could not be differentiated themselves (R = x(t_1), where
        what else depends on α is not said).
        """
        out = []
        for p in self.premises:
            variable = self.world.running(p.term)
            if p.sign != "=" or not p.always or variable == TIME:
                continue
            term = shorthand_out(p.term, self.world)
            if explicit_field(term, variable, self.world):
                slope = derivative(term, self.world.along(variable))
                out.append(slope)
                out.extend(self.placed(slope, key) for key, _ in self.instants if key.startswith(f"{variable}="))
        return out

    def timely(self, t: Term) -> bool:
        """Does a relation say something of all times? It does where something in it moves.

        `v = u + a t` between names that nobody called functions of time is about one instant.
        """
        moves = any(
            not v.at and v.role == "value" and (v.order or (v.name != TIME and self.world.is_changing(v)))
            for v in variables(t))
        return moves or (bool(self.world.functions) and self.world.changes(t))

    def _inequality(self, t: Term, p: Premise) -> list[Term]:
        t = neg(t) if p.sign in "<≤" else t
        if p.kind == "range" or p.sign in "≤≥":  # the end of a range may be reached at a named instant
            return [t]
        return [t, *(self.placed(t, k) for k, _ in self.instants if p.always and self.world.changes(t))]

    def _everywhere(self, t: Term, always: bool, order: int, depths: Mapping[str, int]) -> list[Term]:
        """One premise at the general instant with its derivatives, and at every named instant."""
        if cancels(t):  # a course put into its own definition
            return []
        if not always or not self.world.changes(t):
            return [t]
        variable = explicit_in(t, self.world)
        if variable is not None and (free := without_shared_exponential(t)) is not t and not self.world.changes(free):
            return [free]
        if variable is not None:
            out = [substitute(t, {var(variable): var(variable._replace(at=f"#{k}"))}) for k in range(INSTANTS)]
            return [t, *out]
        chain = [t]
        variable_along = self.world.running(t)
        along = self.world.along(variable_along)
        if variable_along != TIME and any(v.at for v in variables(t)):
            along = self.world.along_time  # how values at instants depend on the field's variable is not said
        elif variable_along != TIME and Var(TIME) in variables(self.world.seen_through(t)):
            return [t]  # nor how a time does, that of the flight below `dR/dα`
        slope = t if variable_along == TIME else self._with_shorthand_out(t)  # P = F u is, where F is given by u too
        while order and len(chain) <= order:
            slope = self.resolved(derivative(slope, along))
            if slope.op == "num" or highest([slope], depths) > order:
                break
            chain.append(slope)
        chain.extend(self._differentials(t))
        # The slope of a field may be infinite at a named place (v dv/dx = -a where v = 0): only relations between
        # values are taken there, and slopes that are given by the place itself. Its differentials are not those here.
        placed = [
            self.placed(c, key) for key in self._places(t) if not self._has_no_value(t, key) for c in chain
            if c is t or not self._has_no_value(c, key)
            if not any((v.order and v.wrt != TIME) or v.role == "differential" for v in variables(c))
            or explicit_slope(c, self.world) or slopes_are_told(c, self.world)]
        return [c for c in (*chain, *placed) if (c.op != "num" or c.value != 0) and not divides_by_nothing(c)]

    def _has_no_value(self, t: Term, key: str) -> bool:
        told = [p.term for p in self.premises
                if p.sign == "=" and isinstance(p.term.value, Var) and p.term.value.at == key]
        return bool(told) and grows_without_bound(t, self.placed(t, key), told, self.world)

    def _with_shorthand_out(self, t: Term) -> Term:
        """But not of what itself says what the shorthand is: a ρ that stays is none for a p that does not."""
        out = shorthand_out(t, self.world)
        return t if cancels(out) else out

    def _differentials(self, t: Term) -> list[Term]:
        """d of a premise, where the working has used differentials of names that are not functions of time."""
        names = {v.name for v in variables(t) if not v.order and v.role == "value" and not v.at}
        if not names & self.world.varying or names & self.world.moving:
            return []  # `φ = 3π` says where one looks, and not that φ stays
        if any(v.role == "differential" for v in variables(t)):
            return []
        total = derivative(shorthand_out(t, self.world), self.world.total)  # the ρ of `ρ = ρ0 p/p0` goes with p
        # `F = ρ g b h²/2`, the whole of `dF = ρ g y b dy`, says what it comes to, and not that nothing is added.
        varied = {v.name for v in variables(total) if v.role == "differential"}
        return [] if not varied or (len(varied) == 1 and any(v.name in varied for v, _ in isolated(t))) else [total]

    def placed(self, t: Term, key: str) -> Term:
        """A term that holds at all times, said of one named instant."""
        time = dict(self.instants).get(key)
        along = self.world.fields.get(key.split("=")[0])  # where v = 0, y is what it is there
        change: dict[Term, Term] = {}
        for v in variables(t):
            if v.at or v.role != "value":
                continue
            if v.name == TIME and not v.order:
                change[var(v)] = self._value_at(key, TIME)
            elif key.startswith(f"{v.name}=") and not v.order and time is not None:
                change[var(v)] = time
            elif self.world.is_changing(v) or (not v.order and v.name == along):
                change[var(v)] = var(v._replace(at=key))
        return substitute(t, change)

    # --- states

    def prior(self, v: Var) -> Prior:
        return prior_of(v, self.world)

    def states(self, wanted: Sequence[Term]) -> Cloud:
        """States of the context on which the wanted terms can be evaluated."""
        also = variables(*map(self.resolved, wanted))
        return sample(self.system(wanted), self.prior, self.generator(), also=also)

    def generator(self, apart: str = "") -> np.random.Generator:
        """Seeded from the text itself, so that the same file gets the same answer everywhere."""
        digest = hashlib.sha256((self.seed + apart).encode()).digest()
        return np.random.default_rng(int.from_bytes(digest[:8], "big"))


def tied_names(context: Context) -> set[str]:
    """Names that some premise or adopted solution mentions, those of the instants it speaks of among them. That a
    quantity is a size by custom ties it to nothing."""
    mentioned = [
        v for p in context.premises if p.kind != "range" and not (p.kind == "custom" and p.sign == ">")
        for v in variables(p.term)]
    names, places = {v.name for v in mentioned}, {v.at for v in mentioned}
    names |= {v.wrt for v in mentioned if v.order} - {TIME}
    for name, course in context.world.functions.items():
        names.add(name)
        names.update(v.name for v in variables(course))
    names.update(
        v.name for key, time in context.instants if time is not None and key in places for v in variables(time))
    return names | {*map(whole_of, names)} if context.world.parted else names


def _given_to(t: Term, world: World) -> set[str]:
    """The names that are short for something of which a term speaks in full: v, of the a t in `v = a t = 12 m/s`."""
    here = set(variables(t))
    return {n for n, meant in world.definitions.items() if variables(meant) and set(variables(meant)) <= here}


def given_by_time(context: Context) -> set[Var]:
    """What a premise gives outright by t (`x = u t cos α`), by itself or as what an integral runs over."""
    primitives = context.world.primitives

    def holds_time(t: Term) -> bool:
        here = variables(t)
        return Var(TIME) in here or any(primitives[v][1] == Var(TIME) for v in here if v in primitives)

    return {
        v for p in context.premises if holds_time(p.term) for v, _ in isolated(p.term) if not v.at and not v.order}
