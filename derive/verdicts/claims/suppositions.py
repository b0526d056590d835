"""Conditions as cases: what is supposed, and how far what stands above has to give way to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.notation.printed.printing import as_text
from derive.notation.tree import Both, Claim, Relation, Unit, names_in, walk
from derive.readings import gives_a_value
from derive.states import yielding
from derive.states.context import Premise
from derive.states.evidence import Evidence
from derive.states.said import Source, matter
from derive.states.setting import Case, Setting
from derive.states.sizes import CONSTANT_SIZES, all_positive, sized
from derive.terms.claims import alternatives, lower_pair, pairs
from derive.terms.term import TWO, ZERO, Var, add, power, sub, substitute, var, variables
from derive.verdicts.claims.branching import product_of
from derive.verdicts.pairs.open_cases import inside_open_case
from derive.verdicts.pairs.weighing import evidence

_EQUAL = 1e-6
_MOST_ENDS = 6
_LONGEST_CHAIN = 3  # μ = 0, so f = 0, so its torque is nothing
_LENGTHS = frozenset("rdbhwD")  # of a track or a ramp, beside those that are sizes by their letter
_MOST_FREED = 4  # values tried, each of which takes a search for states


def can_be(case: Case, setting: Setting) -> bool:
    """Is there a state in which the case holds? One that can't be is a claim like any other, and false."""
    context, states = setting.context, setting.states
    there = case.loosening(context)
    if not states.any(context).size or states.any(there, case.premises).size:
        return True
    # Among roots and areas of any sign it may take luck to come to one.
    sizes = None if setting.strict else all_positive(there, variables(*(p.term for p in context.premises)))
    return sizes is not None and bool(states.any(sizes, case.premises).size)


def gives_values(where: Claim | None) -> bool:
    """Several values in numbers, or one with its unit: `H = 4 m, b = 6 m`, and no case such as `m2 = 0`."""
    parts = where.parts if isinstance(where, Both) else (where,) if where is not None else ()
    with_unit = any(isinstance(n, Unit) for part in parts for n in walk(part))
    return all(map(gives_a_value, parts)) and (len(parts) > 1 or with_unit)


def is_at_an_end(where: Claim, setting: Setting, source: Source) -> bool:
    """`on ice μ = 0.1: v = √(μ g r)` below `μ ≥ v²/(r g)`: as fast as may be, which is said of no other state."""
    if setting.strict or not isinstance(where, Relation) or set(where.signs) != {"="}:
        return False
    return _at_an_end(case_of(where, setting, source).premises, setting) is not None


def case_of(where: Claim, setting: Setting, source: Source) -> Case:
    """A condition as premises. One that leaves a declared range, or holds at its end, loosens it for the case."""
    premises = []
    names: set[str] = set()
    options = [[(p, lower_pair(p, setting.context.world)) for p in pairs(o)] for o in alternatives(where)]
    signs = {pair.sign for option in options for pair, _ in option}
    if len(options) > 1 and signs in ({"="}, {"≠"}):
        # One of several is nothing where their product is, and is something where the sum of their squares is.
        each = [[lowered for _, lowered in option] for option in options]
        whole = product_of(each) if signs == {"="} else add(*(
            power(sub(a, b), TWO) for option in each for lowered in option for a, b in lowered.parts))
        premises.append(Premise(as_text(where), whole, "=" if signs == {"="} else "≠", False, False, source.number))
        names |= {v.name for v in variables(whole)}
    for pair, lowered in options[0] if len(options) == 1 else ():
        for a, b in lowered.parts:
            premises.append(Premise(as_text(pair.relation()), sub(a, b), pair.sign, False, False, source.number))
            names |= {v.name for v in variables(a, b)}
    case = Case(as_text(where), premises=tuple(premises))
    stands = bool(setting.states.any(setting.context, premises).size)
    parts = where.parts if isinstance(where, Both) else (where,)
    subjects = (names_in(p.sides[0]) for p in parts if isinstance(p, Relation))
    anew = tuple(names[0] for names in subjects if len(names) == 1)
    otherwise = replace(case, anew=anew)
    other = otherwise.loosening(setting.context)
    named = any(
        p.kind == "definition" and var(Var(n)) in (p.sides or ()) for p in setting.context.premises for n in anew)
    forgets = other is not setting.context and not (setting.strict and named)  # `let w = v1 - V` stays what it is
    if stands and not (forgets and _only_of_nothing(premises, setting)):
        return case
    away = yielding.elsewhere(setting.context)
    if not stands and away is not setting.context:
        return replace(case_of(where, setting.within(away), source), elsewhere=True)
    if forgets and setting.states.any(other, premises).size:
        return otherwise
    if setting.states.any(yielding.undivided(setting.context), premises).size:
        return replace(case, undivided=True)
    freed = _without_a_value(case, setting) if not stands else None
    if freed is not None:
        return freed
    end = _at_an_end(premises, setting)
    if end is not None:
        return replace(case, premises=(*premises, end))
    declared = setting.context.world.symbols
    said = {v.name for p in setting.context.premises if yielding.is_bound(p) for v in variables(p.term)}
    bounded = frozenset(
        n for n in names if n in said or (n in declared and (declared[n].bounds or declared[n].sign != "real")))
    bounded |= _vanishing_with(premises, setting)
    apart = setting.context.apart()
    wider = (apart, bounded | apart) if apart - bounded else ()
    along = bounded | _bounded_through(names, setting)
    for loose in (*(frozenset((n,)) for n in sorted(bounded)), bounded, along, *wider):
        if setting.states.any(yielding.loosened(setting.context, loose), premises).size:
            return replace(case, loose=loose)
    return replace(case, loose=bounded)


def _at_an_end(premises: Sequence[Premise], setting: Setting) -> Premise | None:
    """What the case puts at the end of its range: N ≥ 0, where h = 5R/2 leaves the loop no push at the top."""
    symbols = setting.context.world.symbols
    ends = [
        *(var(Var(n)) for n, s in symbols.items() if s.sign in ("nonnegative", "nonpositive")),
        *(p.term for p in setting.context.premises if p.sign in "≤≥" and not p.implied)]
    for t in ends[:_MOST_ENDS] if premises else ():
        end = replace(premises[0], term=t, sign="=")
        if setting.states.any(setting.context, (*premises, end)).size:
            return end
    return None


def _bounded_through(names: set[str], setting: Setting) -> frozenset[str]:
    """What is declared to have a range and is given by the names of a case: γ = b/(2 m), where b = 0, and the v of
    `v² = 2 a h`, where m1 = m2 leaves no a."""
    declared, through = setting.context.world.symbols, set(names)
    given = [(v, p) for p in setting.context.premises if (v := _given_by(p)) is not None]
    for _ in range(_LONGEST_CHAIN):
        new = {v.name for v, p in given if any(u.name in through for u in variables(p.term))}
        if new <= through:
            break
        through |= new
    return frozenset(n for n in through if n in declared and (declared[n].bounds or declared[n].sign != "real"))


def _given_by(p: Premise) -> Var | None:
    """The γ of `γ = b/(2 m)`, the v of `v² = 2 a h`."""
    left = p.sides[0] if p.sides is not None and p.sign == "=" else None
    own = left.args[0].value if left is not None and left.op == "pow" else left and left.value
    return own if isinstance(own, Var) and not own.order else None


def _vanishing_with(premises: Sequence[Premise], setting: Setting) -> frozenset[str]:
    """What is nothing where a case makes another name nothing: f of `f = μ N` for μ = 0, whatever f was declared."""
    gone = {p.term.value.name for p in premises if p.sign == "=" and p.term.op == "var"}
    for _ in range(_LONGEST_CHAIN if gone else 0):
        change = {var(Var(n)): ZERO for n in gone}
        left = (substitute(p.term, change) for p in setting.context.premises if p.sign == "=")
        new = {v.name for t in left if t.op in ("var", "mul") and len(variables(t)) == 1 for v in variables(t)} - gone
        if not new:
            break
        gone |= new
    return frozenset(n for n in gone if n in setting.context.world.symbols)


def _without_a_value(case: Case, setting: Setting) -> Case | None:
    """`leaves the ground when N = 0` below `v = 10 m/s`, which forbids it: then v is another. What moves or pulls gives
    way before masses and lengths do, and what was told last first; what is given stays."""
    tied = {v.name for p in setting.context.premises for v in variables(p.term)}
    if not {v.name for p in case.premises for v in variables(p.term)} <= tied:
        return None
    told = [p for p in reversed(setting.context.premises) if yielding.is_value(p) and p.kind != "given"]
    names = list(dict.fromkeys(v.name for p in told for v in variables(p.term)))
    names.sort(key=lambda n: n.partition("_")[0] in CONSTANT_SIZES | _LENGTHS)
    for name in names[:_MOST_FREED]:
        otherwise = replace(case, anew=(name,))
        if setting.states.any(otherwise.loosening(setting.context), case.premises).size:
            return otherwise
    return None


def _only_of_nothing(premises: Sequence[Premise], setting: Setting) -> bool:
    """Would a case hold of no mass and no radius alone (`I = M R²` below `I = ½ M R²`), where none are declared? The R
    of `R = 0`, which a support pushes with, is said to be nothing."""
    told = variables(*(p.term for p in premises if p.term.op != "var"))
    context = sized(setting.context, told) if told and not setting.strict else None
    return context is not None and not setting.states.any(context, premises).size and bool(
        setting.states.any(context).size)


def inside_case(where: Claim, setting: Setting, source: Source) -> Setting:
    """The setting in which a condition holds outright: what is said of the case is there said of everything."""
    case = case_of(where, setting, source)
    return replace(setting.within(case.loosening(setting.context).adding(*case.premises)), cases=())


def denied(claim: Claim, setting: Setting, source: Source) -> bool:
    """Is a bound nowhere so, by what is said of all or, where a line says "this" (`this needs w ≤ u`), of the case that
    is spoken of (`sin φ = u/w`)? `it slides only if tan θ > μ` is not said of the case in which it is about to."""
    spoken_of = bool(setting.cases) and source.words.lower().split()[-1:] in (["this"], ["that"], ["which"])
    for pair in pairs(alternatives(claim)[0]):
        m = matter(pair, setting, source)
        for view in filter(None, (inside_open_case(m, beside=True) if spoken_of else None, m)):
            found, cloud = evidence(view)
            if cloud.size and any(e.fails.all() and _apart(e) for e in found):
                return True
    return False


def _apart(e: Evidence) -> bool:
    """Are the sides nowhere equal? Where they are, a thing is about to happen, and more of it is not denied."""
    return bool((np.abs(e.left - e.right) > _EQUAL * (np.abs(e.left) + np.abs(e.right))).all())
