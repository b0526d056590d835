"""What was to be shown: does it hold, and does the working arrive at it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.proof.claims import alternatives, lower_pair, pairs
from derive.proof.context import Premise
from derive.proof.evidence import weigh
from derive.proof.lowering import Meaningless
from derive.proof.points import isolated
from derive.proof.setting import Setting
from derive.proof.statements import Source, decide_claim
from derive.proof.term import sub, variables
from derive.records import LineVerdict, Reading, Standing, Verdict


def judge_goal(readings: Sequence[Reading], setting: Setting, lines: Sequence[LineVerdict]) -> tuple[Verdict, ...]:
    """One verdict a statement of the goal: follows, and was reached; follows, not reached; or does not follow."""
    plain = replace(setting, goal=(), broken=(), strict=True)
    out: list[Verdict] = []
    for statement in readings[0].statements:
        if statement.claim is None:
            continue
        try:
            verdicts, _ = decide_claim(statement.claim, plain, Source("goal", 0))
        except Meaningless as odd:
            out.append(Verdict(Standing.FAILS, statement, code=odd.code))
            continue
        for v in verdicts:
            out.append(replace(_concluded(v, statement.claim, plain, lines), statement=statement))
    return tuple(out)


def _concluded(v: Verdict, claim: object, setting: Setting, lines: Sequence[LineVerdict]) -> Verdict:
    good = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES, Standing.TAKEN)
    if v.standing not in good:
        return replace(v, code="fails.goal_not_reached", state=None)
    where = _reached(claim, setting, lines)
    if where is None:
        return replace(v, standing=Standing.UNDECIDED, code="goal.not_reached")
    return replace(v, code="goal.reached", facts=(("line", str(where.line.number)),))


def _reached(claim: object, setting: Setting, lines: Sequence[LineVerdict]) -> LineVerdict | None:
    """The last line that says the same as the goal, seen through the writer's own definitions."""
    for line in reversed(lines):
        for v in line.verdicts:
            said = v.statement.claim if v.statement is not None else None
            if said is not None and v.standing is not Standing.CARRIED and says(said, claim, setting):
                return line
    return None


def says(said: object, wanted: object, setting: Setting) -> bool:
    """Does one claim, with the definitions alone and no other premise, give another?"""
    contexts = [setting.context] + ([setting.regime.context] if setting.regime else [])
    for context in contexts:
        try:
            if _gives(said, wanted, context, setting):
                return True
        except Meaningless:
            continue
    return False


def _gives(said: object, wanted: object, context: object, setting: Setting) -> bool:
    from derive.proof.context import Context

    assert isinstance(context, Context)
    aims = [lower_pair(p, context.world) for p in pairs(alternatives(wanted)[0])]  # type: ignore[arg-type]
    premises = []
    for pair in pairs(alternatives(said)[0]):  # type: ignore[arg-type]
        low = lower_pair(pair, context.world)
        sign = "=" if low.sign == "≈" else low.sign
        premises.extend(Premise("said", sub(a, b), sign) for a, b in low.parts)
    names = {v.name for a in aims for part in a.parts for t in part for v in variables(t)}
    definitions = tuple(p for p in context.premises if p.kind == "definition" or _names_apart(p, names))
    # Adopted courses are left out: put in, they would make the goal true without the line.
    context = replace(context, world=replace(context.world, functions={}))
    bare = replace(context, premises=(*definitions, *premises))
    for aim in aims:
        parts = [(bare.resolved(a), bare.resolved(b)) for a, b in aim.parts]
        cloud = setting.states.of(bare, [t for part in parts for t in part])
        loose = weigh_all(parts, aim.sign, cloud)
        if not cloud.size or not loose:
            return False
        # Without the line the goal must not hold by itself: otherwise any line would reach it.
        alone = replace(context, premises=definitions)
        if weigh_all(parts, aim.sign, setting.states.of(alone, [t for part in parts for t in part])):
            return False
    return True


def _names_apart(p: Premise, names: set[str]) -> bool:
    """Does a premise only say what a name is that the goal does not speak of (`b = v_0 √(m/k)`)?"""
    return p.sign == "=" and p.kind != "given" and any(
        v.name not in names and not v.order and not v.at for v, _ in isolated(p.term))


def weigh_all(parts: Sequence[tuple[object, object]], sign: str, cloud: object) -> bool:
    return all(weigh(a, b, "=" if sign == "≈" else sign, cloud).all_hold for a, b in parts)  # type: ignore[arg-type]


__all__ = ["judge_goal", "says"]
