"""Quantities named in words: `work done = …`, `lost = KE before - KE after`, `Σ F_y`; several entries made one name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import dropwhile

from derive.notation.lexemes.joined import ENERGIES
from derive.notation.lexemes.letters import split
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.vocabulary import PROSE
from derive.notation.names import Scope, canonical
from derive.notation.tokens.entries import Entry
from derive.notation.tree import Span

_WORDY = ("prose", "strange")
_LITTLE_WORDS = frozenset(("the", "a", "an", "is", "its", "this", "now"))
# What a sentence begins with before it comes to the quantity: `we get time = 2 s`.
_BEFORE_IT = frozenset(("we", "one", "you", "get", "gets", "find", "finds", "have", "obtain", "write", "that", "here"))


def with_worded_sides(entries: list[Entry], first: int, last: int, scope: Scope) -> list[Entry]:
    """The entries with the words before the first relation sign, and all of them behind the last, as one name."""
    end = _without_power(entries, first)
    named, ended = _named_in_words(entries[:end], scope), _only_words(entries[last + 1:])
    if ended is None and scope.quick and first == 1 and last == 1:
        ended = _one_word(entries[2:], scope)
    before = [named, *entries[end:first]] if named is not None else entries[:first]
    after = [ended] if ended is not None else entries[last + 1:]
    return [*before, *entries[first:last + 1], *after]


def _without_power(entries: list[Entry], first: int) -> int:
    """Where the words of `distance² = …` end."""
    kinds = [e.lexeme.kind for e in entries[:first]]
    return first - (1 if kinds[-1:] == ["raised"] else 2 if kinds[-2:] == ["caret", "number"] else 0)


def _named_in_words(lead: list[Entry], scope: Scope) -> Entry | None:
    """`KE lost = …`, `work done = …`, `loss in PE = …`, `initial PE = …`: words that stand for a quantity make one name
    of it. Where names are declared, one word alone that no list of words has is rather a slip of the keyboard."""
    told = _told(lead)
    acting = len(told) > 2 and told[-2].lexeme.text in ("on", "by") and all(map(_is_word, told[:-1]))
    worded = len(told) > 1 and all(map(_is_word, told))
    listed = len(told) == 1 and told[0].kind == "prose" and told[0].lexeme.text.lower() in PROSE
    if not scope.quick and not (acting or worded or listed or _says_when(told, scope)):
        return None
    if not told or told[-1] is not lead[-1] or any(e.lexeme.kind != "run" or e.depth for e in told):
        return None
    ends = told[-1].kind in _WORDY or (len(told) > 1 and all(map(_is_word, told))) or _names_further(told)
    inside = len(told) > 2 and told[-2].lexeme.text in ("in", "of", "at") and all(map(_is_word, told[:-1]))
    if not ends and not inside and not acting:
        return None
    parts = [e.lexeme for e in told]
    if len(parts) == 1 and len(parts[0].text) < 4:
        return None
    return _one_name(told)


# What tells a quantity before from the same after (common practice, no source).
_WHEN = frozenset(("before", "after", "initially", "finally", "lost", "gained"))


def _says_when(told: list[Entry], scope: Scope) -> bool:
    """`K before = …`, `p1 after = …`: a letter that nothing is called by itself, and when it is meant."""
    if len(told) != 2 or told[1].lexeme.text.lower() not in _WHEN:
        return False
    letter = told[0].lexeme.text
    return len(letter.rstrip("0123456789")) == 1 and not scope.knows(canonical(letter))


def _only_words(side: list[Entry]) -> Entry | None:
    """`m g h = KE gained`: a last side that is a quantity in two words or more."""
    told = _told(side)
    wordy = len(told) > 1 and told[-1] is side[-1] and all(map(_is_word, told))
    return _one_name(told) if wordy and len(told) <= _MOST_WORDS else None


# What a quantity is said to be, and no quantity.
_SAID_OF_ONE = frozenset((
    "const", "constant", "conserved", "zero", "same", "fixed", "given", "unknown", "infinity", "maximum", "minimum",
    "maximal", "minimal", "equal", "small", "large", "positive", "negative", "real", "nothing", "half", "twice"))


_SHORTEST, _LONGEST = 4, 20  # letters of a word


def _one_word(side: list[Entry], scope: Scope) -> Entry | None:
    """`m = mass, d = draught` on a page without declarations: what a letter stands for."""
    (word,) = side if len(side) == 1 else (None,)
    if word is None or word.lexeme.kind != "run" or word.depth or not (
            _SHORTEST <= len(word.lexeme.text) <= _LONGEST):
        return None
    text = word.lexeme.text
    wordy = word.kind in _WORDY or split(text, scope)[0].kind == "unknown"
    return _one_name([word]) if wordy and text.isalpha() and text.lower() not in _SAID_OF_ONE else None


def _is_word(entry: Entry) -> bool:
    return entry.depth == 0 and entry.lexeme.kind == "run" and (
        entry.kind in _WORDY or entry.lexeme.text in ENERGIES)


def _names_further(told: list[Entry]) -> bool:
    """`final speed` beside a speed that is known."""
    return len(told) > 1 and len(told[-1].lexeme.text) >= 4 and told[-1].lexeme.text.lower() in PROSE and all(
        map(_is_word, told[:-1]))


# A name of more words than this is a sentence.
_MOST_WORDS = 4


def known_by_words(entries: list[Entry], scope: Scope) -> list[Entry]:
    """`lost = KE before - KE after`: a name made of several words stands wherever it is typed again."""
    out: list[Entry] = []
    at = 0
    while at < len(entries):
        if scope.quick and entries[at].lexeme.text == "Σ" and not scope.knows("Σ") and at + 1 < len(entries):
            summed = _summed(entries[at], entries[at + 1])
            out += [summed] if summed is not None else entries[at:at + 1]
            at += 2 if summed is not None else 1
            continue
        sizes = range(min(_MOST_WORDS + 1, len(entries) - at), 1, -1)
        size = next((n for n in sizes if _names_something(entries[at:at + n], scope)), 1)
        named = _one_name(_told(entries[at:at + size])) if size > 1 else None
        out.append(named or entries[at])
        at += size if named is not None else 1
    return out


def _summed(sign: Entry, what: Entry) -> Entry | None:
    """`Σ F_y`: all the forces along y, a quantity of its own."""
    if what.lexeme.kind != "run" or what.depth != sign.depth:
        return None
    whole = sign.lexeme.text + what.lexeme.text
    places = (*sign.lexeme.places, *what.lexeme.places)
    span = Span(sign.lexeme.span.start, what.lexeme.span.end)
    return replace(sign, lexeme=Lexeme("run", whole, span, sign.lexeme.spaced, places=places), kind="math")


def _names_something(entries: list[Entry], scope: Scope) -> bool:
    runs = all(e.lexeme.kind == "run" and (e.lexeme.spaced or e is entries[0]) for e in entries)
    told = _told(entries)
    return runs and len(told) > 1 and scope.knows(canonical("_".join(e.lexeme.text for e in told)))


def _told(entries: Sequence[Entry]) -> list[Entry]:
    """The words that are part of a name: `energy at the top` is called energy at top. An a may be an acceleration."""
    said = [e for e in entries if e.lexeme.text.lower() not in _LITTLE_WORDS or (
        e.kind == "math" and len(e.lexeme.text) == 1)]
    return list(dropwhile(lambda e: e.lexeme.text.lower() in _BEFORE_IT, said))


def _one_name(told: list[Entry]) -> Entry | None:
    """Several words as one name, with its places in the line."""
    parts = [e.lexeme for e in told]
    text = "_".join(x.text for x in parts) + ("_" if len(parts) == 1 else "")  # the sign keeps a word whole
    places: list[Span] = []
    for part in parts:
        places += ([Span(part.span.start, part.span.start)] if places else []) + list(part.places)
    places += [places[-1]] if len(parts) == 1 else []
    if len(places) != len(text):
        return None
    span = Span(parts[0].span.start, parts[-1].span.end)
    return replace(told[0], lexeme=Lexeme("run", text, span, parts[0].spaced, places=tuple(places)), kind="math")
