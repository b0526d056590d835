"""How large a quantity is beside another, by words alone: half of what it was, twice as much, all of them equal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from derive.notation.names import canonical
from derive.notation.tree import Both, Claim, Expr, Name, Num, Product, Relation, Sign, names_in
from derive.quantities.unit_table import dimension
from derive.states import yielding
from derive.states.context import tied_names
from derive.states.setting import Setting
from derive.states.states import freedom
from derive.terms.isolation import isolated
from derive.terms.term import Var, variables
from derive.terms.world import TIME
from derive.verdicts.pairs.multiples import LETTERS, TIMES, told_times

# How much of what it was at the start a quantity is.
SHARES = {
    "half": Fraction(1, 2), "halved": Fraction(1, 2), "halves": Fraction(1, 2), "third": Fraction(1, 3),
    "quarter": Fraction(1, 4), "tenth": Fraction(1, 10),
    "double": Fraction(2), "doubled": Fraction(2), "doubles": Fraction(2), "twice": Fraction(2),
}
# The letters that these words are usually written with (common practice, no source).
_LETTERS = {"speed": "v", "velocity": "v", "height": "hyz", "energy": "E", "mass": "mM", "tension": "T", "force": "F"}

# What may be said to be equal, by the letters it is written with (common practice, no source).
EQUAL = {"masses": "mM", "speeds": "uvw", "velocities": "uvw", "radii": "rR", "lengths": "lL", "stiffnesses": "k"}


def equal_sizes(said: list[str], setting: Setting) -> Claim | None:
    """`for equal masses`, `equal masses and speeds`: m1 = m2, and u1 = u2. None where one of them is not clear."""
    each = [_all_one(word, setting) for word in said if word in EQUAL]
    found = tuple(c for c in each if c is not None)
    if not found or len(found) < len(each):
        return None
    return found[0] if len(found) == 1 else Both(found)


def _all_one(word: str, setting: Setting) -> Relation | None:
    world = setting.context.world
    tied = sorted(tied_names(setting.context))
    weighed = [n for n in tied if n in world.symbols and world.symbols[n].dimension == dimension(kg=1)]
    names = (weighed if word == "masses" else []) or [n for n in tied if n.split("_")[0] in EQUAL[word]]
    numbered = [n for n in names if "_" in n]
    names = numbered if len(numbered) > 1 and len({n.split("_")[0] for n in numbered}) == 1 else names
    if len(names) < 2 or (names is not numbered and (len(names) > 2 or word != "masses")):
        return None
    signs: tuple[Sign, ...] = tuple("=" for _ in names[1:])
    return Relation(tuple(Name(n) for n in names), signs)


def share_of_the_start(said: list[str], setting: Setting) -> Claim | None:
    """`when the speed has halved`: v = v0/2, where it is plain which speed changes, and from which start."""
    shares = [SHARES[w] for w in said if w in SHARES]
    letters = "".join(_LETTERS[w] for w in said if w in _LETTERS)
    tied = tied_names(setting.context)
    changing = [n for n in tied if n in letters and setting.context.world.is_changing(Var(n))]
    if len(shares) != 1 or len(changing) != 1:
        return None
    starts = list(dict.fromkeys(_starts(changing[0], tied, setting)))
    if len(starts) != 1:
        return None
    return Relation((Name(changing[0]), Product((Num(shares[0]), starts[0]))), ("=",))


def changed_size(typed: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`double T: v = 179 m/s`, `twice the speed: s = 250 m`, `if x is doubled v is doubled: v = 11 m/s`, of what has
    been told a number, and what it gives."""
    said = [w.lower() for w in typed]
    times = told_times(said) + [(k, SHARES[w]) for k, w in enumerate(said) if w in SHARES and w not in TIMES]
    if not times:
        return None
    told = {v.name: (rest, p) for p in setting.context.premises if yielding.is_value(p) for v, rest in isolated(p.term)}
    head = claim.sides[0].ident if isinstance(claim, Relation) and isinstance(claim.sides[0], Name) else ""
    by_letter = {n: k for k, w in enumerate(typed) if (n := canonical(w)) in told and n != head}
    if not by_letter and head in tied_names(setting.context):
        by_letter = {n: k for k, w in enumerate(said) for n, (_, p) in told.items()
                     if w in LETTERS and n != head and n.partition("_")[0] in (*LETTERS[w],) and not p.implied}
    if len(by_letter) != 1:
        return None
    ((name, place),) = by_letter.items()
    value = told[name][0]
    if head and head in tied_names(setting.context) and not hangs_on(head, name, setting):
        return None
    _, most = min(times, key=lambda at: abs(at[0] - place))
    return Relation((Name(name), Num(most * Fraction(value.value))), ("=",)) if value.op == "num" else None


def hangs_on(asked: str, name: str, setting: Setting) -> bool:
    """Do the relations of a page leave a quantity open, once another has no value? What was only reckoned in figures
    says nothing of how they go together."""
    stated = replace(setting.context, premises=tuple(
        p for p in setting.context.premises if not (p.implied or p.kind == "reckoned")))
    left = yielding.without_values_of(stated, {name})
    return freedom(left, [Var(asked)], (), setting.states) == 1


_GONE = frozenset(("lost", "gone", "less"))
_POINTING = frozenset(("that", "it", "this", "left", "remains", "reached"))


def share_left(said: list[str], claim: Claim | None, setting: Setting) -> Claim | None:
    """`half of that is reached at t = (m/k) ln 2`, `a quarter is left at t = …`: of the one quantity that a line gives
    by the time, and of what it starts with or ends at, where one name tells which."""
    shares = [SHARES[w] for w in said if w in SHARES]
    timely = isinstance(claim, Relation) and claim.signs == ("=",) and TIME in names_in(claim)
    if len(shares) != 1 or not timely or _POINTING.isdisjoint(said) or not _GONE.isdisjoint(said):
        return None
    world, tied = setting.context.world, tied_names(setting.context)
    given = [n for n, t in (world.definitions | world.functions).items() if Var(TIME) in variables(t) and n in tied]
    if len(given) != 1:
        return None
    (name,) = given
    whole = {*_starts(name, tied, setting), *(Name(n) for n in tied if n.startswith(f"{name}_"))}
    return Relation((Name(name), Product((Num(shares[0]), whole.pop()))), ("=",)) if len(whole) == 1 else None


def _starts(name: str, tied: set[str], setting: Setting) -> Iterator[Expr]:
    """What a quantity is at the start: `v(0) = u`, or v0 by its name."""
    for p in setting.context.premises:
        if p.sides is None or p.sign != "=":
            continue
        there, value = p.sides
        if there.op == "var" and there.value.name == name and there.value.at.endswith("=0") and value.op == "var":
            yield Name(value.value.name)
    if f"{name}_0" in tied:
        yield Name(f"{name}_0")
