"""Trying other claims in the place of one that was typed: what the engine's states say of each.

This is where the search for a slip touches the proof room. A trial is cheap: it asks the states that were found
for the line already, and the rules that could still let a claim pass, but looks for no proof and no counterexample.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from derive.diagnosis.course import course_of, fits_equations, starts_wrong
from derive.diagnosis.drift import Drift, drifts
from derive.diagnosis.glance import Glance
from derive.diagnosis.nearness import comes_near, far_off, meet
from derive.notation.tree import Claim, Derivative, Expr, Name, Statement, is_zero, names_in
from derive.quantities.dimensions import Dimensions
from derive.records import Standing
from derive.states import probing
from derive.states.context import Context, Premise
from derive.states.evidence import Evidence, weigh
from derive.states.projection import Cloud
from derive.states.said import Source, matter
from derive.states.setting import Decision, Matter, Setting
from derive.steps.cases import conditions
from derive.steps.changing import courses, motion, staying
from derive.steps.numbers import numeric
from derive.steps.small import orders, smallness
from derive.terms.allowance import TooLarge
from derive.terms.claims import Pair, alternatives, lower_pair, pairs
from derive.terms.expansion import expanded
from derive.terms.lowering import Meaningless, lower
from derive.terms.numbers import with_decimals_named
from derive.terms.tape import taped
from derive.terms.term import ZERO, Term, Var, sub, variables
from derive.verdicts.pairs.at_states import holds_at_states
from derive.verdicts.pairs.customs import by_custom_in_open_case
from derive.verdicts.pairs.judge import by_constant_rates, by_meaning
from derive.verdicts.pairs.open_cases import holds_in_open_case
from derive.verdicts.pairs.weighing import evidence
from derive.verdicts.statements import decide

TIGHT = 12  # states at which a given bound is met
ROUNDED = 0.02
MANY = 320  # states that a bound without a proof has to hold in
# A side of an approximation that is not right to leading order falls away no faster than the other.
LEADING = 0.65
# What asking costs, in units of one look at the states: counted and not timed, so that the same line always gets
# the same answer. Measured over the slips of tests/diagnosis: a look takes half a millisecond, twice that where
# something moves; the rules five times as much, and where states have to be followed as something shrinks far more.
A_GLANCE, A_LOOK, A_RULE, A_DECISION, A_SHRINKING, A_LIMIT = 0.05, 1, 5, 30, 40, 60
WEIGHED = ("=", "≈", "≠", "<", ">", "≤", "≥", "≪", "≫")
# A line that holds but for a case it loses is no answer to what a broken one should have been.
GOOD = (Standing.FOLLOWS, Standing.APPROXIMATES)
# Where the states all agree the one condition is that nothing is divided by nothing, which every division has.
LOSING = (*GOOD, Standing.FOLLOWS_IF)
TOO_MUCH = (Meaningless, TooLarge, OverflowError, RecursionError, np.linalg.LinAlgError)

# Rules that let a pair pass although the states alone do not say so; asked only where they can apply.
PASSES: tuple[Callable[[Matter], Decision | None], ...] = (
    holds_at_states, courses.general_solution, staying.kept, holds_in_open_case, numeric.right_to_its_figures,
    numeric.from_rounded_values, motion.integrated, by_constant_rates, by_meaning, by_custom_in_open_case,
)


@dataclass(slots=True)
class Effort:
    """What the trials of one search have cost so far."""

    spent: float = 0


@dataclass(frozen=True, slots=True)
class Trial:
    """A statement with the setting it was judged in and the dimensions known there.

    cloud:  the states found for the line as typed; deep: those for its derivatives along the motion, where it moves.
    shrunk: states followed as something small shrinks, for each that may be the small one of an approximation.
    small:  the names that are small, where that is said; kept: the powers of them that the line writes out.
    key:    the instant that the claim is said of, '' for all.
    fresh:  the names that the line brings in; moving: it speaks of something that changes in time.
    perhaps: equations met on the way that do not hold everywhere; some may, but for a case that they lose, and of some
             (None) that is known.
    """

    statement: Statement
    setting: Setting
    source: Source
    dimensions: Dimensions
    cloud: Cloud
    deep: tuple[Cloud, ...] = ()
    shrunk: tuple[tuple[Cloud, ...], ...] = ()
    small: tuple[str, ...] = ()
    kept: int = 0
    key: str = ""
    fresh: frozenset[str] = frozenset()
    moving: bool = False
    perhaps: dict[Claim, Matter | None] = field(default_factory=dict)
    effort: Effort = field(default_factory=Effort)

    def holds(self, claim: Claim) -> bool:
        """Would this claim have followed in the statement's place?"""
        self.effort.spent += 2 * A_LOOK if self.moving else A_LOOK
        try:
            plain = self.statement.role in ("claim", "operation") or bool(self.key)
            options = alternatives(claim)
            if not plain and any(self._parts_ways(p) or self._keeps_less(p) for p in pairs(options[0])):
                return False
            if plain and len(options) == 1:
                return self._passes(claim)
            if plain and (known := self._any_at_known_states(options)) is not None:
                return known
            return self._decided(claim, self.setting.asking())
        except TOO_MUCH:
            return False

    def glance(self, claim: Claim) -> Callable[[Claim], bool] | None:
        """What rules out at a glance claims that differ in a piece from one, where the states can do so: not where a
        case is open, in an approximation, or for a course with constants of its own."""
        plain = self.statement.role in ("claim", "operation") or bool(self.key)
        moving = self.moving and not self.key
        several = self.setting.cases or len(alternatives(claim)) > 1
        if not plain or self.setting.regime is not None or several or (moving and self.fresh):
            return None
        moved = drifts(claim, self.deep, self.context, self._measured) if moving else ()

        def integrated(left: Expr, right: Expr) -> bool:
            return self._integrated(left, right, moved)

        rules_out = Glance(claim, self._settled_measure, integrated if moving else None).rules_out

        def glanced(other: Claim) -> bool:
            self.effort.spent += A_GLANCE
            return rules_out(other)

        return glanced

    def _integrated(self, left: Expr, right: Expr, moved: tuple[Drift, ...]) -> bool:
        """May sides that differ come from integrating, or be a course, of which other things are asked?"""
        if isinstance(left, Name) and left.ident not in self.context.world.functions:
            return True
        rate = isinstance(left, Derivative) and not left.partial
        self.effort.spent += A_LOOK if moved else 0
        if not rate and moved and all(d.apart(left, right) for d in moved):
            return False
        self.effort.spent += A_LOOK
        parts = lower_pair(Pair(left, right, "="), self.context.world).parts
        if any(course_of(a, b, self.context) is not None for a, b in parts):
            return True
        return self._may_be_integrated([(self._to_order(a), self._to_order(b)) for a, b in parts])

    def _settled_measure(self, piece: Expr) -> NDArray[np.complex128] | None:
        """The values of a piece that the states settle; not of what may stand for an integral or another instant."""
        return self.measure(piece, lambda v: v.role == "value" and (not v.at or bool(self.key)))

    def _passes(self, claim: Claim) -> bool:
        setting = self.setting.asking()
        for pair in pairs(claim):
            if pair.sign == "→":
                return self._decided(claim, setting)
            if self._parts_ways(pair) or self._keeps_less(pair):
                return False
            if pair.sign == "≈" and setting.regime is None:
                return self._decided(claim, setting)
            known = self._at_known_states(pair)
            if known is False:
                return False
            if known is None and self.key:
                return self._decided(claim, setting)
            if known is None:
                self.effort.spent += A_RULE if setting.regime is None else A_SHRINKING
                m = matter(pair, setting, self.source, self.statement.word)
                rules = PASSES if setting.regime is None else (smallness.right_to_its_order,)
                rule, decision = next(((r, d) for r in rules if (d := r(m)) is not None), (None, None))
                if decision is None or decision.verdict.standing not in (LOSING if rule is holds_at_states else GOOD):
                    equation = pair.sign == "=" and self.setting.regime is None
                    if decision is None and equation:
                        self.perhaps[claim] = m
                    elif decision is not None and decision.verdict.standing is Standing.FOLLOWS_IF:
                        self.perhaps[claim] = None
                    return False
                setting = decision.after
        return True

    def holds_but_for_a_case(self, claim: Claim) -> bool:
        """Is this one of the claims met on the way, and would it hold but for a case that it loses?"""
        m = self.perhaps.get(claim)
        return claim in self.perhaps and (m is None or conditions.follows_if(m) is not None)

    def _any_at_known_states(self, options: tuple[Claim, ...]) -> bool | None:
        """Does every state satisfy at least one of the alternatives? None where a state lacks a value for it."""
        holds = np.zeros(self.cloud.size, dtype=bool)
        for option in options:
            here = np.ones(self.cloud.size, dtype=bool)
            for pair in pairs(option):
                for a, b in lower_pair(pair, self.context.world).parts:
                    left, right = self._to_order(a), self._to_order(b)
                    if pair.sign not in WEIGHED or any(v not in self.cloud.columns for v in variables(left, right)):
                        return None
                    here &= weigh(left, right, pair.sign, self.cloud).holds
            holds |= here
        return bool(holds.size >= 4 and holds.all())

    def _at_known_states(self, pair: Pair) -> bool | None:
        """What the states found for the line as typed say of another pair; None where they cannot settle it.

        They cannot where a name is new to them, where decimals leave room, where a case is open, or where
        something moves and may follow by integration.
        """
        context = self.context
        lowered = lower_pair(pair, context.world)
        terms = [(self._to_order(a), self._to_order(b)) for a, b in lowered.parts]
        unknowns = variables(*(t for part in terms for t in part))
        placed = bool(self.key)
        if lowered.primitives or lowered.instants or any(v.role != "value" or (v.at and not placed) for v in unknowns):
            return None
        if self.moving and not placed:
            fitting = [fits_equations(a, b, context, self.cloud) for a, b in terms]
            fresh = any(v.name in self.fresh for v in unknowns)
            if fresh and False in fitting:
                return False
            if not fresh and any(starts_wrong(a, b, context, self.cloud) for a, b in terms):
                return False
            if fresh or all(fitting):
                return None  # a course with constants of its own, or one whose start is yet to be seen
        cloud = next((c for c in (self.cloud, *self.deep) if all(v in c.columns for v in unknowns)), None)
        if cloud is None:
            # A name or derivative that nothing before ties down cannot be what the line needed, unless the writer
            # has brought it in here: a constant of integration.
            own = names_in(self.statement)
            return None if all(v.name in own for v in unknowns if v not in self.cloud.columns) else False
        found = [weigh(a, b, pair.sign, cloud) for a, b in terms if pair.sign in WEIGHED]
        if len(found) == len(terms) and all(e.all_hold for e in found):
            return pair.sign in ("=", "≈", "≠") or self._is_tight(pair, found)
        if self.setting.regime is not None:
            small = set(orders.small_with([v.name for v in self.setting.regime.small], context))
            return None if small & set(names_in(pair.relation())) else False
        if pair.sign == "=" and all(e.holds.sum() >= max(4, e.holds.size // 5) for e in found):
            return None  # it may hold but for a case that is lost
        if self.setting.cases:
            return None
        if with_decimals_named(pair.relation()) is not None:
            return False if any(far_off(e) for e in found) else None
        return None if pair.sign == "=" and self._may_be_integrated(terms) else False

    @property
    def sides(self) -> set[Expr]:
        """The sides of the line as typed."""
        claim = self.statement.claim
        return set() if claim is None else {side for p in pairs(alternatives(claim)[0]) for side in (p.left, p.right)}

    def _is_tight(self, pair: Pair, found: list[Evidence]) -> bool:
        """A bound that leaves room everywhere is true but was not what was meant: where a given bound is met, the
        line's own must be; without given ones, some state must come near."""
        if {pair.left, pair.right} == self.sides or is_zero(pair.left) or is_zero(pair.right):
            return True  # the line's own sides, turned about; or a sign, which nothing comes near
        parts = [(self._to_order(a), self._to_order(b)) for a, b in lower_pair(pair, self.context.world).parts]
        clouds = [
            self.setting.states.of(narrowed, [t for part in parts for t in part], count=TIGHT, rounds=2)
            for narrowed in probing.at_given_bounds(self.context)
        ]
        clouds = [c for c in clouds if c.size >= 4]
        if not clouds:
            return all(comes_near(e) for e in found)
        slack = ROUNDED if with_decimals_named(pair.relation()) is not None else 0.0
        return any(all(meet(weigh(a, b, "=", c), slack) for a, b in parts) for c in clouds)

    @property
    def context(self) -> Context:
        """What is to be followed from: inside an approximation, the context kept to its order."""
        return self.setting.context if self.setting.regime is None else self.setting.regime.context

    def _to_order(self, t: Term) -> Term:
        t = self.context.resolved(t)
        if self.key:
            t = self.context.resolved(self.context.placed(t, self.key))
        if self.setting.regime is None:
            return t
        kept = expanded(t, [v.name for v in self.setting.regime.small], self.setting.regime.order)
        return t if kept is None else kept

    def _may_be_integrated(self, terms: list[tuple[Term, Term]]) -> bool:
        """Something moves, and both sides change alike, or their slopes do: a value at an instant may settle it."""
        changes = [sub(left, right) for left, right in terms]
        if any(v.order > 1 for v in variables(*changes)):
            return False  # an equation of motion is what is integrated, not what an integral gives
        for cloud in self.deep:
            changes = [self.context.resolved(motion.slope(t, self.context.world)) for t in changes]
            if any(v not in cloud.columns for v in variables(*changes)):
                return False
            if all(weigh(t, ZERO, "=", cloud).all_hold for t in changes):
                return True
        return False

    def _parts_ways(self, pair: Pair) -> bool:
        """Do the sides of an approximation stay apart however small the small becomes, whatever it is?"""
        if not self.shrunk or pair.sign not in ("=", "≈"):
            return False
        parts = [
            (self.setting.context.resolved(a), self.setting.context.resolved(b))
            for a, b in lower_pair(pair, self.context.world).parts
        ]
        known = [c for c in self.shrunk if all(v in c[0].columns for part in parts for v in variables(*part))]
        return len(known) == len(self.shrunk) and not any(
            all(orders.power_of_gap(a, b, clouds) >= LEADING for a, b in parts) for clouds in known)

    def _keeps_less(self, pair: Pair) -> bool:
        """An approximation that writes out fewer orders than the line did is not what the line should have been."""
        return bool(self.shrunk) and orders.degree(pair.right, self.small) < self.kept

    def _decided(self, claim: Claim, setting: Setting) -> bool:
        self.effort.spent += A_LIMIT if self.statement.role in ("limit", "regime") else A_DECISION
        verdicts, _ = decide(replace(self.statement, claim=claim), setting, self.source)
        return bool(verdicts) and all(v.standing in GOOD for v in verdicts)

    def proves(self, claim: Claim) -> bool:
        """Is this claim proved in the statement's place? A bound that no proof is found for is tried at many states."""
        setting = replace(self.setting.asking(), proofs=True)
        self.effort.spent += A_DECISION
        try:
            verdicts, _ = decide(replace(self.statement, claim=claim), setting, self.source)
            proved = bool(verdicts) and all(v.standing in GOOD and v.support == "proved" for v in verdicts)
            return proved or self._bounds_many_states(claim)
        except TOO_MUCH:
            return False

    def _bounds_many_states(self, claim: Claim) -> bool:
        for pair in pairs(alternatives(claim)[0]):
            parts = [(self._to_order(a), self._to_order(b)) for a, b in lower_pair(pair, self.context.world).parts]
            if pair.sign not in ("<", ">", "≤", "≥"):
                return False
            if probing.counterexample(parts, pair.sign, self.context, self.setting.states) is not None:
                return False
            many = self.setting.states.of(self.context, [t for part in parts for t in part], count=MANY)
            if not all(weigh(a, b, pair.sign, many).all_hold for a, b in parts):
                return False
        return True

    def measure(
        self, piece: Expr, wanted: Callable[[Var], bool] = lambda _: True
    ) -> NDArray[np.complex128] | None:
        """The values of a piece at the states found for the line as typed, where it has them all."""
        return self._measured(piece, self.cloud, wanted)

    def _measured(
        self, piece: Expr, cloud: Cloud, wanted: Callable[[Var], bool] = lambda _: True
    ) -> NDArray[np.complex128] | None:
        try:
            lowered = lower(piece, self.context.world)
            if not isinstance(lowered, Term) or not cloud.size:
                return None
            term = self._to_order(lowered)
            if not all(v in cloud.columns and wanted(v) for v in variables(term)):
                return None
            with np.errstate(all="ignore"):
                (values,) = taped(term).run(cloud.columns)
            return np.broadcast_to(np.asarray(values), cloud.size).astype(complex)
        except TOO_MUCH:
            return None

    def fits(self, claim: Claim) -> bool:
        """Are the claim's dimensions right, as far as they are known?"""
        return self.dimensions.examine(claim) is None

    def follows_from(self, claim: Claim, labels: tuple[str, ...]) -> bool:
        """Does the claim follow from the lines of these labels alone, with definitions and what holds at instants?"""
        kept = tuple(p for p in self.setting.context.premises if p.kind in ("definition", "instant") or _has(p, labels))
        # What was implied by other lines is now a premise of its own.
        context = replace(self.setting.context, premises=tuple(replace(p, implied=False) for p in kept))
        setting = replace(self.setting.asking(), context=context, rounded=(), regime=None)
        try:
            for pair in pairs(alternatives(claim)[0]):
                m = matter(pair, setting, self.source)
                found, cloud = evidence(m)
                if not cloud.size or not all(e.all_hold for e in found):
                    return False
        except TOO_MUCH:
            return False
        return True


def _has(premise: Premise, labels: tuple[str, ...]) -> bool:
    return any(premise.label in (f"({label})", f"given ({label})", label) for label in labels)
