"""One part of a solution: `particular: x = P cos Ωt`, `x_p = P cos Ωt` and `x_h = A cos ω0 t` by their index."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.tree import Apply, Claim, Constant, Name, Power, Relation, Statement, names_in
from derive.records import Standing
from derive.states.context import Context, Premise, tied_names
from derive.states.elimination import linear
from derive.states.said import Outcome, Source, everywhere, matter
from derive.states.setting import Setting
from derive.states.states import freedom
from derive.steps.changing.equations import equations_of
from derive.steps.changing.given_courses import explicit
from derive.steps.changing.misfits import put_into
from derive.steps.changing.motion import with_constants
from derive.steps.changing.proposals import FREE_PART
from derive.terms.claims import pairs
from derive.terms.lowering import lower
from derive.terms.term import ZERO, Term, Var, sub, substitute, var, variables
from derive.terms.world import TIME
from derive.verdicts.claims.claiming import decide_claim
from derive.verdicts.introductions import tried

# Of the equation as it is.
_PARTICULAR = frozenset(("p", "part"))


# Words for a part of a solution, of which the line speaks as if it were the whole (common practice, no source).
_TRIED = frozenset(("particular", "pi", "trial"))
_UNDRIVEN = frozenset(("complementary", "homogeneous", "cf"))


def _of_the_free_part(claim: Claim | None) -> Claim | None:
    """`x_h = A cos ω t`, for `complementary function: x = A cos ω t`."""
    if not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name) or "_" in claim.sides[0].ident:
        return claim
    return replace(claim, sides=(replace(claim.sides[0], ident=f"{claim.sides[0].ident}_h"), *claim.sides[1:]))


def part_of_a_solution(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """A trial, which need not start as the motion does; None where it does not go as the equation says."""
    claim = statement.claim
    heard = {*source.words.lower().replace(":", " ").replace(".", "").split()}
    if heard & _TRIED and is_a_course(claim, setting.context):
        return _possible(tried(statement, setting, source))
    if heard & _UNDRIVEN and is_a_course(claim, setting.context):
        claim = _of_the_free_part(claim)
    if not isinstance(claim, Relation) or claim.signs != ("=",) or not isinstance(claim.sides[0], Name):
        return None
    name, right = claim.sides[0].ident, lower(claim.sides[1], setting.context.world)
    equation = _its_equation(name, setting.context) if isinstance(right, Term) else None
    if equation is None or not isinstance(right, Term) or not _by_time_alone(right, setting.context):
        return None

    timely = Var(TIME) in variables(right)
    undriven = name.partition("_")[2] in FREE_PART
    if not timely and undriven:
        return None  # `x_c = F/k` is the middle of the motion
    inside = everywhere(setting, lambda c: _with_equation(name, equation, c, timely))
    m = matter(next(pairs(claim)), inside, source, statement.word)
    if not timely:
        return decide_claim(claim, inside, source, statement.word) if not m.fresh else None
    found = _possible(tried(replace(statement, role="try", claim=claim), inside, source))
    tied = tied_names(setting.context)
    amplitudes = tuple(v for v in variables(right) if v.name not in tied and linear(right, v) is not None)
    if found is None or _ties_the_known(equation, inside.context, found[1]) or (
            undriven and _needs_nothing(amplitudes, right, tied, found[1])):
        world = setting.context.world
        course = replace(world, functions={**world.functions, name: right}, moving=world.moving | {name})
        wrong = put_into(equation, name, setting.within(replace(setting.context, world=course)), m)
        return ((replace(wrong.verdict, span=claim.span),), wrong.after) if wrong is not None else None
    if not undriven:
        return found
    return found[0], everywhere(found[1], lambda c: with_constants(c, amplitudes))


def _ties_the_known(equation: Premise, before: Context, after: Setting) -> bool:
    """`v_h = C e^(-b t)` would want m = 1 in `m v' = -b v`."""
    known = [v for v in variables(equation.term) if v.role == "value" and not v.order and not v.at
             and not before.world.is_changing(v) and v.name != TIME]
    return freedom(after.context, known, (), after.states) < freedom(before, known, (), after.states)


def _needs_nothing(amplitudes: Sequence[Var], course: Term, tied: set[str], after: Setting) -> bool:
    """`x_h = A cos 2ω0 t` goes as x'' = -ω0² x says with A = 0 alone. What is still to be found may make it another."""
    if any(v not in amplitudes and v.name not in tied and v.name != TIME for v in variables(course)):
        return False
    return 0 <= freedom(after.context, amplitudes, (), after.states) < len(amplitudes)


def _with_equation(name: str, equation: Premise, context: Context, timely: bool) -> Context:
    """The context in which x_p goes as the equation says, or stays so."""
    if timely:
        return context.knowing(replace(context.world, moving=context.world.moving | {name})).adding(equation)
    rates: dict[Term, Term] = {var(v): ZERO for v in variables(equation.term) if v.name == name and v.order}
    return context.adding(replace(equation, term=substitute(equation.term, rates)))


def is_tried_by_its_look(claim: Claim | None, context: Context) -> bool:
    """`x = e^(λt)` with a λ that nothing above speaks of, of an x that moves as an equation says: nobody means it for
    the motion itself."""
    right = claim.sides[-1] if isinstance(claim, Relation) and len(claim.sides) == 2 else None
    if isinstance(right, Power) and right.base == Constant("e"):
        rate = right.exponent
    elif isinstance(right, Apply) and right.function == "exp":
        rate = right.arg
    else:
        return False
    new = {*names_in(rate)} - tied_names(context) - {TIME}
    return len(new) == 1 and TIME in names_in(rate) and is_a_course(claim, context)


def is_a_course(claim: Claim | None, context: Context) -> bool:
    """`x = e^(r t)` of what moves as an equation says."""
    if not isinstance(claim, Relation) or not isinstance(claim.sides[0], Name):
        return False
    name, right = claim.sides[0].ident, lower(claim.sides[-1], context.world)
    course = explicit(Var(name), right, context) if isinstance(right, Term) else None
    return course is not None and bool(equations_of(name, context)[2])


def _possible(found: Outcome) -> Outcome | None:
    verdicts, after = found
    if any(v.standing is Standing.FAILS for v in verdicts):
        return found
    return found if after.states.any(after.regime.context if after.regime else after.context).size else None


def _its_equation(name: str, context: Context) -> Premise | None:
    """What the equation of motion for x says of x_p, or of x_h; None where nothing drives it, and each would do."""
    stem, _, index = name.partition("_")
    if index not in _PARTICULAR | FREE_PART or name in tied_names(context) or stem not in context.world.moving:
        return None
    equations, _, order = equations_of(stem, context)
    if not order or len(equations) != 1:
        return None
    (equation,) = equations
    own = [v for v in variables(equation.term) if v.name == stem and not v.at]
    drive = substitute(equation.term, {var(v): ZERO for v in own})
    if drive is ZERO:
        return None
    term = sub(equation.term, drive) if index in FREE_PART else equation.term
    term = substitute(term, {var(v): var(v._replace(name=name)) for v in own})
    label = f"{equation.label} for {name}"
    return Premise(label, term, "=", True, False, equation.source, "start")


def _by_time_alone(t: Term, context: Context) -> bool:
    """The time and constants: the place of a piston `x_p = x + b` is no solution."""
    world = context.world
    return not any(v.at or v.order or (v.name != TIME and world.is_changing(v)) for v in variables(t))
