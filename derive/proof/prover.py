"""Proofs: does a relation follow from the premises by algebra? The prover's public face.

`prove` and `prove_sign` return a certificate that has been re-checked, or None. They are asked about what
the points have already shown, so what counts is how often and how fast an answer comes; a wrong "proved" is
kept out by the re-checker.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from derive.proof.algebra.clock import Clock, OutOfTime
from derive.proof.algebra.comparison import compare
from derive.proof.algebra.known import Field, Zero
from derive.proof.algebra.moves import restatements
from derive.proof.algebra.plan import Unread
from derive.proof.algebra.polynomials import Poly, TooLarge
from derive.proof.algebra.search import Goal, conjugates, eliminate
from derive.proof.algebra.task import Question, Task
from derive.proof.algebra.values import with_values
from derive.proof.algebra.vanishing import vanishing
from derive.proof.algebra.writing import Writer
from derive.proof.records import Certificate, Facts, Premise, Relation
from derive.terms.signs import Known
from derive.terms.term import Term, Var, neg, postorder

# More premises than this only slow the search down: a line rests on a few, and recent ones come first.
_MOST_PREMISES = 14
_MOST_NODES = 3000  # of all terms together: what a person types has a few hundred at most


def prove(
    target: Term, premises: Sequence[Premise], facts: Facts, budget: float = 0.25
) -> Certificate | None:
    """A certificate that `target` is 0 wherever the premises hold, or None. Premises: most recent first."""
    question = Question(target, "=", tuple(premises)[:_MOST_PREMISES], target)
    return _bounded(question, lambda clock: _equation(question, facts, clock), budget)


def prove_sign(
    target: Term, relation: str, premises: Sequence[Premise], facts: Facts, budget: float = 0.25
) -> Certificate | None:
    """A certificate that `target` stands in the relation (< ≤ > ≥ ≠) to 0 wherever the premises hold, or None."""
    turned: dict[str, Relation] = {"<": ">", "≤": "≥", ">": ">", "≥": "≥", "≠": "≠"}
    if relation not in turned:
        return None
    if relation in ("<", "≤"):
        target = neg(target)
    question = Question(target, turned[relation], tuple(premises)[:_MOST_PREMISES], target)
    return _bounded(question, lambda clock: _order(question, facts, clock), budget)


def prove_vanishing(
    target: Term, small: Sequence[tuple[Var, int]], order: int, premises: Sequence[Premise], facts: Facts,
    budget: float = 0.25, held: frozenset[Var] = frozenset(),
) -> Certificate | None:
    """A certificate that `target` vanishes as fast as the `order`-th power of what goes to 0 (1) or beyond all bounds
    (-1) while what is left in it is held, or None."""
    question = Question(target, "O", tuple(premises)[:_MOST_PREMISES], target, small=tuple(small), order=order)
    return _bounded(question, lambda clock: vanishing(question, facts, clock, _lemma, held), budget)


def _order(question: Question, facts: Facts, clock: Clock) -> Certificate | None:
    """As it stands; then with values put in."""
    task = Task(question, facts, clock)
    found = compare(task)
    if found is None:
        valued = with_values(task, _lemma)
        found = compare(Task(valued, facts, clock)) if valued is not None else None
    return found


def _bounded(question: Question, method: Callable[[Clock], Certificate | None], budget: float) -> Certificate | None:
    if len(postorder(question.target, *question.terms())) > _MOST_NODES:
        return None
    try:
        return method(Clock(budget))
    except (OutOfTime, TooLarge, Unread, RecursionError):
        return None


def _equation(question: Question, facts: Facts, clock: Clock) -> Certificate | None:
    """As it stands; then restated."""
    task = Task(question, facts, clock)
    found = _directly(task, task.field())
    if found is not None:
        return found
    for restated in restatements(task, _lemma):
        again = Task(restated, facts, clock)
        found = _directly(again, again.field())
        if found is not None:
            return found
    return None


def _lemma(target: Term, premises: tuple[Premise, ...], facts: Facts, clock: Clock) -> Certificate | None:
    task = Task(Question(target, "=", premises, target), facts, clock)
    return _directly(task, task.field())


def _directly(task: Task, field: Field) -> Certificate | None:
    if task.goal is None:
        return None
    if not task.goal.num:
        return Task(task.needed(set()), task.facts, task.clock).certificate(None)
    for subset in _subsets(task.zeros):
        goal = _attempt(task.goal.num, subset, field)
        if goal is not None:
            return _finished(task, goal, field)
    return None


def _subsets(zeros: Sequence[Zero]) -> Iterable[Sequence[Zero]]:
    """Few premises first: none, two, four, all."""
    yield ()
    for size in (2, 4):
        if size < len(zeros):
            yield zeros[:size]
    if zeros:
        yield zeros


def _attempt(poly: Poly, zeros: Sequence[Zero], field: Field) -> Goal | None:
    """The goal as it stands or cleared of a root; by plain substitution first, which keeps to what it touches."""
    for multiplier in (None, *conjugates(poly, field)):
        for touching in (True, False):
            goal = Goal(poly, field)
            if multiplier is not None:
                goal.times(multiplier)
            if _eliminated(goal, zeros, field, touching):
                return goal
    return None


def _eliminated(goal: Goal, zeros: Sequence[Zero], field: Field, touching: bool) -> bool:
    try:
        return eliminate(goal, zeros, field, touching)
    except TooLarge:
        return False


def _finished(task: Task, goal: Goal, field: Field) -> Certificate | None:
    """The certificate; once more with only the premises that were needed, so that it speaks of nothing else."""
    for _ in range(3):
        writer = Writer(field)
        writer.source(goal.shown())
        fewer = task.needed(writer.premises)
        if fewer == task.question:
            return task.certificate(writer)
        smaller = Task(fewer, task.facts, task.clock)
        narrow = smaller.field()
        again = _attempt(smaller.goal.num, smaller.zeros, narrow) if smaller.goal is not None else None
        if again is None:
            break  # a sign that a premise's terms gave was needed after all
        if not again.trail:
            return smaller.certificate(None)
        task, goal, field = smaller, again, narrow
    writer = Writer(field)
    writer.source(goal.shown())
    return task.certificate(writer)


__all__ = ["Facts", "Known", "Premise", "prove", "prove_sign", "prove_vanishing"]
