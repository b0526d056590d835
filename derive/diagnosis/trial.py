"""Trying other claims in the place of one that was typed: what the engine's states say of each.

This is where the search for a slip touches the proof room. A trial is cheap: it asks the states that were found
for the line already, and the rules that could still let a claim pass, but looks for no proof and no counterexample.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from derive.notation.tree import Claim, Statement
from derive.proof import motion, numeric
from derive.proof.claims import alternatives, pairs
from derive.proof.context import Premise
from derive.proof.judge import evidence, holds_at_states, holds_in_open_case
from derive.proof.lowering import Meaningless
from derive.proof.setting import Decision, Matter, Setting
from derive.proof.statements import Source, decide, matter
from derive.proof.tape import TooLarge
from derive.quantities.dimensions import Dimensions
from derive.records import Standing

GOOD = (Standing.FOLLOWS, Standing.APPROXIMATES)
TOO_MUCH = (Meaningless, TooLarge, OverflowError, RecursionError, np.linalg.LinAlgError)

# Rules that let a pair pass although the states alone do not say so; asked only where they can apply.
PASSES: tuple[Callable[[Matter], Decision | None], ...] = (
    holds_at_states, holds_in_open_case, numeric.right_to_its_figures, motion.integrated,
)


@dataclass(frozen=True, slots=True)
class Trial:
    """A statement with the setting it was judged in and the dimensions known there."""

    statement: Statement
    setting: Setting
    source: Source
    dimensions: Dimensions

    def holds(self, claim: Claim) -> bool:
        """Would this claim have followed in the statement's place?"""
        setting = replace(self.setting, proofs=False, goal=(), broken=())
        try:
            plain = self.statement.role in ("claim", "operation") and setting.regime is None
            if plain and len(alternatives(claim)) == 1:
                return self._passes(claim, setting)
            return self._decided(claim, setting)
        except TOO_MUCH:
            return False

    def _passes(self, claim: Claim, setting: Setting) -> bool:
        for pair in pairs(claim):
            if pair.sign == "→":
                return self._decided(claim, setting)
            m = matter(pair, setting, self.source, self.statement.word)
            decision = next((d for rule in PASSES if (d := rule(m)) is not None), None)
            if decision is None or decision.verdict.standing not in GOOD:
                return False
            setting = decision.after
        return True

    def _decided(self, claim: Claim, setting: Setting) -> bool:
        verdicts, _ = decide(replace(self.statement, claim=claim), setting, self.source)
        return bool(verdicts) and all(v.standing in GOOD for v in verdicts)

    def proves(self, claim: Claim) -> bool:
        """Is this claim proved in the statement's place?"""
        setting = replace(self.setting, proofs=True, goal=(), broken=())
        verdicts, _ = decide(replace(self.statement, claim=claim), setting, self.source)
        return bool(verdicts) and all(v.standing in GOOD and v.support == "proved" for v in verdicts)

    def fits(self, claim: Claim) -> bool:
        """Are the claim's dimensions right, as far as they are known?"""
        return self.dimensions.examine(claim) is None

    def follows_from(self, claim: Claim, labels: tuple[str, ...]) -> bool:
        """Does the claim follow from the lines of these labels alone, with definitions and what holds at instants?"""
        kept = tuple(p for p in self.setting.context.premises if p.kind in ("definition", "instant") or _has(p, labels))
        # What was implied by other lines is now a premise of its own.
        context = replace(self.setting.context, premises=tuple(replace(p, implied=False) for p in kept))
        setting = replace(self.setting, context=context, proofs=False, goal=(), broken=(), rounded=(), regime=None)
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
