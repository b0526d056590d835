"""Names of one kind that an index or a prime tells apart: T_1 and T_2, g and g'."""

from __future__ import annotations

from derive.states.context import Context
from derive.states.yielding import is_value
from derive.terms.term import Var


def stem_and_mark(name: str) -> tuple[str, str]:
    """T and what marks it as another T, in `T_2` or `T'`; no mark in `T`."""
    if name.endswith("'"):
        return name.rstrip("'"), "'"
    stem, _, index = name.rpartition("_")
    return (stem, index) if stem else (name, "")


def with_mark(name: str, mark: str) -> str:
    """The name of another of a kind."""
    return f"{name}'" if mark == "'" else f"{name}_{mark}" if mark else name


def is_given(stem: str, context: Context) -> bool:
    """Does a line above say what a quantity, or a power of it, is?"""
    heads = (p.sides[0] for p in context.premises if p.sides is not None and p.sign == "=" and not is_value(p))
    return any(h.value == Var(stem) or (h.op == "pow" and h.args[0].value == Var(stem)) for h in heads)
