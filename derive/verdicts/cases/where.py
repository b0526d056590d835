"""Cases and named instants: what is said where something else holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Both, Claim, Constant, Name, Relation, Statement, is_zero, names_in
from derive.readings import gives_a_value
from derive.records import Standing, Verdict
from derive.states.context import Premise, tied_names
from derive.states.said import Outcome, Source, everywhere, matter
from derive.states.setting import Case, Decision, Matter, Setting
from derive.states.states import freedom
from derive.steps.letters import valued
from derive.terms.claims import Pair, alternatives, pairs
from derive.terms.term import ZERO, Term, Var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.changed_since import changed_since
from derive.verdicts.cases.giving_way import without
from derive.verdicts.cases.in_its_case import decided_under
from derive.verdicts.cases.instants import (
    hangs_on_its_place,
    instant_of,
    runs_along,
    timed,
    with_its_place,
    with_its_time,
)
from derive.verdicts.cases.limiting import limit_of, never_comes
from derive.verdicts.cases.moments_told import of_each_moment, rounded_then
from derive.verdicts.cases.places_told import law_of_a_place
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.claims.on_the_way import led_on_by
from derive.verdicts.claims.suppositions import (
    can_be,
    case_of,
    denied,
    gives_values,
    inside_case,
)
from derive.verdicts.pairs.judge import judge
from derive.verdicts.pairs.moments_found import one_of_the_moments
from derive.verdicts.pairs.named_then import value_then
from derive.verdicts.pairs.open_cases import in_case
from derive.verdicts.pairs.refuting import off_its_course
from derive.verdicts.pairs.said_there import at_instant


def supposed(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`suppose v = 0`, `v = 0 gives u = w`: the condition is supposed, the claim judged under it."""
    where = statement.where if statement.where is not None else statement.claim
    if where is None:
        return (), setting
    if statement.where is not None and isinstance(where, Relation) and where.signs == ("≈",) and all(
        isinstance(side, Name) for side in where.sides
    ):  # `for m ≈ M: T ≈ m g`, which the lines below may go on with as with a case
        found, after = limit_of(replace(statement, where=replace(where, signs=("→",))), setting, source)
        met = replace(case_of(replace(where, signs=("=",)), setting, source), line=source.number, where=where)
        return found, after.opening(met) if all(v.standing is Standing.FOLLOWS for v in found) else after
    known = _known_already(where, setting, source)
    if known is not None and statement.where is not None and statement.claim is not None:
        return decide_claim(statement.claim, known, source, statement.word)
    case = case_of(where, setting, source)
    if statement.where is not None and statement.claim is not None:
        case = replace(case, line=source.number, where=where)
    setting = _without_what_others_gave(setting, case)
    opened = setting.opening(case)
    if statement.where is None or statement.claim is None:
        if source.words.lower().split()[-1:] == ["only"]:  # `it leaves the spring only if k d > 2 m g`
            needed, after = decide_claim(where, setting, source, statement.word)
            if all(v.standing is Standing.FOLLOWS for v in needed) or denied(where, setting, source):
                return needed, after
        if known is None and source.words and not can_be(case, setting):
            # `it would stop if F0 < 2 μ m g` is so, although for these values it does not.
            return (Verdict(Standing.TAKEN, code="taken.case", span=where.span),), setting
        if known is not None or not can_be(case, setting):
            return decide_claim(where, setting, source, statement.word)
        return (Verdict(Standing.TAKEN, code="taken.case", span=where.span),), opened
    options = alternatives(statement.claim)
    if len(options) > 1:
        return _alternatives_under(statement.claim, where, opened, source)
    verdicts, before = [], [opened]
    for pair in pairs(options[0]):
        decision = decided_under(pair, where, case, opened, source)
        verdicts.append(replace(decision.verdict, span=pair.span))
        opened = decision.after
        before.append(opened)
    led = led_on_by(options[0], verdicts, lambda k, whole: decided_under(whole, where, case, before[k], source))
    off = _off_anyway(statement, verdicts, setting, source) if where.span is None else None
    return off or led or (tuple(verdicts), opened)


def _off_anyway(
    statement: Statement, verdicts: Sequence[Verdict], setting: Setting, source: Source
) -> Outcome | None:
    """Words alone that name a case (`constant speed: N = 697 N`) are no reason to take a number that is off."""
    if statement.claim is None or not verdicts or any(v.code != "taken.value" for v in verdicts):
        return None
    anywhere = decide_claim(statement.claim, setting, source, statement.word)
    return anywhere if all(v.code == "fails.number" for v in anywhere[0]) else None


def _without_what_others_gave(setting: Setting, case: Case) -> Setting:
    """Below `if a = 2: s = t²`, which nothing supports, `if a = 3: s = 1.5 t²`: neither holds in the other's case. What
    speaks of an a itself (`F = m a`) holds in both."""
    told = case.given()
    others = [c for c in setting.cases if any(told.get(n, value) != value for n, value in c.given().items())]
    gone = [p for p in setting.context.premises if p.kind in _BROUGHT_IN and any(
        _said_in(p, c) and c.given().keys().isdisjoint(v.name for v in variables(p.term)) for c in others)]
    return setting.within(without(setting.context, gone)) if gone else setting


def _said_in(p: Premise, case: Case) -> bool:
    """Was it said in a case: on its line, or below one that is open?"""
    opened = next((q.source for q in case.premises), 0)
    return p.source == case.line if case.line else 0 < opened <= p.source


def _known_already(where: Claim, setting: Setting, source: Source) -> Setting | None:
    """The setting with a condition that is none: `v = 0 ⇒ …` may say what has been found."""
    if not isinstance(where, Relation) or set(where.signs) != {"="}:
        return None  # a bound that the states met keep to may be that of the case
    asked, _ = decide_claim(where, replace(setting.asking(), cases=()), source)
    if not all(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in asked):
        return None
    return decide_claim(where, setting, source)[1]


def _alternatives_under(claim: Claim, where: Claim, setting: Setting, source: Source) -> Outcome:
    """`dU/dx = 0 gives x = 0 or x = ±√(b/a)`: one of the alternatives holds wherever the condition does."""
    inside = inside_case(where, setting, source)
    verdicts, after = decide_claim(claim, inside, source, "under")
    if all(v.standing in (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES) for v in verdicts):
        facts = (("case", as_text(where)),)
        said = tuple(
            replace(v, code="follows.in_case", facts=facts) if v.standing is Standing.FOLLOWS else v for v in verdicts)
        return said, setting
    anywhere, after_all = decide_claim(claim, setting, source, "under")
    unsupported = any(v.standing in (Standing.FAILS, Standing.TAKEN) for v in anywhere)
    if unsupported and any(v.standing is Standing.FAILS for v in verdicts):
        return verdicts, replace(setting, broken=after.broken)
    return anywhere, after_all


# What a line gave of its own, as no line above supports it.
_BROUGHT_IN = frozenset(("start", "definition", "value"))
_NEXT = 2  # lines below: an empty one may stand between


def gone_on_with(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`and M = 628 kN m`, a value in numbers, next below `H = 4 m, b = 6 m: F = 471 kN`: said for the same values."""
    case = setting.cases[-1] if setting.cases else None
    if case is None or not (gives_values(case.where) or (case.where and case.anew)) or not (
            case.line < source.number <= case.line + _NEXT):
        return None
    number = isinstance(statement.claim, Relation) and not names_in(replace(  # `N2/N1 = 3.7` too
        statement.claim, sides=statement.claim.sides[-1:], signs=()))
    if not number and statement.word.lower().strip(", ") not in ("and", "also"):
        return None
    verdicts, after = supposed(replace(statement, role="suppose", where=case.where), setting, source)
    # `loses contact: N = 0` need not be said for them.
    plain = number and not source.words
    found = (Standing.FOLLOWS, Standing.APPROXIMATES, *((Standing.FAILS,) if plain else ()))
    said = tuple(_in_the_case(v, case) for v in verdicts)
    return (said, after) if all(v.standing in found for v in verdicts) else None


def _in_the_case(v: Verdict, case: Case) -> Verdict:
    """A number that is right in a case says so: the page goes on with it."""
    named = v.standing is not Standing.APPROXIMATES or "case" in dict(v.facts)
    return v if named else replace(v, facts=(*v.facts, ("case", case.words)))


def supposing(pair: Pair, setting: Setting, source: Source) -> Setting:
    return setting.opening(case_of(pair.relation(), setting, source))


def said_at_instant(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`at t = 0: y = y0`, `v = 0 at x = 0`, `at the top: v = 0`: said of one instant."""
    found = _said_at_instant(statement, setting, source)
    standings = {v.standing for v in found[0]}
    if Standing.APPROXIMATES in standings and len(standings) == 1:
        return found
    each = of_each_moment(statement, setting, source, _said_at_instant)
    if each is not None:
        return each
    if Standing.FAILS not in standings:
        return found
    return rounded_then(statement, setting, source) or changed_since(statement, setting, source) or found


def _said_at_instant(statement: Statement, setting: Setting, source: Source) -> Outcome:
    if statement.claim is not statement.where:
        statement = replace(
            statement, where=_by_its_root(statement.where, setting), claim=_by_its_root(statement.claim, setting))
    if statement.claim is not None and statement.claim is not statement.where:
        statement = replace(statement, where=timed(statement.where, setting))
    instant = instant_of(statement.where, setting)
    if statement.claim is statement.where:  # `at the best angle, dR/dα = 0`: the condition alone
        statement = replace(statement, claim=None)
    if isinstance(statement.where, Relation) and set("→≪≫") & set(statement.where.signs):
        return limit_of(statement, setting, source)
    if instant is None and statement.claim is not None and valued.named_place(statement.where, setting):
        return _said_of_named_place(statement, setting, source)
    if instant is None and isinstance(statement.where, Both):
        return _said_under_all(statement, setting, source)
    if instant is None:
        return law_of_a_place(statement, setting, source) or supposed(statement, setting, source)
    if statement.claim is not None and (
        len(alternatives(statement.claim)) > 1  # one of several says nothing for certain of the instant
        or with_its_place(statement.where, statement.claim, setting)
        or hangs_on_its_place(statement.where, statement.claim, setting)
    ):
        return supposed(statement, setting, source)
    if _says_how_it_goes(statement, setting):
        return supposed(statement, setting, source)
    if never_comes(statement.where, setting):
        late = Relation((Name(TIME), Constant("∞")), ("→",), span=statement.where.span if statement.where else None)
        return limit_of(replace(statement, where=late), setting, source)
    return _at_the_moment(statement, setting, source, instant)


def _by_its_root(claim: Claim | None, setting: Setting) -> Claim | None:
    """`u = 0` of a u that is short for v²: v = 0."""
    if isinstance(claim, Both):
        return replace(claim, parts=tuple(_by_its_root(p, setting) or p for p in claim.parts))
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(claim.sides[0], Name) or not is_zero(
            claim.sides[1]):
        return claim
    meant = setting.context.world.definitions.get(claim.sides[0].ident, ZERO)
    v = meant.args[0].value if meant.op == "pow" and meant.args[1].op == "num" and meant.args[1].value > 0 else None
    if not isinstance(v, Var) or v.order or v.at:
        return claim
    return replace(claim, sides=(Name(v.name, span=claim.sides[0].span), claim.sides[1]))


def _says_how_it_goes(statement: Statement, setting: Setting) -> bool:
    """`after 3 s: v = a t = 3.06 m/s` of a new v: its formula is one of all times, and the number of that one."""
    where, claim = statement.where, statement.claim
    if setting.strict or not gives_a_value(where) or not isinstance(where, Relation) or where.sides[0] != Name(TIME):
        return False
    if not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name) or set(claim.signs) - {"=", "≈"}:
        return False
    new = claim.sides[0].ident not in tied_names(setting.context)
    return new and TIME in names_in(replace(claim, sides=claim.sides[1:2], signs=()))


def _at_the_moment(statement: Statement, setting: Setting, source: Source, instant: tuple[str, Term]) -> Outcome:
    (key, time), before = instant, setting
    setting = everywhere(setting, lambda c: c.at_instant(key, time))
    there = Case(as_text(statement.where), key=key, opened=source.number, where=statement.where)
    if statement.claim is None:
        case = there
        if setting.strict and statement.where and not runs_along(statement.where, setting):
            case = replace(case_of(statement.where, setting, source), line=source.number)
        opened = setting.opening(case)
        return (Verdict(Standing.TAKEN, code="taken.case"),), opened
    verdicts = []
    setting = with_its_time(statement.claim, key, setting, source)
    for pair in pairs(alternatives(statement.claim)[0]):
        m = matter(pair, setting, source, "at")
        decision = _said_at(m, there, setting)
        if decision.verdict.standing is Standing.TAKEN:
            decision = off_its_course(m, statement.where) or decision
        verdicts.append(replace(decision.verdict, span=pair.span))
        setting = decision.after
    if any(v.code == "taken.initial" for v in verdicts) and not runs_along(statement.where, setting):
        found = _where_it_comes_out(statement, before, source)
        if found is not None:
            return found
    return tuple(verdicts), setting.opening(there)


def _where_it_comes_out(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`at balance τ = 0: θ = F w/(2 k)`, of a moment to be found: what is so wherever τ is nothing is worked out."""
    verdicts, after = supposed(statement, setting, source)
    if statement.claim is None or statement.where is None or not verdicts:
        return None
    decided = all(v.standing is Standing.FOLLOWS for v in verdicts)
    if any(v.standing is Standing.FAILS for v in verdicts):  # `x = A` at v = 0 is so at one of the ends
        known = set(names_in(statement.claim)) <= tied_names(setting.context)
        inside = inside_case(statement.where, setting, source)
        # `v = 4 m/s at x = 3 m` says which amplitude it is, where that is not known.
        tells = gives_a_value(statement.claim) and inside.states.any(
            inside.context, case_of(statement.claim, inside, source).premises).size
        decided = known and not tells and denied(statement.claim, inside, source)
    return (verdicts, after) if decided else None


def _said_of_named_place(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`dU/dx = 0 at x0 = 2A/B`: x0 is the x at which it is so."""
    assert statement.where
    said, inside = supposed(replace(statement, role="suppose", where=None), setting, source)
    cases = (*inside.cases[:-1], *(replace(c, line=source.number, left=True) for c in inside.cases[-1:]))
    place, after = decide_claim(statement.where, replace(inside, cases=cases), source, statement.word)
    return (*said, *place), after


def _said_under_all(statement: Statement, setting: Setting, source: Source) -> Outcome:
    """`at t = 0 and x = 0: v = u`: where one of the conditions names an instant, the others are said of it."""
    assert isinstance(statement.where, Both)
    named = [w for w in statement.where.parts if instant_of(w, setting) is not None]
    named.sort(key=lambda w: not runs_along(w, setting))
    if not named or statement.claim is None:
        return supposed(statement, setting, source)
    others = tuple(w for w in statement.where.parts if w is not named[0])
    if any(gives_a_value(w) and not _changes(w, setting) for w in others):
        return supposed(statement, setting, source)  # `for a = 3 and t = 4: …`
    claim = Both((*others, statement.claim), span=statement.claim.span)
    return said_at_instant(replace(statement, claim=claim, where=named[0]), setting, source)


def _changes(where: Claim, setting: Setting) -> bool:
    return any(setting.context.world.is_changing(Var(n)) for n in names_in(where))


def _said_at(m: Matter, case: Case, setting: Setting) -> Decision:
    """Does the pair hold at the instant? If nothing says so and it gives moving names a value, it is taken."""
    decision = in_case(m, case) or one_of_the_moments(m, case)
    if decision is None and setting.regime is not None:
        inner = replace(m, setting=setting.within(setting.regime.context))
        found = in_case(inner, case)
        if found is not None:
            after = replace(setting, regime=replace(setting.regime, context=found.after.context))
            return Decision(found.verdict, after)
    if decision is not None:
        return decision
    world = setting.context.world
    if not any(world.is_changing(v) or v.name in world.fields.values() for v in m.unknowns):
        told = value_then(m, case, setting)
        if told is not None:
            return told
        found = judge(m)
        nothing = found.verdict.code == "taken.value" and ZERO in m.lowered.parts[0]
        return Decision(found.verdict, setting) if nothing else found  # `v = 0 at x = 0` is not said of all
    placed = at_instant(m, case.key)
    premises = tuple(replace(p, always=False) for p in placed.premises(implied=False, kind="instant"))
    target = setting.regime.context if setting.regime else setting.context
    free = [v for v in placed.unknowns if v.at]
    if not free or not setting.states.of(target, (), premises).size:
        return judge(placed)
    own = [v for v in placed.unknowns if v.role == "value"]
    if 0 <= freedom(target, own, (), setting.states) < len(own):  # the page says what it is there
        found = judge(placed)
        given_up = found.verdict.standing is Standing.UNDECIDED and not setting.hopeful
        if found.verdict.standing is not Standing.TAKEN and not given_up:
            return found
    valued = gives_a_value(placed.pair.relation()) and not is_zero(placed.pair.right)
    reckoned = judge(placed) if valued else None
    if reckoned is not None and reckoned.verdict.code == "approximates.number":
        return reckoned  # `h = 0: t = 2.02 s`, where only the g near the ground is not told
    verdict = Verdict(Standing.TAKEN, code="taken.initial", facts=(("case", case.words),))
    return Decision(verdict, everywhere(setting, lambda c: c.adding(*premises)))
