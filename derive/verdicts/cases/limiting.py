"""Limits that a line says: `as m → ∞: a → g`, `M ≫ m: v → u`, `for large m: …`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Name, Num, Relation, Statement, names_in
from derive.records import Standing, Verdict
from derive.states.context import Premise, given_by_time, tied_names
from derive.states.said import Outcome, Source, matter
from derive.states.setting import Decision, Limit, Matter, Setting, claimed
from derive.steps.breaks import carrying
from derive.steps.compared.scaling import scaled
from derive.steps.limiting import limits
from derive.steps.limiting.running import Run, run_of, written_out
from derive.terms.claims import Pair, alternatives, pairs
from derive.terms.lowering import INFINITY, lower
from derive.terms.term import ZERO, Term, Var, sub, substitute, var, variables
from derive.terms.world import TIME
from derive.terms.writing import is_negative
from derive.verdicts.in_words.dying_out import IN_THE_LONG_RUN, settles
from derive.verdicts.in_words.spoken import spoken_limit
from derive.verdicts.pairs.judge import judge


def limit_of(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`as m → ∞: a → g`."""
    if statement.claim is None:
        return (Verdict(Standing.TAKEN, code="taken.case"),), setting
    where = statement.where or spoken_limit(source.words, statement.claim, setting) or _small_in(setting) or (
        (_next_above(setting, source) or _in_the_end(statement.claim, setting)) if not source.words else None)
    unknown = _unknown_in(where, setting)
    if unknown:
        return (Verdict(Standing.UNDECIDED, code="unknown.name", facts=(("name", unknown),)),), setting
    verdicts = []
    options = alternatives(statement.claim)
    if len(options) > 1:
        return (_tends_to_one(options, where, setting, source),), setting
    for k, pair in enumerate(pairs(options[0])):
        decision = (
            _worked_out(pair, where, setting, source) if k else None) or (
            _limit_named(pair, where, setting, source) or _limit_said_first(pair, where, setting)
            or tends_to(pair, where, setting, source))
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    return tuple(verdicts), setting


def _worked_out(pair: Pair, where: Claim | None, setting: Setting, source: Source) -> Decision | None:
    """The `F/k = 500/100 = 5 m/s` of `terminal: v = F/k = 500/100 = 5 m/s`: nothing there runs anywhere."""
    spoken = set(names_in(pair.relation()))
    runs = TIME in spoken or not spoken.isdisjoint(names_in(where) if where is not None else ())
    changing = any(setting.context.world.is_changing(Var(n)) for n in spoken)
    if runs or changing or pair.sign not in ("=", "≈") or names_in(pair.right):
        return None
    return judge(matter(pair, setting, source))


def _in_the_end(claim: Claim, setting: Setting) -> Relation | None:
    """t → ∞ for `v → F0 τ/m` below a v by t, where nobody says of what else."""
    if not isinstance(claim, Relation) or claim.signs != ("→",) or not isinstance(claim.sides[0], Name):
        return None
    name, there = claim.sides[0].ident, {*names_in(claim.sides[1])}
    plain = not there & {TIME, name} and there <= tied_names(setting.context)
    world = setting.context.world
    course = world.functions.get(name, world.definitions.get(name)) if plain else None
    ends = course is not None and Var(name) in given_by_time(setting.context) and settles(course)
    return IN_THE_LONG_RUN if ends else None


def _unknown_in(where: Claim | None, setting: Setting) -> str:
    """The M of `M → 0`, where names are declared and it is not."""
    known = {*setting.context.world.symbols, *tied_names(setting.context), TIME}
    declared = setting.strict and any(s.declared for s in setting.context.world.symbols.values())
    return next((n for n in names_in(where) if n not in known), "") if declared and where is not None else ""


_NEXT = 2  # lines below: an empty one may stand between


def _next_above(setting: Setting, source: Source) -> Claim | None:
    """M → 0, for `T1 → 2 m1 m2 g/(m1 + m2)` next below `M → 0: a → …`."""
    last = max((*setting.ends, *setting.limits), key=lambda x: x.source, default=None)
    return last.where if last is not None and last.source < source.number <= last.source + _NEXT else None


def still_in_its_limit(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`and T1 = T2` next below `for M → 0: a = …`, which does not speak of M: said of that limit too. (Without givens
    see `gone_on_in_limit`.)"""
    claim, where = statement.claim, _next_above(setting, source)
    goes_on = "and" in (statement.word.lower().strip(", "), *source.words.lower().split()[:1])
    said_here = where is not None and statement.where is None and setting.strict and goes_on
    run = run_of(where, setting.context) if said_here else None
    if run is None or not isinstance(claim, Relation) or run.variable.name in names_in(claim) or set(
            claim.signs) - {"=", "≈", "→"}:
        return None
    verdicts, after = limit_of(replace(statement, where=where), setting, source)
    return (verdicts, after) if all(v.standing is Standing.FOLLOWS for v in verdicts) else None


def _small_in(setting: Setting) -> Claim | None:
    """m → 0, for `M ≫ m: v → u`."""
    small = setting.regime.small if setting.regime is not None else ()
    return Relation((Name(small[0].name), Num(Fraction(0))), ("→",)) if len(small) == 1 and not small[0].at else None


# Best first: what a reader would hold to of several readings.
_PREFERRED = (
    Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES, Standing.CARRIED, Standing.TAKEN,
    Standing.UNDECIDED, Standing.FAILS, Standing.REMARK, Standing.UNREADABLE)


def _tends_to_one(options: Sequence[Claim], where: Claim | None, setting: Setting, source: Source) -> Verdict:
    """`as t → ∞: v → ±u`: what is best of the alternatives, each whole. Nothing is kept for later lines."""
    found = [[tends_to(p, where, setting, source).verdict for p in pairs(o)] for o in options]
    worst = [max(verdicts, key=lambda v: _PREFERRED.index(v.standing)) for verdicts in found]
    return min(worst, key=lambda v: _PREFERRED.index(v.standing))


def _limit_said_first(pair: Pair, where: Claim | None, setting: Setting) -> Decision | None:
    """`as t → ∞, v → m g/b` in a working without givens that has said nothing of v yet: kept for the lines below."""
    name = pair.left.ident if isinstance(pair.left, Name) else ""
    if setting.strict or where is None or not name or name in {*names_in(where), *tied_names(setting.context)}:
        return None
    after = limits.with_given_limit(pair.relation(), where, setting)
    return Decision(Verdict(Standing.TAKEN, code="taken.case", span=pair.span), after)


_MOST_NAMED = 4  # quantities that a new name may be the limit of


def _limit_named(pair: Pair, where: Claim | None, setting: Setting, source: Source) -> Decision | None:
    """`t → ∞: D = m u/b`: a name that nobody has met is what one of the quantities goes to. None where there is none
    that goes there, unless its dimension leaves only one to be meant."""
    world, run = setting.context.world, run_of(where, setting.context)
    name = pair.left.ident if isinstance(pair.left, Name) else ""
    if not name or run is None or pair.sign not in ("=", "→") or world.is_changing(Var(name)) or name in {
            *names_in(where), *names_in(pair.right), *tied_names(setting.context),
            *(v.name for x in setting.limits for v in variables(x.value))}:
        return None
    meant = _changing_with(run.variable, name, setting)[:_MOST_NAMED]
    found = [(tends_to(replace(pair, left=Name(n), sign="→"), where, setting, source), n) for n in meant]
    decision = next((d for d, _ in found if d.verdict.standing in (Standing.FOLLOWS, Standing.FOLLOWS_IF)), None)
    declared = name in world.symbols and world.symbols[name].dimension is not None
    if decision is None:
        alone = found[0][0] if len(found) == 1 and declared else None
        return alone if alone is not None and alone.verdict.standing is Standing.FAILS else None
    said = matter(pair, setting, source).premises(implied=False)
    after = decision.after.within(decision.after.context.adding(*said))
    return Decision(replace(decision.verdict, introduces=(name,)), after)


def _changing_with(variable: Var, name: str, setting: Setting) -> list[str]:
    """What a page says of how it goes with a variable, and could come to what a name means by their dimensions: that
    whose letter the name begins with first."""
    context = setting.context
    world, tied = context.world, tied_names(context)
    stem, symbol = name.partition("_")[0], world.symbols.get(name)

    def fits(other: str) -> bool:
        known = world.symbols.get(other)
        dimensions = [s.dimension for s in (symbol, known) if s is not None and s.declared]
        return len(dimensions) < 2 or None in dimensions or dimensions[0] == dimensions[1]

    along = [n for n in sorted(tied) if Var(n) != variable and world.variable_of(n) == variable.name and fits(n)]
    return sorted(along, key=lambda n: n != stem)


def tends_to(pair: Pair, where: Claim | None, setting: Setting, source: Source) -> Decision:
    """A limit of what the page says; failing that, of what the writer's own broken lines say."""
    decision = scaled(pair, where, setting) or limits.tends(pair, where, setting, source)
    if decision.verdict.standing in (Standing.FAILS, Standing.UNDECIDED, Standing.FOLLOWS_IF):
        decision = _in_what_is_supposed(pair, where, setting, source, decision)
    if decision.verdict.standing not in (Standing.FAILS, Standing.UNDECIDED) or not setting.broken:
        return decision

    def rule(inside: Matter) -> Decision:
        return scaled(pair, where, inside.setting) or limits.tends(pair, where, inside.setting, source)

    return carrying.carried(matter(pair, setting, source, "under"), (rule,)) or decision


def _in_what_is_supposed(
    pair: Pair, where: Claim | None, setting: Setting, source: Source, outside: Decision
) -> Decision:
    """`m ≪ M: v → -u` in the case V ≠ 0 that the page goes on with: elsewhere nothing goes there. So in one that a line
    above was said for and that has not been left (`dw/dm = 0: m = √(m1 m3)`, then `m3 → 0: w → 4 u`)."""
    there = setting.in_open_case(source.number) if setting.cases else None
    found = limits.tends(pair, where, replace(there, cases=()), source) if there is not None else None
    decided = (Standing.FOLLOWS,) if outside.verdict.standing is Standing.FAILS else (Standing.FOLLOWS, Standing.FAILS)
    if found is not None and found.verdict.standing in decided:
        return replace(found, after=setting)
    beside = [c for c in setting.cases if c.premises and c.line and not c.left]
    for case in beside[:-_MOST_BESIDE - 1:-1]:
        context = case.loosening(setting.context).adding(*case.premises)
        found = limits.tends(pair, where, replace(setting.within(context), cases=()), source)
        if found.verdict.standing is Standing.FOLLOWS:
            return replace(found, after=setting)
    return outside


_MOST_BESIDE = 3  # cases in which a limit is looked for


Role = Callable[[Statement, Setting, Source], Outcome]


def gone_on_in_limit(statement: Statement, setting: Setting, source: Source, role: Role) -> Outcome | None:
    """`at r = R: v = √(2 G M/R)` below `r0 → ∞: v² = 2 G M/r`: said of the limit, where nothing is told of the variable
    that runs, nor of a place that is given by it. With givens a limit says nothing of other states."""
    said = (*setting.limits, *setting.ends) if not setting.strict else ()
    run = run_of(said[-1].where, setting.context) if said else None
    if run is None or run.whole is not None or run.variable.name == TIME:
        return None
    context, where = setting.context, said[-1].where
    gone = {key for key, time in context.instants if time is not None and run.variable in variables(time)}
    kept = tuple(p for p in context.premises if not any(
        v == run.variable or v.at in gone for v in variables(p.term)))
    reached = tuple(
        Premise(claimed(where), sub(x.quantity, x.value), "=") for x in said
        if x.under(where) and x.value is not INFINITY and run.variable not in variables(x.value))
    spoken = names_in(statement.claim) if statement.claim is not None else ()
    if not reached or len(kept) == len(context.premises) or run.variable.name in spoken:
        return None
    instants = tuple(one for one in context.instants if one[0] not in gone)
    inside = replace(context, premises=(*kept, *reached), instants=instants)
    there = replace(setting.within(inside), limits=(), ends=(), broken=())
    verdicts, after = role(statement, there, source)
    found = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES)
    if not all(v.standing in found or v.code == "taken.value" for v in verdicts):
        return None
    for key, time in after.context.instants:
        context = context.at_instant(key, time)
    new = [p for p in after.context.premises if p not in inside.premises and p.sign == "="]
    drawn = (p.sides for p in new if p.kind != "value")
    ends = (*setting.ends, *(Limit(where, *sides) for sides in drawn if sides is not None))
    context = context.adding(*(p for p in new if p.kind == "value"))
    return verdicts, replace(setting.within(context), cases=after.cases, ends=ends)


def value_of_a_limit(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`x = 100 m` below `t → ∞: x = m u/c` and the values that go into it: what was said of x last is where it goes.
    Where one of these is not told, the number tells it."""
    claim = statement.claim
    if statement.where is not None or not isinstance(claim, Relation) or not set(claim.signs) <= {"=", "≈"} or any(
            c.isdigit() for c in source.words):
        return None
    said = _said_last(claim, setting)
    if said is None or lower(claim.sides[0], setting.context.world) is not said.quantity or names_in(claim.sides[-1]):
        return None
    verdicts = []
    for pair in pairs(claim):
        m = matter(pair, setting, source)
        there = tuple((substitute(a, {said.quantity: said.value}), b) for a, b in m.lowered.parts)
        decision = judge(replace(m, lowered=replace(m.lowered, parts=there)))
        if decision.verdict.strength == "unsupported" and not names_in(pair.right):
            told = (
                Premise(source.label, sub(said.value, b), "=", False, source=source.number, kind="value")
                for _, b in there)
            taken = Verdict(Standing.TAKEN, code="taken.put_in", facts=(("values", as_text(claim)),))
            decision = Decision(taken, setting.within(setting.context.adding(*told)))
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    return tuple(verdicts), setting


def gone_on_at_its_limit(statement: Statement, setting: Setting, source: Source, role: Role) -> Outcome | None:
    """`c = m g/v` below `t → ∞: v = m g/c` and `v = 50 m/s`: v is still what it goes to."""
    claim = statement.claim
    said = _said_last(claim, setting) if statement.where is None else None
    if said is None or claim is None or not (_in_the_long_run(said, setting) or _is_valued(said, setting)):
        return None
    moves = {v.name for v in variables(said.quantity)}
    kept = (p for p in setting.context.premises if moves.isdisjoint(v.name for v in variables(p.term)))
    reached = Premise(claimed(said.where), sub(said.quantity, said.value), "=")
    world = setting.context.world
    world = replace(
        world, moving=world.moving - moves, functions={k: t for k, t in world.functions.items() if k not in moves},
        definitions={k: t for k, t in world.definitions.items() if k not in moves})
    inside = replace(setting.context, premises=(*kept, reached), world=world)
    verdicts, after = role(statement, replace(setting.within(inside), limits=(), ends=()), source)
    if not verdicts or verdicts[0].standing not in (Standing.FOLLOWS, Standing.APPROXIMATES):
        return None
    if any(v.standing is Standing.UNDECIDED for v in verdicts):
        return None
    setting = replace(setting, broken=after.broken)
    told = (p for k, pair in zip(verdicts, pairs(claim), strict=False) if k.code == "taken.value"
            for p in matter(pair, setting, source).premises(implied=False, kind="value"))
    return verdicts, setting.within(setting.context.adding(*told))


def _in_the_long_run(said: Limit, setting: Setting) -> bool:
    run = run_of(said.where, setting.context)
    return run is not None and run.variable.name == TIME


def _is_valued(said: Limit, setting: Setting) -> bool:
    """Has a number been told of it since?"""
    told = [{*variables(p.term)} for p in setting.context.premises if p.source > said.source]
    return {*variables(said.quantity)} in told or {*variables(said.value)} in told


def _said_last(claim: Claim | None, setting: Setting) -> Limit | None:
    """The limit of what a claim names, where only values have been told since, and none of what runs."""
    named = {var(Var(n)) for n in names_in(claim)} if isinstance(claim, Relation) else set()
    said = [x for x in (*setting.ends, *setting.limits) if x.quantity in named and x.value is not INFINITY]
    last = max(said, key=lambda x: x.source, default=None)
    run = run_of(last.where, setting.context) if last is not None else None
    if last is None or run is None or any(c.opened > last.source for c in setting.cases):
        return None
    since = [p for p in setting.context.premises if p.source > last.source]
    told = all(p.kind in ("value", "start") and run.variable not in variables(p.term) for p in since)
    return last if told else None


def never_comes(where: Claim | None, setting: Setting) -> bool:
    """`stops at v = 0: x = m u/b` below `v = u e^(-b t/m)`: it goes there, and at no moment is it there."""
    if not isinstance(where, Relation) or not isinstance(where.sides[0], Name):
        return False
    context, name = setting.context, where.sides[0].ident
    if lower(where.sides[1], context.world) is not ZERO or context.world.variable_of(name) != TIME:
        return False
    late = Run(Var(TIME), None, 1)
    return _dies_out(written_out(context.resolved(var(Var(name))), late, context))


def _dies_out(course: Term) -> bool:
    """Is a course a product with time in exponents or below the line alone: `u e^(-b t/m)`, `u/(1 + k t)`?"""
    timely = [f for f in (course.args if course.op == "mul" else (course,)) if Var(TIME) in variables(f)]
    return bool(timely) and all(
        (f.op == "fun" and f.value == "exp") or (f.op == "pow" and is_negative(f.args[1])) for f in timely)


def late_in_a_regime(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """`v ≈ w` below `t ≫ τ: …` of a v that goes by e^(-t/τ), to which no powers of τ come."""
    off = any(v.standing in (Standing.FAILS, Standing.UNDECIDED) for v in verdicts)
    return in_the_end_of_it(statement, setting, source) if off and statement.role == "claim" else None


def in_the_end_of_it(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`t ≫ τ: x ≈ w (t - τ)`, where that is what x comes to in the long run."""
    claim, regime = statement.claim, setting.regime
    if regime is None or not regime.late or not isinstance(claim, Relation) or claim.signs not in (("≈",), ("=",)):
        return None
    said = replace(
        statement, role="limit", where=IN_THE_LONG_RUN, claim=replace(claim, signs=("→",)), small=())
    found, _ = limit_of(said, replace(setting, regime=None), source)
    return (found, setting) if all(v.standing is Standing.FOLLOWS for v in found) else None


def gone_on_late(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`so x = D cos(Ω t - δ)` next below `as t → ∞, x_h → 0`: what x comes to in the long run."""
    claim = statement.claim
    said = [x for x in setting.limits if x.source == source.number - 1 and _in_the_long_run(x, setting)]
    if statement.role != "claim" or not said or not isinstance(claim, Relation) or claim.signs not in (("≈",), ("=",)):
        return None
    late = replace(statement, role="limit", where=said[-1].where, claim=replace(claim, signs=("→",)))
    found, _ = limit_of(late, setting, source)
    return (found, setting) if all(v.standing is Standing.FOLLOWS for v in found) else None
