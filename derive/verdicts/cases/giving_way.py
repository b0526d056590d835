"""How a context gives way to a relation of another situation: what of it is left out, and what the relation then is."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from derive.notation.tree import Claim
from derive.records import Standing
from derive.states.context import Context, Premise
from derive.states.said import Outcome, Source
from derive.states.setting import Matter, Setting
from derive.states.yielding import is_value
from derive.terms.term import variables
from derive.terms.tidying import multiplied_out
from derive.terms.world import TIME
from derive.verdicts.claims.claiming import decide_claim


def begun_in(context: Context, claim: Claim, setting: Setting, source: Source) -> Outcome | None:
    """A claim taken as the first of a situation in which a context is all that is known; None where it is not taken."""
    again = replace(setting.within(context), cases=(), broken=(), rounded=(), limits=(), ends=(), trials=())
    anew, after = decide_claim(claim, again, source)
    if any(v.standing is not Standing.TAKEN for v in anew[:1]) or any(v.standing is Standing.FAILS for v in anew):
        return None
    return (replace(anew[0], code="taken.situation"), *anew[1:]), after


def takes_its_place(m: Matter, old: Premise) -> bool:
    """Is a relation one for the same name, or the old one with more terms?"""
    name, terms, before = m.lowered.parts[0][0], multiplied_out(m.residuals[0]), multiplied_out(old.term)
    turned = {kind: -number for kind, number in before.items()}
    more = bool(before) and (before.items() < terms.items() or turned.items() < terms.items())
    return more or (name.op == "var" and name in (old.sides or ())[:1])


def says_the_same_of(m: Matter, old: Premise) -> bool:
    """Is a relation one for the left side of an old one, or for what stands there alone (`1/k = 1/k1 + 1/k2` below
    `k = k1 + k2`), or one of the same terms with other signs?"""
    own = variables(m.lowered.parts[0][0])
    if m.lowered.parts[0][0] in (old.sides or ())[:1] or (
            len(own) == 1 and old.sides is not None and own == variables(old.sides[0])):
        return bool(own)
    before, terms = multiplied_out(old.term), multiplied_out(m.residuals[0])
    return bool(before) and {k: abs(n) for k, n in before.items()} == {k: abs(n) for k, n in terms.items()}


def relations(context: Context, valued: Collection[int] = ()) -> list[Premise]:
    """The relations that lines have stated; of values those in the lines `valued`."""
    return [p for p in context.premises if p.sign == "=" and not p.implied and p.kind != "line" and (
        not is_value(p) or p.source in valued)]


def without(context: Context, gone: Sequence[Premise]) -> Context:
    """The context without some premises, and without what lines have drawn from any."""
    kept = tuple(p for p in context.premises if p not in gone and (p.kind in ("range", "custom") or (
        (p.sign == "=" or _is_law_of_friction(p)) and not p.implied and p.kind not in ("line", "link"))))
    lost = {v.name for p in gone for v in variables(p.term)}
    world = context.world
    definitions = {n: t for n, t in world.definitions.items() if n not in lost}
    functions = {n: t for n, t in world.functions.items() if n not in lost}
    world = replace(world, definitions=definitions, functions=functions, constants=frozenset())
    return replace(context, world=world, premises=kept, instants=())


def in_the_next_stage(context: Context, gone: Sequence[Premise]) -> Context:
    """The context without some premises as things go on from there: how they stood at moments of the stage before is
    not so here, and what its constants came to (`H = (V²/(2 g)) ln(1 + u²/V²)`) still is."""
    found = [replace(p, implied=False) for p in context.premises if p.sign == "=" and (
        p.implied or p.kind == "line") and not any(
        v.at or v.role != "value" or v.name == TIME or context.world.is_changing(v) for v in variables(p.term))]
    kept = without(context, gone)
    premises = tuple(p for p in kept.premises if p.kind != "instant")
    return replace(kept, premises=(*premises, *found))


def _is_law_of_friction(p: Premise) -> bool:
    """`f ≤ μ N`, in every situation."""
    return p.sign in "<≤" and p.kind == "start" and any(v.name.partition("_")[0] == "μ" for v in variables(p.term))
