"""Words by which a writer says that a line is drawn from those above, and brings in nothing of its own."""

from __future__ import annotations

# Joining words that claim a line follows from what stands above it.
CLAIMING = (
    "so", "hence", "thus", "therefore", "then", "⇒", "=>", "∴", "gives", "means", "i.e.", "i.e", "ie", "implies",
    "yields")
# What is done with lines above, at the head of one (common practice, no source).
_DONE = frozenset((
    "dividing", "divide", "eliminating", "eliminate", "substituting", "substitute", "subtracting", "subtract",
    "equating", "rearranging", "rearrange", "simplifying", "simplify", "squaring", "multiplying", "cancelling"))


def says_drawn(words: str) -> bool:
    """`so a = F/m`, `dividing: v²/(r g) = tan θ`."""
    said = words.lower().replace(",", " ").replace(":", " ").split()
    return any(w in CLAIMING for w in said) or bool(said and said[0] in _DONE)
