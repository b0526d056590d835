"""Terms read as quotients of polynomials in atoms, with the side relations of the atoms.

Variables under a root are written as powers of that root, angles and exponents in terms of a few basic ones,
logarithms of products as sums. Each such choice is noted as a `Reading`, for the re-checker to repeat.
Finding the degrees of the roots and the basic angles takes a first pass over the terms: `Plan`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from fractions import Fraction

from derive.proof.algebra import quotients as qs
from derive.proof.algebra.clock import Clock
from derive.proof.algebra.functions import function, integral_term
from derive.proof.algebra.lattice import basis
from derive.proof.algebra.pieces import whole_term
from derive.proof.algebra.plan import Plan, Unread
from derive.proof.algebra.polynomials import Key, Poly, TooLarge, atom, content, key_of, monomial_items, primitive
from derive.proof.algebra.powers import powered_term
from derive.proof.algebra.quotients import Quotient
from derive.proof.records import Reading, ReadingKind
from derive.terms.signs import (
    ANY,
    NONNEGATIVE,
    REAL,
    SAID,
    Known,
    Range,
    Sign,
    negated,
    of_atom,
    of_number,
    of_polynomial,
    powered,
    product,
)
from derive.terms.term import Term, Var, num, postorder, power
from derive.terms.term import add as plus_terms
from derive.terms.term import mul as times_terms


class Reader:
    """Reads the terms of one proof; `atoms`, `signs`, `sides` and `readings` grow as it does."""

    def __init__(
        self, masks: Mapping[Var, Sign], where: Mapping[Var, Range], clock: Clock, plan: Plan | None = None
    ) -> None:
        self.declared, self.where, self.clock = dict(masks), where, clock
        self.plan = plan or Plan()
        self.found = Plan()
        self.atoms: list[Term] = []
        self.index: dict[Term, int] = {}
        self.signs: list[Sign] = []
        self.sides: dict[int, Poly] = {}
        self.readings: dict[tuple[ReadingKind, Term], Reading] = {}
        self._done: dict[Term, Quotient] = {}
        self.kernels: dict[object, Term] = {}
        self._known: dict[Key, Sign] = {}
        self._weighed: dict[Key, Sign] = {}

    def read(self, t: Term) -> Quotient:
        self.clock.check()
        for s in postorder(t):
            if s.op in ("num", "var", "add", "mul") and all(a in self._done for a in s.args):
                self.of(s)
        return self.of(t)

    def of(self, t: Term) -> Quotient:
        found = self._done.get(t)
        if found is None:
            found = self._done[t] = _RULES[t.op](self, t)
        return found

    def number(self, t: Term) -> Quotient:
        assert isinstance(t.value, Fraction)
        if max(t.value.numerator.bit_length(), t.value.denominator.bit_length()) > 2000:
            raise Unread
        return qs.number(t.value.numerator, t.value.denominator)

    def sum_of(self, t: Term) -> Quotient:
        total = qs.ZERO
        for a in t.args:
            total = qs.plus(total, self.of(a))
        return total

    def product_of(self, t: Term) -> Quotient:
        self.clock.check()
        out = qs.UNIT
        for a in t.args:
            out = qs.times(out, self.of(a))
        return out

    def atom(self, t: Term) -> int:
        i = self.index.get(t)
        if i is None:
            i = self.index[t] = len(self.atoms)
            self.atoms.append(t)
            self.signs.append(ANY)
            self.signs[i] = of_atom(t, self.declared, self.where, self.sign)
        return i

    def as_atom(self, t: Term) -> Quotient:
        return Quotient(atom(self.atom(t)))

    def variable(self, t: Term) -> Quotient:
        v = t.value
        assert isinstance(v, Var)
        d = self.plan.degrees.get(t, 1)
        if d > 1 and not self.declared.get(v, REAL) & ~NONNEGATIVE:
            self.note("root", t, (), (Fraction(d),))
            return qs.raised(self.as_atom(power(t, num(Fraction(1, d)))), d)
        return self.as_atom(t)

    def note(self, kind: ReadingKind, of: Term, parts: Iterable[Term], numbers: Iterable[Fraction]) -> None:
        self.readings[kind, of] = Reading(kind, of, tuple(parts), tuple(numbers))

    def poly_sign(self, p: Poly) -> Sign:
        """By the signs of the atoms, or because it is a multiple of something known."""
        key = key_of(p)
        found = self._weighed.get(key)
        if found is None:
            found = self._weighed[key] = self._weigh(p)
        return found

    def _weigh(self, p: Poly) -> Sign:
        s = of_polynomial([(c, monomial_items(m)) for m, c in p.items()], self.signs)
        if s in (REAL, ANY) and p:
            known = self._known.get(key_of(primitive(p)))
            if known is not None:
                return s & (known if content(p) > 0 else negated(known))
            s &= of_number([(c, [(self.atoms[i], e) for i, e in monomial_items(m)]) for m, c in p.items()])
        return s

    def learn(self, k: Known) -> None:
        """What is known of the sign of a term, and so of its numerator."""
        q = self.read(k.term)
        s = SAID[k.relation]
        for p, e in q.denominators():
            s = product(s, powered(self.poly_sign(p), e))
        if q.num:
            self._known[key_of(primitive(q.num))] = s if content(q.num) > 0 else negated(s)
            self._weighed.clear()

    def sign(self, t: Term) -> Sign:
        q = self.of(t)
        s = self.poly_sign(q.num)
        for p, e in q.denominators():
            s = product(s, powered(self.poly_sign(p), e))
        return s

    def as_term(self, p: Poly) -> Term:
        return plus_terms(*(
            times_terms(num(c), *(self._atom_power(i, e) for i, e in monomial_items(m)))
            for m, c in sorted(p.items(), reverse=True)
        ))

    def _atom_power(self, i: int, e: int) -> Term:
        a = self.atoms[i]
        if a.op == "pow" and isinstance(a.args[1].value, Fraction):
            return power(a.args[0], num(a.args[1].value * e))
        return power(a, num(e))

    def quotient_term(self, q: Quotient) -> Term:
        below = [power(self.as_term(p), num(-e)) for p, e in q.denominators()]
        return times_terms(num(Fraction(1, q.whole)), self.as_term(q.num), *below)


_RULES: dict[str, Callable[[Reader, Term], Quotient]] = {
    "num": Reader.number, "var": Reader.variable, "add": Reader.sum_of, "mul": Reader.product_of, "pow": powered_term,
    "fun": function, "int": integral_term,
}


def planned(
    terms: Sequence[Term], known: Sequence[Known], masks: Mapping[Var, Sign], where: Mapping[Var, Range], clock: Clock
) -> tuple[Reader, list[Quotient | None]]:
    """A reader for these terms with the roots, angles and exponents they share, and what each reads as."""
    plan = Plan()
    for _ in range(6):  # nested functions settle from the inside outwards
        reader = Reader(masks, where, clock, plan)
        for k in known:
            with suppress(Unread, TooLarge, RecursionError):
                reader.learn(k)
        read = [_read_or_none(reader, t) for t in terms]
        better = _next_plan(reader)
        if better.degrees == plan.degrees and better.angle_base == plan.angle_base and (
                better.exponent_base == plan.exponent_base):
            break
        plan = better
    return reader, read


def _read_or_none(reader: Reader, t: Term) -> Quotient | None:
    try:
        return reader.read(t)
    except (Unread, TooLarge, RecursionError):
        return None


def _next_plan(reader: Reader) -> Plan:
    found = reader.found
    plan = Plan(degrees={t: d for t, d in found.degrees.items() if d > 1})
    plan.angle_base = [(v, whole_term(v)) for v in basis(found.angles)]
    plan.exponent_base = [(v, whole_term(v)) for v in basis(found.exponents)]
    return plan
