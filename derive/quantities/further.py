"""What rows of `Symbols:` say further of symbols that stand above: `all positive`, `g > 0`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import get_args

from derive.notation.names import canonical
from derive.records import Signed, Symbol

SIGNS: Mapping[str, Signed] = {
    **{name: name for name in get_args(Signed)},
    "non-negative": "nonnegative", "non-positive": "nonpositive", "non-zero": "nonzero",
    "not negative": "nonnegative", "not zero": "nonzero",
}
_BUT = r"(?:but|except(?:\s+for)?|apart\s+from|other\s+than)"
_OF_ALL = re.compile(
    rf"(?:they\s+are\s+)?(?:all|everything)(?:\s+(?:of\s+them|others|else|constants|quantities|symbols))?"
    rf"(?:\s+{_BUT}\s+(?P<but>[\w\s,']+?))?(?:\s+(?:are|is))?\s+(?P<sign>[a-z\s-]+?|>\s*0|≥\s*0)"
    rf"(?:,?\s+\(?{_BUT}\s+(?P<except>[\w\s,']+?)\)?)?\s*\.?\Z", re.IGNORECASE)
_LONGEST = 200
_COMPARED: Mapping[str, Signed] = {">0": "positive", "≥0": "nonnegative"}


def sign_of_all(text: str) -> tuple[Signed, frozenset[str]] | None:
    """`all positive`, `all positive except E`: said of all that stands above, but for some."""
    found = _OF_ALL.match(text.strip()[:_LONGEST])
    sign = found["sign"].lower() if found is not None else ""
    said = SIGNS.get(sign) or _COMPARED.get(sign.replace(" ", ""))
    if found is None or said is None:
        return None
    apart = re.split(r"[,\s]+", found["but"] or found["except"] or "")
    return said, frozenset(canonical(n) for n in apart if n not in ("", "and"))


_OF_NAMES = re.compile(
    r"(?P<names>[^\W\d]\w*(?:\s*(?:,|\band\b)\s*[^\W\d]\w*)*)\s+(?:(?:are|is|all)\s+)*(?P<sign>[a-z-]+)\.?\Z")


def sign_of_names(text: str) -> tuple[Signed, frozenset[str]] | None:
    """`W, P, l positive`: said of names that stand above."""
    found = _OF_NAMES.match(text.strip()[:_LONGEST])
    sign = SIGNS.get(found["sign"]) if found is not None else None
    if found is None or sign is None:
        return None
    return sign, frozenset(canonical(n) for n in re.split(r"\s*(?:,|\band\b)\s*", found["names"]))


def takes_sign(symbol: Symbol) -> bool:
    return symbol.of is None and symbol.sign == "real" and not symbol.vector


def with_more(first: Symbol, further: Symbol) -> Symbol | None:
    """`g > 0` below `a, g : m/s²`, which says more of g; None where it says again what g is."""
    if further.dimension is not None or further.of is not None or further.vector or further.whole:
        return None
    said = further.sign != "real" or further.bounds or further.typical is not None
    return replace(
        first, sign=further.sign if further.sign != "real" else first.sign, bounds=(*first.bounds, *further.bounds),
        typical=first.typical if further.typical is None else further.typical) if said else None
