"""What a working says at a glance, so that those that begin alike can be handed to one worker.

Whoever has judged a beginning once need not judge it again. Only speed hangs on this: two workings that look alike
here are still read and judged each by itself.
"""

from __future__ import annotations

import re
import unicodedata

from derive.notation.names import GREEK
from derive.text.document import read_document

_WORD = re.compile("|".join(sorted(GREEK, key=len, reverse=True)))
_OPENING = re.compile(r"(?:so|hence|then|thus|therefore|also|and|now|∴|⇒|=>)\s*", re.IGNORECASE)
_FOLDED = str.maketrans({"·": "*", "−": "-", "≤": "<=", "≥": ">=", "ℓ": "l"})
# As far as workings are compared: few share more than this.
_BYTES, _LINES, _LETTERS = 20_000, 40, 200


def likeness(data: bytes) -> tuple[str, ...]:
    """The lines of a working without labels, reasons, spacing and other ways of typing the same signs."""
    try:
        lines = read_document(data[:_BYTES], "").working
    except Exception:  # noqa: BLE001  the worker that marks it will say so; the others must not suffer
        return ()
    return tuple(_plain(x.text[x.body.start : x.body.end]) for x in lines[:_LINES] if not x.remark)


def _plain(text: str) -> str:
    folded = unicodedata.normalize("NFKC", _OPENING.sub("", text[:_LETTERS].strip(), count=1)).translate(_FOLDED)
    return "".join(_WORD.sub(lambda word: GREEK[word[0]], folded).replace("**", "^").split()).replace("*", "")
