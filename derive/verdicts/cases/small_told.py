"""What is said where something is small: `for h ≪ d: …`, `for small θ: …`, `t ≫ τ: …`."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from derive.notation.tree import Claim, Name, Num, Quotient, Relation, Statement, Sum, is_zero, walk
from derive.states.said import Source
from derive.states.setting import Setting
from derive.terms.term import var
from derive.terms.world import TIME
from derive.verdicts.in_words.dying_out import IN_THE_LONG_RUN


def past_what_is_nothing(setting: Setting, source: Source) -> Setting:
    """`for h ≪ d: …` next below `if h = 0: …`: what is small there is not nothing any more."""
    small = {var(v) for v in setting.regime.small} if setting.regime is not None else set()
    return replace(setting, cases=tuple(
        c for c in setting.cases
        if small.isdisjoint(p.term for p in c.premises if p.source != source.number)))


def of_one_term(claim: Claim) -> bool:
    """`v ≈ b c t`: that both sides go together says all there is to say, as it would not of `v ≈ g t - ½ g c t²`, nor
    of `M x'' - m l θ'' ≈ 0`, whose terms all go to nothing."""
    sides = claim.sides if isinstance(claim, Relation) else ()
    told = sides if sides and is_zero(sides[-1]) else sides[-1:]
    return bool(sides) and not any(isinstance(n, Sum) for side in told for n in walk(side))


def vanishing(statement: Statement) -> Relation:
    """Where what is small goes to nothing; for t ≫ τ, t without end."""
    small = statement.small[0]
    if isinstance(small, Quotient) and small.den == Name(TIME):
        return IN_THE_LONG_RUN
    return Relation((statement.small[0], Num(Fraction(0))), ("→",), span=statement.span)


def only_says_small(statement: Statement) -> bool:
    """Does a statement say what is small, and nothing of it?"""
    claim = statement.claim
    return isinstance(claim, Relation) and all(s in "≪≫" for s in claim.signs)
