"""What a working without givens may bring in besides new names: values, laws, relations between what was unrelated.

Nobody has said what such a working starts from, so its writer says it on the way, when it is needed: `T = m (g + a)`,
then `m = 60 kg`, then `½ m v² = m g h`. A line that restricts what the lines above leave open is such a start; one
that tampers with what they have settled is not, and is left to the other rules.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.setting import Case, Decision, Matter
from derive.states.states import freedom
from derive.steps.fresh import CLAIMING, something_moves, with_definition
from derive.steps.numeric import right_to_its_figures
from derive.steps.othernumbers import said_with_other_numbers
from derive.terms.term import TWO, ZERO, Term, Var, mul, postorder, power, var, variables
from derive.terms.world import TIME

# A quantity this large (beside values of about one) has not vanished.
_SOMETHING = 1e-6


# --- values ---------------------------------------------------------------------------------------------------


def value_of_a_name(m: Matter) -> Decision | None:
    """`m = 60 kg`, `u = 0` of a name met above, as long as nothing above settles it."""
    found = _valued(m) if _open_to_starts(m) else None
    if found is None or claims_to_follow(m):
        return None
    v, _ = found
    if v.name == TIME and something_moves(m.context):
        case = Case(m.label, premises=tuple(replace(p, always=False) for p in m.premises(implied=False)))
        verdict = Verdict(Standing.TAKEN, code="taken.case")
        return Decision(verdict, replace(m.setting, cases=(*m.setting.cases, case)[-6:]))
    context = _without_zero(v, m.context)
    if freedom(context, [v], (), m.setting.states) != 1:
        return None
    inside = replace(m, setting=m.setting.within(context))
    return _started(inside, "taken.value", m.premises(implied=False, kind="value"), v.name)


_ONE_SIZE = 1e-6


def side_of_a_root(m: Matter) -> Decision | None:
    """`v = 7.7` after `v² = 2 g d = 58.9`: the number says which root is meant, and is held to its figures there."""
    found = _valued(m) if not m.setting.strict and m.pair.sign in ("=", "≈") else None
    if found is None:
        return None
    chosen = m.context.adding(Premise("condition", mul(var(found[0]), found[1]), ">", always=False))
    here = m.setting.states.of(m.context, [var(found[0])])
    values = here.columns[found[0]] if found[0] in here.columns else np.ones(1)
    if np.iscomplexobj(values) or not ((values > 0).any() and (values < 0).any()):
        return None
    if np.ptp(np.abs(values)) > _ONE_SIZE * np.max(np.abs(values)):
        return None  # more than its sign is open
    return right_to_its_figures(replace(m, setting=m.setting.within(chosen)))


def bound_of_a_name(m: Matter) -> Decision | None:
    """`N ≥ 0`, `f ≤ μ N` said in passing of a name that nothing above bounds: a start, like a value."""
    if m.setting.strict or m.pair.sign not in "<>≤≥" or len(m.lowered.parts) != 1 or claims_to_follow(m):
        return None
    found = _valued(m)
    own = [v for v in m.unknowns if v.role == "value" and v.name != TIME]
    new = [v for v in own if v.name not in tied_names(m.context)]
    if not new and (found is None or freedom(m.context, [found[0]], (), m.setting.states) != 1):
        return None
    return _started(m, "taken.bound", m.premises(implied=False, kind="start"), (new or own)[0].name)


def _valued(m: Matter) -> tuple[Var, Term] | None:
    """The name and the constant of `name = constant`, `name > constant`, in either order."""
    left, right = m.lowered.parts[0]
    for side, other in ((left, right), (right, left)):
        if side.op == "var" and isinstance(side.value, Var) and side.value.role == "value" and not variables(other):
            return side.value, other
    return None


def _without_zero(v: Var, context: Context) -> Context:
    """`T = 0` at the top is not meant of the bottom: a later value takes the place of a nothing, and what was drawn
    from that goes with it."""
    zeros = (p for p in context.premises if p.kind == "value" and p.term.op == "var" and p.term.value == v)
    nothing = next(zeros, None)
    if nothing is None:
        return context
    kept = tuple(
        p for p in context.premises if p is not nothing and (p.source <= nothing.source or p.kind != "line"))
    return replace(context, premises=kept)


# --- laws -----------------------------------------------------------------------------------------------------

_SQUARE, _PRODUCT = "squares", "products"


def law(m: Matter) -> Decision | None:
    """A balance of energies, momenta or moments, a link such as `v = r ω`: taken where the lines above do not
    already say something of its kind about the same names."""
    if not _open_to_starts(m) or claims_to_follow(m):
        return None
    own = _names(m.context.resolved(t) for t in m.lowered.parts[0])
    kind = _kind(*m.lowered.parts[0])
    alike = [p for p in m.context.premises if p.sides is not None and own <= _names((p.term,))]
    if any(_kind(*p.sides) == kind or not kind for p in alike if p.sides is not None) and not _links(m, alike):
        return None
    if not (kind or _links(m, alike)) or said_with_other_numbers(m):
        return None
    premises = m.premises(implied=False, kind="start")
    cloud = m.setting.states.any(m.context, premises)
    inside = [cloud.columns[v] for v in m.unknowns if v in cloud.columns]
    if not cloud.size or not inside or not (np.min(np.abs(inside), axis=0) > _SOMETHING).any():
        return None
    return _started(m, "taken.law", premises)


def _kind(left: Term, right: Term) -> str:
    """What sort of balance two sides strike: of squares (energies), of products (momenta, moments), or ''."""
    terms = [t for side in (left, right) for t in (side.args if side.op == "add" else (side,)) if t is not ZERO]
    if not all(_plain(t) for t in terms):
        return ""
    if sum(_squared(t) for t in terms) >= 2 or (len(terms) > 1 and any(map(_squared, terms)) and all(
            _squared(t) or len(_factors(t)) >= 2 for t in terms)):
        return _SQUARE
    sizes = [len(_factors(t)) for t in terms]
    pieces = sum(len(f.args) if f.op == "add" else 0 for t in terms for f in _factors(t))
    return _PRODUCT if set(sizes) == {2} and len(terms) + pieces >= 3 and not any(map(_squared, terms)) else ""


def _factors(t: Term) -> list[Term]:
    parts = t.args if t.op == "mul" else (t,)
    return [f for f in parts if f.op != "num"]


def _plain(t: Term) -> bool:
    """A product of names, sums of names and one or more squares: nothing divided by a name, no function."""
    return all(
        f.op in ("var", "add") or (f.op == "pow" and f.args[1] is TWO and f.args[0].op in ("var", "add"))
        for f in _factors(t))


def _squared(t: Term) -> bool:
    """`½ m v²`: a square with something before it."""
    squares = [f for f in _factors(t) if f.op == "pow" and f.args[0].op == "var"]
    return len(squares) == 1 and len(_factors(t)) > 1


def _links(m: Matter, alike: Sequence[Premise]) -> bool:
    """`v = r ω` where an energy above has the squares of all three."""
    left, right = m.lowered.parts[0]
    if left.op != "var" or right.op != "mul" or len(right.args) != 2 or any(f.op != "var" for f in right.args):
        return False
    squares = {power(f, TWO) for f in (left, *right.args)}
    return bool(alike) and all(squares <= set(postorder(p.term)) for p in alike)


# --- both -----------------------------------------------------------------------------------------------------


def _open_to_starts(m: Matter) -> bool:
    return not m.setting.strict and m.pair.sign in ("=", "≈") and len(m.lowered.parts) == 1 and not m.lowered.primitives


def claims_to_follow(m: Matter) -> bool:
    """Does the writer say that the line comes from those above?"""
    return bool(m.cites) or any(w in CLAIMING for w in m.words.lower().replace(",", " ").split())


def _started(m: Matter, code: str, premises: tuple[Premise, ...], name: str = "") -> Decision | None:
    if not m.setting.states.any(m.context, premises).size:
        return None
    verdict = Verdict(Standing.TAKEN, code=code, facts=(("name", name),) if name else ())
    context = m.context.adding(*premises)
    return Decision(verdict, m.setting.within(with_definition(context, m)))


def _names(terms: Iterable[Term]) -> set[str]:
    return {v.name for t in terms for v in variables(t) if v.role == "value" and v.name != TIME}
