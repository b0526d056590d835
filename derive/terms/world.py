"""What is known of every name while a working is read: declared or not, moving or constant, defined how.

A *moving* name is a function of time; a *field* is a function of another variable (`U(r)`); a *varying* one
has appeared as a differential. The rest are constants of the motion. This module answers what an unknown of a
state may be (its prior) and how it changes; it decides nothing about lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Set
from dataclasses import dataclass, field, replace

from derive.notation.tree import Derivative, Differential, Expr, Integral, Name, Relation, Value, names_in, walk
from derive.records import Symbol
from derive.terms.term import ONE, ZERO, Term, Var, mul, substitute, var, variables

TIME = "t"
# Letters of what stays as it is while other things move: masses, moments of inertia, stiffnesses, gravity.
STAYING = frozenset("mMIJkgGρμ")
DT = Var(TIME, role="differential")
# A complex name's two parts are names themselves, which nobody can type.
_REAL, _IMAGINARY = "Re ", "Im "


def real_name(name: str) -> str:
    return _REAL + name


def imaginary_name(name: str) -> str:
    return _IMAGINARY + name


def whole_of(name: str) -> str:
    """The name that another is a part of, if it is one; else itself."""
    return name.removeprefix(_REAL).removeprefix(_IMAGINARY)


# A shorthand may stand for others in its turn, and two for each other.
_DEEPEST_SHORTHAND = 8


@dataclass(frozen=True, slots=True)
class World:
    """Immutable; every change gives a new world, so that a line can be tried and dropped.

    functions:  explicit solutions adopted for a moving name: y -> its term in t.
    fields:     name -> the variable it is a function of (not time).
    definitions: name -> term, for names introduced as shorthand (`let L = …`), seen through by derivatives.
    squares: name -> what its square was given by (`y² = R² - z²`), seen through by integrals.
    parted: complex names that are computed with by their two real parts (`x = Re(X e^(i ω t))`).
    constants: names brought in as constants of integration, free until something fixes them.
    rates: slopes of fields that a premise gives outright (`dm = λ dx`).
    primitives: an indefinite or opaque integral's own unknown -> (integrand, its variable).
    formal: signs and ranges are left open, so that only the algebra of the lines counts.
    resolved: terms with the explicit solutions put in, as `Context.resolved` has found them in this very world.
    """

    symbols: dict[str, Symbol] = field(default_factory=dict)
    moving: frozenset[str] = frozenset()
    varying: frozenset[str] = frozenset()
    fields: dict[str, str] = field(default_factory=dict)
    functions: dict[str, Term] = field(default_factory=dict)
    definitions: dict[str, Term] = field(default_factory=dict)
    squares: dict[str, Term] = field(default_factory=dict)
    primitives: dict[Var, tuple[Term, Var]] = field(default_factory=dict)
    rates: dict[Var, Term] = field(default_factory=dict)
    free_complex: frozenset[str] = frozenset()
    parted: frozenset[str] = frozenset()
    constants: frozenset[str] = frozenset()
    formal: bool = False
    resolved: dict[object, Term] = field(default_factory=dict, init=False, repr=False, compare=False)

    def __hash__(self) -> int:
        """By what can be hashed of it: worlds are made anew all the time, and the layout of a context is found again
        by an equal one."""
        return hash((self.moving, self.varying, self.constants, self.formal))

    # --- learning from what is typed

    def seeing(self, node: object) -> World:
        """The world after the derivatives and differentials of a tree have shown what moves."""
        moving, varying, fields = set(self.moving), set(self.varying), dict(self.fields)
        along_time = any(_is_time_differential(n) for n in walk(node))
        for n in walk(node):
            if isinstance(n, Derivative) and isinstance(n.wrt, Derivative) and isinstance(n.body, Name):
                moving.add(n.body.ident)  # ∂L/∂q': a function of the motion
            elif isinstance(n, Derivative) and isinstance(n.wrt, Name):
                _note_derivative(n, moving, fields, self.symbols, self.fields)
                moving |= self._moving_within(n, moving)
            elif isinstance(n, Differential):
                target = moving if along_time else varying
                target.update(_differentiated(n.body, self))
            elif isinstance(n, Integral):
                varying.update(names_in(n.wrt) if isinstance(n.wrt, Name) else ())
        moving.update(with_components(moving, self.symbols))
        _run_along(moving, fields, self.symbols)
        moving.discard(TIME)
        varying.discard(TIME)
        for n in walk(node):
            if isinstance(n, Value) and isinstance(n.function, Name) and len(n.args) == 1:
                _note_field(n.function.ident, n.args[0], moving, fields, self.symbols)
        for n in walk(node):
            if isinstance(n, Relation):
                given = {name: by for name, by in _field_given(n, moving).items() if name not in self.definitions}
                fields = {**given, **fields}
        return replace(self, moving=frozenset(moving), varying=frozenset(varying), fields=fields)

    def _moving_within(self, n: Derivative, moving: set[str]) -> set[str]:
        """`d(m v)/dt`: where nothing in the bracket is known to change in time, all does but what is a constant by its
        letter."""
        here = {name for name in names_in(n.body) if name != "const"}
        free = {name for name in here if name.partition("_")[0] not in STAYING} or here
        known = here & {TIME, *moving} or free & {*self.fields, *self.functions, *self.definitions}
        return set() if n.wrt != Name(TIME) or n.partial or isinstance(n.body, Name) or known else free

    def declaring(self, symbols: Iterable[Symbol]) -> World:
        table, moving, fields = dict(self.symbols), set(self.moving), dict(self.fields)
        for s in symbols:
            table[s.name] = s
            if s.of == TIME:
                moving.add(s.name)
                moving.update(with_components({s.name}, table))
            elif s.of:
                fields[s.name] = s.of
        return replace(self, symbols=table, moving=frozenset(moving), fields=fields)

    # --- answering

    def is_declared(self, name: str) -> bool:
        """Is the name declared by the writer? That custom gave it a sign does not say what it is."""
        symbol = self.symbols.get(name)
        return symbol is not None and symbol.declared

    def is_component(self, name: str) -> bool:
        """Is it one of the components of a vector?"""
        whole, _, axis = name.rpartition("_")
        symbol = self.symbols.get(whole) if axis in ("x", "y", "z") else None
        return symbol is not None and symbol.vector

    def variable_of(self, name: str) -> str:
        """The variable a name is a function of: t for a moving one, that of a field, else ''."""
        return TIME if name in self.moving else self.fields.get(name, "")

    def along_time(self, v: Var) -> Term:
        """dv/dt of an unknown at the general instant."""
        if v.at or (v.role == "constant" and v not in self.primitives):
            return ZERO
        if v in self.primitives:
            body, bound = self.primitives[v]
            return mul(body, self.along_time(bound))
        if v.name == TIME and v.order == 0 and v.role == "value":
            return ONE
        if v.role != "value":
            return ZERO
        if v.name in self.moving:
            return var(Var(v.name, v.order + 1, TIME))
        if v.name in self.fields:
            base = Var(self.fields[v.name])
            slope = self.along_time(base)
            return ZERO if slope is ZERO else mul(var(Var(v.name, v.order + 1, base.name)), slope)
        return ZERO

    def running(self, t: Term) -> str:
        """The variable along which a relation is followed: t, or that of its fields where nothing else in it moves."""
        here = [v for v in variables(t) if v.role == "value" and not v.at]
        places = {self.fields[v.name] for v in here if v.name in self.fields}
        if len(places) == 1 and all(
            v.wrt in places if v.order else v.name in places or self.fields.get(v.name) in places
            for v in here if self.is_changing(v)
        ):
            return places.pop()
        if any(v.name in self.moving or v.wrt == TIME for v in here):
            return TIME
        return next((self.fields[v.name] for v in here if v.name in self.fields), TIME)

    def along(self, variable: str) -> Callable[[Var], Term]:
        """The derivative of an unknown by t, or by the variable of a field with everything else held."""
        if variable == TIME:
            return self.along_time

        def slope(v: Var) -> Term:
            if v in self.primitives:
                body, bound = self.primitives[v]
                return mul(body, slope(bound))
            if v.at or v.role != "value":
                return ZERO
            if v.name == variable and not v.order:
                return ONE
            if self.fields.get(v.name) == variable:
                return var(Var(v.name, v.order + 1, variable))
            return ZERO

        return slope

    def total(self, v: Var) -> Term:
        """The differential of an unknown: of its own, or through what it is a function of."""
        if v.at or (v.role == "constant" and v not in self.primitives):
            return ZERO
        if v in self.primitives:
            body, bound = self.primitives[v]
            return mul(body, self.total(bound))
        if v.role != "value":
            return ZERO
        if v.name == TIME and v.order == 0:
            return var(DT)
        if v.name in self.moving:
            return mul(var(Var(v.name, v.order + 1, TIME)), var(DT))
        if v.name in self.fields:
            return mul(var(Var(v.name, v.order + 1, self.fields[v.name])), self.total(Var(self.fields[v.name])))
        if v.name in self.varying and v.order == 0:
            return var(Var(v.name, role="differential"))
        return ZERO

    def changes(self, t: Term) -> bool:
        """Does a term hold anything that moves or varies (time itself included)?"""
        return any(self.is_changing(v) for v in variables(t))

    def is_changing(self, v: Var) -> bool:
        if v.at or v.role != "value":
            return False
        return bool(v.order) or v.name == TIME or v.name in self.moving or v.name in self.varying or (
            v.name in self.fields)

    def element_along(self, body: Term, bound: Var, upper: Term) -> Var | None:
        """dm/dx for `∫_0^L x² dm` where `dm = λ dx`: the limits are places x, and m is only what lies there. One that
        ends at the whole of it (`∫_0^M dm`) runs over m itself."""
        here = variables(body)
        if bound in here or any(v.name.split("_")[0].lower() == bound.name.lower() for v in variables(upper)):
            return None
        known = [v for v in self.rates if v.name == bound.name and v.order == 1 and v.wrt]
        whole = not self.is_changing(bound) and not any(map(self.is_changing, here))
        return next((v for v in known if whole or Var(v.wrt) in here), None)

    def taking(self, name: str, course: Term) -> World:
        """The world in which a name has a course, and so has the component of a vector that it is (`r = (x, y)`)."""
        along = {n: course for n, t in self.definitions.items() if t.op == "var" and t.value == Var(name)
                 and n in self.moving and self.is_component(n)}
        return replace(self, functions={**self.functions, **along, name: course})

    def seen_through(self, t: Term, but: Set[str] = frozenset()) -> Term:
        """A term with the shorthand names written out, but for some."""
        for _ in range(_DEEPEST_SHORTHAND):
            change = {var(v): self.definitions[v.name] for v in variables(t)
                      if v.name in self.definitions and v.name not in but and not v.order and not v.at
                      and v.role == "value"}
            if not change:
                return t
            t = substitute(t, change)
        return t


def _is_time_differential(n: object) -> bool:
    if isinstance(n, Differential):
        return isinstance(n.body, Name) and n.body.ident == TIME
    return isinstance(n, Integral) and isinstance(n.wrt, Name) and n.wrt.ident == TIME


def _note_derivative(
    n: Derivative, moving: set[str], fields: dict[str, str], symbols: dict[str, Symbol], known: Mapping[str, str]
) -> None:
    assert isinstance(n.wrt, Name)
    by = n.wrt.ident
    if n.partial:
        return
    if by == TIME:
        if isinstance(n.body, Name):  # what lines above have as a function of a place changes along with that
            moving.add(known.get(n.body.ident, n.body.ident))
        return
    names = names_in(n.body)  # `d(s²)/dh` is as good as ds/dh
    if len(names) == 1 and names[0] != by and names[0] not in fields:
        declared = symbols.get(names[0])
        if declared and declared.of == TIME:
            moving.add(by)  # `v(t) : m/s`, `x : m` and dv/dx
        elif not (names[0] in moving and by in moving) and not (declared and declared.of):
            fields[names[0]] = by


def _run_along(moving: set[str], fields: dict[str, str], symbols: dict[str, Symbol]) -> None:
    """`a = dv/dt = v dv/dx`: what a moving quantity is differentiated by moves too, and that is no field."""
    for name, by in list(fields.items()):
        declared = symbols.get(name)
        if name in moving and by in symbols and symbols[by].declared and by not in moving:
            continue
        if name in moving and not (declared and declared.of):
            del fields[name]
            moving.add(by)


def _note_field(name: str, at: Expr, moving: set[str], fields: dict[str, str], symbols: dict[str, Symbol]) -> None:
    """`U(r)` beside r': a name that nobody has said anything of is a function of the place."""
    if isinstance(at, Name) and at.ident in moving and name not in moving and name not in symbols:
        fields.setdefault(name, at.ident)


def _field_given(claim: Relation, moving: set[str]) -> dict[str, str]:
    """`F(x) = a x - b x²`: whoever gives F like this means a function of x."""
    given, by = claim.sides[0], claim.sides[1]
    if not isinstance(given, Value) or not isinstance(given.function, Name) or len(given.args) != 1:
        return {}
    name, at = given.function.ident, given.args[0]
    plain = isinstance(at, Name) and at.ident != TIME and name not in moving and at.ident in names_in(by)
    return {name: at.ident} if plain and isinstance(at, Name) else {}


def with_components(names: Iterable[str], symbols: dict[str, Symbol]) -> list[str]:
    """The components of the vectors among some names: they move when the vector does."""
    return [f"{n}_{axis}" for n in names if n in symbols and symbols[n].vector for axis in "xyz"]


def _differentiated(body: Expr, world: World) -> tuple[str, ...]:
    """Which names of `d(…)` change: the one name, or those of the bracket already known to."""
    names = names_in(body)
    if isinstance(body, Name):
        return names
    return tuple(n for n in names if n in world.moving or n in world.varying)
