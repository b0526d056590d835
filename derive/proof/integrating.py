"""Integrals between limits written out by an antiderivative, for those who have to look past the limits."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from derive.proof.algebra.clock import Clock, OutOfTime
from derive.proof.algebra.plan import Unread
from derive.proof.algebra.polynomials import TooLarge
from derive.proof.algebra.reading import planned
from derive.proof.records import Facts
from derive.terms.signs import Known, of_variables, ranges
from derive.terms.term import Term, Var, postorder, sub, substitute, var, variables


def written_out(t: Term, facts: Facts, positive: Collection[Var], budget: float) -> Term:
    """A term with each of its integrals that has an antiderivative, continuous between the limits, as what that comes
    to; some of the names said to be positive."""
    signs = {v: "positive" if v in positive else facts.sign_of(v) for v in variables(t)}
    known: Sequence[Known] = facts.inequalities()
    masks = of_variables(signs.items(), known)
    try:
        reader, _ = planned([t], known, masks, ranges(masks, known), Clock(budget))
    except (OutOfTime, TooLarge, Unread, RecursionError):
        return t
    change: dict[Term, Term] = {}
    for s in postorder(t):
        found = reader.readings.get(("integrated", s)) if s.op == "int" else None
        if found is not None and isinstance(s.value, Var):
            lower, upper = s.args[1:]
            ends = (substitute(found.parts[0], {var(s.value): end}) for end in (upper, lower))
            change[s] = sub(*ends)
    return substitute(t, change)
