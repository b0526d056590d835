"""What rows of `Symbols:` say further of symbols that stand above: `all positive`, `g > 0`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import get_args

from derive.records import Signed, Symbol

SIGNS: Mapping[str, Signed] = {
    **{name: name for name in get_args(Signed)},
    "non-negative": "nonnegative", "non-positive": "nonpositive", "non-zero": "nonzero",
    "not negative": "nonnegative", "not zero": "nonzero",
}
_OF_ALL = re.compile(
    r"(?:they\s+are\s+)?all(?:\s+(?:of\s+them|others|constants|quantities|symbols))?(?:\s+are)?\s+([\w\s-]+?)\s*\.?\Z",
    re.IGNORECASE)


def sign_of_all(text: str) -> Signed | None:
    """`all positive`: said of all that stands above."""
    found = _OF_ALL.match(text.strip())
    return SIGNS.get(found.group(1).lower()) if found is not None else None


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
