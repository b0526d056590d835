"""Which names of a line are complex: what is first met equal to a complex number, and the amplitude of
`x = Re(X e^(i ω t))`, which is told by two real parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Apply, Claim, Constant, Expr, Name, Power, Relation, names_in, relations, walk
from derive.states.context import Context
from derive.terms.claims import alternatives, pairs
from derive.terms.parts import of_a_name
from derive.terms.term import Var, substitute, var
from derive.terms.world import TIME, World

_PARTS = ("re", "im", "conj", "arg")
# What drives something is called by its real size.
_REAL = ("F", "f")


def with_new_complex_names(world: World, claim: Claim, tied: set[str]) -> World:
    """`Z = R + i ω L`: a name that is first met equal to a complex number is one."""
    for pair in pairs(alternatives(claim)[0]):
        if pair.sign != "=" or not isinstance(pair.left, Name) or pair.left.ident in tied | world.free_complex:
            continue
        if not _has_imaginary(pair.right):
            continue
        world = replace(world, free_complex=world.free_complex | {pair.left.ident})
    return world


def with_parted(context: Context, claim: Claim, tied: set[str]) -> Context:
    """The context in which the amplitudes in `x = Re(X e^(i ω t))`, and the rates in `Re(Y e^(p t))`, are told by their
    parts: all that is new there and may be complex, and what is known to be and has no value."""
    world = context.world
    found = {n for part in walk(claim) if isinstance(part, Apply) and part.function in _PARTS
             for n in _complex_in(part.arg)}
    plain = {n for n, s in world.symbols.items() if s.declared and (s.sign not in ("real", "complex") or s.bounds)}
    plain |= {n for n in tied if n not in world.free_complex} | _real_beside(claim)
    given = world.definitions.keys() | world.functions.keys()
    new = found - plain - world.parted - given - world.seeing(claim).moving - {TIME}
    if not new:
        return context
    told = {var(Var(n)): of_a_name(n) for n in new}
    world = replace(
        world, parted=world.parted | new, free_complex=world.free_complex - new,
        functions={n: substitute(t, told) for n, t in world.functions.items()},
        definitions={n: substitute(t, told) for n, t in world.definitions.items()})
    premises = tuple(replace(
        p, term=substitute(p.term, told),
        sides=p.sides and (substitute(p.sides[0], told), substitute(p.sides[1], told))) for p in context.premises)
    return replace(context.knowing(world), premises=premises)


def is_named_part(claim: Claim | None) -> bool:
    """`x = Re z`, of a z whose course is not known yet: x is what its own equations say."""
    if not isinstance(claim, Relation) or claim.signs != ("=",):
        return False
    left, right = claim.sides
    return isinstance(left, Name) and isinstance(right, Apply) and right.function in _PARTS and isinstance(
        right.arg, Name)


def _complex_in(e: Expr) -> Iterator[str]:
    """The names that may be complex in what a part is taken of: beside `e^(i …)` all that is not in the exponent, where
    that is without i all; and a name by itself."""
    raised = [n.exponent for n in walk(e) if isinstance(n, Power) and n.base == Constant("e")]
    inside = {n for x in raised if _has_imaginary(x) for n in names_in(x)}
    if any(_has_phase(x) for x in raised):
        return  # A e^(i (ω t + φ)): A is the size, and φ turns it
    if raised or isinstance(e, Name) or _has_imaginary(e):
        yield from (n for n in names_in(e) if n not in inside and n.partition("_")[0] not in _REAL)


def _has_phase(exponent: Expr) -> bool:
    """Is more than a multiple of the time in it?"""
    return len(names_in(exponent)) > 0 and any(
        isinstance(n, Name) and n.ident[:1] in "φδεαψβϕ" for n in walk(exponent))


def _has_imaginary(e: Expr) -> bool:
    return any(isinstance(n, Constant) and n.ident == "i" for n in walk(e))


def _real_beside(claim: Claim) -> set[str]:
    """The A of `x = Re(A e^(i ω t)) = A cos ω t`."""
    sides = [s for r in relations(claim) for s in r.sides]
    return {n for s in sides for f in walk(s) if isinstance(f, Apply) and f.function in ("cos", "sin")
            for n in names_in(s)} if any(_is_part(s) for s in sides) else set()


def _is_part(e: Expr) -> bool:
    return any(isinstance(n, Apply) and n.function in _PARTS for n in walk(e))
