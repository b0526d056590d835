"""Unit vectors that turn along, as they are typed: `v = r' e_r + r θ' e_θ`, `r = r r̂`, `de_r/dt = θ' e_θ`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.vocabulary import JOINING, PROSE
from derive.notation.names import ARROW, Scope, canonical
from derive.notation.tree import Span

_HAT = "\u0302"
_TURNING = {"e_r": "r" + _HAT, "e_θ": "θ" + _HAT}
_ENDS = ("rel", "comma", "semicolon", "colon", "join", "arrow")


def with_polar(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """With hats for e_r and e_θ, and an arrow over the r that is given by them, or is multiplied with a vector: the
    other r is its size. So it is with the first F of `F = -F e_r`, `g = -g j`, `F = F (cos α, sin α)`."""
    out = [_hatted(x, scope) for x in lexemes]
    if not scope.quick:
        return out
    over = {*_wholes(out, scope)}
    if any(ARROW in n for n in scope.symbols):
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
    other names, those that stand there again, and so where it has components."""
    sides = _parted(lexemes, range(len(lexemes)), _ENDS)
    pointing = [lexemes[side.start:side.stop] for side in sides if _has_direction(lexemes[side.start:side.stop])]
    along = [x.text for side in pointing for x in side if x.kind == "run"]
    hatted = any(_HAT in text for text in along)
    for side in sides if along else ():
        at = _all_of(lexemes[side.start:side.stop])
        if at < 0:
            continue
        name = _plain(lexemes[side[at]].text)
        again = any(text == name or _FUNCTION.match(text.removeprefix(name)) for text in along if text.startswith(name))
        if not scope.is_vector(canonical(name)) and ((name == "r" and hatted) or again):
            yield side[at]


_MARKS = "'\u0307\u0308"
_NAME = re.compile(r"d?[^\W\d_](?:_?\w{1,2})?")
_FUNCTION = re.compile("sin|cos")


def _plain(typed: str) -> str:
    """The name of `r''`, `dr`."""
    name = typed.rstrip(_MARKS)
    return name[1:] if len(name) > 1 and name[0] == "d" else name


def _parted(lexemes: Sequence[Lexeme], row: range, at: tuple[str, ...]) -> list[range]:
    """A row in parts, at signs that stand in no bracket."""
    depth, ends = 0, [row.start - 1]
    for k in row:
        depth += (lexemes[k].kind == "open") - (lexemes[k].kind == "close")
        if not depth and lexemes[k].kind in at:
            ends.append(k)
    return [range(first + 1, last) for first, last in pairwise([*ends, row.stop])]


def _has_direction(side: Sequence[Lexeme]) -> bool:
    """A hat, components, or an i or j behind all the rest."""
    runs = [x.text for x in side if x.kind == "run"]
    told = PROSE.isdisjoint(runs) and JOINING.isdisjoint(runs)  # and not `(s in m, t in s)`
    return any(_HAT in text for text in runs) or (told and any(x.kind == "comma" for x in side)) or (
        len(side) > 1 and side[-1].text in ("i", "j") and side[-2].kind in ("run", "number"))


def _all_of(side: Sequence[Lexeme]) -> int:
    """The place of the one name, or of the rate of one, that is all of a side; -1 where more is."""
    texts = [x.text for x in side]
    if len(texts) == 1 and side[0].kind == "run" and _NAME.fullmatch(texts[0].rstrip(_MARKS)):
        return 0
    if len(texts) == 3 and texts[0][:1] == "d" and texts[1:] == ["/", "dt"]:
        return 0
    squared = [t for t in texts if t not in ("^", "2")]
    twice = len(squared) == 4 and squared[0] == "d" and squared[2:] == ["/", "dt"]
    return texts.index(squared[1]) if twice else -1


def _factors(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[int]:
    """The r of `r × F`, `r·v`, `m r × v`, `|dr/dt|`, and the F, where both letters stand for sizes as well."""
    for k in range(1, len(lexemes) - 1):
        if lexemes[k].kind == "times" and lexemes[k].text in "×·":
            for one, other in ((k - 1, k + 1), (k + 1, k - 1)):
                if _has_arrow(lexemes[one], scope) and (
                        _has_arrow(lexemes[other], scope) or _is_directed(lexemes[other], scope)):
                    yield one
        elif lexemes[k - 1].kind == "bar" and _has_arrow(lexemes[k], scope) and lexemes[k + 1].kind in ("slash", "bar"):
            yield k


def _opposite(lexemes: Sequence[Lexeme], scope: Scope) -> Iterator[int]:
    """The F of `m a = F`, the g of `m dv/dt = m g`, both of `T1 + T2 + W = 0`: opposite to a vector, or beside one as
    another term, stands another."""
    if any(x.text in ("×", "·") or x.kind in ("bar", "raised", "caret") for x in lexemes):
        return
    terms = [term for side in _parted(lexemes, range(len(lexemes)), _ENDS)
             for term in _parted(lexemes, side, ("plus", "minus"))]
    directed = [any(_is_directed(lexemes[k], scope) or lexemes[k].kind == "comma" for k in term) for term in terms]
    for term, known in zip(terms, directed, strict=True):
        own = [k for k in term if _has_arrow(lexemes[k], scope)]
        if any(directed) and not known and len(own) == 1:
            yield own[0]


def _has_arrow(x: Lexeme, scope: Scope) -> bool:
    """Is it a name of which there is a vector and a size?"""
    name = _plain(x.text) if x.kind == "run" else ""
    return bool(name) and scope.is_vector(canonical(f"{name[0]}{ARROW}{name[1:]}"))


def _is_directed(x: Lexeme, scope: Scope) -> bool:
    return x.kind == "run" and (_HAT in x.text or ARROW in x.text or scope.is_vector(canonical(_plain(x.text))))


def _with_arrow(x: Lexeme) -> Lexeme:
    at = len(x.text.rstrip(_MARKS)) - len(_plain(x.text)) + 1
    places = x.places or (x.span,) * len(x.text)
    return replace(x, text=f"{x.text[:at]}{ARROW}{x.text[at:]}", places=(*places[:at], places[at - 1], *places[at:]))
