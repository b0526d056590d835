"""What a statement brings in: definitions (`let`) and trial solutions (`try`)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np

from derive.notation.printed.printing import as_text
from derive.notation.tree import (
    Claim,
    Constant,
    Name,
    Num,
    Power,
    Product,
    Relation,
    Statement,
    Sum,
    is_zero,
    names_in,
    walk,
)
from derive.records import Standing, Verdict
from derive.states.context import Context, tied_names
from derive.states.said import Outcome, Source, everywhere, matter, moved_on
from derive.states.setting import Decision, Matter, Setting
from derive.steps.brought_in import fresh
from derive.steps.changing.given_courses import explicit
from derive.steps.changing.trials import complex_constants, moves, tried_out, with_sizes
from derive.steps.letters import defining
from derive.terms.calculus import derivative
from derive.terms.claims import alternatives, pairs
from derive.terms.term import IMAGINARY, ONE, ZERO, Term, Var, div, neg, postorder, substitute, var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.where import supposing
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.pairs.judge import judge

_SWINGING = frozenset(("harmonic", "oscillates", "oscillation", "oscillations", "frequency", "shm"))
# An imaginary part less than this is what an iteration left of a real number.
_UNREAL = 1e-6


def introduced(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`let NAME = …`: a name not yet in use; one that is already tied can't be given a new meaning."""
    if statement.claim is None:
        return (), setting
    verdicts = []
    options = alternatives(statement.claim)
    if len(options) > 1:
        return decide_claim(statement.claim, setting, source, statement.word)
    if _is_a_course(statement, setting, source):
        return tried(statement, setting, source)
    for pair in pairs(options[0]):
        m = matter(pair, setting, source)
        tied = tied_names(setting.context)
        loose = {v.name for v in m.unknowns if v.role == "value"} - tied - {TIME}
        found = defining.defined_by(m, loose)
        if found is None and (turned := _turned_about(m, loose)) is not None:
            m, found = turned
        if found is None and pair.sign == "=" and not loose:
            decision = judge(replace(m, setting=replace(setting, goal=())))
            if decision.verdict.standing in (Standing.FAILS, Standing.CARRIED) and isinstance(pair.left, Name):
                verdict = replace(decision.verdict, standing=Standing.FAILS, code="fails.redefined",
                                  facts=(("name", pair.left.ident),))
                decision = replace(decision, verdict=verdict)
        elif found is not None and not _SWINGING.isdisjoint(source.words.lower().split()):
            decision = judge(m)  # `simple harmonic with ω = √(k/m)` is what it is, and no name for it
        elif found is None:
            decision = _defined_components(m, loose, setting) or judge(m)
        else:
            decision = _defined(m, found[0], setting, found[1])
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = moved_on(setting, decision.after)
    return tuple(verdicts), setting


def _is_a_course(statement: Statement, setting: Setting, source: Source) -> bool:
    """`let x = A cos(n t)` where equations speak of x already: a trial, and no name for anything."""
    claim, context = statement.claim, setting.context
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(claim.sides[0], Name):
        return False
    (left, right), *further = matter(next(iter(pairs(claim))), setting, source).lowered.parts
    if further or not isinstance(left.value, Var) or left.value.name not in tied_names(context):
        return False
    course = explicit(left.value, right, context)
    return course is not None and Var(TIME) in variables(course)


def beside_a_place(claim: Claim | None, setting: Setting) -> str:
    """The s of `x = x0 + s` where something goes along x and s is new: measured from x0. '' for any other claim."""
    if not isinstance(claim, Relation) or claim.signs != ("=",):
        return ""
    left, right = claim.sides
    if not isinstance(left, Name) or not isinstance(right, Sum) or len(right.terms) != 2 or (
            left.ident not in setting.context.world.fields.values()):
        return ""
    tied = tied_names(setting.context)
    new = [n for n in names_in(right) if n not in tied]
    return new[0] if len(new) == 1 and Name(new[0]) in right.terms else ""


def _turned_about(m: Matter, loose: set[str]) -> tuple[Matter, tuple[Var, Term]] | None:
    """`let y = y0 + s`, `let x = L u`: what is about already is said by a new name, which this gives."""
    new = [v for v in m.unknowns if v.name in (loose & set(m.fresh) or loose) and v.role == "value"]
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or len(new) != 1 or new[0].order or new[0].at:
        return None
    (v,), (residual,) = new, m.residuals
    if not {u.name for u in m.unknowns} - {v.name}:
        return None
    slope = derivative(residual, lambda u: ONE if u == v else ZERO)
    if v in variables(slope) or slope is ZERO:
        return m, (v, m.lowered.parts[0][0])  # `let x = L tan φ`
    given = neg(div(substitute(residual, {var(v): ZERO}), slope))
    return replace(m, lowered=replace(m.lowered, parts=((var(v), given),))), (v, given)


def _defined_components(m: Matter, loose: set[str], setting: Setting) -> Decision | None:
    """A new vector: each of its components is defined by that of the other side."""
    if not isinstance(m.pair.left, Name) or len(m.lowered.parts) < 2:
        return None
    for part in m.lowered.parts:
        one = replace(m, lowered=replace(m.lowered, parts=(part,)))
        found = defining.defined_by(one, loose)
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
    options = alternatives(statement.claim)
    if len(options) > 1:
        return decide_claim(statement.claim, setting, source, statement.word)
    rate = of_a_rate(statement, setting, source)  # `try e^(λt): λ² + 4λ + 13 = 0`
    if rate is not None:
        return rate
    for pair in pairs(options[0]):
        m = matter(pair, setting, source)
        target = setting.regime.context if setting.regime else setting.context
        left, right = m.lowered.parts[0]
        course = explicit(left.value, right, target) if left.op == "var" else None
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


_CHARACTERISTIC = frozenset(("characteristic", "char", "char.", "auxiliary", "aux"))


def of_a_rate(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`λ² + 2γ λ + ω0² = 0` below an equation of motion for x: nobody has to write that x = e^(λt) is tried. Letters
    but λ, which may name anything, are one where words say so."""
    claim, context = statement.claim, setting.context
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not is_zero(claim.sides[1]):
        return None
    spoken = not _CHARACTERISTIC.isdisjoint(source.words.lower().replace(":", " ").split())
    squared = {n.base.ident for n in walk(claim)
               if isinstance(n, Power) and isinstance(n.base, Name) and n.exponent == Num(Fraction(2))}
    plain = len(names_in(claim)) == 1  # `r² + 2 r + 26 = 0`, if it comes out
    squared |= {"λ"} & {*names_in(claim)}  # `(λ + ω)² = 0`
    rates = [n for n in squared - tied_names(context) if n == "λ" or spoken or (plain and n in ("r", "s"))]
    second = (v for p in context.premises for v in variables(p.term) if v.order == 2 and v.wrt == TIME)
    moving = {v.name for v in second if not v.at}
    if len(rates) != 1 or len(moving) != 1 or not moving.isdisjoint(context.world.functions):
        return None
    course = Power(Constant("e"), Product((Name(rates[0]), Name(TIME))))
    trial = replace(statement, role="try", claim=Relation((Name(moving.pop()), course), ("=",)))
    _, after = tried(trial, setting, source)
    if not after.states.any(after.regime.context if after.regime else after.context).size:
        return None  # something drives it
    verdicts, found = decide_claim(claim, after, source, statement.word)
    if any(v.standing is Standing.FAILS for v in verdicts) and (spoken or rates == ["λ"]):
        return verdicts, replace(setting, broken=found.broken)
    return (verdicts, found) if all(v.standing is Standing.FOLLOWS for v in verdicts) else None


def _complex_if_needed(setting: Setting) -> Setting:
    """A trial such as e^(λt) may fit only with complex constants: then let its undeclared ones be so; and the rates of
    one in an equation of the second order, which is damped a little or much."""
    context = setting.regime.context if setting.regime else setting.context
    possible = setting.states.of(context).size
    loosened = complex_constants(context, _rates(context) if possible else None)
    if loosened is None or (possible and _turns(context, setting)):
        return setting
    loosened = with_sizes(loosened) if possible else loosened
    cloud = setting.states.of(loosened)
    if not cloud.size or (possible and not any(np.abs(np.imag(a)).max() > _UNREAL for a in cloud.columns.values())):
        return setting
    if setting.regime:
        return replace(setting, regime=replace(setting.regime, context=loosened))
    return setting.within(loosened)


def _turns(context: Context, setting: Setting) -> bool:
    """Is the latest trial an `X e^(i ω t)` that goes round at a real rate?"""
    name = setting.trials[-1].name if setting.trials else ""
    return IMAGINARY in postorder(context.world.functions.get(name, ZERO)) and moves(context, name, setting)


def _rates(context: Context) -> set[str]:
    """The constants in the exponents of trial courses whose equations speak of a second derivative."""
    second = {v.name for p in context.premises for v in variables(p.term) if v.order > 1 and v.wrt == TIME}
    courses = [f for name, f in context.world.functions.items() if name in second]
    exponents = [t.args[0] for f in courses for t in postorder(f) if t.op == "fun" and t.value == "exp"]
    tied = {v.name for p in context.premises if not p.implied for v in variables(p.term)}
    return {v.name for t in exponents for v in variables(t)} - {TIME} - tied
