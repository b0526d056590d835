"""Values told in a sentence: `Two crates m1 = 2 kg and m2 = 3 kg joined by a rope over a wheel of radius R = 0.1 m`.

Where a line of a working without declarations is a sentence, words that no list knows are words all the same, and what
it gives by an equals sign is read as it would be in a row of values. A line may also list the values that one name has.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from derive.notation.lexemes.letters import FUNCTIONS
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.lists.vocabulary import JOINING, OPENING
from derive.notation.names import Scope, canonical

# A sentence has at least so many words beside its values.
_SENTENCE = 5
_LONGEST_NAME = 3
_SHARES = frozenset("%‰")
_OF_UNITS = frozenset(("slash", "caret", "raised", "minus"))


def values_told(lexemes: Sequence[Lexeme], scope: Scope) -> list[Lexeme] | None:
    """The values of a sentence with commas between them; None where it gives none, or something else besides."""
    if not scope.quick:
        return None
    told: list[Lexeme] = []
    words = at = 0
    while at < len(lexemes):
        end = value_at(lexemes, at)
        if end:
            told += [Lexeme("comma", ",", lexemes[at].span), *lexemes[at:end]] if told else lexemes[at:end]
            at = end
            continue
        if lexemes[at].kind not in ("run", "comma", "stop", "number", "unit", "semicolon"):
            return None
        words += _is_word(lexemes[at], scope)
        at += 1
    return told if told and words >= _SENTENCE else None


_BETWEEN = ("comma", "semicolon", "colon")


def without_mere_words(lexemes: Sequence[Lexeme], scope: Scope) -> list[Lexeme] | None:
    """`ball: m = 0.4 kg, hits wall at 12 m/s, bounces` and `m = 2 kg hung on it: x = 3.9 cm` without what only tells:
    clauses of words and of measures that nothing is said to be, and words behind a value. None where there are none, or
    where nothing else is left."""
    if not scope.quick:
        return None
    kept: list[Lexeme] = []
    changed = False
    for clause, sign in _clauses(lexemes):
        end = next((e for k in range(len(clause)) if (e := value_at(clause, k)) and (
            not k or _only_told(clause[:k], scope))), 0)
        if not any(x.kind == "rel" for x in clause):
            cut = 0 if _only_told(clause, scope) else len(clause)
        else:
            cut = end if end and _only_told(clause[end:], scope) else len(clause)
        changed |= cut < len(clause)
        kept += [*clause[:cut], *sign] if cut else []
    while kept and kept[-1].kind in _BETWEEN:
        kept.pop()
    return kept if changed and any(x.kind == "rel" for x in kept) else None


def _clauses(lexemes: Sequence[Lexeme]) -> Iterator[tuple[list[Lexeme], list[Lexeme]]]:
    """The stretches of a line between its commas and colons, each with the sign behind it."""
    start = depth = 0
    for at, x in enumerate(lexemes):
        depth += (x.kind == "open") - (x.kind == "close")
        if x.kind in _BETWEEN and not depth:
            yield list(lexemes[start:at]), [x]
            start = at + 1
    yield list(lexemes[start:]), []


def _only_told(some: Sequence[Lexeme], scope: Scope) -> bool:
    """Words, one at least, that open no condition, and numbers with their units among them."""
    at = words = 0
    while at < len(some):
        end = measure_at(some, at)
        word = _is_word(some[at], scope) or some[at].text.lower() in ("in", "at", "to", "from", "a")
        if not end and not word:
            return False
        words += not end
        at = end or at + 1
    first = some[0].text.lower() if some else ""
    return words > 0 and first not in (*OPENING, *JOINING, "not", "no")


def value_at(lexemes: Sequence[Lexeme], at: int) -> int:
    """Where a value that begins here ends: a short name, an equals sign, a number and its unit; 0 for none."""
    if at + 2 >= len(lexemes) or lexemes[at].kind != "run" or lexemes[at + 1].text != "=" or (
            len(lexemes[at].text) > _LONGEST_NAME):
        return 0
    return measure_at(lexemes, at + 2)


def measure_at(lexemes: Sequence[Lexeme], at: int) -> int:
    """Where a number with its unit that begins here ends; 0 for none."""
    end = at + (at < len(lexemes) and lexemes[at].kind == "minus")
    if end >= len(lexemes) or lexemes[end].kind != "number":
        return 0
    end += 1
    while end < len(lexemes) and _of_a_unit(lexemes, end):
        end += 1
    return end


def _of_a_unit(lexemes: Sequence[Lexeme], at: int) -> bool:
    here, before = lexemes[at], lexemes[at - 1]
    if here.kind == "run":
        named_next = at + 1 < len(lexemes) and lexemes[at + 1].text == "=" and before.kind != "slash"
        return unit_named(here.text) is not None and not named_next and here.text not in ("at", "a")
    if here.kind == "number":
        return before.kind in ("caret", "minus")
    return here.kind in ("unit", *_OF_UNITS)


def _is_word(lexeme: Lexeme, scope: Scope) -> bool:
    text = lexeme.text
    return lexeme.kind == "run" and text.isalpha() and len(text) > 1 and text not in FUNCTIONS and not (
        scope.knows(canonical(text))) and text.lower() not in (JOINING - {"and", "with", "where", "which", "that"})


def roots_listed(lexemes: Sequence[Lexeme]) -> list[Lexeme] | None:
    """`λ = -1, -2` and `ω² = k/m and 3k/m` with an `or` between what a name is; None where nothing is listed so. What
    follows begins with a figure, and is no share of what stands before it (`loss = 9 J, 60 %`)."""
    last = next((k for k in range(len(lexemes) - 1, -1, -1) if lexemes[k].kind == "rel"), None)
    if last is None or lexemes[last].text != "=":
        return None
    out, depth, found = list(lexemes), 0, False
    for at in range(last + 1, len(out)):
        depth += (out[at].kind == "open") - (out[at].kind == "close")
        if depth == 0 and (out[at].kind == "comma" or out[at].text == "and"):
            value = next((x for x in out[at + 1:] if x.kind not in ("minus", "plusminus")), None)
            if value is None or not (value.kind in ("number", "root", "fraction") or value.text in ("π", "pi")):
                return None
            out[at] = replace(out[at], kind="run", text="or", places=(out[at].span,) * 2)
            found = True
    return out if found and not any(x.text in _SHARES for x in out[last:]) else None
