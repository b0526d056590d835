"""Whole statements: what each role (claim, let, try, at, …) asks for, and what it leaves behind.

A statement is taken apart into pairs; each is judged in the setting left by the one before it. What a
statement introduces is added to the exact context, and to that of an opened approximation where there is one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from derive.notation.names import canonical
from derive.notation.printing import as_text
from derive.notation.tree import Both, Claim, Constant, Either, Name, Num, Relation, Statement, names_in
from derive.proof import fresh, limits, motion, smallness, stationary
from derive.proof.claims import Pair, alternatives, lower_pair, pairs, without_bare_integrals
from derive.proof.context import Context, Premise, tied_names
from derive.proof.evidence import weigh
from derive.proof.judge import at_instant, in_case, judge
from derive.proof.lowering import Meaningless, instant_key, lower
from derive.proof.setting import Case, Decision, Matter, Setting
from derive.proof.showing import shown_state
from derive.proof.support import proof_of, with_proof
from derive.proof.tape import TooLarge
from derive.proof.term import ZERO, Term, Var, mul, sub, var, variables
from derive.proof.world import TIME, World
from derive.records import Standing, Symbol, Verdict


@dataclass(frozen=True, slots=True)
class Source:
    """Where a statement stands: its line's label and number, the reason given, and the words around it."""

    label: str
    number: int
    reason: str = ""
    cites: tuple[str, ...] = ()
    words: str = ""


Outcome = tuple[tuple[Verdict, ...], Setting]


def decide(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """The verdicts on one statement (one a pair), and the setting after it."""
    if statement.claim is not None or statement.where is not None:
        setting = _seeing(statement, setting)
    try:
        verdicts, after = _ROLES[statement.role](statement, setting, source)
    except Meaningless as odd:
        span = getattr(odd.node, "span", None)
        verdicts = (Verdict(Standing.FAILS, code=odd.code, span=span, facts=(("term", as_text(odd.node)),)),)
        after = setting
    except (TooLarge, OverflowError, RecursionError, np.linalg.LinAlgError):
        verdicts, after = (Verdict(Standing.UNDECIDED, code="undecided.budget"),), setting
    return tuple(replace(v, statement=statement) for v in verdicts), after


def _seeing(statement: Statement, setting: Setting) -> Setting:
    """Learn from the statement's derivatives and differentials which names move."""
    def learn(context: Context) -> Context:
        world = context.world
        for part in (statement.claim, statement.where):
            if part is not None:
                world = _with_new_vectors(world.seeing(part), part, tied_names(context))
        return context if world == context.world else motion.settled(context.knowing(world), setting.states)

    return _everywhere(setting, learn)


def _with_new_vectors(world: World, claim: Claim, tied: set[str]) -> World:
    """`let n = r/l`: a name that is first met equal to a vector is one."""
    for pair in pairs(alternatives(claim)[0]):
        name, other = pair.left, pair.right
        if pair.sign != "=" or not isinstance(name, Name) or name.ident in world.symbols or name.ident in tied:
            continue
        try:
            whole = lower(other, world)
        except Meaningless:
            continue
        if not isinstance(whole, Term):
            symbols = {**world.symbols, name.ident: Symbol(name.ident, vector=True, declared=False)}
            world = replace(world, symbols=symbols)
    return world


def _everywhere(setting: Setting, change: Callable[..., Context]) -> Setting:
    setting = setting.within(change(setting.context))
    if setting.regime is not None:
        setting = replace(setting, regime=replace(setting.regime, context=change(setting.regime.context)))
    return setting


# --- claims -------------------------------------------------------------------------------------------------


def matter(pair: Pair, setting: Setting, source: Source, word: str = "") -> Matter:
    lowered = lower_pair(pair, setting.context.world)
    for key, time in lowered.instants:
        setting = _everywhere(setting, lambda c, k=key, t=time: c.at_instant(k, t))  # type: ignore[misc]
    known = set(setting.context.world.symbols) | tied_names(setting.context)
    if setting.regime is not None:
        known |= tied_names(setting.regime.context)
    names = names_in(pair.relation())
    new = tuple(n for n in names if n not in known and n != TIME)
    return Matter(setting, pair, lowered, source.label, source.number, source.reason, source.cites,
                  f"{source.words} {word}".strip(), new)


def _claim(statement: Statement, setting: Setting, source: Source) -> Outcome:
    if statement.claim is None:
        return (), setting
    return decide_claim(statement.claim, setting, source, statement.word)


def decide_claim(claim: Claim, setting: Setting, source: Source, word: str = "") -> Outcome:
    claim = without_bare_integrals(claim, setting.context.world)
    options = alternatives(claim)
    if len(options) > 1:
        decision = _either(claim, options, setting, source, word)
        return (replace(decision.verdict, span=claim.span),), decision.after
    verdicts = []
    for pair in pairs(options[0]):
        if isinstance(options[0], Relation):
            pair = stationary.of_chain(pair, options[0], setting.context.world)
        if pair.sign == "→":
            decision = limits.tends(pair, None, setting, source.label)
        else:
            decision = judge(matter(pair, setting, source, word))
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = _moved_on(setting, decision.after)
    if len(verdicts) > 1 and all(v.standing is Standing.FOLLOWS for v in verdicts):
        setting = _ends_joined(options[0], setting, source)
    return tuple(verdicts), setting


def _ends_joined(claim: Claim, setting: Setting, source: Source) -> Setting:
    """Of `x = ∫ … = …` that holds throughout, also that the first side is the last: later lines look for it."""
    if not isinstance(claim, Relation) or set(claim.signs) != {"="}:
        return setting
    first, last = (lower(e, setting.context.world) for e in (claim.sides[0], claim.sides[-1]))
    if not isinstance(first, Term) or not isinstance(last, Term):
        return setting
    joined = Premise(source.label, sub(first, last), "=", True, True, source.number)
    return setting.within(setting.context.adding(joined))


def _moved_on(before: Setting, after: Setting) -> Setting:
    """Where a statement has added to the context, see again what must move."""
    if after.context.premises == before.context.premises or all(
        p.implied for p in after.context.premises[len(before.context.premises):]
    ):
        return after
    return after.within(motion.settled(after.context, after.states))


def _either(claim: Claim, options: tuple[Claim, ...], setting: Setting, source: Source, word: str) -> Decision:
    """`x = ±a`, `u = 0 or u = v`: every state must satisfy at least one alternative."""
    context = setting.context
    contexts = [context] + ([setting.regime.context] if setting.regime else [])
    lowered = [[lower_pair(p, context.world) for p in pairs(o)] for o in options]
    for c in contexts:
        holds, fails, size = _any_of(lowered, c, setting)
        if size and holds.sum() >= max(4, size // 4) and not fails.any():
            return _either_follows(lowered, c, setting, source, size, c is not context)
    new = matter(next(pairs(options[0])), setting, source, word)
    loose = {v.name for v in new.unknowns} - tied_names(context) - {TIME}
    if loose:
        premise = Premise(source.label, product_of(lowered), "=", True, False, source.number)
        verdict = Verdict(Standing.TAKEN, code="taken.start", facts=(("name", ", ".join(sorted(loose))),))
        return Decision(verdict, setting.within(context.adding(premise)))
    return _either_fails(lowered, setting, source)


def _any_of(lowered: list[list[object]], context: Context, setting: Setting) -> tuple[np.ndarray, np.ndarray, int]:
    parts = [
        [(context.resolved(a), context.resolved(b), low.sign) for low in option for a, b in low.parts]  # type: ignore[attr-defined]
        for option in lowered
    ]
    cloud = setting.states.of(context, [t for option in parts for a, b, _ in option for t in (a, b)], count=80)
    holds, fails = np.zeros(cloud.size, dtype=bool), np.ones(cloud.size, dtype=bool)
    for option in parts:
        found = [weigh(a, b, sign, cloud) for a, b, sign in option]
        holds |= np.logical_and.reduce([e.holds for e in found])
        fails &= np.logical_or.reduce([e.fails for e in found])
    return holds, fails, cloud.size


def product_of(lowered: list[list[object]]) -> Term:
    """Zero exactly where one of the alternatives holds (each by its first pair)."""
    return mul(*(sub(*option[0].parts[0]) for option in lowered))  # type: ignore[attr-defined]


def _either_follows(
    lowered: list[list[object]], context: Context, setting: Setting, source: Source, size: int, approximate: bool
) -> Decision:
    product = product_of(lowered)
    single = all(len(option) == 1 for option in lowered)
    standing = Standing.APPROXIMATES if approximate else Standing.FOLLOWS
    verdict = Verdict(standing, points=size, code="approximates.order" if approximate else "follows.plain")
    certificates = proof_of(context, [(product, ZERO)], "=") if single and setting.proofs else None
    verdict = with_proof(verdict, certificates, source.cites)
    after = context.adding(Premise(source.label, product, "=", True, True, source.number)) if single else context
    if approximate and setting.regime is not None:
        return Decision(verdict, replace(setting, regime=replace(setting.regime, context=after)))
    return Decision(verdict, setting.within(after))


def _either_fails(lowered: list[list[object]], setting: Setting, source: Source) -> Decision:
    product = product_of(lowered)
    own = Premise(source.label, product, "=", True, False, source.number)
    if setting.broken:
        from derive.proof.carrying import consistent

        view = consistent(setting.context, setting.broken[-1:], setting)
        holds, fails, size = _any_of(lowered, view, setting)
        if size and holds.any() and not fails.any():
            from_line = setting.broken[-1].source
            verdict = Verdict(Standing.CARRIED, code="carried.from", facts=(("line", str(from_line)),),
                              carried_from=from_line)
            return Decision(verdict, replace(setting, broken=(*setting.broken, own)))
    left, right = lowered[0][0].parts[0]  # type: ignore[attr-defined]
    state = shown_state(setting, product, ZERO, "=")
    if state is not None:
        shown = shown_state(setting, left, right, "=")
        state = shown or state
    verdict = Verdict(Standing.FAILS if state else Standing.UNDECIDED, strength="unsupported", state=state,
                      code="fails.state" if state else "undecided.budget")
    return Decision(verdict, replace(setting, broken=(*setting.broken, own)))


# --- introductions --------------------------------------------------------------------------------------------


def _let(statement: Statement, setting: Setting, source: Source) -> Outcome:
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
            decision = _defined(m, found[0], setting)
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = _moved_on(setting, decision.after)
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
        setting = _defined(one, found[0], setting).after
    name = m.pair.left.ident
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", name),), introduces=(name,))
    return Decision(verdict, setting)


def _defined(m: Matter, v: Var, setting: Setting) -> Decision:
    verdict = Verdict(Standing.TAKEN, code="taken.definition", facts=(("name", v.name),), introduces=(v.name,))
    return Decision(verdict, _everywhere(setting, lambda c: fresh.defining(m, v, c)))


def _try(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`try y = Y cos(ω t)`: the course of y from here on, to be tried in the equations."""
    if statement.claim is None:
        return (), setting
    verdicts = []
    for pair in pairs(alternatives(statement.claim)[0]):
        m = matter(pair, setting, source)
        target = setting.regime.context if setting.regime else setting.context
        left, right = m.lowered.parts[0]
        course = motion.explicit(left.value, right, target) if left.op == "var" else None  # type: ignore[arg-type]
        if course is None:
            decision = judge(m)
            if decision.verdict.standing in (Standing.FAILS, Standing.UNDECIDED, Standing.CARRIED):
                decision = Decision(Verdict(Standing.TAKEN, code="taken.case"), _supposing(pair, setting, source))
        else:
            after = _with_course(target, left.value.name, course, m)  # type: ignore[union-attr]
            decision = Decision(
                Verdict(Standing.TAKEN, code="taken.trial", introduces=m.fresh, facts=(("name", as_text(pair.left)),)),
                replace(setting, regime=replace(setting.regime, context=after)) if setting.regime
                else setting.within(after))
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    return tuple(verdicts), _complex_if_needed(setting)


def _with_course(context: Context, name: str, course: Term, m: Matter) -> Context:
    world = context.world
    world = replace(world, functions={**world.functions, name: course})
    return context.knowing(world).adding(*m.premises(implied=True))


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


# --- cases and instants ---------------------------------------------------------------------------------------


def _suppose(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`suppose v = 0`, `v = 0 gives u = w`: the condition is supposed, the claim judged under it."""
    where = statement.where if statement.where is not None else statement.claim
    if where is None:
        return (), setting
    case = _case_of(where, setting, source)
    if statement.where is not None and statement.claim is not None:
        case = replace(case, line=source.number)
    opened = replace(setting, cases=(*setting.cases, case)[-6:])
    if statement.where is None or statement.claim is None:
        if not _can_be(case, setting):
            return decide_claim(where, setting, source, statement.word)
        return (Verdict(Standing.TAKEN, code="taken.case", span=where.span),), opened
    options = alternatives(statement.claim)
    if len(options) > 1:
        return decide_claim(statement.claim, opened, source, "under")
    verdicts = []
    for pair in pairs(options[0]):
        decision = _under(pair, where, case, opened, source)
        verdicts.append(replace(decision.verdict, span=pair.span))
        opened = decision.after
    return tuple(verdicts), opened


def _can_be(case: Case, setting: Setting) -> bool:
    """Is there a state in which the case holds? One that can't be is a claim like any other, and false."""
    context = setting.context
    return not setting.states.any(context).size or bool(
        setting.states.any(context.loosened(case.loose), case.premises).size)


def _case_of(where: Claim, setting: Setting, source: Source) -> Case:
    """A condition as premises. One that leaves a declared range, or holds at its end, loosens it for the case."""
    premises = []
    names: set[str] = set()
    for pair in pairs(alternatives(where)[0]):
        for a, b in lower_pair(pair, setting.context.world).parts:
            premises.append(Premise(as_text(pair.relation()), sub(a, b), pair.sign, False, False, source.number))
            names |= {v.name for v in variables(a, b)}
    case = Case(as_text(where), premises=tuple(premises))
    if setting.states.any(setting.context, premises).size:
        return case
    declared = setting.context.world.symbols
    bounded = frozenset(n for n in names if n in declared and (declared[n].bounds or declared[n].sign != "real"))
    for loose in (*(frozenset((n,)) for n in sorted(bounded)), bounded):
        if setting.states.any(setting.context.loosened(loose), premises).size:
            return replace(case, loose=loose)
    return replace(case, loose=bounded)


def inside_case(where: Claim, setting: Setting, source: Source) -> Setting:
    """The setting in which a condition holds outright: what is said of the case is there said of everything."""
    case = _case_of(where, setting, source)
    return replace(setting.within(setting.context.loosened(case.loose).adding(*case.premises)), cases=())


def _under(pair: Pair, where: Claim, case: Case, setting: Setting, source: Source) -> Decision:
    """A claim said of a case on its own line: decided in the case; where nothing is left there, as a limit."""
    if pair.sign == "→":
        return limits.tends(pair, where, setting, source.label)
    m = matter(pair, setting, source, "under")
    decision = in_case(m, case)
    if decision is not None:
        return decision
    context = setting.context.loosened(case.loose)
    if not setting.states.of(context, sum(m.lowered.parts, ()), case.premises).size:
        limit = limits.tends(pair, where, setting, source.label)
        if limit.verdict.standing in (Standing.FOLLOWS, Standing.FAILS):
            return limit
        return judge(m)
    inside = setting.within(context.adding(*case.premises))
    decision = judge(matter(pair, replace(inside, cases=()), source, "under"))
    if decision.verdict.standing is Standing.TAKEN:
        return judge(m)
    if decision.verdict.standing is Standing.FAILS:
        own = m.premises(implied=False)
        return Decision(decision.verdict, replace(setting, broken=(*setting.broken, *case.premises, *own)))
    return Decision(decision.verdict, setting)


def _supposing(pair: Pair, setting: Setting, source: Source) -> Setting:
    return replace(setting, cases=(*setting.cases, _case_of(pair.relation(), setting, source))[-6:])


def said_at_instant(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`at t = 0: y = y0`, `v = 0 at x = 0`, `at the top: v = 0`: said of one instant."""
    instant = instant_of(statement.where, setting)
    if statement.claim is statement.where:  # `at the best angle, dR/dα = 0`: the condition alone
        statement = replace(statement, claim=None)
    if isinstance(statement.where, Relation) and set("→≪≫") & set(statement.where.signs):
        return _limit(statement, setting, source)
    if instant is None and isinstance(statement.where, Both):
        return _said_under_all(statement, setting, source)
    if instant is None:
        return _suppose(statement, setting, source)
    key, time = instant
    setting = _everywhere(setting, lambda c: c.at_instant(key, time))
    words = as_text(statement.where)  # type: ignore[arg-type]
    if statement.claim is None:
        opened = replace(setting, cases=(*setting.cases, Case(words, key=key))[-6:])
        return (Verdict(Standing.TAKEN, code="taken.case"),), opened
    verdicts = []
    for pair in pairs(alternatives(statement.claim)[0]):
        decision = _said_at(matter(pair, setting, source, "at"), Case(words, key=key), setting)
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    return tuple(verdicts), replace(setting, cases=(*setting.cases, Case(words, key=key))[-6:])


def _said_under_all(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`at t = 0 and x = 0: v = u`: where one of the conditions names an instant, the others are said of it."""
    assert isinstance(statement.where, Both)
    named = [w for w in statement.where.parts if instant_of(w, setting) is not None]
    if not named or statement.claim is None:
        return _suppose(statement, setting, source)
    others = tuple(w for w in statement.where.parts if w is not named[0])
    claim = Both((*others, statement.claim), span=statement.claim.span)
    return said_at_instant(replace(statement, claim=claim, where=named[0]), setting, source)


def instant_of(where: Claim | None, setting: Setting) -> tuple[str, Term] | None:
    """The key and value of `t = 0`, `x = L` for a name that changes; None for any other condition."""
    if not isinstance(where, Relation) or where.signs != ("=",) or not isinstance(where.sides[0], Name):
        return None
    world = setting.context.world
    v = Var(where.sides[0].ident)
    value = lower(where.sides[1], world)
    runs = world.is_changing(v) or v.name in world.fields.values()
    if not runs or not isinstance(value, Term):
        return None
    return instant_key(v, value), value


def _said_at(m: Matter, case: Case, setting: Setting) -> Decision:
    """Does the pair hold at the instant? If nothing says so and it gives moving names a value, it is taken."""
    decision = in_case(m, case)
    if decision is None and setting.regime is not None:
        inner = replace(m, setting=setting.within(setting.regime.context))
        found = in_case(inner, case)
        if found is not None:
            after = replace(setting, regime=replace(setting.regime, context=found.after.context))
            return Decision(found.verdict, after)
    if decision is not None:
        return decision
    moves = any(setting.context.world.is_changing(v) for v in m.unknowns)
    if not moves:
        return judge(m)
    placed = at_instant(m, case.key)
    premises = tuple(replace(p, always=False) for p in placed.premises(implied=False, kind="instant"))
    target = setting.regime.context if setting.regime else setting.context
    free = [v for v in placed.unknowns if v.at]
    if not free or not setting.states.of(target, (), premises).size:
        return judge(placed)
    verdict = Verdict(Standing.TAKEN, code="taken.initial", facts=(("case", case.words),))
    return Decision(verdict, _everywhere(setting, lambda c: c.adding(*premises)))


# --- the rest ---------------------------------------------------------------------------------------------------


def _regime(statement: Statement, setting: Setting, source: Source) -> Outcome:
    opened = smallness.opened(setting, statement)
    if statement.claim is None or _only_says_small(statement):
        facts = (("name", opened.regime.words),) if opened.regime else ()
        return (Verdict(Standing.TAKEN, code="taken.regime", facts=facts),), opened
    if statement.small and isinstance(statement.claim, Relation) and statement.claim.signs == ("→",):
        where = Relation((statement.small[0], Num(Fraction(0))), ("→",), span=statement.span)
        return _limit(replace(statement, where=where), setting, source)
    return decide_claim(statement.claim, opened, source)


def _only_says_small(statement: Statement) -> bool:
    claim = statement.claim
    return isinstance(claim, Relation) and all(s in "≪≫" for s in claim.signs)


def _limit(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`as m → ∞: a → g`."""
    if statement.claim is None:
        return (Verdict(Standing.TAKEN, code="taken.case"),), setting
    where = statement.where if statement.where is not None else _large_in(source.words, setting)
    verdicts = []
    for pair in pairs(alternatives(statement.claim)[0]):
        decision = limits.tends(pair, where, setting, source.label)
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    return tuple(verdicts), setting


def _large_in(words: str, setting: Setting) -> Claim | None:
    """`for large m: …`: the words say what runs, and that it runs off."""
    found = words.split()
    if len(found) < 2 or found[-2].lower() != "large" or canonical(found[-1]) not in setting.context.world.symbols:
        return None
    return Relation((Name(canonical(found[-1])), Constant("∞")), ("→",))


def _range(statement: Statement, setting: Setting, source: Source) -> Outcome:
    return (Verdict(Standing.TAKEN, code="taken.case"),), setting


_ROLES: dict[str, Callable[[Statement, Setting, Source], Outcome]] = {
    "claim": _claim, "let": _let, "try": _try, "suppose": _suppose, "at": said_at_instant, "regime": _regime, "limit": _limit,
    "range": _range, "operation": _claim,
}

__all__ = ["Either", "Source", "decide", "decide_claim", "matter", "var"]
