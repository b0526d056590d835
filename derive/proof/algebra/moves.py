"""Restating a question where polynomials alone do not reach: names inside sines and roots, logarithms, angles.

Each function takes a task that failed and yields questions that are enough to answer. What makes them enough
is recorded in the question and is checked again by the re-checker.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import gcd

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.clock import Clock
from derive.proof.algebra.polynomials import (
    Poly,
    coefficients,
    content,
    degree,
    indices,
    initial,
    is_constant,
    primitive,
    scale,
)
from derive.proof.algebra.quotients import Quotient
from derive.proof.algebra.search import cleaned
from derive.proof.algebra.task import Question, Task
from derive.proof.records import Certificate, Derived, Facts, GoalMove, Premise
from derive.terms.calculus import partial
from derive.terms.signs import is_nonzero, range_of, within
from derive.terms.term import (
    ONE,
    PI,
    ZERO,
    Term,
    Var,
    div,
    fun,
    mul,
    num,
    postorder,
    power,
    sub,
    substitute,
    var,
    variables,
)

Lemma = Callable[[Term, tuple[Premise, ...], Facts, Clock], Certificate | None]

_MOST_REPLACED = 3
_TIME = var(Var("t"))


def restatements(task: Task, lemma: Lemma) -> Iterator[Question]:
    """Questions whose answer answers this one, most promising first."""
    chosen = _instants_chosen(task)
    if chosen is not None:
        yield chosen
        task = Task(chosen, task.facts, task.clock)
    replaced = _with_names_replaced(task, lemma)
    if replaced is not None:
        yield replaced
        task = Task(replaced, task.facts, task.clock)
    easier = [q for move in (_exponential_premises, _exponential_goal, _angle_goal) if (q := move(task)) is not None]
    yield from easier
    if easier and easier[0].derived != task.question.derived:
        again = Task(easier[0], task.facts, task.clock)
        for move in (_exponential_goal, _angle_goal):
            both = move(again)
            if both is not None:
                yield both


# --- relations that hold at all times ---------------------------------------------------------------------


def _instants_chosen(task: Task) -> Question | None:
    """Coefficients compared: a relation in which only t changes, at the instants where its waves are 0 and 1."""
    if task.facts.slope_of is None:
        return None
    derived = list(task.question.derived)
    for i, p in enumerate(task.question.premises):
        if p.always and not p.how and i not in task.question.stale:
            derived += [
                (Derived("at", i, (_TIME, t0)), substitute(p.term, {_TIME: t0})) for t0 in _instants(p.term, task)]
    return replace(task.question, derived=tuple(derived)) if len(derived) > len(task.question.derived) else None


def _instants(t: Term, task: Task) -> list[Term]:
    assert isinstance(_TIME.value, Var)
    here = variables(t)
    if _TIME.value not in here or any(
            v != _TIME.value and task.slope_of(v, t) is not ZERO for v in here):
        return []
    out: dict[Term, None] = {}
    for s in postorder(t):
        if s.op == "fun" and s.value in ("sin", "cos") and _TIME.value in variables(s):
            rate = partial(s.args[0], _TIME.value)
            if _TIME.value in variables(rate) or not is_nonzero(task.reader.sign(rate)):
                continue
            start = substitute(s.args[0], {_TIME: ZERO})
            for angle in (ZERO, div(PI, num(2))):
                out[div(sub(angle, start), rate)] = None
    return list(out)[:4]


# --- names inside functions ---------------------------------------------------------------------------


def _with_names_replaced(task: Task, lemma: Lemma) -> Question | None:
    """`ω` inside a cosine written out by the premise that gives it."""
    question = task.question
    gone: set[Var] = set()
    for _ in range(_MOST_REPLACED):
        inside = _names_inside(question, task) - gone
        ways = [w for w in solutions(task, inside) if not gone.intersection(variables(w[1]))]
        if not ways:
            break
        # T = 2π/ω before ω = √(k/m): rather in names that are inside functions already.
        v, e, i = min(ways, key=lambda w: len(set(variables(w[1])) - inside))
        proof = lemma(sub(v, e), (task.question.premises[i],), task.facts, task.clock)
        assert isinstance(v.value, Var)
        gone.add(v.value)
        if proof is not None:
            question = _replaced(question, v, e, proof, i)
    return question if question is not task.question else None


def _names_inside(question: Question, task: Task) -> set[Var]:
    """Variables inside functions, roots and integrals of what is shown and of the premises."""
    live = [t for i, t in enumerate(question.terms()) if i not in question.stale]
    pending, inside, seen = [question.shown, *live], list[Term](), set[Term]()
    while pending:
        task.clock.check()
        t = pending.pop()
        if t.op in ("fun", "int") or (t.op == "pow" and t.args[1].op != "num"):
            inside += t.args
        elif t not in seen:
            seen.add(t)
            pending += t.args
    return set(variables(*inside))


def solutions(task: Task, wanted: set[Var]) -> Iterator[tuple[Term, Term, int]]:
    """(v, e, premise) where a given premise, linear in v or in its root, gives v = e without v in e."""
    field = task.field()
    given = len(task.question.premises)
    for z in task.zeros:
        if z.source is None or z.source.index >= given:
            continue
        whole = cleaned(z, field)
        for i in indices(whole.poly):
            a = task.reader.atoms[i]
            v, times = (a.args[0], int(1 / a.args[1].value)) if a.op == "pow" and a.args[1].op == "num" else (a, 1)
            if v.op != "var" or v.value not in wanted or degree(whole.poly, i) != 1:
                continue
            lead = initial(whole.poly, i)
            if not field.is_nonzero(lead):
                continue
            rest = coefficients(whole.poly, i).get(0, {})
            value = qs.times(Quotient(scale(rest, -1)), qs.inverse(Quotient(lead)))
            e = power(task.reader.quotient_term(value), num(times))
            if v.value not in variables(e):
                yield v, e, z.source.index


def _replaced(question: Question, v: Term, e: Term, proof: Certificate, at: int) -> Question:
    k = len(question.lemmas)
    derived, stale = list(question.derived), set(question.stale)
    for i, t in enumerate(question.terms()):
        if i != at and i not in stale and v.value in variables(t):
            derived.append((Derived("replace", i, (v, e), k), substitute(t, {v: e})))
            stale.add(i)
    goal, shown = question.goal, question.shown
    if v.value in variables(shown):
        goal, shown = (*goal, GoalMove("replace", (v, e), k)), substitute(shown, {v: e})
    return replace(
        question, derived=tuple(derived), goal=goal, shown=shown, lemmas=(*question.lemmas, proof),
        stale=frozenset(stale),
    )


# --- logarithms and exponentials ------------------------------------------------------------------------


def _exponential_premises(task: Task) -> Question | None:
    """ln a = b taken to a = exp b, for every premise that is such a relation."""
    derived = list(task.question.derived)
    for z in task.zeros:
        assert z.source is not None
        i = z.source.index
        q = task.quotients[i]
        w = _clearing(task, q) if q is not None else None
        if w is not None:
            derived.append((Derived("exp", i, (w,)), sub(fun("exp", mul(w, task.question.terms()[i])), ONE)))
    return replace(task.question, derived=tuple(derived)) if len(derived) > len(task.question.derived) else None


def _exponential_goal(task: Task) -> Question | None:
    w = _clearing(task, task.goal) if task.goal is not None else None
    if w is None:
        return None
    q = task.question
    return replace(q, shown=sub(fun("exp", mul(w, q.shown)), ONE), goal=(*q.goal, GoalMove("exp", (w,))))


def _clearing(task: Task, q: Quotient) -> Term | None:
    """A multiplier after which the logarithms in a relation stand alone, with numbers before them."""
    reader = task.reader
    common: Poly | None = None
    number = 0
    for i in indices(q.num):
        a = reader.atoms[i]
        if a.op != "fun" or a.value != "ln":
            continue
        parts = coefficients(q.num, i)
        if set(parts) - {0, 1}:
            return None
        lead, number = primitive(parts[1]), gcd(number, content(parts[1]))
        if common is not None and lead != common:
            return None
        common = lead
    if common is None or not (is_constant(common) or is_nonzero(reader.poly_sign(common))):
        return None
    below = qs.times(Quotient(common), qs.number(number, q.whole))
    for p, e in q.denominators():
        below = qs.times(below, qs.raised(qs.inverse(Quotient(p)), e))
    return reader.quotient_term(qs.inverse(below))


# --- angles ---------------------------------------------------------------------------------------------


_INVERSE = {"arctan": ("tan", -1, 1), "arcsin": ("sin", -1, 1), "arccos": ("cos", 0, 2)}


def _angle_goal(task: Task) -> Question | None:
    """θ = arctan x shown by tan θ = x, where θ is known to lie in the range of the arctangent."""
    if task.goal is None:
        return None
    for i in indices(task.goal.num):
        a = task.reader.atoms[i]
        if a.op != "fun" or a.value not in _INVERSE or degree(task.goal.num, i) != 1:
            continue
        lead = initial(task.goal.num, i)
        rest = coefficients(task.goal.num, i).get(0, {})
        value = qs.times(Quotient(scale(rest, -1)), qs.inverse(Quotient(lead)))
        b = task.reader.quotient_term(value)
        name, low, high = _INVERSE[str(a.value)]
        inside = within(range_of(b, task.reader.where), Fraction(low, 2), Fraction(high, 2))
        if inside is None or (name == "tan" and not inside):
            continue
        below = qs.UNIT
        for p, e in task.goal.denominators():
            below = qs.times(below, qs.raised(Quotient(p), e))
        before = qs.times(qs.times(Quotient(lead), qs.inverse(below)), qs.number(1, task.goal.whole))
        k = task.reader.quotient_term(before)
        shown = sub(fun(name, a), fun(name, b))
        return replace(
            task.question, shown=shown, goal=(*task.question.goal, GoalMove(name, (a, b, k))))  # type: ignore[arg-type]
    return None


__all__ = ["Lemma", "restatements", "solutions"]
