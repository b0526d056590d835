"""Whether the letters at the end of a chain are names or a unit, where they were declared as names."""

from __future__ import annotations

import re

from derive.notation.tree import Expr, Num, Power, Relation, names_in, walk
from derive.quantities.dimension_words import has_a_word
from derive.quantities.dimensions import Dimensions
from derive.quantities.units import UnreadUnit, parse_unit_text
from derive.records import Choice, Reading

# A coefficient before a name is a small whole number (`M = 2 m`); a quantity's number is mostly larger or a decimal.
_LARGEST_COEFFICIENT = 9
# What any unit of mechanics is made of: `m³/s²` has no word of its own.
_BASE = re.compile(r"(?:kg|m|s)(?:[²³]|\^\d)?(?:[·*/ ]+(?:kg|m|s)(?:[²³]|\^\d)?)+")


def could_be_coefficient(number: Num) -> bool:
    return number.last_digit is None and abs(number.value) <= _LARGEST_COEFFICIENT


def has_names_for_a_unit(reading: Reading, dimensions: Dimensions) -> bool:
    """`a = F/m = 3.2 m/s` by a mass m and a way s that were declared, which does not fit either: what ends in a number
    and letters that are a unit together is a value, though it be in the wrong one."""
    claims = [s.claim for s in reading.statements if isinstance(s.claim, Relation) and s.claim.signs[-1] in ("=", "≈")]
    return any(
        _is_value_by_names(c, claim.sides[-1]) and dimensions.examine_strictly(claim) is not None
        for c in reading.choices if c.kind == "unit" for claim in claims)


def _is_value_by_names(choice: Choice, end: Expr) -> bool:
    """Is a side one number, and names where a unit could stand?"""
    exponents = {id(n.exponent) for n in walk(end) if isinstance(n, Power)}
    numbers = [n for n in walk(end) if isinstance(n, Num) and id(n) not in exponents]
    within = choice.span is not None and end.span is not None and (
        end.span.start <= choice.span.start and choice.span.end <= end.span.end)
    if not within or len({*names_in(end)}) < 2 or len(numbers) != 1 or could_be_coefficient(numbers[0]):
        return False
    letters = choice.typed.lstrip("0123456789.()·* ")
    found = parse_unit_text(letters)
    return not isinstance(found, UnreadUnit) and (has_a_word(found[0]) or _BASE.fullmatch(letters) is not None)
