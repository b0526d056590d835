"""`circular orbit: v²/r = G M/r²` below `E = ½ m v² - G M m/r`: of all orbits, one that is round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Relation, Statement, names_in
from derive.records import Standing
from derive.states.context import Premise, tied_names
from derive.states.said import Outcome, Source
from derive.states.setting import Case, Setting
from derive.states.states import freedom
from derive.terms.calculus import partial
from derive.terms.term import TWO, ZERO, Term, Var, div, mul, power, sub, var, variables
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.claims.suppositions import inside_case

_ROUND = frozenset(("circular", "circle"))
_SPEEDS, _PLACES = frozenset("vuV"), frozenset("rRad")


def on_a_circle(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The claim as said of a circle, where the energy that a line above gives tells the pull: m v²/r = dU/dr there.
    None where that does not decide it."""
    claim = statement.claim
    heard = {*f"{source.words} {statement.word}".lower().replace(",", " ").replace(":", " ").split()}
    where = statement.where if statement.where != claim else None
    if not isinstance(claim, Relation) or set(claim.signs) != {"="} or heard.isdisjoint(_ROUND):
        return None
    known = tied_names(setting.context) | {*(names_in(where) if where is not None else ())}
    if not setting.strict or setting.regime is not None or not {*names_in(claim)} <= known:
        return None
    context = setting.context if where is None else inside_case(where, setting, source).context
    for pull in _conditions(setting):
        words = "the orbit being a circle"
        case = Case(words, premises=(Premise(words, pull, "=", False, False, source.number),), line=source.number)
        there = context.adding(*case.premises)
        if not setting.states.any(there).size:
            continue
        found, after = decide_claim(claim, replace(setting.within(there), cases=()), source)
        if found and all(v.standing is Standing.FOLLOWS for v in found):
            told = (replace(v, code="follows.in_case", facts=(("case", words),)) for v in found)
            left = tuple(replace(c, left=True, line=c.line or source.number - 1) for c in setting.cases)
            return tuple(told), replace(setting, cases=left).opening(case)
        own = [Var(n) for n in names_in(claim)]
        tied = 0 <= freedom(there, own, (), setting.states) < len(own)  # `circular orbit: r = R` says which
        if tied and all(v.standing is Standing.FAILS for v in found):
            return found, replace(setting, broken=after.broken)
    return None


def _conditions(setting: Setting) -> Iterator[Term]:
    """What is nothing on a circle: m v²/r - dU/dr, of an energy ½ m v² + U(r)."""
    for p in reversed(setting.context.premises):
        name, whole = p.sides if p.sides is not None and p.sign == "=" else (ZERO, ZERO)
        own = [v for v in variables(whole) if v.role == "value" and not v.order and not v.at]
        if not isinstance(name.value, Var) or len(own) != len(variables(whole)):
            continue
        for v in (v for v in own if v.name.partition("_")[0] in _SPEEDS):
            push = partial(whole, v)  # m v
            mass = partial(push, v)
            if mass is ZERO or {v.name} & {u.name for u in variables(mass)}:
                continue
            for r in (r for r in own if r.name.partition("_")[0] in _PLACES and r not in variables(mass)):
                pull = partial(whole, r)
                if pull is not ZERO and v not in variables(pull):
                    yield sub(div(mul(mass, power(var(v), TWO)), var(r)), pull)
