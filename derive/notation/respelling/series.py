"""What a sign or a word says in a list or beside it: a list that goes on, `t = π/2, 3π/2, ...`, `t = 1 s, 3 s, etc.`,
and what counts it, `n = 0, 1, 2, ...`.

The dots say that there is more of the kind and nothing else: what stands before them is read as a list. Whole numbers
in a row are what a counting letter stands for, as in `n integer`, and no three values of it. `v1 = 30 m/s to v2 = 10
m/s` are two values, and `P ~ v³` goes as v³ does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.respelling.telling import value_at
from derive.notation.tree import Num, Span

_COUNTING = frozenset("nkj")
_AND_SO_ON = (("etc",), ("and", "so", "on"), ("etcetera",))
_FEWEST_DOTS = 2


def with_series(lexemes: list[Lexeme]) -> list[Lexeme]:
    """The lexemes without the dots at the end of a list, and with what counts said in a word."""
    end = _before_the_dots(lexemes)
    return _with_counting(lexemes[:end], dotted=end < len(lexemes))


def with_from_to(lexemes: list[Lexeme]) -> list[Lexeme]:
    """`v1 = 30 m/s to v2 = 10 m/s` with a comma between the two values."""
    out = list(lexemes)
    for at, x in enumerate(lexemes):
        ends_here = x.text.lower() == "to" and value_at(lexemes, at + 1) and any(
            value_at(lexemes, k) == at for k in range(at))
        if ends_here:
            out[at] = Lexeme("comma", ",", x.span, True)
    return out


def with_proportions(lexemes: list[Lexeme], text: str) -> list[Lexeme]:
    """`P ~ v³`, `T ~ √L`, `g ~ 1/r²`: what is a power of another goes as that does, and is not about as large."""
    at = next((k for k, x in enumerate(lexemes) if x.kind == "rel"), 0)
    if at != 1 or lexemes[0].kind != "run" or text[lexemes[at].span.start:lexemes[at].span.end] not in ("~", "∼"):
        return lexemes
    end = next((k for k in range(at + 1, len(lexemes)) if lexemes[k].kind in (*ENDS_CLAUSE, "rel")), len(lexemes))
    right = lexemes[at + 1:end]
    named = [x for x in right if x.kind == "run"]
    raised = any(x.kind in ("raised", "caret", "root", "slash") for x in right)
    plain = all(x.kind in _OF_POWERS for x in right) and all(x.text in "123½" for x in right if x.kind == "number")
    if len(named) != 1 or not raised or not plain:
        return lexemes
    return [lexemes[0], replace(lexemes[at], text="∝"), *lexemes[at + 1:]]


_OF_POWERS = frozenset(("run", "number", "raised", "caret", "root", "slash", "open", "close"))


def _before_the_dots(lexemes: Sequence[Lexeme]) -> int:
    """Where a list ends that dots, or words for them, stand behind; the end of the line where there are none."""
    end = len(lexemes)
    while end and lexemes[end - 1].kind == "stop":
        end -= 1
    dots = len(lexemes) - end
    said = next((w for w in _AND_SO_ON if tuple(x.text.lower() for x in lexemes[end - len(w):end]) == w), ())
    end -= len(said)
    goes_on = bool(said) or dots >= _FEWEST_DOTS
    while goes_on and end and (lexemes[end - 1].kind == "comma" or lexemes[end - 1].text == "and"):
        end -= 1
    listed = any(x.kind == "rel" for x in lexemes[:end]) and any(
        x.kind == "comma" or x.text in ("and", "or") for x in lexemes[:end])
    return end if goes_on and listed else len(lexemes)


def _with_counting(lexemes: list[Lexeme], dotted: bool) -> list[Lexeme]:
    """`x = n π, n = 0, 1, 2` as `x = n π, n integer`."""
    at = max((k for k, x in enumerate(lexemes) if x.text == "="), default=0)
    letter, listed = lexemes[at - 1] if at else None, lexemes[at + 1:]
    values, commas = listed[::2], listed[1::2]
    whole = [x.value.value for x in values if isinstance(x.value, Num)]
    counts = len(values) > 1 and len(whole) == len(values) == len(commas) + 1 and whole[0] in (0, 1) and all(
        b == a + 1 for a, b in pairwise(whole)) and all(x.kind == "comma" for x in commas)
    if letter is None or letter.kind != "run" or not counts or not (dotted or letter.text in _COUNTING) or all(
            letter.text not in x.text for x in lexemes[:at - 1]):
        return lexemes
    span = Span(listed[0].span.start, listed[-1].span.end)
    return [*lexemes[:at], Lexeme("run", "integer", span, True, places=(span,) * len("integer"))]
