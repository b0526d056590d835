"""New names for values in a case: `dV/dr = 0 → r0 = l²/(m k)`, `y = 0: t1 = 2 u/g`.

The name tells of what it is the value: r0 is what r is there. So its value is decided by the case and not free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from derive.notation.lists.word_lists import words
from derive.notation.tree import Claim, Name, Relation
from derive.quantities.unit_table import dimension
from derive.states.context import Context, Premise, given_by_time, tied_names
from derive.states.setting import Case, Matter, Setting
from derive.states.states import freedom
from derive.states.yielding import unvalued
from derive.steps.letters.defining import defined_by
from derive.steps.letters.marks import stem_and_mark
from derive.terms.isolation import isolated
from derive.terms.term import ZERO, Term, Var, add, sub, substitute, var, variables
from derive.terms.world import TIME


class Valued(NamedTuple):
    """A pair with a quantity put for the new name of its value in a case, and that name. surely: what gives the name is
    just what gives the quantity there."""

    inside: Matter
    name: Var
    surely: bool = False


def as_value_there(m: Matter) -> Valued | None:
    """The pair with the quantity put for the new name of its value in the case spoken of."""
    case = next((c for c in reversed(m.setting.cases) if c.line in (0, m.number) or not c.left), None)
    found = defined_by(m, without_a_value(m)) if case is not None else None
    if case is None or found is None:
        return None
    name = found[0]
    stem = _stem(name, m)
    called = stem == name.name
    if called:
        stem = next((n for n in _PLACES_CALLED.get(name.name, "") if n in tied_names(m.context)), name.name)
        if (stem in "xs" and _at_the_top(case)) or (stem == TIME and not _is_a_time(name, m)):
            return None
    if stem == name.name or Var(stem) in variables(found[1]) or _told_outright(Var(stem), case):
        return None
    by_name = not called and (stem in _spoken_of(case, m) or _utmost_there(case, name, found[1], m) or (
        name.name.partition("_")[2] in _IN_THE_END and stem in _tied_to(case, m)))
    if not by_name and not _settled_there(Var(stem), found[1], case, m):
        return None
    change: dict[Term, Term] = {var(name): var(Var(stem))}
    parts = tuple((substitute(a, change), substitute(b, change)) for a, b in m.lowered.parts)
    fresh = tuple(n for n in m.fresh if n != name.name)
    surely = not by_name and name.name not in _PERIODS
    return Valued(replace(m, lowered=replace(m.lowered, parts=parts), fresh=fresh), name, surely)


def as_value_within(m: Matter) -> Valued | None:
    """The same where a relation does not give the new name at sight: `at y = 0: 0 = h + u t1 - ½ g t1²`,
    `v = 0: ½ k x_m² = m g (h + x_m)`."""
    case = next((c for c in reversed(m.setting.cases) if c.line in (0, m.number) or not c.left), None)
    new = without_a_value(m)
    if case is None or m.pair.sign != "=" or len(m.lowered.parts) != 1 or defined_by(m, new) is not None:
        return None
    marked = [(v, _stem(v, m)) for v in m.unknowns if v.name in new and not (v.at or v.order)]
    marked = [(v, stem) for v, stem in marked if stem != v.name]
    if len(marked) != 1:
        return None
    ((name, stem),) = marked
    others = [v for v in m.unknowns if v != name]
    known = stem == TIME or stem in tied_names(m.context)
    if not known or Var(stem) in others or _told_outright(Var(stem), case):
        return None
    settled = _settled_there(Var(stem), add(*map(var, others)), case, m)
    if not settled and stem not in _spoken_of(case, m):
        return None
    parts = tuple((substitute(a, {var(name): var(Var(stem))}), substitute(b, {var(name): var(Var(stem))}))
                  for a, b in m.lowered.parts)
    fresh = tuple(n for n in m.fresh if n != name.name)
    return Valued(replace(m, lowered=replace(m.lowered, parts=parts), fresh=fresh), name, settled)


def _stem(name: Var, m: Matter) -> str:
    """The x of x_m, or of a declared xm."""
    stem, mark = stem_and_mark(name.name)
    pair = not mark and len(stem) == _PAIR and name.name in m.context.world.symbols and stem[0] in tied_names(m.context)
    return stem[0] if pair else stem


_PAIR = 2  # letters: a quantity and what marks it


def _is_a_time(name: Var, m: Matter) -> bool:
    """A T that is declared as one, and no pull or energy."""
    symbol = m.context.world.symbols.get(name.name)
    return symbol is not None and symbol.declared and symbol.dimension == dimension(s=1)


def _told_outright(v: Var, case: Case) -> bool:
    """`for V = 2000 m³: V_above = 210 m³`: what V is there is told by its own name."""
    return any(u == v and not variables(rest) for p in case.premises if p.sign == "=" for u, rest in isolated(p.term))


# What tells a place or a moment (common practice, no source).
_WHERE = frozenset("xyzsrhθφψtvωaNT")
# Letters for how far, how high or when it is in the end (common practice, no source).
_PLACES_CALLED = {
    "H": "yz", "h": "yz", "D": "xs", "d": "xs", "R": "x", "L": "xs", "S": "s", "X": "x", "Y": "y", "T": "t"}
# What may as well be the time of a whole swing.
_PERIODS = frozenset("T")
_THERE = Var("#there")
_UPWARDS = frozenset("yz")
# What comes of it there is another thing (`bounces at x = d: v_1 = e √(…)`).
_AFTERWARDS = words("after afterwards bounces bounce rebounds rebound leaves loses lost half sticks collides")


def _at_the_top(case: Case) -> bool:
    """Where `y' = 0` or `v_y = 0`, nobody is as far as he will be."""
    told = {v for p in case.premises for v in variables(p.term)}
    return any((v.order and v.name in _UPWARDS) or v.name.partition("_")[2] in _UPWARDS for v in told)


def _settled_there(v: Var, by: Term, case: Case, m: Matter) -> bool:
    """`at x = d: v_1 = √(u² - 2 μ g d)` below `v² = u² - 2 μ g x`: do just the names that give v_1 fix v in the case,
    and not before? What fixes it with others (`v_1 = u/2`) says where the case comes to be."""
    given = [u for u in variables(by) if u.role == "value" and not u.order and not u.at]
    there = m.context.resolved(var(v))
    there = m.context.placed(there, case.key) if case.key else there
    if (not case.key and not case.premises) or len(given) < 2 or len(given) < len(variables(by)) or (
            set(given) >= {*variables(there)}):
        return False
    told = {u.name for p in case.premises for u in variables(p.term)}
    nothing = any(p.sign == "=" and p.term.op == "var" for p in case.premises)  # `f = 0`
    somewhere = case.key or nothing or any(n.partition("_")[0] in _WHERE for n in told)  # no other body: `β = 2/5`
    if not somewhere or v.name not in tied_names(m.context) or any(
            u.name in m.fresh and u.name not in told for u in given):
        return False
    if not _AFTERWARDS.isdisjoint(m.words.lower().replace(",", " ").split()):
        return False

    open_to_values = unvalued(m.context)
    whole = Premise("", sub(var(_THERE), there), "=", False)  # of `y = h + u t - ½ g t²` all of it, not its time alone

    def settled(known: list[Var], premises: Sequence[Premise]) -> bool:
        said = (*premises, whole)
        free = freedom(open_to_values, known, said, m.setting.states)
        return 0 < free == freedom(open_to_values, [*known, _THERE], said, m.setting.states)

    return settled(given, case.premises) and (bool(case.key) or not settled(given, ())) and not any(
        settled([u for u in given if u != one], case.premises) for one in given)


def later_than_the_start(m: Matter) -> Matter:
    """The same where t has passed: of two times at which `y = 0`, the later one."""
    passed = Premise("t > 0", var(Var(TIME)), ">", always=False, kind="custom")
    return replace(m, setting=m.setting.within(m.context.adding(passed)))


def named_place(where: Claim | None, setting: Setting) -> bool:
    """`x0 = 2A/B` in `dU/dx = 0 at x0 = 2A/B`: a name that nothing above speaks of, for where something is so."""
    named = where.sides[0] if isinstance(where, Relation) and where.signs == ("=",) else None
    if not isinstance(named, Name) or named.ident in tied_names(setting.context):
        return False
    stem, _, index = named.ident.partition("_")
    world = setting.context.world
    return bool(index) and (world.is_changing(Var(stem)) or stem in world.fields.values())


def without_a_value(m: Matter) -> set[str]:
    """New names, and declared ones that nothing above speaks of."""
    declared = {n for n, s in m.context.world.symbols.items() if s.declared and not s.of}
    return set(m.fresh) | ({v.name for v in m.unknowns} & declared - tied_names(m.context))


# Marks of what something comes to in the end (common practice).
_IN_THE_END = frozenset(("max", "T", "t", "term", "top", "lim", "end", "fin", "f"))


def _tied_to(case: Case, m: Matter) -> set[str]:
    """The v of `m a = P/v - c v²` in the case a = 0."""
    own = {v.name for p in case.premises for v in variables(p.term)}
    said = ({v.name for v in variables(p.term)} for p in m.context.premises if p.sign == "=")
    return {name for names in said if own & names for name in names}


# What the utmost values are called by, which a quantity has where something is about to come to pass.
_UTMOST = frozenset(("max", "min", "crit", "c", "lim", "limit"))


def _utmost_there(case: Case, name: Var, value: Term, m: Matter) -> bool:
    """`v_max² = …` below `about to slip: f = μ N`: what v is by the names of the line, in the case and nowhere else."""
    stem, _, index = name.name.partition("_")
    if index not in _UTMOST or not case.premises or any(p.sign != "=" for p in case.premises):
        return False
    others, states = list(variables(value)), m.setting.states
    there = case.loosening(m.context).adding(*case.premises)

    def ties(context: Context) -> bool:
        alone = freedom(context, others, (), states)
        return alone >= 0 and freedom(context, [*others, Var(stem)], (), states) == alone

    return ties(there) and not ties(m.context)


def _spoken_of(case: Case, m: Matter) -> set[str]:
    """The quantities that a case can give a value: those of its condition, and at an instant all that move."""
    if case.key:
        name, world = case.key.split("=")[0], m.context.world
        by_time = {v.name for v in given_by_time(m.context)} if name == TIME else set()
        return {name, TIME, world.fields.get(name, ""), *world.moving, *by_time}
    own = variables(*(m.context.resolved(p.term) for p in case.premises))
    names = {v.name for v in own}
    if names & {v.name for v in given_by_time(m.context)}:
        names.add(TIME)
    given = {v.name for n in names for v in variables(m.context.world.definitions.get(n, ZERO))}
    return names | given | {v.wrt for v in own if v.order} | {m.context.world.fields.get(n, "") for n in names}
