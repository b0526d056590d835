"""What rolls, or what a rope is wound from: `a = α R` says as much of the speeds as of the accelerations (`v = ω R`).

Whoever has typed one of them on a page without declarations takes the other for granted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.states.context import Premise, tied_names
from derive.states.setting import Matter
from derive.states.states import freedom
from derive.terms.term import Term, Var, mul, sub, var

# Along and about, by the letters they are written with (common practice, no source).
_TOGETHER = {"x": "θφ", "s": "θφ", "v": "ω", "a": "α"}


def views(m: Matter) -> Iterator[Matter]:
    """The matter where each speed goes with its turning as another of the page does."""
    rolled = [Premise("rolling", sub(var(v), mul(var(ω), r)), "=", True, False, m.number, "custom")
              for r, index in _radii(m) for v, ω in _untied(index, m)]
    if rolled:
        yield replace(m, setting=m.setting.within(m.context.adding(*rolled)))


def _radii(m: Matter) -> Iterator[tuple[Term, str]]:
    """The radius of `a1 = α1 R`, and the index of the two."""
    for p in m.context.premises:
        left, right = p.sides if p.sides is not None and p.sign == "=" and not p.implied else (None, None)
        if left is None or right is None or left.op != "var" or right.op != "mul" or len(right.args) != 2:
            continue
        stem, _, index = left.value.name.partition("_")
        for turning, radius in (right.args, right.args[::-1]):
            if turning.op == radius.op == "var" and not (left.value.order or turning.value.order) and _plain(
                turning.value.name, index) in tuple(_TOGETHER.get(stem, "")):
                yield radius, index


def _plain(name: str, index: str) -> str:
    """The stem of a name with that index or none."""
    stem, _, own = name.partition("_")
    return stem if own in ("", index) else ""


def _untied(index: str, m: Matter) -> Iterator[tuple[Var, Var]]:
    """Speeds and turnings that the page speaks of and has not tied to each other."""
    known = tied_names(m.context) | {v.name for v in m.unknowns}
    for stem, letters in _TOGETHER.items():
        along = f"{stem}_{index}" if index else stem
        about = next((n for letter in letters for n in (f"{letter}_{index}", letter) if n in known), "")
        both = [Var(along), Var(about)]
        if along in known and about and freedom(m.context, both, (), m.setting.states) == len(both):
            yield both[0], both[1]
