"""The final result of a working, looked at as a mechanic would: where `sanity.py` gets its values from."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from derive.check import Page
from derive.diagnosis.sanity import Observation, Result, look_at, solved_for
from derive.notation.printing import as_text
from derive.notation.tree import Expr, names_in
from derive.proof.lowering import Meaningless, lower
from derive.proof.prior import draw
from derive.proof.tape import Tape
from derive.proof.term import Term, Var, variables
from derive.proof.world import World
from derive.quantities.dimension_words import in_words
from derive.records import Check, LineVerdict, Standing

SOUND = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES)
SAMPLES = 12


def observations(check: Check) -> tuple[LineVerdict, tuple[Observation, ...]] | None:
    """The last line that gives a declared name by symbols, and what there is to see in it; None without one."""
    for line in reversed(check.lines):
        for verdict in reversed(line.verdicts):
            claim = verdict.statement.claim if verdict.statement is not None else None
            solved = solved_for(claim) if verdict.standing in SOUND else None
            page = check.stages[check.lines.index(line)] if len(check.stages) == len(check.lines) else None
            if solved is not None and isinstance(page, Page):
                return line, look_at(_result(*solved, page))
    return None


def _result(name: str, expression: Expr, page: Page) -> Result:
    world = page.setting.context.world
    return Result(name, expression, world.symbols, _samples(expression, world), _valued(world), as_text,
                  lambda e: _words(e, page))


def _samples(expression: Expr, world: World) -> tuple[Mapping[str, float], ...]:
    """Admissible values for the names of a result, each drawn by itself."""
    rng = np.random.default_rng(len(as_text(expression)))
    drawn = {n: draw(world.prior(Var(n)), SAMPLES, rng) for n in names_in(expression)}
    return tuple({n: float(np.real(v[i])) for n, v in drawn.items()} for i in range(SAMPLES))


def _valued(world: World) -> Callable[[Expr, Mapping[str, float]], float | None]:
    known: dict[Expr, Term | None] = {}

    def value(expression: Expr, values: Mapping[str, float]) -> float | None:
        if expression not in known:
            known[expression] = _lowered(expression, world)
        term = known[expression]
        if term is None or any(v.order or v.at or v.name not in values for v in variables(term)):
            return None
        with np.errstate(all="ignore"):
            (found,) = Tape([term]).run({v: np.array([values[v.name]]) for v in variables(term)})
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
