"""Whole statements: what each role (claim, let, try, at, …) asks for, and what it leaves behind.

A statement is handed to the room for its role; what it introduces is added to the exact context, and to that of an
opened approximation where there is one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from derive.notation.printed.printing import as_text
from derive.notation.tree import (
    Claim,
    Derivative,
    Name,
    Relation,
    Statement,
    is_zero,
    names_in,
    walk,
)
from derive.records import Standing, Verdict
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.steps.small import regimes
from derive.terms.allowance import TooLarge
from derive.terms.lowering import Meaningless
from derive.terms.term import Var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.beside import (
    at_its_own_moment,
    back_at_the_moment,
    number_at_the_moment,
    number_of_a_case_above,
    place_told_by_both,
    put_beside,
    share_told,
    with_a_new_value,
)
from derive.verdicts.cases.by_index import at_its_own_time
from derive.verdicts.cases.changed_since import changed_since
from derive.verdicts.cases.extremes import EXTREMES, named, of_an_extreme
from derive.verdicts.cases.extremes_told import extreme_of_named, extreme_told
from derive.verdicts.cases.found_before import by_what_was_found
from derive.verdicts.cases.limiting import (
    gone_on_at_its_limit,
    gone_on_in_limit,
    gone_on_late,
    in_the_end_of_it,
    late_in_a_regime,
    limit_of,
    still_in_its_limit,
    value_of_a_limit,
)
from derive.verdicts.cases.moments_told import moments_of_the_case
from derive.verdicts.cases.new_with_value import brought_in_with_its_value
from derive.verdicts.cases.on_a_circle import on_a_circle
from derive.verdicts.cases.other_places import at_another_place
from derive.verdicts.cases.places_told import is_any_place, tells_a_place
from derive.verdicts.cases.poles import beyond_all_bounds
from derive.verdicts.cases.rates_meant import with_rates_meant
from derive.verdicts.cases.reached import at_value_reached, moment_by_a_shift, moment_told
from derive.verdicts.cases.situations import (
    announces,
    at_the_other_end,
    begun_anew,
    headed_otherwise,
    told_beside,
    with_more_terms,
)
from derive.verdicts.cases.small_told import of_one_term, only_says_small, past_what_is_nothing, vanishing
from derive.verdicts.cases.stages import next_stage, past_an_end, past_what_was_small
from derive.verdicts.cases.starts import at_its_start, past_the_start
from derive.verdicts.cases.still_then import still_then
from derive.verdicts.cases.told_anew import told_anew
from derive.verdicts.cases.turning_points import where_it_turns
from derive.verdicts.cases.waypoints import at_place_by_its_name, names_a_place
from derive.verdicts.cases.where import gone_on_with, said_at_instant, supposed
from derive.verdicts.claims.adding_errors import errors_added
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.claims.reckoned import with_its_number_apart
from derive.verdicts.complex_names import is_named_part
from derive.verdicts.in_words.dying_out import in_the_long_run
from derive.verdicts.in_words.small_changes import as_differentials
from derive.verdicts.in_words.spoken import (
    is_of_a_moment,
    is_of_top_speed,
    moment_of_stopping,
    spoken_case,
    spoken_limit,
)
from derive.verdicts.introductions import beside_a_place, introduced, of_a_rate, tried
from derive.verdicts.pairs.multiples import of_a_multiple
from derive.verdicts.pairs.nearby import near_a_place
from derive.verdicts.pairs.small_there import near_what_it_was_there
from derive.verdicts.particular import is_a_course, is_tried_by_its_look, part_of_a_solution
from derive.verdicts.seeing import seeing
from derive.verdicts.varied import with_others_held


def decide(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """The verdicts on one statement (one a pair), and the setting after it."""
    typed, statement = statement, with_others_held(as_differentials(named(statement, setting), setting), setting)
    statement = with_rates_meant(statement, setting)
    if statement.claim is not None or statement.where is not None:
        setting = seeing(statement, setting, source.number)
    try:
        statement, setting, source = at_its_start(statement, setting, source)
        statement = _in_spoken_case(statement, setting, source)
        apart = with_its_number_apart(statement, setting, source)
        statement, decided = (apart, None) if isinstance(apart, Statement) else (statement, apart)
        decided = decided or beyond_all_bounds(statement, setting, source) or near_a_place(statement, setting, source)
        decided = decided or on_a_circle(statement, setting, source)
        verdicts, after = decided or _ROLES[statement.role](statement, setting, source)
        verdicts, after = late_in_a_regime(statement, setting, source, verdicts) or (verdicts, after)
        verdicts, after = still_then(statement, setting, source, verdicts) or (
            share_told(statement, setting, source, verdicts) or (verdicts, after))
        verdicts, after = _lasting_course(statement, setting, source, verdicts) or (verdicts, after)
        if (setting.limits or setting.ends) and any(
                _is_unsupported(v) or _is_a_value_of_what_changes(v, statement, setting) for v in verdicts):
            verdicts, after = gone_on_in_limit(statement, setting, source, _ROLES[statement.role]) or (
                gone_on_late(statement, setting, source) or (verdicts, after))
    except Meaningless as odd:
        if odd.code == "undecided.parts" and is_named_part(statement.claim):
            return (Verdict(Standing.TAKEN, typed, code="taken.start"),), setting
        span = getattr(odd.node, "span", None)
        standing = Standing.UNDECIDED if odd.code.startswith("undecided.") else Standing.FAILS
        verdicts = (Verdict(standing, code=odd.code, span=span, facts=(("term", as_text(odd.node)),)),)
        after = setting
    except (TooLarge, OverflowError, RecursionError, np.linalg.LinAlgError):
        verdicts, after = (Verdict(Standing.UNDECIDED, code="undecided.budget"),), setting
    return tuple(replace(v, statement=typed) for v in verdicts), after


def _lasting_course(
    statement: Statement, setting: Setting, source: Source, verdicts: tuple[Verdict, ...]
) -> Outcome | None:
    """`after a long time x = A cos(Ω t - φ)` of an equation that nothing has solved yet is a trial course."""
    claim = statement.claim
    if statement.role not in ("at", "limit") or not isinstance(claim, Relation) or claim.signs not in (("=",), ("→",)):
        return None
    if TIME not in names_in(claim.sides[1]) or any(v.standing is not Standing.UNDECIDED for v in verdicts):
        return None
    stays = replace(claim, signs=("=",))
    return _claim(replace(statement, role="claim", where=None, claim=stays), setting, source)


def _is_unsupported(v: Verdict) -> bool:
    return v.standing in (Standing.FAILS, Standing.UNDECIDED) or v.code in ("taken.start", "taken.law")


def _is_a_value_of_what_changes(v: Verdict, statement: Statement, setting: Setting) -> bool:
    """`v = 11.2 km/s` below a limit of the v that goes with r."""
    named = statement.claim.sides[0] if isinstance(statement.claim, Relation) else None
    return v.code == "taken.value" and isinstance(named, Name) and setting.context.world.is_changing(Var(named.ident))


def _in_spoken_case(statement: Statement, setting: Setting, source: Source) -> Statement:
    """`for equal masses: a = 0` is said of m1 = m2."""
    statement = past_the_start(statement, source)
    claim = statement.claim if statement.claim is not None else statement.where
    near = _near_nothing(statement, source.words)
    if near is not None:
        return replace(statement, role="regime", where=None, small=(near,))
    if statement.role not in ("claim", "at", "suppose") or statement.where not in (None, claim):
        return statement
    if names_a_case(source.words) and isinstance(claim, Relation) and set(claim.signs) <= set("<>≤≥"):
        return replace(statement, role="suppose", claim=None, where=claim)
    if claim is not None and statement.word.strip().lower() == "where" and _tells_an_extreme(source.words):
        return replace(statement, role="at", where=claim)  # `fastest where k x = m g`
    first = statement.word.strip() != ","
    if claim is not None and first and is_of_a_moment(source.words, claim, setting):
        return replace(statement, role="at", where=claim)
    vanishing = moment_of_stopping(source.words, claim, setting)
    if vanishing is not None:
        return replace(statement, role="at", claim=vanishing, where=claim)
    in_the_end = in_the_long_run(source.words, claim, setting)
    if in_the_end is not None:
        return replace(statement, role="limit", where=in_the_end, claim=claim)
    where = spoken_case(source.words, claim, setting)
    if where is not None:
        return replace(statement, role="suppose", claim=claim if where != claim else None, where=where)
    anew = of_a_multiple(source.words, claim, setting, source.number)
    if anew is not None:
        return replace(statement, role="limit", where=anew[0], claim=anew[1])
    far = spoken_limit(source.words, claim, setting) if statement.where is None and _may_be_limit(claim) else None
    return statement if far is None else replace(statement, role="limit", where=far)


def _tells_an_extreme(words: str) -> bool:
    said = {*words.lower().replace(",", " ").replace(":", " ").split()}
    return any(not its.isdisjoint(said) for its in EXTREMES.values())


_NEAR = frozenset(("near", "around", "about", "close"))


def _near_nothing(statement: Statement, words: str) -> Name | None:
    """The θ of `near θ = 0: θ'' ≈ -(g/l) θ`, which is small there, and not nothing."""
    where, claim = statement.where, statement.claim
    approximate = isinstance(claim, Relation) and "≈" in claim.signs
    said = {*words.lower().split(), *statement.word.lower().split()}
    if statement.role != "at" or not approximate or not said & _NEAR or not isinstance(where, Relation):
        return None
    name, *value = where.sides
    return name if isinstance(name, Name) and where.signs == ("=",) and is_zero(value[0]) else None


def _at_the_end_told(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """`V = √(5 g r)` next below `V² = v² + 4 g r = 5 g r at least`: where V is as little as may be."""
    claim = statement.claim
    named = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if setting.strict or not isinstance(named, Name) or any(v.code != "fails.contradicts" for v in verdicts):
        return None
    above = [p for p in setting.context.premises if p.source in (source.number - 1, source.number - 2)]
    bounded = {p.source for p in above if p.sign in "≤≥"}
    if not any(p.source in bounded and named.ident in {v.name for v in variables(p.term)} for p in above):
        return None
    found = supposed(replace(statement, role="suppose", where=claim, claim=None), setting, source)
    return found if all(v.standing is Standing.TAKEN for v in found[0]) else None


def _at_top_speed(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`top speed: P = D v` where nobody has spoken of an acceleration: a case by what is so there."""
    claim = statement.claim
    if setting.strict or not isinstance(claim, Relation) or statement.word.strip() == "," or not is_of_top_speed(
            source.words.lower().split()):
        return None
    if set(claim.signs) != {"="} or len(names_in(claim)) < 2 or any(isinstance(n, Derivative) for n in walk(claim)):
        return None
    found = supposed(replace(statement, role="suppose", where=claim, claim=None), setting, source)
    return found if all(v.standing is Standing.TAKEN for v in found[0]) else None


def _may_be_limit(claim: Claim | None) -> bool:
    return isinstance(claim, Relation) and set(claim.signs) <= {"=", "≈"}


def names_a_case(words: str) -> bool:
    """`underdamped: γ < ω0`, `light damping (γ < ω0)`: what follows says which case is meant."""
    said = words.lower().replace(",", " ").split()
    damped = "damping" in said and bool({"light", "heavy"} & set(said))
    return damped or bool({"underdamped", "overdamped"} & set(said))


def _claim(statement: Statement, setting: Setting, source: Source) -> Outcome:
    if statement.claim is None:
        return (), setting
    if is_tried_by_its_look(statement.claim, setting.context):
        return tried(statement, setting, source)
    if beside_a_place(statement.claim, setting):
        return introduced(statement, setting, source)
    if tells_a_place(statement, setting, source):
        return supposed(replace(statement, role="suppose", where=statement.claim, claim=None), setting, source)
    if is_any_place(statement.claim, setting):
        return _at_a_place_told(statement, setting, source)
    stage = (
        value_of_a_limit(statement, setting, source) or part_of_a_solution(statement, setting, source)
        or of_a_rate(statement, setting, source) or extreme_of_named(statement, setting, source)
        or next_stage(statement, setting, source, failing=False) or past_what_was_small(statement, setting, source))
    if stage is not None:
        return stage
    verdicts, after = decide_claim(statement.claim, setting, source, statement.word)
    there = at_place_by_its_name(statement, setting, source, verdicts) if names_a_place(statement, source) else None
    if there is not None and not _is_refuted(there[0]):
        return there
    if any(v.standing in (Standing.FAILS, Standing.UNDECIDED) for v in verdicts):
        return (
            gone_on_at_its_limit(statement, setting, source, _claim)
            or still_in_its_limit(statement, setting, source)
            or near_what_it_was_there(statement.claim, setting, source)
            or moments_of_the_case(statement, setting, source) or gone_on_with(statement, setting, source)
            or back_at_the_moment(statement, setting, source) or at_value_reached(statement, setting, source)
            or moment_by_a_shift(statement, setting, source) or number_of_a_case_above(statement, setting, source)
            or told_anew(statement, setting, source) or changed_since(statement, setting, source)
            or put_beside(statement, setting, source) or of_an_extreme(statement, setting, source)
            or where_it_turns(statement, setting, source) or next_stage(statement, setting, source, failing=True)
            or at_the_other_end(statement, setting, source)
            or at_another_place(statement, setting, source) or headed_otherwise(statement, setting, source)
            or past_an_end(statement, setting, source)
            or begun_anew(statement, setting, source, verdicts) or _at_top_speed(statement, setting, source)
            or _at_the_end_told(statement, setting, source, verdicts)
            or brought_in_with_its_value(statement, setting, source)
            or told_beside(statement, setting, source, verdicts) or errors_added(statement, setting, source)
            or there or (verdicts, after))
    there = there or number_at_the_moment(statement, setting, source, verdicts) or (
        at_its_own_time(statement, setting, source, verdicts))
    if there is not None:
        return there
    if any(v.code == "taken.start" for v in verdicts):
        anew = announces(statement, setting, source)
        end = None if any(v.introduces for v in verdicts) else at_the_other_end(statement, setting, source)
        return (end or with_more_terms(statement, setting, source) or back_at_the_moment(statement, setting, source)
                or moment_told(statement, setting, source)
                or (verdicts, replace(after, situation=source.number) if anew else after))
    if any(v.standing is Standing.CARRIED for v in verdicts):  # `for a hoop: I = M R²` is no step from a slip
        return put_beside(statement, setting, source) or (verdicts, after)
    return verdicts, after


def _is_refuted(verdicts: Sequence[Verdict]) -> bool:
    return any(v.standing is Standing.FAILS for v in verdicts)


def _at(statement: Statement, setting: Setting, source: Source) -> Outcome:
    bare = statement.claim is None or statement.claim == statement.where
    told = extreme_told(statement, setting, source) if bare else None
    if told is not None:
        return told
    if statement.claim is not None and statement.claim == statement.where and names_a_place(statement, source):
        verdicts, after = decide_claim(statement.claim, setting, source, statement.word)
        there = at_place_by_its_name(statement, setting, source, verdicts)
        carried = any(v.standing is Standing.CARRIED for v in verdicts)
        if carried and (there is None or _is_refuted(there[0])):
            return verdicts, after
        if there is not None:
            return there
    found = (
        at_its_own_moment(statement, setting, source) or with_a_new_value(statement, setting, source)
        or said_at_instant(statement, setting, source))
    if not _is_refuted(found[0]):
        return found
    return (
        place_told_by_both(statement, setting, source) or by_what_was_found(statement, setting, source)
        or brought_in_with_its_value(statement, setting, source) or found)


def _at_a_place_told(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`φ = ln(250)/0.3 = 18.4`: the place, and what it comes to."""
    claim = statement.claim
    assert isinstance(claim, Relation)
    place = replace(claim, sides=claim.sides[:2], signs=claim.signs[:1])
    found, after = supposed(
        replace(statement, role="suppose", where=place, claim=None), replace(setting, cases=()), source)
    if len(claim.sides) == 2:
        return found, after
    number, _ = decide_claim(
        replace(claim, sides=claim.sides[1:], signs=claim.signs[1:]), after, source, statement.word)
    return (*found, *number), after


def _supposed(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`assume x = e^(r t)` of what moves as an equation above says: a trial, and no case."""
    if statement.where is None and is_a_course(statement.claim, setting.context):
        return tried(statement, setting, source)
    found = supposed(statement, setting, source)
    if not _is_refuted(found[0]):
        return found
    return by_what_was_found(statement, setting, source) or brought_in_with_its_value(
        statement, setting, source) or found


def _tried(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`try x_p = P cos Ωt`: the part of a solution that its index says, and else the course of the whole."""
    return part_of_a_solution(statement, setting, source) or tried(statement, setting, source)


def _regime(statement: Statement, setting: Setting, source: Source) -> Outcome:
    small = beside_a_place(statement.claim, setting)
    if small:  # `small swings: x = x0 + s`
        said, brought_in = introduced(statement, setting, source)
        return said, regimes.opened(brought_in, replace(statement, claim=None, small=(Name(small),)))
    opened = past_what_is_nothing(regimes.opened(setting, statement), source)
    if statement.claim is None or only_says_small(statement):
        facts = (("name", opened.regime.words),) if opened.regime else ()
        return (Verdict(Standing.TAKEN, code="taken.regime", facts=facts),), opened
    if statement.small and isinstance(statement.claim, Relation) and statement.claim.signs == ("→",):
        return limit_of(replace(statement, where=vanishing(statement)), setting, source)
    late = in_the_end_of_it(statement, opened, source)
    if late is not None:
        return late
    verdicts, after = decide_claim(statement.claim, opened, source)
    if statement.small and of_one_term(statement.claim) and any(
            v.standing in (Standing.FAILS, Standing.UNDECIDED) for v in verdicts):
        limit, kept = limit_of(replace(statement, where=vanishing(statement)), setting, source)
        if all(v.code == "follows.limit" for v in limit):
            return limit, kept
    there = near_what_it_was_there(statement.claim, opened, source) if any(map(_is_unsupported, verdicts)) else None
    return there or (verdicts, after)


def _range(statement: Statement, setting: Setting, source: Source) -> Outcome:
    return (Verdict(Standing.TAKEN, code="taken.case"),), setting


_ROLES: dict[str, Callable[[Statement, Setting, Source], Outcome]] = {
    "claim": _claim, "let": introduced, "try": _tried, "suppose": _supposed, "at": _at,
    "regime": _regime, "limit": limit_of, "range": _range, "operation": _claim,
}

__all__ = ["Source", "decide"]
