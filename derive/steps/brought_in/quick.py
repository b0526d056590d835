"""What a working without givens may bring in besides new names: values, laws, relations between what was unrelated.

Nobody has said what such a working starts from, so its writer says it on the way, when it is needed: `T = m (g + a)`,
then `m = 60 kg`, then `½ m v² = m g h`. A line that restricts what the lines above leave open is such a start; one
that tampers with what they have settled is not, and is left to the other rules.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from derive.notation.printed.printing import as_text
from derive.notation.tree import Name
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.setting import Case, Decision, Matter
from derive.states.sizes import KIND, all_positive, sized, without_size
from derive.states.states import freedom
from derive.steps.letters.defining import something_moves, with_definition, works_out
from derive.steps.letters.drawing import says_drawn
from derive.steps.numbers import gravity
from derive.steps.numbers.numeric import right_to_its_figures
from derive.terms.numbers import bare_number
from derive.terms.tape import taped
from derive.terms.term import MINUS_ONE, Term, Var, mul, num, sub, var, variables
from derive.terms.world import TIME

# A quantity this large (beside values of about one) has not vanished.
_SOMETHING = 1e-6
_ORDERS = ("<", ">", "≤", "≥")


# --- values ---------------------------------------------------------------------------------------------------


def value_of_a_name(m: Matter) -> Decision | None:
    """`m = 60 kg`, `u = 0` of a name met above, as long as nothing above settles it."""
    if claims_to_follow(m):
        return None
    if len(m.lowered.parts) > 1:
        return _value_of_a_vector(m)
    found = _valued(m) if open_to_starts(m) else None
    if found is None:
        return _value_of_a_ratio(m) or _value_of_what_is_new(m)
    v, _ = found
    if gravity.is_off_on_the_ground(m) or (gravity.is_drawn_at_a_head(m) and gravity.far_from_the_ground(m)):
        return None  # `l = 0.5 m: T = 1.85 s`, where only g is left to tell
    if v.name == TIME and not m.words and _told_just_above(v, m):
        return None
    if v.name == TIME and something_moves(m.context):
        if not freedom(m.context, [v], (), m.setting.states) and m.setting.states.any(m.context).size:
            return None  # `t = 3` in the case v = 0, which says when that is
        if _is_one_of_several(m):
            return None
        case = Case(as_text(m.pair.relation()), premises=m.premises(implied=False, always=False))
        verdict = Verdict(Standing.TAKEN, code="taken.case")
        return Decision(verdict, m.setting.opening(case))
    opened = _opened_here(m) or _moment_told(m)
    if opened is not None and _is_settled_in(opened, v, m):
        return None
    if opened is not None and m.context.world.is_changing(v):
        return _told_in_the_case(m, opened)
    context = without_size(_without_zero(v, m.context), v.name)
    premises = m.premises(implied=False, kind="value")
    there = sized(context, variables(*(p.term for p in context.premises))) or context  # a mass of nothing frees all
    if freedom(there, [v], (), m.setting.states) != 1 and not _of_another_size(v, context, premises, m):
        return None
    inside = replace(m, setting=m.setting.within(context))
    # `L = 1.00 m` below `dg/g = dL/L - 2 dT/T` is where L is taken, and does not say that it may be no other.
    always = v.name not in context.world.varying
    return started(inside, "taken.value", tuple(replace(p, always=always and p.always) for p in premises), v.name)


def _is_one_of_several(m: Matter) -> bool:
    """`t = 1, t = 3` below `v = 0`: is another of the times told on the same line?"""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None:
        return False
    told = m.context.premises if case.key else case.premises[1:]
    return any(p.source == m.number and variables(p.term) == (Var(TIME, at=case.key),) for p in told)


def _opened_here(m: Matter) -> Case | None:
    case = m.setting.cases[-1] if m.setting.cases else None
    return case if case is not None and case.premises and case.premises[-1].source == m.number else None


def _told_just_above(v: Var, m: Matter) -> bool:
    """`t = 1.5` below `50 t - 60 = 0`, which leaves one time."""
    case = m.setting.cases[-1] if m.setting.cases else None
    fresh = case is not None and not case.left and bool(case.premises) and case.premises[-1].source == m.number - 1
    return fresh and case is not None and v in variables(case.premises[-1].term) and _is_settled_in(case, v, m)


def _moment_told(m: Matter) -> Case | None:
    """`t = 5 s` above `v = 17 m/s`, as values are listed line by line."""
    case = m.setting.cases[-1] if m.setting.cases else None
    told = case is not None and not case.left and case.where is None and bool(case.premises)
    return case if told and variables(case.premises[0].term) == (Var(TIME),) else None  # type: ignore[union-attr]


def _is_settled_in(case: Case, v: Var, m: Matter) -> bool:
    """Does a case that is gone on with leave one value for it (`a = 2.7 m/s²` below `t = 5 s, v = 17 m/s`), or do the
    lines above by themselves?"""
    if not freedom(m.context, [v], (), m.setting.states):
        return True
    inside = case.loosening(m.context).adding(*case.premises)
    return freedom(inside, [v], (), m.setting.states) == 0 and bool(m.setting.states.any(inside).size)


def _told_in_the_case(m: Matter, case: Case) -> Decision:
    """`if ω² < g/R then θ = 0` of what swings: so it is there alone."""
    further = replace(case, premises=(*case.premises, *m.premises(implied=False, always=False)))
    cases = tuple(further if c is case else c for c in m.setting.cases)
    return Decision(Verdict(Standing.TAKEN, code="taken.value"), replace(m.setting, cases=cases))


def _value_of_a_ratio(m: Matter) -> Decision | None:
    """`dr/r = 1 %`, `M/m = 3` of two quantities that nothing above ties to each other."""
    left, right = m.lowered.parts[0]
    factors = left.args if left.op == "mul" else ()
    names = [f.args[0] if f.op == "pow" and f.args[1] is MINUS_ONE else f for f in factors]
    if not open_to_starts(m) or variables(right) or len(names) != 2 or any(n.op != "var" for n in names):
        return None
    if freedom(m.context, [n.value for n in names], (), m.setting.states) != 2:
        return None
    if is_fixed_in_a_case(m):
        return None
    opened = _opened_here(m)
    if any(v.name in m.context.world.moving for v in m.unknowns):
        case = Case(as_text(m.pair.relation()), premises=m.premises(implied=False, always=False), line=m.number)
        moment = Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.opening(case))
        return moment if opened is None else _told_in_the_case(m, opened)
    always = not any(v.name in m.context.world.varying for v in m.unknowns)
    return started(m, "taken.value", m.premises(implied=False, always=always, kind="value"))


def is_fixed_in_a_case(m: Matter) -> bool:
    """`ω t = π/4` below `cos ω t = 0`: is it of a moment that is gone on with, and leaves no choice there?"""
    case = m.setting.cases[-1] if m.setting.cases else None
    left, right = m.lowered.parts[0]
    names = variables(left)
    if case is None or case.left or not case.premises or Var(TIME) not in names or variables(right):
        return False
    return freedom(case.loosening(m.context).adding(*case.premises), names, (), m.setting.states) == len(names) - 1


def _value_of_what_is_new(m: Matter) -> Decision | None:
    """`a = F/m = 0.10 m/s²` where nobody has told m: the number says what a is, and so what m has to be."""
    head, left = m.pair.head, m.lowered.parts[0][0]
    if not open_to_starts(m) or bare_number(m.pair.right) is None or not isinstance(head, Name):
        return None
    above = replace(m.context, premises=tuple(p for p in m.context.premises if p.source != m.number))
    new = {v.name for v in variables(left)} - tied_names(above) - {"g"}  # which everybody knows
    if not new or freedom(m.context, [Var(head.ident)], (), m.setting.states) != 1:
        return None
    return started(m, "taken.value", m.premises(implied=False, kind="value"), head.ident)


def _of_another_size(v: Var, context: Context, premises: tuple[Premise, ...], m: Matter) -> bool:
    """`g = 9.81` where g = G M/R² and R = 6.4·10⁶ are said, and G and M are not: what is free may be far from one, and
    g seem to be nothing whatever they are."""
    whole = all_positive(context, variables(*(p.term for p in context.premises)))
    if whole is None or m.context.world.is_changing(v):
        return False
    seen = m.setting.states.of(whole, (var(v),)).columns.get(v, np.ones(1))
    cloud = m.setting.states.any(whole, premises) if (np.abs(seen) < _SOMETHING).all() else None
    return cloud is not None and bool(cloud.size)


def _value_of_a_vector(m: Matter) -> Decision | None:
    """`F = (2, 1)` below `F·d = |F| |d| cos φ`, as long as nothing settles any of its components."""
    own = [a.value for a, b in m.lowered.parts if isinstance(a.value, Var) and not a.value.order and not variables(b)]
    if m.setting.strict or m.pair.sign != "=" or len(own) != len(m.lowered.parts) or freedom(
            m.context, own, (), m.setting.states) != len(own):
        return None
    return started(m, "taken.value", m.premises(implied=False, kind="value"))


# What stands apart by more than this share is another root; an equation of a working has few.
_ONE_ROOT = 1e-6
_MOST_ROOTS = 6


def side_of_a_root(m: Matter) -> Decision | None:
    """`v = 7.7` after `v² = 2 g d = 58.9`, `t = 4.73 s` of two roots: the number says which root is meant, and is held
    to its figures there."""
    inside = on_its_side(m)
    return (_just_that_root(inside) or right_to_its_figures(inside)) if inside is not None else None


def root_that_is_meant(m: Matter) -> Decision | None:
    """`v = 10 m/s` below `½ m v² = m g h`: a quick page need say nothing of a root on the other side of nothing."""
    found = _among_roots(m) if not m.setting.strict else None
    if found is None or found[-1] <= 0 or sum(root > 0 for root in found[2]) > 1:
        return None
    return side_of_a_root(m)


def on_its_side(m: Matter) -> Matter | None:
    """The matter beside the one of several roots that a written number is next to."""
    found = _among_roots(m)
    return replace(m, setting=m.setting.within(found[0].adding(*_beside(*found[1:])))) if found else None


def _among_roots(m: Matter) -> tuple[Context, Var, list[float], float] | None:
    """A name of which a number is said, what it can be where it may have either sign, and the number."""
    found = _valued(m) if m.pair.sign in ("=", "≈") else None
    if found is None:
        return None
    v, written = found
    context = _of_either_sign(v.name, m.context)
    here = m.setting.states.of(context, [var(v), written])
    values = here.columns.get(v, np.ones(1))
    if not here.size or np.iscomplexobj(values):
        return None
    roots = _apart(np.sort(values))
    if not 1 < len(roots) <= _MOST_ROOTS:
        return None
    return context, v, roots, float(np.median(taped(written).run(here.columns)[0]))


def _just_that_root(m: Matter) -> Decision | None:
    """`t = 4` of the two roots of `(t - 4)(t + 1) = 0`."""
    sides = m.lowered.parts[0]
    cloud = m.setting.states.of(m.context, sides)
    if not cloud.size or not weigh(*sides, "=", cloud).all_hold:
        return None
    verdict = Verdict(Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.plain")
    return Decision(verdict, m.setting.within(m.context.adding(*m.premises(implied=False))))


def _apart(values: NDArray[np.float64]) -> list[float]:
    """Each root once, in order."""
    roots: list[float] = []
    for a in map(float, values):
        if not roots or a - roots[-1] > _ONE_ROOT * max(abs(a), abs(roots[-1])):
            roots.append(a)
    return roots


def _beside(v: Var, roots: Sequence[float], number: float) -> Iterator[Premise]:
    """That a name lies nearer to one root than to its neighbours."""
    nearest = min(range(len(roots)), key=lambda k: abs(roots[k] - number))
    for k, sign in ((nearest - 1, 1), (nearest, -1)):
        if 0 <= k < len(roots) - 1:
            between = num(Fraction((roots[k] + roots[k + 1]) / 2).limit_denominator(10**9))
            yield Premise("condition", mul(num(sign), sub(var(v), between)), ">", always=False)


def _of_either_sign(name: str, context: Context) -> Context:
    """Without the sign that a name has only because it was brought in by its square."""
    world = context.world
    symbol = world.symbols.get(name)
    if symbol is None or symbol.declared or symbol.bounds:
        return context
    return context.knowing(replace(world, symbols={n: s for n, s in world.symbols.items() if n != name}))


def bound_of_a_name(m: Matter) -> Decision | None:
    """`N ≥ 0`, `f ≤ μ N`, `γ > ω0` said in passing of names that nothing above bounds or ties: a start."""
    if m.setting.strict or m.pair.sign not in _ORDERS or len(m.lowered.parts) != 1 or claims_to_follow(m):
        return None
    found = _valued(m)
    own = [v for v in m.unknowns if v.role == "value" and v.name != TIME]
    new = [v for v in own if v.name not in tied_names(m.context)]
    settled = found is None or freedom(m.context, [found[0]], (), m.setting.states) != 1
    if not new and settled and not _constants_left_open(own, m):
        return None
    return started(m, "taken.bound", m.premises(implied=False, kind="start"), (new or own)[0].name)


def _constants_left_open(own: Sequence[Var], m: Matter) -> bool:
    """May several constants have any values beside each other, as far as the page goes?"""
    if len(own) < 2 or any(v.order or v.at or m.context.world.is_changing(v) for v in own):
        return False
    bounded = any(p.sign in _ORDERS and p.kind not in (KIND, "range") for p in m.context.premises)
    return not bounded and freedom(m.context, own, (), m.setting.states) == len(own)


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


# --- all -----------------------------------------------------------------------------------------------------


def open_to_starts(m: Matter) -> bool:
    """May a pair be brought in without support: one equation, in a working without givens?"""
    plain = len(m.lowered.parts) == 1 and not m.lowered.primitives and m.pair.sign in ("=", "≈")
    return plain and not m.setting.strict and not works_out(m)


def claims_to_follow(m: Matter) -> bool:
    """Does the writer say that the line comes from those above?"""
    return bool(m.cites) or says_drawn(m.words)


def started(m: Matter, code: str, premises: tuple[Premise, ...], name: str = "") -> Decision | None:
    """The line taken as it stands, with what it brings in; None where that could not be."""
    context = where_possible(m, premises)
    if context is None:
        return None
    verdict = Verdict(Standing.TAKEN, code=code, facts=(("name", name),) if name else ())
    context = context.adding(*premises)
    return Decision(verdict, m.setting.within(with_definition(context, m)))


def where_possible(m: Matter, premises: Sequence[Premise]) -> Context | None:
    """The context in which some state meets the premises: among values of any sign, states far from one (`v = 11 180`
    of `v = √(2 g R)`) are hard to come to, and nobody thinks of negative ones."""
    if m.setting.states.any(m.context, premises).size:
        return m.context
    spoken = variables(*(p.term for p in m.context.premises))
    whole = all_positive(m.context, spoken)
    with_sizes = sized(whole or m.context, spoken)  # `M = 4π² a³/(G T²)` above, and M is a mass all the same
    return next((c for c in (whole, with_sizes) if c is not None and m.setting.states.any(c, premises).size), None)


def names_of(terms: Iterable[Term]) -> set[str]:
    return {v.name for t in terms for v in variables(t) if v.role == "value" and v.name != TIME}
