"""The same lines as somebody else would type them: labels, reasons, spacing, ASCII or Greek letters, line ends, sides
turned about, words between.

What is said stays the same, so that what a working is worth does.
"""

from __future__ import annotations

import random
import re
from collections.abc import Sequence

from tests.marking.demo_slips import REASON

_ASCII = {"ρ": "rho", "ω": "omega", "φ": "phi", "θ": "theta", "μ": "mu", "α": "alpha", "β": "beta", "π": "pi",
          "γ": "gamma", "Ω": "Omega", "λ": "lambda"}
_POWERS = {"²": "^2", "³": "^3"}
_LABEL = re.compile(r"^\s*\(\d+\)\s*")
_WORD = re.compile(r"^(so|hence|then|thus|therefore)\b\s*", re.IGNORECASE)
_CITED = re.compile(r"\(\d+\)")


def in_another_hand(lines: Sequence[str], rng: random.Random) -> str:
    """The same lines as somebody else would type them."""
    rows = [row.rstrip() for row in lines]
    cited = any(_CITED.search(_LABEL.sub("", REASON.sub("", r))) for r in rows)  # `(2)/(1) gives …` needs its labels
    rows = rng.choice(_KEEPING_LABELS if cited else (*_KEEPING_LABELS, *_WITHOUT_LABELS))(rows)
    if rng.random() < 0.5:
        rows = [_in_ascii(r) for r in rows]
    if rng.random() < 0.3:
        rows = [re.sub(r" ?= ?", "=", r) for r in rows]
    elif rng.random() < 0.3:
        rows = [re.sub(r" = ", "  =  ", r) for r in rows]
    if rng.random() < 0.2:
        rows = [f"\t{r.strip()}" for r in rows]
    gap = "\n\n" if rng.random() < 0.15 else "\n"
    end = "\r\n" if rng.random() < 0.15 else "\n"
    return ("Working:\n" + gap.join(rows) + "\n").replace("\n", end)


def _as_they_are(rows: list[str]) -> list[str]:
    return rows


def _without_reasons(rows: list[str]) -> list[str]:
    return [REASON.sub("", r) for r in rows]


def _bare(rows: list[str]) -> list[str]:
    """No labels, no reasons, no joining words in front."""
    return [_WORD.sub("", _LABEL.sub("", REASON.sub("", r)).strip()) for r in rows]


def _numbered(rows: list[str]) -> list[str]:
    """Every line numbered anew; reasons, which cite the old numbers, left out."""
    return [f"{k}. {_LABEL.sub('', REASON.sub('', r)).strip()}" for k, r in enumerate(rows, 1)]


_FACTORS = re.compile(r"(?<=[^\W\d_)²³']) (?=[^\W\d_(√])")
_AFTER_WORD = re.compile(r"(?:\b(?:sin|cos|tan|tanh|exp|ln|sqrt|at|so)|[^\W_]{2,})$")


def _with_signs(rows: list[str]) -> list[str]:
    """Bare lines with a sign between factors."""
    return [r if _speaks(r) else _FACTORS.sub(lambda m: " " if _AFTER_WORD.search(m.string[: m.start()]) else "*", r)
            for r in _bare(rows)]


def _turned_about(rows: list[str]) -> list[str]:
    """Bare lines, a sum on the left for a single quantity on the right: `m g cos θ = N`."""
    return [f"{r.split('=')[1].strip()} = {r.split('=')[0].strip()}" if _names_one(r) else r for r in _bare(rows)]


def _names_one(row: str) -> bool:
    """`N = m g cos θ`: one letter on the left, something worked out on the right, and no word."""
    return row.count("=") == 1 and bool(re.match(r"[^\W\d_]\s*=.*[\s(]", row)) and not _speaks(row)


def _speaks(row: str) -> bool:
    """Is there a word in a line that is none of the functions?"""
    return bool(re.search(r"(?!sin|cos|tan|exp|sqrt)[a-z]{3,}|\b(?:at|if|or|so)\b|[<>≤≥≈,:⇒∫]", row))


_TALK = ("# first try", "Now put this in.", "This is what was asked for first.", "Divide through.")


def _talkative(rows: list[str]) -> list[str]:
    """Bare lines with words between them, and a full stop at the end of some."""
    out: list[str] = []
    for k, row in enumerate(_bare(rows)):
        out += [_TALK[k % len(_TALK)]] if k % 3 == 1 else []
        out.append(f"{row}." if k % 4 == 2 and row[-1:].isalpha() else row)
    return out


_KEEPING_LABELS = (_as_they_are, _without_reasons)
_WITHOUT_LABELS = (_bare, _numbered, _with_signs, _turned_about, _talkative)


def _in_ascii(row: str) -> str:
    out = ""
    for k, char in enumerate(row):
        if char in _ASCII:
            before = " " if out[-1:].isalnum() and not _differential(out) else ""
            after = " " if row[k + 1 : k + 2].isalnum() and row[k + 1 : k + 2] not in _POWERS else ""
            out += before + _ASCII[char] + after
        else:
            out += _POWERS.get(char, char)
    return re.sub(r"√(?=\()", "sqrt", out).replace("·(", "*(")


def _differential(before: str) -> bool:
    """A d by itself belongs to the letter after it."""
    return before[-1:] == "d" and not before[-2:-1].isalnum()
