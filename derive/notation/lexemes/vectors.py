"""Which names of a working without declarations are vectors: those that some line gives by components.

`v_AB = v_A - v_B` may stand above `v_A = (3, 4)`; what is a vector there is one from the first line on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from derive.notation.names import canonical

_NAME = r"(?:^|[,;:=]|\b(?:and|so|with|where|let)\b|[)\]](?=\s))\s*([^\W\d_](?:_?\w{1,3})?)"
_TUPLE = r"\([^()=,]+,[^()=]+\)"
# Before the components a number, and names that stand apart from them: `p = m (x', y')`, and not `U = f(x, y)`.
_TIMES = r"-?(?:\d+(?:\.\d+)?\s*)?(?:[^\W\d_](?:_?\w{1,2})?\s+){0,2}"
_GIVEN = re.compile(rf"{_NAME}\s*=\s*(?:[^=,;:]*[^=,;:+*/·-]\s*=\s*)?{_TIMES}{_TUPLE}(?!\s*[·*/^²])")
# `F = 3i + 4j`: a sum with i and j in it by themselves, as terms.
_SUMMED = re.compile(rf"{_NAME}\s*=(?=[^=,;]*(?<![^\W\d_])i(?!\w))(?=[^=,;]*(?<![^\W\d_])j(?!\w))[^=,;()]*[+-]")
_CROSSED = re.compile(rf"{_NAME}\s*×\s*([^\W\d_](?:_?\w{{1,3}})?)\s*=\s*(?:{_TUPLE}|-?[^=]*[îĵẑx̂])")


def vectors_in(lines: Iterable[str]) -> tuple[str, ...]:
    """The names that are set equal to components, or whose cross product is."""
    return tuple(dict.fromkeys(canonical(n) for line in lines for n in _typed(line)))


def _typed(line: str) -> Iterator[str]:
    yield from _GIVEN.findall(line)
    yield from _SUMMED.findall(line)
    for pair in _CROSSED.findall(line):
        yield from pair
