"""What a statement brings in: definitions (`let`) and trial solutions (`try`)."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.printing import as_text
from derive.notation.tree import Name, Statement
from derive.records import Standing, Verdict
from derive.states.context import tied_names
from derive.states.said import Outcome, Source, everywhere, matter, moved_on
from derive.states.setting import Decision, Matter, Setting
from derive.steps import defining, fresh, motion
from derive.steps.trials import tried_out
from derive.terms.claims import alternatives, pairs
from derive.terms.term import Term, Var, variables
from derive.terms.world import TIME
from derive.verdicts.cases import supposing
from derive.verdicts.judge import judge


def introduced(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`let NAME = …`: a name not yet in use; one that is already tied can't be given a new meaning."""
    if statement.claim is None:
        return (), setting
    verdicts = []
    for pair in pairs(alternatives(statement.claim)[0]):
        m = matter(pair, setting, source)
        tied = tied_names(setting.context)
        loose = {v.name for v in m.unknowns if v.role == "value"} - tied - {TIME}
        found = fresh.defined_by(m, loose)
        if found is None and pair.sign == "=" and not loose:
            decision = judge(replace(m, setting=replace(setting, goal=())))
            if decision.verdict.standing in (Standing.FAILS, Standing.CARRIED) and isinstance(pair.left, Name):
                verdict = replace(decision.verdict, standing=Standing.FAILS, code="fails.redefined",
                                  facts=(("name", pair.left.ident),))
                decision = replace(decision, verdict=verdict)
        elif found is None:
            decision = _defined_components(m, loose, setting) or judge(m)
        else:
            decision = _defined(m, found[0], setting, found[1])
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = moved_on(setting, decision.after)
    return tuple(verdicts), setting


def _defined_components(m: Matter, loose: set[str], setting: Setting) -> Decision | None:
    """A new vector: each of its components is defined by that of the other side."""
    if not isinstance(m.pair.left, Name) or len(m.lowered.parts) < 2:
        return None
    for part in m.lowered.parts:
        one = replace(m, lowered=replace(m.lowered, parts=(part,)))
        found = fresh.defined_by(one, loose)
        if found is None:
            return None
        setting = _defined(one, found[0], setting, found[1]).after
    name = m.pair.left.ident
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", name),), introduces=(name,))
    return Decision(verdict, setting)


def _defined(m: Matter, v: Var, setting: Setting, by: Term) -> Decision:
    if fresh.has_no_value(m, by):
        return Decision(Verdict(Standing.UNDECIDED, code="undecided.no_value"), setting)
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", v.name),), introduces=(v.name,))
    return Decision(verdict, everywhere(setting, lambda c: defining.defining(m, v, c)))


def tried(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`try y = Y cos(ω t)`: the course of y from here on, to be tried in the equations."""
    if statement.claim is None:
        return (), setting
    verdicts = []
    for pair in pairs(alternatives(statement.claim)[0]):
        m = matter(pair, setting, source)
        target = setting.regime.context if setting.regime else setting.context
        left, right = m.lowered.parts[0]
        course = motion.explicit(left.value, right, target) if left.op == "var" else None
        if course is None:
            decision = judge(m)
            if decision.verdict.standing in (Standing.FAILS, Standing.UNDECIDED, Standing.CARRIED):
                decision = Decision(Verdict(Standing.TAKEN, code="taken.case"), supposing(pair, setting, source))
        else:
            after, trial = tried_out(target, left.value.name, course, setting)
            after = after.adding(*m.premises(implied=True))
            setting = replace(setting, trials=(*setting.trials, trial))
            decision = Decision(
                Verdict(Standing.TAKEN, code="taken.trial", introduces=m.fresh, facts=(("name", as_text(pair.left)),)),
                replace(setting, regime=replace(setting.regime, context=after)) if setting.regime
                else setting.within(after))
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    return tuple(verdicts), _complex_if_needed(setting)


def _complex_if_needed(setting: Setting) -> Setting:
    """A trial such as e^(λt) may fit only with complex constants: then let its undeclared ones be so."""
    context = setting.regime.context if setting.regime else setting.context
    if setting.states.of(context).size:
        return setting
    world = context.world
    names = {v.name for f in world.functions.values() for v in variables(f)} - {TIME}
    undeclared = frozenset(n for n in names if n not in world.symbols or not world.symbols[n].declared)
    loosened = context.knowing(replace(world, free_complex=world.free_complex | undeclared))
    if not undeclared or not setting.states.of(loosened).size:
        return setting
    if setting.regime:
        return replace(setting, regime=replace(setting.regime, context=loosened))
    return setting.within(loosened)
