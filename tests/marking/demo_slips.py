"""Slips put into a line of a made-up class, as hurried people make them.

Only the text is changed, at one place of the last side, so that what was right is wrong whatever the line says: a
term with another sign or left out, a factor or a square too many or too few, a function for another.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator

REASON = re.compile(r"\s+(?:\[[^\]]*\]|--.*)\s*$")
# Of the whole side: these can be put anywhere.
_OVER_ALL = ("3·({})", "-({})", "({})/5", "7·({})", "({})/2")


def can_slip(row: str) -> bool:
    """A plain equation of one statement: a slip in its last side makes it wrong and touches nothing else."""
    body = REASON.sub("", row)
    words = re.search(r"\b(?:let|try|for|at|and|so|then|hence|thus|gives|i\.e\.|from)\b(?=.*=.*\b)", body)
    if body.rsplit("=", 1)[-1].strip() == "0":  # three times nothing is no slip
        return False
    return "=" in body and not re.search(r"[<>≤≥≈,⇒∫]|=>|\[", body) and not words and body.count("=") == 1


def with_slip(row: str, rng: random.Random) -> str:
    """The line with one slip in its last side."""
    reason = REASON.search(row)
    body, tail = (row[: reason.start()], row[reason.start() :]) if reason else (row, "")
    head, last = body.rsplit("=", 1)
    side = last.strip()
    inside = list(_inside(side))
    made = rng.choice(inside) if inside and rng.random() < 0.6 else rng.choice(_OVER_ALL).format(side)
    return f"{head}= {made}{tail}"


def _inside(side: str) -> Iterator[str]:
    """The side with one slip inside it."""
    for k in _top_level(side):
        yield f"{side[:k]}{'-' if side[k] == '+' else '+'}{side[k + 1 :]}"
        yield side[:k].rstrip()
    functions = re.findall(r"\b(?:sin|cos)(?=\b|[^\W\d_])", side)
    if len(set(functions)) == 1 and len(functions) == 1:
        yield side.replace(functions[0], "cos" if functions[0] == "sin" else "sin")
    if side.count("²") == 1:
        yield side.replace("²", "")


def _top_level(side: str) -> list[int]:
    """The signs between the terms of a side, outside all brackets."""
    depth, found = 0, []
    for k, char in enumerate(side):
        depth += (char in "([{") - (char in ")]}")
        if depth == 0 and char in "+-" and k and side[k - 1] == " " and side[k + 1 : k + 2] == " ":
            found.append(k)
    return found
