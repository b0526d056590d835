"""The tree a line is read into: expressions, relations and the statements made of them.

Small immutable records and nothing else. This module imports nothing of the project; every later
stage imports it. A node remembers where it was typed (`span`), which never takes part in equality:
two trees are equal when they say the same thing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from fractions import Fraction
from functools import lru_cache
from typing import Literal


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of one typed line: zero-based columns, `end` exclusive."""

    start: int
    end: int


def _where() -> Span | None:
    return field(default=None, compare=False, repr=False, kw_only=True)


@dataclass(frozen=True, slots=True)
class Num:
    """A number, kept exactly: `9.81` is 981/100.

    `last_digit` is the power of ten of the last written digit of a decimal (`9.81` -> -2,
    `1.20e3` -> 1); None where the number is exact by its form (`2`, `½`, `12 000` without a point).
    """

    value: Fraction
    last_digit: int | None = None
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Name:
    """A symbol by its canonical name: `omega` and `ω` are `ω`; `x0`, `x_0`, `x₀` are `x_0`."""

    ident: str
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Constant:
    """π, e, i or ∞, where that letter is not declared as a symbol. `ident` is one of `π e i ∞`."""

    ident: str
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit read as a factor: `kg`, `km`, `°`. `ident` is a name the units table knows."""

    ident: str
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Sum:
    """Two or more terms added; a subtracted term is a `Neg`."""

    terms: tuple[Expr, ...]
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Neg:
    arg: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class PlusMinus:
    """`± arg` (or `∓ arg` with `upper` False); all the signs of one statement go together."""

    arg: Expr
    upper: bool = True
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Product:
    """Two or more scalar factors (or a scalar and a vector)."""

    factors: tuple[Expr, ...]
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Quotient:
    num: Expr
    den: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Power:
    base: Expr
    exponent: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Apply:
    """A known function of one argument: sin cos tan cot sec csc arcsin arccos arctan sinh cosh
    tanh arcsinh arccosh arctanh exp ln log10 sqrt cbrt abs sign re im conj arg. `e^x` stays a Power of Constant e."""

    function: str
    arg: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Value:
    """A function of the working's own taken somewhere: `y(0)`, `y'(0)`, `U(R + h)`.

    `function` is a Name or a Derivative of one; `args` as typed. `y(t)` with y declared as a
    function of t is plain `Name('y')`, not a Value.
    """

    function: Expr
    args: tuple[Expr, ...]
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Derivative:
    """d^order body / d wrt^order. `y''`, `ÿ`, `d²y/dt²` are all Derivative(y, t, 2).

    `wrt` is a Name, or for a partial derivative also a Derivative (`∂L/∂q'`). A prime on a function
    declared of another variable (`U(r)`) has that variable.
    """

    body: Expr
    wrt: Expr
    order: int = 1
    partial: bool = False
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Differential:
    """`dv`, `d(½ v²)`, `dm` standing as a factor of its own."""

    body: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Integral:
    """`∫ body d wrt`, with limits or without. `wrt` is an expression (`∫ m v dv` has wrt v; `∫ dm` has
    body 1 and wrt m). Limits are both None or both set."""

    body: Expr
    wrt: Expr
    lower: Expr | None = None
    upper: Expr | None = None
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Between:
    """`[½ k x²]_0^d`, `½ k x² |_0^d`: body at the upper limit less body at the lower.

    `wrt` is set when the limits name their variable (`|_{x=0}^{x=d}`), else None."""

    body: Expr
    lower: Expr
    upper: Expr
    wrt: Expr | None = None
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Vector:
    """Components along x, y (and z): always two or three of them when typed as a tuple.

    In polar text (`r̂`, `θ̂`) the frame is `polar` and the components are the radial and transverse."""

    components: tuple[Expr, ...]
    frame: Literal["cartesian", "polar"] = "cartesian"
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class UnitVector:
    """`x̂ ŷ ẑ` (also `î ĵ k̂`): axis 'x' 'y' 'z'; `r̂ θ̂`: axis 'r' 'θ'."""

    axis: str
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Dot:
    left: Expr
    right: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Cross:
    left: Expr
    right: Expr
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Component:
    """`F_x` of a name declared as a vector: axis 'x' 'y' 'z' 'r' 'θ'."""

    vector: Expr
    axis: str
    span: Span | None = _where()


Expr = (
    Num | Name | Constant | Unit | Sum | Neg | PlusMinus | Product | Quotient | Power | Apply | Value
    | Derivative | Differential | Integral | Between | Vector | UnitVector | Dot | Cross | Component
)

Sign = Literal["=", "≠", "<", ">", "≤", "≥", "≈", "∝", "≪", "≫", "⊥", "→"]


# --- statements -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Relation:
    """A chain `sides[0] signs[0] sides[1] signs[1] …`; one sign fewer than sides, at least one sign.

    `carries_on` marks a line that began with its relation sign: sides[0] is then the last side of the
    line above, copied in. `m → ∞` is a Relation with the sign `→`."""

    sides: tuple[Expr, ...]
    signs: tuple[Sign, ...]
    carries_on: bool = False
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Both:
    """All of these hold: `x = a, y = b`; a tuple relation `(u, v) = (a, b)` is read as one of these."""

    parts: tuple[Claim, ...]
    span: Span | None = _where()


@dataclass(frozen=True, slots=True)
class Either:
    """At least one of these holds: `u = a or u = b`."""

    parts: tuple[Claim, ...]
    span: Span | None = _where()


Claim = Relation | Both | Either

Role = Literal[
    "claim",      # to be decided in the context
    "let",        # introduces new names
    "try",        # a trial solution
    "suppose",    # opens a case; also `if …`, and the opening of `v = 0 gives u = w`
    "at",         # a state at an instant or a place: `claim` holds where `where` does
    "regime",     # `for small θ: sin θ ≈ θ`, `ε ≪ 1`: opens an approximation
    "limit",      # `as m → ∞: …`: claim is about the limit
    "range",      # `s runs from 1 to 2`
    "operation",  # `(1) + (2): …`: the claim is said to come from work on labelled lines
]


@dataclass(frozen=True, slots=True)
class Statement:
    """One decidable piece of a line.

    claim:   what is asserted or introduced; None for a bare opening (`for small θ:`, `at the top:`).
    where:   the instant, case or limit it is said of (`at t = 0`, `when θ = 0`, `as m → ∞`), or None.
    small:   for a regime, the expressions called small.
    word:    the joining word before it as typed (`so`, `,`, `where`, …), '' for the first.
    """

    role: Role
    claim: Claim | None
    where: Claim | None = None
    small: tuple[Expr, ...] = ()
    word: str = ""
    span: Span | None = _where()


# --- walking ----------------------------------------------------------------------------------


@lru_cache(maxsize=256)  # of the types of this file: looked up for every node of every walk
def _limbs(kind: type) -> tuple[str, ...]:
    """The fields of a type of node in which nodes stand."""
    return tuple(item.name for item in fields(kind) if "Expr" in str(item.type) or "Claim" in str(item.type))


def children(node: object) -> Iterator[object]:
    """The nodes directly below one, left to right as typed."""
    for name in _limbs(type(node)):  # type: ignore[arg-type]
        value = getattr(node, name)
        if type(value) is tuple:
            yield from value
        elif value is not None:
            yield value


def walk(node: object) -> Iterator[object]:
    """Every node of a tree, the root first (own stack: deep trees must not exhaust Python's)."""
    pending = [node]
    while pending:
        here = pending.pop()
        yield here
        for name in reversed(_limbs(type(here))):  # type: ignore[arg-type]  # written out: nothing is done more often
            value = getattr(here, name)
            if type(value) is tuple:
                pending.extend(reversed(value))
            elif value is not None:
                pending.append(value)


def rebuilt(node: object, change: dict[int, object]) -> object:
    """The same tree with the nodes whose `id` is in `change` replaced."""
    if id(node) in change:
        return change[id(node)]
    new = {}
    for item in fields(node):  # type: ignore[arg-type]
        value = getattr(node, item.name)
        if isinstance(value, tuple) and any(hasattr(v, "span") for v in value):
            after = tuple(rebuilt(v, change) if hasattr(v, "span") else v for v in value)
            if any(a is not b for a, b in zip(after, value, strict=True)):
                new[item.name] = after
        elif hasattr(value, "span"):
            after_one = rebuilt(value, change)
            if after_one is not value:
                new[item.name] = after_one  # type: ignore[assignment]
    return replace(node, **new) if new else node  # type: ignore[type-var]


def names_in(node: object) -> tuple[str, ...]:
    """The canonical names in a tree, in order of first appearance."""
    return tuple(dict.fromkeys(n.ident for n in walk(node) if isinstance(n, Name)))


def is_zero(node: object) -> bool:
    """Is it the number 0 as it stands?"""
    return isinstance(node, Num) and not node.value


def relations(claim: Claim | None) -> Iterator[Relation]:
    """The plain relations that a claim is made of."""
    if isinstance(claim, Relation):
        yield claim
    elif claim is not None:
        for part in claim.parts:
            yield from relations(part)


def renamed(claim: Claim, names: Mapping[str, str]) -> Claim:
    """The claim with some names put for others."""
    change: dict[int, object] = {
        id(n): replace(n, ident=names[n.ident]) for n in walk(claim) if isinstance(n, Name) and n.ident in names}
    return rebuilt(claim, change) if change else claim  # type: ignore[return-value]
