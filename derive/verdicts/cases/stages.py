"""The next stage of a motion (`in the water: m dv/dt = -c v`, `on the way down: …`), told by words of a place or a
later time: nothing is kept there of how things moved in the one before."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Derivative, Name, Relation, Statement, names_in, walk
from derive.states.context import Context, tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.terms.term import variables
from derive.terms.world import TIME
from derive.verdicts.cases.giving_way import begun_in, without
from derive.verdicts.cases.situations import DRAWING, at_the_other_end, headed_otherwise, is_law_of_stage
from derive.verdicts.cases.which_case import STAGES, spoken

_LATER = words("""
    in into inside on onto under below beneath through during while after afterwards later then next now once phase
    second coming going falling
""")


def past_what_was_small(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`on the way down: v dv/dy = -g + k v²/m` below `for u ≪ V: H ≈ u²/(2 g)`: the law of another stage, in which
    nothing is small any more."""
    if setting.regime is None or statement.claim is None or not is_law_of_stage(statement.claim, source):
        return None
    exact = replace(setting, regime=None)
    return at_the_other_end(statement, exact, source) or headed_otherwise(statement, exact, source)


def next_stage(statement: Statement, setting: Setting, source: Source, failing: bool) -> Outcome | None:
    """`in the water: m dv/dt = -c v` below `v² = 2 g h` or `m dv/dt = m g`: an equation of motion, and words that tell
    of a place or a later time. Where these only say "then", it must be about a speed that is told of one moment, and
    bring in something new: no step from above does that."""
    claim, said = statement.claim, spoken(f"{source.words} {statement.word}")
    if not isinstance(claim, Relation) or claim.signs != ("=",) or setting.strict or setting.regime is not None:
        return None
    if not said or said[0] not in _LATER | STAGES or not DRAWING.isdisjoint({*said[1:]} - {"that", "then"}):
        return None
    context, known = setting.context, tied_names(setting.context)
    elsewhere = not STAGES.isdisjoint(said)
    going = {n for n in _differentiated(claim) & known if elsewhere or not _goes(n, context)}
    fresh = {*names_in(claim)} - known - {TIME}
    if not going or not (fresh or (failing and elsewhere)):
        return None
    moving = context.world.moving | going | {TIME}
    gone = [p for p in context.premises if p.kind != "range" and not moving.isdisjoint(
        v.name for v in variables(p.term))]
    symbols = {n: s for n, s in context.world.symbols.items() if s.declared or n not in moving}
    world = replace(context.world, symbols=symbols, moving=frozenset(going), fields={}, functions={})
    anew = without(context.knowing(world), gone)
    return begun_in(anew, claim, replace(setting, situation=source.number), source)


_THEN = words("then now afterwards")
_ENDING = words("stop stops stopped end ends ended off cut snaps breaks released removed ceases lost over")


def past_an_end(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`then a = -μ g` below `after τ the push stops: v = a τ`: of what comes after, as the line above says."""
    said, above = spoken(source.words)[:1], spoken(source.headed.get(source.number - 1, ""))
    claim, after = statement.claim, replace(source, words=f"after {' '.join(above)}")
    if claim is None or _THEN.isdisjoint({*said, *spoken(statement.word)}) or _ENDING.isdisjoint(above):
        return None
    found = headed_otherwise(statement, setting, after)
    named = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if found is not None or setting.strict or not isinstance(named, Name):
        return found
    gone = [p for p in setting.context.premises if named.ident in {v.name for v in variables(p.term)}]
    return begun_in(without(setting.context, gone), claim, replace(setting, situation=source.number), source)


def _differentiated(claim: Claim) -> set[str]:
    """The names whose change in time a claim speaks of."""
    return {n.body.ident for n in walk(claim)
            if isinstance(n, Derivative) and n.wrt == Name(TIME) and isinstance(n.body, Name)}


def _goes(name: str, context: Context) -> bool:
    """Is it said above how a quantity changes, or what it is at which time?"""
    return name in context.world.functions or any(
        v.order for p in context.premises for v in variables(p.term) if v.name == name)
