"""`twice the radius: T2 = 2√2 T`: what becomes of a quantity when another is so many times what it was.

Words say which is replaced, or a second name does (`with r2 = 4 r: T2 = 8 T`); the new value has a name of its own,
made of the old one by an index or a prime.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from derive.notation.names import canonical
from derive.notation.tree import Claim, Expr, Name, Num, Product, Relation, names_in, walk
from derive.states.context import Premise, tied_names
from derive.states.setting import Matter, Setting
from derive.steps.compared.twins import only_drawn
from derive.steps.letters.marks import is_given, stem_and_mark, with_mark
from derive.terms.lowering import lower
from derive.terms.term import ZERO, Var, sub, var

TIMES = {
    "half": Fraction(1, 2), "halved": Fraction(1, 2), "halves": Fraction(1, 2),
    "double": Fraction(2), "doubled": Fraction(2), "doubles": Fraction(2), "doubling": Fraction(2),
    "twice": Fraction(2), "halving": Fraction(1, 2),
    "triple": Fraction(3), "tripled": Fraction(3), "quadrupled": Fraction(4),
}
MORE = frozenset((
    "up", "more", "higher", "greater", "bigger", "larger", "deeper", "longer", "faster", "heavier", "rises", "rise",
    "risen", "increase", "increases", "increased", "increasing", "grows"))
LESS = frozenset((
    "down", "less", "lower", "smaller", "shorter", "slower", "lighter", "falls", "fall", "fallen", "decrease",
    "decreases", "decreased", "decreasing", "drops", "reduced"))
_SHARE = re.compile(r"\b(\d{1,2})\s*(?:%|percent\b|per cent\b)")
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "nine": 9, "ten": 10}
# The letters that these are usually written with (common practice, no source).
LETTERS = {
    "radius": "rR", "distance": "rd", "length": "lL", "long": "lL", "longer": "lL", "shorter": "lL", "mass": "mM",
    "heavy": "mM", "heavier": "mM", "lighter": "mM", "height": "hH", "high": "hH", "extension": "xe", "stretch": "xe",
    "compression": "x", "area": "A", "tension": "T", "density": "ρ", "separation": "rd", "speed": "vu", "fast": "vu",
    "faster": "vu", "slower": "vu", "stiffness": "k", "stiff": "k", "amplitude": "A", "force": "F", "power": "P",
    "load": "mMWF", "weight": "mMWG", "pull": "F", "thrust": "F", "time": "t", "pressure": "p", "volume": "V",
    "depth": "hd", "torque": "Mτ", "energy": "E",
}


def of_a_multiple(
    heard: str, claim: Claim | None, setting: Setting, number: int
) -> tuple[Relation, Relation] | None:
    """What is replaced by what, and what the claim says that this makes of its quantity; None where no such thing is
    said."""
    if not isinstance(claim, Relation) or claim.signs not in (("=",), ("→",), ("≈",)):
        return None
    new, right = claim.sides
    tied = tied_names(setting.context)
    symbols = setting.context.world.symbols
    if not isinstance(new, Name) or new.ident in tied or (new.ident in symbols and symbols[new.ident].declared):
        return None
    stem, index = stem_and_mark(new.ident)
    if any(isinstance(n, Num) and n.last_digit is not None for n in walk(right)):
        return None  # `T2 = 2.83 T` is held to its figures (judge.by_twins)
    if not index or stem not in names_in(right) or stem not in tied:
        return None
    told = is_given(stem, setting.context) and only_drawn(heard)  # `M' = 2 M, R' = 3 R` says what is compared
    where = _by_words(heard, stem, setting) or (_by_index(index, setting, number) if told else None)
    return None if where is None else (where, Relation((Name(stem), right), ("→",), span=claim.span))


def told_in_words(m: Matter) -> Matter:
    """The matter with what its words say of one of two that it compares: `twice the radius: T2 = 2.83 T`."""
    stem, mark = stem_and_mark(m.pair.left.ident) if isinstance(m.pair.left, Name) else ("", "")
    told = _by_words(m.words, stem, m.setting) if mark else None
    if told is None or not isinstance(told.sides[0], Name):
        return m
    new = lower(told.sides[1], m.context.world)
    marked = var(Var(with_mark(told.sides[0].ident, mark)))
    premise = Premise(m.label, sub(marked, new), "=", True, False, m.number, "start", (marked, new))  # type: ignore[arg-type]
    return replace(m, setting=m.setting.within(m.context.adding(premise)))


def _by_words(heard: str, asked: str, setting: Setting) -> Relation | None:
    """`twice the radius`, `if r is doubled`, `four times the mass`, `half as long`."""
    said = re.sub(r"\bsame\s+\w+", " ", heard.lower()).replace(",", " ").replace(":", " ").split()
    times = [number for _, number in told_times(said)]
    world, tied = setting.context.world, tied_names(setting.context)
    typed = {canonical(w) for w in heard.replace(",", " ").replace(":", " ").split()}
    letters = "".join(LETTERS[w] for w in said if w in LETTERS)
    constant = {n for n in tied if not world.is_changing(Var(n)) and n != asked}
    named = sorted(typed & constant) or sorted(n for n in constant if n.partition("_")[0] in (*letters,))
    return _replaced(Name(named[0]), times[0]) if len(named) == len(times) == 1 else None


def told_times(said: Sequence[str]) -> list[tuple[int, Fraction]]:
    """How many times something is to be, and behind which word that is said: `twice`, `4 times`, `10 % more`."""
    times = [(k, TIMES[w]) for k, w in enumerate(said) if w in TIMES]
    times += [(k, Fraction(_number(n))) for k, (n, w) in enumerate(pairwise(said)) if w == "times" and _number(n)]
    share, more = _SHARE.search(" ".join(said)), not MORE.isdisjoint(said)
    if share is not None and more != (not LESS.isdisjoint(said)):
        part = Fraction(int(share[1]), 100)
        times.append((said.index(share[0].split()[0]), 1 + part if more else 1 - part))
    return times


def _number(word: str) -> int:
    return int(word) if word.isdecimal() and len(word) < 4 else _NUMBERS.get(word, 0)


def _by_index(mark: str, setting: Setting, number: int) -> Relation | None:
    """`with r2 = 4 r: T2 = 8 T`, on one line."""
    told = []
    for p in setting.context.premises:
        left, right = p.sides if p.sides is not None and p.sign == "=" and p.source == number else (ZERO, ZERO)
        stem, index = stem_and_mark(left.value.name) if left.op == "var" else ("", "")
        if index == mark and right.op == "mul" and right.args[0].op == "num" and right.args[1:] == (var(Var(stem)),):
            told.append(_replaced(Name(stem), right.args[0].value))
    return told[0] if len(told) == 1 else None


def _replaced(name: Expr, times: Fraction) -> Relation:
    return Relation((name, Product((Num(times), name))), ("→",))
