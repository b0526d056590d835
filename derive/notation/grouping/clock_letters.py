"""Whether a t behind a number is the time or tonnes, where nobody has declared it."""

from __future__ import annotations

import re

from derive.notation.grammar import raw
from derive.notation.names import TIME

_TIMES = re.compile(r"(?<![^\W\d_])t(?![^\W\d_])")


def is_time(part: raw.RawFactor | raw.RawJoined) -> bool:
    """Is it a t, or a power of one?"""
    factor = part.factor if isinstance(part, raw.RawJoined) else part
    while isinstance(factor, raw.RawPower):
        factor = factor.base
    return isinstance(factor, raw.RawLetters) and factor.run.text == TIME


def time_comes_back(line: str) -> bool:
    """`20 t - 4.9 t²`: what stands there twice is the time and no tonnes."""
    return len(_TIMES.findall(line)) > 1


def time_goes_on(part: raw.RawFactor | raw.RawJoined, number: raw.RawNumber, line: str) -> bool:
    """`3 - 0.5t` below `v = 3t - 0.25t²`; `m = 2.5 t` stays one mass, whatever stands above."""
    spaced = number.span.end < part.span.start
    before = line[:number.span.start].rstrip()
    alone = before.endswith("=") and not line[part.span.end:].strip(" .,;")
    return not (spaced and alone)
