"""A statement whose dimensions do not fit: what is said of it, or asked."""

from __future__ import annotations

from derive.notation.printed.printing import as_text
from derive.notation.printed.quoting import with_its_brackets
from derive.notation.tree import Apply, Claim, Name, Statement, names_in, walk
from derive.quantities.dimensions import Dimensions, Mismatch, is_a_value_with_unit
from derive.records import Standing, Verdict

# Letters typed for an angle that also mean something else.
_LATIN = frozenset("abABt")
# What a line whose dimensions do not fit may be said to be, were it not for them.
_NOT_OUTRIGHT = (Standing.FAILS, Standing.TAKEN, Standing.FOLLOWS_IF)


def mismatch_of(statement: Statement, dimensions: Dimensions, quick: bool) -> Mismatch | None:
    """Where a statement's dimensions do not fit. quick: nothing is declared."""
    if statement.claim is None or (statement.role == "try" and dimensions.without_amplitude(statement.claim)):
        return None
    found = dimensions.examine(statement.claim)
    if found is None and quick and any(map(is_a_value_with_unit, walk(statement.claim))):
        found = dimensions.with_gravity().examine(statement.claim)
    return found


def falls_by_dimension(v: Verdict, below_a_slip: bool) -> bool:
    """What was left open falls as well, but below a slip: that may have brought in the wrong dimension."""
    return v.standing in _NOT_OUTRIGHT or (v.standing is Standing.UNDECIDED and not below_a_slip)


def _angle_and_more(claim: Claim | None, mismatch: Mismatch) -> str:
    """The a of `F - m g sin a = m a`, typed for α and for an acceleration; the t of `N = m g cos t`, a time."""
    turned = [n.arg for n in walk(claim) if isinstance(n, Apply) and n.function in ("sin", "cos", "tan")]
    angles = {a.ident for a in turned if isinstance(a, Name)}
    return next((n for n in names_in(mismatch.node) if n in angles and n in _LATIN), "")


def does_not_fit(
    statement: Statement, mismatch: Mismatch, verdicts: tuple[Verdict, ...], typed: str, quick: bool = False
) -> Verdict:
    """The break at a term whose dimensions do not fit; where a letter may have been typed for an angle, a question."""
    term = with_its_brackets(mismatch.span, typed).strip() if mismatch.span else as_text(mismatch.node)
    angle = _angle_and_more(statement.claim, mismatch) if quick else ""
    if angle:
        letter = (("name", angle), *((("term", term),) if term != angle else ()))
        return Verdict(Standing.UNDECIDED, statement, mismatch.span, code="undecided.letter", facts=letter)
    facts = (("term", term), ("found", mismatch.found_words), ("expected", mismatch.expected_words))
    state = next((v.state for v in verdicts if v.state is not None), None)
    right = is_a_value_with_unit(mismatch.node) and all(
        v.standing in (Standing.FOLLOWS, Standing.APPROXIMATES) for v in verdicts[-1:])
    return Verdict(
        Standing.FAILS, statement, mismatch.span, code="fails.unit" if right else "fails.dimension", facts=facts,
        strength="contradicts", state=state)
