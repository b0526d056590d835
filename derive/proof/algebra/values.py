"""Values put in: a question about names that lines above give by numbers, made one about numbers alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.proof.algebra.moves import Lemma
from derive.proof.algebra.task import Question, Task
from derive.proof.points import isolated
from derive.proof.records import Certificate, GoalMove, Premise
from derive.proof.term import Term, Var, sub, substitute, var, variables

_MOST_PUT_IN = 16

Put = tuple[Var, Term, Certificate, Premise]


def with_values(task: Task, lemma: Lemma) -> Question | None:
    """The question with names replaced, one after another, until none is left; None where some can not be."""
    shown = task.question.shown
    put: list[Put] = []
    while variables(shown):
        found = next(_ways(shown, task, lemma, {v for v, *_ in put}), None)
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


def _ways(shown: Term, task: Task, lemma: Lemma, gone: set[Var]) -> Iterator[Put]:
    """A name of what is shown and what a premise gives for it, numbers before other names."""
    wanted = set(variables(shown))
    ways = [
        (v, e, p) for p in task.question.premises for v, e in isolated(p.term)
        if v in wanted and not gone & set(variables(e))]
    for v, e, p in sorted(ways, key=lambda way: len(variables(way[1]))):
        proof = lemma(sub(var(v), e), (p,), task.facts, task.clock)
        if proof is not None:
            yield v, e, proof, p


__all__ = ["with_values"]
