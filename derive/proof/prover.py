"""Proofs: does a relation follow from the premises by algebra? The prover's public face.

`prove` and `prove_sign` return a certificate that has been re-checked, or None. They are asked about what
the points have already shown, so what counts is how often and how fast an answer comes; a wrong "proved" is
kept out by the re-checker.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from derive.proof.algebra.clock import Clock, OutOfTime
from derive.proof.algebra.polynomials import Poly, TooLarge, exact_quotient, is_constant, primitive
from derive.proof.algebra.quotients import Quotient
from derive.proof.algebra.reading import Reader, Unread, planned
from derive.proof.algebra.search import Field, Goal, Zero, cleaned, conjugates, eliminate, reduced
from derive.proof.algebra.writing import Writer, written, written_quotient
from derive.proof.recheck import recheck
from derive.proof.records import Certificate, Facts, Known, Premise, Relation, Source
from derive.proof.signs import NONNEGATIVE, NONZERO, POSITIVE, UNREAL, Sign, powered, product, ranges
from derive.proof.term import Term, Var, neg, variables

# More premises than this only slow the search down: a line rests on a few, and recent ones come first.
_MOST_PREMISES = 14
_WANTED: dict[str, Sign] = {">": POSITIVE, "≥": NONNEGATIVE, "≠": NONZERO | UNREAL}


def prove(target: Term, premises: Sequence[Premise], facts: Facts, budget: float = 0.25) -> Certificate | None:
    """A certificate that `target` is 0 wherever the premises hold, or None. Premises: most recent first."""
    return _timed(_equation, target, "=", premises, facts, budget)


def prove_sign(
    target: Term, relation: str, premises: Sequence[Premise], facts: Facts, budget: float = 0.25
) -> Certificate | None:
    """A certificate that `target` stands in the relation (< ≤ > ≥ ≠) to 0 wherever the premises hold, or None."""
    if relation in ("<", "≤"):
        target, relation = neg(target), {"<": ">", "≤": "≥"}[relation]
    if relation not in _WANTED:
        return None
    return _timed(_inequality, target, relation, premises, facts, budget)


def _timed(method, target, relation, premises, facts, budget):  # type: ignore[no-untyped-def]
    try:
        task = Task(target, relation, tuple(premises)[:_MOST_PREMISES], facts, Clock(budget))
        return method(task)
    except (OutOfTime, TooLarge, Unread, RecursionError):
        return None


class Task:
    """One question, read: the quotients of target and premises, and what is known of signs."""

    def __init__(
        self, target: Term, relation: Relation, premises: tuple[Premise, ...], facts: Facts, clock: Clock
    ) -> None:
        self.target, self.relation, self.premises, self.facts, self.clock = target, relation, premises, facts, clock
        self.known = facts.inequalities()
        terms = [target, *(p.term for p in premises), *(k.term for k in self.known)]
        self.signs = {v: facts.sign_of(v) for v in variables(*terms)}
        self.reader, read = planned(terms, self.sign_of, ranges(self.signs.items(), self.known), clock)
        self.goal = read[0]
        self.zeros = [
            Zero(q.num, Source("premise", i), age=i)
            for i, q in enumerate(read[1:len(premises) + 1]) if q is not None and q.num
        ]
        self.quotients = read[1:len(premises) + 1]
        self.knowns = [(i, q) for i, q in enumerate(read[len(premises) + 1:]) if q is not None and q.num]

    def sign_of(self, v: Var) -> str:
        return self.signs.get(v) or self.facts.sign_of(v)

    def field(self, assuming: bool = False) -> Field:
        nonzero = tuple(primitive(q.num) for i, q in self.knowns if self.known[i].relation in (">", "≠"))
        return Field(self.reader, nonzero, self.clock, assuming)

    def writer(self, field: Field) -> Writer:
        return Writer(field, [(i, q.num) for i, q in self.knowns if self.known[i].relation in (">", "≠")])


# --- equations --------------------------------------------------------------------------------------


def _equation(task: Task) -> Certificate | None:
    if task.goal is None:
        return None
    if not task.goal.num:
        return _certificate(task, None)
    for assuming in (False, True):
        field = task.field(assuming)
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
    goal = Goal(poly, field)
    if _eliminated(goal, zeros, field):
        return goal
    for multiplier in conjugates(poly, field):
        goal = Goal(poly, field)
        goal.times(multiplier)
        if _eliminated(goal, zeros, field):
            return goal
    return None


def _eliminated(goal: Goal, zeros: Sequence[Zero], field: Field) -> bool:
    try:
        return eliminate(goal, zeros, field)
    except TooLarge:
        return False


def _finished(task: Task, goal: Goal, field: Field) -> Certificate | None:
    writer = task.writer(field)
    writer.source(goal.shown())
    if len(writer.premises) < len(task.premises):
        # Once more with only what was needed: the certificate then speaks of nothing else.
        fewer = tuple(p for i, p in enumerate(task.premises) if i in writer.premises)
        again = Task(task.target, "=", fewer, task.facts, task.clock)
        found = _again(again, field.assuming)
        if found is not None:
            return found
    return _certificate(task, writer)


def _again(task: Task, assuming: bool) -> Certificate | None:
    if task.goal is None:
        return None
    field = task.field(assuming)
    goal = _attempt(task.goal.num, task.zeros, field)
    if goal is None:
        return None
    writer = task.writer(field)
    writer.source(goal.shown())
    return _certificate(task, writer)


def _certificate(task: Task, writer: Writer | None) -> Certificate | None:
    goal = task.goal
    assert goal is not None
    used = sorted(writer.premises) if writer else []
    quotients = [task.quotients[i] for i in used]
    place = {old: new for new, old in enumerate(used)}
    steps = tuple(
        replace(s, parts=tuple(
            (Source("premise", place[src.index]) if src.kind == "premise" else src, c) for src, c in s.parts))
        for s in (writer.steps if writer else [])
    )
    made = Certificate(
        task.target, task.relation, tuple(task.premises[i] for i in used),
        signs=tuple(task.reader.declared.items()), known=task.known,
        slopes=_slopes(task, used),
        readings=tuple(task.reader.readings.values()), atoms=tuple(task.reader.atoms),
        quotients=tuple(written_quotient(q) for q in (*quotients, goal) if q is not None),
        steps=steps, assumes_nonzero=tuple(writer.assumed if writer else ()),
    )
    return made if recheck(made) else None


def _slopes(task: Task, used: Sequence[int]) -> tuple[tuple[Var, Term], ...]:
    """The derivative along the motion of each variable of a premise that was differentiated."""
    return ()


# --- inequalities -----------------------------------------------------------------------------------


def _inequality(task: Task) -> Certificate | None:
    return None


__all__ = ["Facts", "Known", "Premise", "Quotient", "Reader", "cleaned", "exact_quotient", "is_constant", "powered",
           "product", "prove", "prove_sign", "reduced", "written"]
