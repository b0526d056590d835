"""Shorthand that hurried writers type without its signs: `9.81 ms-2` for m s⁻², `vx = …` for v_x.

Settled on the lexemes of a line, before anything is built of them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from derive.notation.amounts import unit_run
from derive.notation.names import Scope, canonical
from derive.notation.scanning import Lexeme
from derive.notation.tree import Span

_COMPONENTS = frozenset(stem + axis for stem in ("v", "a", "u", "F", "R", "N", "p", "T") for axis in "xy")


def with_unit_powers(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """A power sign put before the -2 of `9.81 ms-2`, `12 kg m-3`: a whole figure close after a chain of units."""
    out: list[Lexeme] = []
    for at, lexeme in enumerate(lexemes):
        if lexeme.kind == "minus" and _raises_unit(lexemes, at, scope):
            place = Span(lexeme.span.start, lexeme.span.start)
            out.append(Lexeme("caret", "^", place))
            out.append(replace(lexeme, spaced=False))
        else:
            out.append(lexeme)
    return out


def _raises_unit(lexemes: Sequence[Lexeme], at: int, scope: Scope) -> bool:
    figure = lexemes[at + 1] if at + 1 < len(lexemes) else None
    if figure is None or figure.kind != "number" or figure.spaced or lexemes[at].spaced or figure.text not in "1234":
        return False
    after = lexemes[at + 2] if at + 2 < len(lexemes) else None
    if after is not None and not after.spaced and after.kind in ("run", "number", "slash", "caret", "raised", "open"):
        return False
    first = at
    while first and lexemes[first - 1].kind == "run" and unit_run(lexemes[first - 1]) is not None:
        first -= 1
    units = lexemes[first:at]
    number = lexemes[first - 1] if first else None
    letters = sum(len(u.text) for u in units)
    return letters >= 2 and number is not None and number.kind == "number" and not any(
        scope.knows(canonical(u.text)) for u in units)


_HATS = {"i": "î", "j": "ĵ", "k": "k̂"}
_LETTERS_OF_BODIES = frozenset("vamuxyFTNRpWIωd")


def with_unit_vectors(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`a = 3i + 4j` without declarations: i and j side by side as terms are the unit vectors."""
    alone = [x.text for x in lexemes if x.kind == "run" and x.text in _HATS]
    if not scope.quick or not {"i", "j"} <= set(alone) or any(scope.knows(n) for n in alone):
        return lexemes
    return [
        replace(x, text=unicodedata.normalize("NFD", _HATS[x.text]), places=(x.span,) * 2)
        if x.kind == "run" and x.text in alone else x for x in lexemes]


def components_named(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[str]:
    """`vx = v cos α`, `ΣFy = 0` without declarations: what stands alone before the equals sign is a component."""
    if not scope.quick or len(lexemes) < 2:
        return
    yield from _of_bodies(lexemes, scope)
    before: Lexeme | None = None
    for run, sign in pairwise(lexemes):
        stem = run.text.lstrip("ΣΔ")
        alone = sign.text == "=" and (before is None or before.kind in ("colon", "comma", "join", "semicolon"))
        if run.kind == "run" and alone and stem in _COMPONENTS and not all(map(scope.knows, stem)):
            yield canonical(run.text)
        before = run


def _of_bodies(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[str]:
    """`mA vA + mB vB`, `vA = (3, 0)`: where A and B both stand as marks of bodies, they are no factors."""
    runs = [x.text for x in lexemes if x.kind == "run" and len(x.text) == 2 and x.text[0] in _LETTERS_OF_BODIES]
    marks = {run[1] for run in runs} & {"A", "B", "C"}
    first = lexemes[0].text if lexemes[1].text == "=" and lexemes[2:3] and lexemes[2].kind == "open" else ""
    for run in runs:
        if run[1] in marks and not scope.knows(run[1]) and (len(marks) > 1 or run == first):
            yield canonical(run)
