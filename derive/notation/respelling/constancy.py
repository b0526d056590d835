"""What is said to stay: `E is conserved`, `E = K + U, E constant`, read as an equation like any other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, takewhile

from derive.notation.lexemes.letters import is_letter, split
from derive.notation.lexemes.scanning import ENDS_CLAUSE, Lexeme
from derive.notation.lists.vocabulary import JOINING, PROSE
from derive.notation.names import Scope, canonical

_STAYS = frozenset(("is", "stays", "remains"))
_DRAWING = frozenset(("so", "hence", "thus", "therefore", "then", "and"))  # and not `with P constant`
_CONSTANT = frozenset(("constant", "const", "conserved"))
_WORDS = PROSE | JOINING | _STAYS
_LETTERS = 3  # of a product typed without spaces: mgh


def with_constancy(lexemes: list[Lexeme], scope: Scope) -> list[Lexeme]:
    """`E is conserved`, `m r² θ' stays constant`: said of what is known by name, an equation like any other; and of a
    letter that is not, where no more is said (`P constant`)."""
    parts = _parted(lexemes)
    spoken = [x.text for part in parts for x in part[1 if len(part) < 4 else 0:]]
    heads = [after[0].kind == "colon" for after in parts[1:]] + [False]  # `v constant: F = q v` opens a case
    out = [x for part, head in zip(parts, heads, strict=False) for x in (
        part if head else _of_one_name(part, scope, spoken, part[0] is lexemes[0]))]
    for at in range(len(out) - 2, 0, -1):
        verb, what = out[at], out[at + 1]
        if what.text.lower() in _CONSTANT and _ends_a_relation(out[:at + 1]) and (
                at + 2 == len(out) or out[at + 2].kind in ENDS_CLAUSE):  # `L = m r² ω const`
            const = replace(what, text="const", places=what.places[:5])
            out[at + 1:at + 2] = [Lexeme("rel", "=", what.span, True), const]
            continue
        if verb.text.lower() not in _STAYS or what.text.lower() not in _CONSTANT or scope.knows(verb.text):
            continue
        after = out[at + 2] if at + 2 < len(out) else None
        ends = after is None or after.kind in ENDS_CLAUSE or after.text.lower() in JOINING
        if ends and _is_called(out[:at], scope):
            out[at:at + 2] = [Lexeme("rel", "=", verb.span, True), replace(what, text="const", places=what.places[:5])]
    return out


def _ends_a_relation(before: Sequence[Lexeme]) -> bool:
    """Does mathematics without a word, ended by a letter, a figure or a bracket, stand behind an equals sign?"""
    side = list(takewhile(lambda x: x.kind != "rel", reversed(before)))
    equals = before[-len(side) - 1] if len(side) < len(before) else None
    plain = bool(side) and side[0].kind in ("number", "close", "run") and not any(
        _ends(x) or x.text.lower() in _WORDS or (x.kind == "run" and _is_wordy(x.text)) for x in side)
    return plain and equals is not None and equals.text == "="


def _is_wordy(typed: str) -> bool:
    return len(typed) > _LETTERS and typed.isalpha() and canonical(typed) == typed  # `omega` is a letter


def _of_one_name(part: list[Lexeme], scope: Scope, spoken: Sequence[str], opens: bool) -> list[Lexeme]:
    """`E constant`, by itself or behind a comma, where `a constant` is none of a name."""
    first, last, between = part[0], part[-1], [x.text.lower() for x in part[1:-1]]
    name = canonical(first.text)
    known = scope.knows(name) or (scope.quick and len(name.partition("_")[0]) == 1)
    named = first.kind == "run" and is_letter(first.text[0]) and (
        first.text in spoken or (known and (opens or first.text not in ("a", "A"))))
    if not named or len(part) not in (2, 3) or last.text.lower() not in _CONSTANT or not _STAYS.issuperset(between):
        return part
    return [first, Lexeme("rel", "=", part[1].span, True), replace(last, text="const", places=last.places[:5])]


def _parted(lexemes: Sequence[Lexeme]) -> list[list[Lexeme]]:
    """The parts of a line between its commas, joining words and the like, each of which stands by itself."""
    parts: list[list[Lexeme]] = []
    for x in lexemes:
        if _ends(x) or not parts or _ends(parts[-1][-1]):
            parts.append([])
        parts[-1].append(x)
    return parts


def _ends(x: Lexeme) -> bool:
    return x.kind in ENDS_CLAUSE or x.text.lower() in _DRAWING


def _is_called(before: Sequence[Lexeme], scope: Scope) -> bool:
    """Does mathematics of known names stand there by itself, or a name of several words? `the acceleration a is
    constant` is a sentence."""
    clause = takewhile(lambda x: x.kind not in ENDS_CLAUSE and x.text.lower() not in JOINING, reversed(before))
    said = list(clause)[::-1]
    runs = [x for x in said if x.kind == "run" and x.text.lower() not in ("the", "its", "this")]
    if scope.knows(canonical("_".join(x.text for x in runs))):
        return True
    if not runs or any(x.text.lower() in PROSE and not scope.knows(canonical(x.text)) for x in runs):
        return False
    pieces = [p for x in runs for p in split(x.text, scope)]
    named = {canonical(x.text) for x, sign in pairwise(before) if sign.text == "="} if scope.quick else set()
    return all(p.kind != "unknown" and (p.kind != "name" or scope.knows(p.ident) or p.ident in named) for p in pieces)
