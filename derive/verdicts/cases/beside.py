"""Cases beside what the page speaks of: said by a line that would otherwise fail, or of a moment by its own name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from derive.notation.lists.vocabulary import JOINING, PROSE
from derive.notation.lists.word_lists import words
from derive.notation.tree import (
    Both,
    Claim,
    Expr,
    Name,
    Neg,
    Num,
    Product,
    Quotient,
    Relation,
    Statement,
    is_zero,
    names_in,
    renamed,
    walk,
)
from derive.quantities.unit_table import dimension
from derive.readings import gives_a_value
from derive.records import Standing, Verdict
from derive.states.context import given_by_time, tied_names
from derive.states.outright import course_by_time
from derive.states.said import Outcome, Source
from derive.states.setting import Case, Setting
from derive.states.states import freedom
from derive.steps.brought_in.unsaid import LAWS
from derive.steps.letters.drawing import CLAIMING
from derive.terms.lowering import lower
from derive.terms.term import Term, Var, var, variables
from derive.terms.world import TIME
from derive.verdicts.cases.where import supposed
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.claims.suppositions import can_be, case_of, denied
from derive.verdicts.in_words.shares import SHARES

# Bodies whose shape makes their moment of inertia another.
_BODIES = words("hoop hoops ring disc disk cylinder sphere ball shell rod tube pipe wheel drum")
_INERTIA = dimension(kg=1, m=2)


def put_beside(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The case that a claim only says, or None."""
    if statement.claim is None:
        return None
    of = (statement, statement.claim, setting, source)
    case = _with(*of) or _of_another_body(*of) or _of_another_value(*of) or _that_must_be(*of) or (
        _that_is_a_share(*of) or _that_is_reached(*of) or _of_what_vanishes(*of) or _of_rest(*of)
        or _between_givens(*of))
    if case is None:
        return None
    opened = setting.opening(case)
    return (Verdict(Standing.TAKEN, code="taken.case", span=statement.claim.span),), opened


def share_told(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """The case of a share that words say, though nothing forbids it: `a tenth: v = v0/10`."""
    claim, law = statement.claim, [v.code for v in verdicts] == ["taken.law"]
    case = _that_is_a_share(statement, claim, setting, source) if law and claim is not None else None
    if case is None or statement.role != "claim":
        return None
    return (replace(verdicts[0], code="taken.case", facts=()),), setting.opening(case)


def _with(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`with u² = 5 g L: T = 6 m g`: for its line, where nothing above ties what it equates."""
    if statement.word.lower().split()[-1:] != ["with"]:
        return None
    case = replace(case_of(claim, setting, source), line=source.number)
    own = variables(*(p.term for p in case.premises))
    tied = freedom(setting.context, own, (), setting.states) < len(own)
    return None if tied or any(p.sign != "=" for p in case.premises) else case


def _of_another_body(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`for a hoop, I = m R²` where the page has spoken of a disc: until another body is spoken of."""
    said = {*source.words.lower().replace(",", " ").split(), *statement.word.lower().split()}
    name = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if not said & _BODIES or not isinstance(name, Name):
        return None
    symbol = setting.context.world.symbols.get(name.ident)
    if symbol.dimension != _INERTIA if symbol is not None and symbol.declared else name.ident.split("_")[0] != "I":
        return None
    case = case_of(claim, setting, source)
    return case if can_be(case, setting) else None


def _of_another_value(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`no friction: μ = 0` where the page has worked with μ = 0.2, `free fall: a = -g` where it had a = 2 m/s²: for its
    line and those that go on with it."""
    announced = {*source.words.lower().split(), *statement.word.lower().split()} - {*JOINING} - {"", ":", ","}
    name = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if setting.strict or not announced or not isinstance(claim, Relation) or not isinstance(name, Name):
        return None
    if names_in(claim.sides[1]) and (announced & {*CLAIMING, *LAWS} or not _is_another(claim.sides[1], setting)):
        return None
    told = any(p.kind == "value" and p.sides is not None and p.sides[0] == var(Var(name.ident))
               for p in setting.context.premises)
    case = replace(case_of(claim, setting, source), line=source.number) if told else None
    return case if case is not None and can_be(case, setting) else None


def _is_another(side: Expr, setting: Setting) -> bool:
    """Is it a quantity that the page speaks of, or so many times it, either way?"""
    names = [n for n in walk(side) if isinstance(n, Name)]
    plain = all(isinstance(n, Name | Num | Neg | Product | Quotient) for n in walk(side))
    return plain and len(names) == 1 and names[0].ident in tied_names(setting.context)


_MOST_CASES = 4


def number_of_a_case_above(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`x = 20.0 m` at the end of a page that has solved for the x of the lowest point before it went on to another: a
    value is said of the case above in which it is right."""
    claim = statement.claim
    if not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name) or names_in(claim.sides[-1]) or (
            is_zero(claim.sides[-1]) or not {*claim.signs} <= {"=", "≈"}):
        return None
    above = [c for c in reversed(setting.cases) if c.premises and source.number not in (
        c.line, c.premises[-1].source)]
    for case in above[:_MOST_CASES]:
        context = case.loosening(setting.context).adding(*case.premises)
        if not setting.states.any(context).size:
            continue
        found, _ = decide_claim(claim, replace(setting.within(context), cases=()), source, statement.word)
        if all(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in found):
            return tuple(replace(v, facts=(*v.facts, ("case", case.words))) for v in found), setting
    return None


# What a case is called by in which a rate, a force or a friction is nothing (common practice, no source).
_VANISHING = words("""
    steady constant uniform balance balanced equilibrium rest still terminal limiting smooth frictionless level flat
    horizontal no without zero neglecting ignoring neglect ignore just barely about verge critical loses leaves leaving
    lifts slack lost contact ideal massless light thin empty held holding top summit crest highest maximum greatest
    apex turning start release
""")


def _of_what_vanishes(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`steady speed: a = 0`, `no friction: μ = 0` of what need not vanish, nor may by what is declared: for the lines
    that go on with it."""
    said = {*source.words.lower().replace(",", " ").replace(":", " ").split(), *statement.word.lower().split()}
    name = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    announced = statement.word.endswith(":") and bool(said - {*JOINING, *LAWS, "", ":"})  # `straight across: x1 = 0`
    if not (said & _VANISHING or announced) or said.intersection(CLAIMING) or not isinstance(name, Name):
        return None
    if not isinstance(claim, Relation) or claim.sides[1:] != (Num(Fraction(0)),):
        return None
    case = replace(case_of(claim, setting, source), line=source.number, where=claim)
    return case if can_be(case, setting) else None


_AT_REST = words("balance balanced equilibrium rest still steady constant")
_DRIVEN = ("a", "α", "v", "ω")  # with which something moves, or moves faster
_NO_MORE = 1e-9


def _of_rest(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`balance: m1 R = m2 r` of what turns with `(m1 R - m2 r) g = I α`: where it is so, nothing speeds up."""
    said = {*source.words.lower().replace(",", " ").replace(":", " ").split()}
    if not said & _AT_REST or not isinstance(claim, Relation) or claim.signs != ("=",) or said & {*CLAIMING}:
        return None
    case, states = replace(case_of(claim, setting, source), line=source.number, where=claim), setting.states
    names = [Var(n) for n in _DRIVEN if n in tied_names(setting.context) and n not in names_in(claim)]
    inside = case.loosening(setting.context).adding(*case.premises)
    before, there = (states.of(c, [var(v) for v in names]) for c in (setting.context, inside))
    vanishes = any(
        v in there.columns and bool((abs(there.columns[v]) < _NO_MORE).all())
        and not bool((abs(before.columns[v]) < _NO_MORE).all()) for v in names) if there.size else False
    return case if vanishes else None


def _between_givens(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`escape: v0 = √(2 G M/R)` between quantities that are given and that nothing ties: which case is meant, by a name
    for it. What was given free nobody can draw from anything."""
    said = {*source.words.lower().replace(",", " ").replace(":", " ").split()} - {*JOINING, *LAWS, ""}
    named = bool(said - PROSE | (said & _CASES)) and said.isdisjoint(CLAIMING)
    first = statement.word.strip() in ("", ":")  # `just makes it: N = 0, v = √(2 g R)` is drawn from the case
    if not (setting.strict and first and named and isinstance(claim, Relation)) or set(claim.signs) != {"="} or (
            not isinstance(claim.sides[0], Name)):
        return None
    case = replace(case_of(claim, setting, source), line=source.number, where=claim)
    world, own = setting.context.world, variables(*(p.term for p in case.premises))
    if len(own) < 2 or any(world.is_changing(v) or v.at or not world.is_declared(v.name) for v in own):
        return None
    free = freedom(setting.context, own, (), setting.states) == len(own)
    return case if free and can_be(case, setting) else None


# Known words that name a case of what is given (common practice, no source).
_CASES = words("escape escapes circular critical limiting threshold just equal symmetric special")
_REACHING = words("reach reaches reached reaching attain attains get gets until till once becomes")


def _that_is_a_share(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`half speed: v = u/2` below `v = u - a t`: when what goes by the time is the share that the words say of another,
    for the lines that go on with it."""
    said = {*source.words.lower().replace(",", " ").replace(":", " ").split()}
    told = {SHARES[w] for w in said if w in SHARES}
    if len(told) != 1 or setting.strict or not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(
            claim.sides[0], Name) or len(names_in(claim.sides[1])) != 1:
        return None
    share = lower(claim.sides[1], setting.context.world)
    if not isinstance(share, Term) or share.op != "mul" or [a.value in told for a in share.args] != [True, False]:
        return None
    case = replace(case_of(claim, setting, source), where=claim)
    return case if can_be(case, setting) else None


def _that_is_reached(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`to reach v = u, m0/m = e`: when what changes has come to a value, for its line and those that go on with it."""
    said = {*source.words.lower().replace(",", " ").split(), *statement.word.lower().split()}
    name = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if not isinstance(name, Name) or not said & _REACHING or said.intersection(CLAIMING):
        return None
    if not changes(name.ident, setting) and name.ident not in setting.context.world.varying:
        return None
    case = replace(case_of(claim, setting, source), line=source.number)
    return case if can_be(case, setting) else None


# What a bound is needed for (common practice, no source).
_NEEDED = words("""
    slip slips slipping slide slides sliding contact stay stays staying leave leaves lift lifts tip tips tipping topple
    taut slack condition must need needs needed require requires required avoid safe safely hold holds break breaks
    float floats
""")


def _that_must_be(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`no slip: m ω² A ≤ μ m g`, `shut as long as W d ≥ τ`: what has to be for it, which nothing gives. One that bounds
    what the page has bounded already is worked out of that, and no new one."""
    words = f"{source.words} {statement.word}".lower().replace(",", " ").split()
    said, lasting = set(words), "long as" in " ".join(words)
    orders = isinstance(claim, Relation) and set(claim.signs) <= set("<>≤≥")
    if not orders or not (said & _NEEDED or lasting) or said.intersection(CLAIMING):
        return None
    case = case_of(claim, setting, source)
    own = {v for p in case.premises for v in variables(p.term)}
    bounds = (p for c in setting.cases for p in c.premises if p.sign in "<>≤≥")
    if any(len(own.intersection(variables(p.term))) > 1 for p in bounds) or denied(claim, setting, source):
        return None
    return case if can_be(case, setting) else None


def at_its_own_moment(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`x = L when cosh(λ T) = L/x0`: T is the t at which it is so. None where no name that nobody has met stands for
    the time, or where that does not decide the claim."""
    where, claim = statement.where, statement.claim
    if not isinstance(where, Relation) or where.signs != ("=",) or claim is None or TIME in names_in(where):
        return None
    symbols, tied = setting.context.world.symbols, tied_names(setting.context)
    times = {n for n, s in symbols.items() if s.declared and s.dimension == dimension(s=1) and n not in tied}
    known = {*symbols, *tied, *names_in(claim)} - times
    new = [n for n in names_in(where) if n not in known]
    if len(new) != 1:
        return None
    then = replace(statement, role="suppose", where=renamed(where, {new[0]: TIME}))
    verdicts, after = supposed(then, setting, source)
    courses = {v.name for v in given_by_time(setting.context)} | setting.context.world.functions.keys()
    if any(v.standing is Standing.FAILS for v in verdicts) and courses.intersection(names_in(claim)):
        return verdicts, replace(setting, broken=after.broken)
    if not verdicts or any(v.standing is not Standing.FOLLOWS for v in verdicts):
        return None
    told, knowing = decide_claim(where, setting, source, statement.word)
    if where.sides[0] == Name(new[0]) and all(v.standing is Standing.TAKEN for v in told) and then.where is not None:
        setting, where = knowing, then.where  # ts is that, and the lines below may speak of then
    return verdicts, setting.opening(replace(case_of(where, setting, source), line=source.number, where=where))


def with_a_new_value(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`time at P = 50 kW: t = E/P`, with a P that nobody has met: its value is told, and no case of it opened."""
    where, claim = statement.where, statement.claim
    if not isinstance(where, Relation) or where.signs != ("=",) or claim is None or setting.strict:
        return None
    name, value = where.sides
    known = {TIME, *setting.context.world.symbols, *tied_names(setting.context)}
    if not isinstance(name, Name) or name.ident in known or names_in(value) or name.ident not in names_in(claim):
        return None
    told, after = decide_claim(where, setting, source, statement.word)
    if any(v.standing is not Standing.TAKEN for v in told):
        return None
    verdicts, after = decide_claim(claim, after, source, statement.word)
    return (*told, *verdicts), after


def back_at_the_moment(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`s = 20·5 - ½·4·25 = 50 m` below `stops when v = 0: t = 5 s` and `s = v0 t + ½ a t²`: numbers, or constants, are
    put in for the moment that the page has looked at last, whatever has been said of all in between. So is what words
    say of it (`turned by then: θ = …`)."""
    claim, told = statement.claim, _says_then(f"{source.words} {statement.word}")
    past = [c for c in reversed(setting.cases) if c.where is not None and (c.left or (setting.regime and told))]
    if not past or not isinstance(claim, Relation) or not any(changes(n, setting) for n in names_in(claim)):
        return None  # `a = 0` of what does not change: so it is in the case alone
    values = names_in(replace(claim, sides=claim.sides[1:], signs=()))
    if not told and any(n == TIME or changes(n, setting) for n in values):
        return None
    then = replace(setting, regime=None) if told else setting
    verdicts, after = supposed(replace(statement, role="suppose", where=past[0].where), then, source)
    held = all(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in verdicts)
    off = not source.words and _is_its_value(claim, setting) and all(v.standing is Standing.FAILS for v in verdicts)
    return (verdicts, replace(after, regime=setting.regime)) if held or off else None


def _is_its_value(claim: Relation, setting: Setting) -> bool:
    """`x = v0²/(2 μ g)` of `x = v0 t - ½ μ g t²`: is what goes with the time made of what stays in its own course?"""
    name, value = claim.sides[0], lower(claim.sides[1], setting.context.world)
    if not isinstance(name, Name) or not isinstance(value, Term) or value.op == "var" or len(claim.sides) != 2:
        return False  # `x = d` says where it is to be
    course, own = course_by_time(name.ident, setting.context), {*variables(value)}
    return course is not None and bool(own) and own <= {*variables(course)} - {Var(TIME)}


def number_at_the_moment(
    statement: Statement, setting: Setting, source: Source, verdicts: Sequence[Verdict]
) -> Outcome | None:
    """`s2 = v²/(2 μ g) = 510 m` below `after 4 s: v = a t = 50 m/s` and what else comes then: the number that nothing
    gives is right with the v of that moment."""
    past = [c for c in reversed(setting.cases) if c.left and gives_a_value(c.where)]
    if not past or all(v.code != "taken.put_in" for v in verdicts):
        return None
    found, after = supposed(replace(statement, role="suppose", where=past[0].where), setting, source)
    held = all(v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) or v.code == "taken.definition" for v in found)
    return (found, after) if held else None


def _says_then(said: str) -> bool:
    heard = said.lower().replace(",", " ").replace(":", " ").split()
    return "then" in heard and not {"by", "until", "till", "at"}.isdisjoint(heard)


def place_told_by_both(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`lowest point: v = 0 at x = s` of a v and an x that no function gives, and that may both be so."""
    where, claim = statement.where, statement.claim
    plain = isinstance(where, Relation) and isinstance(claim, Relation) and where.signs == claim.signs == ("=",)
    if not plain or not isinstance(where, Relation) or not isinstance(claim, Relation) or not is_zero(claim.sides[1]):
        return None
    if not all(isinstance(c.sides[0], Name) and not changes(c.sides[0].ident, setting) for c in (where, claim)):
        return None
    both = Both((where, claim), span=claim.span)
    case = replace(case_of(both, setting, source), line=source.number, where=both)
    verdict = Verdict(Standing.TAKEN, code="taken.case", span=claim.span)
    return ((verdict,), setting.opening(case)) if can_be(case, setting) else None


def changes(name: str, setting: Setting) -> bool:
    world = setting.context.world
    meant = world.definitions.get(name)
    return world.is_changing(Var(name)) or (meant is not None and world.changes(meant))
