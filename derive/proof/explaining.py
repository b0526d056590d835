"""What a certificate says, in words that a student can follow.

Each sentence is about one move: a quantity taken from one line and put into another, a factor divided out,
a root read by its square. Whether the moves are right is not decided here.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from derive.proof.records import Certificate, Series, Source, Step, Written
from derive.terms.term import Term, mul, num, power, var, variables
from derive.terms.term import add as plus
from derive.terms.writing import written

Show = Callable[[Term], str]


def explain(certificate: Certificate, show: Show | None = None) -> list[str]:
    """Sentences, in the order of the moves. `show` prints a term; by default in plain notation."""
    return _Words(certificate, show or written).sentences()


class _Words:
    def __init__(self, c: Certificate, show: Show) -> None:
        self.c, self.show = c, show
        self.labels = [_label(p.label, p.how) for p in c.premises]

    def sentences(self) -> list[str]:
        c = self.c
        out = [self._lemma(i) for i in range(len(c.lemmas))]
        out += [self._derived(i) for i in range(len(c.derived))]
        out += [_GOALS[g.kind] for g in c.goal if g.kind in _GOALS]
        if c.relation == "O":
            return [*out, *(f"Write {self.show(s.of)} as its series." for s in self._written()), self._vanishes()]
        if not c.steps:
            out.append(_AT_ONCE if c.relation == "=" else _NUMBER if self._only_numbers() else _PARTS)
            return out
        for i, s in enumerate(c.steps):
            out += self._step(i, s)
        if c.relation != "=":
            out.append(_NUMBER if self._only_numbers() else "What is left has the sign that was to be shown.")
        return list(dict.fromkeys(out))

    def _written(self) -> list[Series]:
        """Series of what stood in the line itself; those of their pieces say nothing to a reader."""
        return [s for s in self.c.series if not any(v.role == "tail" for v in variables(s.of))]

    def _vanishes(self) -> str:
        (v, weight), order = self.c.small[0], self.c.order
        what = self.show(var(v))
        if weight < 0:
            return f"The difference of the two sides then vanishes as {what} grows."
        pace = f"like {what}" if order == 1 else f"at least as fast as {self.show(power(var(v), num(order)))}"
        return f"The difference of the two sides then vanishes {pace}."

    def _only_numbers(self) -> bool:
        """Have values been put in for every name?"""
        left = (*self.c.quotients[-1].num, *(m for w, _ in self.c.quotients[-1].den for m in w))
        return bool(self.c.goal) and not any(variables(self.c.atoms[i]) for _, m in left for i, _ in m)

    def _lemma(self, i: int) -> str:
        v, e = _sides(self.c.lemmas[i].target)
        labels = [_label(p.label, p.how) for p in self.c.lemmas[i].premises]
        verb = "give" if len(labels) > 1 else "gives"
        return f"{_list(labels)} {verb} {self.show(v)} = {self.show(e)}, which is put in."

    def _derived(self, i: int) -> str:
        d = self.c.derived[i]
        source = self._named(d.source)
        if d.kind == "replace":
            text = f"{source}, with {self.show(d.terms[0])} = {self.show(d.terms[1])} put in"
        elif d.kind == "at":
            text = f"{source} at t = {self.show(d.terms[1])}"
        else:
            text = f"{'the exponential' if d.kind == 'exp' else 'the logarithm'} of both sides of {source}"
        self.labels.append(text)
        return f"Take {text}."

    def _named(self, i: int) -> str:
        return self.labels[i] if i < len(self.labels) else "a premise"

    def _source(self, s: Source) -> str:
        if s.kind == "premise":
            return self._named(s.index)
        return "what was found before" if s.kind == "step" else self._side(s.index)

    def _side(self, i: int) -> str:
        a = self.c.atoms[i]
        if a.op == "fun" and a.value in ("sin", "cos"):
            angle = self.show(a.args[0])
            return f"sin² + cos² = 1 of {angle}" if a.args[0].op == "var" else f"sin² + cos² = 1 of ({angle})"
        if a.op == "pow":
            return f"the square of {self.show(a)} is {self.show(a.args[0])}"
        return "i² = -1" if a.value == "i" else f"|{self.show(a.args[0])}|² is the square of {self.show(a.args[0])}"

    def _step(self, i: int, s: Step) -> list[str]:
        last = i == len(self.c.steps) - 1
        if s.move == "cancel":
            return [self._cancel(s)]
        if last and len(self.c.steps) == 1 and len(s.parts) == 1 and s.parts[0][0].kind == "premise":
            return [self._one_premise(s)]
        if s.move == "substitute" and not last and len(s.parts) >= 2:
            about = self.show(self.c.atoms[s.about])
            return [f"Take {about} from {self._source(s.parts[1][0])} and put it into {self._source(s.parts[0][0])}."]
        if s.move == "substitute":
            about = self.show(self.c.atoms[s.about])
            return [f"Put in {about} from {self._source(s.parts[0][0])}."]
        if all(source.kind == "side" for source, _ in s.parts):
            return [f"Use: {self._source(source)}." for source, _ in s.parts]
        given = [self._source(source) for source, _ in s.parts if source.kind != "step"]
        squared = [f for f in s.factors if len(f.poly) > 1 and f.reason == "sign" and not given]
        if squared:
            return ["Compare the squares of both sides; the signs are known."]
        return [f"Use {_list(given)}."] if given else []

    def _cancel(self, s: Step) -> str:
        source = self._source(s.parts[0][0])
        dropped = [self.show(self._term(f.poly)) for f in s.factors if any(m for _, m in f.poly)]
        what = self.show(self._term(s.result))
        if not dropped:
            return f"So {what} = 0, from {source}."
        return f"In {source} divide by {_list(dropped)}, which is not 0: {what} = 0."

    def _one_premise(self, s: Step) -> str:
        source = self._source(s.parts[0][0])
        over, under = self._ratio(s)
        if over and under:
            return f"It is {source} multiplied by {_list(over)} and divided by {_list(under)}."
        if over or under:
            return f"It is {source} {'multiplied' if over else 'divided'} by {_list(over or under)}."
        return f"It is {source}, rearranged."

    def _ratio(self, s: Step) -> tuple[list[str], list[str]]:
        """By what the premise was multiplied and divided, numbers and signs left out."""
        premise, shown = self.c.quotients[s.parts[0][0].index], self.c.quotients[-1]
        counts: dict[Written, int] = {}

        def count(w: Written, e: int) -> None:
            atoms: list[Written] = [((Fraction(1), ((i, 1),)),) for i, n in w[0][1] for _ in range(n)]
            for piece in atoms if len(w) == 1 else [w]:
                counts[piece] = counts.get(piece, 0) + e

        count(s.parts[0][1], 1)
        for f in s.factors:
            count(f.poly, -f.exponent)
        for w, e in premise.den:
            count(w, e)
        for w, e in shown.den:
            count(w, -e)
        over = [self.show(power(self._term(k), num(e))) for k, e in counts.items() if e > 0]
        under = [self.show(power(self._term(k), num(-e))) for k, e in counts.items() if e < 0]
        return over, under

    def _term(self, w: Written) -> Term:
        return plus(*(mul(num(c), *(_atom_power(self.c.atoms[i], e) for i, e in m)) for c, m in w))


def _atom_power(a: Term, e: int) -> Term:
    if a.op == "pow" and a.args[1].op == "num":
        return power(a.args[0], num(a.args[1].value * e))
    return power(a, num(e))


def _label(label: str, how: str) -> str:
    return f"the derivative of {label}" if how else label or "a premise"


def _sides(t: Term) -> tuple[Term, Term]:
    """v and e of v − e."""
    v, *rest = t.args
    return v, mul(num(-1), plus(*rest))


def _list(items: list[str]) -> str:
    if not items:
        return "nothing"
    return items[0] if len(items) == 1 else ", ".join(items[:-1]) + " and " + items[-1]


_AT_ONCE = "Both sides are the same when multiplied out."
_PARTS = "Its parts have the signs that make it so."
_NUMBER = "What is left is a number, which is worked out."
_GOALS = {
    "exp": "Two quantities are equal when their exponentials are.",
    "tan": "Angles within a right angle on either side are equal when their tangents are.",
    "sin": "Angles within a right angle on either side are equal when their sines are.",
    "cos": "Angles between 0 and π are equal when their cosines are.",
}
