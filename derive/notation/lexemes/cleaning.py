"""One character for one meaning: the typed line with its look-alikes folded together.

People type and paste the same sign in many ways: full-width digits, four kinds of dash, curly quotes
for primes, LaTeX commands. This room folds them and remembers for every character which columns of the
typed line it stands for. It knows nothing of names, words or grammar.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from derive.notation.lists.latex_commands import COMMANDS, DROPPED, TEXT_COMMANDS
from derive.notation.names import GREEK
from derive.notation.tree import Span


@dataclass(frozen=True, slots=True)
class Typed:
    """Folded text; character i stands for the columns `starts[i]` to `ends[i]` of the typed line."""

    text: str
    starts: tuple[int, ...]
    ends: tuple[int, ...]

    def span(self, start: int, end: int) -> Span:
        """Where the folded characters start..end (exclusive) were typed."""
        if not self.text:
            return Span(0, 0)
        if start >= len(self.text):
            return Span(self.ends[-1], self.ends[-1])
        last = max(start, min(end, len(self.text)) - 1)
        return Span(self.starts[start], self.ends[last])


_SAME = {
    **dict.fromkeys("−–—‒﹣", "-"),
    **dict.fromkeys("’‘′ʹ´`ʼ＇", "'"),
    **dict.fromkeys("”“″\"ʺ", "''"),
    "‴": "'''", "⁗": "''''",
    **dict.fromkeys("∗⋅∙•‧・", "·"),
    **dict.fromkeys("✕⨯╳", "×"),
    **dict.fromkeys("÷∕⁄", "/"),
    **dict.fromkeys("≦⩽", "≤"), **dict.fromkeys("≧⩾", "≥"),
    **dict.fromkeys("≃≅≈", "≈"), **dict.fromkeys("∼～", "~"),
    **dict.fromkeys("⟹⇨⟾", "⇒"), **dict.fromkeys("⟶⟼↦", "→"), **dict.fromkeys("⟺↔", "⇔"),
    "µ": "μ", "∆": "Δ", "∑": "Σ", "Ω": "Ω", "ϕ": "φ", "ϑ": "θ", "ϵ": "ε", "ϱ": "ρ", "ς": "σ",
    "∣": "|", "‖": "|", "⟂": "⊥", "ﹾ": "°", "˚": "°", "º": "°",
    "…": "...", "ℓ": "l",
}
# Signs that only say that something is done or ticked off, and arrows of other founts.
_SAME.update(dict.fromkeys("∎□■▢▣◻◼☐☑☒✅✓✔✗✘★☆", " "))
_SAME.update(dict.fromkeys("➔➙➛➜➝➞➡➤➨➾🡒", "→"))
_INVISIBLE = frozenset("\u200b\u200c\u200d\u2060\ufeff\u200e\u200f\u00ad\u2061\u2062\u2063\u2064")

# Marks that mean something over a letter: dot, two dots, three dots, hat, bar, tilde, arrow.
MARKS = "\u0307\u0308\u20db\u0302\u0304\u0305\u0303\u20d7"
_SAME_MARK = {"\u0305": "\u0304", "\u20d1": "\u20d7"}


def clean(line: str, start: int = 0, end: int | None = None) -> Typed:
    """Fold columns start..end of a typed line."""
    end = len(line) if end is None else end
    text: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    at = start
    while at < end:
        folded, after = _command(line, at, end) if line[at] == "\\" else (_fold(line[at]), at + 1)
        for char in folded:
            text.append(char)
            starts.append(at)
            ends.append(after)
        if not folded and unicodedata.combining(line[at]) and ends:
            ends[-1] = after
        at = after
    return Typed("".join(text), tuple(starts), tuple(ends))


def _fold(char: str) -> str:
    """The folded form of one character; '' for one that is not seen."""
    if char < "\x7f" and char not in "`\"":
        return char if char >= " " else " "
    if char in _SAME:
        return _SAME[char]
    if char in _INVISIBLE or char in "\ufe0e\ufe0f":
        return ""
    if char.isspace() or unicodedata.category(char) == "Zs":
        return " "
    if unicodedata.combining(char):
        return _SAME_MARK.get(char, char)
    kind = unicodedata.decomposition(char)
    if kind.startswith(("<wide>", "<font>", "<narrow>")):
        wide = unicodedata.normalize("NFKC", char)
        return _SAME.get(wide, wide)
    if kind and not kind.startswith("<"):
        apart = unicodedata.normalize("NFD", char)
        if len(apart) > 1 and apart[0].isalpha() and all(mark in MARKS for mark in apart[1:]):
            return "".join(_SAME_MARK.get(c, c) for c in apart)
    return char


def _command(line: str, at: int, end: int) -> tuple[str, int]:
    """A LaTeX command, folded to the sign it prints; the columns it covers end at the second value."""
    after = at + 1
    while after < end and line[after].isascii() and line[after].isalpha():
        after += 1
    name = line[at + 1:after]
    if not name:  # \, \; \! \{ \|
        following = line[after:after + 1]
        folded = {"{": "{", "}": "}", "|": "|", "%": "%", "\\": " "}.get(following, " ")
        return folded, min(after + 1, end)
    if name in DROPPED:
        # \left. prints no bracket at all
        return " ", after + 1 if name in ("left", "right") and line[after:after + 1] == "." else after
    if name in TEXT_COMMANDS and line[after:after + 1] == "{":
        close = line.find("}", after, end)
        if close >= 0:
            return " " + "".join(map(_fold, line[after + 1:close])) + " ", close + 1
    if name in COMMANDS:
        return _accent(line, after, end, COMMANDS[name]) or (COMMANDS[name], after)
    if name in GREEK:
        return GREEK[name], after
    # Not a command that is known: its letters are kept, so that the reader can point at them.
    return "\\" + name, after


def _accent(line: str, after: int, end: int, mark: str) -> tuple[str, int] | None:
    r"""`\dot{x}`, `\hat{\theta}`, `\vec F`: the mark goes after its letter."""
    if mark not in MARKS:
        return None
    at = after
    while at < end and line[at] in " {":
        at += 1
    if at >= end:
        return None
    letter, close = _command(line, at, end) if line[at] == "\\" else (_fold(line[at]), at + 1)
    if "{" in line[after:at]:
        close = line.find("}", close, end) + 1 or close
    return letter[:1] + mark + letter[1:], close
