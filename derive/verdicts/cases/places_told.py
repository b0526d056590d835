"""Places by what is said of them: `at the top N + m g = m v²/r`, typed without a comma, is a law and no case; and
`after n turns φ = 2π n`, or `two turns: φ = 4π`, is where the next lines look."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Name, Power, Relation, Statement, names_in
from derive.records import Standing
from derive.states.context import tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.states import freedom
from derive.terms.lowering import lower
from derive.terms.term import Term, Var, variables
from derive.verdicts.claims.claiming import decide_claim

# What comes to pass when something is so, and is no place.
_WHEN = frozenset(("balance", "balanced", "equal", "critical", "stops", "stop", "starts", "slips", "tips", "topples"))


def law_of_a_place(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`at the top N + m g = m v²/r`, typed without a comma: a law, where it can stand as one, and no case. Nor is
    `at the bottom T = m g + m v²/r = 6 m g`, which works something out."""
    claim = statement.where
    if not isinstance(claim, Relation) or _WHEN & {*source.words.lower().split()}:
        return None
    if not source.words or set(claim.signs) != {"="} or len(names_in(claim)) < 3:
        return None
    if statement.claim is not None:
        return _laws_of_a_place(claim, statement.claim, setting, source)
    verdicts, after = decide_claim(claim, setting, source, statement.word)
    stands = all(v.standing in (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.TAKEN)
                 or v.code == "fails.restated" for v in verdicts)
    return (verdicts, after) if stands or len(claim.sides) > 2 else None


def _laws_of_a_place(first: Relation, second: Claim, setting: Setting, source: Source) -> Outcome | None:
    """`at the bottom u² = 2 g h and N = m g + m u²/R`: what u is there, where nothing above speaks of u."""
    named = first.sides[0].base if isinstance(first.sides[0], Power) else first.sides[0]
    if not isinstance(named, Name) or named.ident in tied_names(setting.context):
        return None
    told, after = decide_claim(first, setting, source)
    if any(v.standing is not Standing.TAKEN for v in told):
        return None
    verdicts, after = decide_claim(second, after, source)
    return (*told, *verdicts), after


_OF_A_PLACE = frozenset(("after", "when", "for", "at", "where", "there", "here", "end", "reaching"))


def tells_a_place(statement: Statement, setting: Setting, source: Source) -> bool:
    """`after n turns φ = 2π n` where T is a function of φ, or dT goes with dφ: the words say that there the next lines
    look."""
    said = {*source.words.lower().replace(",", " ").split(), *statement.word.lower().split()}
    if not said & _OF_A_PLACE or not isinstance(statement.claim, Relation):
        return False
    if any(c.words != as_text(statement.claim) for c in setting.cases):
        return False
    named, world = statement.claim.sides[0], setting.context.world
    place = lower(statement.claim.sides[-1], world)
    if not isinstance(named, Name) or len(statement.claim.sides) != 2 or not isinstance(place, Term):
        return False
    runs = named.ident in world.fields.values() or named.ident in world.varying
    return runs and not any(world.is_changing(v) or v.name in world.varying for v in variables(place))


# What is run through, and looked at somewhere (common practice, no source).
_PLACES = frozenset("xyzsrθφψ")


def is_any_place(claim: Claim | None, setting: Setting) -> bool:
    """`two turns: φ = 4π` in a working that has differentials of φ, or T by φ, and says no value of it but where it
    looked before: there the next lines look."""
    named = claim.sides[0] if isinstance(claim, Relation) and set(claim.signs) == {"="} else None
    world = setting.context.world
    run_through = {*world.fields.values()} if setting.strict else world.varying
    if not isinstance(claim, Relation) or not isinstance(named, Name) or (
            named.ident not in run_through - world.moving) or named.ident.partition("_")[0] not in _PLACES:
        return False
    if names_in(replace(claim, sides=claim.sides[1:], signs=())):
        return False
    places = all({v.name for p in c.premises for v in variables(p.term)} <= {named.ident} for c in setting.cases)
    return places and freedom(setting.context, [Var(named.ident)], (), setting.states) == 1
