"""Lists of words, written as they are read: one text with the words apart by spaces."""

from __future__ import annotations


def words(text: str) -> frozenset[str]:
    """The words of a text as a set."""
    return frozenset(text.split())
