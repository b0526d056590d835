"""Why a line cannot be read, as a value on its way out. Raised and caught inside this room only."""

from __future__ import annotations

from difflib import SequenceMatcher

from derive.notation.names import GREEK, Scope, canonical
from derive.notation.tree import Span

_LOOK_ALIKES = {"w": "ω", "u": "μ", "p": "ρ", "v": "ν", "n": "η", "o": "θ", "q": "θ", "a": "α", "b": "β",
                "y": "γ", "d": "δ", "e": "ε", "f": "φ", "t": "τ", "x": "χ", "k": "κ", "l": "λ", "r": "ρ", "s": "σ"}


class ReadError(Exception):
    """Carried from where reading stopped to derive.notation.reader, which makes it an `Unreadable`."""

    def __init__(self, span: Span, expected: str, nearest: str = "") -> None:
        super().__init__(expected)
        self.span, self.expected, self.nearest = span, expected, nearest


def unknown_name(typed: str, span: Span, scope: Scope) -> ReadError:
    """A name that is not declared, with the declared one that looks most like it."""
    return ReadError(span, f"a declared name; ‘{typed[:40]}’ is not declared", nearest_name(typed, scope))


def nearest_name(typed: str, scope: Scope) -> str:
    """The declared name that a reader might have meant by `typed`, or ''."""
    name = canonical(typed[:40])
    best, best_score = "", 0.0
    for known in scope.symbols:
        score = _likeness(name, known)
        if score > best_score:
            best, best_score = known, score
    return best if best_score >= 0.5 else ""


def _likeness(name: str, known: str) -> float:
    """1 for the same name, 0 for nothing in common; look-alikes and lost subscripts count as near."""
    if name.casefold() == known.casefold():
        return 0.95
    stem, known_stem = name.partition("_")[0].rstrip("'"), known.partition("_")[0].rstrip("'")
    if _LOOK_ALIKES.get(stem) == known_stem or _LOOK_ALIKES.get(known_stem) == stem:
        return 0.9 if name[len(stem):] == known[len(known_stem):] else 0.6
    if stem == known_stem:
        return 0.6 + 0.3 * SequenceMatcher(None, name, known).ratio()
    spelled = {sign: word for word, sign in GREEK.items()}
    return 0.9 * SequenceMatcher(None, spelled.get(name, name), spelled.get(known, known)).ratio()
