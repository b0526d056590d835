"""Little words seen beside their neighbours: articles, places, shares, rates, ranges, phrases between two relations.

Each rule changes what some entries do in the line, and nothing else.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, takewhile

from derive.notation.lexemes.joined import ENERGIES
from derive.notation.lexemes.scanning import Lexeme
from derive.notation.lists.unit_names import unit_named
from derive.notation.tokens.entries import JOINT_SIGNS, Entry, is_relation, left_of, right_of, stretch
from derive.notation.tokens.verbs import moments_told, verbs_told
from derive.notation.tree import Num


def little_words(entries: list[Entry]) -> None:
    """What little words do in the line, by what stands around them; one rule after another."""
    _abbreviations(entries)
    verbs_told(entries)
    moments_told(entries)
    _articles_and_hyphens(entries)
    _changes(entries)
    _cases_pointed_at(entries)
    _places(entries)
    _shares(entries)
    _rates(entries)
    _ranges(entries)
    _phrases(entries)


def _articles_and_hyphens(entries: list[Entry]) -> None:
    """`a` before a word is the article; `x-direction` is one word."""
    wordy = ("prose", "strange")
    for at, entry in enumerate(entries):
        before, after = left_of(entries, at), right_of(entries, at)
        if entry.depth or after is None:
            continue
        first = before is None or before.kind != "math" or before.lexeme.kind in JOINT_SIGNS
        if entry.lexeme.text in ("a", "A", "I") and after.kind in wordy and first:
            entry.kind = "prose"
        hyphen = entry.lexeme.kind == "minus" and not entry.lexeme.spaced and not after.lexeme.spaced
        if hyphen and before and after.lexeme.kind == "run" and (after.kind in wordy or before.kind in wordy):
            entry.kind = before.kind = after.kind = "prose"


def _abbreviations(entries: list[Entry]) -> None:
    """`i.e.` joins; `e.g.`, `q.e.d.`, `w.r.t.` are words."""
    at = 0
    while at < len(entries):
        end = at
        while end + 2 < len(entries) and _letter_and_stop(entries, end) and not entries[end + 2].lexeme.spaced \
                and len(entries[end + 2].lexeme.text) == 1 and entries[end + 2].lexeme.kind == "run":
            end += 2
        if end > at:
            letters = "".join(e.lexeme.text.lower() for e in entries[at:end + 1:2])
            for entry in entries[at:end + 1]:
                entry.kind = "join" if letters == "ie" else "prose"
        at = end + 1


def _letter_and_stop(entries: list[Entry], at: int) -> bool:
    """A single letter with a full stop close behind it."""
    letter, stop = entries[at].lexeme, entries[at + 1].lexeme
    return letter.kind == "run" and len(letter.text) == 1 and stop.kind == "stop" and not stop.spaced


def _places(entries: list[Entry]) -> None:
    """`energy at the top = …`: what is told of a place is named, and the little word opens nothing there."""
    for at, entry in enumerate(entries):
        before, after = left_of(entries, at), right_of(entries, at)
        if entry.kind != "opening" or entry.lexeme.text != "at" or before is None or after is None:
            continue
        where = at + 2 if after.lexeme.text == "the" else at + 1
        told = before.kind in ("prose", "strange") or (before.lexeme.text in ENERGIES and before.depth == 0)
        ended = where + 1 < len(entries) and entries[where + 1].lexeme.text == "="
        if told and ended and entries[where].kind in ("prose", "strange"):
            entry.kind = "prose"


_CHANGES = frozenset(("loss", "gain", "change", "increase", "decrease", "rise", "drop", "fall", "difference"))


def _changes(entries: list[Entry]) -> None:
    """`gain in KE`: the little word opens nothing there."""
    for before, entry in pairwise(entries):
        if before.lexeme.text.lower() in _CHANGES and entry.lexeme.text.lower() in ("in", "of"):
            before.kind = entry.kind = "prose"


_POINTING = frozenset(("this", "that", "which", "such", "either", "both", "each", "any", "every"))


def _cases_pointed_at(entries: list[Entry]) -> None:
    """`in that case F = m g/3`: a case that is open already, so nothing is opened there."""
    for at, entry in enumerate(entries):
        before = entries[at - 1] if at else None
        if entry.lexeme.text.lower() not in ("case", "cases") or before is None or (
                before.lexeme.text.lower() not in _POINTING):
            continue
        entry.kind = before.kind = "prose"
        if at > 1 and entries[at - 2].lexeme.text.lower() in ("in", "for"):
            entries[at - 2].kind = "prose"


def _shares(entries: list[Entry]) -> None:
    """`40 % of K`, `2/3 of m g h`: the little word multiplies."""
    for at, entry in enumerate(entries):
        before, after = left_of(entries, at), right_of(entries, at)
        if entry.kind != "prose" or entry.lexeme.text != "of" or before is None or after is None:
            continue
        share = before.kind == "math" and (before.lexeme.kind == "number" or before.lexeme.text in ("%", "‰"))
        if share and after.kind == "math" and after.lexeme.kind in ("run", "open"):
            entry.kind, entry.lexeme = "math", replace(entry.lexeme, kind="times", text="*", value=None, places=())


_SUBJECTS = frozenset(("we", "one", "you", "this", "it"))


def _phrases(entries: list[Entry]) -> None:
    """`since v' = v dv/dx we have m v dv/dx = -b v`: a phrase of its own between two relations joins them."""
    for at, entry in enumerate(entries):
        if entry.kind != "prose" or entry.lexeme.text.lower() not in _SUBJECTS or not at or entry.depth:
            continue
        phrase = list(takewhile(lambda e: e.kind == "prose", entries[at:]))
        stretches = (stretch(entries, at, -1), stretch(entries, at + len(phrase) - 1, 1))
        if all(s and s[0].kind == "math" and any(map(is_relation, s)) for s in stretches) and not is_relation(
                stretches[1][0]):
            for e in phrase:
                e.kind = "join"


_POWERS = frozenset(("squared", "cubed"))


def _rates(entries: list[Entry]) -> None:
    """`20 metres per second`, `9.8 metres per second squared`: between units the word divides, and raises."""
    for at, entry in enumerate(entries):
        before, after = left_of(entries, at), right_of(entries, at)
        if entry.lexeme.text != "per" or before is None or after is None or not _is_unit(before) or (
            unit_named(after.lexeme.text) is None
        ):
            continue
        entry.kind, entry.lexeme = "math", replace(entry.lexeme, kind="slash", text="/", value=None, places=())
        after.kind = "math"
        power = right_of(entries, at + 1)
        if power is not None and power.lexeme.text in _POWERS:
            figure = 2 if power.lexeme.text == "squared" else 3
            number = Lexeme("number", str(figure), power.lexeme.span, value=Num(Fraction(figure)))
            power.kind, power.lexeme = "math", replace(
                power.lexeme, kind="raised", text=str(figure), value=(number,), places=(), spaced=False)


def _is_unit(entry: Entry) -> bool:
    return entry.kind == "math" and entry.lexeme.kind == "run" and unit_named(entry.lexeme.text) is not None


def _ranges(entries: list[Entry]) -> None:
    """`from … to …` belongs to mathematics after an integral sign or `runs`; otherwise they are words."""
    open_range = waiting = False
    for at, entry in enumerate(entries):
        word = entry.lexeme.text.lower()
        if entry.lexeme.kind == "integral" or entry.kind == "runs":
            open_range = True
        elif entry.kind == "prose" and word == "from" and open_range:
            entry.kind, waiting, open_range = "from", True, False
        elif entry.kind == "prose" and word == "to" and waiting:
            entry.kind, waiting = "to", False
        elif entry.kind == "prose" and word == "over" and open_range:
            signs = [e for e in entries[at + 1:] if e.lexeme.kind == "rel"][:2]
            if len(signs) == 2 and all(e.lexeme.text in "<≤" for e in signs):
                entry.kind, open_range = "over", False
    finished = any(entry.kind == "to" for entry in entries)
    for entry in entries:  # no `to` came: the words were only words
        if (waiting and entry.kind == "from") or (not finished and entry.kind == "runs"):
            entry.kind = "prose"
