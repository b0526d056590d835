"""Another situation, that words announce in a working without givens: `with friction: N sin θ + μ N cos θ = m v²/R`.

What the lines above say of the first one (no friction, no gravity, nobody on the ladder) would forbid it. Of them only
values are kept: what is known of the second situation is told anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.tree import Name, Relation, Statement, names_in
from derive.notation.vocabulary import JOINING
from derive.notation.word_lists import words
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Setting
from derive.terms.claims import alternatives, pairs
from derive.terms.term import variables
from derive.verdicts.claiming import decide_claim

_ANNOUNCING = words("""
    with without including adding now instead if case part second third other another next suppose again considering
    allowing
""")
_LITTLE = words("a an the of and in for is are be we there it at on to")
_DRAWING = frozenset(JOINING) - {"with", "and", "but"}


def begun_anew(statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]) -> Outcome | None:
    """A relation that fails where it stands, taken as the first of another situation; None where nothing tells of one:
    words that announce it, and a name that nobody has met."""
    claim = statement.claim
    if claim is None or setting.strict or setting.regime is not None or not _announced(
            f"{source.words} {statement.word}"):
        return None
    every = list(pairs(alternatives(claim)[0]))
    if any(pair.sign != "=" for pair in every) or not any(v.standing is Standing.FAILS for v in verdicts):
        return None
    matters = [matter(pair, setting, source) for pair in every]
    fresh = {n for m in matters for n in m.fresh}
    known = {v.name for m in matters for v in m.unknowns} & tied_names(setting.context)
    if not fresh or len(known) < 2:
        return None
    again = replace(
        setting.within(_with_values_only(setting.context)), cases=(), broken=(), rounded=(), limits=(), trials=())
    anew, after = decide_claim(claim, again, source, statement.word)
    if any(v.standing is not Standing.TAKEN for v in anew[:1]) or any(v.standing is Standing.FAILS for v in anew):
        return None
    return (replace(anew[0], code="taken.situation"), *anew[1:]), after


def told_beside(statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]) -> Outcome | None:
    """`with efficiency η = 0.7: t = 8.4 s` where t has a value: what its line tells is in no relation above, so that
    the number is of a situation that the page says nothing of. The lines below go on without it."""
    claim = statement.claim
    if not isinstance(claim, Relation) or setting.strict or not all(v.code == "fails.number" for v in verdicts):
        return None
    named = claim.sides[0]
    if not isinstance(named, Name) or names_in(replace(claim, sides=claim.sides[1:], signs=claim.signs[1:])):
        return None
    here = [p for p in setting.context.premises if p.source == source.number and _is_value(p)]
    spoken_of = {v.name for p in setting.context.premises if p not in here for v in variables(p.term)}
    told = {v.name for p in here for v in variables(p.term)}
    if not told or not told.isdisjoint(spoken_of) or not statement.word.endswith(":"):
        return None
    facts = (("name", ", ".join(sorted(told))),)
    return (Verdict(Standing.TAKEN, code="taken.beside", span=claim.span, facts=facts),), setting


def _announced(said: str) -> bool:
    """`with friction`, `if a person stands at the top`: a word that announces, and what it announces."""
    spoken = said.lower().replace(",", " ").replace(":", " ").replace("…", " ").split()
    content = [w for w in spoken if w not in _ANNOUNCING and w not in _LITTLE]
    return bool(content) and not _ANNOUNCING.isdisjoint(spoken) and _DRAWING.isdisjoint(spoken)


def _with_values_only(context: Context) -> Context:
    kept = tuple(p for p in context.premises if _is_value(p) or p.kind in ("range", "custom"))
    gone = {n for n, t in context.world.definitions.items() if variables(t)}
    definitions = {n: t for n, t in context.world.definitions.items() if n not in gone}
    world = replace(context.world, definitions=definitions, functions={}, constants=frozenset())
    return replace(context, world=world, premises=kept, instants=())


def _is_value(p: Premise) -> bool:
    return p.sides is not None and p.sign == "=" and p.sides[0].op == "var" and not variables(p.sides[1])
