"""The final result of a working, looked at as a mechanic would: where `sanity.py` gets its values from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from derive.diagnosis.allowed import Allowed
from derive.diagnosis.sanity import Observation, Result, look_at, solved_for
from derive.notation.printed.printing import as_text
from derive.notation.tree import Expr
from derive.page import Page
from derive.quantities.dimension_words import in_words
from derive.records import ESTABLISHED, Check, LineVerdict, Standing, Verdict
from derive.states.context import Context
from derive.terms.lowering import Meaningless, lower
from derive.terms.tape import taped
from derive.terms.term import Term, Var, variables
from derive.terms.world import World

AMISS = (Standing.FAILS, Standing.CARRIED)
SAMPLES = 40


def observations(check: Check) -> tuple[LineVerdict, tuple[Observation, ...]] | None:
    """The line that gives the final result by symbols, and what there is to see in it; None without one.

    The result is what the exercise asks for, or where nothing is asked for what was found last. Of a result that
    does not hold only what is amiss with it is told: how it should behave would be the answer.
    """
    wanted = {name for line in check.goal for v in line.verdicts if (name := _given_name(v))}
    if check.goal and not wanted:
        return None  # a bound, a limit: nothing that a formula for one quantity could answer
    for place, line in reversed(tuple(enumerate(check.lines))):
        if check.first_break and line.line.number < check.first_break and not wanted:
            return None  # what stands before a break is on the way to a result
        for verdict in reversed(line.verdicts):
            claim = verdict.statement.claim if verdict.statement is not None else None
            solved = solved_for(claim) if verdict.standing in (*ESTABLISHED, *AMISS) else None
            page = check.stages[place] if len(check.stages) == len(check.lines) else None
            if solved is None or not isinstance(page, Page) or (wanted and solved[0] not in wanted):
                continue
            if verdict.code == "fails.dimension":
                return None  # what adds a length to a number has no size and no sign
            last = check.stages[-1]
            result = _result(*solved, page, last.setting.context if isinstance(last, Page) else None)
            seen = look_at(result) if result is not None else ()
            return line, tuple(map(_of_a_sound_one, seen)) if verdict.standing in ESTABLISHED else tuple(
                o for o in seen if not o.fits)
    return None


def _of_a_sound_one(seen: Observation) -> Observation:
    """A result that follows is not at fault where it comes out negative: the declaration narrows what is allowed."""
    return replace(seen, code="sanity.sign_some", fits=True) if seen.code == "sanity.sign_broken" else seen


def _given_name(verdict: Verdict) -> str:
    claim = verdict.statement.claim if verdict.statement is not None else None
    solved = solved_for(claim)
    return solved[0] if solved is not None else ""


def _result(name: str, expression: Expr, page: Page, later: Context | None) -> Result | None:
    context = page.setting.context
    term = _lowered(expression, context.world)
    if term is None:
        return None
    allowed = Allowed(context, name, term, later)
    samples = allowed.samples(SAMPLES, seed=len(as_text(expression)))
    world = context.world
    unsigned = name in world.free_complex or any(map(world.is_changing, (Var(name), *variables(term))))
    return Result(name, expression, world.symbols, samples, _valued(world), as_text, lambda e: _words(e, page),
                  allowed.admits, unsigned)


def _valued(world: World) -> Callable[[Expr, Mapping[str, float]], float | None]:
    known: dict[Expr, Term | None] = {}

    def value(expression: Expr, values: Mapping[str, float]) -> float | None:
        if expression not in known:
            known[expression] = _lowered(expression, world)
        term = known[expression]
        if term is None or any(v.order or v.at or v.name not in values for v in variables(term)):
            return None
        with np.errstate(all="ignore"):
            (found,) = taped(term).run({v: np.array([values[v.name]]) for v in variables(term)})
        number = complex(np.ravel(np.asarray(found))[0])
        return number.real if abs(number.imag) <= 1e-12 * abs(number) else None

    return value


def _lowered(expression: Expr, world: World) -> Term | None:
    try:
        lowered = lower(expression, world)
    except Meaningless:
        return None
    return lowered if isinstance(lowered, Term) else None


def _words(expression: Expr, page: Page) -> str | None:
    found = page.dimensions.of(expression)
    return in_words(found) if found is not None and any(found.powers) else None
