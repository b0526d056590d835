"""Which names of a working without declarations are vectors: those that some line gives by components, or in unit
vectors, and those that are multiplied with themselves as vectors are.

`v_AB = v_A - v_B` may stand above `v_A = (3, 4)`; what is a vector there is one from the first line on.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence

from derive.notation.names import canonical

_LONGEST = 400  # characters of a line that is looked at: components do not stand in longer ones
_LETTER = r"[^\W\d_]"
_CALLED = rf"{_LETTER}(?:_?\w{{1,3}})?"
_NAME = rf"(?:^|[,;:=]|\b(?:and|so|with|where|let)\b|[)\]](?=\s))\s*({_CALLED})"
_INSIDE = r"(?:[^()=,]|\([^()]*\))+"
_TUPLE = rf"\({_INSIDE},{_INSIDE}(?:,{_INSIDE})?\)"
# Before the components a number, and names that stand apart from them: `p = m (x', y')`, and not `U = f(x, y)`.
_TIMES = r"-?(?:\d+(?:\.\d+)?\s*)?(?:[^\W\d_](?:_?\w{1,2})?\s+){0,2}"
_GIVEN = re.compile(rf"{_NAME}\s*=\s*(?:[^=,;:]*[^=,;:+*/·-]\s*=\s*)?{_TIMES}{_TUPLE}(?!\s*[·*/^²])")
# `F = 3i + 4j`, `v(0) = w i + u j`: a sum with i and j in it by themselves, as terms.
_HEAD = rf"{_NAME}(?:\(\w{{1,3}}\))?\s*=(?:[^=,;:]*=)?"
_SUMMED = re.compile(
    rf"{_HEAD}[^=,;:]*(?<!{_LETTER})(?:i(?!\w)\s*[+−-][^=,;:]*(?<!{_LETTER})j|j(?!\w)\s*[+−-][^=,;:]*(?<!{_LETTER})i)(?!\w)")
# `a = -10 j`, `F = m a = 4 i`: one of them behind all the rest, and not below the line.
_ALONE = re.compile(rf"{_HEAD}([^=,;:+±]*[^=,;:+±/\s(])\s*(?<!{_LETTER})([ijk])\s*(?=$|[=,;:\[]|--)")
# `a = -ω² r e_r`: along what turns with the angle.
_TURNING = re.compile(rf"{_HEAD}([^=,;:]*(?:\be_r\b|\be_θ|r̂|θ̂)[^=,;:]*)")
_CROSSED = re.compile(rf"{_NAME}\s*×\s*({_CALLED})\s*=\s*(?:{_TUPLE}|-?[^=]*[îĵẑx̂])")
# `v·v`, `v × m v`, `dr/dt × p`: no number is multiplied so.
_SQUARED = re.compile(rf"(?<!\w)({_CALLED})\s*·\s*\1(?!\w)")
_VANISHING = re.compile(rf"(?<!\w)({_CALLED})\s*×\s*(?:-?{_LETTER}\s+)?\1(?!\w)|d{_CALLED}/dt\s*×|×\s*d{_CALLED}/dt")
_CROSS = re.compile(rf"(?<![\w'/])({_CALLED})\s*×\s*(?:[mM]\s+)?({_CALLED})(?![\w/])")
_DOTTED = re.compile(rf"(?<![\w'])({_CALLED})\s*·\s*({_CALLED})(?!\w)")
_OF_NUMBERS = re.compile(r"\d\s*×|×\s*\d")
_BETWEEN = re.compile(rf"(?<={_LETTER})\s+x\s+(?={_LETTER})")
_CROSSED_LETTERS = frozenset("rRvpFLaωΩαBEτM")
_PLAIN = re.compile(rf"{_NAME}\s*=\s*([^=,;:]+)")
_FACTOR = re.compile(rf"(?<!\w)({_CALLED})(?![\w²³^])")
_SIZE = re.compile(r"[|·√]|sqrt")
# What is multiplied with a vector as one, by its letter (common practice, no source).
_DIRECTED = frozenset("rvaFdsp")


def vectors_in(lines: Iterable[str]) -> tuple[str, ...]:
    """The names that are set equal to components, whose cross product is, or that are multiplied as vectors."""
    lines = _short(lines)
    found = [canonical(n) for line in lines for n in _typed(line)]
    turning = [pair for line in lines for pair in _TURNING.findall(line)]
    found += [canonical(name) for name, given in turning if not _again(name, given)]
    found += _alone(lines, bool(found), bool(turning))
    found += [canonical(n) for n in _multiplied(lines)]
    return tuple(dict.fromkeys((*found, *_of_a_stem(lines, found))))


def _of_a_stem(lines: Sequence[str], found: Collection[str]) -> Iterator[str]:
    """The v of `v = v0 e^(-b t/m)` above `v0 = (u, w)`: by the same letter, and by the vector itself."""
    indexed = {n for n in found if "_" in n}
    for line in lines if indexed else ():
        for name, right in _PLAIN.findall(line):
            own = {canonical(n) for n in _FACTOR.findall(right)}
            if any(n[0] == name[0] for n in own & indexed) and not _SIZE.search(right):
                yield canonical(name)


def crossed_in(lines: Iterable[str]) -> tuple[str, ...]:
    """The names that stand on both sides of a cross, by letters that may be vectors, where no numbers do."""
    lines = _short(lines)
    if any(map(_OF_NUMBERS.search, lines)):
        return ()
    pairs = [p for line in lines for p in _CROSS.findall(line) if {p[0][0], p[1][0]} <= _CROSSED_LETTERS]
    return tuple(dict.fromkeys(canonical(n) for pair in pairs for n in pair))


def _short(lines: Iterable[str]) -> list[str]:
    """The lines that are looked at, an x that stands between letters as a cross."""
    return [_BETWEEN.sub(" × ", line) for line in lines if len(line) <= _LONGEST]


def _typed(line: str) -> Iterator[str]:
    for found in _GIVEN.finditer(line):
        if not _again(found.group(1), found.group().partition("=")[2]):
            yield found.group(1)
    yield from _SUMMED.findall(line)
    for pair in _CROSSED.findall(line):
        yield from pair


def _again(name: str, given: str) -> bool:
    """Is it given by itself, as `F = F (cos α, sin α)`, where the second is the size of the first?"""
    return re.search(rf"(?<![\w⃗]){name}(?=sin|cos|\b)", given) is not None


def _alone(lines: Sequence[str], beside: bool, turning: bool) -> Iterator[str]:
    """The names given by one unit vector alone, on a page that has vectors: `F = -m g j` beside `n = (-sin θ, cos θ)`,
    or `v1 = 6 i` beside `v2 = 8 j`. A k is a stiffness more often."""
    named = {head for line in lines for head in re.findall(r"(?<!\w)([ijk])\s*=(?!=)", line)}
    found = [(name, axis) for line in lines for name, before, axis in _ALONE.findall(line)
             if axis not in named and not _again(name, before)]
    both = {"i", "j"} <= {axis for _, axis in found}
    summed = both or turning or any(map(_SUMMED.search, lines))
    return (canonical(name) for name, axis in found if (beside or both) and (axis != "k" or summed))


def _multiplied(lines: Sequence[str]) -> Iterator[str]:
    """Both of `v·v` and `v·a`, and all that is crossed where one product shows that these are vectors."""
    squared = {n for line in lines for n in _SQUARED.findall(line)}
    yield from squared
    for pair in (p for line in lines for p in _DOTTED.findall(line)):
        if squared.intersection(pair):
            yield from (n for n in pair if n[0] in _DIRECTED)
    if any(map(_VANISHING.search, lines)):
        for pair in (p for line in lines for p in _CROSS.findall(line)):
            yield from pair
