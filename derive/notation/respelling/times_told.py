"""A number of seconds that says a moment: `after 5 s: v = 31 m/s`, `v = 31 m/s at 10 seconds`, `v after 5 s = 31 m/s`.

The t and the equals sign that are not typed are put in here, on the lexemes.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.lexemes.scanning import Kind, Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.lists.vocabulary import JOINING
from derive.notation.names import TIME, Scope, canonical
from derive.notation.tree import Span

_UNITS = frozenset(("s", "ms", "min", "h"))
_ENDS: frozenset[Kind] = frozenset(("comma", "semicolon", "colon", "stop", "join"))


def with_times_told(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """The lexemes with every such moment written out as `at t = 5 s`, and a colon between it and what is said of it."""
    out = list(lexemes)
    for at in range(len(out) - 3, -1, -1):
        word = out[at]
        told = _length(out[at + 1:at + 5], word.text.lower(), scope)
        begins = at == 0 or out[at - 1].kind in _ENDS or out[at - 1].text.lower() in JOINING
        if not told or not (begins or word.text.lower() != "in"):
            continue
        number, end = at + 1 + told - 2, at + 1 + told
        rest = out[end:]
        here = out[number].span.start
        moment = [
            _put("run", "at", here), _put("run", TIME, here), _put("rel", "=", here), out[number], _unit(out[end - 1])]
        if begins and rest and rest[0].kind not in _ENDS:
            moment.append(_put("colon", ":", rest[0].span.start))
        elif at == 1 and rest and rest[0].text == "=":  # `v after 5 s = 31 m/s`
            out[:] = [*moment, _put("colon", ":", rest[0].span.start), out[0], *rest]
            continue
        out[at:end] = moment
    return out


def _length(behind: list[Lexeme], word: str, scope: Scope) -> int:
    """How many lexemes behind `after` or `at` tell a time: `5 s`, `t = 5 s`; 0 for none."""
    if word not in ("after", "at", "in"):
        return 0
    said = [x.text for x in behind[:2]] == [TIME, "="]
    start = 2 if said else 0
    number, unit, following = (*behind[start:start + 3], None, None, None)[:3]
    if said and word == "at" and following is not None and following.kind in _ENDS:
        return 0  # typed in full
    if number is None or unit is None or number.kind != "number" or unit.kind not in ("run", "unit"):
        return 0
    if unit_named(unit.text) not in _UNITS or (len(unit.text) == 1 and _is_a_name(unit.text, word, scope)):
        return 0
    ended = following is None or following.kind in (*_ENDS, "run", "rel")
    return start + 2 if ended else 0


def _is_a_name(letter: str, word: str, scope: Scope) -> bool:
    """Could `2 h` be twice a height, `at 2 s` a place? Nobody says `after` of these but with a unit of time."""
    return scope.knows(canonical(letter)) and (word != "after" or letter != "s")


def _unit(run: Lexeme) -> Lexeme:
    """The unit of a time, which is no name, close behind its number as it may stand (`5s`)."""
    return replace(run, kind="unit", text=unit_named(run.text) or run.text)


def _put(kind: Kind, text: str, at: int) -> Lexeme:
    place = Span(at, at)
    return Lexeme(kind, text, place, True, None, (place,) * len(text) if kind == "run" else ())
