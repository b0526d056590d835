"""Givens: statements taken as they stand, made into premises of the context."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Relation, Statement, names_in
from derive.records import Reading, Standing, Symbol, Verdict
from derive.states.context import Premise
from derive.states.moving import with_wholes_moving
from derive.states.said import Source, matter
from derive.states.setting import Matter, Setting
from derive.steps.changing.given_courses import as_function
from derive.steps.compared import proportion
from derive.steps.extremes import stationary
from derive.steps.letters import defining
from derive.steps.limiting import limits
from derive.terms.claims import alternatives, lower_pair, pairs
from derive.terms.lowering import Meaningless
from derive.terms.term import Var, sub
from derive.verdicts.cases.instants import instant_of
from derive.verdicts.cases.where import said_at_instant
from derive.verdicts.claims.branching import product_of


def given_premises(reading: Reading, setting: Setting, source: Source) -> tuple[tuple[Verdict, ...], Setting]:
    """The verdicts (all taken) on a given line, and the setting with its premises."""
    verdicts: list[Verdict] = []
    for statement in reading.statements:
        try:
            setting = _taken(statement, setting, source)
            verdicts.append(Verdict(Standing.TAKEN, statement, statement.span, code="taken.given"))
        except Meaningless as odd:
            open_ = odd.code.startswith("undecided.")
            standing = Standing.UNDECIDED if open_ else Standing.FAILS
            verdicts.append(Verdict(
                standing, statement, getattr(odd.node, "span", None), code=odd.code,
                facts=(("term", as_text(odd.node)),)))
    return tuple(verdicts), setting


def _taken(statement: Statement, setting: Setting, source: Source) -> Setting:
    if statement.claim is None:
        return setting
    if statement.role == "limit":
        return limits.with_given_limit(statement.claim, statement.where, setting)
    instant = instant_of(statement.where, setting) if statement.where is not None else None
    if instant is None and _tells_a_moment(statement.where, setting) and instant_of(statement.claim, setting):
        # `y = H when y' = 0` is said of the same moment as `y' = 0 when y = H`.
        return _taken(replace(statement, claim=statement.where, where=statement.claim), setting, source)
    if instant is not None:
        _, setting = said_at_instant(statement, setting, source)
        return replace(setting, cases=())
    if statement.where is not None:
        raise Meaningless("undecided.condition", statement.where)
    return _with_claim(statement.claim, setting, source)


def _tells_a_moment(where: Claim | None, setting: Setting) -> bool:
    """Does a condition come to be so, as what moves in it does?"""
    world = setting.context.world
    return isinstance(where, Relation) and where.signs == ("=",) and any(
        world.is_changing(Var(n)) for n in names_in(where))


def _with_claim(claim: Claim, setting: Setting, source: Source) -> Setting:
    options = alternatives(claim)
    context = setting.context.knowing(setting.context.world.seeing(claim))
    setting = setting.within(context)
    if len(options) > 1:
        lowered = [[lower_pair(p, context.world) for p in pairs(o)] for o in options]
        return setting.within(context.adding(
            Premise(source.label, product_of(lowered), "=", True, False, source.number, "given")))
    for pair in pairs(options[0]):
        m = matter(pair, setting, source)
        said = _premises(m)
        context = m.context.adding(*said)
        known = as_function(m, defining.with_definition(context, m))
        setting = m.setting.within(with_wholes_moving(known))
    return setting


def _premises(m: Matter) -> tuple[Premise, ...]:
    """What a given pair says; where it is a condition for an extreme, of the place alone at which there is one."""
    if m.pair.sign == "∝":
        return tuple(proportion.equations(m, "given"))
    return m.premises(implied=False, always=not stationary.is_condition(m), kind="given")


def with_ranges(setting: Setting, symbols: Iterable[Symbol]) -> Setting:
    """The declared ranges as premises. Plain numbers bound the draws already; `0 < x < L` binds two unknowns."""
    premises = []
    for symbol in symbols:
        for relation in symbol.bounds:
            for pair in pairs(relation):
                numeric = not (set(names_in(relation)) - {symbol.name})
                for a, b in lower_pair(pair, setting.context.world).parts:
                    premises.append(Premise(
                        f"range of {symbol.name}", sub(a, b), pair.sign, True, numeric, 0, "range"))
    return setting.within(setting.context.adding(*premises))
