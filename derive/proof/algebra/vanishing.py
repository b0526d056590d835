"""Gaps that vanish: the difference of two sides as a power of what becomes small, functions written as series.

Names that lines above give by others are put in as far as that takes; what is left is held. Whether the result
vanishes fast enough is only asked of the re-checker.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from derive.proof.algebra.clock import Clock
from derive.proof.algebra.moves import Lemma
from derive.proof.algebra.polynomials import Poly, coefficients, degree
from derive.proof.algebra.task import Question, Task
from derive.proof.algebra.values import ways_to_put_in
from derive.proof.recheck.arithmetic import Refused
from derive.proof.recheck.series import written_out
from derive.proof.records import Certificate, Facts, GoalMove, Series
from derive.terms.term import ZERO, Term, Var, mul, num, postorder, power, substitute, var, variables

_MOST_PUT_IN, _MOST_SERIES = 5, 8
_SIMPLE = ("sin", "cos", "exp", "sinh", "cosh", "arctan")


def vanishing(
    question: Question, facts: Facts, clock: Clock, lemma: Lemma, held: frozenset[Var] = frozenset()
) -> Certificate | None:
    """A certificate that the target vanishes to the question's order, with as few names put in as can be; those held
    stay as they are."""
    given = question.premises
    question = replace(question, premises=())
    for _ in range(_MOST_PUT_IN + 1):
        found = _as_it_stands(question, facts, clock)
        if found is not None:
            return found
        task = Task(replace(question, premises=given), facts, clock)
        gone = {v for move in question.goal for v in variables(move.terms[0])}
        wanted = set(variables(question.shown)) - gone - held - {v for v, _ in question.small if not v.order}
        put = next(ways_to_put_in(wanted, task, lemma, gone), None)
        if put is None:
            return None
        v, e, proof, p = put
        question = replace(
            question, shown=substitute(question.shown, {var(v): e}), lemmas=(*question.lemmas, proof),
            premises=tuple(dict.fromkeys((*question.premises, p))),
            goal=(*question.goal, GoalMove("replace", (var(v), e), len(question.lemmas))))
    return None


def _as_it_stands(question: Question, facts: Facts, clock: Clock) -> Certificate | None:
    in_series = _with_series(question, facts, clock)
    if in_series is None:
        return None
    task = Task(in_series, facts, clock)
    return task.certificate(None) if task.goal is not None else None


def _with_series(question: Question, facts: Facts, clock: Clock) -> Question | None:
    """Every function of something small as a series, the innermost first."""
    shown, series = question.shown, list[Series]()
    small = dict(question.small)
    for _ in range(_MOST_SERIES):
        clock.check()
        f = next(_functions(shown, small), None)
        if f is None:
            return replace(question, shown=shown, series=tuple(series))
        base = ZERO if f.op == "fun" and f.value in _SIMPLE else _leading(f.args[0], question, facts, clock)
        if base is None:
            return None
        one = Series(f, base, question.order)
        try:
            shown = substitute(shown, {f: written_out(one, len(series))})
        except Refused:
            return None
        series.append(one)
    return None


def _functions(shown: Term, small: dict[Var, int]) -> Iterator[Term]:
    """Functions and roots of what varies; exponentials that only die out stay as they are."""
    for t in postorder(shown):
        varying = [v for v in variables(t) if v in small]
        if not varying:
            continue
        dies = t.op == "fun" and t.value == "exp" and all(small[v] < 0 for v in varying)
        written = t.op == "fun" and not dies and t.value in (*_SIMPLE, "ln")
        root = t.op == "pow" and t.args[0].op != "var" and not _is_whole(t.args[1])
        if written or root:
            yield t


def _is_whole(e: Term) -> bool:
    return e.op == "num" and isinstance(e.value, Fraction) and e.value.denominator == 1


def _leading(a: Term, question: Question, facts: Facts, clock: Clock) -> Term | None:
    """What a term comes to when what is small is nothing, where that is neither nothing nor beyond all bounds."""
    if len(question.small) != 1:
        change = {var(v): ZERO for v, w in question.small if w > 0}
        return substitute(a, change) if len(change) == len(question.small) else None
    ((v, weight),) = question.small
    task = Task(replace(question, shown=a, premises=(), goal=(), lemmas=()), facts, clock)
    if task.goal is None:
        return None
    reader = task.reader
    i = reader.index.get(var(v))
    if i is None:
        return None
    above, at = _lead(task.goal.num, i, weight)
    below = [(*_lead(p, i, weight), e) for p, e in task.goal.denominators()]
    if at != sum(n * e for _, n, e in below):
        return None
    parts = [power(reader.as_term(lead), num(-e)) for lead, _, e in below]
    base = mul(num(Fraction(1, task.goal.whole)), reader.as_term(above), *parts)
    return base if v not in variables(base) else None


def _lead(p: Poly, i: int, weight: int) -> tuple[Poly, int]:
    """The coefficient of the power of an atom that counts most, and that power."""
    parts = coefficients(p, i)
    at = min(parts) if weight > 0 else degree(p, i)
    return parts.get(at, {}), at


__all__ = ["vanishing"]
