"""One question put to the search: its terms read, and the certificate made of an answer.

A `Question` may be a restatement of the one that was asked: premises derived from the given ones, something
easier to show than the target. The certificate records what was done, so that it speaks of the target.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from derive.proof.algebra.clock import Clock
from derive.proof.algebra.known import Field, Zero
from derive.proof.algebra.reading import planned
from derive.proof.algebra.writing import Writer, written_quotient
from derive.proof.recheck import recheck
from derive.proof.records import Certificate, Derived, Facts, GoalMove, Premise, Relation, Series, Source, Written
from derive.terms.signs import domain, is_real, of_variables, ranges
from derive.terms.term import ONE, ZERO, Term, Var, var, variables


@dataclass(frozen=True, slots=True)
class Question:
    """`shown` stands in `relation` to 0; where `goal` is empty it is the target itself.

    derived:  further premises with the term each comes to.
    stale:    places of premises, given or derived, that a restatement has replaced.
    small, order, series: what becomes small, how fast what is shown is to vanish, and functions written as series.
    """

    target: Term
    relation: Relation
    premises: tuple[Premise, ...]
    shown: Term
    derived: tuple[tuple[Derived, Term], ...] = ()
    goal: tuple[GoalMove, ...] = ()
    lemmas: tuple[Certificate, ...] = ()
    stale: frozenset[int] = frozenset()
    small: tuple[tuple[Var, int], ...] = ()
    order: int = 0
    series: tuple[Series, ...] = ()

    def terms(self) -> tuple[Term, ...]:
        """The terms of all premises, the given ones first."""
        return (*(p.term for p in self.premises), *(t for _, t in self.derived))


class Task:
    """A question with its terms read, and what is known of signs."""

    def __init__(self, question: Question, facts: Facts, clock: Clock) -> None:
        self.question, self.facts, self.clock = question, facts, clock
        premises = question.terms()
        given = (question.target, *premises[:len(question.premises)])
        outer = facts.inequalities()
        terms = [question.shown, *premises, *(k.term for k in outer)]
        self.signs = {v: facts.sign_of(v) for v in variables(*terms, question.target)}
        own = domain(given, is_real(given, self.signs.items()))
        self.known = (*outer, *(k for k in own if k not in outer))
        terms += [k.term for k in self.known[len(outer):]]
        masks = of_variables(self.signs.items(), self.known)
        self.reader, read = planned(terms, self.known, masks, ranges(masks, self.known), clock)
        self.goal = read[0]
        self.quotients = read[1:len(premises) + 1]
        fresh = len(question.premises)
        self.zeros = [
            Zero(q.num, Source("premise", i), age=i if i < fresh else question.derived[i - fresh][0].source)
            for i, q in enumerate(self.quotients) if q is not None and q.num and i not in question.stale
        ]
        self.zeros.sort(key=lambda z: z.age)
        self.knowns = [(i, q) for i, q in enumerate(read[len(premises) + 1:]) if q is not None and q.num]

    def field(self) -> Field:
        nonzero = tuple((i, q.num) for i, q in self.knowns if self.known[i].relation in (">", "≠"))
        return Field(self.reader, nonzero, self.clock, tuple(self.zeros))

    def needed(self, used: set[int]) -> Question:
        """The same question with only the premises used, and those that the derived ones come from."""
        q = self.question
        given = len(q.premises)
        derived = [d for i, d in enumerate(q.derived) if i + given in used]
        lemmas = {d.lemma for d, _ in derived} | {g.lemma for g in q.goal}
        sources = {i for i in used if i < given} | {d.source for d, _ in derived if d.source < given}
        sources |= {q.premises.index(p) for k in lemmas if k >= 0 for p in q.lemmas[k].premises}
        if any(d.source >= given for d, _ in derived):
            return q  # one derived premise rests on another: rare enough to be left as it is
        place = {old: new for new, old in enumerate(sorted(sources))}
        stale = {place[i] for i in q.stale if i in place and i not in used}
        return replace(
            q, premises=tuple(q.premises[i] for i in sorted(sources)),
            derived=tuple((replace(d, source=place[d.source]), t) for d, t in derived), stale=frozenset(stale),
        )

    def certificate(
        self, writer: Writer | None, bounds: Sequence[tuple[int, Written]] = (),
        squares: Sequence[tuple[Written, Written]] = (),
    ) -> Certificate | None:
        """The certificate, if the re-checker accepts it."""
        q = self.question
        if self.goal is None or any(r is None for r in self.quotients):
            return None
        made = Certificate(
            q.target, q.relation, q.premises,
            signs=tuple(self.signs.items()), known=self.known, slopes=self._slopes(), lemmas=q.lemmas,
            derived=tuple(d for d, _ in q.derived), goal=q.goal,
            readings=tuple(self.reader.readings.values()), atoms=tuple(self.reader.atoms),
            quotients=tuple(written_quotient(r) for r in (*self.quotients, self.goal) if r is not None),
            steps=tuple(writer.steps) if writer else (), bounds=tuple(bounds), squares=tuple(squares),
            small=q.small, order=q.order, series=q.series,
        )
        return made if recheck(made, self.facts) else None

    def _slopes(self) -> tuple[tuple[Var, Term], ...]:
        """The derivative along the motion of each variable of a premise that was differentiated or put at an
        instant."""
        out: dict[Var, Term] = {}
        q = self.question
        for p in q.premises:
            if p.origin is not None:
                out.update({v: self.slope_of(v, p.term) for v in variables(p.origin)})
        for d, _ in q.derived:
            if d.kind == "at":
                term = q.premises[d.source].term
                out.update({v: self.slope_of(v, term) for v in variables(term, d.terms[1])})
        return tuple(out.items())

    def slope_of(self, v: Var, t: Term) -> Term:
        """The derivative of a variable along the motion: as the facts say, else what a term shows of it."""
        return self.facts.slope_of(v) if self.facts.slope_of else _evident_slope(v, t)


def _evident_slope(v: Var, t: Term) -> Term:
    if v.name == "t" and not v.order:
        return ONE
    after = Var(v.name, v.order + 1, "t", v.at, v.role)
    return var(after) if after in variables(t) else ZERO
