"""Which primed names of a working without declarations are values after an event, and no rates.

`v' = e v`, `h' = v'²/(2 g)`: after a bounce. A prime is a rate as a rule; here nothing on the page speaks of time, no
place has a prime, and one of the primed names stands squared, beside another, or less its own plain one. Whatever is
said of time, `v' = 15 m/s` is a speed, and `m a' = F` holds another acceleration.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from derive.notation.names import canonical

# A letter, or a Greek one by its name: the d and the mu of `d'`, `mu'`.
_NAMED = r"(?<![^\W\d_])(?:alpha|beta|gamma|theta|lambda|omega|sigma|mu|rho|eta|phi)"
_NAME = rf"(?:{_NAMED}|[^\W\d_])(?:_\w{{1,2}}|\d|[₀-₉])?"
_PRIMED = re.compile(rf"({_NAME})['’′](?!['’′]|[^\W²³⁴])")
_SQUARED = re.compile(r"['’′]\s*(?:²|\^\s*2|\*\*\s*2)")
# `K - K'`, `v/v'`: before and after, one and the other.
_DIFFERENCE = re.compile(r"([^\W\d_](?:_\w{1,2}|\d|[₀-₉])?)(?:\s*[-−/]\s*\1['’′]|['’′]\s*[-−]\s*\1(?!['’′\w]))")
# `v' = 15 m/s`: no rate of a speed has that unit.
_SPEED = re.compile(r"([uvwUVW](?:_\w{1,2}|\d|[₀-₉])?)['’′]\s*=\s*[-−+]?\d+(?:[.,]\d+)?\s*k?m/[sh](?!\w|[²³]|\^|\*\*)")
# `h = v'²/(2 g)`, `½ m v'²`, `v' = e v`: the speed after a bounce.
_PRIME, _SQUARE = "['’′]", r"\s*(?:²|\^\s*2|\*\*\s*2)"
_BOUNCED = re.compile(
    rf"((?:(?<![^\W\d_])|(?<=m))[uvwV](?:_\w{{1,2}}|\d|[₀-₉])?){_PRIME}(?:{_SQUARE}\s*/\s*\(?\s*2\s*g|\s*=\s*-?\s*e\s?\1(?![\w'’′]))"
    rf"|(?:½|1/2|0[.,]5)\s*[mM](?:_\w{{1,2}}|\d|[₀-₉])?\s*([uvwV](?:_\w{{1,2}}|\d|[₀-₉])?){_PRIME}{_SQUARE}")
# `μ' = 0.2`: no rate either of what stays what it is.
_STAYING = re.compile(
    rf"((?:{_NAMED}|[μmMeηρkRLlN])(?:_\w{{1,2}}|\d|[₀-₉])?)['’′]\s*=\s*[-−+]?\d+(?:[.,]\d+)?(?!\s*kg/s)")
# `ln v = -k t + c'` below one with `+ c`: a constant of integration, and a further one.
_FURTHER = re.compile(r"[-+−]\s*([cCkKdD])['’′](?=\s*(?:$|[,;)]))", re.MULTILINE)
# `P' = 8 P`, `F' = F/9`, `g'/g = 2/9`: so many times what has no prime.
_TIMES = r"[\s\d./()√^*·×]*"
_COMPARED = re.compile(
    rf"({_NAME})['’′]\s*(?:/\s*\1(?!['’′\w])|=(?:[^\n,;]*=)?{_TIMES}\1(?![\w'’′]|\s*['’′])"
    r"(?=\s*(?:/\s*[\d√(]|$|[,;:)=⇒→]|[a-z]{2,}\b)))", re.MULTILINE)
# Words that say how many times (common practice, no source).
_MANY_TIMES = re.compile(
    r"\b(?:half|halv|twice|doubl|tripl|quadrupl|thrice|\w+ times|times as|(?:new|other|second) \w+)|\d\s*%",
    re.IGNORECASE)
# `m a' = m g sin β - f`, `g' = g/6`: nobody asks for the rate of an acceleration, a force or a period (common practice,
# no source); nor does `v' = √(2 g h)` say how fast a speed grows.
_RATELESS = re.compile(
    r"([agFNTfW](?:_\w{1,2}|\d|[₀-₉])?)['’′](?!['’′(]|[^\W²³⁴])"
    r"|([uvwVUW](?:_\w{1,2}|\d|[₀-₉])?)['’′]\s*=\s*(?:√|sqrt)")
# Two primes, dots, differentials, partial derivatives, integrals, values at an instant.
_OF_TIME = re.compile(r"['’′]{2}|[\"″”\u0307\u0308ẋẏżẍÿ]|(?<![^\W\d_])d[^\W\d_]\b|(?<![^\W\d_])d/d|[∂∫]|['’′\w]\(0\)")
# Words, and the short ones before another; `v = u + at` holds a time.
_WORD = re.compile(r"[a-z]{3,}|(?<![=+*/(-] )\b(?:at|to|it)\s+(?=[a-z]{2,}\b|[^\W\d_]\w?\s*=\s*\d)", re.IGNORECASE)
_T = re.compile(r"(?<!_)(?<!_\{)(?<!Δ)(?<!Delta )(?<!delta )t(?![a-z\d_₀-₉])")  # Δt and t1 are how long something takes
# What is a place, or an angle, has a rate.
_PLACES = frozenset(["x", "y", "z", "s", "r", "θ", "φ", "q", "X", "Y"])
_MOST_LINES = 200


def primed_among(lines: Sequence[str], given: Sequence[str], declared: Collection[str]) -> tuple[str, ...]:
    """The declared names that stand with a prime for another of their kind, on a page on which nothing moves."""
    whole = "\n".join(lines[:_MOST_LINES])
    names = [n for n in dict.fromkeys(map(canonical, _PRIMED.findall(whole))) if n in declared]
    if not names or any(map(_PRIMED.search, given)) or _OF_TIME.search(whole):
        return ()
    told = len(names) > 1 or any(p.search(whole) for p in (_SQUARED, _DIFFERENCE, _COMPARED))
    return tuple(names) if told and not _T.search(_WORD.sub(" ", whole)) else ()


def primed_in(lines: Sequence[str]) -> tuple[str, ...]:
    """The primed names that are values of their own."""
    whole = "\n".join(lines[:_MOST_LINES])
    names = tuple(dict.fromkeys(canonical(n) for n in _PRIMED.findall(whole)))
    speeds = tuple(f"{canonical(n)}'" for n in dict.fromkeys(_SPEED.findall(whole)))
    speeds += tuple(f"{canonical(n or k)}'" for n, k in dict.fromkeys(_BOUNCED.findall(whole)))
    speeds += tuple(f"{n}'" for n in dict.fromkeys(_FURTHER.findall(whole)))
    compared = {canonical(n) for n in _COMPARED.findall(whole)}
    if (len(compared) > 1 or (compared and _MANY_TIMES.search(whole))) and compared.issuperset(names) and (
            not (_OF_TIME.search(whole) or _T.search(_WORD.sub(" ", whole)))):
        return tuple(f"{n}'" for n in names)  # even of places
    if not _OF_TIME.search(whole):
        speeds += tuple(f"{canonical(n or v)}'" for n, v in dict.fromkeys(_RATELESS.findall(whole)))
    told = len(names) > 1 or _SQUARED.search(whole) is not None or _DIFFERENCE.search(whole) is not None
    if not (told or speeds) or any(n.partition("_")[0] in _PLACES for n in names) or _OF_TIME.search(whole):
        return speeds
    timely = _T.search(_WORD.sub(" ", whole)) and not _STAYING.search(whole)
    return speeds if timely else tuple(f"{n}'" for n in names)
