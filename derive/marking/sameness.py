"""Do two pieces say the same, seen through definitions but with nothing else to help them?

In the context of a whole exercise every true line is equivalent to every other, because both hold everywhere.
So nothing that makes a piece true by itself may be known here: ranges, the writer's own definitions, and, where
one piece writes out what the other abbreviates, the given that names the abbreviation.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from derive.marking.pieces import Piece
from derive.notation.tree import (
    Between,
    Differential,
    Expr,
    Integral,
    Name,
    Num,
    Product,
    Relation,
    is_zero,
    names_in,
    rebuilt,
    walk,
)
from derive.records import LineVerdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.points import sample
from derive.states.projection import Cloud, System
from derive.states.setting import Setting
from derive.terms.allowance import TooLarge
from derive.terms.lowering import Meaningless
from derive.terms.numbers import bare_number, last_digit_of_result
from derive.terms.prior import draw
from derive.terms.term import Term, Var, sub, var, variables
from derive.terms.world import World

_COMPARABLE = ("=", "<", ">", "≤", "≥")
_KEPT = 4000
_MOST_ANSWERS = 100_000
_MOST_SHORTHANDS = 6
# Two numbers that round to the same may each be off by half a digit; more than this is another number.
_LARGEST_SLACK = 0.03
TOO_MUCH = (Meaningless, TooLarge, OverflowError, RecursionError, ValueError, FloatingPointError, np.linalg.LinAlgError)


@dataclass(slots=True)
class Memory:
    """States found before, by what determines them. Each is found from nothing, so that what is kept never
    changes an answer."""

    clouds: dict[object, Cloud] = field(default_factory=dict)
    answers: dict[object, bool] = field(default_factory=dict)
    forms: dict[object, Any] = field(default_factory=dict)  # the business of derive.marking.form
    grounds: dict[object, int] = field(default_factory=dict)

    def number_of(self, ground: object) -> int:
        """A short name for a ground, the same for equal ones."""
        return self.grounds.setdefault(ground, len(self.grounds))

    def cloud(self, context: Context, wanted: Sequence[Term]) -> Cloud:
        system = context.system(wanted)
        priors = tuple(context.prior(v) for v in variables(*system.equations, *system.positive))
        key = (system, priors, context.seed)
        found = self.clouds.get(key)
        if found is None:
            if len(self.clouds) >= _KEPT:
                self.clouds.clear()
            found = self.clouds[key] = _sampled(system, context)
        return _with_unmentioned(found, wanted, context)


def _sampled(system: System, context: Context) -> Cloud:
    return sample(system, context.prior, context.generator(), 40)


def _with_unmentioned(cloud: Cloud, wanted: Sequence[Term], context: Context) -> Cloud:
    """Random values for what no equation speaks of."""
    missing = [v for v in variables(*wanted) if v not in cloud.columns]
    size = cloud.size or (40 if not cloud.columns else 0)
    if not missing or not size:
        return cloud
    drawn = {v: draw(context.prior(v), size, _generator(context, v)) for v in missing}
    return Cloud({**cloud.columns, **drawn}, size, cloud.residual)


def _generator(context: Context, v: Var) -> np.random.Generator:
    """Random numbers of a name's own: those that the states began from would make it equal to another name."""
    digest = hashlib.sha256(f"{context.seed} {v}".encode()).digest()
    return np.random.default_rng(int.from_bytes(digest[:8], "big"))


@dataclass(frozen=True, slots=True)
class Shorthand:
    """A given or a trial that says what a name stands for; and whether it may be differentiated."""

    name: str
    premise: Premise
    meaning: Expr | None = None


@dataclass(frozen=True, slots=True)
class Ground:
    """What pieces are compared on.

    context:     ranges and the writer's own definitions; no course of anything is adopted.
    shorthands:  what else a name may stand for, used one way and only where one of two pieces has the name.
    givens:      the premises of each given line, to know a restated given by.
    """

    context: Context
    shorthands: tuple[Shorthand, ...] = ()
    givens: tuple[tuple[Premise, ...], ...] = ()
    memory: Memory = field(default_factory=Memory, compare=False)
    number: int = 0

    def sure(self, piece: Piece, extra: Sequence[Premise] = ()) -> bool:
        """Does a piece hold here already?"""
        return _holds(self, _parts(piece, self), piece.sign, extra)


def ground_of(setting: Setting, givens: Sequence[LineVerdict], seed: str, memory: Memory) -> Ground:
    """The ground on which a working is compared with a mark scheme."""
    contexts = [setting.context] + ([setting.regime.context] if setting.regime else [])
    world = contexts[-1].world
    trials = [
        Shorthand(name, Premise("trial", sub(var(Var(name)), course), always=False))
        for c in contexts for name, course in c.world.functions.items()
    ]
    premises = dict.fromkeys(p for c in contexts for p in c.premises)
    kept = tuple(p for p in premises if p.kind in ("definition", "range"))
    context = Context(_unsolved(world), tuple(replace(p, implied=False) if p.kind == "definition" else p
                                              for p in kept), setting.context.instants, seed)
    own = [p for p in setting.context.premises if p.kind == "given"]
    by_line: dict[int, list[Premise]] = {}
    for p in own:
        by_line.setdefault(p.source, []).append(p)
    named = tuple(s for x in givens for s in _shorthands(x, own))
    shorthands, lines = (*dict.fromkeys(trials), *named), tuple(tuple(ps) for ps in by_line.values())
    number = memory.number_of((context.premises, shorthands, lines, context.instants, seed, _known(context)))
    return Ground(context, shorthands, lines, memory, number)


def _unsolved(world: World) -> World:
    """A world in which derivatives and integrals see through the writer's own shorthand and nothing else: what the
    working has found out would make its lines true by themselves."""
    own = {n: t for n, t in world.definitions.items() if n not in world.symbols or not world.symbols[n].declared}
    return replace(world, functions={}, definitions=own, rates={})


def _known(context: Context) -> object:
    """What a world says of names, as something that can be looked up."""
    w = context.world
    return (w.moving, w.varying, tuple(w.fields.items()), tuple(w.symbols.items()), tuple(w.definitions.items()),
            tuple(w.rates.items()), w.free_complex)


def _shorthands(line: LineVerdict, premises: Sequence[Premise]) -> Iterator[Shorthand]:
    """The names that a given line gives at sight: a bare name alone on one side of an equation."""
    for v in line.verdicts:
        claim = v.statement.claim if v.statement else None
        if not isinstance(claim, Relation) or claim.signs != ("=",):
            continue
        own = [p for p in premises if p.source == line.line.number and p.sign == "="]
        for side, other in (claim.sides, claim.sides[::-1]):
            if isinstance(side, Name):
                yield from (Shorthand(side.ident, p, other) for p in own if Var(side.ident) in variables(p.term))


# --- comparing ----------------------------------------------------------------------------------------------


def same(said: Piece, wanted: Piece, ground: Ground) -> bool:
    """Does what was said say what was wanted, in any arrangement?"""
    if said.claim == wanted.claim:
        return True
    if any(isinstance(n, Differential) for n in walk(wanted.claim)):
        said = _before_it_is_integrated(said)
    if not _alike_enough(said.sign, wanted.sign) or (to_work_out(said) and not to_work_out(wanted)):
        return False
    if lacks_the_number(said, wanted, ground):
        return False
    answers, key = ground.memory.answers, (said.claim, wanted.claim, ground.number)
    if key not in answers:
        if len(answers) >= _MOST_ANSWERS:
            answers.clear()
        answers[key] = _compared(said, wanted, ground)
    return answers[key]


def _compared(said: Piece, wanted: Piece, ground: Ground) -> bool:
    try:
        return any(_same_with(said, wanted, extra, ground) for extra in _grounds_to_try(said, wanted, ground))
    except TOO_MUCH:
        return False


def _before_it_is_integrated(piece: Piece) -> Piece:
    """`∫ dv/v = -(b/m) ∫ dt` says what `dv/v = -(b/m) dt` does, and what is done with it next."""
    if not isinstance(piece.claim, Relation) or len(piece.claim.sides) != 2:
        return piece
    wholes = [[n for n in walk(side) if isinstance(n, Integral)] for side in piece.claim.sides]
    if any(len(found) != 1 for found in wholes):
        return piece
    change: dict[int, object] = {id(n): Product((n.body, Differential(n.wrt))) for found in wholes for n in found}
    return replace(piece, claim=rebuilt(piece.claim, change))  # type: ignore[arg-type]


def to_work_out(piece: Piece) -> bool:
    """An integral that still stands there is no arrangement of its value."""
    return any(isinstance(n, Integral | Between) for n in walk(piece.claim))


def lacks_the_number(said: Piece, wanted: Piece, ground: Ground) -> bool:
    """A formula into which values have still to be put (`T = m g sin θ`) does not say the number that is wanted."""
    sides = wanted.claim.sides if isinstance(wanted.claim, Relation) else ()
    if not any(not names_in(side) and not is_zero(side) for side in sides):
        return False
    own = {*names_in(said.claim)} - {*names_in(wanted.claim)}
    return any(map(ground.context.world.is_declared, own))


def _alike_enough(one: str, other: str) -> bool:
    return one in _COMPARABLE and other in _COMPARABLE and (one == "=") == (other == "=")


def _grounds_to_try(said: Piece, wanted: Piece, ground: Ground) -> Iterator[tuple[Premise, ...]]:
    """No shorthand, each that can serve, all of them."""
    yield ()
    usable = [s for s in ground.shorthands if _serves(s, said, wanted, ground)][:_MOST_SHORTHANDS]
    if usable and restates_a_given(said, ground):
        # As it stands it says what its given does; but `½ m u² - ½ (m + M) v² = …` speaks of E - K.
        usable = [s for s in usable if _is_written_out(s, said)]
    if not usable:
        return
    for s in usable:
        yield (s.premise,)
    further = _written_out(usable, ground)
    for together in dict.fromkeys((tuple(usable), further)):
        if len(together) > 1:
            yield tuple(dict.fromkeys(s.premise for s in together))


def _written_out(usable: Sequence[Shorthand], ground: Ground) -> tuple[Shorthand, ...]:
    """The shorthands with those that their meanings are written in: a = v' and then v = R w."""
    found = list(usable)
    for s in found:
        inner = set(names_in(s.meaning)) if s.meaning is not None else set()
        found += [x for x in ground.shorthands if x.name in inner and x not in found]
        if len(found) > _MOST_SHORTHANDS:
            break
    return tuple(found)


def _serves(s: Shorthand, said: Piece, wanted: Piece, ground: Ground) -> bool:
    """A shorthand helps where one piece has its name and the other has not. The quantity that is wanted must
    be spoken of, or what it stands for be written out: `ω = √(k/m)` gives no period, though a given says that
    T = 2π/ω, and `2π/ω = 2π √(m/k)` does."""
    has, needs = _has(s.name, said, ground), _has(s.name, wanted, ground)
    if has == needs:
        return False
    subject = wanted.subject
    if has:
        # A line that gives the abbreviation itself is about that, whatever else stands in it.
        elsewhere = isinstance(said.subject, Name) and said.subject.ident == s.name
        return not isinstance(subject, Name) or (not elsewhere and _has(subject.ident, said, ground))
    return not (isinstance(subject, Name) and subject.ident == s.name) or _is_written_out(s, said)


def _is_written_out(s: Shorthand, piece: Piece) -> bool:
    """Does what a name stands for stand in a piece as the given has it?"""
    return s.meaning is not None and not isinstance(s.meaning, Name | Num) and s.meaning in walk(piece.claim)


def _has(name: str, piece: Piece, ground: Ground) -> bool:
    """Does a piece speak of a name, itself or through the writer's own definitions?"""
    terms = [t for part in _parts(piece, ground) for t in part]
    defined = _narrowed(ground.context, terms, ()).premises
    return any(v.name == name and v.role == "value" and not v.order
               for t in (*terms, *(p.term for p in defined if p.kind == "definition")) for v in variables(t))


def restates_a_given(piece: Piece, ground: Ground) -> bool:
    """Does one given by itself, with definitions, say what a piece says?"""
    answers, key = ground.memory.answers, ("restated", piece.claim, ground.number)
    if key not in answers:
        try:
            answers[key] = any(ground.sure(piece, premises) for premises in ground.givens)
        except TOO_MUCH:
            answers[key] = False
    return answers[key]


def _same_with(said: Piece, wanted: Piece, extra: tuple[Premise, ...], ground: Ground) -> bool:
    """Each gives the other where neither holds already. The way back may hold on one branch only: `x = √(a)`
    says what `x² = a` asks for."""
    here, there = _parts(said, ground), _parts(wanted, ground)
    slack = min(_uncertainty(said) + _uncertainty(wanted), _LARGEST_SLACK)
    if not _holds(ground, here, said.sign, (*extra, *_premises(there, wanted.sign)), slack, somewhere=True):
        return False
    if _holds(ground, there, wanted.sign, extra) or _holds(ground, here, said.sign, extra):
        return False
    return _holds(ground, there, wanted.sign, (*extra, *_premises(here, said.sign)), slack)


def _parts(piece: Piece, ground: Ground) -> tuple[tuple[Term, Term], ...]:
    return piece.parts(ground.context.world)


def _premises(parts: Sequence[tuple[Term, Term]], sign: str) -> tuple[Premise, ...]:
    return tuple(Premise("said", sub(a, b), sign) for a, b in parts)


def _holds(
    ground: Ground, parts: Sequence[tuple[Term, Term]], sign: str, extra: Sequence[Premise], slack: float = 0.0,
    somewhere: bool = False,
) -> bool:
    terms = [t for part in parts for t in part]
    cloud = ground.memory.cloud(_narrowed(ground.context, terms, extra), terms)
    if not cloud.size:
        return False
    for a, b in parts:
        found = weigh(a, b, sign, cloud)
        if slack:
            found = weigh(a, b, sign, cloud, slack * (np.abs(found.left) + np.abs(found.right)) / 2)
        if not (found.all_hold or (somewhere and found.holds.sum() >= max(2, cloud.size // 10))):
            return False
    return True


def _narrowed(context: Context, terms: Sequence[Term], extra: Sequence[Premise]) -> Context:
    """The context with only the definitions and ranges that bear on some terms: others cost time and change nothing."""
    names = {v.name for t in (*terms, *(p.term for p in extra)) for v in variables(t)}
    kept: list[Premise] = []
    left = list(context.premises)
    growing = True
    while growing:
        growing = False
        for p in list(left):
            here = {v.name for v in variables(p.term)}
            if here & names:
                left.remove(p)
                kept.append(p)
                growing = growing or not here <= names
                names |= here
    order = {id(p): k for k, p in enumerate(context.premises)}
    kept.sort(key=lambda p: order[id(p)])
    return replace(context, premises=(*kept, *extra))


def _uncertainty(piece: Piece) -> float:
    """How far, relatively, the written decimals of a piece may be off from what they were rounded from."""
    if not isinstance(piece.claim, Relation):
        return 0.0
    worst = 0.0
    results = {id(n) for side in piece.claim.sides for n in [bare_number(side)] if n is not None}
    for n in walk(piece.claim):
        if isinstance(n, Num) and n.value:
            digit = last_digit_of_result(n) if id(n) in results else n.last_digit
            if digit is not None:
                worst += 0.5 * 10.0**digit / abs(float(n.value))
    return worst
