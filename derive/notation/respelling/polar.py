"""Unit vectors that turn along, as they are typed: `v = r' e_r + r θ' e_θ`, `r = r r̂`, `de_r/dt = θ' e_θ`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.names import ARROW, Scope, canonical
from derive.notation.tree import Span

_HAT = "\u0302"
_TURNING = {"e_r": "r" + _HAT, "e_θ": "θ" + _HAT}
_ENDS = ("rel", "comma", "semicolon", "colon", "join", "arrow")


def with_polar(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """With hats for e_r and e_θ, and an arrow over the r that is given by them, or is multiplied with a vector: the
    other r is its size. So it is with the first F of `F = -F e_r`, `g = -g j`."""
    out = [_hatted(x, scope) for x in lexemes]
    if not scope.quick:
        return out
    over = {*_wholes(out, scope)}
    if any(n.endswith(ARROW) for n in scope.symbols):
        over |= {*_factors(out, scope), *_opposite(out, scope)}
    return [_with_arrow(x) if k in over else x for k, x in enumerate(out)]


def _hatted(x: Lexeme, scope: Scope) -> Lexeme:
    """`e_r`, `de_θ`, `e_r'`, where nobody has said what these are."""
    if x.kind != "run" or "e" not in x.text:
        return x
    d = "d" if x.text.startswith("de_") else ""
    stem = x.text.removeprefix(d).rstrip("'")
    hat = _TURNING.get(canonical(stem)) if stem else None
    if hat is None or scope.knows(canonical(stem)):
        return x
    at = len(d)
    primes = x.text[at + len(stem):]
    places = x.places or (x.span,) * len(x.text)
    whole = Span(places[at].start, places[at + len(stem) - 1].end)
    return replace(x, text=d + hat + primes, places=(*places[:at], whole, whole, *places[at + len(stem):]))


def _wholes(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[int]:
    """The r that is all of a side, and the one of a `dr/dt` or `d²r/dt²` that is, where another side has a hat; of
    other letters, those that stand there again."""
    ends = [-1, *(k for k, x in enumerate(lexemes) if x.kind in _ENDS), len(lexemes)]
    sides = [range(first + 1, last) for first, last in pairwise(ends)]
    along = [
        lexemes[k].text for side in sides if _has_direction(lexemes[side.start:side.stop]) for k in side]
    for side in sides if along else ():
        at = _all_of(lexemes[side.start:side.stop])
        if at < 0:
            continue
        letter = lexemes[side[at]].text.rstrip(_MARKS)[-1:]
        if not scope.is_vector(letter) and (letter == "r" or letter in along):
            yield side[at]


_MARKS = "'\u0307\u0308"


def _has_direction(side: Sequence[Lexeme]) -> bool:
    """A hat, or an i or j behind all the rest."""
    return any(_HAT in x.text for x in side if x.kind == "run") or (
        len(side) > 1 and side[-1].text in ("i", "j") and side[-2].kind in ("run", "number"))


def _all_of(side: Sequence[Lexeme]) -> int:
    """The place of the one letter, or of the rate of one, that is all of a side; -1 where more is."""
    texts = [x.text for x in side]
    if len(texts) == 1 and side[0].kind == "run" and len(texts[0].rstrip(_MARKS)) == 1:
        return 0
    if len(texts) == 3 and len(texts[0]) == 2 and texts[0][0] == "d" and texts[1:] == ["/", "dt"]:
        return 0
    squared = [t for t in texts if t not in ("^", "2")]
    twice = len(squared) == 4 and squared[0] == "d" and len(squared[1]) == 1 and squared[2:] == ["/", "dt"]
    return texts.index(squared[1]) if twice else -1


def _factors(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[int]:
    """The r of `r × F`, `r·v`, `m r × v`, and the F, where both letters stand for sizes as well."""
    for k in range(1, len(lexemes) - 1):
        if lexemes[k].kind == "times" and lexemes[k].text in "×·":
            for one, other in ((k - 1, k + 1), (k + 1, k - 1)):
                if _has_arrow(lexemes[one], scope) and (
                        _has_arrow(lexemes[other], scope) or _is_directed(lexemes[other], scope)):
                    yield one


def _opposite(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[int]:
    """The F of `m a = F`, the g of `m dv/dt = m g`: opposite to a vector stands another."""
    ends = [-1, *(k for k, x in enumerate(lexemes) if x.kind in _ENDS), len(lexemes)]
    sides = [range(first + 1, last) for first, last in pairwise(ends)]
    if any(x.text in ("×", "·") or x.kind in ("bar", "raised", "caret") for x in lexemes):
        return
    directed = [any(_is_directed(lexemes[k], scope) for k in side) for side in sides]
    for side, known in zip(sides, directed, strict=True):
        own = [k for k in side if _has_arrow(lexemes[k], scope)]
        if any(directed) and not known and len(own) == 1:
            yield own[0]


def _has_arrow(x: Lexeme, scope: Scope) -> bool:
    """Is it a letter of which there is a vector and a size?"""
    return x.kind == "run" and scope.is_vector(x.text + ARROW)


def _is_directed(x: Lexeme, scope: Scope) -> bool:
    return x.kind == "run" and (_HAT in x.text or ARROW in x.text or scope.is_vector(
        canonical(x.text.removeprefix("d").rstrip(_MARKS) or x.text)))


def _with_arrow(x: Lexeme) -> Lexeme:
    at = len(x.text.rstrip(_MARKS)) - 1
    places = x.places or (x.span,) * len(x.text)
    return replace(x, text=f"{x.text[:at + 1]}{ARROW}{x.text[at + 1:]}", places=(
        *places[:at + 1], places[at], *places[at + 1:]))
