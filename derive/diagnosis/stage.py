"""The stage of a break: the one pair of sides that did not follow, in the setting it was judged in.

A chain `a = b = c` breaks at one of its signs, and a line of two statements in one of them; what stands before the
break in the same line is known by then. A search for the slip looks at that part alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from derive.diagnosis.opening import trial_of
from derive.diagnosis.trial import GOOD, TOO_MUCH, Trial
from derive.notation.tree import Claim, Name, Relation, Span, Statement, rebuilt, renamed
from derive.quantities.dimensions import Dimensions
from derive.records import Standing
from derive.states.said import Source, matter
from derive.states.setting import Setting
from derive.steps.brought_in.restated import value_spoken_of
from derive.steps.integrals.ends import later_ends
from derive.terms.claims import Pair, alternatives, pairs
from derive.terms.term import Var
from derive.verdicts.seeing import seeing
from derive.verdicts.statements import decide

Holds = Callable[[Claim], bool]
Question = tuple[Trial, Claim, Holds, Holds | None]


@dataclass(frozen=True, slots=True)
class Stage:
    """A broken part of a statement: the statement as typed, the part, and a trial in the part's place.

    running: what an integral's later ends are the values of; in the trial the quantities stand for their ends.
    """

    statement: Statement
    part: Claim
    trial: Trial
    setting: Setting
    source: Source
    running: Mapping[str, str] = field(default_factory=dict)

    def questions(self) -> Iterator[Question]:
        """What to search for a slip: the part itself, then the case or instant that it is said of."""
        if self.running:
            yield self.trial, self.part, lambda claim: self.trial.holds(renamed(claim, self.running)), None
            return
        yield self.trial, self.part, self.trial.holds, self.trial.proves
        if self.trial.perhaps:
            yield self.trial, self.part, self.trial.holds_but_for_a_case, None
        where = self.statement.where
        if self.statement.role in ("at", "suppose") and isinstance(where, Relation) and where.signs == ("=",):
            # The claim taken for granted, what must the case be? Few answers are left to be asked in full.
            turned = replace(self.statement, role="suppose", claim=where, where=self.part)
            other = trial_of(turned, self.setting, self.source, self.trial.dimensions)
            if other is not None:
                yield other, where, lambda claim: other.holds(claim) and self._holds_where(claim), None

    def _holds_where(self, where: Claim) -> bool:
        """Would the statement have followed for another case?"""
        self.trial.effort.spent += 10
        statement = replace(self.statement, claim=self.part, where=where)
        try:
            verdicts, _ = decide(statement, self.setting.asking(), self.source)
        except TOO_MUCH:
            return False
        return bool(verdicts) and all(v.standing in (*GOOD, Standing.FOLLOWS_IF) for v in verdicts)


def stage_of(
    statement: Statement, span: Span | None, setting: Setting, source: Source, dimensions: Dimensions
) -> Stage | None:
    """The stage of the part of a statement at a span; of the whole statement where no part stands there."""
    part, before = _broken_part(statement, span)
    if part is None:
        return None
    try:
        setting = seeing(statement, setting)
        for pair in before:
            _, setting = decide(replace(statement, claim=pair.relation()), replace(setting, proofs=False), source)
    except TOO_MUCH:
        return None
    part, setting = _as_its_law(part, setting, source)
    running = _running(part, setting, source)
    trial = trial_of(replace(statement, claim=renamed(part, running)), setting, source, dimensions)
    return None if trial is None else Stage(statement, part, trial, setting, source, running)


def _as_its_law(part: Claim, setting: Setting, source: Source) -> tuple[Claim, Setting]:
    """`0 = u t - g t²` below `y = u t - ½ g t²` as `y = u t - g t²`, so that the number that has changed is to blame;
    where nothing stands for y, as it is, where y = 0."""
    (pair, *others) = pairs(alternatives(part)[0])
    m = matter(pair, setting, source)
    there = value_spoken_of(m) if not others else None
    if there is None or there.sides is None:
        return part, setting
    name, value = there.sides
    for side, term in zip((pair.left, pair.right), m.lowered.parts[0], strict=True):
        if term is value and isinstance(name.value, Var):
            return rebuilt(part, {id(side): Name(name.value.name)}), setting  # type: ignore[return-value]
    return part, setting.within(setting.context.adding(there))


def _running(part: Claim, setting: Setting, source: Source) -> Mapping[str, str]:
    (pair, *others) = pairs(alternatives(part)[0])
    return later_ends(matter(pair, setting, source)) if not others else {}


def _broken_part(statement: Statement, span: Span | None) -> tuple[Claim | None, tuple[Pair, ...]]:
    """The broken pair as a claim and the pairs before it; the whole claim where it has alternatives or one pair."""
    claim = statement.claim
    if claim is None or span is None or len(alternatives(claim)) > 1:
        return claim, ()
    every = tuple(pairs(claim))
    place = next((k for k, pair in enumerate(every) if pair.span == span), None)
    if place is None:  # what does not fit in its dimensions is a piece of a side
        place = next((k for k, pair in enumerate(every) if _encloses(pair.span, span)), None)
    if len(every) < 2 or place is None or sum(pair.span == span for pair in every) > 1:
        return claim, ()
    pair = every[place]
    # The first side of a line that carries on was copied from the line above, and further along a chain the side on
    # the left has been established: nothing of it is to blame.
    copied = pair.head is not None or (isinstance(claim, Relation) and claim.carries_on and place == 0)
    return replace(pair.relation(), carries_on=copied), every[:place]


def _encloses(whole: Span | None, piece: Span) -> bool:
    return whole is not None and whole.start <= piece.start and piece.end <= whole.end
