"""What was to be shown: does it hold, and does the working arrive at it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from derive.notation.tree import Claim, Derivative, Expr, Name, Num, Relation, Value, Vector, names_in, walk
from derive.records import LineVerdict, Reading, Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.said import Source
from derive.states.setting import Setting
from derive.terms.claims import LoweredPair, alternatives, lower_pair, pairs
from derive.terms.declared import plain_value
from derive.terms.isolation import isolated
from derive.terms.lowering import Meaningless
from derive.terms.numbers import bare_number, last_digit_of_result
from derive.terms.term import sub, variables
from derive.terms.world import TIME
from derive.verdicts.claims.claiming import decide_claim


def judge_goal(readings: Sequence[Reading], setting: Setting, lines: Sequence[LineVerdict]) -> tuple[Verdict, ...]:
    """One verdict a statement of the goal: follows, and was reached; follows, not reached; or does not follow. Of
    several readings (`1/2π √(g/d)`) that which the working arrives at is meant."""
    found = None
    for reading in readings:
        verdicts = _judged(reading, setting, lines)
        if all(v.code == "goal.reached" for v in verdicts):
            return verdicts
        found = found or verdicts
    return found or ()


def _judged(reading: Reading, setting: Setting, lines: Sequence[LineVerdict]) -> tuple[Verdict, ...]:
    plain = replace(setting, goal=(), broken=(), strict=True, losses=False)
    out: list[Verdict] = []
    for statement in reading.statements:
        if statement.claim is None:
            continue
        claim = _as_rate(statement.claim, plain)
        try:
            verdicts, _ = decide_claim(claim, plain, Source("goal", 0))
        except Meaningless as odd:
            out.append(Verdict(Standing.FAILS, statement, code=odd.code))
            continue
        out += [replace(_concluded(v, claim, plain, lines), statement=statement) for v in verdicts]
    return tuple(out)


def _as_rate(claim: Claim, setting: Setting) -> Claim:
    """`r² θ' = const`, `L = const` of what moves: to be shown is that it has no rate, whatever the constant is."""
    named = claim.sides[1] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if not isinstance(claim, Relation) or not isinstance(named, Name) or named.ident.partition("_")[0] != "const":
        return claim
    if setting.context.world.moving.isdisjoint(
            part for n in names_in(claim.sides[0]) for part in (n, f"{n}_x")):
        return claim
    return replace(claim, sides=(Derivative(claim.sides[0], Name(TIME)), Num(Fraction(0))))


_GOOD = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES, Standing.TAKEN)


def _concluded(v: Verdict, claim: object, setting: Setting, lines: Sequence[LineVerdict]) -> Verdict:
    if v.standing not in _GOOD:
        return replace(v, code="fails.goal_not_reached", state=None)
    where = _reached(claim, setting, lines)
    if where is None:
        # What it would follow from, and by which proof, is the way there: not to be told.
        return Verdict(Standing.UNDECIDED, code="goal.not_reached", span=v.span)
    return replace(v, code="goal.reached", facts=(("line", str(where.line.number)),))


def _reached(claim: object, setting: Setting, lines: Sequence[LineVerdict]) -> LineVerdict | None:
    """The last line that says the same as the goal, seen through the writer's own definitions."""
    for k, line in reversed([*enumerate(lines)]):
        for said in (*_holding(line), *_carried_on(lines[:k + 1])):
            if says(_as_rate(said, setting), claim, setting):
                return line
    return None


def _carried_on(lines: Sequence[LineVerdict]) -> list[Claim]:
    """The first side and the last of a chain that goes on over several lines, as long as all of them hold."""
    last: Expr | None = None
    for line in reversed(lines):
        held = _holding(line)
        claim = held[0] if len(held) == 1 else None
        if not isinstance(claim, Relation) or set(claim.signs) != {"="}:
            return []
        last = last if last is not None else claim.sides[-1]
        if not claim.carries_on:
            return [Relation((claim.sides[0], last), ("=",), span=claim.span)]
    return []


def _holding(line: LineVerdict) -> list[Claim]:
    """The claims of a line every part of which holds."""
    statements = dict.fromkeys(v.statement for v in line.verdicts if v.statement is not None)
    return [
        s.claim for s in statements
        if s.claim is not None and all(v.standing in _GOOD for v in line.verdicts if v.statement == s)]


def says(said: object, wanted: object, setting: Setting) -> bool:
    """Does one claim give another, with what names stand for in hand and no other premise?"""
    if not _speaks_of(said, wanted):
        return False
    contexts = [setting.context] + ([setting.regime.context] if setting.regime else [])
    return any(_gives(part, wanted, context, setting) for context in contexts for part in (said, *_ends(said)))


def _speaks_of(said: object, wanted: object) -> bool:
    """A goal that gives a quantity outright is reached by a line that does: `m a = …` does not give `a = …`."""
    if not isinstance(wanted, Relation) or wanted.signs != ("=",) or not isinstance(wanted.sides[0], _QUANTITIES):
        return True
    relations = [n for n in walk(said) if isinstance(n, Relation)]
    sides = [x for r in relations for x in r.sides]
    if _is_rate_of_several(wanted.sides[0]):  # what is made of others stays: the line has to say it of the like
        return any(map(_is_rate_of_several, sides))
    return any(x == wanted.sides[0] or isinstance(x, Vector) for x in sides)


def _is_rate_of_several(side: Expr) -> bool:
    return isinstance(side, Derivative) and not side.partial and not isinstance(side.body, Name)


_QUANTITIES = (Name, Derivative, Value)


def _ends(said: object) -> list[Relation]:
    """A chain's first side and its last: where numbers were rounded on the way, only these two are meant."""
    if isinstance(said, Relation) and len(said.sides) > 2 and set(said.signs) <= {"=", "≈"}:
        return [Relation((said.sides[0], said.sides[-1]), ("=",), span=said.span)]
    return []


def _gives(said: object, wanted: object, context: Context, setting: Setting) -> bool:
    try:
        aims = [lower_pair(p, context.world) for p in pairs(alternatives(wanted)[0])]  # type: ignore[arg-type]
        premises = _said_as_premises(said, context)
    except Meaningless:
        return False
    names = {v.name for a in aims for part in a.parts for t in part for v in variables(t)}
    # Adopted courses are left out: put in, they would make the goal true without the line.
    context = replace(context, world=replace(context.world, functions={}))
    slack = _left_open(wanted)
    return any(
        all(_given(aim, premises, replace(context, premises=words), setting, slack) for aim in aims)
        for words in _meanings(context, names))


def _left_open(wanted: object) -> float:
    """By how much a number may differ from that of the goal: `a = 3.56 m/s²` gives `a = 3.6 m/s²`."""
    side = wanted.sides[1] if isinstance(wanted, Relation) and wanted.signs in (("=",), ("≈",)) else None
    number = bare_number(side) if side is not None else None
    whole = plain_value(side) if side is not None and number is not None else None
    if number is None or whole is None or not number.value:
        return 0.0
    return 0.5 * 10.0 ** last_digit_of_result(number) * abs(whole / float(number.value))


def _said_as_premises(said: object, context: Context) -> list[Premise]:
    premises: list[Premise] = []
    for pair in pairs(alternatives(said)[0]):  # type: ignore[arg-type]
        low = lower_pair(pair, context.world)
        sign = "=" if low.sign == "≈" else low.sign
        premises.extend(Premise("said", sub(a, b), sign) for a, b in low.parts)
    return premises


def _meanings(context: Context, names: set[str]) -> list[tuple[Premise, ...]]:
    """What may be in hand beside the line: what names were introduced as, and then also what lines found names that
    the goal does not speak of to be, one at a time and all together."""
    plain = [replace(p, implied=False) for p in context.premises]
    introduced = tuple(p for p in plain if p.kind == "definition")
    found = [p for p in plain if p.kind != "definition" and _names_apart(p, names)][-_FINDINGS:]
    return list(dict.fromkeys((introduced, *((*introduced, p) for p in found), (*introduced, *found))))


# Findings tried one at a time; a page has rarely more that name something the goal does not.
_FINDINGS = 8


def _given(aim: LoweredPair, premises: list[Premise], words: Context, setting: Setting, slack: float) -> bool:
    bare = words.adding(*premises)
    parts = [(bare.resolved(a), bare.resolved(b)) for a, b in aim.parts]
    cloud = setting.states.of(bare, [t for part in parts for t in part])
    if not cloud.size or not weigh_all(parts, aim.sign, cloud, slack):
        return False
    # Without the line the goal must not hold by itself: otherwise any line would reach it.
    return not weigh_all(parts, aim.sign, setting.states.of(words, [t for part in parts for t in part]), slack)


def _names_apart(p: Premise, names: set[str]) -> bool:
    """Does a premise only say what a name is that the goal does not speak of (`b = v_0 √(m/k)`)?"""
    return p.sign == "=" and p.kind != "given" and any(
        v.name not in names and not v.order and not v.at for v, _ in isolated(p.term))


def weigh_all(parts: Sequence[tuple[object, object]], sign: str, cloud: object, slack: float = 0.0) -> bool:
    return all(weigh(a, b, "=" if sign == "≈" else sign, cloud, slack).all_hold for a, b in parts)  # type: ignore[arg-type]


__all__ = ["judge_goal", "says"]
