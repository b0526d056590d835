"""`twice the radius: T2 = 2√2 T`: what becomes of a quantity when another is so many times what it was.

Words say which is replaced, or a second name does (`with r2 = 4 r: T2 = 8 T`); the new value has a name of its own,
made of the old one by an index or a prime.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from derive.notation.names import canonical
from derive.notation.tree import Claim, Expr, Name, Num, Product, Relation, names_in
from derive.states.context import tied_names
from derive.states.setting import Setting
from derive.terms.term import ZERO, Var, var

_TIMES = {
    "half": Fraction(1, 2), "halved": Fraction(1, 2), "halves": Fraction(1, 2),
    "double": Fraction(2), "doubled": Fraction(2), "doubles": Fraction(2), "doubling": Fraction(2),
    "twice": Fraction(2), "halving": Fraction(1, 2),
    "triple": Fraction(3), "tripled": Fraction(3), "quadrupled": Fraction(4),
}
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "nine": 9, "ten": 10}
# The letters that these are usually written with (common practice, no source).
_LETTERS = {
    "radius": "rR", "distance": "rd", "length": "lL", "long": "lL", "mass": "mM", "heavy": "mM", "height": "hH",
    "high": "hH", "speed": "vu", "fast": "vu", "stiffness": "k", "stiff": "k", "amplitude": "A", "force": "F",
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
    if not isinstance(new, Name) or new.ident in tied | setting.context.world.symbols.keys():
        return None
    stem, index = _stem_and_mark(new.ident)
    if not index or stem not in names_in(right) or stem not in tied:
        return None
    where = _by_words(heard, stem, setting) or _by_index(index, setting, number)
    return None if where is None else (where, Relation((Name(stem), right), ("→",), span=claim.span))


def _stem_and_mark(name: str) -> tuple[str, str]:
    """T and what marks it as another T, in `T_2` or `T'`."""
    if name.endswith("'"):
        return name.rstrip("'"), "'"
    stem, _, index = name.rpartition("_")
    return stem, index


def _by_words(heard: str, asked: str, setting: Setting) -> Relation | None:
    """`twice the radius`, `if r is doubled`, `four times the mass`, `half as long`."""
    said = heard.lower().replace(",", " ").replace(":", " ").split()
    times = [_TIMES[w] for w in said if w in _TIMES]
    times += [Fraction(_number(n)) for n, w in pairwise(said) if w == "times" and _number(n)]
    world, tied = setting.context.world, tied_names(setting.context)
    typed = {canonical(w) for w in heard.replace(",", " ").replace(":", " ").split()}
    letters = "".join(_LETTERS[w] for w in said if w in _LETTERS)
    constant = {n for n in tied if not world.is_changing(Var(n)) and n != asked}
    named = sorted(typed & constant) or sorted(n for n in constant if n.partition("_")[0] in (*letters,))
    return _replaced(Name(named[0]), times[0]) if len(named) == len(times) == 1 else None


def _number(word: str) -> int:
    return int(word) if word.isdecimal() and len(word) < 4 else _NUMBERS.get(word, 0)


def _by_index(mark: str, setting: Setting, number: int) -> Relation | None:
    """`with r2 = 4 r: T2 = 8 T`, on one line."""
    told = []
    for p in setting.context.premises:
        left, right = p.sides if p.sides is not None and p.sign == "=" and p.source == number else (ZERO, ZERO)
        stem, index = _stem_and_mark(left.value.name) if left.op == "var" else ("", "")
        if index == mark and right.op == "mul" and right.args[0].op == "num" and right.args[1:] == (var(Var(stem)),):
            told.append(_replaced(Name(stem), right.args[0].value))
    return told[0] if len(told) == 1 else None


def _replaced(name: Expr, times: Fraction) -> Relation:
    return Relation((name, Product((Num(times), name))), ("→",))
