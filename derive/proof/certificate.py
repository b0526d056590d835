"""Certificates from outside: what they are, whether they hold, what they say in words, and as plain data.

The records are in `derive.proof.records`, the check in `derive.proof.recheck`, the words in
`derive.proof.explaining`; this is their common face.
"""

from __future__ import annotations

from fractions import Fraction

from derive.proof.explaining import explain
from derive.proof.recheck import recheck
from derive.proof.records import Certificate, Facts, Premise, Quotient, Source, Written
from derive.terms.signs import Known
from derive.terms.term import Term, Var, postorder

FORMAT = 1


def to_json(certificate: Certificate) -> dict[str, object]:
    """A certificate as plain JSON values; terms are numbers of rows in a common table."""
    return _Tables().certificate(certificate)


class _Tables:
    """Terms are written once each, arguments before what is made of them."""

    def __init__(self) -> None:
        self.rows: list[object] = []
        self.place: dict[Term, int] = {}

    def term(self, root: Term) -> int:
        for t in postorder(root):
            if t not in self.place:
                self.place[t] = len(self.rows)
                self.rows.append([t.op, _value(t.value), [self.place[a] for a in t.args]])
        return self.place[root]

    def certificate(self, c: Certificate, inner: bool = False) -> dict[str, object]:
        made: dict[str, object] = {
            "format": FORMAT,
            "target": self.term(c.target),
            "relation": c.relation,
            "premises": [
                {"label": p.label, "term": self.term(p.term), "how": p.how,
                 "origin": None if p.origin is None else self.term(p.origin)} for p in c.premises],
            "signs": [[_value(v), word] for v, word in c.signs],
            "known": [{"term": self.term(k.term), "relation": k.relation, "label": k.label} for k in c.known],
            "slopes": [[_value(v), self.term(t)] for v, t in c.slopes],
            "lemmas": [self.certificate(lemma, inner=True) for lemma in c.lemmas],
            "derived": [
                {"kind": d.kind, "source": d.source, "terms": [self.term(t) for t in d.terms], "lemma": d.lemma}
                for d in c.derived],
            "goal": [{"kind": g.kind, "terms": [self.term(t) for t in g.terms], "lemma": g.lemma} for g in c.goal],
            "readings": [
                {"kind": r.kind, "of": self.term(r.of), "parts": [self.term(t) for t in r.parts],
                 "numbers": [str(n) for n in r.numbers]} for r in c.readings],
            "atoms": [self.term(t) for t in c.atoms],
            "quotients": [_quotient(q) for q in c.quotients],
            "steps": [
                {"result": _poly(s.result), "power": s.power, "move": s.move, "about": s.about, "rest": _poly(s.rest),
                 "factors": [
                     {"poly": _poly(f.poly), "exponent": f.exponent, "reason": f.reason, "index": f.index,
                      "times": _poly(f.times), "by": _poly(f.by), "parts": _parts(f.parts)} for f in s.factors],
                 "parts": _parts(s.parts)} for s in c.steps],
            "squares": [[_poly(w), _poly(b)] for w, b in c.squares],
            "bounds": [[index, _poly(w)] for index, w in c.bounds],
            "small": [[_value(v), weight] for v, weight in c.small],
            "order": c.order,
            "series": [{"of": self.term(s.of), "base": self.term(s.base), "degree": s.degree} for s in c.series],
        }
        return made if inner else {**made, "terms": self.rows}


def _value(value: object) -> object:
    if isinstance(value, Var):
        return {"name": value.name, "order": value.order, "wrt": value.wrt, "at": value.at, "role": value.role}
    return str(value) if isinstance(value, Fraction) else value


def _poly(w: Written) -> list[object]:
    return [[str(c), [list(pair) for pair in m]] for c, m in w]


def _parts(parts: tuple[tuple[Source, Written], ...]) -> list[object]:
    return [[source.kind, source.index, _poly(w)] for source, w in parts]


def _quotient(q: Quotient) -> dict[str, object]:
    return {"num": _poly(q.num), "den": [[_poly(w), e] for w, e in q.den]}


__all__ = ["Certificate", "Facts", "Known", "Premise", "explain", "recheck", "to_json"]
