"""`largest for α = 45°`, `η is largest for m = M`: where a quantity is greatest or least, told of what gives it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from derive.notation.names import canonical
from derive.notation.tree import (
    Apply,
    Constant,
    Expr,
    Name,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    Unit,
    is_zero,
    walk,
)
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import Premise, tied_names
from derive.states.evidence import weigh
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.showing import shown_state
from derive.states.sizes import all_positive
from derive.states.states import freedom
from derive.terms.calculus import partial
from derive.terms.term import ZERO, Term, Var, neg, substitute, variables
from derive.terms.world import TIME
from derive.terms.writing import written
from derive.verdicts.cases.extremes import EXTREMES
from derive.verdicts.claims.suppositions import case_of, inside_case

# Where a way, or a range of angles, ends: what changes on may well be greatest there.
_LENGTHS = frozenset("RrLlhHdDaAsSxyz")
_ENDS = (90, 180, 360)
# A line between may say what the slope is.
_ABOVE = 3


def extreme_told(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The quantity changes no more there and bends the right way, or it does not; None where nothing tells which
    quantity is meant, or how it goes."""
    where = statement.where if statement.where is not None else statement.claim
    source = replace(source, words=_with_extremes_apart(source.words))
    said = source.words.lower().replace(",", " ").replace(":", " ").split()
    extreme = next((name for name, its in EXTREMES.items() if not its.isdisjoint(said)), "")
    if not extreme or not isinstance(where, Relation) or where.signs != ("=",):
        return None
    run = _told_of(where.sides[0])
    if not isinstance(run, Name):
        return None
    along = Var(run.ident)
    given, surely = _given_by(along, source, setting)
    if setting.context.world.is_changing(along) and along != Var(TIME):
        return None
    case = case_of(where, setting, source)
    looked = [_of_quantity(name, whole, along, extreme, where, setting, source) for name, whole in given]
    found = next((v for v in looked if v is not None and v.standing is Standing.FOLLOWS), None)
    if found is not None:
        return (replace(found, span=where.span),), setting.opening(case)
    off = looked[0] if looked and (surely or None not in looked) else None
    return ((replace(off, span=where.span),), setting) if off is not None else None


def _told_of(side: Expr) -> Expr:
    """The Ω of `largest for Ω² = …`, the θ of `smallest T: tan θ = μ`."""
    return side.base if isinstance(side, Power) else (
        side.arg if isinstance(side, Apply) and side.function in ("sin", "cos", "tan") else side)


def _with_extremes_apart(said: str) -> str:
    """`v_max` as `v max`."""
    apart = (canonical(w).rpartition("_") for w in said.split())
    return " ".join(f"{stem} {mark}" if stem and mark in EXTREMES else f"{stem}{_}{mark}" for stem, _, mark in apart)


def _of_quantity(
    name: Term, whole: Term, along: Var, extreme: str, where: Relation, setting: Setting, source: Source
) -> Verdict | None:
    """Is a quantity greatest, or least, at a place, by what the page gives it by?"""
    whole = _written_out(name, whole, along, setting)
    slope = partial(whole, along)
    own = variables(whole)
    if slope is ZERO or freedom(setting.context, own, (), setting.states) != len(own):
        return None
    bend = partial(slope, along) if extreme == "max" else neg(partial(slope, along))
    facts = (("name", written(name)), ("along", along.name), ("case", case_of(where, setting, source).words))
    found: Verdict | None = None
    for there in (setting, *_in_what_is_supposed(setting, along)):
        inside = inside_case(where, there, source)
        context = all_positive(inside.context, own) or inside.context
        found = _weighed(slope, bend, where, inside.within(context), facts)
        if found is not None and found.standing is Standing.FOLLOWS:
            break
    return found


def _written_out(name: Term, whole: Term, along: Var, setting: Setting) -> Term:
    """A quantity with what goes along itself written out, where a line gives that: the t1 of `R = u cos α t1`."""
    given = [p.sides for p in setting.context.premises if p.sides is not None and _gives_along(p, along)]
    change = {a: b for a, b in given if a.op == "var" and a is not name and not _names(name) & _names(b)}
    plain = substitute(whole, change)
    seen = setting.context.world.seen_through(setting.context.resolved(plain), {along.name})
    led_back = {*_names(name), *(n for t in change for n in _names(t))} & _names(seen)  # h is given by t1 as well
    return plain if led_back else seen


def extreme_of_named(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """`T minimal: d = L/√12`, where the words name what is least, and the line says where."""
    claim, tied = statement.claim, tied_names(setting.context)
    run = _told_of(claim.sides[0]) if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if not isinstance(run, Name) or not statement.word.rstrip().endswith(":"):
        return None
    named = {canonical(w.strip(",:")) for w in source.words.split()} & tied
    if not named or run.ident in named or run.ident not in tied:
        return None
    return extreme_told(replace(statement, role="at", where=claim, claim=None), setting, source)


def _names(t: Term) -> set[str]:
    return {v.name for v in variables(t)}


def _in_what_is_supposed(setting: Setting, along: Var) -> Iterator[Setting]:
    """The case that a line above was said for, and that has not been left: `h = 0: R = u² sin 2α/g`, then `largest at
    α = π/4`."""
    cases = (c for c in reversed(setting.cases) if not any(along in variables(p.term) for p in c.premises))
    case = next(cases, None)
    if case is not None and case.premises and not case.left:
        context = case.loosening(setting.context).adding(*case.premises)
        yield replace(setting.within(context), cases=())


def _weighed(
    slope: Term, bend: Term, where: Relation, inside: Setting, facts: tuple[tuple[str, str], ...]
) -> Verdict | None:
    """Is a slope nothing there, and does it bend the right way?"""
    cloud = inside.states.of(inside.context, (slope, bend))
    if not cloud.size:
        return None
    still, bent = weigh(slope, ZERO, "=", cloud), weigh(bend, ZERO, "≤", cloud)
    if still.all_hold and bent.all_hold:
        proof = proof_of(inside.context, ((slope, ZERO),), "=", cloud=cloud) if inside.proofs else None
        verdict = Verdict(
            Standing.FOLLOWS, points=cloud.size, support="tested", code="follows.in_case", facts=facts[2:])
        return with_proof(verdict, proof, (dict(facts)["case"],))
    turned = still.all_hold and bent.all_fail
    if not turned and (not still.all_fail or _may_be_an_end(where.sides[1])):
        return None
    state = shown_state(inside, bend, ZERO, "≤") if turned else shown_state(inside, slope, ZERO, "=")
    code = "fails.other_extreme" if turned else "fails.no_extreme"
    return None if state is None else Verdict(
        Standing.FAILS, strength="contradicts", code=code, facts=facts, state=state)


def _given_by(along: Var, source: Source, setting: Setting) -> tuple[list[tuple[Term, Term]], bool]:
    """The quantity that is meant, and what the page gives it by: the one that words name, else the last one that goes
    along. Where a case was spoken of since, that may be any: then it is not sure which."""
    named = {canonical(w) for w in source.words.split()} & tied_names(setting.context)
    given = [p for p in reversed(setting.context.premises) if _gives_along(p, along)]
    near = [p for p in given if named & _names(p.sides[0])] if named else [  # type: ignore[index]
        p for p in given if source.number - p.source <= _ABOVE]
    last = near[0].source if near else 0
    since = not named and any(c.line > last for c in setting.cases)
    return [p.sides for p in (given[:_MOST] if since else near[:1]) if p.sides is not None], not since


_MOST = 4  # quantities that go along


def _gives_along(p: Premise, along: Var) -> bool:
    if p.sides is None or p.sign != "=" or along not in variables(p.sides[1]):
        return False
    quantity = {*variables(p.sides[0])}
    return bool(quantity) and not quantity & {*variables(p.sides[1])} and all(
        v.role == "value" and not v.order and not v.at for v in variables(*p.sides))


def _may_be_an_end(value: Expr) -> bool:
    """`x = L`, `θ = 90°`, `y = 2 R`, `x = 0`."""
    if is_zero(value) or isinstance(value, Name):
        return True
    names = [n.ident for n in walk(value) if isinstance(n, Name)]
    numbers = [n.value for n in walk(value) if isinstance(n, Num)]
    if not names:
        turned = any(isinstance(n, Unit | Constant) for n in walk(value))
        return turned and (any(n in _ENDS for n in numbers) or _is_right_angle(value))
    return all(isinstance(n, Name | Num | Product | Quotient) for n in walk(value)) and any(
        n.partition("_")[0] in _LENGTHS for n in names)


def _is_right_angle(value: Expr) -> bool:
    """π, π/2."""
    return value == Constant("π") or value == Quotient(Constant("π"), Num(Fraction(2)))
