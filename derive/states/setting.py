"""What a line is judged in, and what comes of judging it.

A `Setting` is the exact context together with everything that is open around it: the approximation that has
been opened, the case or instant spoken of, the writer's own broken lines. It is immutable; a decision carries
the setting that holds after its statement.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Derivative, Name, Value, walk
from derive.records import Verdict
from derive.states import yielding
from derive.states.context import Context, Premise
from derive.states.states import States
from derive.terms.claims import LoweredPair, Pair
from derive.terms.term import Term, Var, sub, variables
from derive.terms.world import TIME

_CASES = 6  # kept open; a person follows two or three


@dataclass(frozen=True, slots=True)
class Case:
    """An open hypothesis: a named instant (`key`), or premises that are supposed.

    loose: names whose declared range the case steps out of, or to the end of (`for θ = 0` where 0 < θ).
    undivided: it makes nothing of what lines above have divided by, so that they say nothing there.
    opened: the line that speaks of the instant.
    line:  the only line it is said for (`for θ = 0: N = m g`), apart from those that go on with it; 0 if open.
    left:  a line below went on without it, so that only one that says "so" comes back to it.
    where: the condition as it was typed, where it was said for one line.
    elsewhere: it is not at the extreme that a line above has picked out.
    anew:  names that the page gives otherwise (`for a hoop, I = m R²` below `I = ½ m R²`).
    """

    words: str
    key: str = ""
    opened: int = 0
    premises: tuple[Premise, ...] = ()
    loose: frozenset[str] = frozenset()
    line: int = 0
    left: bool = False
    where: Claim | None = None
    anew: tuple[str, ...] = ()
    undivided: bool = False
    elsewhere: bool = False

    def loosening(self, context: Context) -> Context:
        """The context as far as it does not forbid the case."""
        context = yielding.elsewhere(context) if self.elsewhere else context
        context = yielding.loosened(yielding.undivided(context) if self.undivided else context, self.loose)
        for name in self.anew:
            context = yielding.forgetting(context, name)
        return context

    def given(self) -> dict[str, Term]:
        """The names that the case gives a value, by the term that is nothing there."""
        alone = ((p.term, variables(p.term)) for p in self.premises if p.sign == "=")
        return {v.name: term for term, own in alone if len(own) == 1 for v in own if not v.order}

    def inside(self, outer: Case) -> Case:
        """Both at once, said where this one is."""
        return replace(
            self, words=f"{outer.words} and {self.words}", premises=(*outer.premises, *self.premises),
            loose=outer.loose | self.loose, anew=outer.anew + self.anew, undivided=outer.undivided or self.undivided,
            elsewhere=outer.elsewhere or self.elsewhere)


@dataclass(frozen=True, slots=True)
class Regime:
    """An opened approximation: what is small, to which order it is kept, and the context to that order; and whether
    it says that it is late, as `t ≫ τ` does."""

    small: tuple[Var, ...]
    order: int
    context: Context
    words: str = ""
    late: bool = False


@dataclass(frozen=True, slots=True)
class Limit:
    """What has been said of a limit: where, the quantity, what it goes to, and the number of the line."""

    where: Claim | None
    quantity: Term
    value: Term
    source: int = 0

    def under(self, where: Claim | None) -> bool:
        """Is it a limit taken where another one is?"""
        return claimed(self.where) == claimed(where)


@dataclass(frozen=True, slots=True)
class Trial:
    """A trial course of a name: how many premises stood before it, and starting values set aside for it."""

    name: str
    premises: int
    aside: tuple[Premise, ...] = ()


def claimed(where: Claim | None) -> str:
    """A condition as one that stands at another place in the text would be written."""
    return as_text(where) if where is not None else ""


@dataclass(frozen=True, slots=True)
class Setting:
    """strict: the working has givens, so that its lines must follow from them.

    goal: premises made of the lines to be shown, used only to refute a line nothing supports.
    rounded: lines right to the figures written, as equalities with the rounded values.
    hopeful: only whether a line holds is of interest, not how it fails.
    losses: a case that a line loses is to be shown by a state, which takes a search for round values.
    ends: limits of what does not change by itself (`M → ∞: a → g`), for lines that go on in them.
    situation: the line that began the one spoken of, where it is not the first.
    from_rest: a sentence has said that what moves starts from rest.
    grounded: the page speaks of no other g than that near the ground.
    rated: where nothing is declared, the names whose rate in time, or whose course, some line of the page speaks of.
    """

    context: Context
    states: States
    strict: bool = False
    regime: Regime | None = None
    cases: tuple[Case, ...] = ()
    broken: tuple[Premise, ...] = ()
    rounded: tuple[Premise, ...] = ()
    goal: tuple[Premise, ...] = ()
    limits: tuple[Limit, ...] = ()
    ends: tuple[Limit, ...] = ()
    trials: tuple[Trial, ...] = ()
    proofs: bool = True
    hopeful: bool = False
    losses: bool = True
    situation: int = 0
    from_rest: bool = False
    grounded: bool = False
    rated: frozenset[str] = frozenset()

    def within(self, context: Context) -> Setting:
        return replace(self, context=context)

    def opening(self, case: Case) -> Setting:
        """With a case open beside the latest ones."""
        return replace(self, cases=(*self.cases, case)[-_CASES:])

    def in_open_case(self, line: int) -> Setting | None:
        """The setting in the latest supposition that is open at a line, where anything is left there."""
        case = next((c for c in reversed(self.cases) if c.premises and c.line in (0, line)), None)
        if case is None:
            return None
        context = case.loosening(self.context).adding(*case.premises)
        return replace(self, context=context, cases=()) if self.states.any(context).size else None

    def asking(self) -> Setting:
        """For asking whether other claims would have followed from what is before a line, and nothing more."""
        return replace(self, proofs=False, hopeful=True, losses=False, goal=(), broken=())


@dataclass(frozen=True, slots=True)
class Matter:
    """One pair under judgement: where it stands, its trees and its terms.

    at: the instant the terms have been put to, where the line is said of one.
    """

    setting: Setting
    pair: Pair
    lowered: LoweredPair
    label: str
    number: int
    reason: str = ""
    cites: tuple[str, ...] = ()
    words: str = ""
    fresh: tuple[str, ...] = field(default=())
    at: str = ""

    @property
    def context(self) -> Context:
        return self.setting.context

    @property
    def residuals(self) -> tuple[Term, ...]:
        return tuple(sub(left, right) for left, right in self.lowered.parts)

    @property
    def unknowns(self) -> tuple[Var, ...]:
        return variables(*(t for part in self.lowered.parts for t in part))

    def premises(self, implied: bool, always: bool = True, kind: str = "line") -> tuple[Premise, ...]:
        """The pair as premises for the lines after it."""
        sign = self.pair.sign if self.pair.sign != "≈" else "="
        single = len(self.lowered.parts) == 1
        hangs = bool(self.lowered.primitives) or any(
            (isinstance(n, Derivative) and n.partial) or (single and isinstance(n, Value))
            for n in walk(self.pair.relation()))
        sloping = any(
            isinstance(n, Derivative) and isinstance(n.wrt, Name) and not n.partial
            and (n.wrt.ident != TIME or not isinstance(n.body, Name)) for n in walk(self.pair.relation()))
        return tuple(
            Premise(
                self.label, sub(*part), sign, always, implied, self.number, kind, part, self.pair if hangs else None,
                self.pair if sloping else None)
            for part in self.lowered.parts)


@dataclass(frozen=True, slots=True)
class Decision:
    """A verdict and the setting after it."""

    verdict: Verdict
    after: Setting


# What is asked of a pair: None where it does not know.
Rule = Callable[[Matter], Decision | None]
