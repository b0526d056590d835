"""Cases put beside what the page speaks of, where a line that says one would otherwise be a claim that fails."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim, Name, Relation, Statement
from derive.notation.word_lists import words
from derive.quantities.unit_table import dimension
from derive.records import Standing, Verdict
from derive.states.said import Outcome, Source
from derive.states.setting import Case, Setting
from derive.states.states import freedom
from derive.terms.term import variables
from derive.verdicts.cases import can_be, case_of

# Bodies whose shape makes their moment of inertia another.
_BODIES = words("hoop hoops ring disc disk cylinder sphere ball shell rod tube pipe wheel drum")
_INERTIA = dimension(kg=1, m=2)


def put_beside(statement: Statement, setting: Setting, source: Source) -> Outcome | None:
    """The case that a claim only says, or None."""
    if statement.claim is None:
        return None
    case = _with(statement, statement.claim, setting, source) or _of_another_body(
        statement, statement.claim, setting, source)
    if case is None:
        return None
    opened = setting.opening(case)
    return (Verdict(Standing.TAKEN, code="taken.case", span=statement.claim.span),), opened


def _with(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`with u² = 5 g L: T = 6 m g`: for its line, where nothing above ties what it equates."""
    if statement.word.lower().split()[-1:] != ["with"]:
        return None
    case = replace(case_of(claim, setting, source), line=source.number)
    own = variables(*(p.term for p in case.premises))
    tied = freedom(setting.context, own, (), setting.states) < len(own)
    return None if tied or any(p.sign != "=" for p in case.premises) else case


def _of_another_body(statement: Statement, claim: Claim, setting: Setting, source: Source) -> Case | None:
    """`for a hoop, I = m R²` where the page has spoken of a disc: until another body is spoken of."""
    said = {*source.words.lower().replace(",", " ").split(), *statement.word.lower().split()}
    name = claim.sides[0] if isinstance(claim, Relation) and claim.signs == ("=",) else None
    if not said & _BODIES or not isinstance(name, Name):
        return None
    symbol = setting.context.world.symbols.get(name.ident)
    if symbol.dimension != _INERTIA if symbol is not None and symbol.declared else name.ident.split("_")[0] != "I":
        return None
    case = case_of(claim, setting, source)
    return case if can_be(case, setting) else None
