"""What was worked out of one state, in another: `x = 0.2 m: F = 40 N` below `F = 20 N, x = 0.1 m` and `k = 200 N/m`.

The k stays what it was found to be; it is the F told beside the old x that gives way to the new one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from derive.notation.tree import Both, Claim, Relation, Statement
from derive.readings import gives_a_value
from derive.records import Standing
from derive.states.context import Context, Premise
from derive.states.said import Outcome, Source
from derive.states.setting import Setting
from derive.states.sizes import constant_sizes
from derive.states.yielding import is_value, without_values_of
from derive.terms.term import Term, Var, variables
from derive.verdicts.cases.where import supposed

_HELD = (Standing.FOLLOWS, Standing.APPROXIMATES)
_MOST = 4  # told values that are tried


def by_what_was_found(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The statement in the state that its condition tells by values, with what the page has worked out; None where it
    does not hold there either."""
    names = _told_anew(statement.where, setting)
    if not names or statement.claim is None or setting.strict:
        return None
    for there in otherwise(names, setting):
        verdicts, _ = supposed(replace(statement, role="suppose"), there, source)
        if all(v.standing in _HELD for v in verdicts):
            return verdicts, setting
    return None


def _told_anew(where: Claim | None, setting: Setting) -> set[str]:
    """The names that a condition gives a number, and that had one before."""
    parts = where.parts if isinstance(where, Both) else (where,)
    if not all(isinstance(p, Relation) and gives_a_value(p) for p in parts):
        return set()
    names = {p.sides[0].ident for p in parts if isinstance(p, Relation)}  # type: ignore[union-attr]
    return names if names <= {v.name for v in _told(setting.context)} else set()


def otherwise(names: set[str], setting: Setting) -> Iterator[Setting]:
    """The setting without the old values of some names and of one told beside them, and with what was found."""
    context, found = setting.context, found_constants(setting)
    others = [n for n in dict.fromkeys(v.name for v in reversed(_told(context))) if n not in names]
    for other in others[:_MOST] if found else ():
        own = {*names, other}
        kept = tuple(p for p in found if own.isdisjoint(v.name for v in variables(p.term)))
        if kept:
            there = without_values_of(_without_numbers(context), own).adding(*kept)
            yield replace(setting.within(there), rounded=(), broken=(), cases=())


def found_constants(setting: Setting) -> list[Premise]:
    """The numbers that lines have worked out for what stays what it is."""
    found = [p for p in (*setting.context.premises, *setting.rounded) if _is_found(p)]
    stay = constant_sizes({v.name for p in found for v in variables(p.term)}, setting.context.world)
    return [replace(p, implied=False) for p in found if stay.issuperset(v.name for v in variables(p.term))]


def _without_numbers(context: Context) -> Context:
    """Without what lines have worked out."""
    return replace(context, premises=tuple(p for p in context.premises if not (p.implied and _is_found(p))))


def _told(context: Context) -> list[Var]:
    return [p.sides[0].value for p in context.premises if is_value(p) and not p.implied and p.sides is not None]


def _is_found(p: Premise) -> bool:
    """The number that a line has worked out for a name."""
    return p.sign == "=" and (p.implied or p.kind == "line") and _number_of(p.term) is not None


def _number_of(t: Term) -> Var | None:
    own = variables(t)
    single = len(own) == 1 and t.op == "add" and any(a.op == "var" for a in t.args)
    return own[0] if single and not own[0].order and not own[0].at else None
