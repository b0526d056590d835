"""Values put in: a question about names that lines above give by numbers, made one about numbers alone."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from derive.proof.algebra.moves import Lemma, solutions
from derive.proof.algebra.task import Question, Task
from derive.proof.records import Certificate, GoalMove, Premise
from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, sub, substitute, var, variables

_MOST_PUT_IN = 16

Put = tuple[Var, Term, Certificate, Premise]


def with_values(task: Task, lemma: Lemma) -> Question | None:
    """The question with names replaced, one after another, until none is left; None where some can not be."""
    shown = task.question.shown
    put: list[Put] = []
    while variables(shown):
        gone = {v for v, *_ in put}
        found = next(ways_to_put_in(set(variables(shown)), task, lemma, gone), None)
        if found is None or len(put) >= _MOST_PUT_IN:
            return None
        put.append(found)
        shown = substitute(shown, {var(found[0]): found[1]})
    if not put:
        return None
    return replace(
        task.question, shown=shown, premises=tuple(dict.fromkeys(p for *_, p in put)),
        goal=tuple(GoalMove("replace", (var(v), e), k) for k, (v, e, *_) in enumerate(put)),
        lemmas=tuple(proof for _, _, proof, _ in put))


def ways_to_put_in(wanted: set[Var], task: Task, lemma: Lemma, gone: Collection[Var]) -> Iterator[Put]:
    """A wanted name and what a premise gives for it without those gone, at sight or as it is linear in it: rates first,
    then what is given by fewest names."""
    given = task.question.premises
    ways = [(v, e, p) for p in given for v, e in isolated(p.term) if v in wanted]
    ways += [(v.value, e, given[i]) for v, e, i in solutions(task, wanted) if isinstance(v.value, Var)]
    ways = [way for way in ways if not set(gone) & set(variables(way[1]))]
    for v, e, p in sorted(ways, key=lambda way: (not way[0].order, len(variables(way[1])))):
        proof = lemma(sub(var(v), e), (p,), task.facts, task.clock)
        if proof is not None:
            yield v, e, proof, p


__all__ = ["ways_to_put_in", "with_values"]
